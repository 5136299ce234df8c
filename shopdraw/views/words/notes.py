"""Letter the notes: how it is made and set, what was decided, what to be careful of.

In:  `Solution`.   Out: `Notes`.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.tables import Notes
from shopdraw.job.model import Job, JointTable
from shopdraw.lengths import format_length, typed_length
from shopdraw.quantities.fabricating import sawn_tolerance
from shopdraw.quantities.schedule import Step
from shopdraw.review.cautions import Caution, choose_cautions
from shopdraw.solution import Solution
from shopdraw.views.parts.courses import lot_words


def caution_notes(job: Job) -> Notes:
    """Return the cautions that this job needs, each with how it was read."""
    return Notes(
        name="cautions",
        title="CAUTIONS",
        paragraphs=tuple(
            plain(f"{caution.topic.upper()}. {caution.words} ({_read(caution)})")
            for caution in choose_cautions(job)
        ),
    )


def _read(caution: Caution) -> str:
    source, status = caution.source, caution.source_status
    return f"{source}; {status}" if source else status


def general_notes(solution: Solution) -> Notes:
    """Return how it is made and set, and what was decided."""
    job = solution.job
    paragraphs = (
        *_materials(job),
        *lot_words(solution),
        *_edges(job),
        *_setting(solution),
        *job.job.notes,
        *solution.coursing.reasons,
        *solution.layout.reasons,
    )
    return Notes("notes", "NOTES", tuple(plain(each) for each in paragraphs))


def _materials(job: Job) -> Iterator[str]:
    def length(value: Fraction) -> str:
        return format_length(value, job.lengths)

    brick, joints, bed = job.brick, job.joints, job.setting_bed
    if job.lengths == "mm":
        yield "Lengths are in millimetres."
    name = f" ({brick.size})" if brick.size else ""
    lot = f", lot {job.job.units_lot}" if job.job.units_lot else ""
    yield (
        f"Thin brick{name}: {length(brick.length)} x {length(brick.height)} x "
        f"{length(brick.thickness)} thick{lot}. {job.bond.pattern.capitalize()} bond."
    )
    yield (
        f"Bed joints {_range(job, joints.bed)}; "
        f"head joints {_range(job, joints.head)}; "
        f"pointed {length(joints.depth)} deep, {joints.profile}."
    )
    bottom = joints.bottom
    if bottom.kind != "none":
        hidden = ", hidden" if bottom.hidden else ""
        yield (
            f"Bottom joint: {bottom.kind}{hidden}, {length(bottom.least)} to "
            f"{length(bottom.most)}; it takes up the fall of the hearth."
        )
    yield (
        f"Setting bed {length(bed.least)} over the highest spot of the wall to "
        f"{length(bed.most)}; drawn at the mean, {length(bed.mean)}."
        if bed.least != bed.most
        else f"Setting bed {length(bed.mean)}."
    )


def _range(job: Job, joint: JointTable) -> str:
    least, most = joint.least, joint.most
    return (
        f"{format_length(joint.preferred, job.lengths)} "
        f"({format_length(least, job.lengths)} to {format_length(most, job.lengths)})"
    )


def _edges(job: Job) -> Iterator[str]:
    """Say what lies at each edge, edges that are alike together."""
    edges = job.edges
    said: dict[str, list[str]] = {}
    for name, edge in (
        ("left", edges.left),
        ("right", edges.right),
        ("top", edges.top),
        ("jambs", edges.jambs),
    ):
        width = f" {format_length(edge.width, job.lengths)}" if edge.width else ""
        words = f"{EDGE_SAYS[edge.kind].format(width)}, ends {edge.shows}"
        said.setdefault(words, []).append(name)
    parts = [f"{', '.join(names)}: {words}" for words, names in said.items()]
    yield f"Edges. {'. '.join(_capital(part) for part in parts)}."


EDGE_SAYS: dict[str, str] = {
    "bare": "bare{}",
    "mortar": "mortar joint{}",
    "soft": "soft joint{}, sealant and no mortar",
    "gap": "gap{}, left open",
}
"""What is said of an edge; the braces take its width."""


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _setting(solution: Solution) -> Iterator[str]:
    """Say what was measured, in which order it is set, and what is left to others.

    The order is common practice, no published source; times are the makers'.
    """
    job = solution.job
    head = format_length(solution.coursing.head, job.lengths)
    measured = (
        "Widths and returns were measured to the substrate; each outside corner grows "
        f"by the build-out, {format_length(solution.surround.build_out, job.lengths)}."
        if job.face.measured_to == "substrate"
        else "Widths and returns were measured to the finished face."
    )
    yield f"{measured} Heights are from the datum. Verify in field before cutting."
    first = "corner units first" if solution.surround.folds else "ends first"
    yield (
        f"Order: lay out dry; set the legs from course 1, {first}; fix a temporary "
        f"ledger with its top at {head}; set the head on it; strike the ledger when "
        "the setting mortar's maker allows; wait as that maker says, then point; let "
        "the joints cure as the pointing mortar's maker says before woodwork is fixed."
    )
    yield f"Waiting: {'; '.join(map(_wait_words, solution.schedule))}."
    yield (
        "Units over the opening have no bearing of their own: the lintel behind is by "
        "others, to be verified. Nothing is adhered inside the firebox."
    )
    yield "By others: mantel and trim, gas, flue, hearth, lintel, wall finish beside."
    yield not_shown(job)
    tolerance = typed_length(sawn_tolerance(job), job.lengths)
    yield (
        "Marks: a letter for the kind (B brick laid flat, S soldier, R rowlock, C "
        "corner unit, SC soldier corner unit, V voussoir), a number where it is sawn. "
        "A thin line lies inside each sawn edge; the other end stays as delivered. "
        "Tolerance of a sawn size: "
        f"{tolerance} either way."
    )


def _wait_words(step: Step) -> str:
    """Say what may be done, from when on, and who says so."""
    day = f", from {step.day}" if step.day else ""
    return f"{step.what} {step.wait}{day} ({step.status})"


def not_shown(job: Job) -> str:
    """Say what these drawings leave out."""
    parts = [
        "firebox, flue, damper and lintel",
        "fixings and blocking of woodwork",
        "floor and wall finishes beside the brick",
    ]
    if job.appliance.kind in ("factory-built", "gas"):
        parts.append("the appliance, its air openings and its controls")
    return f"Not shown: {'; '.join(parts)}."
