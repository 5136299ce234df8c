"""Letter the notes: how the brick is cut and set, what was decided, and the cautions.

In:  `Solution`.   Out: `Notes`.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.sheets import scale_name
from shopdraw.drawing.tables import Notes
from shopdraw.job.model import Job, JointTable
from shopdraw.job.model_head import propped_on
from shopdraw.job.splayed import is_mitred
from shopdraw.job.turning import SQUARE, grown_at
from shopdraw.lengths import format_length, typed_length
from shopdraw.quantities.fabricating import sawn_tolerance
from shopdraw.quantities.schedule import Step
from shopdraw.review.cautions import Caution, choose_cautions
from shopdraw.solution import Solution
from shopdraw.views.parts.courses import lot_words
from shopdraw.views.parts.phrases import FILLS, edge_says, listed, sourced
from shopdraw.views.parts.stamps import looking_note


def caution_notes(job: Job) -> Notes:
    """Return the cautions that this job needs, each with its source."""
    return Notes(
        name="cautions",
        title="CAUTIONS",
        paragraphs=tuple(
            plain(f"{each.topic.upper()}. {each.words} {_source(each)}.")
            for each in choose_cautions(job)
        ),
    )


def _source(caution: Caution) -> str:
    said = sourced(caution.source, caution.source_status)
    return _capital(said) if said == caution.source_status else f"Source: {said}"


def ticket_legend(job: Job, scale: float, *, tells_corners: bool) -> str:
    """Return what the words and lines of the fabricator's ticket mean.

    Args:
        job: says its lengths, and whether a corner unit is made of two brick.
        scale: of the sketches.
        tells_corners: whether the corners of some mark are listed.
    """
    unit = "All lengths are in millimetres. " if job.lengths == "mm" else ""
    corners = (
        "A corner is told by how far it lies along, from the sketch's left end, and "
        "how far up, from its lower edge. "
    )
    made = " A mitred one is made of two flat brick, its legs a and b."
    return plain(
        f"{unit}Sketches are drawn at {scale_name(scale, job.scales)}; go by the "
        "figures. A line that runs past the edges of a piece is a cut. Dashed lines "
        "are the brick, or the leg, as delivered. Spares are the job's waste of the "
        "number laid, to the nearest piece: of a few there may be none. "
        f"{corners if tells_corners else ''}"
        "The cut plan and the number of cuts do not include spares: saw a spare at the "
        "same stop, from another unit. Hold at the stop what it is from: an end, to "
        "saw to length; a long edge, to saw along the brick; or the corner of a corner "
        "unit, to trim its leg. A flat mark with no stop for an end keeps the brick's "
        "full length. A slanting cut is set by its mark's angle. The cut plan counts "
        "flat brick only: a corner unit that is trimmed is sawn from a corner unit."
        f"{made if is_mitred(job) else ''}"
    )


def general_notes(solution: Solution) -> Notes:
    """Return how the brick is cut and set, and what was decided for this job."""
    job = solution.job
    paragraphs = (
        *_materials(job),
        *lot_words(solution),
        *_edges(job),
        *_setting(solution),
        looking_note(solution),
        *job.job.notes,
        *solution.coursing.reasons,
        *solution.layout.reasons,
        *(solution.hearth.layout.reasons if solution.hearth else ()),
    )
    return Notes("notes", "NOTES", tuple(plain(each) for each in paragraphs))


def _materials(job: Job) -> Iterator[str]:
    def length(value: Fraction) -> str:
        return format_length(value, job.lengths)

    brick, joints, bed = job.brick, job.joints, job.setting_bed
    if job.lengths == "mm":
        yield "Lengths are in millimetres."
    name = f", {brick.size}" if brick.size else ""
    lot = f", lot {job.job.units_lot}" if job.job.units_lot else ""
    yield (
        f"Thin brick{name}: {length(brick.length)} x {length(brick.height)} x "
        f"{length(brick.thickness)} thick{lot}. Laid in {job.bond.pattern} bond."
    )
    yield (
        f"Bed joints: {_range(job, joints.bed)}. Head joints: "
        f"{_range(job, joints.head)}. Point the joints {length(joints.depth)} deep; "
        f"profile: {joints.profile}."
    )
    yield from bottom_words(job)
    yield (
        f"Setting bed: {length(bed.least)} at the highest spot of the wall, up to "
        f"{length(bed.most)} elsewhere. It is drawn at its mean, {length(bed.mean)}."
        if bed.least != bed.most
        else f"Setting bed: {length(bed.mean)}."
    )


def bottom_words(job: Job) -> Iterator[str]:
    """Say what lies between the hearth and the first course, if anything does."""
    bottom = job.joints.bottom
    if bottom.kind != "none":
        hidden = ", covered" if bottom.hidden else ""
        least, most = (
            format_length(x, job.lengths) for x in (bottom.least, bottom.most)
        )
        yield (
            f"Bottom joint, between hearth and course 1: {FILLS[bottom.kind]}{hidden}, "
            f"{least} to {most}. It takes up the fall of the hearth."
        )


def _range(job: Job, joint: JointTable) -> str:
    wanted, least, most = (
        format_length(x, job.lengths)
        for x in (joint.preferred, joint.least, joint.most)
    )
    return f"{wanted} preferred, {least} to {most} allowed"


def _edges(job: Job) -> Iterator[str]:
    """Say what lies at each edge of the brick, edges that are alike together."""
    edges = job.edges
    said: dict[str, list[str]] = {}
    for name, edge in (
        ("left", edges.left),
        ("right", edges.right),
        ("top", edges.top),
        ("jambs", edges.jambs),
    ):
        more = MORE.get(edge.kind, "")
        words = f"{edge_says(job, edge)}{more}; brick edges {edge.shows}"
        said.setdefault(words, []).append(name)
    parts = [f"{listed(names)}: {words}" for words, names in said.items()]
    yield f"Edges of the brick. {'. '.join(_capital(part) for part in parts)}."


MORE = {"soft": ", filled with sealant, no mortar", "gap": ", left open"}
"""What else is said of an edge in the notes."""


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _grown(solution: Solution) -> str:
    """Say what the build-out adds to each face at its outside corners."""
    surround, lengths = solution.surround, solution.lengths
    build_out = format_length(surround.build_out, lengths)
    turns = sorted({surround.turn_at(fold) for fold in surround.folds}, reverse=True)
    if turns in ([], [SQUARE]):
        return f"{build_out} at each outside corner"
    parts = [
        f"{format_length(grown, lengths)} at each outside corner that turns by "
        f"{float(turn):g} degrees"
        for turn in turns
        for grown in (grown_at(surround.build_out, turn, lengths),)
    ]
    return f"{listed(parts)}; they are {build_out} thick together"


def _taken(solution: Solution) -> str:
    """Say what the build-out takes from each face at an inside corner."""
    count = len(solution.surround.alcoves)
    if not count:
        return ""
    build_out = format_length(solution.surround.build_out, solution.lengths)
    where = "at the inside corner" if count == 1 else "at each inside corner"
    return f", and take {build_out} from both faces {where}"


def _setting(solution: Solution) -> Iterator[str]:
    """Say what was measured, in which order to set the brick, and what others do."""
    job = solution.job
    measured = (
        "Widths and returns were measured to the substrate; brick and setting bed add "
        f"{_grown(solution)}{_taken(solution)} (the build-out)."
        if job.face.measured_to == "substrate"
        else "Widths and returns were measured to the finished face."
    )
    yield (
        f"{measured} All heights are from the datum. Verify all dimensions in the "
        "field before cutting."
    )
    yield from _corbel(solution)
    yield order_words(solution)
    yield _waiting(solution.schedule)
    yield (
        "Brick over the opening has no bearing of its own. The lintel behind it is by "
        "others: verify it. Adhere nothing inside the firebox."
    )
    hearth = "hearth" if solution.hearth is None else "the hearth's slab, firebrick"
    yield (
        f"Work by others: mantel and trim, gas, flue, {hearth}, lintel, and the wall "
        "finish beside the brick."
    )
    yield not_shown(job)
    tolerance = typed_length(sawn_tolerance(job), job.lengths)
    keystone = "" if job.arch.key is None else ", K keystone"
    yield (
        "Marks: the letter is the kind of piece (B brick laid flat, H header, Q "
        "closer, S soldier, R rowlock, C corner unit, SC soldier corner unit, V "
        f"voussoir{keystone}); a number after it means that the piece is sawn. A thin "
        "line is drawn just inside each sawn edge; an end without one stays as "
        "delivered. Tolerance of a sawn size: "
        f"{tolerance} either way."
    )


def _corbel(solution: Solution) -> Iterator[str]:
    """Say what a corbel's courses are adhered to, and what is measured from where."""
    out = solution.coursing.corbelled
    if not out:
        return
    nose = format_length(solution.coursing.projection, solution.job.lengths)
    yield (
        f"Courses {out[0].number} to {out[-1].number} project, up to {nose} before the "
        "finished face. The backing that they are adhered to is by others, must not "
        "burn, and is not designed here. Woodwork is measured from the finished face, "
        "not from the corbel."
    )


def order_words(solution: Solution) -> str:
    """Say in which order to set the brick.

    The order is common practice, no published source; times are the makers'.
    """
    first = "corner units first" if solution.surround.folds else "ends first"
    support = propped_on(solution.job.opening.head)
    return (
        "Order of work: lay the brick out dry. Set the legs from course 1 up, "
        f"{first}. {prop_words(solution)} Point the joints, and take the {support} "
        "away, each when the setting mortar's maker allows it; point what rested on "
        f"the {support} after that. Let the joints cure as the maker of the pointing "
        "mortar says before woodwork is fastened."
    )


def prop_words(solution: Solution) -> str:
    """Say what carries the head while it sets, and at which level."""
    head = format_length(solution.coursing.head, solution.job.lengths)
    support = propped_on(solution.job.opening.head)
    at = {"ledger": "its top", "centre": "its spring line"}[support]
    return f"Fix a temporary {support} with {at} at {head}, and set the head on it."


def _waiting(steps: tuple[Step, ...]) -> str:
    """Say what may be done from when on, naming each source of the times once."""
    by_source: dict[str, list[str]] = {}
    for step in steps:
        day = f", from {step.day}" if step.day else ""
        words = f"{step.what} {step.wait}{day}"
        by_source.setdefault(step.status, []).append(words)
    said = [f"{'; '.join(words)} ({source})" for source, words in by_source.items()]
    return f"Waiting times: {'; '.join(said)}."


def not_shown(job: Job) -> str:
    """Say what these drawings do not show."""
    parts = [
        "firebox, flue, damper and lintel",
        "fixings and blocking of woodwork",
        "floor and wall finishes beside the brick",
    ]
    if job.appliance.kind in ("factory-built", "gas"):
        parts.append("the appliance, its air openings and its controls")
    return f"Not shown here: {'; '.join(parts)}."
