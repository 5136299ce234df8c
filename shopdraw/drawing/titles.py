"""Letter a view's title below it: its bubble, its name, its scale and scale bar.

In:  a `Drawing`.   Out: the same with its title.
Frame: the drawing's own.
"""

from __future__ import annotations

from dataclasses import replace

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import RADIUS, bubble
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.drawing.sheets import STYLES, Practice, scale_name
from shopdraw.lengths import Lengths

BAR_LENGTHS: dict[Lengths, tuple[int, ...]] = {
    "in": (1, 2, 4, 8, 12, 24, 48, 96),
    "mm": (10, 20, 50, 100, 200, 500, 1000, 2000),
}
"""Lengths that a scale bar may have, so that its four parts are plain figures."""


def titled(
    drawing: Drawing,
    number: int | None,
    lengths: Lengths,
    practice: Practice,
    foot: float | None = None,
) -> Drawing:
    """Letter a view's title and scale below it, beside its bubble, with its scale bar.

    Args:
        drawing: the view.
        number: of the view; None where nothing refers to it.
        lengths: of the job.
        practice: how its scales are lettered.
        foot: the level that the title hangs from; None for the view's own foot.
    """
    style = STYLES[lengths]
    left, bottom, right, _ = extent_of(drawing)
    bottom = bottom if foot is None else min(foot, bottom)
    scale = drawing.scale
    y = bottom - (style.title + 3 * style.text) * scale
    name = f"SCALE {scale_name(scale, practice)}"
    lettered = width_of(drawing.title, style.title), width_of(name, style.text)
    width = max(lettered) * scale
    ring = 0.0 if number is None else RADIUS * style.text * scale
    x = max(left + 2 * ring, (left + right - width) / 2 + ring)
    line = y - 0.6 * style.text * scale
    ink: list[Ink] = []
    if number is not None:
        ink += bubble(number, "cut", (x - ring, line), style.text, scale)
    ink += [
        Words(layers.NOTES, (x + 0.3 * ring, y), drawing.title, style.title),
        Stroke(layers.BORDER, ((x, line), (x + 0.3 * ring + width, line))),
        Words(
            layers.NOTES,
            (x + 0.3 * ring, line - 1.9 * style.text * scale),
            name,
            style.text,
        ),
        *_scale_bar((x + 0.3 * ring, line - 4.2 * style.text * scale), scale, lengths),
    ]
    return replace(drawing, ink=(*drawing.ink, *ink))


def _scale_bar(at: Point, scale: float, lengths: Lengths) -> list[Ink]:
    """Draw a scale bar of four equal parts and a round length, its ends lettered."""
    style = STYLES[lengths]
    rounds = BAR_LENGTHS[lengths]
    wanted = 12 * style.title * scale
    length = max((x for x in rounds if x <= wanted), default=rounds[0])
    high = 0.6 * style.text * scale
    x, y = at
    ink: list[Ink] = []
    for part in range(4):
        a, b = x + length * part / 4, x + length * (part + 1) / 4
        box = ((a, y), (b, y), (b, y + high), (a, y + high))
        ink.append(Stroke(layers.NOTES, box, closed=True))
        if part % 2 == 0:
            ink.append(Stroke(layers.NOTES, ((a, y + high / 2), (b, y + high / 2))))
    unit = '"' if lengths == "in" else " mm"
    foot = y - 1.5 * style.text * scale
    ink.append(Words(layers.NOTES, (x, foot), "0", style.text, align="centre"))
    ink.append(
        Words(layers.NOTES, (x + length, foot), f"{length}{unit}", style.text, "centre")
    )
    return ink
