"""The order of the stages, nothing else.

In:  `Job`.   Out: `Solution`, then `DrawingSet`.
Frame: each stage says its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.job.model import Job
from shopdraw.masonry.coursing import Coursing
from shopdraw.masonry.layout import CutListRow, Layout
from shopdraw.masonry.surround import Surround
from shopdraw.masonry.ways import WayOut
from shopdraw.quantities.takeoff import Takeoff
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
