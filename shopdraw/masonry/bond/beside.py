"""Lay the legs' courses beside soldiers that pass the jamb: the legs stop short of it.

In:  the leg as it is laid below, and the courses over the head.   Out: `Solved`.
Frame: grid lengths; the leg begins at its corner or free edge, on the left.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from shopdraw.masonry.bonding.answer import WIDENINGS, best_rows
from shopdraw.masonry.bonding.legs import (
    LaidRow,
    LegSpan,
    NoWayError,
    Rows,
    Solved,
    Width,
    fill_stretch,
    joints_key,
)
from shopdraw.masonry.rows.bonds import each_kind
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge, Perpends
from shopdraw.masonry.rows.merit import (
    FAILS,
    FAULTS,
    WORDS,
    Flags,
    Ints,
    not_over,
    pack,
    with_at_most,
)
from shopdraw.masonry.rows.sizes import Sizes


def solve_beside(
    sizes: Sizes,
    stretch: LegSpan,
    leg: Mapping[int, LaidRow],
    below: tuple[int, LaidRow] | None,
    above: tuple[int, LaidRow] | None,
) -> Solved:
    """Return the best way to lay a leg's courses beside soldiers.

    Args:
        sizes: the bond and the brick.
        stretch: where; its far end is where the soldiers begin.
        leg: by kind, the leg below, whose perpends should be carried on.
        below: the kind and the filling of the course under these, where there is one;
            only laps count there, as at a head.
        above: the same for the course over them.

    Raises:
        NoWayError: nothing can be laid, not even of pieces a joint step long.
    """
    best: Solved | None = None
    for width in WIDENINGS:
        asks = FAILS if width.trims else FAULTS
        if best is None or any(best.merit[:asks]):
            rows = _rows(sizes, stretch, leg, (below, above), width)
            solved = best_rows(sizes, stretch, "beside", rows)
            if best is None or (solved is not None and solved.merit < best.merit):
                best = solved
    if best is None:
        raise NoWayError
    return best


def _rows(
    sizes: Sizes,
    stretch: LegSpan,
    leg: Mapping[int, LaidRow],
    fixed: tuple[tuple[int, LaidRow] | None, tuple[int, LaidRow] | None],
    width: Width,
) -> dict[int, Rows]:
    rows = {}
    below, above = fixed
    for kind in each_kind(stretch.kinds):
        some = fill_stretch(sizes, stretch, kind, width)
        words = some.words.copy()
        if kind in leg:
            words += _not_carried(some, leg[kind])
        for course, kind_there in (
            (below, stretch.kinds[0]),
            (above, stretch.kinds[-1]),
        ):
            if course is not None and kind == kind_there and course[0] != kind:
                words += against(sizes, stretch, some, kind, course)
        rows[kind] = replace(some, words=words)
    return rows


def _not_carried(rows: Rows, leg: LaidRow) -> Ints:
    """Count the fillings in which a perpend of the leg, but its last, is lost."""
    lost = []
    for at in range(len(rows.table)):
        end = int(rows.table.right[at].max())
        wanted = {x for x in leg.joints[:-1] if x[1] < end}
        lost.append(int(not wanted <= set(joints_key(rows.table, at))))
    return pack({8: np.array(lost, np.int64)}, len(lost))


def against(
    sizes: Sizes, stretch: LegSpan, rows: Rows, kind: int, course: tuple[int, LaidRow]
) -> Ints:
    """Judge the laps of every filling on a course that is laid."""
    other, filling = course
    every = np.arange(len(rows.table))
    at = Meeting(sizes, (kind, other), stretch.width, at_head=True)
    return MeetingJudge(rows.joints, perpends_of(filling), at)(every, 0 * every)


def perpends_of(filling: LaidRow) -> Perpends:
    """Return the joints of one filling that is laid."""
    edges = np.array(filling.joints, np.int64).reshape(1, -1, 2)
    there = np.ones(edges.shape[:2], np.bool_)
    none = np.zeros((1, 0), np.int64)
    joint = np.array([filling.joint], np.int64)
    return Perpends(
        edges[..., 0], edges[..., 1], there.astype(np.int64), there, ~there, ~there,
        none, none, none, none.astype(np.bool_), joint,
    )  # fmt: skip


KEPT = with_at_most(np.zeros(WORDS, np.int64), FAILS, 0)
"""No worse than this is what breaks no rule."""
AT_ONCE = 1 << 18
"""So many pairs of fillings are judged at once."""


@dataclass(frozen=True)
class Bearing:
    """Which legs bear what stands beside soldiers, so that no rule is broken there.

    Attributes:
        sizes: the bond and the brick.
        spans: where it stands, begun as the legs are.
        under: the kind of the course that it stands on.
    """

    sizes: Sizes
    spans: tuple[LegSpan, ...]
    under: int

    def __call__(self, leg: LegSpan, kind: int, rows: Rows) -> Rows:
        """Return the fillings of a kind of a leg that bear it; all, where none does."""
        span = next((x for x in self.spans if x.left == leg.left), None)
        if span is None or kind != self.under or span.kinds[0] == kind:
            return rows
        at = Meeting(self.sizes, (span.kinds[0], kind), span.width, at_head=True)
        for width in WIDENINGS:
            bears = np.zeros(len(rows.table), np.bool_)
            for _, some in _together(self._standing(span, width), rows, at):
                bears[some] = True
            if bears.any():
                return rows.take(np.nonzero(bears)[0])
        return rows

    def _standing(self, span: LegSpan, width: Width) -> Rows:
        """Return what may stand in the lowest course there, and break no rule."""
        rows, first = {}, span.kinds[0]
        for kind in each_kind(span.kinds):
            some = fill_stretch(self.sizes, span, kind, width)
            rows[kind] = some.take(np.nonzero(not_over(some.words, KEPT))[0])
        for pair in self.sizes.bond.meetings(span.kinds):
            if first not in pair:
                continue
            other = next(x for x in pair if x != first)
            at = Meeting(self.sizes, (first, other), span.width)
            stands = np.zeros(len(rows[first].table), np.bool_)
            for lower, _ in _together(rows[first], rows[other], at):
                stands[lower] = True
            rows[first] = rows[first].take(np.nonzero(stands)[0])
        return rows[first]


def _together(one: Rows, other: Rows, at: Meeting) -> Iterator[tuple[Ints, Ints]]:
    """Yield the pairs of fillings that lie on one another and break no rule."""
    count, wide = len(one.table), len(other.table)
    if not count or not wide:
        return
    judge, step = MeetingJudge(one.joints, other.joints, at), max(AT_ONCE // wide, 1)
    for begin in range(0, count, step):
        mine = np.arange(begin, min(begin + step, count))
        a, b = np.repeat(mine, wide), np.tile(np.arange(wide), len(mine))
        ok: Flags = not_over(judge(a, b), KEPT)
        yield a[ok], b[ok]
