"""Take off the quantities from the pieces that were drawn.

In:  `Job`, `Surround`, `Coursing`, `Layout`.   Out: `Takeoff`.
Frame: counts, areas in sq ft or m2, volumes in cu ft or litres.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.coursing import Coursing
from shopdraw.masonry.layout import Layout
from shopdraw.masonry.surround import Surround


@dataclass(frozen=True)
class TakeoffRow:
    """One item to buy.

    Attributes:
        item: "whole units", "cut units", "corner units", "all units", "face area", ...
        net: what is on the wall, exact.
        order: with waste, rounded up once; None where nothing is ordered by this row.
        measure: "pieces", "sq ft", "cu ft", "ft", "m2", "litres", "m".
        note: how the waste was reckoned.
    """

    item: str
    net: Fraction
    order: Fraction | None
    measure: str
    note: str = ""


@dataclass(frozen=True)
class Takeoff:
    """What to buy, item by item."""

    rows: tuple[TakeoffRow, ...]


def take_off(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout
) -> Takeoff:
    """Count the pieces and measure the mortar."""
    raise NotImplementedError
