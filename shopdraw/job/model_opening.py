"""What the job file says of the opening.

In:  the table `[opening]`.   Out: a table.
Frame: the job's lengths, as the person measured.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field

from shopdraw.job.model_head import HeadAsked
from shopdraw.job.table import Table
from shopdraw.job.turning import angle_of
from shopdraw.job.values import HeadBearing, Size, Spot, Width


class OpeningCornersTable(Table):
    """`[opening.corners]`: the corners of an opening that is out of square.

    Each is measured along from the left end of the face, and up from one level line.

    Attributes:
        sag: how far the middle of the head hangs below the line between its corners.
    """

    bottom_left: Spot
    bottom_right: Spot
    top_left: Spot
    top_right: Spot
    sag: Width = Fraction(0)


class OpeningTable(Table):
    """`[opening]`: the opening, measured from the edges of the face.

    Attributes:
        jamb_return: how far corner units turn into the jambs, along the jamb from the
            finished face.
        jamb_depth: how far back that is, square to the finished face.
        splay: by how many degrees the jambs are out of square, wider at the face.
        firebox: how far behind the finished face the firebox begins.
        throat: how far the throat or the damper is above the opening.
        lintel_bearing: how far the lintel behind bears on the wall, at its shorter end.

    Where corners are given, width and from_left follow from them: what is clear between
    the jambs. So does height, the lowest point of the head, unless it is given too.
    """

    width: Size
    height: Size
    from_left: Width | None = None
    corners: OpeningCornersTable | None = None
    head: HeadAsked = "running"
    head_courses: Literal[1, 2] = 1
    jamb_return: Size | None = None
    jamb_depth: Size | None = None
    splay: Annotated[float, Field(ge=0, le=60)] | None = None
    firebox: Size | None = None
    throat: Width | None = None
    lintel_bearing: Width | None = None
    head_over: Literal["opening", "face"] = "opening"
    head_bears: HeadBearing = "best"
    head_centre: Literal["best", "unit", "joint"] = "best"
    head_ends: Literal["joint in the opening width", "joint in the leg"] = (
        "joint in the opening width"
    )

    @property
    def splayed(self) -> Fraction:
        """By how many degrees the jambs that brick turns into are out of square."""
        return angle_of(self.splay)
