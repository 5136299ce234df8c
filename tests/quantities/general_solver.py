"""The cut list as constraints, for a general solver to answer.

It is given every way to fill a unit and finds how often each is taken.
"""

from __future__ import annotations

from collections import Counter

from ortools.sat.python import cp_model

from shopdraw.quantities.cutting import ENDS, Need
from tests.masonry.coursing.general_solver import Solver, by_cp_sat


def ways(left: Counter[Need], room: int, kerf: int) -> list[list[Need]]:
    """Return every way to fill one unit."""
    rest, found = sorted(left), []

    def add(unit: list[Need], start: int) -> None:
        if unit:
            found.append(unit)
        for place in range(start, len(rest)):
            more = [*unit, rest[place]]
            if (
                sum(need.length + kerf for need in more) <= room
                and sum(need.ends for need in more) <= ENDS
                and more.count(rest[place]) <= left[rest[place]]
            ):
                add(more, place)

    add([], 0)
    return found


def fewest(needs: list[Need], room: int, kerf: int, solver: Solver = by_cp_sat) -> int:
    """Return the fewest units, as a general solver has it."""
    left = Counter(needs)
    units = ways(left, room, kerf)
    model = cp_model.CpModel()
    used = [model.new_int_var(0, len(needs), "") for _ in units]
    for need, count in left.items():
        given_by = [n * unit.count(need) for n, unit in zip(used, units, strict=True)]
        model.add(sum(given_by) == count)
    model.minimize(sum(used))
    return sum(solver(model))
