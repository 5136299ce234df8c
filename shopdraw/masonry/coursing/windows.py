"""Say what each joint may lead to, so that the courses step over no target.

In:  `Stack`, a `Window` for each target.   Out: a `Gate` for each joint they limit.
Frame: as `stack`. A set of sums is one integer, bit s standing for the sum s.

A target is not tied to one course. It is a window of levels, and no joint may lead from
below the window to beyond it without a plane in it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from shopdraw.masonry.coursing.problem import Span, Target
from shopdraw.masonry.coursing.stack import Stack

Gate = tuple[tuple[int, int], ...]
"""For one joint, pairs: sums before it, and the sums after it that they may lead to."""
FREE: Gate = ((-1, -1),)


@dataclass(frozen=True)
class Window:
    """The levels that one target's plane may have; the stack may not step over them.

    Attributes:
        target: the target, at the level wanted.
        least, most: the lowest and the highest of those levels.
        at: the joint that must lead to it; 0 where any may.
        clear: from this level up to `least` there must be no plane, because it would be
            as near to the target, and of two equally near the lower one counts.
    """

    target: Target
    least: int
    most: int
    at: int
    clear: int

    def cleared(self) -> Window:
        """Return the window widened down to where no plane may be."""
        return replace(self, least=self.clear)

    def within(self, radius: int) -> Window | None:
        """Return the window narrowed to that distance; None where nothing is left."""
        least = max(self.least, self.target.level - radius)
        most = min(self.most, self.target.level + radius)
        if least > most:
            return None
        return replace(
            self, least=least, most=most, clear=self.clear + least - self.least
        )


def find_gates(stack: Stack, windows: tuple[Window, ...]) -> dict[int, Gate]:
    """Return, by its number, what each limited joint may lead from and to."""
    joints = {stack.joints} if windows else set()
    for window in windows:
        if window.at:
            joints.add(window.at)
        if not window.at or window.clear < window.least:
            kind = window.target.kind
            joints.update(stack.around(kind, window.clear, window.least))
    return {joint: _gate(stack, windows, joint) for joint in sorted(joints)}


def _gate(stack: Stack, windows: tuple[Window, ...], joint: int) -> Gate:
    """Return what one joint may lead from and to without stepping over a window."""
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
    """Sort the sums before a joint by the windows that they have not reached yet.

    Args:
        not_yet: for each window, sorted: the sum from which it is reached, and the sum
            that lower ones may not go beyond.
        after: the sums that the joint may lead to at all.
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
    """Return the first and the last sum with a plane in the window."""
    if joint not in stack.planes(window.target.kind):
        return 0, -1
    offset = stack.offset(window.target.kind, joint)
    step = stack.problem.step
    return -((offset - window.least) // step), (window.most - offset) // step


def between(first: int, last: int) -> int:
    """Return the set of sums from `first` to `last`, none of them below zero."""
    first = max(0, first)
    return ((1 << last - first + 1) - 1) << first if last >= first else 0
