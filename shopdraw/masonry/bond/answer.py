"""The bond's one door: the best way to lay a front, a return or a leg.

In:  `Sizes`, and `Front` or `Stretch`.   Out: `Solved`.
Frame: whole numbers on the caller's grid, left to right.

The search begins narrow and widens only where the answer leaves a fault.
"""

from __future__ import annotations

from dataclasses import replace

from shopdraw.masonry.bond.faces import Solved, solve_stretch
from shopdraw.masonry.bond.front import Front
from shopdraw.masonry.bond.fronts import solve_mirrored
from shopdraw.masonry.bond.legs import Stretch, Width
from shopdraw.masonry.bond.merit import FAILS, FAULTS
from shopdraw.masonry.bond.sizes import Sizes
from shopdraw.masonry.bond.unlike import Unlike

MANY_CUTS = 5
"""More than three equal cuts on the centre line, where fewer leave a fault."""


def solve_return(sizes: Sizes, stretch: Stretch) -> Solved:
    """Return the best way to lay a return; it begins at its corner, on the left.

    Args:
        sizes: the front's bond and brick.
        stretch: where the return is.
    """
    return solve_stretch(sizes.round_the_corner(), stretch, "return")


def solve_front(sizes: Sizes, front: Front) -> Solved:
    """Return the best way to lay a front, legs and courses over."""
    if not front.is_mirrored:
        return _widened(sizes, front, Width())
    best = solve_mirrored(sizes, front, Width())
    if best is None:
        return _widened(sizes, front, Width())
    if any(best.merit[:FAULTS]):
        best = _better(best, solve_mirrored(sizes, front, Width(fine=True), best.merit))
    best = _with_many_cuts(sizes, front, best, Width(fine=True))
    if any(best.merit[:FAILS]) and "corner" in front.ends:
        width = Width(fine=True, trims=True)
        best = _better(best, solve_mirrored(sizes, front, width, best.merit))
        best = _with_many_cuts(sizes, front, best, width)
    if any(best.merit[:FAILS]):
        other = _widened(sizes, front, Width(fine=True))
        # The unmirrored ways were not all looked at.
        best = replace(_better(best, other), searched_all=other.searched_all)
    return best


def _better(one: Solved, other: Solved | None) -> Solved:
    return one if other is None or one.merit <= other.merit else other


def _with_many_cuts(sizes: Sizes, front: Front, best: Solved, width: Width) -> Solved:
    """Return the best with more cuts on the centre line, if these lessen a fault."""
    if not any(best.merit[:FAULTS]) or not front.over_kinds:
        return best
    wide = replace(width, cuts=MANY_CUTS)
    many = solve_mirrored(sizes, front, wide, best.merit)
    if many is None or many.merit[:FAULTS] >= best.merit[:FAULTS]:
        return best
    return many


def _widened(sizes: Sizes, front: Front, width: Width) -> Solved:
    """Return the best of an unlike front, its search widened where it has faults."""
    best = Unlike(sizes, front, width).solve()
    if any(best.merit[:FAULTS]):
        best = _better(best, Unlike(sizes, front, replace(width, fine=True)).solve())
    if any(best.merit[:FAILS]) and "corner" in front.ends:
        trimmed = replace(width, fine=True, trims=True)
        best = _better(best, Unlike(sizes, front, trimmed).solve())
    return best
