"""The best way to lay a front, with its legs and courses over; a leg, a return alone.

In:  `Sizes`, `Front` or `LegSpan`.   Out: `Solved`.
Frame: whole numbers on the caller's grid, left to right.

The search begins narrow and widens only where the answer leaves a fault.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from shopdraw.masonry.bonding.courses import BestCourses
from shopdraw.masonry.bonding.fronts import Mirrored
from shopdraw.masonry.bonding.legs import (
    Front,
    LaidRow,
    LegSpan,
    NoWayError,
    Part,
    Rows,
    Solved,
    Width,
    fill_stretch,
    filling_of,
    joints_key,
)
from shopdraw.masonry.bonding.unlike import Unlike
from shopdraw.masonry.rows.bonds import each_kind
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge
from shopdraw.masonry.rows.merit import (
    FAILS,
    FAULTS,
    NOT_MIRRORED,
    SAWN,
    Ints,
    Merit,
    as_tuple,
    joined,
    pack,
    under_faults,
)
from shopdraw.masonry.rows.search import NO_LIMIT, Pair, Price, best_together
from shopdraw.masonry.rows.sizes import Sizes

MANY_CUTS = 5
"""More than three equal cuts on the centre line, where fewer leave a fault."""
WIDENINGS = Width(), Width(fine=True), Width(fine=True, trims=True)
"""Each wider than the last: tried where what was found has faults, or fails."""
WORK = 6_000_000, 3_000_000, 1_500_000
"""How much more each may look at where the legs differ, in pairs of rows."""
PATIENCE = 60_000_000, 10_000_000, 5_000_000
"""The same, once more, where what was found breaks a rule: it stays on the wall."""


def solve_front(sizes: Sizes, front: Front) -> Solved:
    """Return the best way to lay a front, legs and courses over.

    Raises:
        NoWayError: nothing can be laid, not even of pieces a joint step long.
    """
    mirrored = _mirrored(sizes, front) if front.is_mirrored else None
    limit, best = NO_LIMIT, None
    if mirrored is not None:
        search, found = mirrored
        best = search.report(found)
        if not any(best.merit[:FAILS]):
            return best
        if not best.merit[0]:
            # Pieces under the least are laid only where there is no other way at all.
            limit = under_faults(found.words, FAILS)
    other, searched_all = _widened(sizes, front, limit)
    if other is not None:
        best = _better(best, _as_laid(front, other))
    if best is None:
        raise NoWayError
    # The unmirrored ways may not all have been looked at.
    return replace(best, searched_all=searched_all)


def is_mirror_image(front: Front, zones: Mapping[str, Mapping[int, LaidRow]]) -> bool:
    """Return whether what is laid on a front is its own mirror image, every course."""

    def turned(row: LaidRow | None) -> tuple[tuple[int, int], ...]:
        return () if row is None else row.moved(front.about, turned=True).pieces

    left, right, over = (zones.get(x, {}) for x in ("left leg", "right leg", "over"))
    return (
        left.keys() == right.keys()
        and all(left[kind].pieces == turned(row) for kind, row in right.items())
        and all(row.pieces == turned(row) for row in over.values())
    )


def _as_laid(front: Front, solved: Solved) -> Solved:
    """Count a face as a mirror image where it came out as one, however it was found."""
    if not (front.is_mirrored and is_mirror_image(front, solved.zones)):
        return solved
    merit = list(solved.merit)
    merit[NOT_MIRRORED - 1] = 0
    # What counts the line is of the whole face, of no kind of course.
    parts = tuple(part for part in solved.parts if part.kinds)
    return replace(solved, merit=tuple(merit), parts=parts)


def mirrored_rows(sizes: Sizes, front: Front, kind: int, width: Width) -> Rows:
    """Return every course across a front that is its own mirror image, judged.

    Args:
        sizes: the bond and the brick.
        front: where; it has no legs.
        kind: of the course.
        width: how wide the search is.
    """
    return Mirrored(sizes, front, width).alone(kind)


def _mirrored(sizes: Sizes, front: Front) -> tuple[Mirrored, BestCourses] | None:
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
    if front.over_kinds and (best is None or any(best[1].merit[:FAILS])):
        # All that an unmirrored way may have, before one is looked for.
        search = Mirrored(sizes, front, replace(WIDENINGS[-1], ends=True), goes_on)
        found = search.solve(NO_LIMIT if best is None else best[1].words)
        best = best if found is None else (search, found)
    return best


def _better(one: Solved | None, other: Solved) -> Solved:
    return other if one is None or other.merit < one.merit else one


def _widened(
    sizes: Sizes, front: Front, limit: Ints = NO_LIMIT
) -> tuple[Solved | None, bool]:
    """Search a front whose sides may differ, wider where what is found has faults.

    Returns:
        The best, none where nothing is as good as the limit; whether every way was
        looked at or ruled out.
    """
    best: Solved | None = None
    searched_all, done = False, set[Width]()
    merit: Merit = ()
    for works in (WORK, PATIENCE):
        if searched_all or (merit and not any(merit[:FAILS])):
            break
        searched_all, work = True, 0
        for width, more in zip(WIDENINGS, works, strict=True):
            work = max(work, 0) + more
            asks = FAILS if width.trims else FAULTS
            if width not in done and (best is None or any(merit[:asks])):
                search = Unlike(sizes, front, width, work)
                found = search.solve(limit)
                work = search.work
                searched_all = searched_all and search.searched_all
                done |= {width} if search.searched_all else set()
                if found is not None:
                    best, limit, merit = search.solved, found.words, found.merit
    return best, searched_all


def solve_stretch(sizes: Sizes, stretch: LegSpan, zone: str = "leg") -> Solved:
    """Return the best way to lay a leg or a return by itself.

    Args:
        sizes: the bond and the brick; for a return, `sizes.round_the_corner()`.
        stretch: where; it begins at its corner or free edge, on the left.
        zone: what the zone is called in what comes back.

    Raises:
        NoWayError: nothing can be laid, not even of pieces a joint step long.
    """
    solved = _solve_stretch(sizes, stretch, zone, Width())
    if solved is None or any(solved.merit[:FAULTS]):
        solved = _solve_stretch(sizes, stretch, zone, Width(fine=True))
    if solved is None or any(solved.merit[:FAILS]):
        solved = _solve_stretch(sizes, stretch, zone, Width(fine=True, trims=True))
    if solved is None:
        raise NoWayError
    return solved


def _solve_stretch(
    sizes: Sizes, stretch: LegSpan, zone: str, width: Width
) -> Solved | None:
    rows = {
        kind: fill_stretch(sizes, stretch, kind, width)
        for kind in each_kind(stretch.kinds)
    }
    return best_rows(sizes, stretch, zone, rows)


def best_rows(
    sizes: Sizes, stretch: LegSpan, zone: str, rows: dict[int, Rows]
) -> Solved | None:
    """Return the best of some fillings of a stretch that lie on one another.

    Returns:
        None where some kind has none.
    """
    prices = meeting_prices(rows, stretch, sizes)
    own = {
        kind: x.words + pack({SAWN: stretch.kinds.count(kind) * x.sawn}, len(x.sawn))
        for kind, x in rows.items()
    }
    found = best_together(
        own, prices, lambda kind, at: joints_key(rows[kind].table, at)
    )
    if found is None:
        return None
    chosen = found.chosen
    parts = [
        Part(zone, (kind,), as_tuple(joined(rows[kind].words[at])))
        for kind, at in chosen.items()
    ]
    return Solved(
        zones={zone: _fillings(rows, chosen)},
        parts=(*parts, *meeting_parts(zone, prices, chosen)),
        merit=as_tuple(joined(found.words)),
        searched_all=True,
    )


def _fillings(rows: dict[int, Rows], chosen: Mapping[int, int]) -> dict[int, LaidRow]:
    return {
        kind: filling_of(
            rows[kind].table, at, rows[kind].at.sizes, rows[kind].at.row.pattern
        )
        for kind, at in chosen.items()
    }


def meeting_parts(
    zone: str, prices: Mapping[Pair, Price], chosen: Mapping[int, int]
) -> list[Part]:
    """Return what each meeting of a zone adds."""
    parts = []
    for pair, price in prices.items():
        # Of these two fillings alone: a price of all would look all of them up.
        alone = price.take(*(np.array([chosen[kind]]) for kind in pair))
        words = alone(np.array([0]), np.array([0]))[0]
        parts.append(Part(zone, pair, as_tuple(joined(words))))
    return parts


def meeting_prices(
    rows: dict[int, Rows], stretch: LegSpan, sizes: Sizes
) -> dict[Pair, Price]:
    """Return what every two kinds of a stretch that lie on one another cost."""
    return {
        (one, other): MeetingJudge(
            rows[one].joints,
            rows[other].joints,
            Meeting(sizes, (one, other), stretch.width),
        )
        for one, other in sizes.bond.meetings(stretch.kinds)
    }
