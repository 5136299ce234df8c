"""Letter a DXF file: lines as TEXT, paragraphs as MTEXT.

In:  `Words`.   Out: entities in a space of the file.
Frame: model space at full size, or the layout in paper lengths.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ezdxf.enums import MTextEntityAlignment, TextEntityAlignment
from ezdxf.layouts import BlockLayout, Modelspace, Paperspace

from shopdraw.drawing.ink import Align, Point, Seat, Words
from shopdraw.drawing.paragraphs import column_of, said_by

Space = Modelspace | Paperspace | BlockLayout
Move = Callable[[Point], Point]

LETTERING = "LETTERING"
"""The text style; every system has its font, or one in its place."""
EXACTLY, PITCH = 2, 5 / 3
"""Of MTEXT: lines so far apart whatever stands in them; how far, in heights, a factor
of one puts them (from memory)."""
ALIGN: dict[tuple[Seat, Align], TextEntityAlignment] = {
    ("foot", "left"): TextEntityAlignment.LEFT,
    ("foot", "centre"): TextEntityAlignment.CENTER,
    ("foot", "right"): TextEntityAlignment.RIGHT,
    ("middle", "left"): TextEntityAlignment.MIDDLE_LEFT,
    ("middle", "centre"): TextEntityAlignment.MIDDLE_CENTER,
    ("middle", "right"): TextEntityAlignment.MIDDLE_RIGHT,
    ("top", "left"): TextEntityAlignment.TOP_LEFT,
    ("top", "centre"): TextEntityAlignment.TOP_CENTER,
    ("top", "right"): TextEntityAlignment.TOP_RIGHT,
}


def ascii_of(text: str) -> str:
    """Return a text if it is ASCII, which every program shows alike.

    Raises:
        ValueError: a character is not ASCII; whoever lettered it should see to that.
    """
    text.encode("ascii")
    return text


def write_words(space: Space, words: Words, move: Move, scale: float) -> None:
    """Write one line."""
    if not words.text.strip():
        return
    text = space.add_text(
        ascii_of(words.text),
        height=words.height_on_paper * scale,
        rotation=words.angle_deg,
        dxfattribs={"layer": words.layer, "style": LETTERING},
    )
    text.set_placement(move(words.at), align=ALIGN[words.seat, words.align])


def write_paragraph(
    space: Space, lines: Sequence[Words], move: Move, scale: float
) -> None:
    """Write the lines of a paragraph as one text that can be edited, in its column."""
    first, height = lines[0], lines[0].height_on_paper * scale
    pitch = first.at[1] - lines[1].at[1] if len(lines) > 1 else PITCH * height
    x, y = move(first.at)
    text = ascii_of(said_by(lines))
    for sign in "{}":
        # They begin and end a code.
        text = text.replace(sign, f"\\{sign}")
    note = space.add_mtext(
        text,
        dxfattribs={
            "layer": first.layer,
            "style": LETTERING,
            "char_height": height,
            "width": column_of(lines) * scale,
            "line_spacing_style": EXACTLY,
            "line_spacing_factor": pitch / (PITCH * height),
        },
    )
    note.set_location((x, y + height), 0.0, MTextEntityAlignment.TOP_LEFT)
