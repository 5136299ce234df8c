"""The coursing answer against a general solver, objective by objective.

A hundred random jobs here; a thousand, by two solvers: `python -m tests.bench solvers`.
"""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest

from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.wall.surround import trace_surround
from tests.longer import mostly_long
from tests.masonry.coursing.general_solver import OBJECTIVES, any_job, compare


def equally_near_job(stack_job, seed):
    """A head halfway between two planes of a stack whose joints can hardly give."""
    pick = random.Random(seed)
    height = pick.choice([Fraction(9, 4), Fraction(13, 8)])
    joint = Fraction(3, 8)
    bottom = pick.choice([joint, Fraction(1, 4)])
    below = pick.randint(1, 4)
    most = pick.choice([joint, joint, Fraction(7, 16)])
    return stack_job(
        brick__height=f"{height} in",
        brick__length=f"{pick.randint(60, 130)}/16 in",
        joints__bed={"preferred": "3/8 in", "least": "3/8 in", "most": f"{most} in"},
        joints__bottom={"least": f"{bottom} in", "most": "3/8 in"},
        face__height=f"{pick.randint(190, 300)}/16 in",
        face__top_meets=pick.choice(["top", "underside"]),
        opening__height=f"{bottom + (below - Fraction(1, 2)) * (height + joint)} in",
        opening__head="soldier",
        opening__head_over=pick.choice(["opening", "face"]),
    )


@pytest.mark.parametrize("first", mostly_long(range(0, 100, 20), 0, 20))
def test_the_coursing_is_as_good_as_the_general_solvers(stack_job, first):
    for seed in range(first, first + 20):
        job = any_job(stack_job, seed)
        coursing = solve_coursing(job, trace_surround(job))
        assert compare(job, coursing) == [], f"seed {seed}"


@pytest.mark.parametrize("first", range(0, 40, 20))
def test_heads_halfway_between_two_planes_are_settled_alike(stack_job, first):
    for seed in range(first, first + 20):
        job = equally_near_job(stack_job, seed)
        coursing = solve_coursing(job, trace_surround(job))
        assert compare(job, coursing) == [], f"seed {seed}"


def test_the_random_jobs_land_and_miss_in_fair_numbers(stack_job):
    jobs = [any_job(stack_job, seed) for seed in range(100)]
    landed = [solve_coursing(job, trace_surround(job)).lands for job in jobs]
    assert 25 < sum(landed) < 75


def test_the_comparison_sees_one_joint_a_step_too_wide(stack_job):
    job = any_job(stack_job, 0)
    coursing = solve_coursing(job, trace_surround(job))
    first, *rest = coursing.joints
    damaged = replace(coursing, joints=(first + job.joints.step, *rest))
    assert compare(job, damaged) == ["joints"]


@pytest.mark.parametrize("name", OBJECTIVES)
def test_the_comparison_sees_each_objective_made_worse(stack_job, name):
    job = any_job(stack_job, 0)
    coursing = solve_coursing(job, trace_surround(job))
    worse = replace(coursing.merit, **{name: getattr(coursing.merit, name) + 1})
    assert compare(job, replace(coursing, merit=worse)) == [name]


def test_the_comparison_sees_a_miss_that_is_not_there(stack_job):
    job = any_job(stack_job, 0)
    coursing = solve_coursing(job, trace_surround(job))
    first, *rest = coursing.merit.misses
    worse = replace(coursing.merit, misses=(first + 1, *rest))
    assert compare(job, replace(coursing, merit=worse)) == ["misses"]
