"""What was solved, in one form: all that views, reports and records need.

In:  nothing.   Out: `Solution`.
Frame: each of its parts says its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.job.model import Job
from shopdraw.lengths import Lengths
from shopdraw.masonry.coursing.form import Coursing, WayOut
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.marks.form import Follows, Strip, Variation
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import CutListRow, Layout, Piece
from shopdraw.quantities.cutting import CutPlan
from shopdraw.quantities.estimate import Estimate
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.quantities.schedule import Step
from shopdraw.quantities.takeoff import Takeoff
from shopdraw.review.findings import KEYS, Finding, Key
from shopdraw.review.opening import Openings


@dataclass(frozen=True, eq=False)
class Solution:
    """The wall, solved, reviewed and counted: each figure is worked out once, here.

    Two solutions are never equal, so that what was set out of one can be kept.

    Attributes:
        job: what was asked.
        surround: the faces, finished and as found.
        coursing: every course and every bed joint.
        ways_out: where the courses do not land, changes that would make them.
        layout: every piece of the faces.
        hearth: the hearth laid in brick; None where the job has none.
        cut_list: like pieces together, one row for each mark.
        variation: what a sample of the brick means for the plan; None without one.
        rule_marks: for each course, the mark of the mason's rule that it follows; empty
            where the job has no such marks.
        strips: where the marks of the story pole and of the setting-out rods are.
        openings: the opening as found and as finished.
        findings: what was reviewed, and with what result.
        cut_plan: what is sawn from which whole unit.
        takeoff: what to buy.
        estimate: hours, cost and price, as far as the job gives their figures.
        fabrication: what the fabricator makes, with spares.
        schedule: what may be done, and from which day on.
    """

    job: Job
    surround: Surround
    coursing: Coursing
    ways_out: tuple[WayOut, ...]
    layout: Layout
    hearth: BrickHearth | None
    cut_list: tuple[CutListRow, ...]
    variation: Variation | None
    rule_marks: tuple[Follows, ...]
    strips: tuple[Strip, ...]
    openings: Openings
    findings: tuple[Finding, ...]
    cut_plan: CutPlan
    takeoff: Takeoff
    estimate: Estimate
    fabrication: tuple[FabricationRow, ...]
    schedule: tuple[Step, ...]

    @property
    def lengths(self) -> Lengths:
        """What its lengths are measured in."""
        return self.job.lengths

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Every piece, of the faces and of the hearth."""
        more = self.hearth.layout.pieces if self.hearth else ()
        return (*self.layout.pieces, *more)

    def row(self, key: Key, about: str | int = "") -> tuple[int, Finding] | None:
        """Return a finding and its number, from 1; None where the job has none.

        Args:
            key: of its rule.
            about: the side, or the place in the job file, that the rule asks about.

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
