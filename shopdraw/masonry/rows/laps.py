"""Pairs of rows whose laps are within a limit, sixty-four at a time.

In:  the joints of two kinds' rows, and how each begins.   Out: pairs of them.
Frame: grid lengths.

Rows of one kind that begin alike share words, a flag a row. What each joint of the
other kind is too near to is known of all of them once, so a row is held against
sixty-four by one operation a joint, and those that are too near are given up together.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from shopdraw.masonry.rows.meetings import Meeting, Perpends
from shopdraw.masonry.rows.merit import PLACES, Flags, Ints

AT_ONCE = 1 << 16
"""So many rows, each with a word of others, are gone on with at once."""
MOST_KNOWN = 1 << 25
"""So many words are kept at once of what lies too near."""
FLAGS = 64
"""A word has so many."""
LESS = 8
"""To hold a row against a word of others is so much less work than to price a pair."""
Words: TypeAlias = NDArray[np.uint64]


@dataclass(frozen=True)
class _Joints:
    """The joints of rows by number; the last stands for none.

    Attributes:
        left, right, kept: each different joint, and whether it stands in the leg's row.
        of: the numbers of each row's joints, those that are kept last.
    """

    left: Ints
    right: Ints
    kept: Flags
    of: Ints

    @classmethod
    def of_rows(cls, some: Perpends) -> _Joints:
        """Number the joints of rows."""
        there = some.is_there
        wide, width = np.unique((some.right - some.left)[there], return_inverse=True)
        key = (some.left[there] * len(wide) + width.reshape(-1)) * 2
        key += some.is_kept[there]
        each, first, number = np.unique(key, return_index=True, return_inverse=True)
        of = np.full(there.shape, len(each))
        of[there] = number.reshape(-1)
        at = np.argsort(np.where(there, some.is_kept, 2), axis=1, kind="stable")
        left, right = (x[there][first] for x in (some.left, some.right))
        kept = some.is_kept[there][first]
        return cls(left, right, kept, np.take_along_axis(of, at, axis=1))


@dataclass(frozen=True)
class _Begun:
    """Rows in the order of how they begin, and the words of those that begin alike.

    Attributes:
        order: the rows.
        starts, first, count: each beginning, and which of the order begin so.
        first_word, words: which words these share.
        base: the place in the order of each word's first.
    """

    order: Ints
    starts: Ints
    first: Ints
    count: Ints
    first_word: Ints
    words: Ints
    base: Ints

    @classmethod
    def of_rows(cls, start: Ints) -> _Begun:
        """Order rows by how they begin."""
        order = np.argsort(start, kind="stable")
        starts, first, count = np.unique(
            start[order], return_index=True, return_counts=True
        )
        words = -(-count // FLAGS)
        first_word = np.cumsum(words) - words
        within = np.arange(int(words.sum())) - np.repeat(first_word, words)
        base = np.repeat(first, words) + FLAGS * within
        return cls(order, starts, first, count, first_word, words, base)

    def places(self) -> tuple[Ints, Ints]:
        """Return the word and the flag of each of the order."""
        within = np.arange(len(self.order)) - np.repeat(self.first, self.count)
        word = np.repeat(self.first_word, self.count) + within // FLAGS
        return word, within % FLAGS

    def groups(self, begun: Ints) -> tuple[Ints, Flags]:
        """Return the rows that begin as asked, by number, and whether there are any."""
        at = np.minimum(np.searchsorted(self.starts, begun), len(self.starts) - 1)
        return at, self.starts[at] == begun


@dataclass
class Sieve:
    """Holds two kinds' rows against each other.

    Attributes:
        at: how they meet.
        room: how much their laps may come to, as the first word counts them.
        spend: told how many words are looked at.
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
        """Yield all pairs of rows whose laps may be within the room, many at once.

        Of joints that are too near the same one only one is counted: where the room
        is for a lap or more, what comes back may be over it.

        Args:
            rows: the joints of both kinds' rows.
            starts: how each row begins, by number.
            begun: which beginnings of both may lie on one another.
        """
        if self.room < 0 or not all(len(x) for x in starts):
            return
        one, other = (_Begun.of_rows(x) for x in starts)
        (a, is_a), (b, is_b) = one.groups(begun[0]), other.groups(begun[1])
        a, b = a[is_a & is_b], b[is_a & is_b]
        if len(one.order) < len(other.order):
            # What few rows are too near to is soon known.
            for p, q in self._held(rows[::-1], (other, one), (b, a)):
                yield q, p
        else:
            yield from self._held(rows, (one, other), (a, b))

    def _held(
        self,
        rows: tuple[Perpends, Perpends],
        every: tuple[_Begun, _Begun],
        groups: tuple[Ints, Ints],
    ) -> Iterator[tuple[Ints, Ints]]:
        """Yield pairs of rows, those of the second kind held by words."""
        one, other = every
        joints = _Joints.of_rows(rows[0])
        lines = joints.of[one.order]
        most = max(MOST_KNOWN // (len(joints.left) + 1), 1)
        for begin in range(0, len(other.base), most):
            end = min(begin + most, len(other.base))
            known = self._too_near(joints, rows[1], other, begin, end)
            first = np.maximum(other.first_word[groups[1]], begin)
            count = other.first_word[groups[1]] + other.words[groups[1]]
            count = np.maximum(np.minimum(count, end) - first, 0)
            mine = one.first[groups[0]], one.count[groups[0]]
            for some in _chunks(mine[1] * count):
                a, word = _each(
                    (mine[0][some], mine[1][some]), (first[some], count[some])
                )
                yield from self._sieved(one, other, (a, word), lines, known, begin)

    def _sieved(
        self,
        one: _Begun,
        other: _Begun,
        held: tuple[Ints, Ints],
        lines: Ints,
        known: Words,
        begin: int,
    ) -> Iterator[tuple[Ints, Ints]]:
        a, word = held
        group = np.searchsorted(other.first_word, word, "right") - 1
        left = other.first[group] + other.count[group] - other.base[word]
        every = ~np.uint64(0) >> (FLAGS - np.minimum(left, FLAGS)).astype(np.uint64)
        most = min(self.room >> PLACES[2][1], lines.shape[1])
        # Of each number of laps, who has no more.
        within = [every] * (int(most) + 1)
        for column in range(lines.shape[1]):
            self.spend(len(a) // LESS)
            near = known[lines[a, column], word - begin]
            for laps in range(len(within) - 1, 0, -1):
                within[laps] = within[laps] & ~near | within[laps - 1]
            within[0] = within[0] & ~near
            left_over = within[-1] != 0
            a, word = a[left_over], word[left_over]
            within = [x[left_over] for x in within]
        flags = within[-1].astype("<u8").view(np.uint8).reshape(-1, FLAGS // 8)
        at, flag = np.nonzero(np.unpackbits(flags, axis=1, bitorder="little"))
        yield one.order[a[at]], other.order[other.base[word[at]] + flag]

    def _too_near(
        self, mine: _Joints, theirs: Perpends, other: _Begun, begin: int, end: int
    ) -> Words:
        """Return who of some words has a joint too near each joint; none, the last."""
        word, flag = other.places()
        some = np.nonzero((word >= begin) & (word < end))[0]
        joints = _Joints.of_rows(theirs.take(other.order[some]))
        has = np.zeros((len(joints.left) + 1, end - begin), np.uint64)
        flags = np.uint64(1) << flag[some].astype(np.uint64)
        for line in joints.of.T:
            np.bitwise_or.at(has, (line, word[some] - begin), flags)
        least = self.at.sizes.least_lap(*self.at.kinds)
        found = np.zeros((len(mine.left) + 1, end - begin), np.uint64)
        wide = joints.right - joints.left
        for kept in (False, True):
            at = np.nonzero((mine.kept & self.at.skips) == kept)[0]
            facing = ~joints.kept if kept else np.ones_like(joints.kept)
            for width in np.unique(wide[facing]):
                who = np.nonzero(facing & (wide == width))[0]
                who = who[np.argsort(joints.left[who], kind="stable")]
                left = joints.left[who]
                first = np.searchsorted(left, mine.left[at] - least - width, "right")
                last = np.searchsorted(left, mine.right[at] + least, "left")
                found[at] |= _any_of(has[who], first, last)
        return found


def _any_of(words: Words, first: Ints, last: Ints) -> Words:
    """Return the flags of all lines from each first to before each last."""
    found = np.zeros((len(first), words.shape[1]), np.uint64)
    wide, size = last - first, 1
    while True:
        at = np.nonzero((wide >= size) & (wide < 2 * size))[0]
        found[at] = words[first[at]] | words[last[at] - size]
        if len(words) <= size:
            return found
        words, size = words[:-size] | words[size:], 2 * size


def _chunks(counts: Ints) -> Iterator[slice]:
    """Yield which go together so that not too many come of them at once."""
    total, start = np.cumsum(counts), 0
    while start < len(counts):
        done = total[start] - counts[start]
        stop = int(np.searchsorted(total, done + AT_ONCE, "right"))
        stop = max(stop, start + 1)
        yield slice(start, stop)
        start = stop


def _each(one: tuple[Ints, Ints], other: tuple[Ints, Ints]) -> tuple[Ints, Ints]:
    """Return every pair of two runs of numbers, each with its first and its count."""
    count = one[1] * other[1]
    of = np.repeat(np.arange(len(count)), count)
    place = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
    a, b = np.divmod(place, other[1][of])
    return one[0][of] + a, other[0][of] + b
