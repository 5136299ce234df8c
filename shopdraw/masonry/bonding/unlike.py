"""Solve a front whose legs differ: both legs, and the courses between them over.

In:  `Front`, `Sizes`.   Out: the best, searched to the end where the work allows.
Frame: grid lengths, left to right; the right leg is laid mirrored about nothing.

The legs that are best by themselves, and a few more, are closed over first. Then less
is asked for, and one part is searched beside the rest as found, as long as that helps.
What was come to is the limit for all others. What is looked at is counted: where it is
more than may be, the best that was found is the answer, and it says that not all was
searched.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import isqrt
from typing import TypeAlias

import numpy as np

from shopdraw.masonry.bonding.courses import BestCourses, SpentError
from shopdraw.masonry.bonding.sides import Arms
from shopdraw.masonry.bonding.unlike_whole import UnlikeWhole
from shopdraw.masonry.bonding.unlike_within import TableOfArms
from shopdraw.masonry.rows.bonds import each_kind
from shopdraw.masonry.rows.merit import (
    ENDLESS,
    FAILS,
    LEVELS,
    Ints,
    as_tuple,
    joined,
    order,
    with_at_most,
)
from shopdraw.masonry.rows.search import NO_LIMIT

FIRST = (24, 48), (96, 240), (96, 1200)
"""So many fillings of each leg are tried first, and so many pairs of these: each time
within what was found before."""
SOME, MORE = (16, 64), (256, 1024, 4096)
"""So many pairs of legs are tried where less is asked for than was found: a few, then
more of those that are left by the kinds that meet in few ways."""
ASKING, INSISTING, TURNING = 8, 2, 4
"""To ask once takes this share of the work that is left, or that one where what was
found breaks a rule; to search one part, the last."""
LITTLE = 12
"""To look at all at once takes this share of the work, or is left."""
PATIENT = 5_000_000
"""With less work than this, whole courses are not held against each other."""
TO_THE_END = 20_000_000
"""No more work than this is for all that is left."""
SOME_ARMS = 1000
"""Then so many pairs of legs, where there are more."""
PAIRS = 64
"""So many pairs of fillings are looked at for one piece of work."""
SMALL = 50_000_000
"""So many pairs of fillings in both legs are no more than a search can begin with;
twice as many where what was found breaks a rule."""


@dataclass
class Unlike(UnlikeWhole):
    """The search of one front whose legs are not each other's mirror image."""

    def solve(self, limit: Ints = NO_LIMIT) -> BestCourses | None:
        """Return the best; None where nothing is as good as the limit."""
        kinds = each_kind((*self.front.leg_kinds, *self.front.over_kinds))
        found = self._search(kinds, limit)
        if found is None and limit[0] >= NO_LIMIT[0]:
            # A kind that can't be laid of pieces long enough is laid of any.
            lacking = {x for x in kinds if self._search([x], limit) is None}
            self.from_a_step |= lacking
            found = self._search(kinds, limit) if lacking else None
        return found

    def _search(self, kinds: list[int], limit: Ints) -> BestCourses | None:
        """Return the best of some kinds by themselves."""
        if not self._set_up(kinds):
            return None
        best, spared = None, 0
        try:
            best = self._first(limit) if limit[0] >= NO_LIMIT[0] else None
            is_done, best = self._at_once(best)
            if is_done:
                return best
            before = self.work
            best = self._bettered(best, limit)
            # To look at all that is left has work of its own.
            spared = max(before - TO_THE_END, 0)
            self.work = before - spared
            limit = limit if best is None else best.words
            arms = self._every_arm(limit)
            if arms is None:
                return best
            if any(len(x) > SOME_ARMS for some in arms for x in some.values()):
                best = self._try(_first_of(arms, SOME_ARMS), limit) or best
                limit = limit if best is None else best.words
                arms = _beside_within(arms, limit)
            return self._within(arms, limit) or best
        except SpentError:
            self.searched_all = False
        finally:
            self.work += spared
        return best

    def _first(self, limit: Ints) -> BestCourses | None:
        """Return the best of the legs that are best by themselves, and a few more."""
        alone = [side.best() for side in self.sides]
        best = None
        for count, most in FIRST:
            arms, facing = list[TableOfArms](), dict[int, Ints]()
            for side, itself in zip(self.sides[::-1], alone[::-1], strict=True):
                few = side.few({} if itself is None else itself.chosen, count)
                some = side.arms(side.with_joints(few, facing), limit)
                if some is None:
                    return best
                arms.append({k: x.first_of_each(most) for k, x in some.items()})
                facing = self._facing(some)
            found = self._try(arms[::-1], limit)
            if found is not None:
                best, limit = found, found.words
        return best

    def _at_once(self, best: BestCourses | None) -> tuple[bool, BestCourses | None]:
        """Look at all that is no worse than the best, if that is little."""
        if best is None or not self._is_small(best.words):
            return False, best
        arms = self._arms_of([side.words for side in self.sides], best.words)
        if arms is None:
            return True, best
        arms = _beside_within(arms, best.words)
        before, part = self.work, self.work // LITTLE
        self.work = part
        try:
            found = self._within(arms, best.words)
        except SpentError:
            self.work += before - part
            return False, self._leg_by_leg(arms, best.words) or best
        self.work += before - part
        is_every = not any(side.is_cut_short for side in self.sides)
        return is_every, found or best

    def _bettered(self, best: BestCourses | None, limit: Ints) -> BestCourses | None:
        """Return what is better than what was found, as long as something is."""
        while True:
            is_asked = best is not None or limit[0] < NO_LIMIT[0]
            words = limit if best is None else best.words
            if is_asked and self._is_small(words):
                best = narrowed(best, limit, self._some_within)
            found = None if best is None else self._in_turn(best)
            if found is None:
                return best
            best = found

    def _in_turn(self, best: BestCourses) -> BestCourses | None:
        """Return what is better in one part than what was found, beside the rest."""
        every = set(self.sides[0].words)
        parts = [(every, set()), (set(), every)]
        if len(every) > 2:
            parts += [(set(x), set(x)) for x in self.meetings]
        for part in parts:
            found = self._beside_found(part, best.words)
            if found is not None and (found.words != best.words).any():
                return found
        return None

    def _some_within(self, limit: Ints) -> tuple[BestCourses | None, bool]:
        """Return something within a limit, or whether it is sure there is nothing."""
        arms = self._arms_of([side.words for side in self.sides], limit)
        is_every = not any(side.is_cut_short for side in self.sides)
        if arms is None:
            return None, is_every
        arms = _beside_within(arms, limit)
        before = self.work
        insists = any(as_tuple(joined(limit))[:FAILS])
        self.work = part = before // (INSISTING if insists else ASKING)
        is_patient = insists and part >= PATIENT
        try:
            found, is_none = self._among(arms, limit, SOME)
            if found is not None or is_none:
                return found, is_none and is_every
            found = self._leg_by_leg(arms, limit) if insists else None
            if found is not None:
                return found, False
            beside = self._held_whole(arms, limit) if is_patient else None
            if beside is not None:
                found = self._within(arms, limit, beside)
                return found, found is None and is_every
            for some in _hand_by_hand(arms):
                left = self._left_by_few(some, limit)
                found, is_none = self._among(left, limit, MORE)
                if found is not None:
                    return found, False
                is_every &= is_none
            return None, is_every
        except SpentError:
            pass
        finally:
            self.work += before - part
        return None, False

    def _among(
        self, arms: list[TableOfArms], limit: Ints, counts: tuple[int, ...]
    ) -> tuple[BestCourses | None, bool]:
        """Return something among the best arms, or whether all were looked at."""
        many = max(len(x) for some in arms for x in some.values())
        for most in counts:
            if not all(len(x) for some in arms for x in some.values()):
                return None, True
            found = self._within(_first_of(arms, most), limit)
            if found is not None or most >= many:
                return found, found is None
        return None, False

    def _beside_found(
        self, free: tuple[set[int], set[int]], limit: Ints
    ) -> BestCourses | None:
        """Return the best ways of some kinds of each side, beside what was found."""
        own = [
            side.only({k: x[at] for k, x in self.laid.items() if k not in free[at]})
            for at, side in enumerate(self.sides)
        ]
        arms = self._arms_of(own, limit)
        return None if arms is None else self._try(arms, limit, TURNING)

    def _every_arm(self, limit: Ints) -> list[TableOfArms] | None:
        """Return all arms of both sides that may be within a limit."""
        left, right = self.sides
        every = [side.words for side in self.sides]
        meeting = (left.work + right.work) // PAIRS
        if meeting > self.work // 2:
            # Not all can be looked at: the best by themselves are.
            self.searched_all = False
            few = isqrt(max(self.work, 0) * PAIRS // max(len(self.meetings), 1) // 4)
            every = [side.best_few(few) for side in self.sides]
        self.spend(min(meeting, max(self.work, 1) // 2))
        arms = self._arms_of(every, limit)
        self.searched_all &= not (left.is_cut_short or right.is_cut_short)
        return None if arms is None else _beside_within(arms, limit)

    def _arms_of(
        self, own: list[dict[int, Ints]], limit: Ints
    ) -> list[TableOfArms] | None:
        """Return the arms of both sides that may be within a limit, of some words."""
        for side in self.sides:
            side.is_cut_short = False
        # The side with fewer fillings comes first: what its legs cost where they meet
        # leaves the other so much less, before its arms are cut short.
        first = min((0, 1), key=lambda at: sum(map(_count, own[at].values())))
        side, other = self.sides[first], self.sides[1 - first]
        least = sum((x[order(x)[0]] for x in own[1 - first].values()), 0 * limit)
        some = side.arms(own[first], limit - least)
        if some is None or not all(map(len, some.values())):
            return None
        facing = other.with_joints(own[1 - first], self._facing(some))
        least = max((x.least for x in some.values()), key=tuple)
        others = other.arms(facing, limit - least)
        if others is None or not all(map(len, others.values())):
            return None
        return [some, others] if first == 0 else [others, some]

    def _is_small(self, words: Ints) -> bool:
        """Whether the first legs are worth their work where an answer is known."""
        most = SMALL * (2 if any(as_tuple(joined(words))[:FAILS]) else 1)
        return sum(side.work for side in self.sides) < most

    def _facing(self, arms: TableOfArms) -> dict[int, Ints]:
        """Return the joints that arms hand on, by kind."""
        facing = dict[int, Ints]()
        for kinds, some in arms.items():
            for column, kind in enumerate(kinds):
                if kind in self.front.over_kinds:
                    facing[kind] = np.unique(some.joints[:, column])
        return facing


def _count(words: Ints) -> int:
    """Return how many fillings count."""
    return int((words[:, 0] < ENDLESS[0]).sum())


def _first_of(arms: list[TableOfArms], most: int) -> list[TableOfArms]:
    """Return the first so many of arms."""
    return [
        {kinds: x.take(np.arange(min(len(x), most))) for kinds, x in some.items()}
        for some in arms
    ]


def _hand_by_hand(arms: list[TableOfArms]) -> Iterator[list[TableOfArms]]:
    """Yield the arms of both sides by the joints of two kinds that meet in few ways."""
    kinds = min(arms[0], key=lambda x: len(arms[0][x]) * len(arms[1][x]))
    hands, first = np.unique(arms[0][kinds].joints, axis=0, return_index=True)
    for hand in hands[np.argsort(first)]:
        yield [_with_hand(x, kinds, hand, goes=at) for at, x in enumerate(arms)]


def _with_hand(
    arms: TableOfArms, kinds: tuple[int, ...], hand: Ints, *, goes: int
) -> TableOfArms:
    """Return the arms in which some kinds have some joints, or go with them."""
    found = dict[tuple[int, ...], Arms]()
    for those, some in arms.items():
        ok = np.ones(len(some), np.bool_)
        for kind, joint in zip(kinds, hand, strict=True):
            if kind in those:
                mine = some.joints[:, those.index(kind)]
                ok &= (mine == joint) | (bool(goes) & ((mine == 0) | (joint == 0)))
        found[those] = some.take(np.nonzero(ok)[0])
    return found


def _beside_within(arms: list[TableOfArms], limit: Ints) -> list[TableOfArms]:
    """Return the arms of both sides that may be within a limit."""
    return [
        {kinds: x.within(limit - other[kinds].least) for kinds, x in some.items()}
        for some, other in (arms, arms[::-1])
    ]


Ask: TypeAlias = Callable[[Ints], tuple[BestCourses | None, bool]]
"""Told a limit; returns something within it, or whether it is sure that there is
nothing."""


def narrowed(best: BestCourses | None, limit: Ints, ask: Ask) -> BestCourses | None:
    """Return the best that is had by asking, up to a level that is left undecided.

    Less of what is given up is asked for, level by level. Little is within such a
    limit, and most of it is ruled out before anything is laid: so that an answer is
    found, or that there is none, is found soon.

    Args:
        best: what was found; where nothing was, the limit is asked to be bettered.
        limit: what may be come to.
        ask: who is asked.
    """
    words = limit if best is None else best.words
    for level in LEVELS:
        found, is_decided = _with_least(level.number, words, ask)
        if found is not None:
            best, words = found, found.words
        if not is_decided:
            break
    return best


def _with_least(number: int, words: Ints, ask: Ask) -> tuple[BestCourses | None, bool]:
    """Return what is had with less at one level, and whether less is ruled out."""
    best, least = None, 0
    while least < (have := as_tuple(joined(words))[number - 1]):
        found = None
        for most in dict.fromkeys((least, (least + have) // 2, have - 1)):
            if not least <= most < have:
                continue  # Ruled out by what was asked before.
            found, is_none = ask(with_at_most(words, number, most))
            if found is not None:
                best, words = found, found.words
                break
            least = most + 1 if is_none else least
        if found is None and least < have:
            return best, False
    return best, True
