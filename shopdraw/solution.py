"""What was solved, in one form: the one thing that views, reports and records take.

In:  nothing.   Out: `Solution`.
Frame: each of its parts says its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.job.model import Job
from shopdraw.lengths import Lengths
from shopdraw.masonry.coursing.form import Coursing, WayOut
from shopdraw.masonry.marks.form import Follows, Strip, Variation
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import CutListRow, Layout
from shopdraw.quantities.cutting import CutPlan
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.quantities.schedule import Step
from shopdraw.quantities.takeoff import Takeoff
from shopdraw.review.findings import KEYS, Finding, Key
from shopdraw.review.opening import Openings


@dataclass(frozen=True)
class Solution:
    """The wall, solved, reviewed and counted: everything is reckoned once.

    Attributes:
        job: what was asked.
        surround: the faces, finished and as found.
        coursing: every course and every bed joint.
        ways_out: what would make the courses land, where they do not.
        layout: every piece.
        cut_list: like pieces together, a row a mark.
        variation: what a sample of the brick does to the plan; None without one.
        rule_marks: the mark of the mason's rule that each course follows, if any.
        strips: where the marks of the story pole and of the level rods stand.
        openings: as found and as finished.
        findings: what was held against which limit.
        cut_plan: what is sawn from which whole unit.
        takeoff: what to buy.
        fabrication: what the fabricator makes, with spares.
        schedule: from which day on what may be done.
    """

    job: Job
    surround: Surround
    coursing: Coursing
    ways_out: tuple[WayOut, ...]
    layout: Layout
    cut_list: tuple[CutListRow, ...]
    variation: Variation | None
    rule_marks: tuple[Follows, ...]
    strips: tuple[Strip, ...]
    openings: Openings
    findings: tuple[Finding, ...]
    cut_plan: CutPlan
    takeoff: Takeoff
    fabrication: tuple[FabricationRow, ...]
    schedule: tuple[Step, ...]

    @property
    def lengths(self) -> Lengths:
        """What its lengths are measured in."""
        return self.job.lengths

    def row(self, key: Key, about: str | int = "") -> tuple[int, Finding] | None:
        """Return a finding and its number, from 1; None where the job has none.

        Args:
            key: of its rule.
            about: the side, or the place in the job file, that it is about.

        Raises:
            KeyError: no rule has such a key.
        """
        if key not in KEYS:
            raise KeyError(key)
        for number, finding in enumerate(self.findings, start=1):
            if (finding.rule.key, finding.rule.about) == (key, about):
                return number, finding
        return None

    def finding(self, key: Key, about: str | int = "") -> Finding | None:
        """Return a finding; None where the job has none. Raises as `row` does."""
        row = self.row(key, about)
        return None if row is None else row[1]

    @property
    def is_clear(self) -> bool:
        """Whether every target lands and no finding failed."""
        failed = any(finding.status == "failed" for finding in self.findings)
        return self.coursing.lands and not failed
