"""The measures that people buy by, and how many of the job's lengths make one.

In:  nothing.   Out: `MEASURES`.
Frame: a job's lengths.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.lengths import INCHES_PER_FOOT, Lengths


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
