"""Say how many units to order, waste included.

In:  `Job`, `Piece`s, `CutPlan`.   Out: `Ordered`.
Frame: counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import CORNER_KINDS, Piece
from shopdraw.quantities.cutting import CutPlan
from shopdraw.quantities.waste import with_waste


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
    whole = sum(x.kind not in CORNER_KINDS and not x.is_cut for x in pieces)
    plain = sum(x.kind == "corner unit" for x in pieces)
    soldier = sum(x.kind == "soldier corner unit" for x in pieces)
    soldier_ordered = with_waste(Fraction(soldier), job.waste.corners)
    return Ordered(
        flats=with_waste(Fraction(whole + plan.whole_units), job.waste.flats),
        corners=with_waste(Fraction(plain), job.waste.corners) + soldier_ordered,
        soldier_corners=soldier_ordered,
    )
