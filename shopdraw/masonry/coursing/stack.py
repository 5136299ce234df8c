"""Stack so many courses, and say at which levels their tops and undersides can lie.

In:  `Problem`.   Out: `Stack`s; how thick their joints are is still open.
Frame: levels in whole numbers of the grid, up from the datum; joints, and their sums
from the bottom, in whole steps.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, count

from shopdraw.errors import NotLaid
from shopdraw.masonry.coursing.problem import Kind, Problem, Span

MOST_COURSES = 1000
"""More courses than any face has."""
Firsts = tuple[int | None, ...]
"""The number of each band's first course: 0 and less lie below what is laid."""
SAME_COURSE = (
    "band: two bands, or a band and the soldiers over the opening, would be the same "
    "course; write other courses or levels"
)


@dataclass(frozen=True)
class Stack:
    """So many courses of known heights; only their joints are still open.

    Attributes:
        problem: what it belongs to.
        courses: how many.
        soldier_at: the number of the soldier course; 0 where there is none.
        firsts: the number of each band's first course; None where it has none.
    """

    problem: Problem
    courses: int
    soldier_at: int
    firsts: Firsts = ()

    @cached_property
    def bands(self) -> dict[int, int]:
        """Which band each of its courses is, by their numbers; bands count from 1.

        What is laid already is not looked at: here it is course 1.
        """
        least = 1 if self.problem.laid is None else 2
        return {
            number: place
            for place, (first, band) in enumerate(
                zip(self.firsts, self.problem.bands, strict=False), start=1
            )
            if first is not None
            for number in band.table.courses(first, self.courses)
            if number >= least
        }

    @cached_property
    def base(self) -> tuple[int, ...]:
        """How high the brick alone comes to, for no course, one course, and so on."""
        problem = self.problem
        heights = [problem.height] * self.courses
        for number, band in self.bands.items():
            heights[number - 1] = problem.bands[band - 1].height
        if self.soldier_at:
            heights[self.soldier_at - 1] = problem.soldier
        if problem.bottom_height is not None:
            heights[0] = problem.bottom_height
        if problem.top_height is not None:
            heights[-1] = problem.top_height
        return tuple(accumulate(heights, initial=0))

    @cached_property
    def highest(self) -> int:
        """The highest level that any plane of it can have."""
        return self.span("top", self.courses)[1] + self.problem.height

    @property
    def joints(self) -> int:
        """How many joints there are: one below each course, and any above the last."""
        return self.courses + (self.problem.top_meets == "underside")

    def sums(self, joint: int) -> Span:
        """Return the least and the most that the joints up to one can add up to."""
        (b_least, b_most), (least, most) = self.problem.bottom, self.problem.bed
        if joint == 0:
            return 0, 0
        if joint > 1 and self.problem.first_most is not None:
            b_most -= most - self.problem.first_most
        return b_least + (joint - 1) * least, b_most + (joint - 1) * most

    def stretch(self, lower: int, upper: int) -> Span:
        """Return the least and the most that the joints from one to another add."""
        (l_least, l_most), (u_least, u_most) = self.sums(lower), self.sums(upper)
        return u_least - l_least, u_most - l_most

    def planes(self, kind: Kind) -> range:
        """Return the joints that lead to a plane of a kind."""
        return range(1, 1 + (self.joints if kind == "underside" else self.courses))

    def offset(self, kind: Kind, joint: int) -> int:
        """Return how much brick there is below the plane that a joint leads to.

        A joint leads to the underside right above it, and to the top of its course.
        """
        return self.base[joint if kind == "top" else joint - 1]

    def span(self, kind: Kind, joint: int) -> Span:
        """Return the lowest and the highest level of the plane a joint leads to."""
        offset = self.offset(kind, joint)
        least, most = self.sums(joint)
        return least * self.problem.step + offset, most * self.problem.step + offset

    def around(self, kind: Kind, low: int, high: int) -> range:
        """Return the joints whose planes may be nearest to a range of levels.

        They may lead to the last plane below it, to one within, or to the first above.
        """
        planes = self.planes(kind)
        first = bisect_left(planes, low, key=lambda joint: self.span(kind, joint)[1])
        last = bisect_right(planes, high, key=lambda joint: self.span(kind, joint)[0])
        return planes[max(0, first - 1) : last + 1]

    @cached_property
    def bound(self) -> tuple[int, int]:
        """The misses of head and top that this stack can't do better than."""
        head = self.problem.head
        planes = self.around("head", head.level, head.level)
        if self.soldier_at:
            planes = range(self.soldier_at, self.soldier_at + 1)
        miss = min(_distance(head.level, self.span("head", i)) for i in planes)
        return head.counted(miss), self.top_bound

    @cached_property
    def top_bound(self) -> int:
        """The miss of the top that this stack can't do better than."""
        top = self.problem.top
        last = self.span(self.problem.top_meets, self.joints)
        return top.counted(_distance(top.level, last))


def list_stacks(problem: Problem) -> tuple[Stack, ...]:
    """List every stack that can be the best: more courses only overshoot further.

    Raises:
        NotLaid: two bands, or a band and the soldiers, would be the same course.
    """
    stacks = []
    for soldier_at, firsts in _set_out(problem):
        beyond = 0
        landing = (
            first
            for first, band in zip(firsts, problem.bands, strict=True)
            if first and band.rank
        )
        for courses in count(max(1, soldier_at, *landing)):
            stack = Stack(problem, courses, soldier_at, firsts)
            stacks.append(stack)
            last = stack.span(problem.top_meets, stack.joints)[0]
            head = stack.span("head", courses)[0]
            at_head = soldier_at or head >= problem.head.level
            beyond += bool(last >= problem.top.level and at_head)
            if beyond > 1:
                break
    return tuple(stacks)


SetOut = tuple[int, Firsts]
"""The number of the soldier course, 0 for none, and those of the bands' first ones."""


def _set_out(problem: Problem) -> list[SetOut]:
    """Return where a soldier course over the whole face, and each band, may be.

    Raises:
        NotLaid: two bands, or a band and the soldiers, would be the same course.
    """
    ways = [(0, firsts) for firsts in _firsts(problem, 0)]
    if problem.head_is == "soldier course":
        ways = _at_the_head(problem)
    apart = [way for way in ways if _stand_apart(problem, *way)]
    if not apart:
        raise NotLaid(SAME_COURSE)
    return apart


def _at_the_head(problem: Problem) -> list[SetOut]:
    """Return the ways in which the soldiers' course comes nearest to the head.

    Its joints can add up to anything between the least and the most, so that the
    nearest sum gives the miss. Numbers that miss the head by more are left out.
    """
    head = problem.head
    misses: dict[SetOut, int] = {}
    for joint in count(1):
        is_past = True
        for firsts in _firsts(problem, joint):
            low, high = Stack(problem, joint, joint, firsts).span("head", joint)
            level = min(max(head.level, low), high)
            below = (level - low) // problem.step * problem.step + low
            near = min(
                abs(p - head.level) for p in (below, min(below + problem.step, high))
            )
            misses[joint, firsts] = head.counted(near)
            is_past = is_past and low > head.level
        if is_past:
            break
    least = min(misses.values())
    return [way for way, miss in misses.items() if miss == least]


def _firsts(problem: Problem, soldier_at: int) -> list[Firsts]:
    """Return the numbers that the bands' first courses may have, all together.

    A band with a level is a course whose plane can come to within an ordinary course of
    it; where there is none, the course that comes nearest.
    """
    ways: list[Firsts] = [tuple(band.course for band in problem.bands)]
    by_level = sorted(
        (problem.targets[band.rank].level, place)
        for place, band in enumerate(problem.bands)
        if band.rank
    )
    for _, place in by_level:
        ways = [
            (*way[:place], number, *way[place + 1 :])
            for way in ways
            for number in _numbers_near(problem, soldier_at, way, place)
        ]
    return ways


def _numbers_near(
    problem: Problem, soldier_at: int, firsts: Firsts, place: int
) -> list[int]:
    """Return which numbers one band's first course may have, those below it known."""
    target = problem.targets[problem.bands[place].rank]
    near = target.tolerance + problem.height + problem.bed[1] * problem.step
    apart: dict[int, int] = {}
    for number in count(1 if problem.laid is None else 2):
        way = (*firsts[:place], number, *firsts[place + 1 :])
        at = soldier_at if soldier_at <= number else 0
        # One course more, because the last of a stack may be sawn lower.
        span = Stack(problem, number + 1, at, way).span(target.kind, number)
        apart[number] = _distance(target.level, span)
        if span[0] > target.level + near:
            break
    some = [number for number, off in apart.items() if off <= near]
    if problem.whole is not None and problem.laid is not None:
        # What is laid as planned leaves the band where the plan may have it.
        less = len(problem.laid.courses) - 1
        before = tuple(None if first is None else first + less for first in firsts)
        at = soldier_at + less if soldier_at else 0
        planned = _numbers_near(problem.whole, at, before, place)
        some += [x - less for x in planned if x - less > 1 and x - less not in some]
    return some or [min(apart, key=lambda number: apart[number])]


def _stand_apart(problem: Problem, soldier_at: int, firsts: Firsts) -> bool:
    """Whether no course is two bands, or a band and the soldiers over the opening."""
    last = max((soldier_at, *(first or 0 for first in firsts))) + MOST_COURSES
    every = [
        number
        for first, band in zip(firsts, problem.bands, strict=True)
        if first is not None
        for number in band.table.courses(first, last)
        if number > 0
    ]
    return len(set(every)) == len(every) and soldier_at not in every


def _distance(level: int, span: Span) -> int:
    return max(0, span[0] - level, level - span[1])
