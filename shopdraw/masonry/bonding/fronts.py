"""Solve a front that is its own mirror image: its legs, and the courses over.

In:  `Front`, `Sizes`.   Out: the best, searched to the end.
Frame: grid lengths; the left leg is laid, and the right one is its mirror image.

The legs that are best by themselves are tried first, each with what can lie over it.
What they come to is the limit for all others.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from shopdraw.masonry.bonding.courses import (
    BestCourses,
    Courses,
    Judges,
    Paired,
    merit_of,
    perpends_of_both,
    perpends_over,
    whole_rows,
)
from shopdraw.masonry.bonding.legs import (
    Front,
    LaidRow,
    Part,
    Rows,
    Solved,
    Width,
    fill_stretch,
    filling_of,
    head_of,
    joints_key,
)
from shopdraw.masonry.bonding.over import Carrying, Over, fill_alone
from shopdraw.masonry.rows.bonds import each_kind
from shopdraw.masonry.rows.closing import OverSpan
from shopdraw.masonry.rows.judge import RowSetting
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge, Perpends
from shopdraw.masonry.rows.merit import (
    SAWN,
    WORDS,
    Ints,
    least_of,
    not_over,
    pack,
)
from shopdraw.masonry.rows.search import (
    NO_LIMIT,
    NO_LINKS,
    Pair,
    Price,
    Tree,
    best_within,
    check_tree,
    linked,
)
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import Fillings


@dataclass
class Kind:
    """One kind's legs, and what has been laid over the opening from them.

    Attributes:
        legs: the leg's fillings; none where the kind lies only over the opening.
        words: what each filling counts, in both legs.
        least: the least that lies over each of them adds.
        over: the ways over; none where the kind lies only in the legs.
    """

    legs: Rows | None
    words: Ints
    least: Ints
    over: Over | None = None


@dataclass
class Mirrored(Paired):
    """The search of one mirrored front, at one width."""

    sizes: Sizes
    front: Front
    width: Width
    goes_on: set[int] = field(default_factory=set)
    kinds: dict[int, Kind] = field(default_factory=dict)

    def __post_init__(self) -> None:
        bond, front = self.sizes.bond, self.front
        self.in_legs = set(bond.meetings(front.leg_kinds))
        self.in_over = set(bond.meetings(front.over_kinds))
        head = head_of(front)
        self.head = head
        top = {(min(head), max(head))} if head else set[Pair]()
        self.meetings = sorted(self.in_legs | self.in_over | top)
        check_tree(dict.fromkeys(self.meetings))
        near = front.ends[0]
        self.opening = OverSpan(front.left, front.jambs[0], front.about, near)

    def solve(self, limit: Ints = NO_LIMIT) -> BestCourses | None:
        """Return the best; None where nothing is as good as the limit."""
        every = each_kind((*self.front.leg_kinds, *self.front.over_kinds))
        self.kinds = {kind: self._kind(kind) for kind in every}
        found = self._search(limit)
        if found is None:
            # A kind that can't be gone on with is laid of pieces of any length.
            step = self.sizes.joints.step
            lacking = [kind for kind in every if not self._may_go_on(kind)]
            self.kinds |= {kind: self._kind(kind, step) for kind in lacking}
            found = self._search(limit) if lacking else None
        return found

    def _search(self, limit: Ints) -> BestCourses | None:
        own = {kind: some.words for kind, some in self.kinds.items()}
        judges = {pair: self._leg_judges(pair) for pair in self.meetings}

        def find(
            tried: dict[int, Ints], limit: Ints, pairs: int
        ) -> tuple[BestCourses | None, bool]:
            tree = linked(tried, judges, limit, pairs)
            bound = dict[int, Ints]()
            for kind, words in tried.items():
                self._go_on(kind, tree.looked_at(kind))
                bound[kind] = words + self.kinds[kind].least
            return self.best_of(Tree(bound, tree.links), limit), tree.is_whole

        return best_within(own, limit, find) if all(map(len, own.values())) else None

    def alone(self, kind: int) -> Rows:
        """Return every course over the opening of a kind that has no leg, judged."""
        over = self._over_alone(kind)
        rows, joints = self._whole(kind, None, over, np.arange(len(over)))
        words = over.words[over.at]
        return Rows(rows, self._setting(kind), words, joints, over.sawn)

    def _over_alone(self, kind: int) -> Over:
        width, row = self.width, self.sizes.bond.rows[kind]
        bats = width.bats(self.sizes)
        return fill_alone(self.sizes, row, self.opening, bats, width.cuts)

    def _kind(self, kind: int, least: int = 0) -> Kind:
        front, sizes = self.front, self.sizes
        times = front.leg_kinds.count(kind)
        if not times:
            over = self._over_alone(kind)
            none = np.zeros((1, WORDS), np.int64)
            lightest = least_of(self._way_words(kind, over), over.leg, 1)
            return Kind(None, none, lightest, over)
        legs = fill_stretch(sizes, front.left_leg, kind, self.width, least)
        if front.bears is not None:
            legs = front.bears(front.left_leg, kind, legs)
        words = 2 * (legs.words + pack({SAWN: times * legs.sawn}, len(legs.sawn)))
        return Kind(legs, words, np.zeros_like(words))

    def _may_go_on(self, kind: int) -> bool:
        """Whether something may lie over some of a kind's legs, or need not."""
        some = self.kinds[kind]
        if some.legs is None or some.legs.least == self.sizes.joints.step:
            return True
        if kind in self.front.over_kinds and kind not in self.goes_on:
            self._go_on(kind, np.arange(len(some.words)))
        return kind in self.goes_on or kind not in self.front.over_kinds

    def _go_on(self, kind: int, legs: Ints) -> None:
        """Lay what may lie over some of a kind's legs; of others nothing is known."""
        some, count = self.kinds[kind], len(self.kinds[kind].words)
        if some.legs is None or kind not in self.front.over_kinds:
            return
        width = self.width
        over = Carrying(
            some.legs.take(legs), self.opening, width.cuts, width.ends
        ).over()
        some.over = replace(over, leg=legs[over.leg])
        self.goes_on |= {kind} if len(over) else set()
        some.least = least_of(self._way_words(kind, some.over), some.over.leg, count)

    def _way_words(self, kind: int, over: Over) -> Ints:
        times = self.front.over_kinds.count(kind)
        words: Ints = over.words[over.at] + pack({SAWN: times * over.sawn}, len(over))
        return words

    def _leg_judges(self, pair: Pair) -> tuple[Price, ...]:
        """Return what two kinds cost where both legs have them on one another."""
        one, other = (self.kinds[kind].legs for kind in pair)
        if pair not in self.in_legs or one is None or other is None:
            return ()
        at = Meeting(self.sizes, pair, self.front.left_leg.width, times=2)
        return (MeetingJudge(one.joints, other.joints, at),)

    def leg_words(self, kind: int) -> Ints:
        """Return what the legs of a kind count, both together."""
        return self.kinds[kind].words

    def courses(self, kind: int, tree: Tree, limit: Ints) -> Courses:
        """Return the ways over that go on from a tree's legs, within the limit."""
        some, bound = self.kinds[kind], tree.toward(kind, None)
        if some.over is None:
            is_in_legs = kind not in self.front.over_kinds
            leg = np.nonzero(not_over(bound, limit) & is_in_legs)[0]
            none = np.zeros((len(leg), WORDS), np.int64)
            return Courses(leg, leg * 0 - 1, none, none)
        words = self._way_words(kind, some.over)
        extra = words - some.least[some.over.leg]
        way = np.nonzero(not_over(bound[some.over.leg] + extra, limit))[0]
        way = way[np.argsort(some.over.leg[way], kind="stable")]
        whole = self._whole(kind, some.legs, some.over, way)
        return Courses(some.over.leg[way], way, words[way], extra[way], *whole)

    def _whole(
        self, kind: int, legs: Rows | None, over: Over, way: Ints
    ) -> tuple[Fillings, Perpends]:
        """Return the whole courses of some ways over of a kind, and their joints."""
        rows = whole_rows(legs, over, way, self.front.about)
        at, leg = self._setting(kind), over.leg[way]
        return rows, perpends_over(legs, rows, leg, at, self.front.about)

    def _setting(self, kind: int) -> RowSetting:
        row, ends = self.sizes.bond.rows[kind], self.front.ends
        return RowSetting(self.sizes, row, ends, (0, 0), is_leg=False)

    def begins(self, kind: int, legs: Ints) -> Ints:
        """Return by number how the courses begin: with their legs."""
        del kind
        return legs

    def judges(self, pair: Pair, one: Courses, other: Courses) -> Judges:
        """Return what adds to a pair's price beyond the legs: over, and at the head."""
        wide = self.front.right - self.front.left
        at = Meeting(self.sizes, pair, wide, skips=pair in self.in_legs)
        found = Judges()
        if self.head and set(self.head) == set(pair):
            found.append(("head", self._head_judge(at, one, other)))
        if pair in self.in_over and one.joints and other.joints:
            found.append(("over", MeetingJudge(one.joints, other.joints, at)))
        return found

    def _head_judge(self, at: Meeting, one: Courses, other: Courses) -> MeetingJudge:
        """Return what the first course over costs where it lies on the legs' last."""
        below = (self.head or at.kinds)[0]
        is_first = below == at.kinds[0]
        legs, over = self.kinds[below].legs, (other if is_first else one)
        if legs is None or over.joints is None:
            raise AssertionError
        at = replace(at, at_head=True)
        leg = (one if is_first else other).leg
        both = perpends_of_both(legs.joints.take(leg), self.front.about)
        if is_first:
            return MeetingJudge(both, over.joints, at)
        return MeetingJudge(over.joints, both, at)

    def tie(self, kind: int, some: Courses, at: int) -> tuple[object, ...]:
        """Return the joints of the leg and of the course over, left to right."""
        legs = self.kinds[kind].legs
        leg = () if legs is None else joints_key(legs.table, int(some.leg[at]))
        over = () if some.rows is None else joints_key(some.rows, at)
        return (leg, over)

    def report(self, found: BestCourses) -> Solved:
        """Return an answer's rows, and what each row and meeting adds."""
        zones: dict[str, dict[int, LaidRow]] = {}
        parts, courses = list[Part](), dict[int, Courses]()
        for kind, (leg, way) in found.chosen.items():
            some, pattern = self.kinds[kind], self.sizes.bond.rows[kind].pattern
            if some.legs is not None:
                table = some.legs.table.take(np.array([leg]))
                right = table.mirrored(self.front.about)
                for zone, side in (("left leg", table), ("right leg", right)):
                    row = filling_of(side, 0, self.sizes, pattern)
                    zones.setdefault(zone, {})[kind] = row
                    parts.append(Part(zone, (kind,), merit_of(some.legs.words[leg])))
            if some.over is None:
                none = NO_LINKS.words
                courses[kind] = Courses(np.array([leg]), none[:, 0], none, none)
                continue
            words, at = some.over.words[some.over.at[[way]]], np.array([way])
            rows, joints = self._whole(kind, some.legs, some.over, at)
            first = some.over.leg[at]
            courses[kind] = Courses(first, at, words, words, rows, joints)
            row = filling_of(rows, 0, self.sizes, pattern)
            zones.setdefault("over", {})[kind] = row
            parts.append(Part("over", (kind,), merit_of(words[0])))
        parts += self._meeting_parts(courses)
        return Solved(zones, tuple(parts), merit_of(found.words), searched_all=True)

    def _meeting_parts(self, courses: dict[int, Courses]) -> list[Part]:
        added: dict[tuple[str, Pair], Ints] = {}
        first = np.zeros(1, np.int64)
        for pair in self.meetings:
            one, other = courses[pair[0]], courses[pair[1]]
            for judge in self._leg_judges(pair):
                words = judge.take(one.leg, other.leg)(first, first)[0]
                added["legs", pair] = added.get(("legs", pair), 0) + words
            for zone, judge in self.judges(pair, one, other):
                words = judge(first, first)[0]
                added[zone, pair] = added.get((zone, pair), 0) + words
        return [Part(zone, pair, merit_of(x)) for (zone, pair), x in added.items()]
