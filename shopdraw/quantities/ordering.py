"""Say how many units to order, waste included.

In:  `Job`, `Piece`s, `CutPlan`.   Out: `Ordered`.
Frame: counts.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import CORNER_KINDS, Piece
from shopdraw.quantities.cutting import CutPlan
from shopdraw.quantities.waste import with_waste


def count_of(pieces: Iterable[Piece]) -> Fraction:
    """Count pieces, as a quantity."""
    return Fraction(sum(1 for _ in pieces))


def is_corner(piece: Piece) -> bool:
    """Whether it is bought as a corner unit; what is made comes out of flat units."""
    return piece.kind in CORNER_KINDS and not piece.is_made


def is_flat(piece: Piece) -> bool:
    """Whether it is sawn from a flat unit as one piece, or is one."""
    return piece.kind not in CORNER_KINDS


@dataclass(frozen=True)
class Ordered:
    """Units to order, breakage included.

    Attributes:
        flats: units that are no corner units.
        corners: corner units, soldiers' corners among them.
        soldier_corners: soldiers' corners alone.
    """

    flats: Fraction
    corners: Fraction
    soldier_corners: Fraction


def order_units(job: Job, pieces: tuple[Piece, ...], plan: CutPlan) -> Ordered:
    """Return how many units to order, each item rounded up once.

    The cut plan holds what sawing takes, so waste is for breakage alone.
    """
    whole = count_of(x for x in pieces if is_flat(x) and not x.is_cut)
    plain = count_of(x for x in pieces if is_corner(x) and x.kind == "corner unit")
    soldier = count_of(x for x in pieces if x.kind == "soldier corner unit")
    soldier_ordered = with_waste(soldier, job.waste.corners)
    return Ordered(
        flats=with_waste(whole + plan.whole_units, job.waste.flats),
        corners=with_waste(plain, job.waste.corners) + soldier_ordered,
        soldier_corners=soldier_ordered,
    )
