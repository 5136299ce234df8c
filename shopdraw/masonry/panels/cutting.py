"""Cut a convex shape at a line, and know which of its sides are sawn.

In:  corners.   Out: what is left of them.
Frame: any; exact where the points are exact, else floating point.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Generic, TypeVar

Number = TypeVar("Number", float, Fraction)
SAME = 1e-9
"""In floating point a difference below this is none."""


@dataclass(frozen=True)
class Vertex(Generic[Number]):
    """A corner of a ring, and whether the side that begins there is sawn."""

    x: Number
    y: Number
    is_sawn: bool = False


def cut_to(
    ring: Sequence[Vertex[Number]], width: Number, height: Number, same: Number
) -> list[Vertex[Number]]:
    """Cut a convex ring to a rectangle from the origin; empty where nothing is left.

    Args:
        ring: anticlockwise.
        width: of the rectangle.
        height: of the rectangle.
        same: a corner so little outside counts as on the edge.
    """
    left = list(ring)
    none = width - width
    one = type(width)(1)
    for line in (
        (-one, none, none),
        (one, none, width),
        (none, -one, none),
        (none, one, height),
    ):
        if left:
            left = cut_at(left, line, same)
    return left


def cut_at(
    ring: list[Vertex[Number]], line: tuple[Number, Number, Number], same: Number
) -> list[Vertex[Number]]:
    """Cut off what lies beyond a line; empty where nothing is left.

    Args:
        ring: of a convex shape, anticlockwise.
        line: a, b and c; what has a x + b y greater than c is cut off.
        same: a corner so little beyond counts as on the line.
    """
    a, b, c = line
    far = [a * corner.x + b * corner.y - c for corner in ring]
    if max(far) <= same:
        return ring
    kept: list[Vertex[Number]] = []
    for place, corner in enumerate(ring):
        after = ring[(place + 1) % len(ring)]
        here, there = far[place], far[(place + 1) % len(ring)]
        if here <= same:
            goes_out = there > same
            # A corner on the line begins the cut, if the ring leaves there.
            on_line = goes_out and here >= -same
            kept.append(Vertex(corner.x, corner.y, corner.is_sawn or on_line))
            if goes_out and not on_line:
                kept.append(_crossing(corner, after, here, there, is_sawn=True))
        elif there < -same:
            kept.append(_crossing(corner, after, here, there, is_sawn=corner.is_sawn))
    return kept if len(kept) > 2 else []


def _crossing(
    a: Vertex[Number], b: Vertex[Number], here: Number, there: Number, *, is_sawn: bool
) -> Vertex[Number]:
    share = here / (here - there)
    return Vertex(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share, is_sawn)
