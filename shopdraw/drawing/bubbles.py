"""Draw bubbles: a view's number over a sheet's, at its title and where it is cut.

In:  a view's number, where.   Out: ink; a drawing with its sheets' numbers filled in.
Frame: full size.

Which sheet a view comes to stand on is known only when all sheets are composed. Until
then a bubble holds a stand-in as long as a sheet's number.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import cos, radians, sin, tau
from typing import Literal

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words

RADIUS = 2.7
"""Of a bubble, in heights of lettering: a sheet's number goes into its lower half."""
Which = Literal["drawn", "cut"]
_STAND_IN: dict[Which, str] = {"drawn": "\x1e", "cut": "\x1f"}
SIDES = 36


def bubble(
    number: int,
    which: Which,
    at: Point,
    text: float,
    scale: float,
    sight_deg: float | None = None,
) -> Iterator[Ink]:
    """Draw a bubble.

    Args:
        number: of the view.
        which: whether the sheet is the one where the view is drawn or where it is cut.
        at: its middle.
        text: the height of its lettering on paper.
        scale: of the drawing.
        sight_deg: the direction of sight, as an arrow; None for none.
    """
    x, y = at
    radius = RADIUS * text * scale
    ring = tuple(
        (x + radius * cos(turn), y + radius * sin(turn))
        for turn in (tau * side / SIDES for side in range(SIDES))
    )
    yield Stroke(layers.NOTES, ring, closed=True)
    yield Stroke(layers.NOTES, ((x - radius, y), (x + radius, y)))
    for words, up in ((str(number), 0.45), (f"{_STAND_IN[which]}{number:04}", -0.45)):
        spot = (x, y + up * radius)
        yield Words(layers.NOTES, spot, words, text, "centre", "middle")
    if sight_deg is not None:
        corners = ((1.6, 0.0), (0.75, 0.66), (0.75, -0.66))
        turn = radians(sight_deg)
        arrow = tuple(
            (
                x + radius * (a * cos(turn) - b * sin(turn)),
                y + radius * (a * sin(turn) + b * cos(turn)),
            )
            for a, b in corners
        )
        yield Stroke(layers.NOTES, (arrow[1], arrow[0], arrow[2]))


def numbers_on(drawing: Drawing, which: Which) -> list[int]:
    """Return the views whose sheets a drawing asks for."""
    sign = _STAND_IN[which]
    return [
        int(each.text[1:])
        for each in drawing.ink
        if isinstance(each, Words) and each.text.startswith(sign)
    ]


def with_sheets(drawing: Drawing, sheets: Mapping[Which, Mapping[int, str]]) -> Drawing:
    """Fill in the sheets' numbers; a dash where there is no such sheet."""

    def filled(ink: Ink) -> Ink:
        if not isinstance(ink, Words) or ink.text[:1] not in _STAND_IN.values():
            return ink
        which: Which = "drawn" if ink.text[0] == _STAND_IN["drawn"] else "cut"
        return replace(ink, text=sheets[which].get(int(ink.text[1:]), "-"))

    return replace(drawing, ink=tuple(filled(ink) for ink in drawing.ink))
