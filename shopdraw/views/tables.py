"""Make the tables and the notes, once, for sheets and files alike.

In:  the parts of a solution.   Out: `Table`s and `Notes`.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.tables import Column, Notes, Table
from shopdraw.job.model import EdgeTable, Job, JointTable
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing import Coursing
from shopdraw.masonry.layout import CutListRow, Layout
from shopdraw.masonry.surround import Surround
from shopdraw.quantities.takeoff import Takeoff, TakeoffRow
from shopdraw.review.cautions import choose_cautions
from shopdraw.review.findings import Finding, in_words
from shopdraw.views.units import TYPE_STATES


def coursing_table(job: Job, coursing: Coursing) -> Table:
    """Return every course with its joint and its levels from the datum."""
    return Table(
        name="coursing",
        title="COURSING, FROM THE DATUM",
        columns=(
            Column("COURSE", "right"),
            Column("KIND"),
            Column("BED JOINT", "right"),
            Column("BOTTOM", "right"),
            Column("TOP", "right"),
        ),
        rows=tuple(
            (
                str(course.number),
                course.kind,
                format_length(course.bed_joint, job.lengths),
                format_length(course.bottom, job.lengths),
                format_length(course.top, job.lengths),
            )
            for course in coursing.courses
        ),
    )


def cut_list_table(job: Job, cut_list: tuple[CutListRow, ...]) -> Table:
    """Return every mark with its size and how many there are."""
    return Table(
        name="cut-list",
        title="CUT LIST",
        columns=(
            Column("MARK"),
            Column("KIND"),
            Column("LENGTH", "right"),
            Column("HEIGHT", "right"),
            Column("LEGS, OUTSIDE"),
            Column("COUNT", "right"),
            Column("NOTE"),
        ),
        rows=tuple(
            (
                row.mark,
                f"{TYPE_STATES[row.is_cut, row.is_trimmed].lower()}{row.kind}",
                format_length(row.length, job.lengths),
                format_length(row.height, job.lengths),
                " x ".join(format_length(leg, job.lengths) for leg in row.legs),
                str(row.count),
                row.note,
            )
            for row in cut_list
        ),
    )


def takeoff_table(job: Job, takeoff: Takeoff) -> Table:
    """Return what to buy."""
    return Table(
        name="takeoff",
        title=f"TAKEOFF: {plain(job.job.name).upper()}",
        columns=(
            Column("ITEM"),
            Column("NET", "right"),
            Column("ORDER", "right"),
            Column("MEASURE"),
            Column("HOW RECKONED"),
        ),
        rows=tuple(
            (row.item, _net(row), _figure(row.order), row.measure, row.note)
            for row in takeoff.rows
        ),
    )


def _net(row: TakeoffRow) -> str:
    return _figure(row.net) if row.measure == "pieces" else f"{float(row.net):.2f}"


def _figure(value: Fraction | None) -> str:
    return "" if value is None else f"{float(value):g}"


def findings_table(job: Job, findings: tuple[Finding, ...]) -> Table:
    """Return what was reviewed: measured, limit, margin, status, source."""

    def length(value: Fraction | None, *, up: bool = False) -> str:
        return "" if value is None else in_words(value, job.lengths, up=up)

    return Table(
        name="findings",
        title="FINDINGS (NOT CHECKED IS NOT AN APPROVAL)",
        columns=(
            Column("RULE"),
            Column("STATUS"),
            Column("MEASURED", "right"),
            Column("LIMIT", "right"),
            Column("MARGIN", "right"),
            Column("SOURCE AND HOW IT WAS READ"),
            Column("FROM WHERE TO WHERE, OR WHAT TO FIND OUT"),
        ),
        rows=tuple(
            (
                plain(finding.rule),
                finding.status.upper(),
                length(finding.measured),
                length(finding.limit),
                length(finding.margin),
                plain(_source(finding)),
                plain(finding.says),
            )
            for finding in findings
        ),
    )


def _source(finding: Finding) -> str:
    if not finding.source:
        return finding.source_status
    return f"{finding.source} ({finding.source_status})"


def caution_notes(job: Job) -> Notes:
    """Return the cautions that this job needs, each with how it was read."""
    return Notes(
        name="cautions",
        title="CAUTIONS",
        paragraphs=tuple(
            plain(
                f"{x.topic[0].upper()}{x.topic[1:]}: {x.words} ({_caution_source(x)})"
            )
            for x in choose_cautions(job)
        ),
    )


def _caution_source(caution: object) -> str:
    source = str(getattr(caution, "source", ""))
    status = str(getattr(caution, "source_status", ""))
    return source if source == status else f"{source}; {status}"


def general_notes(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout
) -> Notes:
    """Return how it is made and set, and what was decided."""
    paragraphs = (
        *_materials(job),
        *_setting(job, surround, coursing),
        *(plain(note) for note in job.job.notes),
        *coursing.reasons,
        *layout.reasons,
    )
    return Notes(name="notes", title="NOTES", paragraphs=paragraphs)


def _materials(job: Job) -> Iterator[str]:
    def length(value: Fraction) -> str:
        return format_length(value, job.lengths)

    brick, joints = job.brick, job.joints
    name = f" ({plain(brick.size)})" if brick.size else ""
    lot = f", lot {plain(job.job.units_lot)}" if job.job.units_lot else ""
    yield (
        f"Thin brick{name}: {length(brick.length)} x {length(brick.height)} x "
        f"{length(brick.thickness)} thick{lot}. {job.bond.pattern.capitalize()} bond."
    )
    yield (
        f"Bed joints {_range(job, joints.bed)}; "
        f"head joints {_range(job, joints.head)}; "
        f"pointed {length(joints.depth)} deep, {plain(joints.profile)}."
    )
    bottom = joints.bottom
    hidden = ", hidden" if bottom.hidden else ""
    yield (
        f"Bottom joint: {bottom.kind}{hidden}, {length(bottom.least)} to "
        f"{length(bottom.most)}; it takes up the fall of the hearth."
    )
    bed = job.setting_bed
    yield (
        f"Setting bed {length(bed.least)} over the highest spot of the wall to "
        f"{length(bed.most)}; drawn at the mean, {length(bed.mean)}."
    )
    yield from _edges(job)


def _range(job: Job, joint: JointTable) -> str:
    least, most = joint.least, joint.most
    return (
        f"{format_length(joint.preferred, job.lengths)} "
        f"({format_length(least, job.lengths)} to {format_length(most, job.lengths)})"
    )


def _edges(job: Job) -> Iterator[str]:
    names = {"left": "left", "right": "right", "top": "top", "jambs": "jambs"}
    said: dict[str, list[str]] = {}
    for key, name in names.items():
        edge: EdgeTable = getattr(job.edges, key)
        width = f", {format_length(edge.width, job.lengths)}" if edge.width else ""
        said.setdefault(f"{edge.kind}{width}, ends {edge.shows}", []).append(name)
    for words, which in said.items():
        yield f"Edge, {' and '.join(which)}: {words}."


def _setting(job: Job, surround: Surround, coursing: Coursing) -> Iterator[str]:
    head = format_length(coursing.head, job.lengths)
    measured = (
        "Widths and returns were measured to the substrate; each outside corner grows "
        f"by the build-out, {format_length(surround.build_out, job.lengths)}."
        if job.face.measured_to == "substrate"
        else "Widths and returns were measured to the finished face."
    )
    yield f"{measured} Heights are from the datum. Verify in field before cutting."
    yield (
        f"Order: lay out dry; set the legs from course 1, corner units first; fix a "
        f"temporary ledger with its top at {head}; set the head on it; leave it until "
        "the setting mortar's maker allows; wait as that maker says, then point; let "
        "the joints cure as the pointing mortar's maker says before woodwork is fixed."
    )
    yield (
        "Units over the opening have no bearing of their own: the lintel behind is by "
        "others, to be verified. Nothing is adhered inside the firebox."
    )
    yield "By others: mantel and trim, gas, flue, hearth, lintel, wall finish beside."
    yield (
        "Marks: a letter for the kind (B brick laid flat, S soldier, C corner unit), a "
        "number where it is sawn. A red line lies inside each sawn edge; the other end "
        "stays as delivered. Tolerance of a sawn size: half a joint step."
    )
