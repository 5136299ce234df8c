"""Fold the developed plane into plan: where each face really stands.

In:  `Surround`.   Out: `Placed`.
Frame: x along the front from its finished left end, y back from the finished front.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.turning import cos_sin
from shopdraw.masonry.wall.form import MEET_AT_RIGHT, Face, Point, Surround

ZERO, ONE = Fraction(0), Fraction(1)


@dataclass(frozen=True)
class Placed:
    """Where a face stands in plan.

    Attributes:
        fold: x, on the developed plane, of its corner on the way to the front.
        corner: where that corner is in plan.
        along: one length along the face, in the direction in which x grows.
        back: one length square to it, into the brick.
    """

    fold: Fraction
    corner: Point
    along: Point
    back: Point

    def point(self, x: Fraction, deep: Fraction = ZERO) -> Point:
        """Return where a spot is in plan: x on the developed plane, so deep behind."""
        on = x - self.fold
        return (
            self.corner[0] + on * self.along[0] + deep * self.back[0],
            self.corner[1] + on * self.along[1] + deep * self.back[1],
        )


def place_face(surround: Surround, name: str) -> Placed:
    """Return where a face stands in plan.

    Raises:
        KeyError: the job has no such face.
    """
    face, start = surround.face(name), surround.front.left
    if name == "front":
        return Placed(start, (ZERO, ZERO), (ONE, ZERO), (ZERO, ONE))
    fold = surround.fold_of(face)
    before = place_face(surround, surround.before(face).name)
    across, deep = cos_sin(face.turn)
    corner = before.point(fold)
    if face.is_alcove:
        # The two faces overlap there: each goes on as far behind the other.
        way = 1 if name in MEET_AT_RIGHT else -1
        corner = before.point(fold + way * face.behind, face.behind)
    if name in MEET_AT_RIGHT:
        return Placed(fold, corner, (across, -deep), (deep, across))
    return Placed(fold, corner, (across, deep), (-deep, across))


def far_end(surround: Surround, face: Face) -> Point:
    """Return in plan the end of a face that is away from the front, as it is seen."""
    far = face.seen[0 if face.name in MEET_AT_RIGHT else 1]
    return place_face(surround, face.name).point(far)
