"""Define the job file's table about neighbouring brick that stays.

In:  as `model`.   Out: frozen records.
Frame: as `model`; levels are from the datum.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field

from shopdraw.job.table import Table
from shopdraw.job.values import Name, Size, Width

Where = Literal["left", "right", "above"]


class ExistingBrickTable(Table):
    """`[[existing_brick]]`: old brick beside the new, which stays as it is.

    Attributes:
        where: beside which end of the front it stands, or above the whole of it.
        tops: the tops of its courses, bottom up; or else
        first_top, gauge, courses: the lowest top, from one top to the next, and how
            many there are.
        height: how high its brick are; None where they are as high as the new ones.
        tolerance: how far off an old course line a new one may be and still line
            through; None where it is a target's usual one.
    """

    name: Name
    where: Where
    tops: Annotated[tuple[Size, ...], Field(max_length=200)] = ()
    first_top: Size | None = None
    gauge: Size | None = None
    courses: Annotated[int, Field(ge=1, le=200)] | None = None
    height: Size | None = None
    tolerance: Width | None = None

    @property
    def lines(self) -> tuple[Fraction, ...]:
        """The tops of its courses, bottom up, however they were given."""
        if self.tops or self.first_top is None:
            return self.tops
        gauge, courses = self.gauge or Fraction(0), self.courses or 1
        return tuple(self.first_top + n * gauge for n in range(courses))
