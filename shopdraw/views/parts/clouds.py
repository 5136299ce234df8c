"""Draw clouds: round what the last revision changed, with its delta; round what fails.

In:  `Solution`, the scale.   Out: ink.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, cos, hypot, pi, sin

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, plain
from shopdraw.drawing.sheets import STYLES
from shopdraw.solution import Solution
from shopdraw.views.parts.phrases import listed


def cloud_of(solution: Solution, scale: float) -> Iterator[Ink]:
    """Draw the cloud round the courses that the last revision changed, and its delta.

    It goes round the brick, not across the opening, where the ledger is lettered; the
    delta stands in the opening's other half.
    """
    job = solution.job
    changed = set(job.revision[-1].courses) if job.revision else set()
    courses = [
        course for course in solution.coursing.courses if course.number in changed
    ]
    if not courses:
        return
    style = STYLES[job.lengths]
    text = style.text * scale
    front, opening = solution.surround.front, solution.surround.opening
    left, right, width = (
        float(x - front.left) for x in (opening.left, opening.right, front.right)
    )
    low, high, head = (
        float(x) for x in (courses[0].bottom, courses[-1].top, solution.coursing.head)
    )
    for ring in _rings((low, high), head, (left, right, width)):
        yield Stroke(layers.NOTES, tuple(scallops(ring, 2.4 * text)), closed=True)
    mark = plain(job.revision[-1].mark)
    side = 1.6 * text + 0.4 * text * len(mark)
    x, y = width - side, high + 2.6 * text
    if low < head and right - left > 8 * side:
        x, y = right - side - 1.5 * text, max(side, min(high, head - 2.0 * side) - side)
    corners = ((x - side, y - side), (x + side, y - side), (x, y + 0.8 * side))
    yield Stroke(layers.NOTES, corners, closed=True)
    at = (x, y - 0.45 * side)
    yield Words(layers.NOTES, at, mark, style.text, "centre", "middle")


def _rings(
    levels: tuple[float, float], head: float, across: tuple[float, float, float]
) -> Iterator[tuple[Point, ...]]:
    """Yield the outlines round the brick between two levels, anticlockwise.

    Args:
        levels: of the foot and the top of what changed.
        head: the level of the opening's head.
        across: the opening's left and right side and the face's right end, from its
            left one.
    """
    (low, high), (left, right, width) = levels, across
    legs = (
        ((0.0, low), (left, low), (left, high), (0.0, high)),
        ((right, low), (width, low), (width, high), (right, high)),
    )
    top = ((width, high), (0.0, high))
    if high <= head:
        yield from legs
    elif low >= head:
        yield ((0.0, low), (width, low), *top)
    else:
        feet = ((0.0, low), (left, low)), ((right, low), (width, low))
        yield (*feet[0], (left, head), (right, head), *feet[1], *top)


CLOUD, BULGE = 0.9, 2.4
"""How far a cloud stands off what it goes round, and how wide its arcs are, in heights
of lettering."""


def clouds_round(boxes: Sequence[Box], text: float) -> Iterator[Stroke]:
    """Draw a cloud round whatever lies in boxes; those that touch have one together.

    Args:
        boxes: left, low, right and high edge of each.
        text: the height of lettering, at full size.
    """
    grown = [
        shapely.box(*box).buffer(CLOUD * text, join_style="mitre") for box in boxes
    ]
    joined = shapely.union_all(grown)
    for part in shapely.get_parts(joined):
        ring = shapely.geometry.polygon.orient(part).exterior.coords[:-1]
        points = tuple((float(x), float(y)) for x, y in ring)
        arcs = tuple(scallops(points, BULGE * text))
        yield Stroke(layers.NOTES, arcs, closed=True)


def fails_words(numbers: Sequence[int]) -> str:
    """Say which findings something fails: `FAILS: SEE FINDINGS 1 AND 3`."""
    named = listed([str(number) for number in numbers]).upper()
    return f"FAILS: SEE FINDING{'' if len(numbers) == 1 else 'S'} {named}"


def scallops(ring: tuple[Point, ...], wanted: float) -> Iterator[Point]:
    """Walk round an outline in arcs that bulge outwards."""
    steps = 6
    for (x1, y1), (x2, y2) in pairwise((*ring, ring[0])):
        length = hypot(x2 - x1, y2 - y1)
        count = max(1, ceil(length / wanted))
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        radius = length / count / 2
        for arc in range(count):
            middle = (2 * arc + 1) * radius
            for step in range(steps):
                turn = pi - pi * step / steps
                along, out = middle + radius * cos(turn), 0.6 * radius * sin(turn)
                yield x1 + ux * along + uy * out, y1 + uy * along - ux * out
