"""The coursing solver, for a job built from what a test changes in the usual one."""

from __future__ import annotations

import pytest

from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.wall.surround import trace_surround


@pytest.fixture(scope="session")
def solve(stack_job):
    """Solve a job built from what a test changes in the usual one."""

    def solved(lengths="in", /, **changes):
        job = stack_job(lengths, **changes)
        return solve_coursing(job, trace_surround(job))

    return solved
