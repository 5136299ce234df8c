"""Say what falls due at each course: the ledger, soldiers, targets, days, measuring.

In:  `Solution`.   Out: `Due`s, by the number of the course.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.page import Due
from shopdraw.job.model_head import STANDING
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.wall.layout import OF_AN_ARCH
from shopdraw.quantities.schedule import Step as Wait
from shopdraw.review.findings import in_words
from shopdraw.solution import Solution
from shopdraw.views.parts.courses import laid_words
from shopdraw.views.words.notes import bottom_words, prop_words

REMEASURE = "shopdraw remeasure JOB.toml --course {} --top 'MEASURED'"
"""What is typed once a course is measured again; its top, with its unit, goes in."""


def dues_at(solution: Solution, course: Course) -> Iterator[Due]:
    """Yield what falls due at a course, in the order that it is read."""
    said = laid_words(solution.job, course)
    if said:
        yield Due(f"This course is {said}.", is_before=True)
    if course.number == 1:
        yield from (Due(words, is_before=True) for words in bottom_words(solution.job))
    if course.number == head_course(solution):
        yield Due(prop_words(solution), is_before=True)
        yield from _standing(solution)
    yield from _targets(solution, course)
    yield from _old_lines(solution, course)
    yield from _measure_again(solution, course)
    yield from _days(solution, course)


def head_course(solution: Solution) -> int:
    """Return the first course over the opening, or beside what stands there."""
    coursing = solution.coursing
    return min(coursing.courses_below_head + 1, len(coursing.courses))


def _standing(solution: Solution) -> Iterator[Due]:
    """Say what stands over the opening, and beside which courses."""
    coursing, job = solution.coursing, solution.job
    yield from _arch(solution)
    head, count = job.opening.head, coursing.courses_beside_soldiers
    if head not in STANDING or coursing.soldier_top is None:
        return
    top = format_length(coursing.soldier_top, job.lengths)
    sawn = ", sawn to length" if coursing.soldiers_cut else ""
    words = f"The {head}s stand over the opening from here, their top at {top}{sawn}."
    first = head_course(solution)
    if count > 1:
        words += f" Courses {first} to {first + count - 1} of the legs are beside them."
    yield Due(words, is_before=True)


def _arch(solution: Solution) -> Iterator[Due]:
    """Say how high an arch is, and which courses run up to it."""
    arch = [x for x in solution.layout.pieces if x.kind in OF_AN_ARCH]
    if not arch:
        return
    top = max(piece.outlines[0].top for piece in arch)
    last = max(x.number for x in solution.coursing.courses if x.bottom < top)
    yield Due(
        "The arch stands on the centre from here, its top at "
        f"{format_length(top, solution.lengths)}. Courses {head_course(solution)} to "
        f"{last} run up to it.",
        is_before=True,
    )


def _targets(solution: Solution, course: Course) -> Iterator[Due]:
    """Say which targets a course lands on, or misses."""
    lengths = solution.lengths
    for target in solution.coursing.targets:
        level = course.bottom if target.meets == "underside" else course.top
        if target.got != level:
            continue
        edge = "underside" if target.meets == "underside" else "top"
        wanted = format_length(target.wanted, lengths)
        says = f"lands on {plain(target.name)}, {wanted}"
        if not target.lands:
            off = in_words(target.miss, lengths, up=True)
            says = f"MISSES {plain(target.name)}, {wanted}, by {off}"
        is_before = target.meets == "underside"
        yield Due(f"The {edge} of this course {says}.", is_before=is_before)


def _old_lines(solution: Solution, course: Course) -> Iterator[Due]:
    """Say which lines of old brick a course lines through with, or should."""
    coursing, job = solution.coursing, solution.job
    for line in coursing.old_lines:
        old = line.old
        if old is None or coursing.course_at(line) != course.number:
            continue
        if course.is_reckoned:
            continue
        if line.meets == "underside" or not (line.lands or old.is_asked):
            continue
        name = plain(job.existing_brick[old.brick - 1].name)
        off = in_words(line.miss, job.lengths, up=True)
        way = "under" if line.got < line.wanted else "over"
        says = f"lines through with course {old.number} of the old brick, {name}"
        if not line.lands:
            says = f"MISSES course {old.number} of the old brick, {name}"
        aside = f", {off} {way} it" if line.miss else ""
        yield Due(f"The top of this course {says}{aside}.", is_before=False)


def _measure_again(solution: Solution, course: Course) -> Iterator[Due]:
    """Say where the brick measured ask for the level to be measured again."""
    variation = solution.variation
    if variation is None or course.is_laid:
        return
    if course.number in variation.tight:
        yield Due(
            "Watch the joint under this course: a brick may be off by more than it has "
            "to spare.",
            is_before=True,
        )
    if course.number in variation.remeasure_at:
        yield Due(
            "Measure the top of this course again, from the datum, before you go on. "
            "Where it is off, solve the rest again:",
            command=REMEASURE.format(course.number),
        )


def _days(solution: Solution, course: Course) -> Iterator[Due]:
    """Say at the head when its prop may go, at the last course what may follow it."""
    last = solution.coursing.courses[-1].number
    for wait in solution.schedule:
        at = head_course(solution) if wait.what.startswith("take the") else last
        if course.number == at:
            yield Due(f"{_day_of(wait)}.", wait.status)


def _day_of(wait: Wait) -> str:
    what = wait.what[:1].upper() + wait.what[1:]
    if wait.day:
        return f"{what}: not before {wait.day}, {wait.wait}"
    return f"{what}: {wait.wait}; the day of setting is not given"
