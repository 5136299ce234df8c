"""The tables of a job file about what is laid, and the mason's own spacing rule.

In:  as `model`.   Out: frozen records.
Frame: as `model`; levels are from the datum.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from pydantic import Field

from shopdraw.job.table import Table
from shopdraw.job.values import Day, Size, Text


class RuleMarkTable(Table):
    """`[[rule_marks]]`: a mark on the person's own spacing rule.

    Attributes:
        mark: as it is printed there.
        height: of a course with its joint that the mark gives.
    """

    mark: Annotated[Text, Field(min_length=1, max_length=12)]
    height: Size


class LaidTable(Table):
    """`[[laid]]`: a course that is laid, its top as measured from the datum.

    Attributes:
        top: of a level course; of one that is not, left and right instead.
    """

    course: Annotated[int, Field(ge=1, le=10_000)]
    top: Size | None = None
    left: Size | None = None
    right: Size | None = None
    measured_on: Day | None = None

    @property
    def highest(self) -> Fraction:
        """The level that the next course is set out from: of the higher end."""
        return max(x for x in (self.top, self.left, self.right) if x is not None)

    @property
    def taper(self) -> Fraction:
        """How much lower the other end is."""
        if self.left is None or self.right is None:
            return Fraction(0)
        return abs(self.left - self.right)
