"""Cut through a hearth of brick, and look at its riser from above.

In:  `BrickHearth`.   Out: `Cut`s.
Frame: from above the hearth's plan. Upright, x back from the finished face, the room at
negative x, and y up from the datum, which is the hearth's top.
"""

from __future__ import annotations

from fractions import Fraction

from shopdraw.masonry.hearth.form import BrickHearth, Riser
from shopdraw.masonry.laying.cuts import cut_level, cut_upright, met_by
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.wall.layout import rectangle

NONE = Fraction(0)


def riser_from_above(hearth: BrickHearth) -> tuple[Cut, ...]:
    """Return the last course of the riser as it shows along the hearth's edges."""
    riser = hearth.riser
    if riser is None:
        return ()
    last = riser.coursing.courses[-1]
    return cut_level(riser.surround, riser.layout, last, hearth.ground.thickness)


def cut_hearth(hearth: BrickHearth, x: Fraction) -> tuple[Cut, ...]:
    """Cut the hearth upright from front to back: its brick, and those of the riser.

    Where the cut runs along a joint, it shows the pieces to the joint's left.

    Args:
        hearth: what is cut.
        x: where, in the hearth's plan.
    """
    ground = hearth.ground
    pieces = [piece for piece in hearth.layout.pieces if piece.place == "hearth"]
    met = met_by(pieces, x, hearth.joint)
    cuts = [
        Cut(
            piece,
            piece.outlines,
            rectangle(
                "hearth", a - ground.face, -ground.thickness, b - ground.face, NONE
            ).points,
        )
        for piece, a, b in met
    ]
    if hearth.riser is not None:
        cuts += _of_riser(hearth, hearth.riser, x)
    return tuple(cuts)


def _of_riser(hearth: BrickHearth, riser: Riser, x: Fraction) -> list[Cut]:
    """Cut the riser's front: it stands on the floor, its finished face foremost."""
    ground = hearth.ground
    start = riser.surround.front.left
    widest = riser.job.joints.head.most
    dx, dy = -ground.face, -riser.height
    return [
        Cut(
            cut.piece,
            cut.outlines,
            tuple((a + dx, b + dy) for a, b in cut.ring),
        )
        for cut in cut_upright(riser.layout, start + x, widest, ground.thickness)
    ]
