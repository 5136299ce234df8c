"""The bond's one door: the best way to lay a front, a return or a leg.

In:  `Sizes`, and `Front` or `LegSpan`.   Out: `Solved`.
Frame: whole numbers on the caller's grid, left to right.

The search begins narrow and widens only where the answer leaves a fault.
"""

from __future__ import annotations

from dataclasses import replace

from shopdraw.masonry.bonding.faces import NO_WAY, Solved, solve_stretch
from shopdraw.masonry.bonding.front import Front
from shopdraw.masonry.bonding.fronts import solve_mirrored
from shopdraw.masonry.bonding.legs import LegSpan, Width
from shopdraw.masonry.bonding.unlike import Unlike
from shopdraw.masonry.rows.merit import FAILS, FAULTS
from shopdraw.masonry.rows.sizes import Sizes

MANY_CUTS = 5
"""More than three equal cuts on the centre line, where fewer leave a fault."""
WIDENINGS = Width(), Width(fine=True), Width(fine=True, trims=True)
"""Each wider than the last: tried where what was found has faults, or fails."""


def solve_return(sizes: Sizes, stretch: LegSpan) -> Solved:
    """Return the best way to lay a return; it begins at its corner, on the left.

    Args:
        sizes: the front's bond and brick.
        stretch: where the return is.
    """
    return solve_stretch(sizes.round_the_corner(), stretch, "return")


def solve_front(sizes: Sizes, front: Front) -> Solved:
    """Return the best way to lay a front, legs and courses over."""
    if not front.is_mirrored:
        return _widened(sizes, front)
    best = _mirrored(sizes, front)
    if best is None or any(best.merit[:FAILS]):
        other = _widened(sizes, front)
        # The unmirrored ways were not all looked at.
        best = replace(_better(best, other), searched_all=other.searched_all)
    return best


def _mirrored(sizes: Sizes, front: Front) -> Solved | None:
    """Return the best mirrored way, the search widened as far as its faults ask."""
    best: Solved | None = None
    for width in WIDENINGS:
        asks = FAILS if width.trims else FAULTS
        if best is not None and not any(best.merit[:asks]):
            continue
        known = None if best is None else best.merit
        found = solve_mirrored(sizes, front, width, known)
        best = found if best is None else _better(best, found)
        if best is not None and width.fine:
            best = _with_many_cuts(sizes, front, best, width)
    return best


def _better(one: Solved | None, other: Solved | None) -> Solved:
    """Return the better of two, one of which there is."""
    if one is None or (other is not None and other.merit < one.merit):
        return _there(other)
    return one


def _there(solved: Solved | None) -> Solved:
    if solved is None:
        raise ValueError(NO_WAY)
    return solved


def _with_many_cuts(sizes: Sizes, front: Front, best: Solved, width: Width) -> Solved:
    """Return the best with more cuts on the centre line, if these lessen a fault."""
    if not any(best.merit[:FAULTS]) or not front.over_kinds:
        return best
    wide = replace(width, cuts=MANY_CUTS)
    many = solve_mirrored(sizes, front, wide, best.merit)
    if many is None or many.merit[:FAULTS] >= best.merit[:FAULTS]:
        return best
    return many


def _widened(sizes: Sizes, front: Front) -> Solved:
    """Return the best of an unlike front, its search widened where it has faults."""
    best: Solved | None = None
    for width in WIDENINGS:
        asks = FAILS if width.trims else FAULTS
        if best is None or any(best.merit[:asks]):
            found = Unlike(sizes, front, width).solve()
            best = found if best is None else _better(best, found)
    return _there(best)
