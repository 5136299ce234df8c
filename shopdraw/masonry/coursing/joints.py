"""Choose the joints: of all that meet the targets as nearly, the best by merit.

In:  `Case`s with the least misses.   Out: `ChosenJoints`, every joint in steps.
Frame: as `stack`. Joints are whole steps, numbered from the bottom one up; jumps and
departures are whole numbers of the grid.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate
from math import inf
from typing import NoReturn

from shopdraw.masonry.coursing.planes import Case
from shopdraw.masonry.coursing.problem import Problem, Target
from shopdraw.masonry.coursing.windows import FREE, Gate

Row = dict[int, int]
"""For each thickness of one joint: the sums below it that the rest can go on from."""
Node = tuple[int, int, int]
"""A joint's thickness, the sum up to it, and how many changes may follow above it."""
Order = tuple[int, int, int]
"""Changes, the bottom joint's departure, the total departure of the others."""


@dataclass(frozen=True)
class ChosenJoints:
    """The joints of one stack, in steps, from the bottom one up."""

    case: Case
    joints: tuple[int, ...]


@dataclass(frozen=True)
class Room:
    """How thick the joints may be, in steps, and how far apart, on the grid."""

    problem: Problem
    bottoms: tuple[int, ...]
    beds: tuple[int, ...]
    jump: int

    @property
    def most_departure(self) -> int:
        """How far off the preferred a bed joint may be."""
        return max(self.departure(bed) for bed in self.beds)

    @property
    def has_narrow(self) -> bool:
        """Whether a bed joint may be so far off by being narrower."""
        narrow = self.problem.preferred - self.most_departure
        return self.most_departure > 0 and min(self.beds) * self.problem.step == narrow

    def departure(self, joint: int) -> int:
        """Return how far off the preferred a joint is."""
        return abs(joint * self.problem.step - self.problem.preferred)

    @cached_property
    def above_bed(self) -> dict[int, tuple[int, ...]]:
        """For each bed joint, those that may come next above it."""
        most = 1 + self.jump // self.problem.step
        return {j: tuple(k for k in self.beds if abs(k - j) <= most) for j in self.beds}

    @cached_property
    def above_bottom(self) -> dict[int, tuple[int, ...]]:
        """For each bottom joint, the bed joints that may come next above it."""
        if self.problem.first_most is not None:
            beds = tuple(bed for bed in self.beds if bed <= self.problem.first_most)
            return dict.fromkeys(self.bottoms, beds)
        if self.problem.unseen is None:
            return dict.fromkeys(self.bottoms, self.beds)
        most = (self.problem.unseen + self.jump) // self.problem.step
        return {
            j: tuple(k for k in self.beds if abs(k - j) <= most) for j in self.bottoms
        }


def choose_joints(problem: Problem, cases: tuple[Case, ...]) -> ChosenJoints:
    """Return the best joints; of equals, those with the wider joint lower down.

    Args:
        problem: what is asked.
        cases: every stack and set of windows with the least misses.
    """
    room, cases = room_needed(problem, cases)
    order, choice = _best(room, cases) or _nothing()
    for rank, target in enumerate(problem.targets):
        while 0 < (miss := _raw_miss(choice, rank)) <= _most(target):
            closer = _within(cases, rank, miss - 1)
            found = _best(room, closer, order)
            if found is None:
                break
            cases, choice = closer, found[1]
        cases = _within(cases, rank, miss)
    return choice


def _most(target: Target) -> float:
    """Return how large a miss may be that nothing before the ties counted."""
    return target.tolerance if target.binds else inf


def _within(cases: tuple[Case, ...], rank: int, radius: int) -> tuple[Case, ...]:
    closer = (case.within(rank, radius) for case in cases)
    return tuple(case for case in closer if case is not None)


def _raw_miss(choice: ChosenJoints, rank: int) -> int:
    """Return how far off a target its plane is, whatever the tolerance."""
    stack, window = choice.case.stack, choice.case.windows[rank]
    level = window.target.level
    kind, sums = window.target.kind, list(accumulate(choice.joints))
    return min(
        abs(sums[joint - 1] * stack.problem.step + stack.offset(kind, joint) - level)
        for joint in stack.planes(kind)
        if window.at in (0, joint)
    )


def _nothing() -> NoReturn:
    message = "a stack that keeps its windows has joints"
    raise AssertionError(message)


def room_needed(
    problem: Problem, cases: tuple[Case, ...]
) -> tuple[Room, tuple[Case, ...]]:
    """Find the least jump, then the least departure, that any case can do with."""
    bottoms, beds = (
        tuple(range(least, most + 1)) for least, most in (problem.bottom, problem.bed)
    )
    room = Room(problem, bottoms, beds, 0)
    room, cases = _first_that_does(_by_jump(room), cases)
    return _first_that_does(_by_departure(room), cases)


def _first_that_does(
    rooms: Iterator[Room], cases: tuple[Case, ...]
) -> tuple[Room, tuple[Case, ...]]:
    for room in rooms:
        can = tuple(c for c in cases if _starts(c, room, _rows(c, room)))
        if can:
            return room, can
    _nothing()


def _by_jump(room: Room) -> Iterator[Room]:
    """Yield the room with each jump that is possible, the least first."""
    step, unseen = room.problem.step, room.problem.unseen
    jumps = {max(0, bed - room.beds[0] - 1) * step for bed in room.beds}
    if unseen is not None:
        apart = {abs(bed - bottom) for bed in room.beds for bottom in room.bottoms}
        jumps |= {max(0, steps * step - unseen) for steps in apart}
    for jump in sorted(jumps):
        yield replace(room, jump=jump)


def _by_departure(room: Room) -> Iterator[Room]:
    """Yield the room with each departure, the least first, the narrow joint after."""
    for most in sorted({room.departure(bed) for bed in room.beds}):
        beds = tuple(bed for bed in room.beds if room.departure(bed) <= most)
        narrow = room.problem.preferred - most
        wider = tuple(bed for bed in beds if bed * room.problem.step > narrow)
        if wider and wider != beds and most:
            yield replace(room, beds=wider)
        yield replace(room, beds=beds)


def _best(
    room: Room, cases: tuple[Case, ...], order: Order | None = None
) -> tuple[Order, ChosenJoints] | None:
    """Return the joints with the fewest changes, then the least departures.

    Args:
        room: how thick the joints may be.
        cases: the stacks and windows to choose from.
        order: what must be reached exactly; None where the least is looked for.
    """
    layers: list[list[list[Row]]] = [[] for _ in cases]
    nothing = dict.fromkeys(room.beds, 0)
    changes = 0
    while cases:
        can = []
        for case, layer in zip(cases, layers, strict=True):
            fewer = layer[-1] if layer else [nothing] * case.stack.joints
            layer.append(_rows(case, room, fewer))
            starts = _starts(case, room, layer[-1])
            if starts:
                can.append((case, layer, starts))
        if can:
            found = min(
                (_cheapest(case, room, layer, starts) for case, layer, starts in can),
                key=lambda found: (found[0], [-joint for joint in found[1].joints]),
            )
            reached = (changes, *found[0])
            return (reached, found[1]) if order in (None, reached) else None
        if order is not None and changes == order[0]:
            break
        changes += 1
    return None


def _rows(case: Case, room: Room, fewer: list[Row] | None = None) -> list[Row]:
    """Work down from the last joint: from which sums can the rest go on?

    Args:
        case: the stack and its windows.
        room: how thick the joints may be.
        fewer: the rows with one change fewer, so that these have one more at most;
            None where there may be any number of changes.

    Returns:
        A row for what lies beyond the last joint, then one for each joint from the last
        down to the second.
    """
    rows = [dict.fromkeys(room.beds, -1)]
    for number in range(case.stack.joints, 1, -1):
        same = rows[-1]
        other = same if fewer is None else fewer[len(rows) - 1]
        gate = case.gates.get(number)
        row = {}
        for joint, above in room.above_bed.items():
            sums = same[joint]
            for bed in above:
                sums |= other[bed]
            row[joint] = sums >> joint if gate is None else _below(gate, sums, joint)
        rows.append(row)
        if not any(row.values()):
            rows += [row] * (number - 2)
            break
    return rows


def _below(gate: Gate, sums: int, joint: int) -> int:
    """Return the sums below one joint that it takes, through its gate, to others."""
    below = 0
    for before, after in gate:
        below |= (sums & after) >> joint & before
    return below


def _starts(case: Case, room: Room, rows: list[Row]) -> list[int]:
    """Return the bottom joints that all joints above can go on from."""
    starts = []
    for bottom, above in room.above_bottom.items():
        sums = -1 if case.stack.joints == 1 else 0
        for bed in above:
            sums |= rows[-1][bed]
        if _below(case.gates.get(1, FREE), sums, bottom) & 1:
            starts.append(bottom)
    return starts


def _cheapest(
    case: Case, room: Room, layers: list[list[Row]], starts: list[int]
) -> tuple[tuple[int, int], ChosenJoints]:
    """Return the joints with the least departures, the bottom joint's counted first.

    Args:
        case: the stack and its windows.
        room: how thick the joints may be.
        layers: the rows, by how many changes may still follow.
        starts: the bottom joints that the rest can go on from.
    """
    nearest = min(room.departure(bottom) for bottom in starts)
    floor = [
        (bottom, bottom, len(layers) - 1)
        for bottom in starts
        if room.departure(bottom) == nearest
    ]
    floors: list[dict[Node, list[Node]]] = []
    for joint in range(1, case.stack.joints):
        rows = [layer[case.stack.joints - joint] for layer in layers]
        ways = {node: list(_next(node, joint == 1, room, rows)) for node in floor}
        floors.append(ways)
        floor = list({node: None for above in ways.values() for node in above})
    costs: dict[Node, int] = dict.fromkeys(floor, 0)
    above_costs = [costs]
    for ways in reversed(floors):
        costs = {
            node: min(room.departure(up[0]) + costs[up] for up in above)
            for node, above in ways.items()
        }
        above_costs.append(costs)
    above_costs.reverse()
    node = min(above_costs[0], key=lambda n: (above_costs[0][n], -n[0]))
    total, joints = above_costs[0][node], [node[0]]
    for ways, costs in zip(floors, above_costs[1:], strict=True):
        node = min(ways[node], key=lambda n: (room.departure(n[0]) + costs[n], -n[0]))
        joints.append(node[0])
    return (nearest, total), ChosenJoints(case, tuple(joints))


def _next(node: Node, at_bottom: bool, room: Room, rows: list[Row]) -> Iterator[Node]:
    """Yield the joints that may come next above one and let the rest go on."""
    joint, total, left = node
    for bed in room.above_bottom[joint] if at_bottom else room.above_bed[joint]:
        changes = left - (bed != joint and not at_bottom)
        if changes >= 0 and rows[changes][bed] >> total & 1:
            yield bed, total + bed, changes
