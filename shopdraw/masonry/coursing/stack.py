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

from shopdraw.masonry.coursing.problem import Kind, Problem, Span


@dataclass(frozen=True)
class Stack:
    """So many courses of known heights; only their joints are still open.

    Attributes:
        problem: what it belongs to.
        courses: how many.
        soldier_at: the number of the soldier course; 0 where there is none.
    """

    problem: Problem
    courses: int
    soldier_at: int

    @cached_property
    def base(self) -> tuple[int, ...]:
        """How high the brick alone comes to, for no course, one course, and so on."""
        problem = self.problem
        heights = [problem.height] * self.courses
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
    """List every stack that can be the best: more courses only overshoot further."""
    stacks = []
    for soldier_at in _soldier_courses(problem):
        beyond = 0
        for courses in count(max(1, soldier_at)):
            stack = Stack(problem, courses, soldier_at)
            stacks.append(stack)
            last = stack.span(problem.top_meets, stack.joints)[0]
            head = stack.span("head", courses)[0]
            at_head = soldier_at or head >= problem.head.level
            beyond += bool(last >= problem.top.level and at_head)
            if beyond > 1:
                break
    return tuple(stacks)


def _soldier_courses(problem: Problem) -> list[int]:
    """Return which course, by number, a soldier course over the whole face may be.

    Its joints can add up to anything between the least and the most, so that the
    nearest sum gives the miss. Numbers that miss the head by more are left out.
    """
    if problem.head_is != "soldier course":
        return [0]
    head = problem.head
    misses: dict[int, int] = {}
    for joint in count(1):
        stack = Stack(problem, joint, joint)
        low, high = stack.span("head", joint)
        level = min(max(head.level, low), high)
        below = (level - low) // problem.step * problem.step + low
        near = min(
            abs(p - head.level) for p in (below, min(below + problem.step, high))
        )
        misses[joint] = head.counted(near)
        if low > head.level:
            break
    least = min(misses.values())
    return [joint for joint, miss in misses.items() if miss == least]


def _distance(level: int, span: Span) -> int:
    return max(0, span[0] - level, level - span[1])
