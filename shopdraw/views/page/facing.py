"""Say what faces each side of a piece that leans or is turned, and across what joint.

In:  pieces on one plane.   Out: `Faces`, side by side.
Frame: as the pieces'; gaps are square to the side.

A side is named by where it looks: a voussoir near the spring has its joints above and
below it, one near the crown at its left and its right.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import atan2, cos, hypot, pi, radians

from shopdraw.drawing.extents import about
from shopdraw.masonry.wall.arch import ARCH_GRID
from shopdraw.masonry.wall.layout import Outline, Piece

LOOKS = ("right", "upper right", "above", "upper left",
         "left", "lower left", "below", "lower right")  # fmt: skip
"""Where a side looks, by eighths of a turn from the right."""
LEAST = 0.02
"""What shares less of the shorter side than this only meets it at a corner."""
ASLANT = cos(radians(25))
"""Two sides face each other that are nearer to parallel than this."""

Corner = tuple[float, float]
Side = tuple[Corner, Corner]


@dataclass(frozen=True)
class Faces:
    """What faces one side of a piece.

    Attributes:
        way: where the side looks, one of `LOOKS`.
        piece: the other piece.
        gaps: the joint at both ends of what they share, the lesser first.
    """

    way: str
    piece: Piece
    gaps: tuple[Fraction, Fraction]


class Facing:
    """Finds what faces the sides of pieces.

    Args:
        pieces: all on the plane.
        faces: which faces lie on it.
        widest: what is further off is across no joint.
    """

    def __init__(
        self, pieces: Iterable[Piece], faces: Container[str], widest: Fraction
    ) -> None:
        self._widest = float(widest)
        self._rings = [
            (piece, outline.face, corners, about(corners))
            for piece in pieces
            for outline in piece.outlines
            if outline.face in faces
            for corners in [_corners(outline)]
        ]

    def of(self, piece: Piece, ways: Container[str] = LOOKS) -> Iterator[Faces]:
        """Yield what faces a piece's first outline on its face, side by side.

        Args:
            piece: the piece.
            ways: of its sides only those that look one of these ways.
        """
        first = piece.outlines[0]
        ring = _corners(first)
        left, low, right, high = about(ring)
        near = self._widest
        around = [
            (other, corners)
            for other, face, corners, (a, b, c, d) in self._rings
            if other is not piece and face == first.face
            if a < right + near and c > left - near
            if b < high + near and d > low - near
        ]
        for side in _sides(ring):
            way = _way(side)
            for other, corners in around if way in ways else ():
                for opposite in _sides(corners):
                    gaps = _gaps(side, opposite)
                    if gaps is not None and gaps[0] >= 0 and gaps[1] <= near:
                        least, most = (Fraction(x).limit_denominator(ARCH_GRID)
                                       for x in gaps)  # fmt: skip
                        yield Faces(way, other, (least, most))


def _corners(outline: Outline) -> list[Corner]:
    """Return the corners of an outline, anticlockwise."""
    points = [(float(x), float(y)) for x, y in outline.points]
    twice = sum(a * d - b * c for (a, b), (c, d) in _sides(points))
    return points if twice > 0 else points[::-1]


def _sides(corners: list[Corner]) -> Iterator[Side]:
    return pairwise((*corners, corners[0]))


def _way(side: Side) -> str:
    """Say where a side looks: to the right of its direction."""
    (a, b), (c, d) = side
    return LOOKS[round(4 * atan2(a - c, d - b) / pi) % len(LOOKS)]


def _gaps(one: Side, other: Side) -> tuple[float, float] | None:
    """Return how far apart two sides are at both ends of what they share, if they do.

    Square to the first; less than nothing where the other lies behind it.
    """
    (x, y), (x2, y2) = one
    long = hypot(x2 - x, y2 - y)
    along = (x2 - x) / long, (y2 - y) / long
    # The other runs the other way: its end comes first.
    (s, far), (s2, far2) = (
        (
            (a - x) * along[0] + (b - y) * along[1],
            (a - x) * along[1] - (b - y) * along[0],
        )
        for a, b in reversed(other)
    )
    first, last = max(s, 0.0), min(s2, long)
    is_facing = s2 - s > ASLANT * hypot(s2 - s, far2 - far)
    if not is_facing or last - first < LEAST * min(long, s2 - s):
        return None
    grows = (far2 - far) / (s2 - s)
    ends = far + (first - s) * grows, far + (last - s) * grows
    return min(ends), max(ends)
