"""Say what lies beside each piece: the rows that pieces lie in, and the gaps between.

In:  pieces on one plane, their courses.   Out: `Met`s in order, `Side`s.
Frame: as the pieces'.
"""

from __future__ import annotations

from collections.abc import Container, Iterable
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.wall.layout import Outline, Piece


@dataclass(frozen=True)
class Met:
    """A piece that a level line meets, and from where to where.

    Attributes:
        piece: which.
        outline: which of its outlines.
        left, right: its ends at that level.
    """

    piece: Piece
    outline: Outline
    left: Fraction
    right: Fraction


@dataclass(frozen=True)
class FaceSide:
    """What lies to one side of a piece.

    Attributes:
        piece: the next one there; None where the row ends.
        gap: from one to the other; nothing, or less, where they meet at a corner.
    """

    piece: Piece | None
    gap: Fraction = Fraction(0)


class FaceRows:
    """Finds what lies at a level; what was asked for once is kept."""

    def __init__(
        self, pieces: Iterable[Piece], courses: Iterable[Course], faces: Container[str]
    ) -> None:
        self._faces = faces
        self._spans = [
            (float(outline.bottom), float(outline.top), piece, outline)
            for piece in pieces
            for outline in piece.outlines
            if outline.face in faces
        ]
        self._middles = {x.number: (x.bottom + x.top) / 2 for x in courses}
        self._kept: dict[Fraction, tuple[Met, ...]] = {}

    def level_of(self, piece: Piece) -> Fraction:
        """Return the level that a piece is looked at: its course's middle, or its own.

        What leans, or is laid in a pattern, need not reach its course's middle.
        """
        first = next(x for x in piece.outlines if x.face in self._faces)
        level = self._middles.get(piece.course)
        if level is not None and first.bottom < level < first.top:
            return level
        return (first.bottom + first.top) / 2

    def at(self, level: Fraction) -> tuple[Met, ...]:
        """Return what a level line meets, from left to right."""
        if level not in self._kept:
            near = float(level)
            met = [
                Met(piece, outline, *outline.at_level(level))
                for low, high, piece, outline in self._spans
                if low < near < high
            ]
            met.sort(key=lambda each: each.left + each.right)
            self._kept[level] = tuple(met)
        return self._kept[level]

    def beside(self, piece: Piece) -> tuple[FaceSide, FaceSide]:
        """Return what lies to the left and to the right of a piece."""
        row = self.at(self.level_of(piece))
        mine = [place for place, each in enumerate(row) if each.piece is piece]
        return self._next(row, mine[0], -1), self._next(row, mine[-1], 1)

    @staticmethod
    def _next(row: tuple[Met, ...], place: int, way: int) -> FaceSide:
        other = place + way
        if not 0 <= other < len(row):
            return FaceSide(None)
        one, two = (row[x] for x in sorted((place, other)))
        return FaceSide(row[other].piece, two.left - one.right)
