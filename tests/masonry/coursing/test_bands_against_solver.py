"""Courses of their own heights: the coursing against a general solver, and by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopdraw.errors import NotLaid
from shopdraw.masonry.coursing.solve import best_coursing, state_rest
from shopdraw.masonry.wall.surround import trace_surround
from tests.longer import mostly_long
from tests.masonry.coursing.band_jobs import any_banded_job
from tests.masonry.coursing.general_solver import compare


def coursing_of(job):
    """Return the best coursing; None where two bands would be one course."""
    try:
        return best_coursing(job, state_rest(job, trace_surround(job)))
    except NotLaid:
        return None


@pytest.mark.parametrize("first", mostly_long(range(0, 60, 20), 0))
def test_bands_are_coursed_as_well_as_by_the_general_solver(stack_job, first):
    held = 0
    for seed in range(first, first + 20):
        job = any_banded_job(stack_job, seed)
        coursing = coursing_of(job)
        if coursing is not None:
            assert compare(job, coursing) == [], f"seed {seed}"
            held += bool(coursing.bands())
    assert held >= 8


def test_the_comparison_sees_a_band_one_joint_too_high(stack_job):
    job = next(
        job
        for seed in range(50)
        if (job := any_banded_job(stack_job, seed)).band and coursing_of(job)
    )
    coursing = coursing_of(job)
    first, *rest = coursing.joints
    damaged = replace(coursing, joints=(first + job.joints.step, *rest))
    assert compare(job, damaged) == ["joints"]
