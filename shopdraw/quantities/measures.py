"""The form of an item to buy, and the measures that people buy by.

In:  nothing.   Out: `TakeoffRow`, `Measures`, `MEASURES`.
Frame: counts, areas in sq ft or m2, volumes in cu ft or litres.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.lengths import INCHES_PER_FOOT, Lengths


@dataclass(frozen=True)
class TakeoffRow:
    """One item to buy.

    Attributes:
        item: "whole units", "cut units", "corner units", "all units", "face area", ...
        net: what the work takes, exact: of brick the units to lay whole or to saw.
        order: with waste, rounded up once; None where nothing is ordered by this row.
        measure: "pieces", "sq ft", "cu ft", "ft", "m2", "litres", "m".
        note: how it was counted, and how much waste is added.
        laid: how many pieces of brick it comes to on the wall; None where it is none.
        answers: whether its note says something even where it comes to nothing.
    """

    item: str
    net: Fraction
    order: Fraction | None
    measure: str
    note: str = ""
    laid: int | None = None
    answers: bool = False

    @property
    def says_something(self) -> bool:
        """Whether it is worth a row on paper: it comes to something, or answers."""
        return bool(self.net or self.order or self.laid or self.answers)


@dataclass(frozen=True)
class Measures:
    """The measures that people buy by, and how many of the job's lengths make one."""

    length: str
    per_length: Fraction
    area: str
    per_area: Fraction
    volume: str
    per_volume: Fraction


FOOT = Fraction(INCHES_PER_FOOT)
MEASURES: dict[Lengths, Measures] = {
    "in": Measures("ft", FOOT, "sq ft", FOOT**2, "cu ft", FOOT**3),
    "mm": Measures(
        "m", Fraction(10**3), "m2", Fraction(10**6), "litres", Fraction(10**6)
    ),
}
