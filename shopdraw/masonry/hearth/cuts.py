"""Cut through a hearth of brick, and look at its riser from above.

In:  `BrickHearth`.   Out: `Cut`s.
Frame: from above the hearth's plan. Upright, x back from the finished face, the room at
negative x, and y up from the datum, which is the hearth's top.
"""

from __future__ import annotations

from fractions import Fraction

from shopdraw.masonry.hearth.form import BrickHearth, Riser
from shopdraw.masonry.laying.cuts import cut_level, cut_upright
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.wall.layout import Outline, Piece, rectangle

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
    met = _met(pieces, x)
    for each in _met(pieces, x - hearth.joint):
        # What the cut runs along a joint of is not met at all there.
        if all(each[1] >= b or each[2] <= a for _, a, b in met):
            met.append(each)
    met.sort(key=lambda each: each[1])
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


def _met(pieces: list[Piece], x: Fraction) -> list[tuple[Piece, Fraction, Fraction]]:
    """Return the pieces that a line from front to back meets, from and to where."""
    met = []
    for piece in pieces:
        span = _span_at(piece.outlines[0], x)
        if span is not None:
            met.append((piece, *span))
    return sorted(met, key=lambda each: each[1])


def _span_at(outline: Outline, x: Fraction) -> tuple[Fraction, Fraction] | None:
    if not outline.left < x < outline.right:
        return None
    crossed = [
        y1 + (y2 - y1) * (x - x1) / (x2 - x1)
        for (x1, y1), (x2, y2) in outline.sides()
        if x1 != x2 and min(x1, x2) <= x <= max(x1, x2)
    ]
    return min(crossed), max(crossed)


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
