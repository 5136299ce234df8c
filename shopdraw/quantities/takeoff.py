"""Count what to buy, from the pieces that were drawn.

In:  `Job`, `Surround`, `Coursing`, `Layout`, `CutPlan`.   Out: `Takeoff`.
Frame: counts, areas in sq ft or m2, volumes in cu ft or litres.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from shopdraw.job.model import Job
from shopdraw.job.model_around import WasteRule
from shopdraw.lengths import format_length, format_made, taped_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import CORNER_KINDS, Layout, Piece
from shopdraw.quantities.backing import list_backing
from shopdraw.quantities.cutting import KEYSTONE, CutPlan, of_brick
from shopdraw.quantities.hearth import (
    HearthAreas,
    measure_hearth,
    named_areas,
    with_hearth,
)
from shopdraw.quantities.joints import WallAreas, measure_wall, panel_areas
from shopdraw.quantities.measures import MEASURES, TakeoffRow
from shopdraw.quantities.money import exactly, format_hundredths
from shopdraw.quantities.ordering import count_of, is_corner, is_flat, order_units
from shopdraw.quantities.waste import waste_words, with_waste

TENTH = Fraction(1, 10)
SPACERS = 2
"""How many spacers a piece takes; common practice, no published source."""
EXACT = Fraction(1, 10**6)
"""The step that waste is rounded up to before whole bags are counted."""
PACKS = {
    "flat units": ("flats", "boxes"),
    "corner units": ("corners", "boxes"),
    "setting mortar": ("setting_mortar", "bags"),
    "pointing mortar": ("pointing_mortar", "bags"),
}
"""For each item the key of its pack in the job, and what the pack is called."""


@dataclass(frozen=True)
class Takeoff:
    """What to buy, item by item."""

    rows: tuple[TakeoffRow, ...]

    @property
    def on_paper(self) -> tuple[TakeoffRow, ...]:
        """The rows that say something: a program may want a zero, a person does not."""
        return tuple(row for row in self.rows if row.says_something)

    def row(self, item: str) -> TakeoffRow:
        """Return the row of that item; KeyError where there is none."""
        for row in self.rows:
            if row.item == item:
                return row
        raise KeyError(item)


def take_off(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    layout: Layout,
    plan: CutPlan,
    hearth: BrickHearth | None = None,
) -> Takeoff:
    """Count the pieces, measure the mortar, and list what else the work needs.

    Args:
        job: what was asked.
        surround: the faces.
        coursing: their courses.
        layout: what is laid on them.
        plan: what is sawn, of the hearth's pieces too.
        hearth: the hearth laid in brick; None where the job has none.
    """
    areas = measure_wall(job, surround, coursing, layout)
    laid, corners = layout.pieces, _corner_heights(coursing, layout.pieces)
    on_hearth = None
    if hearth is not None:
        on_hearth = measure_hearth(hearth)
        laid = (*laid, *hearth.layout.pieces)
        if hearth.riser is not None:
            corners += _corner_heights(hearth.riser.coursing, hearth.layout.pieces)
        areas = with_hearth(areas, on_hearth)
    rows = (
        *_units(job, of_brick(laid), plan),
        *((_corner_height(job, corners),) if _may_be_bought(laid) else ()),
        *(
            TakeoffRow(
                item,
                area / MEASURES[job.lengths].per_area,
                None,
                MEASURES[job.lengths].area,
                words,
            )
            for item, area, words in (*panel_areas(layout), *named_areas(on_hearth))
        ),
        *_mortar(job, areas, hearth, on_hearth),
        _soft_joints(job, areas),
        _by_area(job, areas, has_corners=any(x.kind in CORNER_KINDS for x in laid)),
        *_besides(job, surround, areas, layout, laid),
        *list_backing(job, surround, coursing),
    )
    packed = tuple(_packed(job, rows))
    return Takeoff((*rows, *packed, *_prices(job, rows, packed)))


def _by_area(job: Job, areas: WallAreas, *, has_corners: bool) -> TakeoffRow:
    """Count the units as the handbooks do, by area, to compare with the pieces.

    A module is a unit and its joints: 144 / ((L + j) (H + j)) to the square foot, as
    in the worked example of NAVEDTRA 14045 and in the industry's tables.
    """
    measures, joints = MEASURES[job.lengths], job.joints
    module = (job.brick.length + joints.head.preferred) * (
        job.brick.height + joints.bed.preferred
    )
    each = measures.per_area / module
    corners = ", a corner unit counted once on each face" if has_corners else ""
    return TakeoffRow(
        "units by area",
        areas.face / module,
        None,
        "units",
        f"only to compare: {float(each):.2f} to a {measures.area}{corners}; "
        "the order goes by the pieces drawn",
    )


def _besides(
    job: Job,
    surround: Surround,
    areas: WallAreas,
    layout: Layout,
    laid: tuple[Piece, ...],
) -> Iterator[TakeoffRow]:
    """List what the work needs besides brick and mortar."""
    measures, order = MEASURES[job.lengths], job.order
    area = areas.face / measures.per_area
    mitred = count_of(piece for piece in laid if "mitre" in piece.cut_edges)
    if mitred:
        words = "among the cut units: two to each corner that can't be bought as one"
        yield TakeoffRow("mitred units", mitred, None, "pieces", words, int(mitred))
    if layout.arch is not None and layout.arch.keystone is not None:
        yield TakeoffRow("keystone", Fraction(1), None, "pieces", KEYSTONE)
    if layout.arch is None:
        opening = surround.opening
        clear = (opening.brick_right - opening.brick_left) / measures.per_length
        words = "spans the opening on props until the mortar maker's time is up"
        yield TakeoffRow("ledger timber", clear, None, measures.length, words)
    if areas.soft_length:
        length = areas.soft_length / measures.per_length
        words = "behind the sealant of the soft joints; rated for the heat there"
        yield TakeoffRow("joint backing", length, None, measures.length, words)
    for wanted, item, words in (
        (order.board, "board", "over the wall as found; joints taped"),
        (order.primer, "primer", "as the setting mortar's maker says"),
        (order.sealer, "sealer", "over the finished faces, joints included"),
    ):
        if wanted:
            yield TakeoffRow(item, area, None, measures.area, words)
    if job.stripping is not None and job.stripping.patching is not None:
        words = "of the wall, made good after the old work is off, as typed"
        patching = exactly(job.stripping.patching)
        yield TakeoffRow("patching", patching, None, measures.area, words)
    if order.spacers:
        count = SPACERS * count_of(laid)
        words = f"{SPACERS} to a piece; they are used again once the bed has taken hold"
        yield TakeoffRow("spacers", count, None, "pieces", words)


def _prices(
    job: Job, rows: tuple[TakeoffRow, ...], packed: tuple[TakeoffRow, ...]
) -> Iterator[TakeoffRow]:
    """Price what is ordered, by the pack where there is one, as far as prices go."""
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
    if any(key in priced for key, _ in PACKS.values()):
        words = "for all that has a price"
        if missing:
            words += f"; no price is given for {', '.join(missing)}"
        yield TakeoffRow("price", total, None, job.prices.currency or "money", words)


def _packed(job: Job, rows: tuple[TakeoffRow, ...]) -> Iterator[TakeoffRow]:
    """Count boxes and bags where the job says what one holds, rounded up once."""
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
        spare = format_hundredths(packs * holds - wanted)
        note = f"each holds {float(holds):g} {row.measure}; {spare} more than ordered"
        yield TakeoffRow(f"{row.item}, {name}", net, packs, name, note)
        by_pallet = job.packs.pallet
        if name == "boxes" and by_pallet is not None:
            pallets = Fraction(ceil(packs / by_pallet))
            note = f"each holds {by_pallet} boxes"
            item = f"{row.item}, pallets"
            yield TakeoffRow(item, packs / by_pallet, pallets, "pallets", note)


def _units(
    job: Job, pieces: tuple[Piece, ...], plan: CutPlan
) -> tuple[TakeoffRow, ...]:
    """Count the units: whole and cut ones come out of one box, corner units apart.

    Laid and net, whole, cut, corner and mitred corner units come to all units.
    """
    ordered = order_units(job, pieces, plan)
    flats = [piece for piece in pieces if is_flat(piece)]
    made = sum(piece.is_made for piece in pieces)
    cut = sum(piece.is_cut for piece in flats)
    whole, sawn = len(flats) - cut, plan.whole_units
    corners = len(pieces) - len(flats) - made
    soldier = sum(piece.kind == "soldier corner unit" for piece in pieces)
    corner_note = _assumed_legs(job) if corners else ""
    corner_note += waste_words(job.waste.corners, "pieces")
    if soldier:
        more = ordered.soldier_corners
        corner_note += f"; soldier corner units among them: {soldier}, order {more}"
    bound = "no plan needs fewer"
    if not plan.is_proved:
        bound = f"any plan needs at least {plan.least}"
    words = f"sawn from {sawn} whole unit{'' if sawn == 1 else 's'}; {bound}"
    if made:
        words += f"; the legs of {made} mitred corner units are sawn from these too"
    made_note = "none to buy: two legs each, sawn from flat units counted with the cut"
    stands = any(piece.kind == "rowlock" for piece in pieces)
    if stands and job.courses.rowlock_height is None:
        width = format_length(job.rowlock_height, job.lengths)
        words += f"; rowlocks taken {width} high, the width of the brick"
    waste = waste_words(job.waste.flats, "pieces")
    together = "order them all at once, from one lot; each item is rounded up once"
    flat_note = f"{whole} to lay whole, {sawn} to saw; {waste}"

    def row(
        item: str, laid: int, net: int, order: Fraction | None, note: str
    ) -> TakeoffRow:
        return TakeoffRow(item, Fraction(net), order, "pieces", note, laid)

    return (
        row("whole units", whole, whole, None, "laid as delivered"),
        row("cut units", cut, sawn, None, words),
        row("flat units", len(flats), whole + sawn, ordered.flats, flat_note),
        *(
            (row("corner units", corners, corners, ordered.corners, corner_note),)
            if _may_be_bought(pieces)
            else ()
        ),
        *((row("mitred corner units", made, 0, None, made_note),) if made else ()),
        row(
            "all units",
            len(pieces),
            whole + sawn + corners,
            ordered.flats + ordered.corners,
            together,
        ),
    )


def _may_be_bought(pieces: tuple[Piece, ...]) -> bool:
    """Whether corner units are to be bought; not where each is made of two brick."""
    made = any(piece.is_made for piece in pieces)
    return not made or any(is_corner(piece) for piece in pieces)


def _assumed_legs(job: Job) -> str:
    """Say what legs a corner unit is taken to have, where the job does not say."""
    corner = job.brick.corner
    if corner is None or not job.has_assumed("brick.corner"):
        return ""
    legs = (format_made(x, job.lengths) for x in (corner.long_leg, corner.short_leg))
    return f"legs assumed, {' and '.join(legs)}: measure one before you order; "


def _corner_heights(coursing: Coursing, pieces: tuple[Piece, ...]) -> Fraction:
    """Measure the height of corner that the corner units make, bed joints included."""
    below = {course.number: course.bed_joint for course in coursing.courses}
    return sum(
        (piece.height + below[piece.course] for piece in pieces if is_corner(piece)),
        Fraction(0),
    )


def _corner_height(job: Job, height: Fraction) -> TakeoffRow:
    measures = MEASURES[job.lengths]
    return TakeoffRow(
        "corner height",
        height / measures.per_length,
        None,
        measures.length,
        "what the corner units come to in height, bed joints included",
    )


def _mortar(
    job: Job,
    areas: WallAreas,
    hearth: BrickHearth | None,
    on_hearth: HearthAreas | None,
) -> tuple[TakeoffRow, ...]:
    measures, waste = MEASURES[job.lengths], job.waste
    bed, depth = job.setting_bed, job.joints.depth
    thick = bed.mean + bed.back_butter + bed.uneven
    volume = areas.face * thick
    parts = [f"a mean bed of {taped_length(bed.mean, job.lengths)}"]
    if bed.back_butter:
        parts.append(
            f"{taped_length(bed.back_butter, job.lengths)} on the brick's back"
        )
    if bed.uneven:
        parts.append(f"{taped_length(bed.uneven, job.lengths)} for an uneven wall")
    if hearth is not None and on_hearth is not None:
        flat = hearth.ground.bed
        volume += on_hearth.top * (flat - bed.mean)
        parts.append(f"{taped_length(flat, job.lengths)} under the hearth's brick")
    setting = volume / measures.per_volume
    pointing = areas.pointed * depth / measures.per_volume
    return (
        TakeoffRow(
            "face area",
            areas.face / measures.per_area,
            None,
            measures.area,
            f"all faces, less the opening{', and the hearth' if hearth else ''}",
        ),
        TakeoffRow(
            "setting mortar",
            setting,
            with_waste(setting, waste.setting_mortar, TENTH),
            measures.volume,
            f"{', '.join(parts)}, over the face area; "
            f"{waste_words(waste.setting_mortar, measures.volume)}",
        ),
        TakeoffRow(
            "pointing mortar",
            pointing,
            with_waste(pointing, waste.pointing_mortar, TENTH),
            measures.volume,
            f"joints pointed {taped_length(depth, job.lengths)} deep; "
            f"{waste_words(waste.pointing_mortar, measures.volume)}",
        ),
    )


def _soft_joints(job: Job, areas: WallAreas) -> TakeoffRow:
    measures = MEASURES[job.lengths]
    note = "filled with sealant, not with mortar"
    if areas.open_length:
        gap = f"{float(areas.open_length / measures.per_length):.2f} {measures.length}"
        note += f"; another {gap} of gap is left open"
        if not areas.soft_length:
            note = f"none to fill with sealant: {gap} of gap is left open"
    return TakeoffRow(
        "soft joints",
        areas.soft_length / measures.per_length,
        None,
        measures.length,
        note,
        answers=bool(areas.open_length),
    )
