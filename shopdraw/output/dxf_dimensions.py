"""Write dimensions in a DXF file, and the styles that draw them anew.

In:  `Measure`.   Out: a DIMENSION with its block; dimension styles.
Frame: model space at full size.
"""

from __future__ import annotations

from math import radians, tan
from typing import Any

from ezdxf.document import Drawing as Document
from ezdxf.layouts import BlockLayout

from shopdraw.drawing.ink import Measure
from shopdraw.drawing.measures import (
    ARROW,
    ARROW_DEG,
    TICK,
    TICK_PEN_MM,
    drawn_ends,
    letter_of,
    lines_of,
    ticks_of,
)
from shopdraw.drawing.sheets import STYLES as PAPER_STYLES
from shopdraw.lengths import Lengths
from shopdraw.output.dimensioning import STYLES, LetteringStyle, chosen
from shopdraw.output.dxf_words import LETTERING, Move, Space, write_words

OPEN_ARROW = "OPEN30"
"""As a style names it; the block's own name begins with a line."""


def define_styles(document: Document, lengths: Lengths) -> None:
    """Define a style for each precision of figures, and state the usual one.

    Styles whose lines end in arrows are defined when the first such line is written.
    """
    for kind in STYLES[lengths]:
        _define(document, kind, lengths)
    document.header["$DIMSTYLE"] = STYLES[lengths][0].name


def _define(document: Document, kind: LetteringStyle, lengths: Lengths) -> None:
    """Define a style, if the file has it not."""
    if kind.name in document.dimstyles:
        return
    text = PAPER_STYLES[lengths].text
    style = document.dimstyles.add(kind.name)
    style.dxf.dimtxt = text
    style.dxf.dimexo = style.dxf.dimexe = 0.6 * text
    style.dxf.dimasz = ARROW * text if kind.ends == "arrow" else 0.0
    style.dxf.dimtsz = TICK * text if kind.ends == "stroke" else 0.0
    if kind.ends == "arrow":
        style.dxf.dimblk = _arrow_of(document)
    style.dxf.dimgap = 0.4 * text
    style.dxf.dimtad = 1
    style.dxf.dimtih = 0
    style.dxf.dimtoh = 0
    style.dxf.dimdsep = ord(".")
    style.dxf.dimlunit = kind.unit
    style.dxf.dimfrac = 2
    style.dxf.dimzin = kind.zeros
    style.dxf.dimrnd = kind.step
    style.dxf.dimdec = kind.places
    style.dxf.dimtxsty = LETTERING


def _arrow_of(document: Document) -> str:
    """Return the name of the format's own open arrow, its block defined.

    It points to the right, one long, its tip at the origin (from memory), and has the
    layer of the dimension that it ends.
    """
    if f"_{OPEN_ARROW}" not in document.blocks:
        block = document.blocks.new(f"_{OPEN_ARROW}")
        aside = tan(radians(ARROW_DEG / 2))
        for end in ((-1.0, aside), (-1.0, -aside), (-1.0, 0.0)):
            block.add_line((0.0, 0.0), end, dxfattribs={"layer": "0"})
    return OPEN_ARROW


def write_measure(
    document: Document,
    space: Space,
    measure: Measure,
    move: Move,
    scale: float,
    lengths: Lengths,
) -> None:
    """Write a dimension whose block, geometry and words all agree."""
    start, end = move(measure.start), move(measure.end)
    line = move((measure.line_at, measure.line_at))
    block = document.blocks.new_anonymous_block(type_char="D")
    _dimension_block(block, measure, move, scale)
    angle = 0.0 if measure.axis == "x" else 90.0
    letter = letter_of(measure, scale)
    length = abs(end[0] - start[0]) if measure.axis == "x" else abs(end[1] - start[1])
    far = (end[0], line[1]) if measure.axis == "x" else (line[0], end[1])
    ends = drawn_ends(measure, scale)
    style, typed = chosen(measure.words, length, lengths, ends)
    _define(document, style, lengths)
    attributes: dict[str, Any] = {
        "layer": measure.layer,
        "dimstyle": style.name,
        "geometry": block.name,
        "defpoint": (*far, 0.0),
        "defpoint2": (*start, 0.0),
        "defpoint3": (*end, 0.0),
        "text_midpoint": (*move(letter.at), 0.0),
        "angle": angle,
        "dimtype": 32 + 128,
        "text": typed,
        "actual_measurement": length,
    }
    dimension: Any = space.new_entity("DIMENSION", dxfattribs=attributes)
    dimension.set_acad_dstyle({"dimscale": scale})


def _dimension_block(
    block: BlockLayout, measure: Measure, move: Move, scale: float
) -> None:
    """Draw the dimension: extension lines, line, ticks, words, leader."""
    layer = {"layer": measure.layer}
    for a, b in lines_of(measure, scale):
        block.add_line(move(a), move(b), dxfattribs=layer)
    for a, b in ticks_of(measure, scale):
        heavy = {"layer": measure.layer, "lineweight": round(TICK_PEN_MM * 100)}
        block.add_line(move(a), move(b), dxfattribs=heavy)
    write_words(block, letter_of(measure, scale), move, scale)
