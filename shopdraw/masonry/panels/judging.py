"""Find the worst piece of some, and those that fall short of what can be sawn.

In:  `Job`, `Piece`s of a pattern and its border.   Out: `WorstPiece`, IDs.
Frame: any.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.job.model import Job
from shopdraw.masonry.panels.choosing import asked_of
from shopdraw.masonry.panels.form import Shape, Shortcoming
from shopdraw.masonry.panels.shapes import judge_shape, shortcomings
from shopdraw.masonry.wall.layout import Piece


@dataclass(frozen=True)
class WorstPiece:
    """A piece: its ID, its size, and what it falls short of."""

    id: str
    shape: Shape
    short: tuple[Shortcoming, ...]


def worst_piece(
    job: Job, pieces: tuple[Piece, ...]
) -> tuple[WorstPiece, tuple[str, ...]]:
    """Return the worst piece, and the IDs of all that fall short.

    The worst falls short of the most; of equals it is the narrowest, then the smallest.
    """
    asked = asked_of(job)
    every = []
    for piece in pieces:
        points = [(float(x), float(y)) for x, y in piece.outlines[0].points]
        shape = judge_shape(points)
        short = shortcomings(shape, asked) if piece.is_cut else ()
        every.append(WorstPiece(piece.id, shape, short))
    worst = min(every, key=lambda x: (-len(x.short), x.shape.width, x.shape.area))
    return worst, tuple(x.id for x in every if x.short)
