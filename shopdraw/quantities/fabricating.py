"""List what the fabricator makes: each mark that is sawn or turns a corner, and spares.

In:  `Job`, the cut list.   Out: `FabricationRow`s.
Frame: the job's lengths, as the pieces.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import floor

from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow


@dataclass(frozen=True)
class FabricationRow:
    """One mark to make.

    Attributes:
        row: what it is, and how many stand on the wall.
        spares: how many more to make.
        tolerance: how far each sawn size may be off, either way.
    """

    row: CutListRow
    spares: int
    tolerance: Fraction

    @property
    def make(self) -> int:
        """How many to make."""
        return self.row.count + self.spares


def list_fabrication(
    job: Job, cut_list: tuple[CutListRow, ...]
) -> tuple[FabricationRow, ...]:
    """Return every mark that is not a whole brick as delivered, with its spares.

    The spares are the item's waste, to the nearest piece; a corner unit has one spare
    at least, because it can't be made on site. Common practice, no published source.
    """
    tolerance = sawn_tolerance(job)
    rows = []
    for row in cut_list:
        corner = row.kind in CORNER_KINDS
        if not (corner or row.is_cut):
            continue
        waste = job.waste.corners if corner else job.waste.flats
        share = Fraction(waste.percent).limit_denominator(1000) * row.count / 100
        spares = max(floor(share + Fraction(1, 2)), int(corner))
        rows.append(FabricationRow(row, spares, tolerance))
    return tuple(rows)


def sawn_tolerance(job: Job) -> Fraction:
    """Return how far a sawn size may be off, either way: half a joint step."""
    return job.saw_tolerance
