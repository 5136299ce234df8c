"""Walls of the usual size, too large to be searched one by one, judged once more.

The judge is the brute force's: what the solver says of its answer is true of it.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopdraw.masonry.bond import solve
from shopdraw.masonry.bond.plan import BondPlan, plan_bond
from shopdraw.masonry.bond.solve import SolvedBond, solve_bond
from shopdraw.masonry.bonding.answer import solve_front
from shopdraw.masonry.bonding.unlike_courses import UnlikeCourses
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.heads.soldiers import lay_soldiers
from shopdraw.masonry.wall.surround import trace_surround
from tests.longer import mostly_long
from tests.masonry.bonding.brute_walls import judged_again
from tests.random_walls import WallKind, job_of

UNLIKE = {"half": 0, "English": 1}
MIRRORED = {
    "half": 0, "third": 0, "quarter": 1, "stack": 0, "English": 0, "Flemish": 1,
    "common": 0,
}  # fmt: skip
"""By bond, a seed that is quick to solve."""
BESIDE = WallKind("English"), 4003
"""Its soldiers pass the jambs."""
WALLS = (
    *((WallKind(bond), seed) for bond, seed in MIRRORED.items()),
    (WallKind("common", header_every=5), 0),
    BESIDE,
    *((WallKind(bond, is_mirrored=False), seed) for bond, seed in UNLIKE.items()),
)


def plan_of(kind: WallKind, seed: int) -> BondPlan:
    """Return what there is to solve of a random wall."""
    job = job_of(kind, seed)
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    soldiers = lay_soldiers(job, surround, coursing)
    return plan_bond(job, surround, coursing, soldiers.brick_stops)


def solved(kind: WallKind, seed: int) -> SolvedBond:
    """Return a random wall's bond as it is solved."""
    return solve_bond(plan_of(kind, seed))


HALF = WallKind("half", is_mirrored=False), UNLIKE["half"]
"""It takes longest; what damage does to it is seen below."""


@pytest.mark.parametrize(
    ("kind", "seed"), mostly_long(WALLS, *(x for x in WALLS if x != HALF)), ids=str
)
def test_a_wall_is_judged_as_the_solver_says(kind: WallKind, seed: int) -> None:
    for face, ours, theirs in judged_again(solved(kind, seed)):
        assert tuple(ours) == tuple(theirs), face


@pytest.mark.parametrize(
    ("wall", "zone", "face"),
    [((WallKind("half"), 0), "left leg", "front"), (BESIDE, *["right beside"] * 2)],
)
def test_a_joint_that_stands_elsewhere_is_judged_otherwise(
    wall: tuple[WallKind, int], zone: str, face: str
) -> None:
    bond = solved(*wall)
    zones = dict(bond.zones)
    row = zones[zone][0]
    (a, b), (c, d), *rest = row.pieces
    step = bond.plan.sizes.joints.step
    moved = replace(row, pieces=((a, b + step), (c + step, d), *rest))
    zones[zone] = {**zones[zone], 0: moved}
    found = {x: (o, t) for x, o, t in judged_again(replace(bond, zones=zones))}
    assert found[face][0] != found[face][1]


def test_courses_over_legs_that_only_are_like_those_laid_are_seen(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # What was solved before is known: here it is solved once more.
    monkeypatch.setattr(solve, "_front", solve_front)
    lay = UnlikeCourses._laid_out
    monkeypatch.setattr(
        UnlikeCourses, "_laid_out", lambda self, kind, some, extra, *_: lay(
            self, kind, some, extra
        ),
    )  # fmt: skip
    ((_, ours, theirs), *_) = judged_again(solved(*HALF))
    assert tuple(ours) != tuple(theirs)
