"""Trace what is really there: the hearth, the opening, the ends, none of them true.

In:  `Job`, where its measures start on the developed plane.   Out: `AsBuilt`.
Frame: as `Surround`: x along the finished faces, y up from the datum.

The datum is the level line at the highest point of the hearth under the brick.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Literal

from shopdraw.job.model import Job
from shopdraw.job.survey import Profile, highest_under_brick

Point = tuple[Fraction, Fraction]
Line = tuple[Point, Point]
"""From its foot to its top."""
NONE = Fraction(0)


@dataclass(frozen=True)
class AsBuilt:
    """The true shapes.

    Attributes:
        hearth: its surface along the faces.
        jambs: the left and the right one, from foot to head.
        head: of the opening as found, from left to right, with its middle where it
            sags.
        ends: the left and the right end of the developed plane.
    """

    hearth: Profile
    jambs: tuple[Line, Line]
    head: tuple[Point, ...]
    ends: tuple[Line, Line]

    @property
    def lowest_head(self) -> Fraction:
        """The lowest point of the head."""
        return min(y for _, y in self.head)

    @property
    def is_true(self) -> bool:
        """Whether jambs and ends are plumb and the head is level."""
        upright = all(foot[0] == top[0] for foot, top in (*self.jambs, *self.ends))
        return upright and len({y for _, y in self.head}) == 1

    def opening(self, head: Fraction, beside: Fraction = NONE) -> tuple[Point, ...]:
        """Return the opening's ring, its feet first, its head moved to a level.

        Args:
            head: where the lowest point of the head is to be.
            beside: how far each jamb is set back.
        """
        up = head - self.lowest_head
        (left_foot, _), (right_foot, _) = self.jambs
        places = [(x, y + up) for x, y in self.head]
        left = _drawn_out(places[0], places[1], -beside)
        right = _drawn_out(places[-1], places[-2], beside)
        return (
            (left_foot[0] - beside, left_foot[1]),
            (right_foot[0] + beside, right_foot[1]),
            *(right, *reversed(places[1:-1]), left),
        )

    def jambs_at(self, level: Fraction) -> tuple[Fraction, Fraction]:
        """Return x of the left and the right jamb at a level."""
        left, right = self.jambs
        return x_at(left, level), x_at(right, level)


def x_at(line: Line, level: Fraction) -> Fraction:
    """Return where a line that stands, or leans, is at a level, beyond its ends too."""
    (foot, low), (top, high) = line
    return foot + (top - foot) * (level - low) / (high - low)


def _drawn_out(end: Point, inner: Point, by: Fraction) -> Point:
    """Return the end of a line, drawn out level by so much on its own slope."""
    return end[0] + by, end[1] + by * (end[1] - inner[1]) / (end[0] - inner[0])


def lean_out(job: Job) -> tuple[Fraction, Fraction]:
    """Return how far the left and the right end lean beyond their feet."""
    return max(NONE, -job.edges.left.lean), max(NONE, job.edges.right.lean)


def trace_as_built(
    job: Job, start: Fraction, ends: tuple[Fraction, Fraction]
) -> AsBuilt:
    """Trace the true shapes.

    Args:
        job: what was measured.
        start: x of the left end of the front's foot, as measured.
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
        # What turns into the jambs stands plumb where the opening is narrowest.
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
    )


def _hearth(job: Job, start: Fraction, datum: Fraction) -> Profile:
    """Return the hearth as measured, or falling evenly along the face."""
    hearth = job.hearth
    if hearth is None or not (hearth.points or hearth.fall):
        return Profile(((start, NONE),))
    if hearth.points:
        return Profile(tuple((x + start, y - datum) for x, y in hearth.points))
    levels = (NONE, -hearth.fall)
    if hearth.falls_to == "left":
        levels = (-hearth.fall, NONE)
    return Profile(((start, levels[0]), (start + job.face.width, levels[1])))


@dataclass(frozen=True)
class BottomCourse:
    """How the first course takes up the fall of the hearth.

    Attributes:
        kind: "level" where there is no fall; "tapered" where the joint below alone
            takes it up; "scribed" where each piece is sawn to the hearth; "out of
            reach" where sawing takes off the half and the joint has no room for the
            rest.
        height: of its brick at the highest point of the hearth.
        in_joint: how much of the fall is left to the joint.
    """

    kind: Literal["level", "tapered", "scribed", "out of reach"]
    height: Fraction
    in_joint: Fraction

    @property
    def is_scribed(self) -> bool:
        """Whether its pieces are sawn to the hearth."""
        return self.kind in ("scribed", "out of reach")


def plan_bottom_course(job: Job) -> BottomCourse:
    """Say how the first course takes up the fall of the hearth.

    The joint tapers while it keeps to its range. Past that the brick is scribed, the
    least that leaves an even joint below; and to no less than half its height at the
    highest point (common practice, no published source): then the joint widens too.
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
