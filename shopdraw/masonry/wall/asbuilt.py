"""Trace what is really there, out of true or not: hearth, opening, ends of the faces.

In:  `Job`, where its measures start on the developed plane.   Out: `AsBuilt`.
Frame: as `Surround`: x along the finished faces, y up from the datum.

The datum is level with the highest point of the hearth under the brick.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from shopdraw.job.model import Job
from shopdraw.job.survey import Profile, highest_under_brick
from shopdraw.masonry.wall.form import NONE, AsBuilt, BottomCourse, Point


def lean_out(job: Job) -> tuple[Fraction, Fraction]:
    """Return how far the left and the right end lean outward, beyond their feet."""
    return max(NONE, -job.edges.left.lean), max(NONE, job.edges.right.lean)


def trace_as_built(
    job: Job, start: Fraction, ends: tuple[Fraction, Fraction]
) -> AsBuilt:
    """Trace the shapes as they really are.

    Args:
        job: what was measured.
        start: x of the foot of the front's left end, as measured.
        ends: x of the feet of both ends of the developed plane.
    """
    width, height, opening = job.face.width, job.face.height, job.opening
    left = (width - opening.width) / 2
    left = left if opening.from_left is None else opening.from_left
    corners = opening.corners
    if corners is None:
        feet = (left, NONE), (left + opening.width, NONE)
        heads = (feet[0][0], opening.height), (feet[1][0], opening.height)
        sag = NONE
    else:
        feet = corners.bottom_left, corners.bottom_right
        heads = corners.top_left, corners.top_right
        sag = corners.sag
    if opening.jamb_return is not None:
        # Brick that turns into the jambs stands plumb, where the opening is narrowest.
        right = left + opening.width
        feet = (left, feet[0][1]), (right, feet[1][1])
        heads = (left, heads[0][1]), (right, heads[1][1])
    spots = job.hearth.points if job.hearth else ()
    datum = highest_under_brick(spots, feet[0][0], feet[1][0], width)
    down = NONE if corners is None else datum

    def placed(point: Point) -> Point:
        return point[0] + start, point[1] - down

    head = [placed(point) for point in heads]
    if sag:
        x, y = ((a + b) / 2 for a, b in zip(*head, strict=True))
        head.insert(1, (x, y - sag))
    leans = job.edges.left.lean, job.edges.right.lean
    lines = [
        ((x, NONE), (x + lean, height)) for x, lean in zip(ends, leans, strict=True)
    ]
    return AsBuilt(
        hearth=_hearth(job, start, datum),
        jambs=((placed(feet[0]), head[0]), (placed(feet[1]), head[-1])),
        head=tuple(head),
        ends=(lines[0], lines[1]),
        survey_line=-datum if spots or corners else None,
    )


def _hearth(job: Job, start: Fraction, datum: Fraction) -> Profile:
    """Return the hearth as measured, or else as falling evenly along the face."""
    hearth = job.hearth
    if hearth is None or not (hearth.points or hearth.fall):
        return Profile(((start, NONE),))
    if hearth.points:
        return Profile(tuple((x + start, y - datum) for x, y in hearth.points))
    levels = (NONE, -hearth.fall)
    if hearth.falls_to == "left":
        levels = (-hearth.fall, NONE)
    return Profile(((start, levels[0]), (start + job.face.width, levels[1])))


def plan_bottom_course(job: Job) -> BottomCourse:
    """Decide how the first course takes up the fall of the hearth.

    The joint below tapers as long as it stays in range. Beyond that the brick is
    scribed, no more than leaves an even joint below it, and to half its height at the
    least where the hearth is highest (common practice, no published source). Beyond
    that the joint gets thicker too.
    """
    bottom, step, stock = job.joints.bottom, job.joints.step, job.brick.height
    sawn = job.courses.bottom_height
    height = stock if sawn is None else sawn
    fall = job.hearth.fall if job.hearth else NONE
    if not fall:
        return BottomCourse("level", height, NONE)
    least = ceil(bottom.least / step) * step
    if least + fall <= bottom.most:
        return BottomCourse("tapered", height, fall)
    height = min(height, max(stock - fall, stock / 2))
    in_joint = max(NONE, fall - (stock - height))
    within = least + in_joint <= bottom.most
    return BottomCourse("scribed" if within else "out of reach", height, in_joint)
