"""Fill the field of a hearth with its pattern, at the joint that suits it.

In:  `Job`, the rectangle.   Out: `Field`, its `Piece`s, what mortar takes.
Frame: the hearth's plan.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_hearth import HearthBrickTable
from shopdraw.masonry.hearth.border import row_of
from shopdraw.masonry.hearth.form import Box, Field, LeftOut
from shopdraw.masonry.panels.choosing import best_panel
from shopdraw.masonry.panels.form import NotFilled, Panel, PanelPiece, PatternName
from shopdraw.masonry.panels.pieces import Ring, panel_piece
from shopdraw.masonry.wall.layout import Outline, Piece


@dataclass(frozen=True)
class FieldLaid:
    """A field, its pieces, and the places that mortar takes."""

    field: Field
    pieces: tuple[Piece, ...]
    left_out: tuple[LeftOut, ...]


def lay_field(job: Job, brick: HearthBrickTable, box: Box) -> FieldLaid:
    """Fill a rectangle at the joint that leaves the fewest pieces short.

    Joints are tried from the preferred one out, on the job's step, until none is short.

    Raises:
        NotLaid: the pattern can't be laid there.
    """
    try:
        best = best_panel(job, brick.pattern, size_of(box), brick.joint)
    except NotFilled as error:
        message = f"hearth.brick.pattern: {brick.pattern} can't be laid here: {error}"
        raise NotLaid(message) from None
    return _moved(job, box, best)


def lay_strip(job: Job, box: Box, joint: Fraction) -> FieldLaid:
    """Fill the strip between the jambs with rows, whatever the pattern before it.

    Raises:
        NotLaid: it can't be laid.
    """
    pattern: PatternName = "running"
    try:
        panel = best_panel(job, pattern, size_of(box), joint)
    except NotFilled as error:
        message = f"hearth.brick.back: the strip between the jambs: {error}"
        raise NotLaid(message) from None
    return _moved(job, box, panel)


def size_of(box: Box) -> tuple[Fraction, Fraction]:
    """Return a rectangle's width and how deep it is."""
    return box[2] - box[0], box[3] - box[1]


def _moved(job: Job, box: Box, panel: Panel) -> FieldLaid:
    """Put a panel in its place on the hearth."""
    left, front = box[0], box[1]

    def placed(piece: PanelPiece) -> Ring:
        return tuple((x + left, y + front) for x, y in piece.ring)

    pieces = []
    for piece in panel.pieces:
        ring = placed(piece)
        row = row_of(job, min(y for _, y in ring))
        pieces.append(
            panel_piece("stretcher", "hearth", ring, piece.cuts, piece.lain, row)
        )
    out = (
        LeftOut(
            Outline("hearth", placed(piece)),
            Fraction(piece.width).limit_denominator(1000),
        )
        for piece in panel.left_out
    )
    return FieldLaid(Field(box, panel), tuple(pieces), tuple(out))
