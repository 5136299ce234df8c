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

from shopdraw.job.model import Job
from shopdraw.job.model_bands import BandTable, band_names, corbel_names
from shopdraw.job.model_face import Meets
from shopdraw.job.old_lines import OldLine, old_lines
from shopdraw.masonry.coursing.form import AsLaid, Coursing, RunOut
from shopdraw.masonry.wall.asbuilt import plan_bottom_course
from shopdraw.masonry.wall.form import HeadKind, Surround

Span = tuple[int, int]
"""The least and the most that something may be, both included."""
Kind = Literal["underside", "top", "head"]
"""A kind of plane; the head of the opening is an underside with a course above it."""
HeadIs = Literal["plane", "soldier course", "soldiers beside courses"]

BESIDE = 2
"""The rank of the soldiers' top, where soldiers stand beside the legs' courses."""
OPENING_HEAD, SPRING_LINE = "opening head", "spring line"
"""What the level is called that the opening's height is given to."""
SOLDIER_TOP = "soldier top"
"""The name of that target; it follows from the head, and no job file gives it."""
ARCH_BACK = "arch back"
"""The name of a jack arch's, likewise."""
RUN_OUT = "course over the arch"
"""The name of the level at which a course should end over an arch, likewise."""
SAWN_TO = (SOLDIER_TOP, ARCH_BACK, RUN_OUT)
"""The targets that are met by sawing where no course ends there; never the head."""
_HEAD_IS: dict[HeadKind, HeadIs] = {
    "running": "plane",
    "soldier over the face": "soldier course",
    "soldier over the opening": "soldiers beside courses",
    # A jack arch has a level back, so it must end level with a course, like soldiers.
    "jack arch": "soldiers beside courses",
    "segmental arch": "plane",
    "semicircular arch": "plane",
}


@dataclass(frozen=True)
class Target:
    """A level to land on, on the grid.

    Attributes:
        is_sawn_to: whether the brick is sawn where no plane comes within the tolerance.
        band: which band's course must meet it, counted from 1; 0 where any course may.
        old: the course line of old brick that it is, if it is one.
    """

    name: str
    kind: Kind
    level: int
    tolerance: int
    is_sawn_to: bool = False
    band: int = 0
    old: OldLine | None = None

    @property
    def binds(self) -> bool:
        """Whether joints bend to come nearer to it where they can't meet it."""
        return not self.is_sawn_to and self.old is None

    @property
    def meets(self) -> Meets:
        """What meets it, in the job's words."""
        return "top" if self.kind == "top" else "underside"

    def counted(self, distance: int) -> int:
        """Return a miss as it counts: within the tolerance it is none.

        What binds no joint counts one: sawn is sawn, however much is sawn off.
        """
        if distance <= self.tolerance:
            return 0
        return distance if self.binds else 1


@dataclass(frozen=True)
class BandAsked:
    """A band, a course of its own height.

    Attributes:
        height: of each of its courses, on the grid.
        course: the number of its first course, which below what is laid is 0 or less;
            None where its target's level decides.
        rank: of that target; 0 where there is none.
        table: the band in the job, which says how often it stands.
    """

    height: int
    course: int | None
    rank: int
    table: BandTable


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
            beside courses (its level counts from where the head comes out), the rest:
            the job's own, those of bands, the tops of corbels, then the underside and
            the top of each panel, then the lines of old brick.
        bands: in the job's order.
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
    bands: tuple[BandAsked, ...] = ()

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


def state_problem(
    job: Job,
    surround: Surround,
    laid: AsLaid | None = None,
    *,
    meets_back: bool = True,
    run_out: RunOut | None = None,
) -> Problem:
    """State the job's coursing in whole numbers.

    Args:
        job: the joints, the brick, the further targets.
        surround: the levels of head and top, and what stands over the opening.
        laid: the courses that are laid already.
        meets_back: whether a course is to end with a jack arch's back. Where none can,
            the course over the arch is cut, and nothing is asked of the joints.
        run_out: where a course should end over an arch, after all that is asked for.
    """
    bed, bottom, sawn = job.joints.bed, job.joints.bottom, job.courses
    levels = _targets(job, surround)
    if run_out is not None:
        middle = (run_out.least + run_out.most) / 2
        levels.append(_Level(RUN_OUT, "top", middle, run_out.most - middle))
    grid = _grid(job, levels)
    bottom_height = _bottom_height(job)

    def whole(length: Fraction) -> int:
        return int(length * grid)

    targets = [target for target in levels if meets_back or target.name != ARCH_BACK]
    ranks = {target.band: rank for rank, target in enumerate(targets) if target.band}
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
        head_is=_HEAD_IS[surround.opening.head] if meets_back else "plane",
        top_meets=job.face.top_meets,
        targets=tuple(
            Target(
                x.name,
                x.kind,
                whole(x.level),
                whole(x.tolerance),
                is_sawn_to=x.name in SAWN_TO,
                band=x.band,
                old=x.old,
            )
            for x in targets
        ),
        bands=tuple(
            BandAsked(
                whole(job.standing_height(band.kind)),
                None if band.is_part else band.course,
                ranks.get(place, 0),
                band,
            )
            for place, band in enumerate(job.band, start=1)
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
        elif target.band:
            passed = laid.first_of(target.band) > 0
        if passed:
            kind: Kind = "head" if rank == 0 else "underside"
            target = replace(target, kind=kind, level=0, band=0)
        targets.append(target)
    less = len(laid.courses) - 1
    bands = []
    for place, band in enumerate(problem.bands, start=1):
        first = band.course or laid.first_of(place)
        # What is laid is one course: those above it are counted from there.
        bands.append(replace(band, course=first - less, rank=0) if first else band)
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
        bands=tuple(bands),
    )


def meets_back(job: Job, coursing: Coursing) -> bool:
    """Whether a course was to end with the back of a jack arch, if there is one."""
    met = {target.name for target in coursing.targets}
    return job.opening.head != "jack arch" or ARCH_BACK in met


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


@dataclass(frozen=True)
class _Level:
    """A target in the job's lengths; the rest is as `Target` has it."""

    name: str
    kind: Kind
    level: Fraction
    tolerance: Fraction
    band: int = 0
    old: OldLine | None = None


def head_name(job: Job) -> str:
    """Return what the top of the jambs is called: an arch has its head higher up."""
    return SPRING_LINE if job.opening.head.endswith(" arch") else OPENING_HEAD


def _targets(job: Job, surround: Surround) -> list[_Level]:
    step = job.joints.step
    opening = surround.opening
    targets = [
        _Level(head_name(job), "head", opening.height, step / 2),
        _Level("top", job.face.top_meets, surround.height, step / 2),
    ]
    if opening.head == "soldier over the opening":
        targets.append(_Level(SOLDIER_TOP, "top", job.head_height, step))
    elif opening.head == "jack arch":
        targets.append(_Level(ARCH_BACK, "top", job.arch_depth, step))

    def tolerance(given: Fraction | None) -> Fraction:
        return step / 2 if given is None else given

    for further in job.target:
        within = tolerance(further.tolerance)
        targets.append(_Level(further.name, further.meets, further.level, within))
    for place, name in enumerate(band_names(job.band), start=1):
        band = job.band[place - 1]
        if band.level is not None:
            within = tolerance(band.tolerance)
            # A band is a course: the joint under the top of the face leads to none.
            kind: Kind = "head" if band.meets == "underside" else "top"
            # On a part of the front it is no course of its own.
            own = 0 if band.is_part else place
            targets.append(_Level(name, kind, band.level, within, own))
    for name, corbel in zip(corbel_names(job.corbel), job.corbel, strict=True):
        if corbel.top is not None:
            within = tolerance(corbel.tolerance)
            targets.append(_Level(name, "top", corbel.top, within))
    for panel in job.panel:
        foot, top = panel.levels
        targets.append(_Level(foot, "underside", panel.bottom, step / 2))
        targets.append(_Level(top, "top", panel.top, step / 2))
    asked = (line for line in old_lines(job) if line.is_asked)
    old = (_Level(x.name, x.meets, x.level, x.tolerance, old=x) for x in asked)
    return [*targets, *old]


def _grid(job: Job, levels: list[_Level]) -> int:
    """Return the common denominator of every length that counts."""
    sawn = _bottom_height(job), job.courses.top_height
    lengths = [
        *(job.joints.step / 2, job.joints.bed.preferred, unseen_jump(job)),
        *(job.brick.height, _over_head(job), *(x for x in sawn if x is not None)),
        *(x for each in levels for x in (each.level, each.tolerance)),
        *(job.standing_height(band.kind) for band in job.band),
        *(laid.highest for laid in job.laid),
    ]
    return lcm(*(length.denominator for length in lengths))
