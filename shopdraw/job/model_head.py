"""Define what stands over the opening: the kinds of head, and the arch's tables.

In:  as `model`.   Out: frozen records.
Frame: as `model`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from shopdraw.job.table import Table
from shopdraw.job.values import Size, Width

ArchKind = Literal["jack arch", "segmental arch", "semicircular arch"]
HeadAsked = Literal[
    "jack arch", "segmental arch", "semicircular arch", "soldier", "rowlock", "running"
]
ARCHES = ("jack arch", "segmental arch", "semicircular arch")
STANDING = ("soldier", "rowlock")
"""Heads whose brick stand side by side."""


def propped_on(head: HeadAsked) -> Literal["centre", "ledger"]:
    """Return what carries a head while it sets: a centre under an arch, or a ledger."""
    return "centre" if head in ARCHES else "ledger"


class KeystoneTable(Table):
    """`[arch.key]`: a keystone of its own, made to size and not sawn from the brick.

    Attributes:
        width: at its foot, where it is narrowest.
        projection: how far it stands out from the finished brick face.
        rises: how far it goes up past the back of the arch.
    """

    width: Size
    projection: Width = Fraction(0)
    rises: Width = Fraction(0)


class ArchTable(Table):
    """`[arch]`: an arch over the opening, whose height is then to the spring line.

    Attributes:
        rise: of a segmental arch, from the spring line to the crown of its soffit.
        camber: of a jack arch, likewise; where it is left out, by the usual rule.
        depth: from the soffit to the back; where it is left out, one brick deep, or
            what the rings of rowlocks make.
        made_of: brick on end that show their length, or rowlocks that show their end.
        rings: of rowlocks, one over the other.
        number: of voussoirs: odd has a key on the centre line, even has a joint there.
        voussoirs: "whole" for uncut brick between tapered joints, "cut" for tapered
            brick between even joints, "best" for whole where the joints allow it.
        key: a keystone; without it the key is a voussoir like the others.
    """

    rise: Size | None = None
    camber: Width | None = None
    depth: Size | None = None
    made_of: Literal["stretchers on end", "rowlocks"] = "stretchers on end"
    rings: Literal[1, 2] = 1
    number: Literal["odd", "even"] = "odd"
    voussoirs: Literal["best", "whole", "cut"] = "best"
    key: KeystoneTable | None = None
