"""Find the worst piece of some, and those that fall short of what can be sawn.

In:  `Job`, `Piece`s of a pattern and its border.   Out: `WorstPiece`, IDs.
Frame: any.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.sawing.shapes import Shortfall, limits_of, width_of
from shopdraw.masonry.wall.layout import Piece, area_within


@dataclass(frozen=True)
class WorstPiece:
    """A piece.

    Attributes:
        id: its ID.
        width: where it is narrowest.
        area: of its face.
        short: what it falls short of.
    """

    id: str
    width: float
    area: Fraction
    short: tuple[Shortfall, ...]


def worst_piece(
    job: Job, pieces: tuple[Piece, ...]
) -> tuple[WorstPiece, tuple[str, ...]]:
    """Return the worst piece, and the IDs of all that fall short.

    The worst falls short of the most; of equals it is the narrowest, then the smallest.
    """
    limits = limits_of(job)
    every = []
    for piece in pieces:
        outline = piece.outlines[0]
        width = width_of(tuple((float(x), float(y)) for x, y in outline.points))
        short = limits.shortfalls(outline, limits.length, limits.brick[1])
        every.append(
            WorstPiece(
                piece.id,
                width,
                area_within(outline.points),
                tuple(short) if piece.is_cut else (),
            )
        )
    worst = min(every, key=lambda x: (-len(x.short), x.width, x.area))
    return worst, tuple(x.id for x in every if x.short)
