"""Define what stands over the opening: the kinds of head, and the arch's table.

In:  as `model`.   Out: frozen records.
Frame: as `model`.
"""

from __future__ import annotations

from typing import Literal

from shopdraw.job.table import Table
from shopdraw.job.values import Size, Width

HeadAsked = Literal["jack arch", "segmental arch", "soldier", "rowlock", "running"]
ARCHES = ("jack arch", "segmental arch")
STANDING = ("soldier", "rowlock")
"""Heads whose brick stand side by side."""


def propped_on(head: HeadAsked) -> Literal["centre", "ledger"]:
    """Return what carries a head while it sets: a centre under an arch, or a ledger."""
    return "centre" if head in ARCHES else "ledger"


class ArchTable(Table):
    """`[arch]`: an arch over the opening, whose height is then to the spring line.

    Attributes:
        rise: of a segmental arch, from the spring line to the crown of its soffit.
        camber: of a jack arch, likewise; where it is left out, by the usual rule.
        depth: from the soffit to the back; where it is left out, the brick's length.
        voussoirs: "whole" for uncut brick between tapered joints, "cut" for tapered
            brick between even joints, "best" for whole where the joints allow it.
    """

    rise: Size | None = None
    camber: Width | None = None
    depth: Size | None = None
    voussoirs: Literal["best", "whole", "cut"] = "best"
