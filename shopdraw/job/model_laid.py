"""Define the job file's tables about courses laid and the mason's spacing rule.

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
    """`[[rule_marks]]`: a mark on the mason's own spacing rule.

    Attributes:
        mark: as it is printed on the rule.
        height: the height of a course with its joint at that mark.
    """

    mark: Annotated[Text, Field(min_length=1, max_length=12)]
    height: Size


class UsedTable(Table):
    """`[used]`: how many whole units were taken out of the boxes, once all is laid."""

    flats: Annotated[int, Field(ge=0, le=1_000_000)] | None = None
    corners: Annotated[int, Field(ge=0, le=1_000_000)] | None = None


class LaidTable(Table):
    """`[[laid]]`: a course that is laid, and its top as measured from the datum.

    Attributes:
        top: of a level course.
        left, right: the tops at both ends of a course that is out of level.
        doubted: it was taken although no joint that the job allows comes to it.
    """

    course: Annotated[int, Field(ge=1, le=10_000)]
    top: Size | None = None
    left: Size | None = None
    right: Size | None = None
    measured_on: Day | None = None
    doubted: bool = False

    @property
    def highest(self) -> Fraction:
        """The level that the next course starts from: the top of the higher end."""
        return max(x for x in (self.top, self.left, self.right) if x is not None)

    @property
    def taper(self) -> Fraction:
        """How much lower the lower end is than the higher."""
        if self.left is None or self.right is None:
            return Fraction(0)
        return abs(self.left - self.right)
