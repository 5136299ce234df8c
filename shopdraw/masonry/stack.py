"""Stack the courses on a grid of whole numbers: the planes that targets can take.

In:  `Problem`.   Out: `Case`s, the stacks and planes whose misses are the least.
Frame: levels in whole numbers of the grid, up from the datum; joints, and their sums
from the bottom, in whole steps.

A set of sums is one integer, bit s standing for the sum s. A target is not tied to a
course: it is a window that the stack may not step over, from below it to beyond it.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate, count, pairwise

from shopdraw.job.model import Meets
from shopdraw.masonry.problem import Problem, Span, Target

Gate = tuple[tuple[int, int], ...]
"""For one joint: (sums before it, sums after it that these may lead to), in turn."""
FREE: Gate = ((-1, -1),)


@dataclass(frozen=True)
class Stack:
    """So many courses of known heights; only the joints are open.

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
        """The brick alone: what the courses up to each add up to, from none up."""
        problem = self.problem
        heights = [problem.height] * self.courses
        if self.soldier_at:
            heights[self.soldier_at - 1] = problem.soldier
        if problem.bottom_height is not None:
            heights[0] = problem.bottom_height
        if problem.top_height is not None:
            heights[-1] = problem.top_height
        return tuple(accumulate(heights, initial=0))

    @property
    def joints(self) -> int:
        """How many joints: one below each course, one more under a last underside."""
        return self.courses + (self.problem.top_meets == "underside")

    def sums(self, joint: int) -> Span:
        """Return the least and the most that the joints up to that one add up to."""
        (b_least, b_most), (least, most) = self.problem.bottom, self.problem.bed
        if joint == 0:
            return 0, 0
        return b_least + (joint - 1) * least, b_most + (joint - 1) * most

    def stretch(self, lower: int, upper: int) -> Span:
        """Return the least and the most that the joints add between two."""
        (l_least, l_most), (u_least, u_most) = self.sums(lower), self.sums(upper)
        return u_least - l_least, u_most - l_most

    def offset(self, meets: Meets, joint: int) -> int | None:
        """Return the brick below the plane that the joint leads to; None for no plane.

        The joint leads to an underside right above it and to the top of its course.
        """
        if meets == "underside":
            return self.base[joint - 1]
        return self.base[joint] if joint <= self.courses else None

    def span(self, meets: Meets, joint: int) -> Span:
        """Return the least and the most level of the plane that the joint leads to."""
        offset = self.base[joint - 1 if meets == "underside" else joint]
        least, most = self.sums(joint)
        return least * self.problem.step + offset, most * self.problem.step + offset

    def around(self, meets: Meets, low: int, high: int) -> range:
        """Return the joints that may lead to the last plane below two levels, ...

        to one between them, or to the first above them.
        """
        planes = range(1, 1 + (self.joints if meets == "underside" else self.courses))
        first = bisect_left(planes, low, key=lambda joint: self.span(meets, joint)[1])
        last = bisect_right(planes, high, key=lambda joint: self.span(meets, joint)[0])
        return planes[max(0, first - 1) : last + 1]

    @cached_property
    def bound(self) -> tuple[int, int]:
        """The misses of head and top that this stack can't be better than."""
        head, top = self.problem.head, self.problem.top
        planes = self.around("underside", head.level, head.level)
        if self.soldier_at:
            planes = range(self.soldier_at, self.soldier_at + 1)
        miss = min(_distance(head.level, self.span("underside", i)) for i in planes)
        last = self.span(self.problem.top_meets, self.joints)
        return head.counted(miss), top.counted(_distance(top.level, last))

    @cached_property
    def settled(self) -> tuple[tuple[int, ...], tuple[Case, ...]]:
        """Its least misses by rank, and the cases that have them.

        Each target in turn gets the nearest plane that those before it leave. There
        is no case where the soldiers stand on the higher of two equally near planes.
        """
        misses: tuple[int, ...] = ()
        cases: tuple[Case, ...] = (Case(self, ()),)
        for rank in range(len(self.problem.targets)):
            found = [taken for case in cases if (taken := _take_plane(case, rank))]
            least = min((miss for miss, _ in found), default=0)
            cases = tuple(c for miss, taken in found if miss == least for c in taken)
            misses += (least,)
        return misses, cases


@dataclass(frozen=True)
class Window:
    """Where the plane of a target lies: the stack may not step over it.

    Attributes:
        target: the target, at the level wanted.
        least, most: the levels that its plane may have.
        at: the joint that must lead to it; 0 where any may.
        clear: from this level up to `least` there must be no plane, because it would
            be as near and lower.
    """

    target: Target
    least: int
    most: int
    at: int
    clear: int

    def cleared(self) -> Window:
        """Return the window that starts where there must be no plane."""
        return replace(self, least=self.clear)

    def within(self, radius: int) -> Window | None:
        """Return the window cut down to that distance; None where nothing is left."""
        least = max(self.least, self.target.level - radius)
        most = min(self.most, self.target.level + radius)
        if least > most:
            return None
        return replace(
            self, least=least, most=most, clear=self.clear + least - self.least
        )


@dataclass(frozen=True)
class Case:
    """A stack and a window for each target: every misses' question is settled."""

    stack: Stack
    windows: tuple[Window, ...]

    @cached_property
    def gates(self) -> dict[int, Gate]:
        """What a joint may lead from and to, by its number; elsewhere it is free."""
        stack = self.stack
        joints = {stack.joints} if self.windows else set()
        for window in self.windows:
            if window.at:
                joints.add(window.at)
            if not window.at or window.clear < window.least:
                meets = window.target.meets
                joints.update(stack.around(meets, window.clear, window.least))
        return {joint: _gate(stack, self.windows, joint) for joint in sorted(joints)}

    def within(self, rank: int, radius: int) -> Case | None:
        """Return the case with one window cut down; None where nothing is left."""
        window = self.windows[rank].within(radius)
        if window is None:
            return None
        windows = (*self.windows[:rank], window, *self.windows[rank + 1 :])
        return Case(self.stack, windows)


def least_misses(stacks: Iterable[Stack]) -> tuple[tuple[int, ...], tuple[Case, ...]]:
    """Find the least misses, rank by rank, and every case that has them.

    Args:
        stacks: what to choose from, one at least.

    Returns:
        The misses as they count, and the cases.
    """
    best: tuple[int, ...] | None = None
    cases: tuple[Case, ...] = ()
    for stack in sorted(stacks, key=lambda stack: stack.bound):
        if best is not None and stack.bound > best[:2]:
            break
        misses, found = stack.settled
        if found and (best is None or misses < best):
            best, cases = misses, ()
        if misses == best:
            cases += found
    return best or (), cases


def can_land(problem: Problem) -> bool:
    """Return whether every target can be met within its tolerance at once."""
    for stack in list_stacks(problem):
        if stack.bound == (0, 0):
            misses, cases = stack.settled
            if cases and not any(misses):
                return True
    return False


def list_stacks(problem: Problem) -> tuple[Stack, ...]:
    """List every stack worth a look: more courses would only overshoot further."""
    stacks = []
    for soldier_at in _soldier_courses(problem):
        beyond = 0
        for courses in count(max(1, soldier_at)):
            stack = Stack(problem, courses, soldier_at)
            stacks.append(stack)
            last = stack.span(problem.top_meets, stack.joints)[0]
            head = stack.span("underside", courses)[0]
            at_head = soldier_at or head >= problem.head.level
            beyond += bool(last >= problem.top.level and at_head)
            if beyond > 1:
                break
    return tuple(stacks)


def _soldier_courses(problem: Problem) -> list[int]:
    """Return the numbers that a soldier course over the whole face may have.

    All sums between the least and the most can be made, so the nearest one tells the
    miss; whoever misses the head by more is out.
    """
    if problem.head_is != "soldier course":
        return [0]
    head = problem.head
    misses: dict[int, int] = {}
    for joint in count(1):
        stack = Stack(problem, joint, joint)
        low, high = stack.span("underside", joint)
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


def _take_plane(case: Case, rank: int) -> tuple[int, list[Case]] | None:
    """Return the least miss of one target, and the cases in which it has it.

    None where no joints keep the windows that there are already.
    """
    stack, problem = case.stack, case.stack.problem
    target, at = problem.targets[rank], 0
    soldiers = problem.head_is != "plane"
    if rank == 0:
        at = stack.soldier_at
    elif rank == 1:
        at = stack.joints
    elif rank == 2 and problem.head_is == "soldiers beside courses":
        target = replace(target, level=target.level + case.windows[0].least)
    levels = set(_near_levels(case, target, at))
    if not levels:
        return None
    distance = min(abs(level - target.level) for level in levels)
    miss = target.counted(distance)
    radius = miss or target.tolerance
    windows = [
        Window(target, target.level - radius, target.level + radius, at,
               target.level - radius)
    ]  # fmt: skip
    if rank == 0 and soldiers:
        # What stands on the head must know its level, so each level is its own case.
        windows = [
            Window(target, level, level, at, min(level, 2 * target.level - level))
            for level in sorted(levels)
            if abs(level - target.level) <= radius
        ]
    return miss, [Case(stack, (*case.windows, window)) for window in windows]


def _near_levels(case: Case, target: Target, at: int) -> Iterator[int]:
    """Yield the levels around a target that a plane of its kind can have."""
    stack, step = case.stack, case.stack.problem.step
    joints = stack.around(target.meets, target.level, target.level)
    for joint, sums in _attained(case, range(at, at + 1) if at else joints):
        offset = stack.offset(target.meets, joint) or 0
        last_below = (target.level - offset) // step
        below = sums & between(0, last_below)
        if below:
            yield (below.bit_length() - 1) * step + offset
        first = max(0, last_below + 1)
        above = sums >> first
        if above:
            yield (first + (above & -above).bit_length() - 1) * step + offset


def _attained(case: Case, joints: range) -> Iterator[tuple[int, int]]:
    """Yield, for some joints, the sums up to each that can be attained."""
    stack, gates = case.stack, case.gates
    stops = sorted({*gates, *joints})
    upward = {0: 1}
    for last, stop in pairwise([0, *stops]):
        least, most = stack.stretch(last, stop - 1)
        here = _spread(upward[last], most - least) << least
        least, most = stack.stretch(stop - 1, stop)
        upward[stop] = 0
        for before, after in gates.get(stop, FREE):
            upward[stop] |= _spread(here & before, most - least) << least & after
    sums = upward[stops[-1]]
    for stop, last in pairwise([*reversed(stops), 0]):
        if stop in joints:
            yield stop, sums
        least, most = stack.stretch(stop - 1, stop)
        here = 0
        for before, after in gates.get(stop, FREE):
            here |= _spread(sums & after, most - least) >> most & before
        least, most = stack.stretch(last, stop - 1)
        sums = _spread(here, most - least) >> most & upward[last]


def _spread(sums: int, width: int) -> int:
    """Return the sums with nothing up to `width` added, each in turn."""
    done = 0
    while done < width:
        more = min(done + 1, width - done)
        sums |= sums << more
        done += more
    return sums


def _gate(stack: Stack, windows: tuple[Window, ...], joint: int) -> Gate:
    """Return what one joint may lead from and to, so that no window is stepped over."""
    after = between(*stack.sums(joint))
    least_before, _ = stack.sums(joint - 1)
    not_yet: list[Span] = []
    for window in windows:
        first, last = _sums_in(window, stack, joint)
        if window.clear < window.least:
            after &= ~between(_sums_in(window.cleared(), stack, joint)[0], first - 1)
        if window.at == joint:
            after &= between(first, last)
        elif not window.at:
            reached = _sums_in(window, stack, joint - 1)[0] if joint > 1 else 1
            not_yet.append((reached, last))
            if joint == stack.joints:
                after &= ~between(0, first - 1)
    binding = [w for w in not_yet if w[0] > least_before and after >> max(0, w[1] + 1)]
    return _pieces(sorted(binding), after)


def _pieces(not_yet: list[Span], after: int) -> Gate:
    """Part the sums by the windows that they have not reached yet.

    Args:
        not_yet: for each window, sorted: the sum from which it is reached, and the sum
            that those below may not go beyond.
        after: the sums that may be led to at all.
    """
    pieces = []
    start = 0
    for place, (reached, _) in enumerate(not_yet):
        if reached > start:
            most = min(last for _, last in not_yet[place:])
            pieces.append((between(start, reached - 1), after & between(0, most)))
            start = reached
    pieces.append((-1 << start, after))
    return tuple(pieces)


def _sums_in(window: Window, stack: Stack, joint: int) -> Span:
    """Return the first and the last sum whose plane lies in the window."""
    offset = stack.offset(window.target.meets, joint)
    if offset is None:
        return 0, -1
    step = stack.problem.step
    return -((offset - window.least) // step), (window.most - offset) // step


def _distance(level: int, span: Span) -> int:
    return max(0, span[0] - level, level - span[1])


def between(first: int, last: int) -> int:
    """Return the set of the sums from `first` to `last`; none below nothing."""
    first = max(0, first)
    return ((1 << last - first + 1) - 1) << first if last >= first else 0
