"""Solve the coursing: how many courses, and how thick each bed joint.

In:  `Job`, `Surround`.   Out: `Coursing`.
Frame: the job's lengths, y up from the datum; solved as integers on one grid.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from shopdraw.job.model import Job, Meets
from shopdraw.masonry.surround import Surround

CourseKind = Literal["running", "soldier"]


@dataclass(frozen=True)
class Course:
    """One course: the bed joint below it, its bottom and its top, from the datum."""

    number: int
    kind: CourseKind
    bed_joint: Fraction
    bottom: Fraction
    top: Fraction

    @property
    def height(self) -> Fraction:
        """The height of its brick."""
        return self.top - self.bottom


@dataclass(frozen=True)
class TargetMet:
    """A target and the plane it took.

    Attributes:
        name: "opening head", "top", "soldier top", or the job's own.
        meets: "underside" or "top".
        wanted, got: levels from the datum.
        tolerance: a miss up to this counts as none.
    """

    name: str
    meets: Meets
    wanted: Fraction
    got: Fraction
    tolerance: Fraction

    @property
    def miss(self) -> Fraction:
        """How far off, whichever way."""
        return abs(self.got - self.wanted)

    @property
    def lands(self) -> bool:
        """Whether the miss is within the tolerance."""
        return self.miss <= self.tolerance


@dataclass(frozen=True)
class Merit:
    """The order of merit, best first: less is better at every place.

    Attributes:
        misses: by rank (head, top, soldier top, then the file's order); none within
            the tolerance.
        jump: the largest jump between neighbouring joints beyond what is not seen.
        departure: the largest of any joint above the bottom one from the preferred.
        narrow: 1 where a joint is narrower by that much, else 0.
        changes: neighbouring joints above the bottom one that differ.
        bottom_departure: of the bottom joint from the preferred bed joint.
        total_departure: the sum over all joints.
    """

    misses: tuple[Fraction, ...]
    jump: Fraction
    departure: Fraction
    narrow: int
    changes: int
    bottom_departure: Fraction
    total_departure: Fraction


@dataclass(frozen=True)
class Coursing:
    """The courses, bottom up.

    Attributes:
        courses: every course of the stack (a soldier course over the whole face is
            one of them; a soldier course over the opening stands beside them).
        joints: from the bottom; the one under a last `underside` target included.
        targets: by rank.
        merit: why this is the best.
        courses_below_head: how many courses lie wholly below the opening's head.
        head: the level of the underside of the head units, as got.
        soldier_top: the top of the soldier course as built; None where there is none.
        soldiers_cut: whether the soldiers had to be sawn to length.
        courses_beside_soldiers: how many leg courses stand beside a soldier course
            over the opening (0 elsewhere).
        reasons: what was decided and why, a sentence each.
    """

    courses: tuple[Course, ...]
    joints: tuple[Fraction, ...]
    targets: tuple[TargetMet, ...]
    merit: Merit
    courses_below_head: int
    head: Fraction
    soldier_top: Fraction | None
    soldiers_cut: bool
    courses_beside_soldiers: int
    reasons: tuple[str, ...]

    @property
    def lands(self) -> bool:
        """Whether every target is within its tolerance."""
        return all(target.lands for target in self.targets)


def solve_coursing(job: Job, surround: Surround) -> Coursing:
    """Find the best coursing there is; it always answers for a job that makes sense."""
    raise NotImplementedError
