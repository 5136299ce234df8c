"""Whole courses over an opening, and where their joints stand.

In:  legs and the ways over that go on from them.   Out: `Courses`.
Frame: grid lengths; rows are their own mirror image about half of `about`.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any, TypeAlias

import numpy as np

from shopdraw.masonry.bonding.legs import Rows
from shopdraw.masonry.bonding.over import Over
from shopdraw.masonry.bonding.toothing import kept_of
from shopdraw.masonry.rows.judge import RowSetting
from shopdraw.masonry.rows.laps import Sieve
from shopdraw.masonry.rows.meetings import MeetingJudge, Perpends, joints_of
from shopdraw.masonry.rows.merit import (
    ENDLESS,
    Ints,
    Merit,
    as_tuple,
    first_of,
    joined,
    least_of,
    not_over,
)
from shopdraw.masonry.rows.search import (
    NO_LINKS,
    PAIRS_AT_ONCE,
    Links,
    Pair,
    Tree,
    joined_links,
    priced,
    products,
)
from shopdraw.masonry.rows.tables import Fillings, side_by_side


@dataclass
class Courses:
    """Some of the ways over of one kind, to be paired; sorted by their legs.

    Attributes:
        leg: the filling that each goes on from.
        way: which way over it is; -1 where the kind lies only in the legs.
        words: what each adds to its leg.
        extra: what it adds beyond the least that its leg is known to come to.
        rows, joints: the whole courses, where there are any.
    """

    leg: Ints
    way: Ints
    words: Ints
    extra: Ints
    rows: Fillings | None = None
    joints: Perpends | None = None


def whole_rows(legs: Rows | None, over: Over, which: Ints, about: int) -> Fillings:
    """Return the whole course over the opening, for some ways."""
    new = over.new.take(over.at[which])
    if legs is None:
        return new
    kept = kept_of(legs.table, over.leg[which], over.kept[which])
    return side_by_side([kept, new, kept.mirrored(about)], new.joint)


def perpends_over(
    legs: Rows | None, rows: Fillings, leg: Ints, at: RowSetting, about: int
) -> Perpends:
    """Return the joints of whole courses over the opening.

    Args:
        legs: the leg's fillings.
        rows: the courses.
        leg: which filling each course goes on from.
        at: where they stand.
        about: twice the centre line.
    """
    found = joints_of(rows, at, about)
    if legs is None:
        return found
    kept = np.zeros_like(found.is_there)
    left, right = legs.joints.left[leg], legs.joints.right[leg]
    for column in range(left.shape[1]):
        a, b = left[:, column, None], right[:, column, None]
        kept |= (found.left == a) & (found.right == b)
        kept |= (found.left == about - b) & (found.right == about - a)
    return replace(found, is_kept=kept & found.is_there)


def perpends_of_both(joints: Perpends, about: int) -> Perpends:
    """Return the joints of a leg and of its mirror image, for the head."""
    left = np.concatenate([joints.left, about - joints.right], axis=1)
    right = np.concatenate([joints.right, about - joints.left], axis=1)
    there = np.tile(joints.is_there, (1, 2))
    middle = np.zeros_like(joints.times)
    return replace(
        joints,
        left=left,
        right=right,
        times=np.concatenate([2 * joints.times, middle], axis=1),
        is_there=there,
        is_kept=there,
        is_last=np.zeros_like(there),
    )


Judges: TypeAlias = list[tuple[str, MeetingJudge]]
"""What adds to a pair's price, each with the zone that it is in."""
Faced: TypeAlias = tuple[Ints, Ints, Ints]
"""Pairs of legs, and courses of both kinds that go on from them."""


@dataclass(frozen=True)
class BestCourses:
    """An answer.

    Attributes:
        words: its merit.
        chosen: of each kind, the leg's filling and the way over, by number.
        tie: what it is told apart by from its equals.
    """

    words: Ints
    chosen: Mapping[int, tuple[int, int]]
    tie: tuple[Any, ...]

    @property
    def merit(self) -> Merit:
        """The 24 counts."""
        return merit_of(self.words)

    def better_of(self, other: BestCourses | None) -> BestCourses:
        """Return the better of two; the lesser tie where they are equal."""
        if other is None:
            return self
        mine, theirs = ((tuple(x.words), x.tie) for x in (self, other))
        return other if theirs <= mine else self


FIRST_PAIRS, MORE_PAIRS = 8, 8
"""So many pairs of legs are gone on from at first, then each time so many times as
many."""
SWEPT = 1 << 20
"""More pairs of courses than these are not looked at one by one, but joint by joint."""
NO_END = 1 << 62
"""More work than anything asks for."""


class SpentError(Exception):
    """More would be looked at than may be: the search was not to the end."""


@dataclass
class Paired(ABC):
    """Pairs the courses over an opening that go on from legs that are paired."""

    meetings: list[Pair] = field(init=False)
    work: int = field(init=False, default=NO_END)

    @abstractmethod
    def leg_words(self, kind: int) -> Ints:
        """Return what the legs of a kind count."""

    @abstractmethod
    def courses(self, kind: int, tree: Tree, limit: Ints) -> Courses:
        """Return the ways over that go on from a tree's legs, within the limit."""

    @abstractmethod
    def judges(self, pair: Pair, one: Courses, other: Courses) -> Judges:
        """Return what adds to a pair's price beyond the legs: over, and at the head."""

    @abstractmethod
    def tie(self, kind: int, some: Courses, at: int) -> tuple[object, ...]:
        """Return what equals are told apart by."""

    def spend(self, work: int) -> None:
        """Count what is looked at.

        Raises:
            SpentError: that is more than may be looked at.
        """
        if self.work < work:
            raise SpentError
        self.work -= work

    def best_of(self, tree: Tree, limit: Ints) -> BestCourses | None:
        """Return the best courses over that go on from a tree's legs.

        The best pairs of legs come first. Each answer is a lower limit for the rest.
        """
        pair = max(tree.links, key=lambda x: len(tree.links[x].one), default=None)
        if pair is None:
            return self.pair_courses(tree, limit)
        bound, best, most = tree.pairs(pair), None, FIRST_PAIRS
        left = np.nonzero(not_over(bound, limit))[0]
        while len(left):
            at = first_of(bound[left], most)
            some = {**tree.links, pair: tree.links[pair].take(left[at])}
            found = self.pair_courses(Tree(tree.own, some).within(limit), limit)
            if found is not None:
                best = found.better_of(best)
                limit = best.words
            left = np.delete(left, at)
            left = left[not_over(bound[left], limit)]
            most *= MORE_PAIRS
        return best

    def pair_courses(self, tree: Tree, limit: Ints) -> BestCourses | None:
        """Return the best of the courses over that go on from a tree's legs at once."""
        if tree.is_broken:
            return None
        courses = {kind: self.courses(kind, tree, limit) for kind in tree.own}
        own = {k: self.leg_words(k)[x.leg] + x.words for k, x in courses.items()}
        links = dict[Pair, Links]()
        for pair in sorted(self.meetings, key=lambda x: len(tree.links[x].one)):
            links[pair] = self.pairs(pair, tree, courses, limit)
            if not len(links[pair].one):
                return None
        best = Tree(own, links)
        words = best.least()
        if words[0] >= ENDLESS[0] or not not_over(words[None], limit)[0]:
            return None
        chosen = best.best(lambda kind, at: self.tie(kind, courses[kind], at))
        laid = {
            kind: (int(some.leg[chosen[kind]]), int(some.way[chosen[kind]]))
            for kind, some in courses.items()
        }
        tie = tuple(self.tie(k, x, chosen[k]) for k, x in sorted(courses.items()))
        return BestCourses(words, laid, tie)

    @abstractmethod
    def begins(self, kind: int, legs: Ints) -> Ints:
        """Return by number how the courses begin that go on from some legs."""

    def pairs(
        self, pair: Pair, tree: Tree, courses: dict[int, Courses], limit: Ints
    ) -> Links:
        """Price the pairs of two kinds' courses that go on from a tree's pairs."""
        one, other = courses[pair[0]], courses[pair[1]]
        mine, theirs = (
            np.nonzero(not_over(tree.toward(kind, None)[x.leg] + x.extra, limit))[0]
            for kind, x in zip(pair, (one, other), strict=True)
        )
        facing = _Facing(tree.links[pair], tree.pairs(pair), one, other, mine, theirs)
        judges = self.judges(pair, one, other)
        faced: Iterable[Faced] = facing.every(limit, self.spend)
        over = [judge for zone, judge in judges if zone == "over"]
        if over and facing.many() > SWEPT:
            begin = [partial(self.begins, kind) for kind in pair]
            facing, faced = facing.swept(over[0], begin, limit, self.spend)
        mine, theirs = facing.mine, facing.theirs
        self.spend(len(mine) * len(theirs) // 8)
        prices = tuple(judge.take(mine, theirs) for _, judge in judges)
        found, totals = [NO_LINKS], [NO_LINKS.words]
        for link, a, b in faced:
            least = facing.least(link, a, b)
            kept, price = priced(a, b, least, limit, prices)
            added = facing.links.words[link[kept]] + price
            found.append(Links(mine[a[kept]], theirs[b[kept]], added))
            totals.append(least[kept] + price)
        links, total = joined_links(found), np.concatenate(totals)
        for kind, some, at in zip(
            pair, (one, other), (links.one, links.other), strict=True
        ):
            # What this meeting adds is known of each course where others are priced.
            least = tree.toward(kind, None)[some.leg]
            some.extra = least_of(total, at, len(some.leg)) - least
        return links


@dataclass(frozen=True)
class _Facing:
    """The courses of two kinds that go on from pairs of legs.

    Attributes:
        links: the pairs of legs.
        bound: the least that everything comes to with each.
        one, other: the courses.
        mine, theirs: those of them that are looked at.
    """

    links: Links
    bound: Ints
    one: Courses
    other: Courses
    mine: Ints
    theirs: Ints

    @property
    def legs(self) -> tuple[Ints, Ints]:
        """The legs of the courses that are looked at."""
        return self.one.leg[self.mine], self.other.leg[self.theirs]

    def many(self) -> int:
        """Return how many pairs there are."""
        each = np.ones(len(self.links.one), np.int64)
        for legs, of in zip(self.legs, (self.links.one, self.links.other), strict=True):
            each *= np.searchsorted(legs, of, "right") - np.searchsorted(legs, of)
        return int(each.sum())

    def least(self, link: Ints, a: Ints, b: Ints) -> Ints:
        """Return the least that everything comes to with pairs of courses."""
        extra = self.one.extra[self.mine[a]] + self.other.extra[self.theirs[b]]
        words: Ints = self.bound[link] + extra
        return words

    def every(self, limit: Ints, spend: Callable[[int], None]) -> Iterator[Faced]:
        """Yield all pairs of courses that may be within a limit."""
        legs = self.legs
        for link, a in products(self.links.one, legs[0]):
            words = self.bound[link] + self.one.extra[self.mine[a]]
            ok = not_over(words, limit)
            link, a = link[ok], a[ok]
            spend(len(link))
            for at, b in products(self.links.other[link], legs[1]):
                spend(len(at))
                yield link[at], a[at], b

    def swept(
        self,
        judge: MeetingJudge,
        begin: Sequence[Callable[[Ints], Ints]],
        limit: Ints,
        spend: Callable[[int], None],
    ) -> tuple[_Facing, list[Faced]]:
        """Return the pairs whose laps leave them within a limit, and who is in them.

        Args:
            judge: of the laps.
            begin: how the courses of each kind begin that go on from some legs.
            limit: what a pair may come to.
            spend: told how many are looked at.
        """
        links, legs = self.links, self.legs
        room = int(limit[0] - self.bound[:, 0].min(initial=limit[0]))
        rows = judge.perpends[0].take(self.mine), judge.perpends[1].take(self.theirs)
        begun = np.unique(
            np.stack([begin[0](links.one), begin[1](links.other)]), axis=1
        )
        wide = int(links.other.max(initial=0)) + 1
        code = links.one * wide + links.other
        ranked = np.argsort(code, kind="stable")
        found = [np.zeros((3, 0), np.int64)]
        for a, b in Sieve(judge.at, room, spend).pairs(
            rows, (begin[0](legs[0]), begin[1](legs[1])), (begun[0], begun[1])
        ):
            here = legs[0][a] * wide + legs[1][b]
            place = np.searchsorted(code, here, sorter=ranked)
            link = ranked[np.minimum(place, len(code) - 1)]
            ok = (code[link] == here) & (legs[1][b] < wide)
            link, a, b = link[ok], a[ok], b[ok]
            ok = not_over(self.least(link, a, b), limit)
            found.append(np.stack([link[ok], a[ok], b[ok]]))
        link, a, b = np.concatenate(found, axis=1)
        one, a = np.unique(a, return_inverse=True)
        other, b = np.unique(b, return_inverse=True)
        kept = replace(self, mine=self.mine[one], theirs=self.theirs[other])
        parts = range(0, len(link), PAIRS_AT_ONCE)
        return kept, [
            (link[at : at + PAIRS_AT_ONCE], a[at : at + PAIRS_AT_ONCE],
             b[at : at + PAIRS_AT_ONCE])
            for at in parts
        ]  # fmt: skip


def merit_of(words: Ints) -> Merit:
    """Return words as the 24 counts."""
    return as_tuple(joined(words))
