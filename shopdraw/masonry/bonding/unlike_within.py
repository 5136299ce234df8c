"""The best of some legs of a front whose legs differ, and of what lies over them.

In:  `Arms` of both sides, a limit.   Out: the best within the limit, reported.
Frame: grid lengths, left to right; the right leg is laid mirrored about nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from shopdraw.masonry.bonding.courses import BestCourses, Courses, merit_of
from shopdraw.masonry.bonding.legs import LaidRow, Part, Rows, Solved, filling_of
from shopdraw.masonry.bonding.sides import (
    Arms,
    Side,
    pack_sawn,
    side_by_side_arms,
)
from shopdraw.masonry.bonding.toothing import on_from
from shopdraw.masonry.bonding.unlike_courses import Both, UnlikeCourses
from shopdraw.masonry.rows.merit import (
    NOT_MIRRORED,
    SAWN,
    Ints,
    least_of,
    not_over,
    order,
    pack,
)
from shopdraw.masonry.rows.search import NO_LIMIT, Links, Pair, Tree

CLOSING = 100
"""To close between two legs is so much work."""
MANY = 1 << 18
"""Where two kinds have more arms side by side, the others are looked at first."""
ZONES = "left leg", "right leg"
TableOfArms: TypeAlias = dict[tuple[int, ...], Arms]
Beside: TypeAlias = dict[tuple[int, ...], tuple[Ints, Ints]]
"""By the kinds of arms, which of the left and of the right go together."""


@dataclass(frozen=True)
class LaidOver:
    """Legs side by side with what may lie over them.

    Attributes:
        tree: the legs of each kind, and which may be gone on with.
        links: all of them.
        which: of each link, the arms of both sides.
    """

    tree: Tree
    links: Mapping[Pair, Links]
    which: Mapping[Pair, Ints]


@dataclass
class UnlikeWithin(UnlikeCourses):
    """The search of some arms of both sides, to the end."""

    def _within(
        self, arms: list[TableOfArms], limit: Ints, beside: Beside | None = None
    ) -> BestCourses | None:
        """Return the best of some arms within a limit.

        Args:
            arms: of both sides.
            limit: what is come to.
            beside: which of them go together; if not given, that is found.
        """
        laid = self._laid_over(arms, self.meetings, limit, beside)
        if laid is None:
            return None
        found = self.best_of(laid.tree, limit)
        if found is not None:
            self.solved = self._report(found, arms, laid.links, laid.which)
        return found

    def _left_by_few(self, arms: list[TableOfArms], limit: Ints) -> list[TableOfArms]:
        """Return the arms that are left by the meetings that have the fewest.

        These are looked at by themselves first, where others have too many.
        """
        many = {kinds: len(x) * len(arms[1][kinds]) for kinds, x in arms[0].items()}
        if max(many.values()) < MANY:
            return arms
        for kinds in sorted(many, key=lambda x: many[x])[:-1]:
            others = [x for side in self.sides for x in _least_of_others(side, kinds)]
            within = limit - sum(others, 0 * limit)
            some = [{kinds: side[kinds]} for side in arms]
            pairs = [x for x in self.meetings if x == kinds]
            laid = self._laid_over(some, pairs, within)
            if laid is None:
                none = np.zeros(0, np.int64)
                return [{k: x.take(none) for k, x in side.items()} for side in arms]
            courses = {k: self.courses(k, laid.tree, within) for k in kinds}
            if pairs:
                links = self.pairs(pairs[0], laid.tree, courses, within)
                ends = links.one, links.other
                legs = [courses[k].leg[x] for k, x in zip(kinds, ends, strict=True)]
            else:
                legs = [courses[kinds[0]].leg]
            for kind, some_legs in zip(kinds, legs, strict=True):
                options = self.both[kind].options[some_legs]
                arms = [
                    with_options(side, kind, options[:, at])
                    for at, side in enumerate(arms)
                ]
        return arms

    def _laid_over(
        self,
        arms: list[TableOfArms],
        meetings: list[Pair],
        limit: Ints,
        beside: Beside | None = None,
    ) -> LaidOver | None:
        """Lay what may lie over some arms, and see which of them may be gone on with.

        Returns:
            None where nothing is within the limit.
        """
        beside = beside or {}
        for kinds in arms[0]:
            if kinds not in beside:
                one, other = (some[kinds] for some in arms)
                beside[kinds] = side_by_side_arms(one, other, limit, self.spend)
            if not len(beside[kinds][0]):
                return None
        both, links, which = self._side_by_side(arms, beside, meetings)
        own = {kind: x.words for kind, x in both.items()}
        tree = Tree(own, links)
        for kind, some in both.items():
            self._close(kind, some, tree.toward(kind, None), limit)
        bound = {kind: x.words + x.least for kind, x in both.items()}
        tree = Tree(bound, links).within(limit)
        if tree.is_broken:
            return None
        self.both = both
        return LaidOver(tree, links, which)

    def _side_by_side(
        self,
        arms: list[TableOfArms],
        beside: Beside,
        meetings: list[Pair],
    ) -> tuple[dict[int, Both], dict[Pair, Links], dict[Pair, Ints]]:
        """Return the legs of each kind side by side, and which of them meet."""
        codes = dict[tuple[tuple[int, ...], int], Ints]()
        every = dict[int, Ints]()
        for kinds, (one, other) in beside.items():
            for column, kind in enumerate(kinds):
                wide = self.sides[1].options(kind)
                code = arms[0][kinds].options[one, column] * wide
                code = code + arms[1][kinds].options[other, column]
                codes[kinds, kind] = code
                seen = np.unique(code)
                every[kind] = np.intersect1d(every.get(kind, seen), seen)
        both = {kind: self._both(kind, some) for kind, some in every.items()}
        links, which = dict[Pair, Links](), dict[Pair, Ints]()
        for pair in meetings:
            one, other = beside[pair]
            ok = np.isin(codes[pair, pair[0]], every[pair[0]])
            ok &= np.isin(codes[pair, pair[1]], every[pair[1]])
            one, other = one[ok], other[ok]
            legs = [np.searchsorted(every[k], codes[pair, k][ok]) for k in pair]
            words = arms[0][pair].words[one] + arms[1][pair].words[other]
            links[pair] = Links(legs[0], legs[1], words)
            which[pair] = np.stack([one, other])
        return both, links, which

    def _both(self, kind: int, codes: Ints) -> Both:
        options = np.column_stack(np.divmod(codes, self.sides[1].options(kind)))
        words = sum(
            side.option_words(kind)[options[:, at]]
            for at, side in enumerate(self.sides)
        )
        if self.front.is_mirrored and kind == min(self.sides[0].words):
            flat = np.ones(len(words), np.int64)
            words = words + pack({NOT_MIRRORED: flat}, len(words))
        every = np.arange(len(codes))
        none = np.zeros((len(codes), len(NO_LIMIT)), np.int64)
        return Both(options, words, every, every * 0 - 1, none, none)

    def _close(self, kind: int, both: Both, bound: Ints, limit: Ints) -> None:
        """Lay what may lie over a kind's legs, within a limit."""
        closer, legs = self.closers.get(kind), np.nonzero(not_over(bound, limit))[0]
        if closer is None:
            both.leg, both.way = legs, legs * 0 - 1
            both.added = both.added[legs]
            return
        if isinstance(closer, Rows):
            courses = self.front.over_kinds.count(kind)
            words = pack_sawn(closer, courses)
            leg, way = np.zeros(len(words), np.int64), np.arange(len(words))
        else:
            leg, options = legs, both.options[legs]
            one, other = (
                some.group[options[:, at]] for at, some in enumerate(closer.sides)
            )
            self.spend(len(leg) + CLOSING * closer.new(one, other))
            closer.close(one, other)
            every = closer.every()
            at, way = on_from(
                closer.codes(one, other), closer.codes(every.one, every.other)
            )
            leg, words = leg[at], every.words[way]
        ok = not_over(bound[leg] + words, limit)
        both.leg, both.way, both.added = leg[ok], way[ok], words[ok]
        both.least = least_of(both.added, both.leg, len(both.words))

    def _report(
        self,
        found: BestCourses,
        arms: list[TableOfArms],
        links: Mapping[Pair, Links],
        which: Mapping[Pair, Ints],
    ) -> Solved:
        """Return an answer's rows, and what each row and meeting adds."""
        zones: dict[str, dict[int, LaidRow]] = {}
        parts, courses = list[Part](), dict[int, Courses]()
        fillings = self.laid = self._fillings(found, arms, links, which)
        for kind, (leg, way) in found.chosen.items():
            pattern, both = self.sizes.bond.rows[kind].pattern, self.both[kind]
            for zone, side, filling in zip(
                ZONES, self.sides, fillings.get(kind, ()), strict=False
            ):
                table = side.rows[kind].table.take(np.array([filling]))
                table = table if zone == ZONES[0] else table.mirrored(0)
                zones.setdefault(zone, {})[kind] = filling_of(
                    table, 0, self.sizes, pattern
                )
                parts.append(
                    Part(zone, (kind,), merit_of(side.rows[kind].words[filling]))
                )
            at = np.nonzero((both.leg == leg) & (both.way == way))[0]
            left, right = np.array(fillings.get(kind, (0, 0)))[:, None]
            course = self._laid_out(kind, at, both.added[at], (left, right))
            courses[kind] = course
            if course.rows is not None:
                zones.setdefault("over", {})[kind] = filling_of(
                    course.rows, 0, self.sizes, pattern
                )
                parts.append(Part("over", (kind,), merit_of(course.words[0] + _ROOM)))
        parts += self._meeting_parts(courses, fillings)
        if self.front.is_mirrored:
            parts.append(Part("front", (), merit_of(_NOT_MIRRORED)))
        return Solved(zones, tuple(parts), found.merit, searched_all=True)

    def _fillings(
        self,
        found: BestCourses,
        arms: list[TableOfArms],
        links: Mapping[Pair, Links],
        which: Mapping[Pair, Ints],
    ) -> dict[int, tuple[int, int]]:
        """Return the fillings of both legs, by kind."""
        chosen = dict[int, list[int]]()
        for kinds in arms[0]:
            legs = [found.chosen[kind][0] for kind in kinds]
            pair = kinds[0], kinds[-1]
            if pair in links:
                some = links[pair]
                at = np.nonzero((some.one == legs[0]) & (some.other == legs[1]))[0][0]
                of = which[pair][:, at].tolist()
            else:
                options = self.both[kinds[0]].options[legs[0]]
                of = [
                    int(np.nonzero(x[kinds].options[:, 0] == c)[0][0])
                    for x, c in zip(arms, options, strict=True)
                ]
            for side, some_arms in enumerate(arms):
                for kind, filling in zip(
                    kinds, some_arms[kinds].fillings[of[side]], strict=True
                ):
                    if kind in self.sides[side].rows:
                        chosen.setdefault(kind, [0, 0])[side] = int(filling)
        return {kind: (x[0], x[1]) for kind, x in chosen.items()}

    def _meeting_parts(
        self, courses: dict[int, Courses], fillings: dict[int, tuple[int, int]]
    ) -> list[Part]:
        parts, first = list[Part](), np.zeros(1, np.int64)
        for pair in self.meetings:
            for at, (zone, side) in enumerate(zip(ZONES, self.sides, strict=True)):
                for price in side.prices[pair]:
                    one, other = (np.array([fillings[kind][at]]) for kind in pair)
                    parts.append(Part(zone, pair, merit_of(price(one, other)[0])))
            for zone, judge in self.judges(pair, courses[pair[0]], courses[pair[1]]):
                parts.append(Part(zone, pair, merit_of(judge(first, first)[0])))
        return parts


def _least_of_others(side: Side, kinds: tuple[int, ...]) -> Iterator[Ints]:
    """Yield the least that the kinds of a side come to, but some."""
    for kind in side.words:
        if kind not in kinds:
            words = side.option_words(kind)
            yield words[order(words)[0]]


def with_options(some: TableOfArms, kind: int, options: Ints) -> TableOfArms:
    """Return the arms in which a kind hands on one of some options."""
    return {
        kinds: x.take(np.nonzero(np.isin(x.options[:, kinds.index(kind)], options))[0])
        if kind in kinds
        else x
        for kinds, x in some.items()
    }


_ROOM = pack({SAWN: np.array([16384])}, 1)[0]
"""The sawn pieces that a leg loses may be more than what lies over it has."""
_NOT_MIRRORED = pack({NOT_MIRRORED: np.ones(1, np.int64)}, 1)[0]
