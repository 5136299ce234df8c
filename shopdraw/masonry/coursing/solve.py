"""Solve the coursing: how many courses, and how thick each bed joint.

In:  `Job`, `Surround`.   Out: `Coursing`.
Frame: the job's lengths, y up from the datum; solved as integers on one grid.

`problem` states it in whole numbers, `planes` gives each target its plane, `joints`
chooses the joints; here the answer is turned back into courses and lengths.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate, pairwise

from shopdraw.errors import NotLaid
from shopdraw.job.complaint import said
from shopdraw.job.model import Job
from shopdraw.job.model_bands import corbel_names
from shopdraw.job.old_lines import old_lines
from shopdraw.masonry.coursing.explain import explain_coursing
from shopdraw.masonry.coursing.form import (
    AsLaid,
    Course,
    CourseKind,
    Coursing,
    Merit,
    OtherCount,
    RunOut,
    TargetMet,
)
from shopdraw.masonry.coursing.joints import ChosenJoints, choose_joints, room_needed
from shopdraw.masonry.coursing.laid import take_as_laid
from shopdraw.masonry.coursing.planes import Candidate, least_misses, list_candidates
from shopdraw.masonry.coursing.problem import (
    ARCH_BACK,
    BESIDE,
    RUN_OUT,
    Problem,
    state_problem,
)
from shopdraw.masonry.coursing.stack import Stack
from shopdraw.masonry.wall.form import Surround


def solve_coursing(
    job: Job, surround: Surround, run_out: RunOut | None = None
) -> Coursing:
    """Find the best coursing there is, and say why; there is one for every fair job.

    Args:
        job: the joints, the brick, the targets.
        surround: the levels of head and top, and what stands over the opening.
        run_out: where a course should end over an arch; it counts after all targets.

    Returns:
        The best by `Merit`, exactly: none is better. Courses that are laid already stay
        as they are, and the rest is the best that can stand on them.

    Raises:
        NotLaid: a band or a corbel has no course to be.
    """
    problem = state_rest(job, surround, run_out)
    candidates = list_candidates(problem)
    coursing = best_coursing(job, problem, candidates)
    _check_bands(job, coursing)
    courses = len(coursing.courses) - _laid_beyond_one(problem)
    others = [each for each in candidates if each.stack.courses != courses]
    other = _next_best(problem, others, coursing.merit.misses)
    coursing = replace(coursing, reasons=explain_coursing(job, coursing, other))
    return _as_asked(job, coursing)


def _as_asked(job: Job, coursing: Coursing) -> Coursing:
    """Return the coursing with what the job asks for alone, old lines by themselves.

    Lines that no joints were bent for get the course that comes nearest.
    """
    misses = zip(coursing.targets, coursing.merit.misses, strict=True)
    kept = [each for each in misses if each[0].name != RUN_OUT]
    return replace(
        coursing,
        targets=tuple(target for target, _ in kept if target.old is None),
        old_lines=tuple(_lines_met(job, coursing)),
        merit=replace(coursing.merit, misses=tuple(miss for _, miss in kept)),
    )


def _lines_met(job: Job, coursing: Coursing) -> Iterator[TargetMet]:
    """Yield every line of old brick with what comes to it, asked for or not."""
    asked = {target.old: target for target in coursing.targets}
    tops = [course.top for course in coursing.courses]
    for line in old_lines(job):
        level = line.level
        got = min(tops, key=lambda top: (abs(top - level), top))
        yield asked.get(line) or TargetMet(
            line.name, line.meets, level, got, line.tolerance, old=line
        )


def _check_bands(job: Job, coursing: Coursing) -> None:
    """Refuse a band above the top of the face, and a corbel that begins too low."""
    there = {course.band for course in coursing.courses}
    last = len(coursing.courses)
    for place, band in enumerate(job.band, start=1):
        if place not in there and not band.is_part:
            message = (
                f"band[{place}].course: course {band.course} is above the top of the "
                f"face, which is that of course {last}; write at most {last}"
            )
            raise NotLaid(message)
    count = sum(corbel.courses for corbel in job.corbel)
    over = coursing.soldier_top or coursing.head
    out = coursing.corbelled
    if len(out) < count or any(course.bottom < over for course in out):
        top = " or another top" if any(x.top is not None for x in job.corbel) else ""
        message = (
            "corbel: its courses must lie above what stands over the opening, one "
            f"corbel above the other; write fewer courses{top}"
        )
        raise NotLaid(message)
    for place, trim in enumerate(job.trim, start=1):
        for course in out:
            if trim.bottom < course.top and trim.bottom + trim.height > course.bottom:
                message = (
                    f"trim[{place}]: the {trim.name} lies where the brick of course "
                    f"{course.number} projects, from {said(job, course.bottom)} to "
                    f"{said(job, course.top)}; write another bottom or height"
                )
                raise NotLaid(message)


def state_rest(job: Job, surround: Surround, run_out: RunOut | None = None) -> Problem:
    """State what is left to solve: all of it, or what goes on the courses laid."""
    problem = state_problem(job, surround, run_out=run_out)
    meets_back = job.opening.head != "jack arch" or _meets_back(job, problem)
    if not meets_back:
        problem = state_problem(job, surround, meets_back=False, run_out=run_out)
    if not job.laid:
        return problem
    laid = take_as_laid(job, best_coursing(job, problem))
    return state_problem(job, surround, laid, meets_back=meets_back, run_out=run_out)


def _meets_back(job: Job, problem: Problem) -> bool:
    """Whether a course ends level with a jack arch's back."""
    targets = best_coursing(job, problem).targets
    return any(target.name == ARCH_BACK and target.lands for target in targets)


def best_coursing(
    job: Job, problem: Problem, candidates: Iterable[Candidate] = ()
) -> Coursing:
    """Find the best coursing of a problem already stated, without the reasons.

    Args:
        job: what the problem was stated from.
        problem: what is asked.
        candidates: what to choose from, where they are listed already.
    """
    _, cases = least_misses(candidates or list_candidates(problem))
    return _read_off(job, choose_joints(problem, cases))


def _laid_beyond_one(problem: Problem) -> int:
    """Return how many laid courses the stack does not count, taking them for one."""
    return len(problem.laid.courses) - 1 if problem.laid else 0


def _next_best(
    problem: Problem, others: list[Candidate], best: tuple[Fraction, ...]
) -> OtherCount:
    """Find the best of the others, working out only what tells it from the answer."""
    least, cases = least_misses(others)
    misses = tuple(
        problem.length(miss) if target.binds else Fraction(miss)
        for target, miss in zip(problem.targets, least, strict=True)
    )
    jump, departure, narrow = Fraction(0), Fraction(0), 0
    # Where the misses alone tell it from the answer, nothing more is worked out.
    if misses == best or len({case.stack.courses for case in cases}) > 1:
        room, cases = room_needed(problem, cases)
        jump = problem.length(room.jump)
        departure = problem.length(room.most_departure)
        narrow = int(room.has_narrow)
    courses = cases[0].stack.courses + _laid_beyond_one(problem)
    return OtherCount(courses, misses, jump, departure, narrow)


def _read_off(job: Job, choice: ChosenJoints) -> Coursing:
    """Turn the joints chosen into courses, targets and merit, in the job's lengths."""
    stack, problem = choice.case.stack, choice.case.stack.problem
    courses = _courses(job, stack, choice.joints)
    joints = tuple(course.bed_joint for course in courses)
    undersides = [course.bottom for course in courses]
    if stack.joints > stack.courses:
        last = problem.length(choice.joints[-1] * problem.step)
        joints = (*joints, last)
        undersides.append(courses[-1].top + last)
    targets = _targets_met(problem, undersides, courses)
    courses = _corbelled(job, courses, targets)
    head = targets[0].got
    whole = problem.whole or problem
    is_arch = job.opening.head == "jack arch"
    # A rowlock is sawn from a whole brick and may be taller.
    is_sawn = job.opening.head == "rowlock"
    soldier_top = _soldier_top(whole, courses, head, is_sawn=is_sawn)
    if is_arch:
        # An arch stays as deep as asked; the course over it is cut where need be.
        soldier_top = head + job.arch_depth
    return Coursing(
        courses=courses,
        joints=joints,
        targets=targets,
        merit=_weigh(problem, choice.joints, targets),
        courses_below_head=undersides.index(head),
        head=head,
        soldier_top=soldier_top,
        soldiers_cut=soldier_top is not None
        and (soldier_top - head != job.head_height or _is_sawn(job)),
        courses_beside_soldiers=sum(
            not is_arch
            and whole.head_is == "soldiers beside courses"
            and soldier_top is not None
            and head <= course.bottom < soldier_top
            for course in courses
        ),
        reasons=(),
        laid=problem.laid,
    )


def _is_sawn(job: Job) -> bool:
    """Whether the job itself asks for soldiers shorter than a brick is long."""
    return job.opening.head == "soldier" and job.soldier_height != job.brick.length


def _courses(job: Job, stack: Stack, joints: tuple[int, ...]) -> tuple[Course, ...]:
    """Return the courses; those that are laid stay as they lie."""
    problem, laid = stack.problem, stack.problem.laid
    courses: list[Course] = []
    if laid is not None:
        below, known = Fraction(0), True
        for number, each in enumerate(laid.courses, start=1):
            joint = each.bottom - below
            courses.append(
                Course(
                    number,
                    each.kind,
                    joint,
                    each.bottom,
                    each.top,
                    is_laid=True,
                    is_reckoned=not each.is_measured,
                    is_joint_reckoned=not (known and each.is_measured),
                    band=each.band,
                )
            )
            below, known = each.top, each.is_measured
    first = 0 if laid is None else 1
    sums = list(accumulate(joints))
    for place in range(first, stack.courses):
        bottom = sums[place] * problem.step + stack.base[place]
        band = stack.bands.get(place + 1, 0)
        kind: CourseKind = job.band[band - 1].kind if band else "running"
        top = bottom + stack.base[place + 1] - stack.base[place]
        courses.append(
            Course(
                number=len(courses) + 1,
                kind="soldier" if place + 1 == stack.soldier_at else kind,
                bed_joint=problem.length(joints[place] * problem.step),
                bottom=problem.length(bottom),
                top=problem.length(top),
                band=band,
            )
        )
    return tuple(courses)


def _corbelled(
    job: Job, courses: tuple[Course, ...], targets: tuple[TargetMet, ...]
) -> tuple[Course, ...]:
    """Bring out the courses of each corbel, a step each, up to its last."""
    met = {target.name: target.got for target in targets}
    out: dict[int, Fraction] = {}
    for name, corbel in zip(corbel_names(job.corbel), job.corbel, strict=True):
        tops = [course.top for course in courses]
        last = len(courses) if corbel.top is None else tops.index(met[name]) + 1
        for place in range(1, corbel.courses + 1):
            out[last - corbel.courses + place] = place * corbel.step
    return tuple(
        replace(course, projection=out.get(course.number, Fraction(0)))
        for course in courses
    )


def _targets_met(
    problem: Problem, undersides: list[Fraction], courses: tuple[Course, ...]
) -> tuple[TargetMet, ...]:
    """Give each target its nearest plane, of two the lower; the top takes the last.

    A target that the laid courses have passed takes the nearest of their planes; any
    other takes the nearest plane still to come, or the top of the last course laid.
    """
    tops = [course.top for course in courses]
    planes = {"underside": undersides, "head": undersides[: len(tops)], "top": tops}
    whole, laid = problem.whole or problem, problem.laid
    met: list[TargetMet] = []
    for rank, target in enumerate(whole.targets):
        wanted = problem.length(target.level)
        if rank == BESIDE and whole.head_is == "soldiers beside courses":
            wanted += met[0].got
        of_kind = planes[target.kind][-1:] if rank == 1 else planes[target.kind]
        if target.band:
            first = next(c for c in courses if c.band == target.band)
            of_kind = [first.top if target.kind == "top" else first.bottom]
        elif laid is not None and rank != 1:
            of_kind = _within_reach(problem, laid, rank, of_kind)
        got = min(of_kind, key=lambda plane: (abs(plane - wanted), plane))
        tolerance = problem.length(target.tolerance)
        met.append(
            TargetMet(
                target.name,
                target.meets,
                wanted,
                got,
                tolerance,
                target.is_sawn_to,
                target.old,
            )
        )
    return tuple(met)


def _within_reach(
    problem: Problem, laid: AsLaid, rank: int, planes: list[Fraction]
) -> list[Fraction]:
    """Return the planes that a target may take: laid ones, or those still to come."""
    if not problem.is_passed(rank):
        kind = problem.targets[rank].kind
        return planes[len(laid.courses) - (kind == "top") :]
    if rank == 0 and laid.head is not None:
        return [laid.head]
    kind = (problem.whole or problem).targets[rank].kind
    return laid.planes(kind)


def _soldier_top(
    problem: Problem, courses: tuple[Course, ...], head: Fraction, *, is_sawn: bool
) -> Fraction | None:
    """Return the level that the soldiers end at; None where there are none.

    Soldiers beside the courses of the legs are as tall as wanted if a course ends
    within a step of that height; otherwise they end with the last course below it. A
    rowlock is sawn anyway, and ends with the nearest course.
    """
    if problem.head_is == "plane":
        return None
    if problem.head_is == "soldier course":
        return next(
            course.top
            for course in courses
            if course.kind == "soldier" and not course.band
        )
    wanted, step = head + problem.length(problem.soldier), problem.length(problem.step)
    tops = [course.top for course in courses if course.top > head]
    if is_sawn and tops:
        return min(tops, key=lambda top: (abs(top - wanted), top))
    below = [top for top in tops if top <= wanted]
    if not below or any(abs(top - wanted) <= step for top in tops):
        return wanted
    return below[-1]


def _weigh(
    problem: Problem, joints: tuple[int, ...], targets: tuple[TargetMet, ...]
) -> Merit:
    """Work out the merit of the joints afresh, just as `Merit` describes it."""
    bottom, *beds = (joint * problem.step for joint in joints)
    apart = [abs(upper - lower) for lower, upper in pairwise(beds)]
    jumps = [0, *(jump - problem.step for jump in apart)]
    if beds and not problem.laid and problem.unseen is not None:
        jumps.append(abs(beds[0] - bottom) - problem.unseen)
    departures = [abs(bed - problem.preferred) for bed in beds]
    most = max(departures, default=0)
    at_bottom = 0 if problem.laid else abs(bottom - problem.preferred)
    return Merit(
        misses=tuple(target.counted for target in targets),
        jump=problem.length(max(jumps)),
        departure=problem.length(most),
        narrow=int(most > 0 and problem.preferred - most in beds),
        changes=sum(jump > 0 for jump in apart),
        bottom_departure=problem.length(at_bottom),
        total_departure=problem.length(at_bottom + sum(departures)),
    )
