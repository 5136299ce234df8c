"""Measure from an opening that is no rectangle: along its curve, not its box.

In:  the ring of the opening, a box.   Out: distances and the spots between them.
Frame: as the ring; worked in floating point.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import hypot, inf

from shopdraw.masonry.wall.boxes import Box, Spot, clip_line

Point = tuple[Fraction, Fraction]
CLOSE = 1e-9
"""How far floating point may be off."""


@dataclass(frozen=True)
class Nearest:
    """The shortest way from a ring to a box: how long, from which spot to which."""

    distance: float
    on_ring: Spot
    on_box: Spot


def nearest_to(ring: Iterable[Point], box: Box) -> Nearest:
    """Find the shortest way from a ring, and all within it, to a box."""
    spots = [(float(x), float(y)) for x, y in ring]
    corners = _corners(box)
    if is_within(corners[0], spots):
        return Nearest(0.0, corners[0], corners[0])
    ways = (
        way
        for a, b in zip(spots, [*spots[1:], spots[0]], strict=True)
        for way in _ways(a, b, box, corners)
    )
    return min(ways, key=lambda way: way.distance)


def _ways(a: Spot, b: Spot, box: Box, corners: tuple[Spot, ...]) -> Iterator[Nearest]:
    """Yield the ways from one side of a ring to a box; the shortest is among them."""
    inside = clip_line(a, b, box)
    if inside is not None:
        yield Nearest(0.0, inside[0], inside[0])
        return
    left, bottom, right, top = box
    for x, y in (a, b):
        near = min(max(x, left), right), min(max(y, bottom), top)
        yield Nearest(hypot(near[0] - x, near[1] - y), (x, y), near)
    for corner in corners:
        foot = _foot(corner, a, b)
        yield Nearest(hypot(foot[0] - corner[0], foot[1] - corner[1]), foot, corner)


def _foot(spot: Spot, a: Spot, b: Spot) -> Spot:
    """Return the spot of a line from a to b that is nearest to another spot."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    if not square:
        return a
    share = ((spot[0] - a[0]) * dx + (spot[1] - a[1]) * dy) / square
    share = min(max(share, 0.0), 1.0)
    return a[0] + share * dx, a[1] + share * dy


def is_within(spot: Spot, ring: list[Spot]) -> bool:
    """Whether a spot lies within a ring: a line from it crosses the sides oddly."""
    x, y = spot
    crossed = sum(
        (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1)
        for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True)
    )
    return crossed % 2 == 1


def holds_box(ring: Iterable[Point], box: Box) -> bool:
    """Whether a box lies within a ring: all its corners do, and no side enters it."""
    spots = [(float(x), float(y)) for x, y in ring]
    left, bottom, right, top = box
    inner = (left + CLOSE, bottom + CLOSE, right - CLOSE, top - CLOSE)
    return all(is_within(corner, spots) for corner in _corners(inner)) and not any(
        clip_line(a, b, inner)
        for a, b in zip(spots, [*spots[1:], spots[0]], strict=True)
    )


def height_over(soffit: Iterable[Point], box: Box) -> float | None:
    """Return how far a box lies above a soffit, straight up; None where it does not.

    Args:
        soffit: from one end to the other.
        box: what may lie over it.
    """
    spots = sorted((float(x), float(y)) for x, y in soffit)
    left, bottom, right, _ = box
    least = inf
    for (x1, y1), (x2, y2) in pairwise(spots):
        low, high = max(x1, left), min(x2, right)
        if low > high or x1 == x2:
            continue
        for x in (low, high):
            least = min(least, bottom - (y1 + (y2 - y1) * (x - x1) / (x2 - x1)))
    return None if least is inf or least < 0 else least


def _corners(box: Box) -> tuple[Spot, ...]:
    left, bottom, right, top = box
    return (left, bottom), (right, bottom), (right, top), (left, top)
