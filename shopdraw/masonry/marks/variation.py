"""Say how far courses may wander because the brick themselves differ.

In:  `Job` with a sample of its brick, `Coursing`.   Out: `Variation`.
Frame: the job's lengths; variances are exact, deviations are taken when they are shown.

The courses are set out with the mean of the sample. If every joint is struck as planned
and nobody checks the level, the top of n courses is off by what n brick add up to, and
by n times the error of the mean, which a sample of k leaves unknown: the variance is
s^2 (n + n^2 / k). Twice its root holds 95 times in 100, if the brick are normally
distributed.
"""

from __future__ import annotations

from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.marks.form import DEVIATIONS, Spread, Variation, not_less


def spread_of(sizes: tuple[Fraction, ...]) -> Spread | None:
    """Return how much measured sizes differ; None where there are fewer than two."""
    count = len(sizes)
    if count < DEVIATIONS:
        return None
    mean = sum(sizes, Fraction(0)) / count
    squares = sum(((size - mean) ** 2 for size in sizes), Fraction(0))
    return Spread(count, mean, min(sizes), max(sizes), squares / (count - 1))


def reckon_variation(job: Job, coursing: Coursing) -> Variation | None:
    """Work out how far courses may wander; None where no brick was measured."""
    sample = job.brick.sample
    if sample is None:
        return None
    height, length = spread_of(sample.heights), spread_of(sample.lengths)
    start = len(coursing.laid.courses) if coursing.laid else 0
    if height is None:
        return Variation(None, length, 0, (), start, ())
    courses = len(coursing.courses)
    at_once = _at_once(height, job.joints.step, courses)
    stops = set(range(start + at_once, courses, at_once)) if at_once else set()
    if start < coursing.courses_below_head:
        stops.add(coursing.courses_below_head)
    return Variation(
        height=height,
        length=length,
        at_once=at_once,
        remeasure_at=tuple(sorted(stops)),
        laid=start,
        tight=_tight(job, coursing, height),
    )


def allowed_wander(variation: Variation | None, courses: int) -> Fraction:
    """Return how far so many courses may wander; 0 where no heights were measured."""
    height = variation.height if variation else None
    return not_less(height.wander(courses)) if height else Fraction(0)


def _at_once(height: Spread, step: Fraction, courses: int) -> int:
    """Return how many courses at most wander by no more than one joint step."""
    at_once = 0
    while at_once < courses and height.wander_squared(at_once + 1) <= step**2:
        at_once += 1
    return at_once


def _tight(job: Job, coursing: Coursing, height: Spread) -> tuple[int, ...]:
    """Return the courses whose bed joint can't take up a brick's two deviations."""
    own = DEVIATIONS**2 * height.variance
    return tuple(
        course.number
        for course in coursing.courses[1:]
        if not course.is_laid and _room(job, course.bed_joint) ** 2 < own
    )


def _room(job: Job, joint: Fraction) -> Fraction:
    """Return how far a joint is from the nearer end of its range."""
    bed = job.joints.bed
    return max(Fraction(0), min(joint - bed.least, bed.most - joint))
