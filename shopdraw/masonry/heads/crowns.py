"""Choose the joint over an arch's back: no thin strip over it, little mortar beside it.

In:  `Job`, `Coursing`, the level of the back at the crown.   Out: `OverCrown`.
Frame: y up from the datum; exact, but for what is measured along the back.

The arch stays as deep as asked. The joint over its crown varies within its range, and
the course that it ends in is cut: common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import NamedTuple, Protocol

import shapely

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.sawing.tips import find_tips

Point = tuple[Fraction, Fraction]
ASIDE = 24
"""How many widths of a piece beside an arch are looked at."""
PARTS = 4
"""How far brick keeps out over a joint is told to so many parts of a joint step."""
ROUNDING = Fraction(1, 1000)
"""How much of such a part floating point may make."""
PLACES = 3
"""Mortar beside an arch is told apart to so many places."""


class Beside(NamedTuple):
    """The mortar beside an arch where courses run out on it; less is better.

    Attributes:
        over: by how much the longest fillet is over the longest that the job allows.
        is_aslant: whether a tip must be cut aslant.
    """

    over: float
    is_aslant: bool


NO_MORTAR = Beside(0.0, is_aslant=False)


@dataclass(frozen=True)
class OverCrown:
    """The joint over the crown, and what is left of the course that it ends in.

    Attributes:
        joint: how wide it is.
        strip: what is left of the course; None where it isn't cut.
        least: what must be left.
        beside: the mortar where courses run out on the arch.
    """

    joint: Fraction
    strip: Fraction | None
    least: Fraction
    beside: Beside = NO_MORTAR

    @property
    def is_thin(self) -> bool:
        """Whether too little is left."""
        return self.strip is not None and self.strip < self.least


def choose_over(
    job: Job,
    coursing: Coursing,
    back: Fraction,
    beside: Callable[[Fraction], Beside] | None = None,
    stands_over: Fraction = Fraction(0),
) -> OverCrown:
    """Choose the joint over a back at this level.

    In this order: one that leaves enough of the course; of these one with the least
    mortar beside the arch that counts; one that ends where a course begins; the nearest
    to the preferred.

    Args:
        job: the range of the joint, what is allowed.
        coursing: the courses.
        back: the level of the back at the crown.
        beside: the mortar beside the arch with such a joint; None where there is none.
        stands_over: how far over that joint, at the crown, brick still keeps out.
    """
    bed, least = job.joints.bed, job.bond.least_width
    tries = [
        _over(coursing, back + joint, joint, least, stands_over)
        for joint in _joints(job, coursing, back, stands_over)
    ]
    if not all(each.is_thin for each in tries):
        tries = [each for each in tries if not each.is_thin]
    tries.sort(
        key=lambda x: (x.strip is not None, abs(x.joint - bed.preferred), x.joint)
    )
    if beside is None:
        return tries[0]
    best: OverCrown | None = None
    for each in tries:
        found = replace(each, beside=beside(each.joint))
        if best is None or found.beside < best.beside:
            best = found
        if best.beside == NO_MORTAR:
            break
    return best or tries[0]


def _joints(
    job: Job, coursing: Coursing, back: Fraction, stands_over: Fraction
) -> set[Fraction]:
    """Return the joints to try: every step, and what a course asks for."""
    bed, step = job.joints.bed, job.joints.step
    joints = {bed.preferred, bed.most}
    joints |= {
        bed.least + step * k for k in range(int((bed.most - bed.least) / step) + 1)
    }
    joints |= {course.bottom - back for course in coursing.courses}
    least = job.bond.least_width + stands_over
    joints |= {course.top - back - least for course in coursing.courses}
    return {joint for joint in joints if bed.least <= joint <= bed.most}


def _over(
    coursing: Coursing,
    level: Fraction,
    joint: Fraction,
    least: Fraction,
    stands_over: Fraction,
) -> OverCrown:
    begins = any(course.bottom == level for course in coursing.courses)
    if begins or level >= coursing.top:
        # Nothing is cut, or nothing is laid over it.
        return OverCrown(joint, None, least)
    top = next(course.top for course in coursing.courses if course.top > level - joint)
    return OverCrown(joint, top - level - stands_over, least)


def mortar_beside(job: Job, coursing: Coursing, ring: tuple[Point, ...]) -> Beside:
    """Return the mortar where courses run out on an arch, once tips are cut off.

    Args:
        job: what is allowed of a piece.
        coursing: the courses.
        ring: what brick keeps out of; its right half is its left half's mirror image.
    """
    xs, ys = zip(*((float(x), float(y)) for x, y in ring), strict=True)
    area = shapely.Polygon(list(zip(xs, ys, strict=True)))
    width, corner = float(job.bond.least_width), float(job.bond.least_corner)
    aside, most = ASIDE * width, float(job.bond.longest_fillet)
    found, centre = [NO_MORTAR], (min(xs) + max(xs)) / 2
    for course in coursing.courses:
        low, high = float(course.bottom), float(course.top)
        if course.is_running and min(ys) < high and low < max(ys):
            band = shapely.box(centre, low, max(xs) + aside, high)
            found += (
                Beside(
                    round(max(0.0, tip.length - most), PLACES), tip.aslant is not None
                )
                for tip in find_tips(band.difference(area), width, corner, most)
            )
    return max(found)


def stands_over(
    job: Job, back: Fraction, keep_out: Callable[[Fraction], tuple[Point, ...]]
) -> Fraction:
    """Return how far brick keeps out over the joint at a crown, at the most.

    Where two straight backs meet on the centre line they stand over the curve.

    Args:
        job: for the joints.
        back: the level of the back at the crown.
        keep_out: the ring that brick keeps out of, for a joint over the back.
    """
    most, part = job.joints.bed.most, job.joints.step / PARTS
    over = max(y for _, y in keep_out(most)) - back - most
    return max(0, ceil(over / part - ROUNDING)) * part


class Stood(Protocol):
    """An arch that stands: its levels."""

    @property
    def soffit(self) -> Fraction:
        """The level at the crown that the depth is counted from."""

    @property
    def depth(self) -> Fraction:
        """How deep it is."""

    @property
    def stands_over(self) -> Fraction:
        """As `choose_over` has it."""


def better_depths(
    job: Job, coursing: Coursing, stood: Stood, most: Fraction
) -> Iterator[Fraction]:
    """Yield the nearest depth less than an arch's, and more, that leave no thin strip.

    Args:
        job: for the joints and their steps.
        coursing: the courses over the arch.
        stood: the arch, which leaves one.
        most: the greatest depth that the brick reaches.
    """
    step, pitch = job.joints.step, job.brick.height + job.joints.bed.most
    for way in (-1, 1):
        for tried in range(1, int(pitch / step) + 1):
            other = stood.depth + way * tried * step
            if not job.brick.height <= other <= max(most, stood.depth):
                break
            back = stood.soffit + other
            if back > coursing.top:
                break
            if not choose_over(job, coursing, back, None, stood.stands_over).is_thin:
                yield other
                break
