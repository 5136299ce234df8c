"""Take the courses that are laid as facts, and say what the rest changes for them.

In:  `Job` with `[[laid]]`, the coursing as planned.   Out: `AsLaid`, `Change`s.
Frame: levels from the datum, in the job's lengths.

What is laid decides where the rest starts: at the higher end of the last course
measured. A course below it that nobody measured lies where the plan had it, moved by
an even share of what the measured ones are off; that is said, and nothing hangs on it.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import AsLaid, Course, Coursing, LaidCourse

NONE = Fraction(0)


def take_as_laid(job: Job, plan: Coursing) -> AsLaid:
    """Take the job's laid courses as they were measured.

    Args:
        job: with one `[[laid]]` entry at least.
        plan: the coursing of the same job with nothing laid.
    """
    measured = {laid.course: laid for laid in job.laid}
    last = measured[max(measured)]
    courses: list[LaidCourse] = []
    start, at, planned_at = 0, NONE, NONE
    for number in sorted(measured):
        group = _planned(plan, start, number)
        end = measured[number].highest
        planned_end = group[-1].top
        # Each joint of the group takes an even share of what the group is off.
        share = (end - at - planned_end + planned_at) / len(group)
        level = at
        for course in group:
            bottom = level + course.bed_joint + share
            level = bottom + course.height
            courses.append(
                LaidCourse(course.kind, bottom, level, course.number == number)
            )
        start, at, planned_at = number, end, planned_end
    return AsLaid(tuple(courses), last.taper, _laid_head(plan, courses))


def _planned(plan: Coursing, after: int, last: int) -> list[Course]:
    """Return the plan's courses beyond one up to another, as far as it has them."""
    return [course for course in plan.courses if after < course.number <= last]


def _laid_head(plan: Coursing, courses: list[LaidCourse]) -> Fraction | None:
    """Return the level of the head, where the course over it is laid."""
    below = plan.courses_below_head
    return courses[below].bottom if below < len(courses) else None


def unmeasured(laid: AsLaid) -> Iterable[int]:
    """Return the laid courses whose tops nobody measured."""
    return (n for n, course in enumerate(laid.courses, 1) if not course.is_measured)
