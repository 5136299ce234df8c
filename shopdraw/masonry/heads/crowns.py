"""Choose the joint over an arch's back, so that no thin strip of a course is left.

In:  `Job`, `Coursing`, the level of the back at the crown.   Out: `OverCrown`.
Frame: y up from the datum; exact.

The arch stays as deep as asked. The joint over its crown varies within its range, and
the course that it ends in is cut: common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing


@dataclass(frozen=True)
class OverCrown:
    """The joint over the crown, and what is left of the course that it ends in.

    Attributes:
        joint: how wide it is.
        strip: what is left of the course; None where it isn't cut.
        least: what must be left.
    """

    joint: Fraction
    strip: Fraction | None
    least: Fraction

    @property
    def is_thin(self) -> bool:
        """Whether too little is left."""
        return self.strip is not None and self.strip < self.least


def choose_over(job: Job, coursing: Coursing, back: Fraction) -> OverCrown:
    """Choose the joint over a back at this level.

    In this order: a joint that ends where a course begins; the joint nearest the
    preferred that leaves enough of the course; the preferred.
    """
    bed, least = job.joints.bed, job.bond.least_width
    if back + bed.least >= coursing.top:
        # Nothing is laid over it.
        return OverCrown(bed.preferred, None, least)
    for course in coursing.courses:
        if bed.least <= course.bottom - back <= bed.most:
            return OverCrown(course.bottom - back, None, least)
    top = next(course.top for course in coursing.courses if course.top > back)
    joint = bed.preferred
    if bed.least <= top - back - least < joint:
        joint = top - back - least
    return OverCrown(joint, top - back - joint, least)


def better_depths(
    job: Job, coursing: Coursing, soffit: Fraction, depth: Fraction, most: Fraction
) -> Iterator[Fraction]:
    """Yield the nearest depth less than this one, and more, that leave no thin strip.

    Args:
        job: for the joints and their steps.
        coursing: the courses over the arch.
        soffit: the level of the soffit at the crown.
        depth: that leaves one.
        most: the greatest depth that the brick reaches.
    """
    step, pitch = job.joints.step, job.brick.height + job.joints.bed.most
    for way in (-1, 1):
        for tried in range(1, int(pitch / step) + 1):
            other = depth + way * tried * step
            if not job.brick.height <= other <= max(most, depth):
                break
            if soffit + other > coursing.top:
                break
            if not choose_over(job, coursing, soffit + other).is_thin:
                yield other
                break
