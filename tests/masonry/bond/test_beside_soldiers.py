"""Legs beside soldiers break no rule where the legs below them can do something."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopdraw.masonry.bond import solve
from shopdraw.masonry.bond.beside import Bearing
from shopdraw.masonry.bond.plan import plan_bond
from shopdraw.masonry.bonding.answer import solve_front
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.heads.soldiers import lay_soldiers
from shopdraw.masonry.rows.merit import FAILS
from shopdraw.masonry.wall.surround import trace_surround
from tests.masonry.bonding.brute_walls import judged_again
from tests.random_walls import WallKind, job_of

WALLS = {
    # On the best front a course of headers, 240 mm wide, has a joint 37.5 mm from one
    # of the leg's, and 48 are asked for. With another joint in the leg there are 60.
    "unlike legs": (WallKind("common", is_mirrored=False), 40, {"right beside"}),
    "mirrored": (WallKind("half"), 107, {"left beside", "right beside"}),
}


@pytest.mark.parametrize("is_damaged", [False, True])
@pytest.mark.parametrize("name", WALLS)
def test_the_front_is_asked_for_legs_that_bear_what_is_beside_soldiers(
    monkeypatch: pytest.MonkeyPatch, name: str, is_damaged: bool
) -> None:
    kind, seed, where = WALLS[name]
    job = job_of(kind, seed)
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    stops = lay_soldiers(job, surround, coursing).brick_stops
    monkeypatch.setattr(solve, "_front", solve_front)
    if is_damaged:
        monkeypatch.setattr(Bearing, "__call__", lambda *some: some[-1])
    # What lies over the soldiers takes the time, and has no part in it.
    plan = replace(plan_bond(job, surround, coursing, stops), over=())
    solved = solve.solve_bond(plan)
    broken = {name for name, x in solved.faces.items() if any(x.merit[:FAILS])}
    assert broken == (where if is_damaged else set())
    assert all(ours == theirs for _, ours, theirs in judged_again(solved))
