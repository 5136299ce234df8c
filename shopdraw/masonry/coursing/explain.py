"""Say what the coursing decided and why, in sentences for the mason.

In:  `Job`, `Coursing`, and the best `OtherCount` to its number of courses.
Out: sentences.
Frame: levels from the datum, as the sheets write them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import groupby

from shopdraw.job.model import Job
from shopdraw.job.old_lines import can_follow, old_gauge
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Coursing, OtherCount, TargetMet
from shopdraw.masonry.coursing.laid import unmeasured
from shopdraw.masonry.coursing.problem import ARCH_BACK, RUN_OUT, SOLDIER_TOP
from shopdraw.masonry.wall.asbuilt import plan_bottom_course

Say = Callable[[Fraction], str]


def explain_coursing(
    job: Job, coursing: Coursing, other: OtherCount
) -> tuple[str, ...]:
    """Return what was decided and why, a sentence each.

    Args:
        job: what was asked.
        coursing: what was chosen.
        other: the best there is with another number of courses.
    """

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    sentences = [
        *_laid(coursing),
        *_bottom_joint(job, coursing, say),
        *_bed_joints(coursing, say),
        *(
            _target(job, target, coursing, say)
            for target in coursing.targets
            if target.name != RUN_OUT and target.old is None
        ),
        *_old_brick(job, coursing, say),
        *_run_out(coursing, say),
        *_soldiers(job, coursing, say),
        *([] if coursing.is_as_built else [_count(coursing, other, say)]),
    ]
    return tuple(sentences)


def _bottom_joint(job: Job, coursing: Coursing, say: Say) -> list[str]:
    if coursing.courses[0].is_joint_reckoned:
        return []
    joint = coursing.joints[0]
    fall = Fraction(0) if job.hearth is None else job.hearth.fall
    if not fall:
        return [f"The bottom joint is {say(joint)}."]
    bottom = plan_bottom_course(job)
    lowest = say(joint + bottom.in_joint)
    most = job.joints.bottom.most
    over = ""
    if joint + bottom.in_joint > most:
        over = f", more than the {say(most)} allowed"
    if bottom.is_scribed:
        below = f"{say(joint)} there and {lowest} at the lowest point{over}"
        if not bottom.in_joint:
            below = f"{say(joint)} throughout{over}"
        return [
            f"The hearth falls {say(fall)}, more than the bottom joint can take up, so "
            f"the first course is scribed to it: {say(bottom.height)} high at the "
            f"highest point of the hearth. The joint below is {below}."
        ]
    return [
        f"The bottom joint is {say(joint)} at the highest point of the hearth and "
        f"takes up its fall of {say(fall)}: it is {lowest} at the lowest point{over}."
    ]


def _laid(coursing: Coursing) -> list[str]:
    """Say which courses are laid, and which of those nobody measured."""
    laid = coursing.laid
    if laid is None:
        return []
    guessed = list(unmeasured(laid))
    told = ""
    if guessed:
        runs = [
            list(run) for _, run in groupby(enumerate(guessed), lambda x: x[1] - x[0])
        ]
        which = ", ".join(_run(run[0][1], run[-1][1]) for run in runs)
        several = "s" if len(guessed) > 1 else ""
        told = f"; nobody measured course{several} {which}"
    count = len(laid.courses)
    if coursing.is_as_built:
        return [f"All {count} courses are laid, and the last is measured{told}."]
    return [f"Courses 1 to {count} are laid, and the rest stands on them{told}."]


def _run(first: int, last: int) -> str:
    return str(first) if first == last else f"{first} to {last}"


def _bed_joints(coursing: Coursing, say: Say) -> list[str]:
    """Say how thick the bed joints are, from the bottom up, equal ones together.

    Joints beside laid courses that nobody measured are left out.
    """
    reckoned = {c.number for c in coursing.courses if c.is_joint_reckoned}
    beds = [
        (number, thickness)
        for number, thickness in enumerate(coursing.joints, start=1)
        if number > 1 and number not in reckoned
    ]
    runs = []
    # Equal joints are said together only where none between them is left out.
    for (thickness, _), group in groupby(
        enumerate(beds), key=lambda each: (each[1][1], each[1][0] - each[0])
    ):
        numbers = [number for _, (number, _) in group]
        which = _under(numbers[0], numbers[-1], len(coursing.courses))
        runs.append(f"{say(thickness)} {which}")
    return [f"Bed joints from the bottom up: {', '.join(runs)}."] if runs else []


def _under(first: int, last: int, courses: int) -> str:
    if first > courses:
        return "above the last course"
    if first == last:
        return f"under course {first}"
    if last > courses:
        return f"from under course {first} to above the last"
    return f"under courses {first} to {last}"


def _target(job: Job, target: TargetMet, coursing: Coursing, say: Say) -> str:
    """Say which joint or course meets a target, and how far off it is."""
    if target.meets == "top":
        plane = f"the top of course {coursing.course_at(target)}"
    else:
        below = coursing.course_at(target)
        thick = say(coursing.joints[below])
        place = f"joint above course {below}" if below else "bottom joint"
        plane = f"the {thick} {place}"
    name = f"{target.name[0].upper()}{target.name[1:]}"
    if target.name == SOLDIER_TOP:
        over = f"{say(job.head_height)} of {job.opening.head}"
        name += f" (the head's level plus {over})"
    if target.lands:
        got, wanted = say(target.got), say(target.wanted)
        near = "" if got == wanted else f", within the tolerance of the {wanted} wanted"
        return f"{name}: {plane} lands on {got}{near}."
    way = "low" if target.got < target.wanted else "high"
    return (
        f"{name}: wanted at {say(target.wanted)}, but {plane}, which comes nearest, is "
        f"at {say(target.got)}, {say(target.miss)} too {way}."
    )


def _old_brick(job: Job, coursing: Coursing, say: Say) -> Iterator[str]:
    """Say of each old brick which of its lines new courses line through with."""
    for place, old in enumerate(job.existing_brick, start=1):
        if not can_follow(job, old):
            bed, gauge = job.joints.bed, old_gauge(old) or Fraction(0)
            yield (
                f"Old brick, {old.name}: its courses rise by {say(gauge)}, and bed "
                f"joints of {say(bed.least)} to {say(bed.most)} can't follow, so no "
                "joint is bent for it."
            )
            continue
        lines = [x for x in coursing.targets if x.old and x.old.brick == place]
        missed = [x for x in lines if not x.lands]
        said = f"{len(lines) - len(missed)} of the {len(lines)} course lines beside "
        said += "the face are met"
        if old.where == "above":
            does = "does not come up" if missed else "comes up"
            said = f"the last bed joint {does} to its lowest course"
        off = max((line.miss for line in missed), default=Fraction(0))
        further = f", the furthest missed by {say(off)}" if missed else ""
        yield f"Old brick, {old.name}: {said}{further}."


def _run_out(coursing: Coursing, say: Say) -> list[str]:
    """Say where a course ends for the sake of an arch."""
    return [
        f"Course {course.number} ends at {say(course.top)}, so that the courses meet "
        "the arch's back better."
        for target in coursing.targets
        if target.name == RUN_OUT and target.lands
        for course in coursing.courses
        if course.top == target.got
    ]


def _soldiers(job: Job, coursing: Coursing, say: Say) -> list[str]:
    if coursing.soldier_top is None:
        return []
    height = say(coursing.soldier_top - coursing.head)
    if job.opening.head == "jack arch":
        if any(target.name == ARCH_BACK for target in coursing.targets):
            return [f"The arch is {height} deep, and its back is level with a course."]
        return []
    name = f"{job.opening.head}s"
    count = job.opening.head_courses
    if count > 1:
        each = (coursing.soldier_top - coursing.head) / count
        each -= job.joints.bed.preferred * (count - 1) / count
        return [
            f"The {name} stand in {count} courses, each {say(each)} high, with joints "
            f"of {say(job.joints.bed.preferred)} between: {height} in all."
        ]
    over = job.head_height - (coursing.soldier_top - coursing.head)
    if coursing.soldiers_cut and job.opening.head == "soldier" and over > 0:
        return [
            f"The {name} are sawn to {height}: at the {say(job.head_height)} wanted "
            f"they would end {say(over)} above the course beside them."
        ]
    if coursing.soldiers_cut or job.opening.head == "rowlock":
        return [f"The {name} are sawn to {height}."]
    return [f"The {name} keep the full length of the brick, {height}."]


def _count(coursing: Coursing, other: OtherCount, say: Say) -> str:
    """Say why there are so many courses: what another number would cost."""
    mine = coursing.merit
    with_others = f"There are {len(coursing.courses)} courses; with {other.courses}"
    misses = zip(coursing.targets, mine.misses, other.misses, strict=True)
    for target, here, there in misses:
        if here != there and target.name == RUN_OUT:
            return f"{with_others} more mortar would stand beside the arch."
        if here != there and target.old is not None:
            return f"{with_others} fewer courses would line through with old brick."
        if here != there and target.is_sawn_to:
            return f"{with_others} the {target.name} would be met by sawing alone."
        if here != there:
            return f"{with_others} the {target.name} would be missed by {say(there)}."
    if other.jump > mine.jump:
        return f"{with_others} joints next to each other would be seen to differ more."
    if other.departure > mine.departure:
        return (
            f"{with_others} a bed joint would be {say(other.departure)} off the "
            f"preferred instead of {say(mine.departure)}."
        )
    if other.narrow > mine.narrow:
        return f"{with_others} the joint furthest off the preferred would be thin."
    return f"{with_others} the joints would come out no better."
