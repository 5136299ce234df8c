"""Reckon hours, cost and price of a job, from figures that the job itself gives.

In:  `Job`, `Surround`, `Layout`, `Takeoff`.   Out: `Estimate`.
Frame: money in the job's currency, exact; hours; quantities by the takeoff's measures.

A quantity is rounded to hundredths as it is printed, and so are hours; money is a
printed quantity times a typed figure, rounded to the cent. So whoever multiplies what
stands on the paper comes to the same. Nothing is made up: a line without its figure is
not reckoned, and while there is one there is no total.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from shopdraw.job.model import Job
from shopdraw.job.model_labour import LabourTable
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.layout import Piece
from shopdraw.quantities.measures import MEASURES
from shopdraw.quantities.money import (
    NONE,
    exactly,
    format_hundredths,
    share,
    to_cent,
)
from shopdraw.quantities.ordering import count_of, is_corner
from shopdraw.quantities.stripping import area_to_strip
from shopdraw.quantities.takeoff import PACKS, Takeoff

Group = Literal["labour", "materials", "travel"]
SUNDRIES = (
    "keystone", "ledger timber", "soft joints", "joint backing",
    "board", "primer", "sealer", "spacers",
)  # fmt: skip
"""What the takeoff lists that has no price of its own."""


_ONE = {"pieces": "piece", "boxes": "box", "bags": "bag", "trips": "trip",
        "litres": "litre"}  # fmt: skip
"""What one of a measure is called, where that is another word."""


@dataclass(frozen=True)
class Line:
    """One line of the costs.

    Attributes:
        group: what it counts to.
        key: its name in the job file: "setting", "flats".
        what: in words.
        quantity, measure: as printed; the quantity a whole number of hundredths.
        each: hours to one of these, or money; None where nobody gave it.
        hours: of a task; None of what is bought, or where they are not known.
        cost: None where the line is not reckoned.
        markup: percent on the cost.
        is_taxed: whether the tax counts its price.
        missing: the keys of the job file to fill in for what is not reckoned.
    """

    group: Group
    key: str
    what: str
    quantity: Fraction
    measure: str
    each: Fraction | None
    hours: Fraction | None = None
    cost: Fraction | None = None
    markup: Fraction = NONE
    is_taxed: bool = False
    missing: tuple[str, ...] = ()

    @property
    def amount(self) -> str:
        """How much of it there is, in words: `21.33 sq ft`, `1 bag`."""
        measure = _ONE.get(self.measure, self.measure)
        if self.quantity != 1:
            measure = self.measure
        return f"{format_hundredths(self.quantity)} {measure}"

    @property
    def added(self) -> Fraction | None:
        """What the markup adds to the cost, to the cent."""
        return None if self.cost is None else share(self.cost, self.markup)

    @property
    def price(self) -> Fraction | None:
        """Cost and markup."""
        added = self.added
        return None if self.cost is None or added is None else self.cost + added


@dataclass(frozen=True)
class Estimate:
    """Hours, cost and price, line by line.

    Attributes:
        lines: labour, materials, travel.
        currency: as typed; empty where it was not.
        tax_percent: on the price of the lines that are taxed.
        deposit_percent: of the total; None where nobody gave it.
    """

    lines: tuple[Line, ...]
    currency: str
    tax_percent: Fraction
    deposit_percent: Fraction | None

    @property
    def not_reckoned(self) -> tuple[Line, ...]:
        """The lines without a cost."""
        return tuple(line for line in self.lines if line.cost is None)

    @property
    def is_partial(self) -> bool:
        """Whether some line is not reckoned, so that no sum is a price."""
        return bool(self.not_reckoned)

    @property
    def is_empty(self) -> bool:
        """Whether no line at all is reckoned."""
        return len(self.not_reckoned) == len(self.lines)

    @property
    def hours(self) -> Fraction:
        """All hours that are known."""
        return sum((line.hours or NONE for line in self.lines), NONE)

    def cost_of(self, group: Group | None = None) -> Fraction:
        """Return the cost of what is reckoned, of one group or of all."""
        return sum((line.cost or NONE for line in self._in(group)), NONE)

    def price_of(self, group: Group | None = None) -> Fraction:
        """Return the price of what is reckoned, of one group or of all, before tax."""
        return sum((line.price or NONE for line in self._in(group)), NONE)

    def lacks(self, group: Group) -> bool:
        """Whether a line of a group is not reckoned."""
        return any(line.cost is None for line in self._in(group))

    def _in(self, group: Group | None) -> Iterator[Line]:
        return (line for line in self.lines if group in (None, line.group))

    @property
    def taxed(self) -> Fraction:
        """The price of the lines that are taxed."""
        taxed = (line.price or NONE for line in self.lines if line.is_taxed)
        return sum(taxed, NONE)

    @property
    def tax(self) -> Fraction:
        """The tax on them together, to the cent."""
        return share(self.taxed, self.tax_percent)

    @property
    def total(self) -> Fraction:
        """Price and tax of what is reckoned: a total only where nothing is missing."""
        return self.price_of() + self.tax

    @property
    def deposit(self) -> Fraction | None:
        """The share of the total due on agreement; None while it is not known."""
        if self.deposit_percent is None or self.is_partial:
            return None
        return share(self.total, self.deposit_percent)


def reckon_estimate(
    job: Job, pieces: tuple[Piece, ...], arch: Arch | None, takeoff: Takeoff
) -> Estimate:
    """Reckon what the work takes, costs and is offered for.

    Args:
        job: the figures; without any every line is there, and none is reckoned.
        pieces: all that are laid, a hearth's among them.
        arch: what stands over the opening; None where that is no arch.
        takeoff: what is bought.
    """
    labour = job.labour or LabourTable()
    tax = labour.tax
    lines = (
        *_tasks(labour, _work(job, pieces, arch, takeoff)),
        *_bought(job, takeoff),
        _travel(labour),
    )
    return Estimate(
        lines=tuple(_stated(line, labour) for line in lines),
        currency=job.prices.currency,
        tax_percent=exactly(tax.percent) if tax is not None else NONE,
        deposit_percent=_given(labour.deposit),
    )


def _stated(line: Line, labour: LabourTable) -> Line:
    """Return a line with the markup and the tax that are stated for it."""
    markup = {str(name): percent for name, percent in labour.markup.items()}
    taxed = labour.tax.on if labour.tax is not None else ()
    return replace(
        line,
        markup=exactly(markup.get(line.key, markup.get(line.group, 0))),
        is_taxed=line.key in taxed or line.group in taxed,
    )


Work = tuple[str, str, Fraction, str]
"""A task: its key, what it is, how much of it there is, and the measure."""


def _work(
    job: Job, pieces: tuple[Piece, ...], arch: Arch | None, takeoff: Takeoff
) -> Iterator[Work]:
    """Yield the tasks that the job has, from what is laid."""
    measures, face = MEASURES[job.lengths], takeoff.row("face area").net
    sawn = count_of(x for x in pieces if x.is_cut or x.is_trimmed or x.is_made)
    corners = count_of(x for x in pieces if is_corner(x))
    panels = sum((x.net for x in takeoff.rows if x.item == "panel area"), NONE)
    span = NONE if arch is None else arch.span / measures.per_length
    patching = sum((x.net for x in takeoff.rows if x.item == "patching"), NONE)
    once = Fraction(1)
    for work in (
        ("once", "set out, protect, clean up", once, "job"),
        ("stripping", "take the old work off", area_to_strip(job), measures.area),
        ("patching", "make the wall good", patching, measures.area),
        ("setting", "set the brick", face, measures.area),
        ("cutting", "saw pieces", sawn, "pieces"),
        ("corners", "corner units, besides their face", corners, "pieces"),
        ("arch", "the arch, besides its face", span, measures.length),
        ("panels", "panels, besides their face", panels, measures.area),
        ("pointing", "point the joints", face, measures.area),
    ):
        if work[2]:
            yield work


def _tasks(labour: LabourTable, work: Iterable[Work]) -> Iterator[Line]:
    """Yield a line for each task: hours, and what they cost."""
    for key, what, exact, measure in work:
        quantity, each = to_cent(exact), _given(getattr(labour, key))
        line = Line("labour", key, what, quantity, measure, each)
        hours = None if each is None else to_cent(quantity * each)
        cost = None
        if hours is not None and labour.rate is not None:
            cost = to_cent(hours * exactly(labour.rate))
        wanted = ((f"labour.{key}", each), ("labour.rate", labour.rate))
        missing = tuple(name for name, figure in wanted if figure is None)
        yield replace(line, hours=hours, cost=cost, missing=missing)


def _bought(job: Job, takeoff: Takeoff) -> Iterator[Line]:
    """Yield a line for each thing that is ordered, by the pack where there is one."""
    rows = {row.item: row for row in takeoff.rows}
    for item, (key, pack) in PACKS.items():
        row = rows.get(item)
        if row is None or not row.order:
            continue
        by = rows.get(f"{item}, {pack}", row)
        name = "corner_units" if key == "corners" else key
        yield _priced(job, name, item, by.order or NONE, by.measure, key)
    others = [
        row.item
        for row in takeoff.rows
        if row.item in SUNDRIES and row.says_something and row.net
    ]
    if others:
        words = ", ".join(others).replace("soft joints", "sealant")
        yield _priced(job, "sundries", words, Fraction(1), "job", "sundries")


def _priced(
    job: Job, key: str, what: str, exact: Fraction, measure: str, price: str
) -> Line:
    quantity, typed = to_cent(exact), job.prices.given.get(price)
    if typed is None:
        missing = (f"prices.{price}",)
        return Line("materials", key, what, quantity, measure, None, missing=missing)
    each = Fraction(typed)
    cost = to_cent(quantity * each)
    return Line("materials", key, what, quantity, measure, each, cost=cost)


def _travel(labour: LabourTable) -> Line:
    wanted = (("labour.trips", labour.trips), ("labour.travel", labour.travel))
    missing = tuple(name for name, figure in wanted if figure is None)
    trips = Fraction(labour.trips or 0)
    each = _given(labour.travel)
    line = Line("travel", "travel", "travel", trips, "trips", each)
    if each is None or labour.trips is None:
        return replace(line, missing=missing)
    return replace(line, cost=to_cent(trips * each))


def _given(value: float | None) -> Fraction | None:
    return None if value is None else exactly(value)
