"""Define the job file's table for hours and the quote, and which papers are printed.

In:  as `model`.   Out: frozen records.
Frame: money in the currency of `[prices]`; hours; percent.
"""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from pydantic import Field

from shopdraw.job.table import Table
from shopdraw.job.values import Text

Paper = Literal["quote", "costs", "bring", "stripping", "handover"]
"""The later papers: each is printed only where it is asked for."""
PAPERS: tuple[Paper, ...] = get_args(Paper)
LineName = Literal[
    "labour", "materials", "travel",
    "once", "stripping", "patching",
    "setting", "cutting", "corners", "arch", "panels", "pointing",
    "flats", "corner_units", "setting_mortar", "pointing_mortar", "sundries",
]  # fmt: skip
"""What markup and tax may be stated for: a group of lines, a task by its key, or what
is bought; corners is the setting of corner units."""
LINES: tuple[LineName, ...] = get_args(LineName)

Figure = Annotated[float, Field(ge=0, le=1_000_000)]
"""Money, or hours."""
Percent = Annotated[float, Field(ge=0, le=100)]
Markup = Annotated[float, Field(ge=0, le=1_000)]
Line = Annotated[Text, Field(min_length=1, max_length=120)]


class TaxTable(Table):
    """`[labour.tax]`: the tax on the lines that are named.

    Attributes:
        on: groups of lines, or lines; nothing else is taxed.
    """

    percent: Percent
    on: tuple[LineName, ...]


class LabourTable(Table):
    """`[labour]`: the mason's own hours and rate, and what a quote adds to the cost.

    Attributes:
        rate: for an hour.
        once: hours for setting out, protecting and cleaning up, once a job.
        stripping: hours a square foot or metre of old work that comes off.
        patching: hours a square foot or metre of wall that is made good.
        setting: hours a square foot or metre of face, the hearth's brick among it.
        cutting: hours a sawn piece.
        corners: hours a corner unit, over those for its face.
        arch: hours a foot or metre of span, over those for its face.
        panels: hours a square foot or metre of panel, over those for its face.
        pointing: hours a square foot or metre of face.
        trips, travel: how often the site is driven to, and what a trip costs.
        markup: percent on cost, by a group of lines or by a line, which wins.
        deposit: the share of the total that is due on agreement, in percent.
        valid_days: for how long the quote stands, from the job's date.
        excludes: what the price does not hold, besides what is always left out.
    """

    rate: Figure | None = None
    once: Figure | None = None
    stripping: Figure | None = None
    patching: Figure | None = None
    setting: Figure | None = None
    cutting: Figure | None = None
    corners: Figure | None = None
    arch: Figure | None = None
    panels: Figure | None = None
    pointing: Figure | None = None
    trips: Annotated[int, Field(ge=0, le=1_000)] | None = None
    travel: Figure | None = None
    markup: dict[LineName, Markup] = {}
    tax: TaxTable | None = None
    deposit: Percent | None = None
    valid_days: Annotated[int, Field(ge=1, le=3_650)] | None = None
    excludes: tuple[Line, ...] = ()
