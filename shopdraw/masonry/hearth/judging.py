"""Find the worst piece of a hearth, and those that fall short of what can be sawn.

In:  `Job`, `BrickHearth`.   Out: `WorstPiece`, IDs.
Frame: the hearth's plan.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.job.model import Job
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.hearth.ground import asked_of
from shopdraw.masonry.hearth.proof import pieces_on_top
from shopdraw.masonry.panels.form import Shape, Shortcoming
from shopdraw.masonry.panels.shapes import judge_shape, shortcomings


@dataclass(frozen=True)
class WorstPiece:
    """A piece of the hearth: its ID, its size, and what it falls short of."""

    id: str
    shape: Shape
    short: tuple[Shortcoming, ...]


def worst_piece(job: Job, hearth: BrickHearth) -> tuple[WorstPiece, tuple[str, ...]]:
    """Return the worst piece of the hearth, and the IDs of all that fall short.

    The worst falls short of the most; of equals it is the narrowest, then the smallest.
    """
    asked = asked_of(job)
    every = []
    for piece in pieces_on_top(hearth):
        points = [(float(x), float(y)) for x, y in piece.outlines[0].points]
        shape = judge_shape(points)
        short = shortcomings(shape, asked) if piece.is_cut else ()
        every.append(WorstPiece(piece.id, shape, short))
    worst = min(every, key=lambda x: (-len(x.short), x.shape.width, x.shape.area))
    return worst, tuple(x.id for x in every if x.short)
