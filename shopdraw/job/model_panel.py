"""Define the job file's table about panels in the face.

In:  as `model`.   Out: frozen records.
Frame: as `model`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from shopdraw.job.table import Table
from shopdraw.job.values import Length, Name, Size

FacePattern = Literal[
    "herringbone 45", "herringbone 90", "basket weave", "stack", "soldier"
]
FaceBorder = Literal["rowlock", "header", "none"]


class PanelTable(Table):
    """`[[panel]]`: a rectangle of the front that is laid in a pattern of its own.

    Its sizes are those of its brick, border included. The courses beside it stop a head
    joint short of it; its underside and its top are targets of the coursing.

    Attributes:
        left: from the left edge of the finished front.
        bottom: from the datum to the underside of its lowest brick.
        border: what stands round it: rowlocks with an end to the edge, or headers
            along it.
    """

    name: Name
    left: Length
    bottom: Length
    width: Size
    height: Size
    pattern: FacePattern = "herringbone 45"
    border: FaceBorder = "rowlock"

    @property
    def top(self) -> Fraction:
        """From the datum to the top of its highest brick."""
        return self.bottom + self.height

    @property
    def levels(self) -> tuple[str, str]:
        """What its underside and its top are called, as levels to land on."""
        return f"{self.name}, underside", f"{self.name}, top"

    @property
    def right(self) -> Fraction:
        """From the left edge of the finished front to its right end."""
        return self.left + self.width
