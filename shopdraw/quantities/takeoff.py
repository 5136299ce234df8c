"""Take off the quantities from the pieces that were drawn.

In:  `Job`, `Surround`, `Coursing`, `Layout`, `CutPlan`.   Out: `Takeoff`.
Frame: counts, areas in sq ft or m2, volumes in cu ft or litres.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from shopdraw.job.model import Job
from shopdraw.job.model_around import WasteRule
from shopdraw.lengths import INCHES_PER_FOOT, Lengths, typed_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import CORNER_KINDS, Layout, Piece
from shopdraw.quantities.cutting import CutPlan
from shopdraw.quantities.joints import WallAreas, measure_wall

TENTH = Fraction(1, 10)


@dataclass(frozen=True)
class TakeoffRow:
    """One item to buy.

    Attributes:
        item: "whole units", "cut units", "corner units", "all units", "face area", ...
        net: what is on the wall, exact.
        order: with waste, rounded up once; None where nothing is ordered by this row.
        measure: "pieces", "sq ft", "cu ft", "ft", "m2", "litres", "m".
        note: how the waste was reckoned.
    """

    item: str
    net: Fraction
    order: Fraction | None
    measure: str
    note: str = ""


SPACERS = 2
"""To a piece; common practice, no published source."""
EXACT = Fraction(1, 10**6)
"""Waste is added this finely before bags are rounded up."""
PACKS = {
    "flat units": ("flats", "boxes"),
    "corner units": ("corners", "boxes"),
    "setting mortar": ("setting_mortar", "bags"),
    "pointing mortar": ("pointing_mortar", "bags"),
}
"""Which of the job's packs an item is bought in, and what the pack is called."""


@dataclass(frozen=True)
class Takeoff:
    """What to buy, item by item."""

    rows: tuple[TakeoffRow, ...]

    def row(self, item: str) -> TakeoffRow:
        """Return the row of that item; KeyError where there is none."""
        for row in self.rows:
            if row.item == item:
                return row
        raise KeyError(item)


@dataclass(frozen=True)
class Measures:
    """What people buy by, and how many of the job's lengths make one."""

    length: str
    per_length: Fraction
    area: str
    per_area: Fraction
    volume: str
    per_volume: Fraction


FOOT = Fraction(INCHES_PER_FOOT)
MEASURES: dict[Lengths, Measures] = {
    "in": Measures("ft", FOOT, "sq ft", FOOT**2, "cu ft", FOOT**3),
    "mm": Measures(
        "m", Fraction(10**3), "m2", Fraction(10**6), "litres", Fraction(10**6)
    ),
}


def take_off(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout, plan: CutPlan
) -> Takeoff:
    """Count the pieces, measure the mortar, and list what else the work takes."""
    areas = measure_wall(job, surround, coursing, layout)
    rows = (
        *_units(job, layout.pieces, plan),
        _corner_height(job, coursing, layout.pieces),
        *_mortar(job, areas),
        _soft_joints(job, areas),
        _by_area(job, areas),
        *_besides(job, surround, areas, layout),
    )
    packed = tuple(_packed(job, rows))
    return Takeoff((*rows, *packed, *_prices(job, rows, packed)))


def _by_area(job: Job, areas: WallAreas) -> TakeoffRow:
    """Reckon the units as the handbooks do, by area: a check on the count.

    A module is a unit and its joints: 144 / ((L + j) (H + j)) to the square foot, the
    way of the worked example in NAVEDTRA 14045 and of the industry's tables.
    """
    measures, joints = MEASURES[job.lengths], job.joints
    module = (job.brick.length + joints.head.preferred) * (
        job.brick.height + joints.bed.preferred
    )
    each = measures.per_area / module
    return TakeoffRow(
        "units by area",
        areas.face / module,
        None,
        "units",
        f"to compare: {float(each):.2f} a {measures.area}, corner units counted as one "
        "each face; the order is by the pieces drawn",
    )


def _besides(
    job: Job, surround: Surround, areas: WallAreas, layout: Layout
) -> Iterator[TakeoffRow]:
    """List what the work takes besides brick and mortar."""
    measures, order = MEASURES[job.lengths], job.order
    area = areas.face / measures.per_area
    mitred = _count(piece for piece in layout.pieces if "mitre" in piece.cut_edges)
    if mitred:
        words = "of the cut units: corners that can't be bought, two pieces to each"
        yield TakeoffRow("mitred units", mitred, None, "pieces", words)
    if layout.arch is None:
        clear = surround.opening.right - surround.opening.left
        words = "across the opening, on props; comes away when the maker's time is up"
        yield TakeoffRow(
            "ledger timber", clear / measures.per_length, None, measures.length, words
        )
    if areas.soft_length:
        length = areas.soft_length / measures.per_length
        words = "behind the sealant of the soft joints; rated for the heat at its place"
        yield TakeoffRow("joint backing", length, None, measures.length, words)
    for wanted, item, words in (
        (order.board, "board", "over the wall as found; joints taped"),
        (order.primer, "primer", "as the setting mortar's maker says"),
        (order.sealer, "sealer", "over the finished faces, joints included"),
    ):
        if wanted:
            yield TakeoffRow(item, area, None, measures.area, words)
    if order.spacers:
        count = SPACERS * _count(layout.pieces)
        words = f"{SPACERS} a piece, used again as the bed takes hold"
        yield TakeoffRow("spacers", count, None, "pieces", words)


def _prices(
    job: Job, rows: tuple[TakeoffRow, ...], packed: tuple[TakeoffRow, ...]
) -> Iterator[TakeoffRow]:
    """Price what is ordered and has a price, by the pack where it has one."""
    total, missing = Fraction(0), []
    bought = {row.item: row for row in packed}
    priced = job.prices.given
    for row in rows:
        if row.item not in PACKS or not row.order:
            continue
        key, name = PACKS[row.item]
        if key not in priced:
            missing.append(row.item)
            continue
        by = bought.get(f"{row.item}, {name}", row)
        total += Fraction(priced[key]) * (by.order or 0)
    if priced:
        words = "of what has a price"
        if missing:
            words += f"; no price for {', '.join(missing)}"
        yield TakeoffRow("price", total, None, job.prices.currency or "money", words)


def _packed(job: Job, rows: tuple[TakeoffRow, ...]) -> Iterator[TakeoffRow]:
    """Count boxes and bags, where the job says what one holds; rounded up once."""
    per_volume = MEASURES[job.lengths].per_volume
    for row in rows:
        pack, name = PACKS.get(row.item, ("", ""))
        holds = getattr(job.packs, pack, None) if pack else None
        if holds is None or row.order is None:
            continue
        wanted = row.order
        if name == "bags":
            waste: WasteRule = getattr(job.waste, pack)
            wanted = with_waste(row.net, waste, EXACT)
            holds = holds / per_volume
        net, packs = row.net / holds, Fraction(ceil(wanted / holds))
        spare = float(packs * holds - wanted)
        note = f"one holds {float(holds):g} {row.measure}; {spare:g} beyond the order"
        yield TakeoffRow(f"{row.item}, {name}", net, packs, name, note)
        by_pallet = job.packs.pallet
        if name == "boxes" and by_pallet is not None:
            pallets = Fraction(ceil(packs / by_pallet))
            note = f"one holds {by_pallet} boxes"
            item = f"{row.item}, pallets"
            yield TakeoffRow(item, packs / by_pallet, pallets, "pallets", note)


def with_waste(
    net: Fraction, waste: WasteRule, step: Fraction = Fraction(1)
) -> Fraction:
    """Return what to order: the greater of the percentage and the least, on the step.

    Args:
        net: what is on the wall; nothing orders nothing.
        waste: a percentage, and a least number in the item's own measure.
        step: what it is bought by; rounded up to it once.
    """
    if not net:
        return Fraction(0)
    by_percent = net * (1 + Fraction(str(waste.percent)) / 100)
    return ceil(max(by_percent, net + waste.least) / step) * step


def _waste_words(waste: WasteRule, measure: str) -> str:
    percent = f"{waste.percent:g} % waste"
    return f"{percent}, at least {waste.least} {measure}" if waste.least else percent


def _count(pieces: Iterable[Piece]) -> Fraction:
    return Fraction(sum(1 for _ in pieces))


def _is_corner(piece: Piece) -> bool:
    return piece.kind in CORNER_KINDS


@dataclass(frozen=True)
class Ordered:
    """Units to order, breakage in: flats, corner units, of these soldiers' corners."""

    flats: Fraction
    corners: Fraction
    soldier_corners: Fraction


def order_units(job: Job, pieces: tuple[Piece, ...], plan: CutPlan) -> Ordered:
    """Return what is ordered: each item rounded up once.

    What sawing takes is in the cut plan, so waste is for breakage alone.
    """
    whole = _count(x for x in pieces if not _is_corner(x) and not x.is_cut)
    plain = _count(x for x in pieces if x.kind == "corner unit")
    soldier = _count(x for x in pieces if x.kind == "soldier corner unit")
    soldier_ordered = with_waste(soldier, job.waste.corners)
    return Ordered(
        flats=with_waste(whole + plan.whole_units, job.waste.flats),
        corners=with_waste(plain, job.waste.corners) + soldier_ordered,
        soldier_corners=soldier_ordered,
    )


def _units(
    job: Job, pieces: tuple[Piece, ...], plan: CutPlan
) -> tuple[TakeoffRow, ...]:
    """Whole and cut units come out of one box; corner units are bought apart."""
    ordered = order_units(job, pieces, plan)
    flats = [piece for piece in pieces if not _is_corner(piece)]
    cut = _count(piece for piece in flats if piece.is_cut)
    whole, sawn = len(flats) - cut, plan.whole_units
    plain = _count(piece for piece in pieces if piece.kind == "corner unit")
    soldier = len(pieces) - len(flats) - plain
    corner_note = _waste_words(job.waste.corners, "pieces")
    if soldier:
        more = ordered.soldier_corners
        corner_note += f"; of these {soldier} soldier corner units, order {more}"
    proved = "the fewest there can be" if plan.is_proved else f"at least {plan.least}"
    return (
        TakeoffRow("whole units", whole, None, "pieces", "laid as delivered"),
        TakeoffRow(
            "cut units", cut, None, "pieces", f"sawn from {sawn} whole units, {proved}"
        ),
        TakeoffRow(
            "flat units",
            whole + cut,
            ordered.flats,
            "pieces",
            f"{whole + sawn} to buy, {whole} whole and {sawn} to saw; "
            f"{_waste_words(job.waste.flats, 'pieces')}",
        ),
        TakeoffRow(
            "corner units", plain + soldier, ordered.corners, "pieces", corner_note
        ),
        TakeoffRow(
            "all units",
            Fraction(len(pieces)),
            ordered.flats + ordered.corners,
            "pieces",
            "one lot, ordered once; each item rounded up once",
        ),
    )


def _corner_height(
    job: Job, coursing: Coursing, pieces: tuple[Piece, ...]
) -> TakeoffRow:
    """Corner units by the length of corner: each with the bed joint below it."""
    measures = MEASURES[job.lengths]
    below = {course.number: course.bed_joint for course in coursing.courses}
    height = sum(
        (piece.height + below[piece.course] for piece in pieces if _is_corner(piece)),
        Fraction(0),
    )
    return TakeoffRow(
        "corner height",
        height / measures.per_length,
        None,
        measures.length,
        "the same corner units by height, bed joints included",
    )


def _mortar(job: Job, areas: WallAreas) -> tuple[TakeoffRow, ...]:
    measures, waste = MEASURES[job.lengths], job.waste
    bed, depth = job.setting_bed, job.joints.depth
    thick = bed.mean + bed.back_butter + bed.uneven
    setting = areas.face * thick / measures.per_volume
    parts = [f"mean bed {typed_length(bed.mean, job.lengths)}"]
    if bed.back_butter:
        parts.append(
            f"{typed_length(bed.back_butter, job.lengths)} on the brick's back"
        )
    if bed.uneven:
        parts.append(f"{typed_length(bed.uneven, job.lengths)} for an uneven wall")
    pointing = areas.pointed * depth / measures.per_volume
    return (
        TakeoffRow(
            "face area",
            areas.face / measures.per_area,
            None,
            measures.area,
            "all faces, net of the opening",
        ),
        TakeoffRow(
            "setting mortar",
            setting,
            with_waste(setting, waste.setting_mortar, TENTH),
            measures.volume,
            f"{', '.join(parts)}, over the face area, "
            f"{_waste_words(waste.setting_mortar, measures.volume)}",
        ),
        TakeoffRow(
            "pointing mortar",
            pointing,
            with_waste(pointing, waste.pointing_mortar, TENTH),
            measures.volume,
            f"joints {typed_length(depth, job.lengths)} deep, "
            f"{_waste_words(waste.pointing_mortar, measures.volume)}",
        ),
    )


def _soft_joints(job: Job, areas: WallAreas) -> TakeoffRow:
    measures = MEASURES[job.lengths]
    note = "filled with sealant, no mortar"
    if areas.open_length:
        gap = float(areas.open_length / measures.per_length)
        note += f"; {gap:.2f} {measures.length} of open gap besides, not filled"
    return TakeoffRow(
        "soft joints",
        areas.soft_length / measures.per_length,
        None,
        measures.length,
        note,
    )
