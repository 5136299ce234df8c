"""List what to bring to the site, each thing with the figure that it comes from.

In:  `Solution`'s parts.   Out: `Thing`s, by what they are for.
Frame: lengths as a tape shows them; volumes by the takeoff's measures, or small ones.

A figure that nobody gave is an empty place to fill in by hand.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from shopdraw.job.model import Job
from shopdraw.lengths import Lengths, format_length, taped_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.marks.templates import turning_piece
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout, Piece
from shopdraw.quantities.hearth import measure_hearth, with_hearth
from shopdraw.quantities.joints import EdgeJoint, measure_wall
from shopdraw.quantities.measures import MEASURES, TakeoffRow
from shopdraw.quantities.money import format_hundredths
from shopdraw.quantities.takeoff import PACKS, SPACERS, Takeoff

BY_HAND = ""
"""Of an amount: nobody gave the figure that it takes."""
SMALL: dict[Lengths, tuple[str, Fraction]] = {
    "in": ("cu in", Fraction(1)), "mm": ("ml", Fraction(1000)),
}  # fmt: skip
"""What a little sealant is measured in, and how many cubed lengths make one."""

ONE = {"boxes": "box", "bags": "bag", "tubes": "tube"}
"""What one of a pack is called."""


@dataclass(frozen=True)
class Thing:
    """One thing to bring.

    Attributes:
        what: it is.
        amount: how much, or how many; empty where it is to be filled in by hand.
        why: the figure that it comes from.
    """

    what: str
    amount: str
    why: str


@dataclass(frozen=True)
class Load:
    """What to bring, of one kind: "brick and mortar", "props and ledger"."""

    name: str
    things: tuple[Thing, ...]


def list_to_bring(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    layout: Layout,
    takeoff: Takeoff,
    hearth: BrickHearth | None,
) -> tuple[Load, ...]:
    """List what to bring, from what is laid, bought and pointed."""
    laid = (*layout.pieces, *(hearth.layout.pieces if hearth else ()))
    areas = measure_wall(job, surround, coursing, layout)
    if hearth is not None:
        areas = with_hearth(areas, measure_hearth(hearth))
    return (
        Load("Brick and mortar", tuple(_bought(takeoff))),
        Load("Joints of sealant", tuple(_sealant(job, areas.soft))),
        Load("To carry the head", tuple(_props(job, surround, coursing, layout))),
        Load("To set and to point", tuple(_to_set(job, coursing, laid))),
        Load("To saw", tuple(_to_saw(job, laid))),
    )


def _bought(takeoff: Takeoff) -> Iterator[Thing]:
    """Yield brick and mortar by the pack, or by count and volume, with a blank."""
    rows = {row.item: row for row in takeoff.rows}
    for item, (_, pack) in PACKS.items():
        row = rows.get(item)
        if row is None or not row.order:
            continue
        packed = rows.get(f"{item}, {pack}")
        net = f"{format_hundredths(row.net)} {row.measure} net, {_waste(row)}"
        order = f"{format_hundredths(row.order)} {row.measure}"
        if packed is not None and packed.order is not None:
            # Bags are reckoned from what is net, not from the order rounded up.
            why = net if pack == "bags" else f"{net}: {order}"
            why += f"; {_holds(packed.note, pack)}"
            yield Thing(item, _count(packed.order, pack), why)
        elif pack == "bags":
            why = f"{net}: {order}, rounded up; what a bag makes is not given"
            yield Thing(f"{item}, {pack}", BY_HAND, why)
        else:
            yield Thing(item, order, net)
    for item in ("keystone", "board", "primer", "sealer"):
        if item in rows:
            row = rows[item]
            measure = f" {row.measure}" if row.measure != "pieces" else ""
            yield Thing(item, f"{format_hundredths(row.net)}{measure}", row.note)


def _waste(row: TakeoffRow) -> str:
    """Return what the takeoff says of the waste in an order."""
    said = [part for part in row.note.split("; ") if "waste" in part]
    return said[-1] if said else "no waste added"


def _holds(note: str, pack: str) -> str:
    """Return what the takeoff says that one pack holds: "a box holds 40 pieces"."""
    held = note.partition(";")[0].removeprefix("each holds ")
    return f"a {ONE[pack]} {'makes' if pack == 'bags' else 'holds'} {held}"


def _count(number: Fraction, many: str) -> str:
    return f"{int(number)} {ONE[many] if number == 1 else many}"


def _sealant(job: Job, soft: tuple[EdgeJoint, ...]) -> Iterator[Thing]:
    """Yield sealant in tubes by the true volume of its joints, and what backs it."""
    if not soft:
        return
    measure, each = SMALL[job.lengths]
    depth, tube = job.joints.depth, job.packs.sealant
    volume = sum((joint.area for joint in soft), Fraction(0)) * depth
    said = f"{format_hundredths(volume / each)} {measure}"
    joints = "; ".join(
        f"{_long(job, length)} of {taped_length(width, job.lengths)}"
        for width, length in _by_width(soft)
    )
    why = f"{said}: {joints} wide, {taped_length(depth, job.lengths)} deep as pointed"
    if tube is None:
        why += "; what a tube holds is not given"
        yield Thing("sealant, tubes", BY_HAND, why)
    else:
        tubes = Fraction(ceil(volume / tube))
        holds = f"{format_hundredths(tube / each)} {measure}"
        why += f"; a tube holds {holds}; no waste added"
        yield Thing("sealant", _count(tubes, "tubes"), why)
    for width, length in _by_width(soft):
        why = "behind the sealant, thicker than the joint is wide; rated for the heat"
        what = f"joint backing for {taped_length(width, job.lengths)}"
        yield Thing(what, _long(job, length), why)


def _by_width(soft: tuple[EdgeJoint, ...]) -> list[tuple[Fraction, Fraction]]:
    """Return the widths of joints, each with the length of all that are so wide."""
    widths = sorted({joint.width for joint in soft})
    return [
        (width, sum((x.length for x in soft if x.width == width), Fraction(0)))
        for width in widths
    ]


def _long(job: Job, length: Fraction) -> str:
    measures = MEASURES[job.lengths]
    return f"{format_hundredths(length / measures.per_length)} {measures.length}"


def _props(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout
) -> Iterator[Thing]:
    """Yield what carries the head until its mortar does: ledger or centre, and props.

    A prop stands on the hearth at a jamb, below the ledger or the centre's foot.
    """

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    opening, arch = surround.opening, layout.arch
    wide = opening.brick_right - opening.brick_left
    props: tuple[Fraction, ...] = ()
    if arch is None:
        level, timber = coursing.head, job.order.ledger
        on = f"its top at {say(level)}, the underside of the head"
        yield Thing("ledger timber", f"1, {say(wide)} long", on)
    else:
        level, timber = arch.spring, None
        made = f"span {say(arch.span)}, rise {say(arch.rise)}"
        why = "the templates at full size are on pages of their own"
        yield Thing(f"turning piece, {made}", "1", why)
        piece = turning_piece(job, surround, arch)
        board, wedges = (say(Fraction(x)) for x in (piece.board, piece.wedges))
        carried = f"less {board} of turning piece and {wedges} of wedges"
        props = piece.props
    hearth = surround.as_built.hearth
    for place, (side, x) in enumerate(
        (("left", opening.left), ("right", opening.right))
    ):
        foot = hearth.at(x)
        high = level - foot
        below = "" if not foot else f", and the hearth {say(-foot)} below the datum"
        what = f"prop at the {side} jamb"
        if props:
            why = f"{say(high)} from the hearth there, {carried}"
            yield Thing(what, f"cut to {say(props[place])}", why)
        elif timber is not None and high > timber:
            why = f"{say(level)} less the ledger's {say(timber)}{below}; less its wedge"
            yield Thing(what, f"cut to {say(high - timber)}", why)
        else:
            carried = "less the ledger's timber and a wedge"
            why = f"{say(high)} from the hearth there, {carried}"
            yield Thing(f"{what}, cut to", BY_HAND, why)


def _to_set(job: Job, coursing: Coursing, laid: tuple[Piece, ...]) -> Iterator[Thing]:
    """Yield what brick is set out, spaced and pointed with."""
    joints, bed = job.joints, job.setting_bed

    def say(length: Fraction) -> str:
        return taped_length(length, job.lengths)

    def between(least: Fraction, most: Fraction) -> str:
        return say(least) + (f" to {say(most)}" if least != most else "")

    # A bed joint that was solved may be far from the preferred one.
    known = [x.bed_joint for x in coursing.courses[1:] if not x.is_joint_reckoned]
    beds = known or [joints.bed.preferred]
    bedded = between(min(beds), max(beds))
    headed = between(joints.head.least, joints.head.most)
    why = (
        f"bed joints are {bedded}, head joints may be {headed}; {SPACERS} to each of "
        f"{len(laid)} pieces: common practice"
    )
    yield Thing("spacers, wedges", str(SPACERS * len(laid)), why)
    yield Thing("story pole and rods", "printed", "at full size: hold a rule to them")
    why = f"a mean bed of {say(bed.mean)}"
    if bed.least != bed.most:
        why += f", from {say(bed.least)} to {say(bed.most)}"
    yield Thing("notched trowel, margin trowel, straightedge, level", "1 each", why)
    why = f"{joints.profile} joints; bed joints are {bedded}"
    yield Thing("jointer", "1", why)
    why = f"joints pointed {say(joints.depth)} deep"
    yield Thing("pointing bag, tuck pointer, sponges, two buckets", "1 each", why)
    why = "floor, hearth, woodwork and the wall along the edges of the brick"
    yield Thing("masking tape, sheets, boards for the floor", BY_HAND, why)


def _to_saw(job: Job, laid: tuple[Piece, ...]) -> Iterator[Thing]:
    """Yield the saw and what guards whoever saws."""
    sawn = sum(x.is_cut or x.is_trimmed or x.is_made for x in laid)
    kerf = taped_length(job.saw.kerf, job.lengths)
    why = f"{sawn} sawn pieces on the wall; a kerf of {kerf}"
    yield Thing("wet saw with its guard and water feed, a blade", "1", why)
    why = "a handheld saw indoors, even wet; outdoors beyond 4 hours"
    yield Thing("respirator, APF 10", BY_HAND, why)
    why = "common practice, no published source"
    yield Thing("eye and ear protection, waterproof gloves, knee pads", BY_HAND, why)
