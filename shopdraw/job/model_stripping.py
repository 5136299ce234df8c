"""Define the job file's table for old work that comes off before brick is set.

In:  as `model`.   Out: frozen records.
Frame: areas in sq ft where lengths are inches, in m2 where they are millimetres.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from shopdraw.job.table import Table
from shopdraw.job.values import Name, Size

OldKind = Literal[
    "stone veneer", "brick", "tile", "block shelf", "mortar", "board", "paint", "other"
]
Area = Annotated[float, Field(gt=0, le=100_000)]
Density = Annotated[float, Field(gt=0, le=10_000)]


class OldWorkTable(Table):
    """`[[stripping.old]]`: one thing that is there and comes off.

    Attributes:
        name: what it is called, where its kind does not say it.
        thickness: with the mortar or glue that it is set in; paint has none.
        density: pounds to a cubic foot, kilograms to a cubic metre, of all of it.
    """

    kind: OldKind
    name: Name | None = None
    area: Area | None = None
    thickness: Size | None = None
    density: Density | None = None

    @property
    def called(self) -> str:
        """What it is called: its name, or its kind."""
        return self.name or self.kind


class StrippingTable(Table):
    """`[stripping]`: old work to come off, and the wall to be made good after it.

    Attributes:
        patching: how much of the wall is made good.
    """

    old: tuple[OldWorkTable, ...] = ()
    patching: Area | None = None
