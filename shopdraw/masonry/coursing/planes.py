"""Give each target its plane, so that the targets are missed by as little as can be.

In:  `Problem`.   Out: `Case`s, the stacks and windows with the least misses.
Frame: as `stack`. A set of sums is one integer, bit s standing for the sum s.

Targets are settled in their rank. How thick the joints are is left open here, within
their ranges.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from shopdraw.masonry.coursing.problem import Problem, Target
from shopdraw.masonry.coursing.stack import Stack, list_stacks
from shopdraw.masonry.coursing.windows import FREE, Gate, Window, between, find_gates


@dataclass(frozen=True)
class Case:
    """A stack, and a window for each target that has its plane already."""

    stack: Stack
    windows: tuple[Window, ...]

    @cached_property
    def gates(self) -> dict[int, Gate]:
        """By a joint's number, the sums below and above it; others are free."""
        return find_gates(self.stack, self.windows)

    def within(self, rank: int, radius: int) -> Case | None:
        """Return the case with one window narrowed; None where nothing is left."""
        window = self.windows[rank].within(radius)
        if window is None:
            return None
        windows = (*self.windows[:rank], window, *self.windows[rank + 1 :])
        return Case(self.stack, windows)


@dataclass(frozen=True)
class Candidate:
    """A stack of which the answer may be made."""

    stack: Stack

    @cached_property
    def settled(self) -> tuple[tuple[int, ...], tuple[Case, ...]]:
        """Its least misses by rank, and the cases that have them.

        Each target in turn gets the nearest plane that the targets before it leave.
        Where two planes are equally near the head, soldiers stand on the lower one.
        """
        misses: tuple[int, ...] = ()
        cases: tuple[Case, ...] = (Case(self.stack, ()),)
        for rank in range(len(self.stack.problem.targets)):
            found = [taken for case in cases if (taken := _take_plane(case, rank))]
            least = min((miss for miss, _ in found), default=0)
            cases = tuple(c for miss, taken in found if miss == least for c in taken)
            misses += (least,)
        return misses, cases

    @property
    def lands(self) -> bool:
        """Whether it can meet every target; the first that it can't settles that."""
        cases = [Case(self.stack, ())]
        for rank in range(len(self.stack.problem.targets)):
            found = [taken for case in cases if (taken := _take_plane(case, rank))]
            cases = [each for miss, taken in found if not miss for each in taken]
        return bool(cases)


def list_candidates(problem: Problem) -> tuple[Candidate, ...]:
    """List every stack that the answer could be made of."""
    return tuple(Candidate(stack) for stack in list_stacks(problem))


def least_misses(
    candidates: Iterable[Candidate],
) -> tuple[tuple[int, ...], tuple[Case, ...]]:
    """Find the least misses, rank by rank, and every case that has them.

    Args:
        candidates: what to choose from, one at least.

    Returns:
        The misses, none within the tolerance counted, and the cases.
    """
    best: tuple[int, ...] | None = None
    cases: tuple[Case, ...] = ()
    for candidate in sorted(candidates, key=lambda candidate: candidate.stack.bound):
        if best is not None and candidate.stack.bound > best[:2]:
            break
        misses, found = candidate.settled
        if found and (best is None or misses < best):
            best, cases = misses, ()
        if misses == best:
            cases += found
    return best or (), cases


def can_land(problem: Problem) -> bool:
    """Whether all targets can be met at once, each within its tolerance."""
    for candidate in list_candidates(problem):
        # The top rules most stacks out, and is quick to work out.
        if (
            not candidate.stack.top_bound
            and candidate.stack.bound == (0, 0)
            and candidate.lands
        ):
            return True
    return False


def _take_plane(case: Case, rank: int) -> tuple[int, list[Case]] | None:
    """Return the least miss of one target, and the cases that come so near to it.

    None where no joints keep to the windows that there are already.
    """
    target, at = _wanted(case, rank)
    levels = set(_near_levels(case, target, at))
    if not levels:
        return None
    miss = target.counted(min(abs(level - target.level) for level in levels))
    radius = miss or target.tolerance
    if rank == 0 and case.stack.problem.head_is != "plane":
        # What stands on the head depends on its level, so each level is its own case.
        windows = [
            Window(target, level, level, at, min(level, 2 * target.level - level))
            for level in sorted(levels)
            if abs(level - target.level) <= radius
        ]
    else:
        least, most = target.level - radius, target.level + radius
        if miss and not target.binds:
            # Any level will do.
            least, most = 0, max(target.level, case.stack.highest)
        windows = [Window(target, least, most, at, least)]
    return miss, [Case(case.stack, (*case.windows, window)) for window in windows]


def _wanted(case: Case, rank: int) -> tuple[Target, int]:
    """Return a target, with its level, and which joint must lead to it; 0 for any."""
    problem = case.stack.problem
    target = problem.targets[rank]
    if rank == 0:
        return target, case.stack.soldier_at
    if rank == 1:
        return target, case.stack.joints
    if target.band:
        return target, case.stack.firsts[target.band - 1] or 0
    if rank == 2 and problem.head_is == "soldiers beside courses":
        head = case.windows[0].least
        return replace(target, level=head + target.level), 0
    return target, 0


def _near_levels(case: Case, target: Target, at: int) -> Iterator[int]:
    """Yield the levels next to a target, below and above, that a plane can have."""
    stack, step = case.stack, case.stack.problem.step
    joints = stack.around(target.kind, target.level, target.level)
    for joint, sums in _attained(case, range(at, at + 1) if at else joints):
        offset = stack.offset(target.kind, joint)
        last_below = (target.level - offset) // step
        below = sums & between(0, last_below)
        if below:
            yield (below.bit_length() - 1) * step + offset
        first = max(0, last_below + 1)
        above = sums >> first
        if above:
            yield (first + (above & -above).bit_length() - 1) * step + offset


def _attained(case: Case, joints: range) -> Iterator[tuple[int, int]]:
    """Yield for each of some joints the sums that all joints up to it can have."""
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
    """Return all sums that are at most `width` more than one of those given."""
    done = 0
    while done < width:
        more = min(done + 1, width - done)
        sums |= sums << more
        done += more
    return sums
