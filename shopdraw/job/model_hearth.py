"""Define the job file's table about a hearth that is laid in brick.

In:  as `model`.   Out: frozen records.
Frame: as `model`.
"""

from __future__ import annotations

from typing import Literal

from shopdraw.job.table import Table
from shopdraw.job.values import Size, Width

HearthPattern = Literal[
    "running", "stack", "herringbone 90", "herringbone 45", "basket weave"
]
Border = Literal["rowlock", "header", "none"]


class HearthBrickTable(Table):
    """`[hearth.brick]`: the hearth extension, laid in the brick of the face.

    It never goes past the line where the firebox begins.

    Attributes:
        pattern: how the field is laid.
        border: what stands round it at the front and at both ends.
        corners: how the border turns.
        joint: between its pieces; None for the best that the job's head joints allow.
        slab: how far what it is laid on lies below the datum, at its highest.
        fire_floor: how far the floor of the fire lies above that slab, as found.
        back: how far behind the finished face it reaches between the jambs.
        riser: how high the finished hearth stands above the floor, where it is raised
            and its front and ends are faced with brick.
        nosing: what tops the riser.
    """

    pattern: HearthPattern = "running"
    border: Border = "rowlock"
    corners: Literal["butted", "mitred"] = "butted"
    joint: Size | None = None
    slab: Size | None = None
    fire_floor: Width | None = None
    back: Width | None = None
    riser: Size | None = None
    nosing: Literal["rowlock", "none"] = "rowlock"
