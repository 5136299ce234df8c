"""State the coursing problem in whole numbers.

In:  `Job`, `Surround`.   Out: `Problem`.
Frame: levels in whole numbers of one grid, up from the datum; joints in whole steps.

The grid is the common denominator of the joint step and of every length that counts,
so that even the mean of ten brick is exact; the joints stay on the step.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor, lcm
from typing import Literal

from shopdraw.job.model import Job, Meets
from shopdraw.masonry.coursing.form import AsLaid
from shopdraw.masonry.wall.asbuilt import plan_bottom_course
from shopdraw.masonry.wall.form import HeadKind, Surround

Span = tuple[int, int]
"""The least and the most that something may be, both included."""
Kind = Literal["underside", "top", "head"]
"""A kind of plane; the head of the opening is an underside with a course above it."""
HeadIs = Literal["plane", "soldier course", "soldiers beside courses"]

BESIDE = 2
"""The rank of the soldiers' top, where soldiers stand beside the legs' courses."""
SOLDIER_TOP = "soldier top"
"""The name of that target; it follows from the head, and no job file gives it."""
ARCH_BACK = "arch back"
"""The name of a jack arch's, likewise."""
SAWN_TO = (SOLDIER_TOP, ARCH_BACK)
"""The targets that are met by sawing where no course ends there; never the head."""
_HEAD_IS: dict[HeadKind, HeadIs] = {
    "running": "plane",
    "soldier over the face": "soldier course",
    "soldier over the opening": "soldiers beside courses",
    # A jack arch has a level back, so it must end level with a course, like soldiers.
    "jack arch": "soldiers beside courses",
    "segmental arch": "plane",
}


@dataclass(frozen=True)
class Target:
    """A level to land on, on the grid.

    Attributes:
        is_sawn_to: whether the brick is sawn where no plane comes within the tolerance.
    """

    name: str
    kind: Kind
    level: int
    tolerance: int
    is_sawn_to: bool = False

    @property
    def meets(self) -> Meets:
        """What meets it, in the job's words."""
        return "top" if self.kind == "top" else "underside"

    def counted(self, distance: int) -> int:
        """Return a miss as it counts: within the tolerance it is none.

        Sawn is sawn: a target met by sawing counts one, however much is sawn off.
        """
        if distance <= self.tolerance:
            return 0
        return 1 if self.is_sawn_to else distance


@dataclass(frozen=True)
class Problem:
    """One coursing problem in whole numbers.

    Attributes:
        grid: how many parts of the grid make one of the job's lengths.
        step: one joint step, on the grid.
        bottom, bed: the range of the bottom joint and of bed joints, in steps.
        preferred: the preferred bed joint, on the grid.
        unseen: how far the bottom joint may differ from the one above it before it is
            seen, on the grid; None where the bottom joint is hidden.
        height: of an ordinary course; bottom_height and top_height are those of the
            first and the last course where they are sawn.
        soldier: the height of a soldier: its length, or what it is sawn to.
        head_is: what the brick over the opening does to the stack of courses.
        top_meets: what comes at the top of the face: the top of the last course, or
            that of a joint above it.
        first_most: the widest that the first bed joint may be, in steps, where that is
            less than for the others, because it levels up a laid course; else None.
        laid: the courses that are laid; the rest stands on them. Here they count as one
            course, the first, with no joint below it.
        whole: the problem as it was with nothing laid.
        targets: by rank: the head, the top, then the soldiers' top where soldiers stand
            beside courses (its level counts from where the head comes out), the rest,
            the underside and the top of each panel last.
    """

    grid: int
    step: int
    bottom: Span
    bed: Span
    preferred: int
    unseen: int | None
    height: int
    bottom_height: int | None
    top_height: int | None
    soldier: int
    head_is: HeadIs
    top_meets: Meets
    targets: tuple[Target, ...]
    first_most: int | None = None
    laid: AsLaid | None = None
    whole: Problem | None = None

    def is_passed(self, rank: int) -> bool:
        """Whether what is laid has passed a target."""
        return self.laid is not None and self.targets[rank].level == 0

    @property
    def head(self) -> Target:
        """The head of the opening."""
        return self.targets[0]

    @property
    def top(self) -> Target:
        """The top of the face."""
        return self.targets[1]

    def length(self, on_grid: int) -> Fraction:
        """Turn a length on the grid back into the job's lengths."""
        return Fraction(on_grid, self.grid)


def state_problem(job: Job, surround: Surround, laid: AsLaid | None = None) -> Problem:
    """State the job's coursing in whole numbers.

    Args:
        job: the joints, the brick, the further targets.
        surround: the levels of head and top, and what stands over the opening.
        laid: the courses that are laid already.
    """
    bed, bottom, sawn = job.joints.bed, job.joints.bottom, job.courses
    grid = _grid(job, surround)
    bottom_height = _bottom_height(job)

    def whole(length: Fraction) -> int:
        return int(length * grid)

    problem = Problem(
        grid=grid,
        step=whole(job.joints.step),
        bottom=bottom_joint_range(job),
        bed=_in_steps(bed.least, bed.most, job.joints.step),
        preferred=whole(bed.preferred),
        unseen=None if bottom.hidden else whole(unseen_jump(job)),
        height=whole(job.brick.height),
        bottom_height=None if bottom_height is None else whole(bottom_height),
        top_height=None if sawn.top_height is None else whole(sawn.top_height),
        soldier=whole(_over_head(job)),
        head_is=_HEAD_IS[surround.opening.head],
        top_meets=job.face.top_meets,
        targets=tuple(
            Target(name, kind, whole(level), whole(tolerance), name in SAWN_TO)
            for name, kind, level, tolerance in _targets(job, surround)
        ),
    )
    return problem if laid is None else _above(problem, laid)


def _above(problem: Problem, laid: AsLaid) -> Problem:
    """State what is left to solve above the courses that are laid.

    They become one course, as high as the top of the last. A target that they have
    passed is put at their foot, where it is always met.
    """
    (least, most), grid = problem.bed, problem.grid
    taper = ceil(laid.taper * grid / problem.step)
    targets = []
    for rank, target in enumerate(problem.targets):
        passed = laid.has_passed(target.kind, Fraction(target.level, grid))
        if rank == 0:
            passed = laid.head is not None
        elif rank == 1:
            passed = False
        elif rank == BESIDE and problem.head_is == "soldiers beside courses":
            top = Fraction(target.level, grid) + (laid.head or 0)
            passed = laid.head is not None and laid.has_passed("top", top)
            if laid.head is not None:
                target = replace(target, level=int(top * grid))
        if passed:
            kind: Kind = "head" if rank == 0 else "underside"
            target = replace(target, kind=kind, level=0)
        targets.append(target)
    return replace(
        problem,
        bottom=(0, 0),
        bottom_height=int(laid.top * grid),
        unseen=None,
        head_is=problem.head_is if laid.head is None else "plane",
        first_most=max(least, most - taper),
        laid=laid,
        whole=problem,
        targets=tuple(targets),
    )


def bottom_joint_range(job: Job) -> Span:
    """Return the range of the bottom joint where the hearth is highest, in steps.

    Where the hearth is lowest the joint is thicker, by what scribing the first course
    leaves of the fall. If there is no room for that the joint is the least allowed,
    and the review says so.
    """
    bottom = job.joints.bottom
    most = bottom.most - plan_bottom_course(job).in_joint
    return _in_steps(bottom.least, most, job.joints.step)


def _bottom_height(job: Job) -> Fraction | None:
    """Return what the first course is sawn to where the hearth is highest, if it is."""
    height = plan_bottom_course(job).height
    return None if height == job.brick.height else height


def _over_head(job: Job) -> Fraction:
    """Return how tall the brick over the opening is, where it is no plain course."""
    return job.arch_depth if job.opening.head == "jack arch" else job.head_height


def unseen_jump(job: Job) -> Fraction:
    """Return how far the bottom joint may differ from the one above it unseen.

    Common practice, no published source.
    """
    return Fraction(1, 8) if job.lengths == "in" else Fraction(3)


def _in_steps(least: Fraction, most: Fraction, step: Fraction) -> Span:
    first = ceil(least / step)
    return first, max(first, floor(most / step))


def _targets(
    job: Job, surround: Surround
) -> list[tuple[str, Kind, Fraction, Fraction]]:
    step = job.joints.step
    opening = surround.opening
    targets: list[tuple[str, Kind, Fraction, Fraction]] = [
        ("opening head", "head", opening.height, step / 2),
        ("top", job.face.top_meets, surround.height, step / 2),
    ]
    if opening.head == "soldier over the opening":
        targets.append((SOLDIER_TOP, "top", job.head_height, step))
    elif opening.head == "jack arch":
        targets.append((ARCH_BACK, "top", job.arch_depth, step))
    for further in job.target:
        tolerance = step / 2 if further.tolerance is None else further.tolerance
        targets.append((further.name, further.meets, further.level, tolerance))
    for panel in job.panel:
        targets += [
            (f"{panel.name}, underside", "underside", panel.bottom, step / 2),
            (f"{panel.name}, top", "top", panel.top, step / 2),
        ]
    return targets


def _grid(job: Job, surround: Surround) -> int:
    """Return the common denominator of every length that counts."""
    sawn = _bottom_height(job), job.courses.top_height
    lengths = [
        *(job.joints.step / 2, job.joints.bed.preferred, unseen_jump(job)),
        *(job.brick.height, _over_head(job), *(x for x in sawn if x is not None)),
        *(x for _, _, *pair in _targets(job, surround) for x in pair),
        *(laid.highest for laid in job.laid),
    ]
    return lcm(*(length.denominator for length in lengths))
