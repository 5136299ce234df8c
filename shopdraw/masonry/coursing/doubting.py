"""Doubt a course's top as measured that no joint the job allows can have made.

In:  `Job`, the coursing as planned, the courses measured.   Out: `Doubt`s.
Frame: the job's lengths, levels up from the datum.

A tape slips by an inch, a foot is misread, a course is miscounted: all of them put the
top where the bed joints since the last course measured would have to be narrower or
wider than the job allows. So might joints badly laid; whoever measures again will know.
Brick that vary and a joint struck a step too wide put it a little off as well, and are
no slip: they are allowed for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing, Doubt


def doubts_of(
    job: Job, plan: Coursing, courses: set[int], wander: Callable[[int], Fraction]
) -> Iterator[Doubt]:
    """Yield a doubt for each of some courses measured that can't be where it was read.

    Args:
        job: with every course laid, as measured.
        plan: the coursing before they were.
        courses: the numbers of those that are new.
        wander: how far so many courses may wander because brick vary, up or down.
    """
    below, at = 0, Fraction(0)
    for laid in sorted(job.laid, key=lambda each: each.course):
        if laid.course in courses and laid.course <= len(plan.courses):
            # No joint is struck, and no tape read, to less than a step.
            spare = job.joints.step + wander(laid.course - below)
            least, most = at - spare, at + spare
            for course in plan.courses[below : laid.course]:
                joint = job.joints.bottom if course.number == 1 else job.joints.bed
                least += course.height + joint.least
                most += course.height + joint.most
            ends = [x for x in (laid.top, laid.left, laid.right) if x is not None]
            read = max(ends, key=lambda end: max(least - end, end - most))
            if not least <= read <= most:
                planned = plan.courses[laid.course - 1].top
                yield Doubt(laid.course, read, below, least, most, planned, spare)
        below, at = laid.course, laid.highest
