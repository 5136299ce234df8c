"""Say of each course whether it is laid, its rule mark, and how far it may wander.

In:  `Solution`.   Out: columns of words, sentences.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from shopdraw.drawing.lettering import plain
from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Course, Coursing, TargetMet
from shopdraw.masonry.marks.form import Follows, Variation, not_less
from shopdraw.review.findings import in_words
from shopdraw.solution import Solution
from shopdraw.views.parts.phrases import courses_said, listed
from shopdraw.views.parts.strings import Row

LENGTHS_ALONE = ("PROJECTS", "MAY WANDER")
"""The further columns that stand like other figures: each cell is a length."""


def further_columns(solution: Solution) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield the further columns that this job's coursing table has."""
    job, coursing = solution.job, solution.coursing
    if coursing.laid is not None:
        yield "LAID", tuple(laid_words(job, course) for course in coursing.courses)
    if coursing.corbelled:
        yield "PROJECTS", tuple(_projects(job, course) for course in coursing.courses)
    for place, old in enumerate(job.existing_brick, start=1):
        lines = [x for x in coursing.old_lines if x.old and x.old.brick == place]
        yield (
            f"OLD LINE {old.where.upper()}",
            tuple(
                old_words(job, coursing, course, lines) for course in coursing.courses
            ),
        )
    marks, variation = solution.rule_marks, solution.variation
    if marks:
        yield "RULE MARK", tuple(_mark(job, follows) for follows in marks)
    if variation and variation.height and not coursing.is_as_built:
        yield (
            "MAY WANDER",
            tuple(
                ""
                if course.is_laid
                else plus_minus(job, variation.wander_at(course.number))
                for course in coursing.courses
            ),
        )
        yield (
            "MEASURE AGAIN",
            tuple(
                "here" if course.number in variation.remeasure_at else ""
                for course in coursing.courses
            ),
        )


def _projects(job: Job, course: Course) -> str:
    """Write how far a course stands out before the finished face; nothing if flush."""
    return format_length(course.projection, job.lengths) if course.projection else ""


def old_words(
    job: Job, coursing: Coursing, course: Course, lines: Sequence[TargetMet]
) -> str:
    """Say which old course lines a course lines through with, or comes nearest to."""
    return "; ".join(
        _beside_old(job, line, course)
        for line in lines
        if coursing.course_at(line) == course.number
        and (line.lands or (line.old and line.old.is_asked))
    )


def _beside_old(job: Job, line: TargetMet, course: Course) -> str:
    """Write an old line's number, and how far the new course is off it."""
    number = line.old.number if line.old else 0
    if course.is_reckoned:
        return f"{number}: not measured"
    if not line.miss:
        return f"{number}: level"
    way = "low" if line.got < line.wanted else "high"
    # As short as it can be, so that the column is: the levels beside it are so too.
    off = in_words(line.miss, job.lengths, up=True).removesuffix(f" {job.lengths}")
    inch = '"' if job.lengths == "in" else ""
    return f"{number}: {off}{inch} {way}{'' if line.lands else ', MISSED'}"


LIES = {"S": "stretcher", "H": "header", "SH": "stretcher and header"}
"""What a course of the bond is called, by what lies in it by turns."""


def course_kind(course: Course, cycle: Sequence[str]) -> str:
    """Name what a course is: what lies in it in the bond, or what stands in it.

    Args:
        course: which; course 1 begins the bond's cycle.
        cycle: of the layout that it is in.
    """
    if course.kind != "running":
        return course.kind
    return LIES[cycle[(course.number - 1) % len(cycle)]]


def course_strings(
    solution: Solution,
    courses: Sequence[Course],
    places_of: Callable[[Course], tuple[Fraction, ...]],
    below: int,
) -> list[Row]:
    """Return the strings of the courses that the bond repeats; one for those alike.

    Each names all courses that it is true of: of a crooked face it may be one. Headers
    and what projects have strings of their own at any level.

    Args:
        solution: whose bond it is.
        courses: of the face, from course 1 up.
        places_of: where the pieces of a course begin and end.
        below: how many courses are set out as the bond has them.
    """
    repeats = min(len(solution.layout.cycle), below)
    alike: dict[tuple[Fraction, ...], list[Course]] = {}
    for course in courses:
        places = places_of(course)
        is_one = course.number <= repeats or course.kind == "header"
        is_as_below = course.number <= below and places in alike
        if is_one or course.projection or is_as_below:
            alike.setdefault(places, []).append(course)
    rows = list[Row]()
    for places, some in alike.items():
        name = courses_said([x.number for x in some])
        far = some[0].projection
        out = f", OUT {format_length(far, solution.lengths)}" if far else ""
        rows.append((f"{name}, FINISH{out}", places))
    return rows


def planned_and_laid(coursing: Coursing) -> tuple[tuple[Course, Course], ...]:
    """Return each course as planned and as laid, once all are; before that none."""
    if not coursing.is_as_built:
        return ()
    return tuple(zip(coursing.planned, coursing.courses, strict=True))


def off_plan(job: Job, coursing: Coursing, course: Course) -> str:
    """Say how far a course as laid is off the plan; nothing where nobody measured."""
    if course.is_reckoned or course.number > len(coursing.planned):
        return ""
    off = coursing.changes_from(coursing.planned)[course.number - 1].top
    if not off:
        return "as planned"
    return f"{in_words(abs(off), job.lengths, up=True)} {'high' if off > 0 else 'low'}"


def lower_end(job: Job, course: Course) -> str:
    """Say which end of a course out of level is the lower one, and where it lies."""
    for laid in job.laid:
        if laid.course == course.number and laid.left is not None and laid.taper:
            right = laid.right or laid.left
            side = "left" if laid.left < right else "right"
            level = format_length(min(laid.left, right), job.lengths)
            return f"{side} {level}"
    return ""


def laid_words(job: Job, course: Course) -> str:
    """Say whether a course is laid, and when it was measured."""
    if course.is_reckoned:
        return "laid, not measured"
    if not course.is_laid:
        return ""
    (on,) = (laid.measured_on for laid in job.laid if laid.course == course.number)
    return "measured" if on is None else f"measured {on}"


def level_words(job: Job, course: Course) -> tuple[str, str, str]:
    """Write a course's bed joint, bottom and top; a dash for what nobody measured."""
    if course.is_joint_reckoned:
        return "-", "-", top_words(job, course)
    joint, bottom = (
        format_length(x, job.lengths) for x in (course.bed_joint, course.bottom)
    )
    return joint, bottom, top_words(job, course)


def top_words(job: Job, course: Course) -> str:
    """Write the top of a course from the datum; "about" where nobody measured it."""
    about = "about " if course.is_reckoned else ""
    return f"{about}{format_length(course.top, job.lengths)}"


def _mark(job: Job, follows: Follows) -> str:
    """Write the rule mark to follow, how far it is off, and where to change to it."""
    off = in_words(abs(follows.off), job.lengths, up=True)
    way = "over" if follows.off > 0 else "under"
    words = (
        f"{plain(follows.mark)}, {off} {way}" if follows.off else plain(follows.mark)
    )
    return f"change to {words}" if follows.moves else words


def plus_minus(job: Job, deviation: float | None) -> str:
    """Write how far something may be off either way, rounded up: `+/- 3/32 in`."""
    if deviation is None:
        return ""
    return f"+/- {in_words(not_less(deviation), job.lengths, up=True)}"


def _off_by(job: Job, deviation: float | None) -> str:
    """Write how far something may be off, for a sentence: `3/32 in`."""
    return plus_minus(job, deviation).removeprefix("+/- ")


def lot_words(solution: Solution) -> Iterator[str]:
    """Say what the brick that were measured mean for the courses."""
    job, coursing = solution.job, solution.coursing
    variation, sample = solution.variation, job.brick.sample
    if variation is None or sample is None:
        return
    means = [
        f"{name} {in_words(mean, job.lengths)}"
        for name, mean, given in (
            ("length", job.brick.length, sample.lengths or sample.row_of_ten),
            ("height", job.brick.height, sample.heights or sample.stack_of_ten),
        )
        if given
    ]
    yield (
        "The courses are worked out with the mean of the brick measured: "
        f"{', '.join(means)}."
    )
    for name, spread in (("heights", variation.height), ("lengths", variation.length)):
        if spread is not None:
            yield (
                f"The {name} of {spread.count} brick run from "
                f"{in_words(spread.least, job.lengths)} to "
                f"{in_words(spread.most, job.lengths)}, standard deviation "
                f"{_off_by(job, spread.deviation)}."
            )
    if variation.height is None:
        yield (
            "The brick were not measured one by one for height, so it is not known how "
            "far the courses may wander."
        )
        return
    last, head = len(coursing.courses), coursing.courses_below_head
    yield (
        "If every joint is made as planned and no level is checked on the way, the "
        f"head may be off by {_off_by(job, variation.wander_at(head))} and the last "
        f"course by {_off_by(job, variation.wander_at(last))}, up or down (two "
        "standard deviations)."
    )
    yield from _measure_again(job, variation)


def _measure_again(job: Job, variation: Variation) -> Iterator[str]:
    step = in_words(job.joints.step, job.lengths)
    if not variation.at_once:
        yield (
            f"A single brick may be off by more than one joint step, {step}: check "
            "every course against the story pole."
        )
    elif variation.remeasure_at:
        yield (
            f"Measure again at {_courses(variation.remeasure_at)}: a correction of one "
            f"joint step, {step}, is then enough."
        )
    if variation.tight:
        yield (
            f"Watch the bed joints under {_courses(variation.tight)}: a brick may be "
            "off (two standard deviations) by more than the joint has to spare."
        )


def _courses(numbers: tuple[int, ...]) -> str:
    """Name courses in a sentence: `courses 8, 10 and 12`."""
    names = listed([str(number) for number in numbers])
    return f"course {names}" if len(numbers) == 1 else f"courses {names}"
