"""The forms of the coursing: courses, targets, what is laid, and the ways out.

In:  nothing.   Out: `Coursing` and what it holds; `WayOut`, `Change`.
Frame: the job's lengths, levels up from the datum.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from shopdraw.job.model import Meets

CourseKind = Literal["running", "soldier"]
Edits = tuple[tuple[str, Fraction], ...]
"""Dotted keys and the values to put there, all of them together."""


@dataclass(frozen=True)
class Course:
    """One course: the bed joint below it, its bottom and its top, from the datum.

    Attributes:
        is_laid: it is a fact already.
        is_reckoned: it is laid, but nobody measured its top.
        is_joint_reckoned: nor how thick its bed joint is: its top and that of the
            course below it would tell.
    """

    number: int
    kind: CourseKind
    bed_joint: Fraction
    bottom: Fraction
    top: Fraction
    is_laid: bool = False
    is_reckoned: bool = False
    is_joint_reckoned: bool = False

    @property
    def height(self) -> Fraction:
        """The height of its brick."""
        return self.top - self.bottom

    @property
    def known_levels(self) -> tuple[Fraction, ...]:
        """Its bottom and top, as far as they are planned or were measured."""
        if self.is_joint_reckoned:
            return () if self.is_reckoned else (self.top,)
        return self.bottom, self.top


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
class LaidCourse:
    """One course as it lies.

    Attributes:
        bottom, top: its levels; of one out of level the higher end's.
        is_measured: its top was measured, not reckoned.
    """

    kind: Literal["running", "soldier"]
    bottom: Fraction
    top: Fraction
    is_measured: bool


@dataclass(frozen=True)
class AsLaid:
    """The courses that are laid, from the first up.

    Attributes:
        courses: every one of them.
        taper: how much lower the last one is at its other end.
        head: the level that the opening's head came to lie on, where the course over
            it is laid; None where it is still ahead.
    """

    courses: tuple[LaidCourse, ...]
    taper: Fraction
    head: Fraction | None

    @property
    def top(self) -> Fraction:
        """Where the rest starts."""
        return self.courses[-1].top

    def has_passed(self, kind: str, level: Fraction) -> bool:
        """Whether a target at a level was met, or missed, by what is laid.

        A top is passed at the last course's top; an underside when it lies below the
        middle of the last course, because above that the next joint is nearer.
        """
        last = self.courses[-1]
        passed_at = last.top if kind == "top" else (last.bottom + last.top) / 2
        return level <= passed_at

    def planes(self, kind: str) -> list[Fraction]:
        """Return the laid levels of a kind."""
        if kind == "top":
            return [course.top for course in self.courses]
        return [course.bottom for course in self.courses]


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
        laid: the courses that are facts; None where nothing is laid.
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
    laid: AsLaid | None = None

    @property
    def lands(self) -> bool:
        """Whether every target is within its tolerance."""
        return all(target.lands for target in self.targets)

    def changes_from(self, plan: Coursing) -> tuple[Change, ...]:
        """Return how each course that both have differs from the plan."""
        return tuple(
            Change(new.number, new.bed_joint - old.bed_joint, new.top - old.top)
            for old, new in zip(plan.courses, self.courses, strict=False)
        )

    def changed_from(self, plan: Coursing) -> tuple[int, ...]:
        """Return the numbers of the courses that lie otherwise than they were planned.

        Those laid that nobody measured are left out: where they lie is not known.
        """
        changes = self.changes_from(plan)
        return tuple(
            course.number
            for course, change in zip(self.courses, changes, strict=False)
            if (change.top and not course.is_reckoned)
            or (change.joint and not course.is_joint_reckoned)
        )

    @property
    def top(self) -> Fraction:
        """The top of the brick: of the last course, or of soldiers that end higher."""
        tops = [course.top for course in self.courses]
        return max(*tops, self.soldier_top or Fraction(0))


@dataclass(frozen=True)
class Change:
    """How one course differs from the plan: its joint and its top, new less planned."""

    course: int
    joint: Fraction
    top: Fraction


@dataclass(frozen=True)
class OtherCount:
    """The best with another number of courses, as far as its merit was asked.

    Attributes:
        courses: how many.
        misses, jump, departure, narrow: as `Merit` has them.
    """

    courses: int
    misses: tuple[Fraction, ...]
    jump: Fraction
    departure: Fraction
    narrow: int


@dataclass(frozen=True)
class WayOut:
    """One change to the job after which every target lands.

    Attributes:
        edits: dotted keys and the values to put there, all of them together.
        says: the change in the mason's words, with the figure.
        cost: what it costs: the joints it leads to, the pieces to saw.
    """

    edits: Edits
    says: str
    cost: str
