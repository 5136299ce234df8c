"""Solve a front that is its own mirror image: its legs, and the courses over.

In:  `Front`, `Sizes`.   Out: the best, searched to the end.
Frame: grid lengths; the left leg is laid, and the right one is its mirror image.

Legs are paired first. Only from legs that may still be part of the best are courses
carried on over the opening, and only on pairs of these are the courses paired. A few of
the best legs are carried on first, so that a good answer is known early.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TypeAlias

import numpy as np

from shopdraw.masonry.bonding.faces import LaidRow, Part, Solved, filling_of, joints_key
from shopdraw.masonry.bonding.front import Front, head_of
from shopdraw.masonry.bonding.legs import Rows, Width, fill_stretch
from shopdraw.masonry.bonding.over import (
    Carrying,
    Over,
    OverSpan,
    fill_alone,
    joined_ways,
    perpends_of_both,
    perpends_over,
    whole_rows,
)
from shopdraw.masonry.bonding.search import (
    FEW,
    NO_LIMIT,
    NO_LINKS,
    Links,
    Pair,
    Price,
    Tree,
    check_tree,
    joined_links,
    linked,
    only,
    priced,
    products,
)
from shopdraw.masonry.rows.judge import RowSetting
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge, Perpends
from shopdraw.masonry.rows.merit import (
    ENDLESS,
    SAWN,
    WORDS,
    Flags,
    Ints,
    Merit,
    as_tuple,
    joined,
    least_of,
    not_over,
    order,
    pack,
)
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import Fillings

Judges: TypeAlias = list[tuple[str, Price]]
"""What adds to a pair's price, each with the zone that it is in."""
STAGES = 8, 60
"""So many of the best legs of each kind are carried on before all that may serve."""


@dataclass
class Kind:
    """One kind's legs, and what has been laid over the opening from them.

    Attributes:
        legs: the leg's fillings; none where the kind lies only over the opening.
        words: what each filling counts, in both legs.
        is_laid: which legs are carried on as far as the kind is carried on at all.
        least: the least that lies over each of them adds.
        over: the ways over, of those legs that are carried on.
    """

    legs: Rows | None
    words: Ints
    is_laid: Flags
    least: Ints
    over: Over | None = None

    @property
    def bound(self) -> Ints:
        """The least that each filling comes to with what lies over it."""
        return self.words + self.least


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


@dataclass(frozen=True)
class Found:
    """An answer.

    Attributes:
        words: its merit.
        chosen: of each kind, the leg's filling and the way over, by number.
    """

    words: Ints
    chosen: dict[int, tuple[int, int]]

    @property
    def merit(self) -> Merit:
        """The 24 counts."""
        return _merit(self.words)


@dataclass
class Mirrored:
    """The search of one mirrored front, at one width."""

    sizes: Sizes
    front: Front
    width: Width
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

    def solve(self, limit: Ints = NO_LIMIT) -> Found | None:
        """Return the best; None where nothing is as good as the limit."""
        every = sorted({*self.front.leg_kinds, *self.front.over_kinds})
        self.kinds = {kind: self._kind(kind) for kind in every}
        found = self._search(limit)
        if found is None and (limit == NO_LIMIT).all():
            again = [kind for kind in every if self._has_no_way(kind)]
            for kind in again:
                self.kinds[kind] = self._kind(kind, self.sizes.joints.step)
            if again:
                return self._search(limit)
        return found

    def _kind(self, kind: int, least: int = 0) -> Kind:
        front, sizes = self.front, self.sizes
        times = front.leg_kinds.count(kind)
        if not times:
            over = fill_alone(
                sizes, sizes.bond.rows[kind], self.opening, self.width.bats(sizes),
                self.width.cuts,
            )  # fmt: skip
            none = np.zeros((1, WORDS), np.int64)
            lightest = least_of(self._way_words(kind, over), over.leg, 1)
            return Kind(None, none, np.ones(1, np.bool_), lightest, over)
        legs = fill_stretch(sizes, front.left_leg, kind, self.width, least)
        words = 2 * (legs.words + pack({SAWN: times * legs.sawn}, len(legs.sawn)))
        laid = np.full(len(words), kind not in front.over_kinds)
        return Kind(legs, words, laid, np.zeros_like(words))

    def _way_words(self, kind: int, over: Over) -> Ints:
        times = self.front.over_kinds.count(kind)
        words: Ints = over.words[over.at] + pack({SAWN: times * over.sawn}, len(over))
        return words

    def _has_no_way(self, kind: int) -> bool:
        some = self.kinds[kind]
        if some.legs is None or some.legs.least == self.sizes.joints.step:
            return False
        self._carry_on(kind, np.arange(len(some.words)))
        return not (some.least[:, 0] < ENDLESS[0]).any()

    def _carry_on(self, kind: int, which: Ints) -> None:
        """Lay courses over the opening from some fillings of a leg."""
        some = self.kinds[kind]
        which = which[~some.is_laid[which]]
        if not len(which) or some.legs is None:
            return
        ways = Carrying(some.legs, self.opening, self.width.cuts).ways(which)
        some.over = joined_ways(ways if some.over is None else [some.over, *ways])
        some.is_laid[which] = True
        words = self._way_words(kind, some.over)
        least = least_of(words, some.over.leg, len(some.words))
        some.least[some.is_laid] = least[some.is_laid]

    def _search(self, limit: Ints) -> Found | None:
        kinds = self.kinds
        if not all(len(x.words) for x in kinds.values()):
            return None
        judges = {pair: self._leg_judges(pair) for pair in self.meetings}
        few = {k: only(x.bound, order(x.bound)[:FEW]) for k, x in kinds.items()}
        best = self._carried(linked(few, judges, limit), limit, STAGES[0])
        limit = limit if best is None else best.words
        own = {k: x.bound for k, x in kinds.items()}
        tree = linked(own, judges, limit)
        for most in (STAGES[1], 1 << 40):
            found = self._carried(tree, limit, most)
            if found is not None:
                best, limit = found, found.words
        return best

    def _leg_judges(self, pair: Pair) -> tuple[Price, ...]:
        """Return what two kinds cost where both legs have them on one another."""
        one, other = (self.kinds[kind].legs for kind in pair)
        if pair not in self.in_legs or one is None or other is None:
            return ()
        at = Meeting(self.sizes, pair, self.front.left_leg.width)
        judge = MeetingJudge(one.joints, other.joints, at)
        return (
            lambda a, b: 2 * judge.laps(a, b),
            lambda a, b: 2 * judge.the_rest(a, b),
        )

    def _carried(self, tree: Tree, limit: Ints, most: int) -> Found | None:
        """Carry the best of a tree's legs on; return the best answer from these."""
        tree = tree.within({k: x.bound for k, x in self.kinds.items()}, limit)
        own = {}
        for kind, some in self.kinds.items():
            bound = tree.toward(kind, None)
            may = np.nonzero(not_over(bound, limit))[0]
            which = may[order(bound[may])[:most]]
            self._carry_on(kind, which)
            own[kind] = only(some.bound, which)
        return self._pair_courses(tree.within(own, limit), limit)

    def _pair_courses(self, tree: Tree, limit: Ints) -> Found | None:
        """Return the best of the courses over that go on from a tree's legs."""
        courses = {kind: self._courses(kind, tree, limit) for kind in self.kinds}
        own = {k: self.kinds[k].words[x.leg] + x.words for k, x in courses.items()}
        links = {pair: self._pairs(pair, tree, courses, limit) for pair in self.meetings}
        best = Tree(own, links)
        words = best.least()
        if not not_over(words[None], limit)[0]:
            return None
        chosen = best.best(lambda kind, at: self._tie(kind, courses[kind], at))
        laid = {
            kind: (int(some.leg[chosen[kind]]), int(some.way[chosen[kind]]))
            for kind, some in courses.items()
        }
        return Found(words, laid)

    def _courses(self, kind: int, tree: Tree, limit: Ints) -> Courses:
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
        return self._laid_out(kind, way, words[way], extra[way])

    def _laid_out(self, kind: int, way: Ints, words: Ints, extra: Ints) -> Courses:
        """Return some ways over of a kind with their whole courses."""
        some, about = self.kinds[kind], self.front.about
        if some.over is None:
            raise ValueError(kind)
        leg = some.over.leg[way]
        rows = whole_rows(some.legs, some.over, way, about)
        row, ends = self.sizes.bond.rows[kind], self.front.ends
        at = RowSetting(self.sizes, row, ends, (0, 0), is_leg=False)
        joints = perpends_over(some.legs, rows, leg, at, about)
        return Courses(leg, way, words, extra, rows, joints)

    def _pairs(
        self, pair: Pair, tree: Tree, courses: dict[int, Courses], limit: Ints
    ) -> Links:
        """Price the pairs of two kinds' courses that go on from a tree's pairs."""
        one, other = courses[pair[0]], courses[pair[1]]
        legs, bound = tree.links[pair], tree.pairs(pair)
        judges = tuple(price for _, price in self._judges(pair, one, other))
        found, totals = [NO_LINKS], [NO_LINKS.words]
        for link, a in products(legs.one, one.leg):
            words = bound[link] + one.extra[a]
            ok = not_over(words, limit)
            link, a, words = link[ok], a[ok], words[ok]
            for at, b in products(legs.other[link], other.leg):
                least = words[at] + other.extra[b]
                ok, price = priced(a[at], b, least, limit, judges)
                at, b = at[ok], b[ok]
                found.append(Links(a[at], b, legs.words[link[at]] + price))
                totals.append(least[ok] + price)
        links, total = joined_links(found), np.concatenate(totals)
        for kind, some, at in zip(pair, (one, other), (links.one, links.other), strict=True):
            # What this meeting adds is known of each course where others are priced.
            least = tree.toward(kind, None)[some.leg]
            some.extra = least_of(total, at, len(some.leg)) - least
        return links

    def _judges(self, pair: Pair, one: Courses, other: Courses) -> Judges:
        """Return what adds to a pair's price beyond the legs: over, and at the head."""
        wide = self.front.right - self.front.left
        at = Meeting(self.sizes, pair, wide, skips=pair in self.in_legs)
        laps, rest = Judges(), Judges()
        if pair in self.in_over and one.joints and other.joints:
            over = MeetingJudge(one.joints, other.joints, at)
            laps.append(("over", over.laps))
            rest.append(("over", over.the_rest))
        if self.head and set(self.head) == set(pair):
            laps.append(("head", self._head_judge(at, one, other)))
        return [*laps, *rest]

    def _head_judge(self, at: Meeting, one: Courses, other: Courses) -> Price:
        """Return what the first course over costs where it lies on the legs' last."""
        below = (self.head or at.kinds)[0]
        is_first = below == at.kinds[0]
        legs, over = self.kinds[below].legs, (other if is_first else one)
        if legs is None or over.joints is None:
            raise ValueError(at.kinds)
        both = perpends_of_both(legs.joints, self.front.about)
        at = replace(at, at_head=True)
        if is_first:
            on_leg = MeetingJudge(both, over.joints, at)
            return lambda a, b: on_leg.laps(one.leg[a], b)
        under = MeetingJudge(over.joints, both, at)
        return lambda a, b: under.laps(a, other.leg[b])

    def _tie(self, kind: int, some: Courses, at: int) -> tuple[object, ...]:
        legs = self.kinds[kind].legs
        leg = () if legs is None else joints_key(legs.table, int(some.leg[at]))
        over = () if some.rows is None else joints_key(some.rows, at)
        return (leg, over)

    def report(self, found: Found) -> Solved:
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
                    parts.append(Part(zone, (kind,), _merit(some.legs.words[leg])))
            if some.over is None:
                courses[kind] = Courses(np.array([leg]), *[NO_LINKS.one] * 3)
                continue
            words = some.over.words[some.over.at[[way]]]
            course = courses[kind] = self._laid_out(
                kind, np.array([way]), words, words
            )
            if course.rows is not None:
                row = filling_of(course.rows, 0, self.sizes, pattern)
                zones.setdefault("over", {})[kind] = row
                parts.append(Part("over", (kind,), _merit(words[0])))
        parts += self._meeting_parts(courses)
        return Solved(zones, tuple(parts), _merit(found.words), searched_all=True)

    def _meeting_parts(self, courses: dict[int, Courses]) -> list[Part]:
        added: dict[tuple[str, Pair], Ints] = {}
        first = np.zeros(1, np.int64)
        for pair in self.meetings:
            one, other = courses[pair[0]], courses[pair[1]]
            for judge in self._leg_judges(pair):
                words = judge(one.leg, other.leg)[0]
                added["legs", pair] = added.get(("legs", pair), 0) + words
            for zone, judge in self._judges(pair, one, other):
                words = judge(first, first)[0]
                added[zone, pair] = added.get((zone, pair), 0) + words
        return [Part(zone, pair, _merit(x)) for (zone, pair), x in added.items()]


def _merit(words: Ints) -> Merit:
    return as_tuple(joined(words))
