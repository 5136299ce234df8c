"""The forms of the coursing: courses, targets, what is laid, and the ways out.

In:  nothing.   Out: `Coursing` and what it holds; `WayOut`, `Change`.
Frame: the job's lengths, levels up from the datum.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from shopdraw.job.model_bands import BandKind
from shopdraw.job.model_face import Meets
from shopdraw.job.old_lines import OldLine

CourseKind = Literal["running", "soldier", "rowlock", "header"]
RUNNING: tuple[CourseKind, ...] = ("running", "header")
"""The kinds of course whose brick lies in the bond; in the others it stands."""
Edits = tuple[tuple[str, Fraction], ...]
"""Keys of the job file and the values to put there, all of them at once."""


@dataclass(frozen=True)
class Course:
    """One course: the bed joint below it, its bottom and its top, from the datum.

    Attributes:
        kind: what lies or stands in it; "soldier" too where soldiers over the opening
            go round the whole face.
        is_laid: whether it is laid already.
        is_reckoned: whether it is laid but nobody measured its top.
        is_joint_reckoned: whether it is laid but its bed joint is not known, because
            its top, or that of the course below, was not measured.
        band: which of the job's bands it is, counted from 1; 0 where it is none.
        projection: how far a corbel brings it out before the finished face.
    """

    number: int
    kind: CourseKind
    bed_joint: Fraction
    bottom: Fraction
    top: Fraction
    is_laid: bool = False
    is_reckoned: bool = False
    is_joint_reckoned: bool = False
    band: int = 0
    projection: Fraction = Fraction(0)

    @property
    def is_running(self) -> bool:
        """Whether its brick lies in the bond."""
        return self.kind in RUNNING

    @property
    def height(self) -> Fraction:
        """The height of its brick."""
        return self.top - self.bottom

    @property
    def known_levels(self) -> tuple[Fraction, ...]:
        """Its bottom and its top, each only if it is planned or was measured."""
        if self.is_joint_reckoned:
            return () if self.is_reckoned else (self.top,)
        return self.bottom, self.top


@dataclass(frozen=True)
class TargetMet:
    """A target, and the level where the courses meet it.

    Attributes:
        name: "opening head" or an arch's "spring line", "top", "soldier top", or the
            job's own.
        meets: what lands on it, the "underside" or the "top" of a unit.
        wanted, got: levels from the datum.
        tolerance: a miss up to this counts as none.
        is_sawn_to: whether a miss beyond that is sawn off the brick.
        old: the course line of old brick that it is; None for a named level.
    """

    name: str
    meets: Meets
    wanted: Fraction
    got: Fraction
    tolerance: Fraction
    is_sawn_to: bool = False
    old: OldLine | None = None

    @property
    def miss(self) -> Fraction:
        """How far off it is, up or down."""
        return abs(self.got - self.wanted)

    @property
    def lands(self) -> bool:
        """Whether the miss is within the tolerance."""
        return self.miss <= self.tolerance

    @property
    def counted(self) -> Fraction:
        """The miss as it counts in the merit: a sawn one, or an old line's, is one."""
        if self.lands:
            return Fraction(0)
        return Fraction(1) if self.is_sawn_to or self.old else self.miss


@dataclass(frozen=True)
class Merit:
    """What makes one coursing better than another, what counts most first.

    Less is better at every place, and a later one counts only where the earlier ones
    are equal.

    Attributes:
        misses: by how much each target is missed, by rank (head, top, soldier top,
            then the file's order, then old course lines); a miss within the tolerance
            is none. Of one that is met by sawing 1 where the brick is sawn, and of an
            old course line 1, however much; how much is compared only between
            coursings equal in all that follows here.
        jump: the largest jump from one joint to the next, beyond what is not seen.
        departure: how far the joint furthest off the preferred is off it, the bottom
            joint left out.
        narrow: 1 where a joint is off by that much and narrower, else 0.
        changes: how often one joint differs from the next, the bottom one left out.
        bottom_departure: how far the bottom joint is off the preferred bed joint.
        total_departure: how far all joints are off it together.
    """

    misses: tuple[Fraction, ...]
    jump: Fraction
    departure: Fraction
    narrow: int
    changes: int
    bottom_departure: Fraction
    total_departure: Fraction


@dataclass(frozen=True)
class Doubt:
    """A reading of a course that can't be right by the joints that the job allows.

    Attributes:
        read: the level in doubt: the top, or the end of it that is furthest out.
        below: the course that it is reckoned from; 0 for the datum.
        least, most: the levels that it can have, by `spare` further apart each way.
        planned: the level that it was to have.
    """

    course: int
    read: Fraction
    below: int
    least: Fraction
    most: Fraction
    planned: Fraction
    spare: Fraction


@dataclass(frozen=True)
class LaidCourse:
    """One course as it lies.

    Attributes:
        bottom, top: its levels; at the higher end where it is out of level.
        is_measured: whether its top was measured; else it is estimated from the plan.
        band: as `Course`.
    """

    kind: CourseKind
    bottom: Fraction
    top: Fraction
    is_measured: bool
    band: int = 0


@dataclass(frozen=True)
class AsLaid:
    """The courses that are laid, from the first up.

    Attributes:
        courses: every one of them.
        taper: how much lower the last one is at its other end.
        head: where the opening's head came out; None until the course over it is laid.
        planned: every course as it was planned before any was laid.
    """

    courses: tuple[LaidCourse, ...]
    taper: Fraction
    head: Fraction | None
    planned: tuple[Course, ...] = ()

    @property
    def top(self) -> Fraction:
        """The level that the rest starts from."""
        return self.courses[-1].top

    def has_passed(self, kind: str, level: Fraction) -> bool:
        """Whether what is laid has gone past a target, meeting or missing it.

        A target for a top is passed at the top of the last course. One for an underside
        is passed below the middle of the last course: above that the next joint is
        nearer.
        """
        last = self.courses[-1]
        passed_at = last.top if kind == "top" else (last.bottom + last.top) / 2
        return level <= passed_at

    def first_of(self, band: int) -> int:
        """Return the number of a band's first course that is laid; 0 where none is."""
        numbers = (n for n, x in enumerate(self.courses, 1) if x.band == band)
        return next(numbers, 0)

    def planes(self, kind: str) -> list[Fraction]:
        """Return the levels of the laid courses' tops, or of their undersides."""
        if kind == "top":
            return [course.top for course in self.courses]
        return [course.bottom for course in self.courses]


@dataclass(frozen=True)
class Coursing:
    """The courses, bottom up.

    Attributes:
        courses: every course of the stack (a soldier course over the whole face is
            one of them; a soldier course over the opening stands beside them).
        joints: from the bottom up; the joint above the last course is among them where
            the top target is an underside.
        targets: by rank, but for the lines of old brick.
        merit: what it was chosen by.
        courses_below_head: how many courses lie wholly below the opening's head.
        head: the level where the underside of the brick over the opening comes out.
        soldier_top: the top of the soldier course as built; None where there is none.
        soldiers_cut: whether the soldiers have to be sawn to length.
        courses_beside_soldiers: how many courses of the legs stand beside a soldier
            course over the opening (0 elsewhere).
        reasons: what was decided and why, a sentence each.
        laid: the courses that are laid already; None where nothing is.
        old_lines: the lines of old brick, and where the new courses come beside them.
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
    old_lines: tuple[TargetMet, ...] = ()

    @property
    def corbelled(self) -> tuple[Course, ...]:
        """The courses that project, bottom up."""
        return tuple(course for course in self.courses if course.projection)

    @property
    def projections(self) -> dict[int, Fraction]:
        """How far each course that projects stands out, by its number."""
        return {course.number: course.projection for course in self.corbelled}

    @property
    def projection(self) -> Fraction:
        """How far the brick stands out before the finished face at its furthest."""
        out = (course.projection for course in self.courses)
        return max(out, default=Fraction(0))

    def bands(self) -> tuple[Course, ...]:
        """Return the courses that are bands, bottom up."""
        return tuple(course for course in self.courses if course.band)

    @property
    def asked(self) -> tuple[TargetMet, ...]:
        """All that joints were bent for, by rank."""
        lines = (line for line in self.old_lines if line.old and line.old.is_asked)
        return (*self.targets, *lines)

    @property
    def lands(self) -> bool:
        """Whether all targets and lines of old brick are within their tolerance."""
        return all(target.lands for target in (*self.targets, *self.old_lines))

    def course_at(self, line: TargetMet) -> int:
        """Return the number of the course that a top or an underside is met by.

        An underside is met by the joint above that course: 0 for the bottom joint.
        """
        if line.meets == "top":
            return next(c.number for c in self.courses if c.top == line.got)
        return sum(course.top < line.got for course in self.courses)

    @property
    def planned(self) -> tuple[Course, ...]:
        """The courses as planned before any was laid; none where none is laid."""
        return self.laid.planned if self.laid else ()

    @property
    def is_as_built(self) -> bool:
        """Whether every course is laid, the last one measured."""
        return self.laid is not None and len(self.laid.courses) == len(self.courses)

    def changes_from(self, plan: tuple[Course, ...]) -> tuple[Change, ...]:
        """Return how each course that both have differs from the plan's."""
        return tuple(
            Change(new.number, new.bed_joint - old.bed_joint, new.top - old.top)
            for old, new in zip(plan, self.courses, strict=False)
        )

    def changed_from(self, plan: Coursing) -> tuple[int, ...]:
        """Return the numbers of the courses that are no longer where they were planned.

        Laid courses that nobody measured are left out: where they lie is not known.
        """
        changes = self.changes_from(plan.courses)
        return tuple(
            course.number
            for course, change in zip(self.courses, changes, strict=False)
            if (change.top and not course.is_reckoned)
            or (change.joint and not course.is_joint_reckoned)
        )

    @property
    def top(self) -> Fraction:
        """The top of the brick: the last course's, or the soldiers' if higher."""
        tops = [course.top for course in self.courses]
        return max(*tops, self.soldier_top or Fraction(0))


@dataclass(frozen=True)
class RunOut:
    """Between which levels a course should end.

    There the courses run out on an arch's back as steeply as they can.
    """

    least: Fraction
    most: Fraction


@dataclass(frozen=True)
class PartBand:
    """A band on a part of the front.

    Attributes:
        band: which of the job's bands it is, counted from 1.
        kind: what stands in it.
        courses: those beside it, bottom up; its foot is on that of the first.
        left, right: where the brick beside it stops, on the developed plane.
        top: the level that it ends at.
    """

    band: int
    kind: BandKind
    courses: tuple[Course, ...]
    left: Fraction
    right: Fraction
    top: Fraction


@dataclass(frozen=True)
class Change:
    """How far one course's joint and top are off the plan: new less planned."""

    course: int
    joint: Fraction
    top: Fraction


@dataclass(frozen=True)
class OtherCount:
    """The best there is with another number of courses, as far as it was worked out.

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
