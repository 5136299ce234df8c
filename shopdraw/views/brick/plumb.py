"""Check a crooked opening: its diagonals, how far its jambs are out of plumb, its head.

In:  `Solution`, the drawing so far.   Out: the drawing with its checks.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from math import hypot

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Point, Stroke
from shopdraw.drawing.sheets import STYLES
from shopdraw.lengths import format_length
from shopdraw.masonry.wall.form import Point as Spot
from shopdraw.solution import Solution
from shopdraw.views.brick.leaders import with_led_words

FROM_FOOT, FROM_HEAD = 0.12, 0.04
"""How much of a diagonal is drawn at either end: between them is for lettering."""
Check = tuple[tuple[str, ...], Point]


def with_checks(solution: Solution, drawing: Drawing) -> Drawing:
    """Add diagonals, plumb lines and levels of the head; nothing where all is true."""
    if solution.surround.as_built.is_true:
        return drawing
    corners = _corners(solution)
    lines = tuple(_lines(corners))
    drawing = replace(drawing, ink=(*drawing.ink, *lines))
    pieces, text = solution.layout.pieces, STYLES[solution.lengths].text
    dx = -float(solution.surround.front.left)
    for words, spot in _checks(solution, corners):
        drawing = with_led_words(words, (spot,), pieces, {"front"}, dx, text, drawing)
    return drawing


Corners = tuple[Spot, Spot, Spot, Spot]


def _corners(solution: Solution) -> Corners:
    """Return the finished opening's corners, anticlockwise from the lower left one."""
    surround, head = solution.surround, solution.coursing.head
    ring = surround.as_built.opening(head, surround.opening.covered)
    left = surround.front.left
    a, b, c, d = ((x - left, y) for x, y in (ring[0], ring[1], ring[2], ring[-1]))
    return a, b, c, d


def _lines(corners: Corners) -> Iterator[Stroke]:
    """Draw the ends of both diagonals, and a plumb line up from a jamb that leans."""
    a, b, c, d = ((float(x), float(y)) for x, y in corners)
    for one, other in ((a, c), (b, d)):
        yield Stroke(layers.LEVELS, (one, _between(one, other, FROM_FOOT)))
        yield Stroke(layers.LEVELS, (other, _between(other, one, FROM_HEAD)))
    for foot, top in ((a, d), (b, c)):
        if foot[0] != top[0]:
            yield Stroke(layers.LEVELS, (foot, (foot[0], top[1])))


def _between(near: Point, far: Point, share: float) -> Point:
    return near[0] + share * (far[0] - near[0]), near[1] + share * (far[1] - near[1])


def _checks(solution: Solution, corners: Corners) -> Iterator[Check]:
    """Yield what is lettered, and the spot that it is led to."""
    a, b, c, d = corners

    def say(length: Fraction | float) -> str:
        return format_length(Fraction(length), solution.lengths)

    for foot, top in ((b, d), (a, c)):
        far = hypot(float(top[0] - foot[0]), float(top[1] - foot[1]))
        near, away = ((float(x), float(y)) for x, y in (foot, top))
        yield (f"DIAGONAL {say(far)}",), _between(near, away, FROM_FOOT * 0.8)
    for foot, top in ((a, d), (b, c)):
        leans = top[0] - foot[0]
        if leans:
            way = "RIGHT" if leans > 0 else "LEFT"
            high = say(top[1] - foot[1])
            words = f"LEANS {say(abs(leans))}", f"TO THE {way}", f"IN {high}"
            yield words, (float(foot[0]), 0.45 * float(top[1]))
    levels = solution.surround.as_built.head
    up = solution.coursing.head - solution.surround.as_built.lowest_head
    if solution.layout.arch is None and len({y for _, y in levels}) > 1:
        named = ", ".join(say(y + up) for _, y in levels)
        at = (float(c[0] + d[0]) / 2, float(solution.coursing.head))
        yield ("HEAD FROM LEFT TO RIGHT:", named), at
