"""What a front whose legs differ is laid of: its legs, and courses between them.

In:  `Front`, `Sizes`, kinds.   Out: `UnlikeCourses`.
Frame: grid lengths, left to right; the right leg is laid mirrored about nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from shopdraw.masonry.bonding.between import Closer
from shopdraw.masonry.bonding.courses import (
    Courses,
    Judges,
    Paired,
)
from shopdraw.masonry.bonding.legs import (
    Far,
    Front,
    LegSpan,
    Rows,
    Solved,
    Width,
    fill_stretch,
    head_of,
    joints_key,
    judged,
)
from shopdraw.masonry.bonding.sides import (
    NO_LEG,
    Side,
    pack_sawn,
)
from shopdraw.masonry.bonding.toothing import sure_joints, toothing_of
from shopdraw.masonry.rows.judge import RowSetting
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge, Perpends, joints_of
from shopdraw.masonry.rows.merit import (
    Ints,
    not_over,
)
from shopdraw.masonry.rows.search import (
    Pair,
    Price,
    Tree,
)
from shopdraw.masonry.rows.sizes import Sizes


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
class UnlikeCourses(Paired):
    """One front whose legs are not each other's mirror image.

    Attributes:
        sizes, front: what is laid where.
        width: how wide the search is.
        most_work: how much may be looked at.
        searched_all: whether the last search was to the end.
        from_a_step: the kinds that are laid of pieces from one joint step upward.
        solved: the best found.
        both: by kind, the legs that are looked at.
    """

    sizes: Sizes
    front: Front
    width: Width
    most_work: int
    searched_all: bool = True
    from_a_step: set[int] = field(default_factory=set)
    solved: Solved | None = None
    both: dict[int, Both] = field(default_factory=dict)
    laid: dict[int, tuple[int, int]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        bond, front = self.sizes.bond, self.front
        self.work = self.most_work
        self.in_legs = set(bond.meetings(front.leg_kinds))
        self.in_over = set(bond.meetings(front.over_kinds))
        self.head = head_of(front)

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
            legs = fill_stretch(self.sizes, span, kind, self.width, least)
            if self.front.bears is not None:
                legs = self.front.bears(span, kind, legs)
            rows[kind] = legs
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
            at_end: Far = "turned" if far == "corner" else "free"
            span = LegSpan(front.left, front.right, near, at_end, ())
            table = fill_stretch(sizes, span, kind, self.width, least).table
        leg = sizes.brick.leg(bond.rows[kind].leg)
        at = RowSetting(self.sizes, bond.rows[kind], front.ends, (leg, leg), False)
        return judged(table, at)

    def leg_words(self, kind: int) -> Ints:
        """Return what the legs of a kind count, both together."""
        return self.both[kind].words

    def begins(self, kind: int, legs: Ints) -> Ints:
        """Return by number how the courses begin: what the left legs hand on."""
        numbers: Ints = self.both[kind].options[legs, 0]
        return numbers

    def courses(self, kind: int, tree: Tree, limit: Ints) -> Courses:
        """Return the ways over that go on from a tree's legs, within the limit."""
        both = self.both[kind]
        extra = both.added - both.least[both.leg]
        bound = tree.toward(kind, None)[both.leg] + extra
        some = np.nonzero(not_over(bound, limit))[0]
        some = some[np.argsort(both.leg[some], kind="stable")]
        self.spend(len(some))
        return self._laid_out(kind, some, extra[some])

    def _laid_out(
        self,
        kind: int,
        some: Ints,
        extra: Ints,
        laid: tuple[Ints, Ints] | None = None,
    ) -> Courses:
        """Return some ways over of a kind with their whole courses.

        Args:
            kind: which kind.
            some: which ways over.
            extra: what each adds beyond the least of its legs.
            laid: the fillings that the legs of each have; where none are given, the
                first that hand the same on, which may differ farther from the jambs.
        """
        both, closer = self.both[kind], self.closers.get(kind)
        leg, way, added = both.leg[some], both.way[some], both.added[some]
        if closer is None:
            return Courses(leg, way, added, extra)
        if isinstance(closer, Rows):
            rows = closer.table.take(way)
            return Courses(leg, way, added, extra, rows, closer.joints.take(way))
        fillings = laid or self._first_fillings(kind, both.options[leg])
        rows = closer.whole_rows(way, fillings)
        row, ends = self.sizes.bond.rows[kind], self.front.ends
        at = RowSetting(self.sizes, row, ends, (0, 0), is_leg=False)
        joints = joints_of(rows, at)
        kept = np.zeros_like(joints.is_there)
        legs = self._leg_joints(kind, fillings)
        for column in range(legs.left.shape[1]):
            a, b = legs.left[:, column, None], legs.right[:, column, None]
            kept |= (joints.left == a) & (joints.right == b)
        joints = replace(joints, is_kept=kept & joints.is_there)
        return Courses(leg, way, added, extra, rows, joints)

    def _first_fillings(self, kind: int, options: Ints) -> tuple[Ints, Ints]:
        """Return the first fillings of both legs that hand some options on."""
        left, right = (
            some.first_of[some.owner[options[:, at]]]
            for at, some in enumerate(side.toothing[kind] for side in self.sides)
        )
        return left, right

    def _leg_joints(self, kind: int, fillings: tuple[Ints, Ints]) -> Perpends:
        """Return the joints of the legs of both sides, as they stand in the front."""
        left, right = (
            side.rows[kind].joints.take(filling)
            for side, filling in zip(self.sides, fillings, strict=True)
        )

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

    def _handed_on(self, kind: int, legs: Ints) -> Perpends:
        """Return the joints of some legs; far from the jambs, of legs like them."""
        options = self.both[kind].options[legs]
        return self._leg_joints(kind, self._first_fillings(kind, options))

    def judges(self, pair: Pair, one: Courses, other: Courses) -> Judges:
        """Return what adds to a pair's price beyond the legs: over, and at the head."""
        wide = self.front.right - self.front.left
        at = Meeting(self.sizes, pair, wide, skips=pair in self.in_legs)
        found = Judges()
        if self.head and set(self.head) == set(pair):
            stand = [
                self._handed_on(k, x.leg) if k == self.head[0] else x.joints
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
            joints = self._handed_on(kind, some.leg[[at]])
            there = joints.is_there[0]
            legs += sorted(
                zip(
                    joints.left[0][there].tolist(),
                    joints.right[0][there].tolist(),
                    strict=True,
                )
            )
        over = () if some.rows is None else joints_key(some.rows, at)
        return (legs, over)
