"""Say at a glance how a job stands: what landed, what failed, what is not checked.

In:  `Solution`.   Out: `Glance`.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.page import Glance
from shopdraw.solution import Solution
from shopdraw.views.page.lists import landed, not_passed
from shopdraw.views.parts.stamps import drawn_from, stamps


def make_glance(solution: Solution) -> Glance:
    """Return what is told of a job beside its drawing, or in a list of jobs."""
    job = solution.job
    return Glance(
        title=plain(job.job.name),
        mark=drawn_from(job).mark,
        revision=job.job.revision,
        stamps=stamps(solution),
        landed=landed(solution),
        lists=tuple(not_passed(solution)),
    )
