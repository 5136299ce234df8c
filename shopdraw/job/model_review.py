"""Define the job file's tables for the review, and for the days that mortar needs.

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
"""The rule set that has no figures of its own, only those in the job."""
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
    """`[[rules.own]]`: a figure of your own in place of the rule set's, and why.

    Attributes:
        reason: a local amendment, or an inspector's word and its date; it is printed.
    """

    figure: OwnFigureName
    value: Width
    reason: Annotated[Text, Field(min_length=3, max_length=120)]


class RulesTable(Table):
    """`[rules]`: the rule set in the catalog that clearances are held against.

    Attributes:
        area: which area of the opening governs: as found, as finished, or the stricter.
        area_agreed: which reviewer agreed to it and when, where it is not the stricter.
    """

    set: Line = ""
    own: tuple[OwnFigure, ...] = ()
    area: Literal["stricter", "found", "finished"] = "stricter"
    area_agreed: Line = ""


class BesideTable(Table):
    """`[[beside]]`: what may burn in or on the wall beside the brick.

    Attributes:
        to_masonry: for framing, its distance from the masonry of the fireplace.
        to_lining: for all else, its distance from the inside of the firebox lining.
    """

    name: Name
    kind: Literal["framing", "sheathing", "wall finish", "flooring"]
    combustible: bool = True
    to_masonry: Width | None = None
    to_lining: Width | None = None


class FittingTable(Table):
    """`[[fitting]]`: something that the new face could cover, a rectangle on it."""

    name: Name
    wants: Literal["clear", "cut round", "may be covered"] = "clear"
    left: Length
    bottom: Length
    width: Size
    height: Size


class SubstrateTable(Table):
    """`[substrate]`: the wall that the brick is set on.

    Attributes:
        prepared: what was done to a wall that is not sound and clean.
        plane: how far it is out of plane in 10 ft, or 3 m.
        deflection: how stiff what carries it is: 600 for a deflection of L/600.
    """

    kind: Literal["masonry", "concrete", "board", "unknown"] = "unknown"
    condition: tuple[Literal["sound", "painted", "sooted", "old mortar"], ...] = ()
    prepared: Line = ""
    plane: Width | None = None
    deflection: Annotated[int, Field(gt=0, le=10_000)] | None = None


class DataSheetTable(Table):
    """`[[data_sheet]]`: what a maker says of mortar or sealant near the fire.

    Attributes:
        service_c: the degrees Celsius that it withstands in service.
        expected_c: the degrees Celsius that are expected where it is used.
    """

    item: Literal["setting mortar", "pointing mortar", "sealant"]
    document: Annotated[Text, Field(min_length=1, max_length=120)]
    page: Line = ""
    service_c: Annotated[float, Field(ge=-50, le=2_000)] | None = None
    expected_c: Annotated[float, Field(ge=-50, le=2_000)] | None = None


class HouseTable(Table):
    """`[house]`: what the hazards of an old house depend on.

    Attributes:
        asbestos: who looked for it, when, and what was found.
    """

    year: Annotated[int, Field(ge=1000, le=3000)] | None = None
    painted_sq_ft: Annotated[float, Field(ge=0, le=100_000)] | None = None
    smoke_stains: bool | None = None
    asbestos: Line = ""


class ScheduleTable(Table):
    """`[schedule]`: dates, and the waits that the makers of the mortar ask for.

    Attributes:
        ledger_days: from setting the brick to taking the temporary ledger away.
        wait_days: from setting the brick to pointing the joints.
        cure_weeks: from pointing the joints to fastening woodwork.
    """

    set_on: Day | None = None
    pointed_on: Day | None = None
    ledger_days: Days | None = None
    wait_days: Days | None = None
    cure_weeks: Annotated[int, Field(ge=0, le=520)] | None = None
