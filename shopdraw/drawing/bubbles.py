"""Draw bubbles: a view's number over a sheet's, at its title and where it is cut.

In:  a view's number, where.   Out: ink; a drawing with its sheets' numbers filled in.
Frame: full size.

Which sheet a view comes to stand on is known only when all sheets are composed. Until
then a bubble holds a stand-in as long as a sheet's number.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import cos, dist, radians, sin, tau
from typing import Literal

from shopdraw.drawing import layers
from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import Box

RADIUS = 2.7
"""Of a bubble, in heights of lettering: a sheet's number goes into its lower half."""
LOWER = 0.28
"""How far below the middle the sheet's number stands, in radii: clear of the ring."""
Which = Literal["drawn", "cut", "part"]
"""The sheet where a view is drawn, or cut, or on which a part of a view is."""
_SIGNS: dict[Which, str] = {"drawn": "\x1e", "cut": "\x1f", "part": "\x1d"}
_DIGITS = 4
SIDES = 36
TIP = 1.6
"""How far the tip of its arrow is from its middle, of its radius."""

SHORT = 5.0
"""A leader is short that begins so near to its bubble's middle, in radii."""
BEGUN = 0.1
"""It begins so far along itself, in radii: where it ends on an edge that a match line
runs by, it is beyond that."""


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
    for words, up in ((str(number), 0.45), (stand_in(which, number), -LOWER)):
        spot = (x, y + up * radius)
        yield Words(layers.NOTES, spot, words, text, "centre", "middle")
    if sight_deg is not None:
        yield Stroke(layers.NOTES, arrow_of(at, radius, sight_deg))


def arrow_of(at: Point, radius: float, sight_deg: float) -> tuple[Point, Point, Point]:
    """Return a bubble's arrow: its foot on the ring, its tip, its other foot."""
    x, y = at
    along, across = cos(radians(sight_deg)), sin(radians(sight_deg))
    foot, tip, other = (
        (x + radius * (a * along - b * across), y + radius * (a * across + b * along))
        for a, b in ((0.75, 0.66), (TIP, 0.0), (0.75, -0.66))
    )
    return foot, tip, other


def bubbles_on(drawing: Drawing) -> Iterator[Box]:
    """Yield the box round each bubble of a drawing, with an arrow on any side of it."""
    for ink in drawing.ink:
        if not isinstance(ink, Stroke) or ink.layer != layers.NOTES:
            continue
        if ink.closed and len(ink.points) == SIDES:
            left, low, right, high = about(ink.points)
            far = (TIP - 1) * (right - left) / 2
            yield left - far, low - far, right + far, high + far


@dataclass(frozen=True)
class Mark:
    """A bubble with what belongs to it.

    Attributes:
        box: round it, with an arrow on any side.
        leader: the line that ends at it, from what it marks; None for none, and for a
            long one, which goes on past a match line.
        place: where its leader begins, or its middle.
    """

    box: Box
    leader: Stroke | None
    place: Point


def marks_on(drawing: Drawing) -> Iterator[Mark]:
    """Yield each bubble of a drawing with its leader."""
    lines = [
        ink
        for ink in drawing.ink
        if isinstance(ink, Stroke) and ink.layer == layers.NOTES and not ink.closed
    ]
    for box in bubbles_on(drawing):
        middle = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
        far = (box[2] - box[0]) / 2
        ends = (
            (abs(dist(x.points[-1], middle) - far / TIP), x)
            for x in lines
            if dist(x.points[-1], middle) <= far < dist(x.points[0], middle)
            if dist(x.points[0], middle) <= SHORT * far / TIP
        )
        leader = min(ends, key=lambda x: x[0], default=(0.0, None))[1]
        place = middle
        if leader is not None:
            (x, y), (a, b) = leader.points[:2]
            share = BEGUN * far / TIP / dist((x, y), (a, b))
            place = x + share * (a - x), y + share * (b - y)
        yield Mark(box, leader, place)


def stand_in(which: Which, number: int) -> str:
    """Return what stands for a sheet's number until it is known."""
    return f"{_SIGNS[which]}{number:0{_DIGITS}}"


def part_key(view: int, part: int) -> int:
    """Return the number by which a part of a view is asked for."""
    return 100 * view + part


def numbers_on(drawing: Drawing, which: Which) -> list[int]:
    """Return the views, or the parts, whose sheets a drawing asks for."""
    return [
        int(each.text.partition(_SIGNS[which])[2])
        for each in drawing.ink
        if isinstance(each, Words) and _SIGNS[which] in each.text
    ]


def with_sheets(drawing: Drawing, sheets: Mapping[Which, Mapping[int, str]]) -> Drawing:
    """Fill in the sheets' numbers; a dash where there is no such sheet."""

    def filled(ink: Ink) -> Ink:
        if not isinstance(ink, Words):
            return ink
        for which, sign in _SIGNS.items():
            before, found, number = ink.text.partition(sign)
            if found:
                sheet = sheets[which].get(int(number), "-")
                return replace(ink, text=f"{before}{sheet}")
        return ink

    return replace(drawing, ink=tuple(filled(ink) for ink in drawing.ink))
