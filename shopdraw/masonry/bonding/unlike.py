"""Solve a front whose legs differ: both legs, and the courses between them over.

In:  `Front`, `Sizes`.   Out: the best, searched to the end where the work allows.
Frame: grid lengths, left to right; the right leg is laid mirrored about nothing.

The legs that are best by themselves, and a few more, are closed over first. Then the
limit rises step by step, until something is found that is no worse. What is looked at
is counted: where it is more than may be, the best that was found is the answer, and it
says that not all was searched.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from math import isqrt
from typing import TypeAlias

import numpy as np

from shopdraw.masonry.bonding.between import Closer
from shopdraw.masonry.bonding.courses import (
    NO_END,
    Courses,
    Found,
    Judges,
    Paired,
    SpentError,
    merit_of,
)
from shopdraw.masonry.bonding.faces import LaidRow, Part, Solved, filling_of, joints_key
from shopdraw.masonry.bonding.front import Front, head_of
from shopdraw.masonry.bonding.legs import (
    LegSpan,
    Rows,
    Width,
    fill_stretch,
    judged,
)
from shopdraw.masonry.bonding.search import (
    NO_LIMIT,
    Links,
    Pair,
    Price,
    Tree,
    rising_limits,
)
from shopdraw.masonry.bonding.sides import (
    NO_LEG,
    Arms,
    Side,
    pack_sawn,
    side_by_side_arms,
)
from shopdraw.masonry.bonding.toothing import on_from, sure_joints, toothing_of
from shopdraw.masonry.rows.judge import RowSetting
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge, Perpends, joints_of
from shopdraw.masonry.rows.merit import (
    NOT_MIRRORED,
    SAWN,
    Ints,
    least_of,
    not_over,
    order,
    pack,
)
from shopdraw.masonry.rows.sizes import Sizes

CLOSING = 100
"""To close between two legs is so much work."""
FIRST_ARMS = 1200, 240, 48
"""So many pairs of legs are tried first, or fewer where these are too much work."""
FIRST_WORK = 500_000
"""So much work they may be."""
ZONES = "left leg", "right leg"
TableOfArms: TypeAlias = dict[tuple[int, ...], Arms]


@dataclass
class Both:
    """The legs of one kind on both sides, and what may lie over them.

    Attributes:
        options: of each two legs that may stand side by side, what they hand on.
        words: what they count.
        leg, way: of each course over the opening, which legs it goes on from, and
            which closing it is.
        added: what each adds to its legs.
        least: the least that is added to each two legs.
    """

    options: Ints
    words: Ints
    leg: Ints
    way: Ints
    added: Ints
    least: Ints


@dataclass
class Unlike(Paired):
    """The search of one front whose legs are not each other's mirror image.

    Attributes:
        sizes, front: what is laid where.
        width: how wide the search is.
        most_work: how much may be looked at.
        searched_all: whether the last search was to the end.
    """

    sizes: Sizes
    front: Front
    width: Width
    most_work: int
    searched_all: bool = True
    from_a_step: set[int] = field(default_factory=set)
    solved: Solved | None = None

    def __post_init__(self) -> None:
        bond, front = self.sizes.bond, self.front
        self.work = self.most_work
        self.in_legs = set(bond.meetings(front.leg_kinds))
        self.in_over = set(bond.meetings(front.over_kinds))
        self.head = head_of(front)

    def solve(self, limit: Ints = NO_LIMIT) -> Found | None:
        """Return the best; None where nothing is as good as the limit."""
        kinds = sorted({*self.front.leg_kinds, *self.front.over_kinds})
        found = self._search(kinds, limit)
        if found is None and limit[0] >= NO_LIMIT[0]:
            # A kind that can't be laid of pieces long enough is laid of any.
            lacking = {x for x in kinds if self._search([x], limit) is None}
            self.from_a_step |= lacking
            found = self._search(kinds, limit) if lacking else None
        return found

    def _search(self, kinds: list[int], limit: Ints) -> Found | None:
        """Return the best of some kinds by themselves."""
        if not self._set_up(kinds):
            return None
        best = None
        try:
            best = self._first(limit)
            limit = limit if best is None else best.words
            return self._rising(limit) or best
        except SpentError:
            self.searched_all = False
            return best

    def _set_up(self, kinds: list[int]) -> bool:
        """Lay the legs; say whether every kind has some."""
        head = (
            {(min(self.head), max(self.head))} if self.head else set[tuple[int, int]]()
        )
        every = self.in_legs | self.in_over | head
        self.meetings = sorted(x for x in every if set(x) <= set(kinds))
        spans = self.front.left_leg, self.front.right_leg
        self.sides = [self._side(span, kinds) for span in spans]
        self._add_what_is_sure()
        self.closers = {k: self._closer(k) for k in kinds if k in self.front.over_kinds}
        return all(len(x) for side in self.sides for x in side.words.values())

    def _add_what_is_sure(self) -> None:
        """Let each side know what is sure to lie beside it, over the opening."""
        front, brick = self.front, self.sizes.brick
        longest = max(brick.unit, brick.long) + self.sizes.joints.most
        if front.jambs[1] - front.jambs[0] <= 2 * longest:
            # What lies beside one leg may be what lies beside the other.
            return
        for at, side in enumerate(self.sides):
            for pair in self.in_legs & set(self.meetings):
                if not set(pair) <= set(front.over_kinds):
                    continue
                side.sure[pair] = tuple(self._sure(side, pair, is_left=at == 0))

    def _sure(self, side: Side, pair: Pair, *, is_left: bool) -> Iterator[Price]:
        at = Meeting(self.sizes, pair, side.span.width, skips=True, is_part=True)
        joints = {k: sure_joints(side.rows[k], side.toothing[k]) for k in pair}
        if not is_left:
            # How the head joints differ is judged at the left.
            joints = {k: replace(x, joint=0 * x.joint) for k, x in joints.items()}
        if pair in self.in_over:
            yield MeetingJudge(joints[pair[0]], joints[pair[1]], at)
        if self.head and set(self.head) == set(pair):
            below, some = self.head[0], side.toothing[self.head[0]]
            legs = side.rows[below].joints.take(some.first_of[some.owner])
            joints[below] = replace(legs, is_kept=legs.is_there)
            at = replace(at, at_head=True)
            yield MeetingJudge(joints[pair[0]], joints[pair[1]], at)

    def _side(self, span: LegSpan, kinds: list[int]) -> Side:
        rows, words, toothing = {}, dict.fromkeys(kinds, NO_LEG), {}
        for kind in kinds:
            if kind not in self.front.leg_kinds:
                continue
            least = self.sizes.joints.step if kind in self.from_a_step else 0
            rows[kind] = fill_stretch(self.sizes, span, kind, self.width, least)
            over = self.front.over_kinds.count(kind)
            courses = self.front.leg_kinds.count(kind) + over
            words[kind] = pack_sawn(rows[kind], courses)
            meets = [pair for pair in self.meetings if kind in pair]
            toothing[kind] = toothing_of(
                rows[kind], self._reach(meets), goes_on=over > 0,
                by_class=len(meets) < 2,
            )  # fmt: skip
        return Side(self.sizes, span, rows, toothing, words, self.meetings)

    def _reach(self, meets: list[Pair]) -> int | None:
        """Return how far from the jamb a joint matters over the opening."""
        sizes, reach = self.sizes, 0
        for pair in meets:
            if pair not in self.in_legs:
                return None
            nearest, farthest = sizes.lap_range(*pair)
            laps = max(12 * sizes.least_lap(*pair), nearest, farthest or 0) // 12 + 1
            reach = max(reach, laps + sizes.joints.most)
            if any(sizes.bond.rows[x].has_headers for x in pair):
                # The first new piece need not reach the jamb.
                longest = max(sizes.brick.unit, sizes.brick.long)
                reach = max(reach, laps + 2 * (longest + sizes.joints.most))
        return reach

    def _closer(self, kind: int) -> Closer | Rows:
        """Return what closes a kind's courses, or the courses that no leg has."""
        if kind not in self.front.leg_kinds:
            return self._alone(kind)
        legs, sides = (
            tuple(getattr(side, name)[kind] for side in self.sides)
            for name in ("rows", "toothing")
        )
        return Closer(
            self.sizes, self.sizes.bond.rows[kind], (legs[0], legs[1]),
            (sides[0], sides[1]), self.front.jambs, self.front.over_kinds.count(kind),
            self.width.cuts,
        )  # fmt: skip

    def _alone(self, kind: int) -> Rows:
        """Return the courses over the opening of a kind that no leg has."""
        front, least = self.front, 0
        if kind in self.from_a_step:
            least = self.sizes.joints.step
        # Both ends are outside corners, not jambs.
        bond = self.sizes.bond
        rows = tuple(replace(x, at_jamb=x.leg) for x in bond.rows)
        sizes = replace(self.sizes, bond=replace(bond, rows=rows))
        near, far = front.ends
        if near == "free" and far == "corner":
            span = LegSpan(-front.right, -front.left, "corner", "free", ())
            found = fill_stretch(sizes, span, kind, self.width, least)
            table = found.table.mirrored(0)
        else:
            at_end = "turned" if far == "corner" else "free"
            span = LegSpan(front.left, front.right, near, at_end, ())
            table = fill_stretch(sizes, span, kind, self.width, least).table
        leg = sizes.brick.leg(bond.rows[kind].leg)
        at = RowSetting(self.sizes, bond.rows[kind], front.ends, (leg, leg), False)
        return judged(table, at)

    def _first(self, limit: Ints) -> Found | None:
        """Return the best of the legs that are best by themselves, and a few more."""
        arms, facing = list[TableOfArms](), dict[int, Ints]()
        for side in self.sides[::-1]:
            best = side.best() if limit[0] >= NO_LIMIT[0] else None
            few = side.few({} if best is None else best[1])
            some = side.arms(side.with_joints(few, facing), NO_LIMIT)
            if some is None:
                return None
            arms.append(some)
            facing = self._facing(some)
        return self._first_within(arms[::-1], limit)

    def _first_within(self, arms: list[TableOfArms], limit: Ints) -> Found | None:
        """Return the best of the first of some arms, as many as the work allows."""
        work, found = self.work, None
        for most in FIRST_ARMS:
            # An answer there must be, whatever the work.
            self.work = FIRST_WORK if most > FIRST_ARMS[-1] else NO_END
            some = [{k: x.first_of_each(most) for k, x in y.items()} for y in arms]
            try:
                found = self._within(some, limit)
                break
            except SpentError:
                continue
        self.work = work - FIRST_WORK // 2
        return found

    def _rising(self, limit: Ints) -> Found | None:
        """Return the best within a limit that rises."""
        arms = self._every_arm(limit)
        if arms is None:
            return None
        widest = max(arms[0], key=lambda x: len(arms[0][x]))
        bounds = {at: some[widest].bound for at, some in enumerate(arms)}
        for most in rising_limits(bounds, limit):
            found = self._within(arms, most)
            if found is not None:
                return found
        return None

    def _every_arm(self, limit: Ints) -> list[TableOfArms] | None:
        """Return all arms of both sides that may be within a limit."""
        left, right = self.sides
        every = [side.words for side in self.sides]
        if (left.work + right.work) // 4 > self.work // 2:
            # Not all can be looked at: the best by themselves are.
            self.searched_all = False
            few = isqrt(max(self.work, 0) // max(len(self.meetings), 1))
            every = [side.best_few(few) for side in self.sides]
        self.spend(min((left.work + right.work) // 4, max(self.work, 1) // 2))
        least = sum((x[order(x)[0]] for x in every[0].values()), 0 * limit)
        others = right.arms(every[1], limit - least)
        if others is None or not all(map(len, others.values())):
            return None
        facing = self._facing(others)
        least = max((x.least for x in others.values()), key=tuple)
        mine = left.arms(left.with_joints(every[0], facing), limit - least)
        if mine is None or not all(map(len, mine.values())):
            return None
        self.searched_all &= not (left.is_cut_short or right.is_cut_short)
        return [mine, {k: x.within(limit - mine[k].least) for k, x in others.items()}]

    def _facing(self, arms: TableOfArms) -> dict[int, Ints]:
        """Return the joints that arms hand on, by kind."""
        facing = dict[int, Ints]()
        for kinds, some in arms.items():
            for column, kind in enumerate(kinds):
                if kind in self.front.over_kinds:
                    facing[kind] = np.unique(some.joints[:, column])
        return facing

    def _within(self, arms: list[TableOfArms], limit: Ints) -> Found | None:
        """Return the best of some arms within a limit."""
        beside = dict[tuple[int, ...], tuple[Ints, Ints]]()
        for kinds in arms[0]:
            one, other = (some[kinds] for some in arms)
            beside[kinds] = side_by_side_arms(one, other, limit, self.spend)
            if not len(beside[kinds][0]):
                return None
        both, links, which = self._side_by_side(arms, beside)
        own = {kind: x.words for kind, x in both.items()}
        tree = Tree(own, links)
        for kind, some in both.items():
            self._close(kind, some, tree.toward(kind, None), limit)
        bound = {kind: x.words + x.least for kind, x in both.items()}
        tree = Tree(bound, links).within(bound, limit)
        if tree.is_broken:
            return None
        self.both = both
        for pairs_most in self.rising_pairs(tree, _NOTHING, limit, (6, 1)):
            found = self.pair_courses(tree.within(bound, pairs_most), pairs_most)
            if found is not None:
                self.solved = self._report(found, arms, links, which)
                return found
        return None

    def _side_by_side(
        self,
        arms: list[TableOfArms],
        beside: dict[tuple[int, ...], tuple[Ints, Ints]],
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
        for pair in self.meetings:
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
            words = words + pack({NOT_MIRRORED: np.ones(len(codes), np.int64)}, 1)
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

    def leg_words(self, kind: int) -> Ints:
        """Return what the legs of a kind count, both together."""
        return self.both[kind].words

    def courses(self, kind: int, tree: Tree, limit: Ints) -> Courses:
        """Return the ways over that go on from a tree's legs, within the limit."""
        both = self.both[kind]
        extra = both.added - both.least[both.leg]
        bound = tree.toward(kind, None)[both.leg] + extra
        some = np.nonzero(not_over(bound, limit))[0]
        some = some[np.argsort(both.leg[some], kind="stable")]
        self.spend(len(some))
        return self._laid_out(kind, some, extra[some])

    def _laid_out(self, kind: int, some: Ints, extra: Ints) -> Courses:
        """Return some ways over of a kind with their whole courses."""
        both, closer = self.both[kind], self.closers.get(kind)
        leg, way, added = both.leg[some], both.way[some], both.added[some]
        if closer is None:
            return Courses(leg, way, added, extra)
        if isinstance(closer, Rows):
            rows = closer.table.take(way)
            return Courses(leg, way, added, extra, rows, closer.joints.take(way))
        options = both.options[leg]
        rows = closer.whole_rows(way, (options[:, 0], options[:, 1]))
        row, ends = self.sizes.bond.rows[kind], self.front.ends
        at = RowSetting(self.sizes, row, ends, (0, 0), is_leg=False)
        joints = joints_of(rows, at)
        kept = np.zeros_like(joints.is_there)
        legs = self._leg_joints(kind, options)
        for column in range(legs.left.shape[1]):
            a, b = legs.left[:, column, None], legs.right[:, column, None]
            kept |= (joints.left == a) & (joints.right == b)
        joints = replace(joints, is_kept=kept & joints.is_there)
        return Courses(leg, way, added, extra, rows, joints)

    def _leg_joints(self, kind: int, options: Ints) -> Perpends:
        """Return the joints of the legs of both sides, as they stand in the front."""
        found = []
        for at, side in enumerate(self.sides):
            some = side.toothing[kind]
            filling = some.first_of[some.owner[options[:, at]]]
            found.append(side.rows[kind].joints.take(filling))
        left, right = found

        def of_both(name: str, other: str, sign: int = -1) -> Ints:
            one, two = getattr(left, name), getattr(right, other)
            return np.concatenate([one, sign * two], axis=1)

        there = np.concatenate([left.is_there, right.is_there], axis=1)
        return replace(
            left,
            left=of_both("left", "right"),
            right=of_both("right", "left"),
            times=of_both("times", "times", 1),
            is_there=there,
            is_kept=there,
            is_last=np.zeros_like(there),
        )

    def judges(self, pair: Pair, one: Courses, other: Courses) -> Judges:
        """Return what adds to a pair's price beyond the legs: over, and at the head."""
        wide = self.front.right - self.front.left
        at = Meeting(self.sizes, pair, wide, skips=pair in self.in_legs)
        found = Judges()
        if self.head and set(self.head) == set(pair):
            stand = [
                self._leg_joints(k, self.both[k].options[x.leg])
                if k == self.head[0]
                else x.joints
                for k, x in zip(pair, (one, other), strict=True)
            ]
            if stand[0] is not None and stand[1] is not None:
                judge = MeetingJudge(stand[0], stand[1], replace(at, at_head=True))
                found.append(("head", judge))
        if pair in self.in_over and one.joints and other.joints:
            found.append(("over", MeetingJudge(one.joints, other.joints, at)))
        return found

    def tie(self, kind: int, some: Courses, at: int) -> tuple[object, ...]:
        """Return the joints of the legs and of the course over, left to right."""
        legs: list[object] = []
        if kind in self.front.leg_kinds:
            options = self.both[kind].options[some.leg[[at]]]
            joints = self._leg_joints(kind, options)
            there = joints.is_there[0]
            legs = sorted(
                zip(
                    joints.left[0][there].tolist(),
                    joints.right[0][there].tolist(),
                    strict=True,
                )
            )
        over = () if some.rows is None else joints_key(some.rows, at)
        return (legs, over)

    def _report(
        self,
        found: Found,
        arms: list[TableOfArms],
        links: dict[Pair, Links],
        which: dict[Pair, Ints],
    ) -> Solved:
        """Return an answer's rows, and what each row and meeting adds."""
        zones: dict[str, dict[int, LaidRow]] = {}
        parts, courses = list[Part](), dict[int, Courses]()
        fillings = self._fillings(found, arms, links, which)
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
            course = courses[kind] = self._laid_out(kind, at, both.added[at])
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
        found: Found,
        arms: list[TableOfArms],
        links: dict[Pair, Links],
        which: dict[Pair, Ints],
    ) -> dict[int, tuple[int, int]]:
        """Return the fillings of both legs, by kind."""
        chosen = dict[int, list[int]]()
        for kinds in arms[0]:
            legs = [found.chosen[kind][0] for kind in kinds]
            if kinds in links:
                some = links[kinds]
                at = np.nonzero((some.one == legs[0]) & (some.other == legs[1]))[0][0]
                of = which[kinds][:, at]
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


_NOTHING = NO_LIMIT * 0 - 1
_ROOM = pack({SAWN: np.array([2048])}, 1)[0]
"""The sawn pieces that a leg loses may be more than what lies over it has."""
_NOT_MIRRORED = pack({NOT_MIRRORED: np.ones(1, np.int64)}, 1)[0]
