"""Legs of a front whose legs differ, where their arms are too many side by side.

In:  `Arms` of both sides, a limit.   Out: something within it; which arms may stand.
Frame: grid lengths, left to right; the right leg is laid mirrored about nothing.

Some legs of one kind are gone on from by themselves: few arms go with them. Where two
kinds have too many arms to be listed side by side, each kind by itself has few legs.
Every course over them is laid, and those of two kinds that meet are held against each
other; what none of the other kind may lie on is left out.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from shopdraw.masonry.bonding.courses import (
    NO_END,
    BestCourses,
    Courses,
    SpentError,
)
from shopdraw.masonry.bonding.sides import Arms
from shopdraw.masonry.bonding.unlike_within import (
    Beside,
    TableOfArms,
    UnlikeWithin,
    with_options,
)
from shopdraw.masonry.rows.laps import Sieve
from shopdraw.masonry.rows.merit import ENDLESS, Ints, least_of, not_over, order
from shopdraw.masonry.rows.search import NO_LIMIT, Pair

LEGS, BESIDE = 16, 64
"""So many legs of one kind are gone on from by themselves, with so many arms beside
each."""
MOST_LEGS = 60_000
"""So many legs of a kind side by side are gone on from, no more."""
MOST_MET = 100_000_000
"""So many legs of two kinds are asked whether they meet."""
AT_ONCE = 1 << 22


@dataclass
class _Legs:
    """The legs of a kind side by side that may still stand.

    Attributes:
        of: what each hands on, of shape (legs, sides).
        courses: what lies over them, by number in `Both`, and the legs of each.
    """

    of: Ints
    courses: Ints
    leg: Ints

    def take(self, which: Ints) -> _Legs:
        """Return the same with some of the courses."""
        return _Legs(self.of, self.courses[which], self.leg[which])


@dataclass
class UnlikeWhole(UnlikeWithin):
    """The search by some legs alone, and by whole courses."""

    def _held_whole(self, arms: list[TableOfArms], limit: Ints) -> Beside | None:
        """Return which arms may stand side by side; None where that is too much."""
        legs = dict[int, _Legs]()
        self.both = {}
        for kind in self.sides[0].words:
            options, bound = self._options_within(arms, kind, limit)
            if len(options) > MOST_LEGS:
                return None
            codes = options[:, 0] * self.sides[1].options(kind) + options[:, 1]
            both = self.both[kind] = self._both(kind, codes)
            self._close(kind, both, bound, limit)
            ranked = np.argsort(both.leg, kind="stable")
            legs[kind] = _Legs(both.options, ranked, both.leg[ranked])
        found = Beside()
        # What meets in few ways is held first, and leaves the others less.
        for again in (False, True):
            for pair in sorted(self.meetings, key=lambda x: _ways(legs, x)):
                met = self._met(pair, arms, legs, limit, is_last=again)
                if met is None:
                    return None
                found[pair] = met
        return found

    def _leg_by_leg(self, arms: list[TableOfArms], limit: Ints) -> BestCourses | None:
        """Return the best beside some legs of one kind, each two of them alone.

        The best arms of each two kinds seldom have legs in common. The kind is that
        which meets the most others; its best legs are gone on from, and some of all.
        """
        kind = max(self.sides[0].words, key=lambda x: sum(x in y for y in arms[0]))
        options, bound = self._options_within(arms, kind, limit)
        if not len(options):
            return None
        spread = np.linspace(0, 1, LEGS) ** 2 * (len(options) - 1)
        best = None
        for at in order(bound)[np.unique(spread.astype(np.int64))]:
            some = [
                _beside_leg(side, kind, option)
                for side, option in zip(arms, options[at], strict=True)
            ]
            found = self._try(some, limit, LEGS)
            if found is not None:
                best, limit = found, found.words
        return best

    def _try(
        self, arms: list[TableOfArms], limit: Ints, share: int = 2
    ) -> BestCourses | None:
        """Return the best of some arms, if a part of the work is enough for that."""
        # An answer there must be, whatever the work.
        before = self.work
        part = NO_END if limit[0] >= NO_LIMIT[0] else before // share
        self.work = part
        try:
            return self._within(arms, limit)
        except SpentError:
            return None
        finally:
            self.work += before - part

    def _options_within(
        self, arms: list[TableOfArms], kind: int, limit: Ints
    ) -> tuple[Ints, Ints]:
        """Return what a kind may hand on at both sides, and the least that comes to."""
        every, bounds, joints = list[Ints](), list[Ints](), list[Ints]()
        for side, some in zip(self.sides, arms, strict=True):
            bound = 0 * side.option_words(kind)
            for kinds, x in some.items():
                if kind in kinds:
                    of = x.options[:, kinds.index(kind)]
                    least = least_of(x.bound, of, len(bound))
                    bound = np.where(not_over(bound, least)[:, None], least, bound)
            at = np.nonzero(bound[:, 0] < ENDLESS[0])[0]
            every.append(at)
            bounds.append(bound[at])
            toothing = side.toothing.get(kind)
            joints.append(0 * at if toothing is None else toothing.joint[at])
        one, other = joints[0][:, None], joints[1][None, :]
        a, b = np.nonzero((one == other) | (one == 0) | (other == 0))
        words = bounds[0][a] + bounds[1][b]
        ok = not_over(words, limit)
        options = np.column_stack([every[0][a[ok]], every[1][b[ok]]])
        return options, words[ok]

    def _met(
        self,
        pair: Pair,
        arms: list[TableOfArms],
        legs: dict[int, _Legs],
        limit: Ints,
        *,
        is_last: bool,
    ) -> tuple[Ints, Ints] | None:
        """Return which arms of a pair may stand side by side, and leave legs out."""
        both = tuple(np.unique(legs[kind].leg) for kind in pair)
        if len(both[0]) * len(both[1]) > MOST_MET:
            return None
        numbers = tuple(
            _Numbered(some[pair], self.sides[at].options(pair[1]))
            for at, some in enumerate(arms)
        )
        found = [np.zeros((4, 0), np.int64)]
        options = legs[pair[0]].of, legs[pair[1]].of
        step = max(AT_ONCE // max(len(both[1]), 1), 1)
        self.spend(len(both[0]) * len(both[1]) // 64)
        for begin in range(0, len(both[0]), step):
            mine = both[0][begin : begin + step]
            which = [
                numbers[at].of(
                    options[0][mine, at, None], options[1][both[1], at][None]
                )
                for at in (0, 1)
            ]
            a, b = np.nonzero((which[0] >= 0) & (which[1] >= 0))
            ends = which[0][a, b], which[1][a, b]
            ok = not_over(
                arms[0][pair].bound[ends[0]] + arms[1][pair].bound[ends[1]], limit
            )
            lines = np.stack([mine[a], both[1][b], *ends])
            found.append(lines[:, ok])
        one, other, left, right = np.concatenate(found, axis=1)
        if pair in self.in_over:
            met = self._sieved(pair, legs, (one, other), limit)
            if is_last:
                ok = np.isin(one * (len(options[1]) + 1) + other, met)
                one, other, left, right = (x[ok] for x in (one, other, left, right))
        for kind, some in zip(pair, (one, other), strict=True):
            legs[kind] = legs[kind].take(np.nonzero(np.isin(legs[kind].leg, some))[0])
        return left, right

    def _sieved(
        self,
        pair: Pair,
        legs: dict[int, _Legs],
        begun: tuple[Ints, Ints],
        limit: Ints,
    ) -> Ints:
        """Leave out courses that lie on none of the other kind; return who meets."""
        courses = tuple(self._whole(kind, legs[kind]) for kind in pair)
        over = [judge for zone, judge in self.judges(pair, *courses) if zone == "over"]
        wide = len(legs[pair[1]].of) + 1
        kept = [np.zeros(len(x.leg), np.bool_) for x in courses]
        met = [np.zeros(0, np.int64)]
        for judge in over:
            sieve = Sieve(judge.at, int(limit[0]), self.spend)
            starts = courses[0].leg, courses[1].leg
            for a, b in sieve.pairs(judge.perpends, starts, begun):
                kept[0][a] = kept[1][b] = True
                met.append(np.unique(starts[0][a] * wide + starts[1][b]))
        for kind, ok in zip(pair, kept, strict=True):
            legs[kind] = legs[kind].take(np.nonzero(ok)[0])
        return np.unique(np.concatenate(met))

    def _whole(self, kind: int, some: _Legs) -> Courses:
        """Return the courses that are left of a kind."""
        return self._laid_out(kind, some.courses, self.both[kind].added[some.courses])


def _beside_leg(arms: TableOfArms, kind: int, option: int) -> TableOfArms:
    """Return the best arms with what one leg hands on, and with what goes with it."""
    some, reached = with_options(arms, kind, np.array([option])), [kind]
    for one in reached:
        for kinds in [x for x in some if one in x]:
            few = some[kinds].first_of_each(BESIDE)
            for other in set(kinds) - set(reached):
                with_them = few.options[:, kinds.index(other)]
                some = with_options({**some, kinds: few}, other, with_them)
                reached.append(other)
    return some


class _Numbered:
    """The arms of one side, found by what they hand on."""

    def __init__(self, arms: Arms, wide: int) -> None:
        codes = arms.options[:, 0] * wide + arms.options[:, -1]
        self.wide, self.order = wide, np.argsort(codes, kind="stable")
        self.codes = codes[self.order]

    def of(self, one: Ints, other: Ints) -> Ints:
        """Return the number of the arms that hand these on; -1 where none do."""
        code = one * self.wide + other
        if not len(self.codes):
            return np.full(code.shape, -1)
        at = np.minimum(np.searchsorted(self.codes, code), len(self.codes) - 1)
        found: Ints = np.where(self.codes[at] == code, self.order[at], -1)
        return found


def _ways(legs: dict[int, _Legs], pair: Pair) -> int:
    """Return how many courses of a pair may meet."""
    return len(legs[pair[0]].courses) * len(legs[pair[1]].courses)
