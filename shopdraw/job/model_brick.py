"""Define the job file's tables about the brick, and the bond that it is laid in.

In:  as `model`.   Out: frozen records.
Frame: as `model`.
"""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from pydantic import Field

from shopdraw.job.table import Table
from shopdraw.job.values import Line, Size, Width

Pattern = Literal["half", "third", "quarter", "stack", "Flemish", "English", "common"]
ALSO_CALLED: dict[str, Pattern] = {"running": "half", "stretcher": "half"}
"""What else a bond is called; the job file has one name for each."""
PATTERNS: tuple[Pattern, ...] = get_args(Pattern)
"""Every bond, as a job file names it."""
AtFold = Literal["mitre", "butt", "stop short"]


class CornerTable(Table):
    """A corner unit as it is bought, with its legs as the person measured them.

    Attributes:
        made: solid in one piece, or of two pieces mitred and glued.
        turns_over: whether one unit serves a left corner and a right one.
    """

    long_leg: Size
    short_leg: Size
    measured: Literal["outside", "inside"] = "outside"
    made: Literal["solid", "mitred"] = "solid"
    turns_over: bool = True


class SampleTable(Table):
    """`[brick.sample]`: brick as delivered, measured one by one or ten together.

    Attributes:
        lengths, heights: of ten brick or more, each measured by itself.
        row_of_ten, stack_of_ten: the length, or the height, of ten brick laid dry.
    """

    lengths: tuple[Size, ...] = ()
    heights: tuple[Size, ...] = ()
    row_of_ten: Size | None = None
    stack_of_ten: Size | None = None


class BrickTable(Table):
    """`[brick]`: one brick, as measured or from the catalog.

    Attributes:
        header: the length that a header shows on the face.
    """

    size: Line = ""
    length: Size
    height: Size
    thickness: Size
    header: Size | None = None
    corner: CornerTable | None = None
    soldier_corner: CornerTable | None = None
    at_fold: AtFold | None = None
    sample: SampleTable | None = None


class BondTable(Table):
    """`[bond]`: the pattern, and the least piece and lap that it must keep.

    Attributes:
        header_every: of common bond, which course is of headers: each fifth or sixth.
        least_piece: how long a piece is along its longest side, at the least.
        least_width: how wide it is at its narrowest, at the least; each limb of a
            notched piece by itself.
        least_corner: its sharpest corner, at the least, in degrees.
        least_area: its face, at the least, in percent of a whole brick's.
        longest_fillet: how long mortar may stand where a course runs out on an arch.
    """

    pattern: Pattern = "half"
    header_every: Literal[5, 6] = 6
    least_piece: Size
    least_width: Size
    least_corner: Annotated[int, Field(gt=0, lt=90)]
    least_area: Annotated[int, Field(gt=0, le=100)]
    longest_fillet: Size
    least_lap: Width
