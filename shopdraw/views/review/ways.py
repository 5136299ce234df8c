"""Find what distances are measured from, and the shortest ways to the woodwork.

In:  `Solution`, a piece of woodwork.   Out: lines.
Frame: x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.job.model_around import TrimTable
from shopdraw.review.opening import Rectangle
from shopdraw.solution import Solution

Spot = tuple[float, float]
Line = tuple[Spot, Spot]
PLACES = (0.5, 0.34, 0.66, 0.22, 0.78, 0.12, 0.88, 0.05, 0.95)
"""Where a measured line is tried, as parts of the length it may stand along."""


def measured_from(solution: Solution) -> Iterator[tuple[Spot, ...]]:
    """Yield the outlines that distances are measured from, from foot to foot.

    They are the box round both openings, or under an arch each by its curve.
    """
    left = float(solution.surround.front.left)
    openings = solution.openings
    rings = [x.ring for x in (openings.found, openings.finished) if x.ring]
    for ring in dict.fromkeys(rings):
        feet, soffit = ring[:2], ring[2:]
        yield tuple((float(x) - left, float(y)) for x, y in (feet[1], *soffit, feet[0]))
    if not rings:
        outer = openings.outer
        a, b, c = (float(x) for x in (outer.left, outer.right, outer.top))
        a, b = a - left, b - left
        foot = float(outer.bottom)
        yield (a, foot), (a, c), (b, c), (b, foot)


def rectangle_of(each: TrimTable) -> Rectangle:
    """Return the rectangle of a piece of woodwork; x is from the left end."""
    return Rectangle(
        each.left, each.left + each.width, each.bottom, each.bottom + each.height
    )


def shortest_ways(solution: Solution, each: TrimTable) -> tuple[Line, ...]:
    """Return the shortest lines from opening to woodwork; from an arch there is one."""
    left = solution.surround.front.left
    box = rectangle_of(each)
    moved_box = Rectangle(box.left + left, box.right + left, box.bottom, box.top)
    nearest = solution.openings.nearest(moved_box)
    if nearest is None:
        return _between(solution, each)
    ends = ((x - float(left), y) for x, y in (nearest.on_ring, nearest.on_box))
    a, b = ends
    return ((a, b),)


def _between(solution: Solution, each: TrimTable) -> tuple[Line, ...]:
    """Return the shortest lines from opening to woodwork, wherever they may stand."""
    box, outer = rectangle_of(each), solution.openings.outer
    start = solution.surround.front.left
    across = _gap((outer.left - start, outer.right - start), (box.left, box.right))
    up = _gap((outer.bottom, outer.top), (box.bottom, box.top))
    return tuple(
        dict.fromkeys(
            ((float(x[0]), float(y[0])), (float(x[1]), float(y[1])))
            for x, y in zip(across, up, strict=True)
        )
    )


def _gap(
    a: tuple[Fraction, Fraction], b: tuple[Fraction, Fraction]
) -> list[tuple[Fraction, Fraction]]:
    """Return the shortest ways from one stretch to another."""
    if a[1] < b[0]:
        return [(a[1], b[0])] * len(PLACES)
    if b[1] < a[0]:
        return [(a[0], b[1])] * len(PLACES)
    low, high = max(a[0], b[0]), min(a[1], b[1])
    places = [low + (high - low) * Fraction(x).limit_denominator(100) for x in PLACES]
    return [(place, place) for place in places]
