"""The form of the record of what is sawn and bought, and of brick sizes compared.

In:  nothing.   Out: `CutListRowRecord`, `CutPlanRecord`, `TakeoffRowRecord`,
`AlternativeRecord` and what they hold.
Frame: lengths in the job's lengths; each quantity says its own measure.
"""

from __future__ import annotations

from typing_extensions import TypedDict

from shopdraw.job.model_brick import Pattern
from shopdraw.masonry.wall.layout import PieceKind
from shopdraw.quantities.estimate import Group
from shopdraw.quantities.stops import Against


class CutListRowRecord(TypedDict):
    """The pieces of one mark: they are all alike."""

    mark: str
    """The mark that they share."""
    kind: PieceKind
    """What kind of unit they are, or are sawn from."""
    length: float
    """How long each is, along its course."""
    height: float
    """How high each is."""
    count: int
    """How many are on the wall."""
    legs: list[float]
    """The two legs of a corner unit, measured outside; empty for any other piece."""
    is_cut: bool
    """Whether they are sawn. A corner unit that only has a leg trimmed does not count
    as cut."""
    is_trimmed: bool
    """Whether they are corner units with a leg that is sawn shorter from its free
    end."""
    note: str
    """What the person at the saw must know besides; often empty."""


class SawnUnitRecord(TypedDict):
    """Whole units that are sawn alike."""

    marks: list[str]
    """The marks of the pieces that one unit gives, the longest first."""
    count: int
    """How many units are sawn so."""
    left: float
    """How much of one unit is left over, after the width of every cut."""


class SawStopRecord(TypedDict):
    """One setting of the saw's stop, the block that the brick is pushed against."""

    length: float
    """The length that the stop is set to."""
    against: Against
    """Which side of the brick is held against the stop: an "end", so that it is sawn
    to length; the "corner" of a corner unit whose leg is trimmed; or a long "edge", so
    that it is sawn along its length."""
    is_mitred: bool
    """Whether the saw is set to a mitre, too."""
    marks: list[str]
    """The marks that are cut at this setting."""
    cuts: int
    """How many cuts are made at this setting."""


class CutPlanRecord(TypedDict):
    """Which pieces are sawn from one whole unit, and where the saw's stop is set."""

    whole_units: int
    """How many whole units are sawn up; corner units are not among them."""
    least: int
    """How many units any plan needs at least: where `whole_units` is the same, no plan
    can do with fewer."""
    kerf: float
    """How much one cut takes away: the width of the blade's cut."""
    units: list[SawnUnitRecord]
    """Which pieces are sawn from one unit: what is done most often first."""
    stops: list[SawStopRecord]
    """The settings of the saw's stop in the order of sawing: to length, legs of corner
    units, along the length, edges that are mitred; of each the longest first."""


class TakeoffRowRecord(TypedDict):
    """One thing that the work takes."""

    item: str
    """What it is."""
    laid: int | None
    """How many pieces of brick it comes to on the wall; null where it is none."""
    net: float
    """How much of it the work takes, with nothing added for waste: of brick the units
    to lay whole or to saw."""
    order: float | None
    """How much to order, waste added; null where nothing is ordered by this row."""
    measure: str
    """What both are counted or measured in: "pieces", "sq ft", "litres"."""
    note: str
    """How it was reckoned."""


class AlternativeRecord(TypedDict):
    """One brick size in one bond, as `compare --json` prints it."""

    size: str
    """The name of the size in the catalog, or of the job's own brick."""
    bond: Pattern
    """The bond."""
    length: float
    """How long the brick is."""
    height: float
    """How high the brick is."""
    is_own: bool
    """Whether it is the job as it stands."""
    why_not: str
    """Why it can't be built. Empty where it can: only then does what follows count."""
    lands: bool
    """Whether every target is met within its tolerance."""
    missed: float
    """The sum of what is missed beyond tolerance."""
    broken: int
    """How many pieces break a rule of the bond or of sawing."""
    departure: float
    """The greatest difference of a bed joint from the preferred thickness."""
    smallest: float
    """The length of the shortest stretcher, or trimmed leg of a corner unit; of a whole
    brick where none is sawn shorter."""
    cuts: int
    """How many pieces are sawn."""
    different_cuts: int
    """How many kinds of sawn piece there are."""
    units: int
    """How many units to buy, waste added."""
    sawn_off: float
    """How much of the face of the flat units is sawn off, as a part of 1."""
    worse: list[str]
    """What is worse about it than about the best in its bond, in words."""


class EstimateLineRecord(TypedDict):
    """One line of the costs. Money and hours are texts, exact to the hundredth."""

    group: Group
    """What it counts to."""
    key: str
    """Its name in the job file."""
    what: str
    """What is done or bought."""
    quantity: str
    """How much of it there is."""
    measure: str
    """What the quantity is measured in."""
    hours: str | None
    """How many hours it takes; null where they are not known, and of what is bought."""
    cost: str | None
    """What it costs; null where it is not reckoned."""
    price: str | None
    """Cost and markup; null where it is not reckoned."""
    is_taxed: bool
    """Whether the tax counts it."""


class EstimateRecord(TypedDict):
    """Hours, cost and price. Money and hours are texts, exact to the hundredth."""

    currency: str
    """The currency as typed."""
    lines: list[EstimateLineRecord]
    """Labour, materials, travel."""
    tax: str
    """The tax on the lines that are taxed."""
    is_partial: bool
    """Whether a line is not reckoned, so that the total is no price."""
    total: str | None
    """Price and tax; null while a line is not reckoned."""
    deposit: str | None
    """What is due on agreement; null while it is not known."""
