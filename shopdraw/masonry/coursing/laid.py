"""Work out where the courses that are laid already lie, as far as they were measured.

In:  `Job` with `[[laid]]`, the coursing as planned.   Out: `AsLaid`.
Frame: levels from the datum, in the job's lengths.

The rest starts from the higher end of the last course measured. A laid course below it
that nobody measured is put where the plan had it, moved by an even share of how far the
measured ones are off. The sheets say that it was not measured, and nothing else
depends on it.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from shopdraw.errors import NotLaid
from shopdraw.job.complaint import said
from shopdraw.job.model import Job
from shopdraw.job.model_laid import LaidTable
from shopdraw.masonry.coursing.form import AsLaid, Course, Coursing, LaidCourse

NONE = Fraction(0)


def take_as_laid(job: Job, plan: Coursing) -> AsLaid:
    """Return the laid courses where they were measured, or where they must lie.

    Args:
        job: with one `[[laid]]` entry at least.
        plan: the coursing of the same job with nothing laid.

    Raises:
        NotLaid: a course is above the plan's last, or at the top of the face below it.
    """
    measured = {laid.course: laid for laid in job.laid}
    last = measured[max(measured)]
    _check_last(job, plan, last)
    courses: list[LaidCourse] = []
    start, at, planned_at = 0, NONE, NONE
    for number in sorted(measured):
        group = _planned(plan, start, number)
        end = measured[number].highest
        planned_end = group[-1].top
        # Each joint of the group takes an even share of how far the group is off.
        share = (end - at - planned_end + planned_at) / len(group)
        level = at
        for course in group:
            bottom = level + course.bed_joint + share
            level = bottom + course.height
            courses.append(
                LaidCourse(
                    course.kind, bottom, level, course.number == number, course.band
                )
            )
        start, at, planned_at = number, end, planned_end
    head = _laid_head(plan, courses)
    return AsLaid(tuple(courses), last.taper, head, plan.courses)


def _check_last(job: Job, plan: Coursing, last: LaidTable) -> None:
    """Refuse a last course laid that can't be the course that it is said to be."""
    place, count = job.laid.index(last) + 1, len(plan.courses)
    what = ""
    if last.course > count:
        what = "is above the last one"
    elif last.course < count and last.highest >= job.face.height:
        top = said(job, job.face.height)
        what = f"is at the top of the face already, {top}"
    if what:
        message = (
            f"laid[{place}].course: course {last.course} {what}, and the plan has "
            f"{count} courses; check the number of the course, and measure again"
        )
        raise NotLaid(message)


def _planned(plan: Coursing, after: int, last: int) -> list[Course]:
    """Return the plan's courses above one, up to another, as far as it has them."""
    return [course for course in plan.courses if after < course.number <= last]


def _laid_head(plan: Coursing, courses: list[LaidCourse]) -> Fraction | None:
    """Return the level of the head if the course over it is laid; else None."""
    below = plan.courses_below_head
    return courses[below].bottom if below < len(courses) else None


def unmeasured(laid: AsLaid) -> Iterable[int]:
    """Return the numbers of the laid courses whose tops nobody measured."""
    return (n for n, course in enumerate(laid.courses, 1) if not course.is_measured)
