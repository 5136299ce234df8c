"""Say of each course what is laid, which rule mark it follows, how far it may wander.

In:  `Solution`.   Out: columns of words, sentences.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.lettering import plain
from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.marks.form import Follows, Variation, not_less
from shopdraw.review.findings import in_words
from shopdraw.solution import Solution


def further_columns(solution: Solution) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield what else the coursing table says of each course, where this job has it."""
    job, coursing = solution.job, solution.coursing
    if coursing.laid is not None:
        yield "LAID", tuple(laid_words(job, course) for course in coursing.courses)
    marks, variation = solution.rule_marks, solution.variation
    if marks:
        yield "RULE MARK", tuple(_mark(job, follows) for follows in marks)
    if variation is not None and variation.height is not None:
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


def laid_words(job: Job, course: Course) -> str:
    """Say whether a course is laid, and whether and when somebody measured it."""
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
    """Write a rule mark: what it is off by, and where the rule moves to it."""
    off = in_words(abs(follows.off), job.lengths, up=True)
    way = "over" if follows.off > 0 else "under"
    words = (
        f"{plain(follows.mark)}, {off} {way}" if follows.off else plain(follows.mark)
    )
    return f"move to {words}" if follows.moves else words


def plus_minus(job: Job, deviation: float | None) -> str:
    """Write how far something may be off, rounded up so that it is never less."""
    if deviation is None:
        return ""
    return f"+/- {in_words(not_less(deviation), job.lengths, up=True)}"


def lot_words(solution: Solution) -> Iterator[str]:
    """Say what a sample of the brick says of the plan."""
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
    yield f"Brick as delivered, solved with the mean of the sample: {', '.join(means)}."
    for name, spread in (("Heights", variation.height), ("Lengths", variation.length)):
        if spread is not None:
            yield (
                f"{name} of {spread.count} brick: "
                f"{in_words(spread.least, job.lengths)} to "
                f"{in_words(spread.most, job.lengths)}, standard deviation "
                f"{plus_minus(job, spread.deviation).removeprefix('+/- ')}."
            )
    if variation.height is None:
        yield "The spread of heights is not known, nor how far courses may wander."
        return
    last, head = len(coursing.courses), coursing.courses_below_head
    yield (
        "With joints struck as planned and no level looked at, at two standard "
        f"deviations the head may wander {plus_minus(job, variation.wander_at(head))} "
        f"and the last course {plus_minus(job, variation.wander_at(last))}."
    )
    yield from _measure_again(job, variation)


def _measure_again(job: Job, variation: Variation) -> Iterator[str]:
    step = in_words(job.joints.step, job.lengths)
    if not variation.at_once:
        yield (
            f"One brick alone may be off by more than a joint step, {step}: hold every "
            "course to the pole."
        )
    else:
        at = ", ".join(str(number) for number in variation.remeasure_at)
        yield (
            f"Measure again at course {at}: a correction of one joint step, {step}, is "
            "then enough."
        )
    if variation.tight:
        tight = ", ".join(str(number) for number in variation.tight)
        yield (
            "Bed joints with less room to their range than a brick's own two "
            f"deviations: under course {tight}."
        )
