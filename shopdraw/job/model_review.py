"""The tables of a job file that a reviewer asks about, and the days that mortar needs.

In:  as `model`.   Out: frozen records.
Frame: as `model`; places on the face are from the finished left edge of the front and
up from the datum.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from shopdraw.job.table import Table
from shopdraw.job.values import Day, Length, Line, Name, Size, Text, Width

OWN_FIGURES = "own figures"
"""The rule set that has no figures but the job's."""
OwnFigureName = Literal[
    "hearth front",
    "hearth sides",
    "hearth thickness",
    "trim distance",
    "trim projection",
    "throat",
    "lintel bearing",
    "framing",
    "lining",
]
Days = Annotated[int, Field(ge=0, le=3_650)]


class OwnFigure(Table):
    """`[[rules.own]]`: a figure in place of the set's, and why.

    Attributes:
        reason: printed with it: a local amendment, an inspector's word and its date.
    """

    figure: OwnFigureName
    value: Width
    reason: Annotated[Text, Field(min_length=3, max_length=120)]


class RulesTable(Table):
    """`[rules]`: the rule set in the catalog that clearances are held against.

    Attributes:
        area: of the opening; the stricter of the two where nothing else is agreed.
        area_agreed: by whom and when, where it is not the stricter.
    """

    set: Line = ""
    own: tuple[OwnFigure, ...] = ()
    area: Literal["stricter", "found", "finished"] = "stricter"
    area_agreed: Line = ""


class BesideTable(Table):
    """`[[beside]]`: what may burn in or on the wall beside the brick.

    Attributes:
        to_masonry: from the fireplace's masonry; for framing.
        to_lining: from the inside of the firebox lining; for what abuts the masonry.
    """

    name: Name
    kind: Literal["framing", "sheathing", "wall finish", "flooring"]
    combustible: bool = True
    to_masonry: Width | None = None
    to_lining: Width | None = None


class FittingTable(Table):
    """`[[fitting]]`: what the new face could cover: a rectangle on it."""

    name: Name
    wants: Literal["clear", "cut round", "may be covered"] = "clear"
    left: Length
    bottom: Length
    width: Size
    height: Size


class SubstrateTable(Table):
    """`[substrate]`: the wall that the brick is set on.

    Attributes:
        prepared: what was done to a wall that is not clean.
        plane: how far it is out in 10 ft, or 3 m.
        deflection: of what carries it: the span over so much.
    """

    kind: Literal["masonry", "concrete", "board", "unknown"] = "unknown"
    condition: tuple[Literal["sound", "painted", "sooted", "old mortar"], ...] = ()
    prepared: Line = ""
    plane: Width | None = None
    deflection: Annotated[int, Field(gt=0, le=10_000)] | None = None


class DataSheetTable(Table):
    """`[[data_sheet]]`: what a maker says of mortar or sealant near the fire.

    Attributes:
        service_c, expected_c: degrees Celsius that it bears, and that are expected at
            its place.
    """

    item: Literal["setting mortar", "pointing mortar", "sealant"]
    document: Annotated[Text, Field(min_length=1, max_length=120)]
    page: Line = ""
    service_c: Annotated[float, Field(ge=-50, le=2_000)] | None = None
    expected_c: Annotated[float, Field(ge=-50, le=2_000)] | None = None


class HouseTable(Table):
    """`[house]`: what the hazards depend on.

    Attributes:
        asbestos: who looked for it, when, and what was found.
    """

    year: Annotated[int, Field(ge=1000, le=3000)] | None = None
    painted_sq_ft: Annotated[float, Field(ge=0, le=100_000)] | None = None
    smoke_stains: bool | None = None
    asbestos: Line = ""


class ScheduleTable(Table):
    """`[schedule]`: days; usual ones where the makers' are left out.

    Attributes:
        ledger_days: from setting to taking the ledger away.
        wait_days: from setting to pointing.
        cure_weeks: from pointing to fastening woodwork.
    """

    set_on: Day | None = None
    pointed_on: Day | None = None
    ledger_days: Days | None = None
    wait_days: Days | None = None
    cure_weeks: Annotated[int, Field(ge=0, le=520)] | None = None
