"""The form of a cut: what a plane meets of the brick.

In:  nothing.   Out: `Cut`.
Frame: as `Cut` says.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.masonry.wall.form import Point
from shopdraw.masonry.wall.layout import Outline, Piece


@dataclass(frozen=True)
class Cut:
    """What a plane meets of one piece.

    Attributes:
        piece: which.
        outlines: for a level cut, the piece's outlines on the developed plane, as wide
            as they are at the cut; for an upright one, the outline that is met.
        ring: the brick that is cut through, anticlockwise. In plan x is along the front
            from its finished left end, y back from the finished front. In section x is
            back from the finished face, y up from the datum.
    """

    piece: Piece
    outlines: tuple[Outline, ...]
    ring: tuple[Point, ...]
