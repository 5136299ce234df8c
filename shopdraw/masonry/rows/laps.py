"""Pairs of rows whose laps are within a limit, found from the left, joint by joint.

In:  the joints of two kinds' rows, and how each begins.   Out: pairs of them.
Frame: grid lengths.

Rows that begin alike go together as far as they are alike: where one joint of theirs
is too near one of a row of the other kind, none of them is gone on with. So most pairs
are ruled out long before their ends.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from shopdraw.masonry.rows.meetings import FAR, Meeting, Perpends
from shopdraw.masonry.rows.merit import Flags, Ints

AT_ONCE = 1 << 18
"""So many pairs are gone on with at once."""


_Stretch: TypeAlias = tuple[tuple[Ints, Ints, Flags], ...]
"""The joints of rows in one stretch of the run, the first of each row, the second of
each and so on: left and right, far away where there is none; and whether it stands in
the leg's row."""


@dataclass(frozen=True)
class _Level:
    """Rows that are alike as far as the end of one stretch, together.

    Attributes:
        begin: the first of those rows.
        first, count: which of them go on from each of the level before.
        new, before: their joints in this stretch, and in the one before.
    """

    begin: Ints
    first: Ints
    count: Ints
    new: _Stretch
    before: _Stretch


class _InOrder:
    """Rows of one kind, in the order of how they begin and of their joints."""

    def __init__(self, some: Perpends, start: Ints, ends: Ints) -> None:
        at = np.argsort(some.left, axis=1, kind="stable")
        left: Ints = np.take_along_axis(some.left, at, axis=1)
        right: Ints = np.take_along_axis(some.right, at, axis=1)
        kept = np.take_along_axis(some.is_kept, at, axis=1)
        wide: Ints = right - left
        widths, width = np.unique(wide, return_inverse=True)
        code: Ints = (left * len(widths) + width.reshape(left.shape)) * 2 + kept
        code = np.where(left < FAR, code, FAR)
        self.numbers = np.lexsort((*code.T[::-1], start))
        self.starts = start[self.numbers]
        self.left, self.right, self.kept = (
            x[self.numbers] for x in (left, right, kept)
        )
        split = self._split(code[self.numbers])
        self.begins = [np.nonzero(split < end)[0] for end in (1 - FAR, *ends)]
        self.before = self._before(ends)

    def _split(self, code: Ints) -> Ints:
        """Return the first place where each row differs from the one before it."""
        differs = code[1:] != code[:-1]
        column, rows = np.argmax(differs, axis=1), np.arange(len(differs))
        place = np.minimum(self.left[rows, column], self.left[rows + 1, column])
        place = np.where(differs.any(axis=1), place, FAR)
        place = np.where(self.starts[1:] != self.starts[:-1], -FAR, place)
        found: Ints = np.append(-FAR, place)
        return found

    def _before(self, ends: Ints) -> Ints:
        """Return how many joints each row has before each end, 0 first."""
        rows, columns = np.nonzero(self.left < FAR)
        stretch = np.searchsorted(ends, self.left[rows, columns], "right")
        shape = len(self.left), len(ends) + 1
        count = np.bincount(
            rows * shape[1] + stretch + 1, minlength=shape[0] * shape[1]
        )
        return np.cumsum(count.reshape(shape), axis=1, dtype=np.int16)

    def level(self, number: int) -> _Level:
        """Return the rows together that are alike to the end of a stretch, 1 first."""
        before, begin = self.begins[number - 1], self.begins[number]
        first = np.searchsorted(begin, before)
        count = np.diff(np.append(first, len(begin)))
        return _Level(
            begin, first, count,
            self._joints(begin, number), self._joints(begin, number - 1),
        )  # fmt: skip

    def _joints(self, rows: Ints, number: int) -> _Stretch:
        """Return the joints of rows in a stretch, 1 first."""
        end, begin = (self.before[rows, max(x, 0)] for x in (number, number - 1))
        columns = list[tuple[Ints, Ints, Flags]]()
        for more in range(int((end - begin).max(initial=0))):
            at = begin + more
            there = at < end
            at = np.where(there, at, 0)
            columns.append((
                np.where(there, self.left[rows, at], FAR),
                np.where(there, self.right[rows, at], -FAR),
                there & self.kept[rows, at],
            ))  # fmt: skip
        return tuple(columns)


@dataclass
class Sweep:
    """Goes along two kinds' rows from the left.

    Attributes:
        at: how they meet.
        room: how much their laps may come to, as the first word counts them.
        spend: told how many pairs are looked at.
    """

    at: Meeting
    room: int
    spend: Callable[[int], None]

    def pairs(
        self,
        rows: tuple[Perpends, Perpends],
        starts: tuple[Ints, Ints],
        begun: tuple[Ints, Ints],
    ) -> Iterator[tuple[Ints, Ints]]:
        """Yield all pairs of rows whose laps are within the room, many at once.

        Args:
            rows: the joints of both kinds' rows.
            starts: how each row begins, by number.
            begun: which beginnings of both may lie on one another.
        """
        if not all(len(x) for x in starts):
            return
        ends = self._ends(rows)
        one, other = (_InOrder(x, y, ends) for x, y in zip(rows, starts, strict=True))
        found = [_begin(x, y) for x, y in zip((one, other), begun, strict=True)]
        there = found[0][1] & found[1][1]
        levels = list[tuple[_Level, _Level]]()
        left = [(0, found[0][0][there], found[1][0][there])]
        costs = [np.zeros(int(there.sum()), np.int64)]
        while left:
            number, a, b = left.pop()
            cost = costs.pop()
            if number == len(ends):
                yield from self._whole(one, other, a, b)
                continue
            if number == len(levels):
                levels.append((one.level(number + 1), other.level(number + 1)))
            for some in _parts(levels[number], a, b):
                p, q, of = _gone_on(levels[number], a[some], b[some])
                self.spend(len(p))
                more = cost[some][of] + self._laps(levels[number], p, q)
                ok = more <= self.room
                if ok.any():
                    left.append((number + 1, p[ok], q[ok]))
                    costs.append(more[ok])

    def _ends(self, rows: tuple[Perpends, Perpends]) -> Ints:
        """Return the ends of stretches so long that only neighbours have short laps."""
        there = [x.is_there for x in rows]
        every = np.concatenate([x.left[y] for x, y in zip(rows, there, strict=True)])
        wide = max(
            int((x.right - x.left)[y].max(initial=0))
            for x, y in zip(rows, there, strict=True)
        )
        if not len(every):
            return np.zeros(0, np.int64)
        reach = self.at.sizes.least_lap(*self.at.kinds) + wide + 1
        ends: Ints = np.arange(int(every.min()) + reach, int(every.max()) + 1, reach)
        return np.append(ends, FAR)

    def _laps(self, level: tuple[_Level, _Level], a: Ints, b: Ints) -> Ints:
        """Return what the laps of pairs come to that end in a stretch."""
        one, other = level
        least = self.at.sizes.least_lap(*self.at.kinds)
        total = np.zeros(len(a), np.int64)
        for mine, theirs in (
            (one.new, other.new), (one.new, other.before), (one.before, other.new)
        ):  # fmt: skip
            for left, right, kept in _of(mine, a):
                for facing in _of(theirs, b):
                    lap = np.maximum(facing[0] - right, left - facing[1])
                    short = np.nonzero(lap < least)[0]
                    if self.at.skips:
                        short = short[~(kept[short] & facing[2][short])]
                    total[short] += self.at.lap_words(np.maximum(lap[short], 0))
        return total

    def _whole(
        self, one: _InOrder, other: _InOrder, a: Ints, b: Ints
    ) -> Iterator[tuple[Ints, Ints]]:
        """Yield the rows that stand together at the end of the run."""
        mine, theirs = (
            (x.begins[-1], np.diff(np.append(x.begins[-1], len(x.numbers))))
            for x in (one, other)
        )
        for some in _chunks(mine[1][a] * theirs[1][b]):
            p, q, _ = _each(
                (mine[0][a[some]], mine[1][a[some]]),
                (theirs[0][b[some]], theirs[1][b[some]]),
            )
            yield one.numbers[p], other.numbers[q]


def _begin(some: _InOrder, begun: Ints) -> tuple[Ints, Flags]:
    """Return the groups of rows that begin as asked, and whether there are any."""
    known = some.starts[some.begins[0]]
    at = np.minimum(np.searchsorted(known, begun), len(known) - 1)
    return at, known[at] == begun


def _of(some: _Stretch, which: Ints) -> _Stretch:
    """Return the joints of some rows."""
    return tuple((a[which], b[which], kept[which]) for a, b, kept in some)


def _parts(level: tuple[_Level, _Level], a: Ints, b: Ints) -> Iterator[slice]:
    return _chunks(level[0].count[a] * level[1].count[b])


def _chunks(counts: Ints) -> Iterator[slice]:
    """Yield which go together so that not too many come of them at once."""
    total, start = np.cumsum(counts), 0
    while start < len(counts):
        done = total[start] - counts[start]
        stop = int(np.searchsorted(total, done + AT_ONCE, "right"))
        stop = max(stop, start + 1)
        yield slice(start, stop)
        start = stop


def _gone_on(level: tuple[_Level, _Level], a: Ints, b: Ints) -> tuple[Ints, Ints, Ints]:
    """Return each two groups that go on from two, and from which they do."""
    one, other = level
    return _each((one.first[a], one.count[a]), (other.first[b], other.count[b]))


def _each(one: tuple[Ints, Ints], other: tuple[Ints, Ints]) -> tuple[Ints, Ints, Ints]:
    """Return every pair of two runs of numbers, each with its first and its count."""
    count = one[1] * other[1]
    of = np.repeat(np.arange(len(count)), count)
    place = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
    a, b = np.divmod(place, other[1][of])
    return one[0][of] + a, other[0][of] + b, of
