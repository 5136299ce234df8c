"""Put a job's bond on one exact grid, before it is solved.

In:  `Job`, `Surround`, `Coursing`.   Out: `BondPlan`.
Frame: as `Surround`; a grid fine enough that every length of the job is whole on it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from shopdraw.job.model import Job
from shopdraw.masonry.bond.runs import EndKind, RunRules, Span
from shopdraw.masonry.coursing.form import Course, Coursing
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.surround import corner_legs

FINEST_SHARE = 232_792_560
"""lcm(1, ..., 20): a run's joints share what is left exactly up to twenty ways."""


@dataclass(frozen=True)
class BondPlan:
    """The job's bond on the grid, before it is solved.

    Attributes:
        scale: grid steps in one of the job's lengths.
        rules: the brick and the job's limits.
        cycle: how many courses the pattern repeats after.
        front_legs, return_legs: per phase, the corner unit's leg on the front and on
            the return; None where the brick has no corner unit.
        below, beside, over: the running courses below the head, beside soldiers over
            the opening, and above all that.
        symmetric: whether the faces mirror about the opening's centre line.
        jambs_swapped: whether at the jambs the long legs lie on the front in the
            courses in which they do not at the outside corners.
        is_quick: whether the first way of laying the legs is enough, to compare.
    """

    job: Job
    surround: Surround
    scale: int
    rules: RunRules
    cycle: int
    front_legs: tuple[int | None, ...]
    return_legs: tuple[int | None, ...]
    below: tuple[Course, ...]
    beside: tuple[Course, ...]
    over: tuple[Course, ...]
    symmetric: bool
    jambs_swapped: bool = False
    is_quick: bool = False

    @property
    def jamb_legs(self) -> tuple[int | None, ...]:
        """By phase, the leg on the front of what turns into the jambs."""
        if not self.surround.reveals:
            return (None,) * self.cycle
        return self.return_legs if self.jambs_swapped else self.front_legs

    @property
    def reveal_legs(self) -> tuple[int | None, ...]:
        """By phase, the leg in the jamb of what turns into it."""
        return self.front_legs if self.jambs_swapped else self.return_legs

    def on_grid(self, length: Fraction) -> int:
        """Return a length of the job on the grid."""
        return int(length * self.scale)

    def off_grid(self, steps: int) -> Fraction:
        """Return a grid length in the job's lengths."""
        return Fraction(steps, self.scale)

    def phase(self, course: int) -> int:
        """Return which course of the cycle a course is; course 1 begins it."""
        return (course - 1) % self.cycle

    @property
    def running(self) -> tuple[Course, ...]:
        """Every running course, bottom up."""
        return (*self.below, *self.beside, *self.over)


def cycle_of(job: Job, surround: Surround) -> int:
    """Return how many courses the bond repeats after; third bond at corners, two."""
    folds = (*surround.folds, *surround.jamb_folds)
    return {"stack": 1, "half": 2, "third": 2 if folds else 3}[job.bond.pattern]


def plan_bond(job: Job, surround: Surround, coursing: Coursing) -> BondPlan:
    """Put the job on the grid and say which courses are laid where."""
    long_leg, short_leg = (
        corner_legs(job.brick.corner, job.brick.thickness)
        if job.brick.corner
        else (None, None)
    )
    scale = _scale(job, surround, coursing)
    cycle = cycle_of(job, surround)
    legs = [None if x is None else int(x * scale) for x in (long_leg, short_leg)]
    below = coursing.courses_below_head
    beside = below + coursing.courses_beside_soldiers
    running = [course for course in coursing.courses if course.kind == "running"]
    return BondPlan(
        job=job,
        surround=surround,
        scale=scale,
        rules=_run_rules(job, scale, surround),
        cycle=cycle,
        front_legs=tuple(legs[phase % 2] for phase in range(cycle)),
        return_legs=tuple(legs[(phase + 1) % 2] for phase in range(cycle)),
        below=tuple(course for course in running if course.number <= below),
        beside=tuple(course for course in running if below < course.number <= beside),
        over=tuple(course for course in running if course.number > beside),
        symmetric=_is_symmetric(surround),
    )


def _scale(job: Job, surround: Surround, coursing: Coursing) -> int:
    joint, bond, brick = job.joints.head, job.bond, job.brick
    lengths = [
        joint.preferred, joint.least, joint.most, job.joints.step, bond.least_piece,
        bond.least_lap, brick.length, brick.height, brick.thickness,
        surround.left_edge.brick_x, surround.right_edge.brick_x, *surround.folds,
        surround.opening.brick_left, surround.opening.brick_right,
        *(x for reveal in surround.reveals for x in (reveal.left, reveal.right)),
        *surround.opening.soldiers_past, coursing.head,
    ]  # fmt: skip
    if brick.corner is not None:
        lengths += corner_legs(brick.corner, brick.thickness)
    return 2 * FINEST_SHARE * lcm(*(length.denominator for length in lengths))


def _run_rules(job: Job, scale: int, surround: Surround) -> RunRules:
    joint, step = job.joints.head, job.joints.step
    first, last = -(-joint.least // step), joint.most // step
    on_step = [step * n for n in range(int(first), int(last) + 1)]
    joints = sorted({*on_step, joint.preferred}, key=lambda x: abs(x - joint.preferred))
    unit, preferred, built = job.brick.length, joint.preferred, surround.as_built
    shortest_leg = job.brick.thickness + step
    least_leg = max(job.bond.least_piece, shortest_leg)
    return RunRules(
        unit=int(unit * scale),
        half=int((unit - preferred) / 2 * scale),
        joints=tuple(int(x * scale) for x in joints),
        least_joint=int(joint.least * scale),
        most_joint=int(joint.most * scale),
        preferred=int(preferred * scale),
        least_piece=int(job.bond.least_piece * scale),
        least_lap=int(job.bond.least_lap * scale),
        least_leg=int(least_leg * scale),
        shortest_leg=int(shortest_leg * scale),
        step=int(step * scale),
        at_jamb=int(max(abs(top[0] - foot[0]) for foot, top in built.jambs) * scale),
        at_end=int(max(abs(top[0] - foot[0]) for foot, top in built.ends) * scale),
    )


def _is_symmetric(surround: Surround) -> bool:
    opening = surround.opening
    left, right = surround.left_edge, surround.right_edge
    centre = (surround.faces[0].left + surround.faces[-1].right) / 2
    return (
        opening.centre == centre
        and len(surround.folds) != 1
        and surround.front.left + surround.front.right == 2 * centre
        and left.brick_x - left.x == right.x - right.brick_x
        and opening.soldiers_past[0] == opening.soldiers_past[1]
    )


def front_ends(
    plan: BondPlan,
) -> tuple[
    tuple[Fraction, EndKind, tuple[int | None, ...]],
    tuple[Fraction, EndKind, tuple[int | None, ...]],
]:
    """Return where the front's brick ends, what is there, and its legs by phase."""
    surround, none = plan.surround, (None,) * plan.cycle
    has = {face.name for face in surround.faces}
    left: tuple[Fraction, EndKind, tuple[int | None, ...]]
    right: tuple[Fraction, EndKind, tuple[int | None, ...]]
    left = (surround.left_edge.brick_x, "edge", none)
    right = (surround.right_edge.brick_x, "edge", none)
    if "left" in has:
        left = (surround.front.left, "fold", plan.front_legs)
    if "right" in has:
        right = (surround.front.right, "fold", plan.front_legs)
    return left, right


def span_phases(
    plan: BondPlan,
    left: Fraction,
    right: Fraction,
    left_end: EndKind,
    right_end: EndKind,
    left_legs: tuple[int | None, ...],
    right_legs: tuple[int | None, ...],
) -> tuple[Span, ...]:
    """Return a run's span in each phase, its legs as they are bought."""
    return tuple(
        Span(
            left=plan.on_grid(left),
            right=plan.on_grid(right),
            left_end=left_end,
            right_end=right_end,
            left_leg=left_legs[phase],
            right_leg=right_legs[phase],
            centre=plan.on_grid(plan.surround.opening.centre),
        )
        for phase in range(plan.cycle)
    )


def count_courses(plan: BondPlan, courses: tuple[Course, ...]) -> tuple[int, ...]:
    """Count how many of the courses are laid in each phase."""
    phases = [plan.phase(course.number) for course in courses]
    return tuple(phases.count(phase) for phase in range(plan.cycle))


def count_meetings(courses: tuple[Course, ...]) -> int:
    """Count the pairs of courses that lie on each other."""
    numbers = {course.number for course in courses}
    return sum(number + 1 in numbers for number in numbers)


def bought_legs(plan: BondPlan) -> frozenset[int]:
    """Return the leg lengths that are not trimmed."""
    return frozenset(x for x in (*plan.front_legs, *plan.return_legs) if x is not None)
