"""The form of the record of the courses, their joints, and what differs from plan.

In:  nothing.   Out: `CoursingRecord`, `VariationRecord`, `RuleMarkRecord` and
`ChangeRecord`, and what they hold.
Frame: lengths in the job's lengths; levels up from the datum.
"""

from __future__ import annotations

from typing_extensions import TypedDict

from shopdraw.job.model_face import Meets
from shopdraw.masonry.coursing.form import CourseKind


class TargetRecord(TypedDict):
    """A level that the courses have to meet, and the level they came to."""

    name: str
    """What is to be met: "opening head", an arch's "spring line", "top", "soldier
    top", or the name that the job file gives it."""
    meets: Meets
    """What meets the level: "underside", the top of a bed joint, on which the next
    brick lies; "top", the top of a brick."""
    wanted: float
    """The level that is wanted."""
    got: float
    """The level that the courses came to."""
    miss: float
    """How far the two are apart; never below 0."""
    tolerance: float
    """A miss up to this counts as none."""


class OldLineRecord(TypedDict):
    """One course line of old brick beside the face, and what comes to it."""

    name: str
    """The old brick's name in the job file, and the number of its line."""
    meets: Meets
    """What comes to the line: beside old brick the "top" of a course; below it the
    "underside", the top of the bed joint that carries it."""
    wanted: float
    """The level of the old line."""
    got: float
    """The level that the nearest new course came to."""
    miss: float
    """How far the two are apart; never below 0."""
    tolerance: float
    """A new course that is off by up to this lines through."""
    brick: int
    """Which of the job's existing brick it is in, counted from 1."""
    line: int
    """Which of that brick's courses it is the line of, counted from the lowest."""
    course: int
    """The number of the new course whose top comes nearest; where the joint above a
    course comes up to old brick, the number of that course."""


class CourseRecord(TypedDict):
    """One course and the bed joint below it."""

    number: int
    """Its number; the bottom course is 1."""
    kind: CourseKind
    """What its brick is: "running", laid along the wall in the bond; "header", a band
    of headers; "soldier" or "rowlock", standing up."""
    bottom: float
    """The level of the bottom of its brick."""
    top: float
    """The level of the top of its brick."""
    bed_joint: float | None
    """How thick the bed joint below it is; null where it is laid, but its top, or that
    of the course below, was not measured."""
    is_laid: bool
    """Whether it is laid already, as the job file says."""
    is_reckoned: bool
    """Whether it is laid but nobody measured its top: its levels are worked out."""
    band: int
    """Which of the job's bands it is, counted from 1; 0 where it is none."""
    projection: float
    """How far a corbel brings it out before the finished face; 0 where it is flush."""


class OrderOfMeritRecord(TypedDict):
    """What this coursing was chosen by: the first counts most, and less is better."""

    misses: list[float]
    """By how much each target is missed, in the order of `targets`, then 1 for each of
    `old_lines` that is missed; 0 within its tolerance."""
    jump: float
    """The greatest difference between neighbouring bed joints, less what the eye does
    not see."""
    departure: float
    """The greatest difference of a bed joint, the bottom one apart, from the preferred
    thickness."""
    narrow: int
    """1 where a bed joint is thinner than preferred by as much as `departure` says,
    otherwise 0."""
    changes: int
    """How many bed joints differ from the one below them, the bottom one apart."""
    bottom_departure: float
    """How much the bottom joint differs from the preferred thickness of a bed joint."""
    total_departure: float
    """The sum of the differences of all bed joints from the preferred thickness."""


class EditRecord(TypedDict):
    """A new value for one key of the job file."""

    key: str
    """The key, with dots between its parts: `joints.bed.most`."""
    value: float
    """The length to put there."""


class WayOutRecord(TypedDict):
    """A change to the job after which every target is met."""

    edits: list[EditRecord]
    """What to change in the job file: all of it together."""
    says: str
    """The change in words."""
    cost: str
    """What it costs: the joints it leads to, the pieces to saw."""


class CoursingRecord(TypedDict):
    """The courses, the levels that they have to meet, and why they are as they are.

    A course is one row of brick; its bed joint is the mortar below it.
    """

    lands: bool
    """Whether every target is met within its tolerance."""
    targets: list[TargetRecord]
    """The levels that the courses have to meet, what counts most first."""
    old_lines: list[OldLineRecord]
    """The course lines of old brick beside the face; empty where there is none."""
    is_as_built: bool
    """Whether every course is laid and the last one measured."""
    off_plan: list[ChangeRecord]
    """How far each course laid, and what stands on it, is off the plan that there was
    before any was; empty where none is laid."""
    courses: list[CourseRecord]
    """Every course, from the bottom up."""
    joints: list[float | None]
    """How thick each bed joint is, from the bottom up; null as in `courses`. There is
    one more than there are courses where the last course has a joint above it."""
    order_of_merit: OrderOfMeritRecord
    head: float
    """The level of the underside of the brick over the opening; under an arch, the
    level that the arch springs from."""
    soldier_top: float | None
    """The level of the top of the soldiers, the rowlocks or the jack arch; null where
    the brick over the opening is none of these."""
    soldiers_cut: bool
    """Whether that brick has to be sawn to end at `soldier_top`."""
    reasons: list[str]
    """What was decided and why, a sentence each."""
    ways_out: list[WayOutRecord]
    """Where a target is missed: changes to the job, each of which is enough to meet
    every target."""


class SpreadRecord(TypedDict):
    """How the bricks of the sample differ in one of their sizes."""

    count: int
    """How many were measured."""
    mean: float
    """The mean of what was measured."""
    least: float
    """The smallest that was measured."""
    most: float
    """The greatest that was measured."""
    deviation: float
    """The standard deviation."""


class WanderRecord(TypedDict):
    """How far the top of one course may be off."""

    course: int
    """The number of the course."""
    two_deviations: float
    """How far its top may be off, up or down, if the level is not measured again after
    the last course that is laid: two standard deviations, which hold about 95 times in
    100."""


class VariationRecord(TypedDict):
    """What the differences between the bricks as delivered do to the plan."""

    height: SpreadRecord | None
    """How the bricks differ in height; null where the sample does not give the height
    of each."""
    length: SpreadRecord | None
    """How the bricks differ in length; null where the sample does not give the length
    of each."""
    at_once: int
    """How many courses may be laid before their level is measured again, so that one
    step of a joint is enough to put it right; 0 where one course alone may be off by
    more, or where the heights are not known."""
    remeasure_at: list[int]
    """The numbers of the courses at which to measure the level again."""
    tight: list[int]
    """The numbers of the courses whose bed joint may have to be thinner or thicker than
    is allowed, to take up what a single brick is off."""
    wander: list[WanderRecord]
    """How far each course may be off; empty where the heights are not known."""


class RuleMarkRecord(TypedDict):
    """The mark of the mason's own spacing rule that a course follows."""

    mark: str
    """The mark as it is printed on the rule."""
    off: float
    """By how much the course with its bed joint is higher than the mark gives; below 0,
    by how much it is lower."""
    moves: bool
    """Whether the course below follows another mark."""


class ChangeRecord(TypedDict):
    """How one course differs from the plan as it was before: new less planned."""

    course: int
    """The number of the course."""
    joint: float | None
    """How much thicker the bed joint below it is; below 0, how much thinner; null where
    nobody measured it."""
    top: float | None
    """How much higher its top is; below 0, how much lower; null where nobody measured
    it."""
