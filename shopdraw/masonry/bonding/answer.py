"""The best way to lay a front, with its legs and the courses over its opening.

In:  `Sizes`, `Front`.   Out: `Solved`.
Frame: whole numbers on the caller's grid, left to right.

The search begins narrow and widens only where the answer leaves a fault.
"""

from __future__ import annotations

from dataclasses import replace

from shopdraw.masonry.bonding.courses import BestCourses
from shopdraw.masonry.bonding.faces import NoWayError, Solved
from shopdraw.masonry.bonding.front import Front
from shopdraw.masonry.bonding.fronts import Mirrored
from shopdraw.masonry.bonding.legs import Rows, Width
from shopdraw.masonry.bonding.unlike import Unlike
from shopdraw.masonry.rows.merit import FAILS, FAULTS, Merit, under_faults
from shopdraw.masonry.rows.search import NO_LIMIT
from shopdraw.masonry.rows.sizes import Sizes

MANY_CUTS = 5
"""More than three equal cuts on the centre line, where fewer leave a fault."""
WIDENINGS = Width(), Width(fine=True), Width(fine=True, trims=True)
"""Each wider than the last: tried where what was found has faults, or fails."""
WORK = 1_200_000, 600_000, 300_000
"""How much more each may look at where the legs differ, in pairs of rows."""
PATIENCE = 5_000_000, 2_500_000, 1_250_000
"""The same, once more, where what was found breaks a rule: it stays on the wall."""


def solve_front(sizes: Sizes, front: Front) -> Solved:
    """Return the best way to lay a front, legs and courses over.

    Raises:
        NoWayError: nothing can be laid, not even of pieces a joint step long.
    """
    if not front.is_mirrored:
        return _widened(sizes, front)
    best = _mirrored(sizes, front)
    if best is None or any(best.merit[:FAILS]):
        other = _widened(sizes, front)
        # The unmirrored ways were not all looked at.
        best = replace(_better(best, other), searched_all=other.searched_all)
    return best


def mirrored_rows(sizes: Sizes, front: Front, kind: int, width: Width) -> Rows:
    """Return every course across a front that is its own mirror image, judged.

    Args:
        sizes: the bond and the brick.
        front: where; it has no legs.
        kind: of the course.
        width: how wide the search is.
    """
    return Mirrored(sizes, front, width).alone(kind)


def _mirrored(sizes: Sizes, front: Front) -> Solved | None:
    """Return the best mirrored way, the search widened as far as its faults ask."""
    best: tuple[Mirrored, BestCourses] | None = None
    limit, tried, goes_on = NO_LIMIT, 0, set[int]()
    merit: Merit = ()
    for at, width in enumerate(WIDENINGS):
        asks = FAILS if width.trims else FAULTS
        if best is None or any(merit[:asks]):
            search, tried = Mirrored(sizes, front, width, goes_on), at
            found = search.solve(limit)
            if found is not None:
                best, limit = (search, found), found.words
                merit = found.merit
    if front.over_kinds and (best is None or any(merit[:FAULTS])):
        width = replace(WIDENINGS[tried], cuts=MANY_CUTS)
        search = Mirrored(sizes, front, width, goes_on)
        found = search.solve(NO_LIMIT if best is None else under_faults(limit))
        best = best if found is None else (search, found)
    return None if best is None else best[0].report(best[1])


def _better(one: Solved | None, other: Solved) -> Solved:
    return other if one is None or other.merit < one.merit else one


def _widened(sizes: Sizes, front: Front) -> Solved:
    """Return the best of an unlike front, its search widened where it has faults."""
    best: Solved | None = None
    limit, searched_all = NO_LIMIT, False
    merit: Merit = ()
    for works in (WORK, PATIENCE):
        if merit and (searched_all or not any(merit[:FAILS])):
            break
        searched_all, work = True, 0
        for width, more in zip(WIDENINGS, works, strict=True):
            asks = FAILS if width.trims else FAULTS
            if best is None or any(merit[:asks]):
                search = Unlike(sizes, front, width, max(work, 0) + more)
                found = search.solve(limit)
                work = search.work
                searched_all = searched_all and search.searched_all
                if found is not None:
                    best, limit, merit = search.solved, found.words, found.merit
    if best is None:
        raise NoWayError
    return replace(best, searched_all=searched_all)
