"""The form of a title block: what it says, and how close it may be set.

In:  nothing.   Out: `TitleBlock`, `Density`.
Frame: heights of lettering.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Angle = Literal["first", "third"]
LARGER = 4 / 3
"""How many times as high as general lettering a value is where its cell has room."""


@dataclass(frozen=True)
class Cell:
    """One field of the title block.

    Attributes:
        name: what it is, lettered above its value.
        value: empty leaves a blank to fill in.
        key: of the job file, where somebody typed the value.
        most: how many lines the value may take; 0 for as many as it needs.
        size: how many times as high as general lettering its value is.
        is_wide: it takes the whole width, however short its value is.
        is_asked: it is there, as a blank, even without a value.
        is_needed: it stands on every sheet, however low the paper is, as a blank where
            it has no value.
        symbol: the projection symbol that stands in it.
    """

    name: str
    value: str
    key: str = ""
    most: int = 2
    size: float = LARGER
    is_wide: bool = False
    is_asked: bool = True
    is_needed: bool = False
    symbol: Angle | None = None


@dataclass(frozen=True)
class Revised:
    """One revision: its mark, its day, who made it, and what changed."""

    mark: str
    day: str
    by: str
    says: str


@dataclass(frozen=True)
class TitleBlock:
    """What the title block says, from top to bottom.

    Attributes:
        cells: in rows, two to a row where both are short.
        revisions: the newest first.
        stamps: lines that must not be overlooked, each lettered in a box.
        notes: above the fields.
        stamp_boxes: names of empty boxes left for other people's stamps.
        seal: the name of the room left for a seal; empty for none.
    """

    cells: tuple[Cell, ...]
    revisions: tuple[Revised, ...] = ()
    stamps: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    stamp_boxes: tuple[str, ...] = ()
    seal: str = ""


@dataclass(frozen=True)
class Density:
    """How much room the parts of a block take, in heights of lettering.

    Attributes:
        pad: above a cell's name, and below its value.
        size: the most that a usual value is enlarged.
        box: the height of a box for a stamp; the seal's is twice that.
        blanks: how many rows the revisions have at least, blank or not.
        most: how many of the newest revisions there are; all stand in their table. Of
            none there is no column either.
        is_whole: cells without a value that are not needed, and notes, are there too.
        is_close: a value stands beside its name, and boxes beside one another.
        is_short: only the cells that are needed are there; a table has the others.
        is_tight: stamps stand box on box, in general lettering.
    """

    pad: float
    size: float
    box: float
    blanks: int
    most: int
    is_whole: bool = True
    is_close: bool = False
    is_short: bool = False
    is_tight: bool = False


DENSITIES = (
    Density(0.6, LARGER, 11.0, 3, 4),
    Density(0.6, 1.0, 9.0, 2, 3),
    Density(0.45, 1.0, 8.0, 2, 2),
    Density(0.4, 1.0, 5.5, 1, 1),
    Density(0.4, 1.0, 5.5, 1, 1, is_close=True),
    Density(0.4, 1.0, 5.5, 1, 1, is_whole=False, is_close=True),
    Density(0.4, 1.0, 5.5, 1, 1, is_whole=False, is_close=True, is_short=True),
    Density(
        0.4,
        1.0,
        5.5,
        0,
        0,
        is_whole=False,
        is_close=True,
        is_short=True,
        is_tight=True,
    ),
)
"""From the roomiest to the closest."""
