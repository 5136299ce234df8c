"""What a mirrored front's search chooses from, and what a pair of it costs.

In:  tables of legs and of courses over.   Out: `Candidates`, `Judgement`.
Frame: grid lengths; an array has a candidate a row.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from shopdraw.masonry.bonding.legs import Rows
from shopdraw.masonry.bonding.over import Over
from shopdraw.masonry.rows.meetings import (
    Meeting,
    Pairs,
    Perpends,
    judge_meetings,
)
from shopdraw.masonry.rows.merit import Flags, Ints, order
from shopdraw.masonry.rows.tables import Fillings


@dataclass
class Candidates:
    """One kind's candidates: a leg's filling, a course over, or both.

    Attributes:
        leg, over: which filling, which way over; empty where there is none.
        words: each one's own merit, both legs and over.
        perpends: of the courses over, in the candidates' order.
    """

    rows: Rows | None
    ways: Over | None
    leg: Ints
    words: Ints
    table: Fillings | None = None
    perpends: Perpends | None = field(default=None)

    def keep(self, which: Flags) -> None:
        """Leave out all but some of the candidates."""
        self.words, self.leg = self.words[which], self.leg[which]
        self.ways = None if self.ways is None else self.ways.take(which)


TABLED = 1 << 18
"""Up to so many pairs of legs are judged beforehand."""


@dataclass(frozen=True)
class Judgement:
    """One judgement of two kinds that meet.

    Attributes:
        zone: where they meet.
        one, other: the joints, and for each candidate which of them are its.
        at: the two kinds.
        times: how often it counts.
    """

    zone: str
    one: tuple[Perpends, Ints]
    other: tuple[Perpends, Ints]
    at: Meeting
    times: int

    def __call__(self, a: Ints, b: Ints, pairs: Pairs) -> None:
        """Judge pairs of candidates."""
        mine, theirs = self.one[1][a], self.other[1][b]
        if self.every is not None:
            at = mine * len(self.other[0].left) + theirs
            pairs.add(self.every[at[pairs.which]])
        else:
            pairs.meet(
                (self.one[0], mine), (self.other[0], theirs), self.at, self.times
            )

    @cached_property
    def every(self) -> Ints | None:
        """What every pair costs, where that is quicker than each that comes up."""
        ones, others = len(self.one[0].left), len(self.other[0].left)
        if self.zone != "legs" or ones * others > TABLED:
            return None
        a, b = np.repeat(np.arange(ones), others), np.tile(np.arange(others), ones)
        words = judge_meetings(self.one[0].take(a), self.other[0].take(b), self.at)
        return self.times * words


def best_of_legs(some: Candidates) -> Ints:
    """Return the best candidate's merit of each of a leg's fillings."""
    count = 0 if some.rows is None else len(some.rows.table)
    best = np.full((count, some.words.shape[1]), 1 << 61, np.int64)
    worst_first = order(some.words)[::-1]
    best[some.leg[worst_first]] = some.words[worst_first]
    return best


def every_of(some: Candidates) -> Ints:
    """Return the numbers of all candidates."""
    return np.arange(len(some.words))
