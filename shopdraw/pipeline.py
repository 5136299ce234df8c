"""The order of the stages, nothing else.

In:  `Job`.   Out: `Solution`, then `DrawingSet`.
Frame: each stage says its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.job.model import Job
from shopdraw.masonry.bond import lay_bond
from shopdraw.masonry.coursing import Coursing, solve_coursing
from shopdraw.masonry.layout import CutListRow, Layout
from shopdraw.masonry.pieces import list_cuts
from shopdraw.masonry.proof import prove_layout
from shopdraw.masonry.surround import Surround, trace_surround
from shopdraw.masonry.ways import WayOut, find_ways_out
from shopdraw.quantities.takeoff import Takeoff, take_off
from shopdraw.review.clearances import review_clearances
from shopdraw.review.findings import Finding


@dataclass(frozen=True)
class Solution:
    """What `check` and every view may want: the wall, solved and reviewed."""

    job: Job
    surround: Surround
    coursing: Coursing
    ways_out: tuple[WayOut, ...]
    layout: Layout
    cut_list: tuple[CutListRow, ...]
    findings: tuple[Finding, ...]
    takeoff: Takeoff


def solve(job: Job) -> Solution:
    """Solve a job: what is to be built, whether it may be, and what it takes."""
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    ways_out = find_ways_out(job, surround, coursing)
    layout = prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))
    cut_list = list_cuts(job, layout)
    findings = review_clearances(job, surround, coursing, layout)
    takeoff = take_off(job, surround, coursing, layout)
    return Solution(
        job, surround, coursing, ways_out, layout, cut_list, findings, takeoff
    )
