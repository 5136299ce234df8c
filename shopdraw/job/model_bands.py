"""Define the job file's tables about bands and corbels.

In:  as `model`.   Out: frozen records.
Frame: as `model`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from shopdraw.job.table import Table
from shopdraw.job.values import Size, Width

BandKind = Literal["soldier", "rowlock", "header"]
"""What stands or lies in a band: its name in the job file, and in the courses."""
Number = Annotated[int, Field(ge=1, le=10_000)]


class BandTable(Table):
    """`[[band]]`: a course of soldiers, rowlocks or headers, or a part of the front.

    Attributes:
        course: its number, counted from the hearth; None where a level says.
        level: up from the datum; the course that comes nearest is the band.
        meets: what of the band is to be at the level.
        every: after how many courses it comes again; None where it stands once.
        times: how often it stands in all; None for as often as there is room.
        from_left, width: where it is on the front, where it does not go round the face.
            Then it stands beside the courses there, its foot on that of its course.
    """

    kind: BandKind
    course: Number | None = None
    level: Size | None = None
    meets: Literal["underside", "top"] = "underside"
    tolerance: Width | None = None
    every: Number | None = None
    times: Number | None = None
    from_left: Width | None = None
    width: Size | None = None

    @property
    def is_part(self) -> bool:
        """Whether it stands on a part of the front, beside courses."""
        return self.from_left is not None or self.width is not None

    def courses(self, first: int, last: int) -> Iterator[int]:
        """Yield the numbers of its courses, from its first to the last of the wall."""
        times = self.times if self.every else 1
        number, left = first, times
        while number <= last and left != 0:
            yield number
            number += self.every or 1
            left = None if left is None else left - 1


class CorbelTable(Table):
    """`[[corbel]]`: courses that each project a step further, up to a shelf.

    Attributes:
        courses: how many.
        step: how far each projects past the one below.
        top: the level of the top of the last; None for the last course of the face.
    """

    courses: Annotated[int, Field(ge=1, le=50)]
    step: Size
    top: Size | None = None
    tolerance: Width | None = None


def band_names(bands: tuple[BandTable, ...]) -> tuple[str, ...]:
    """Return what each band is called: "soldier band", with a number if not alone."""
    kinds = [band.kind for band in bands]
    return tuple(
        f"{kind} band"
        + (f" {kinds[: place + 1].count(kind)}" if kinds.count(kind) > 1 else "")
        for place, kind in enumerate(kinds)
    )


def corbel_names(corbels: tuple[CorbelTable, ...]) -> tuple[str, ...]:
    """Return what the top of each corbel is called, as a level to land on."""
    several = len(corbels) > 1
    return tuple(
        f"corbel {place} top" if several else "corbel top"
        for place in range(1, len(corbels) + 1)
    )
