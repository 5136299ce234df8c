"""Write the report of a job, in words and tables, for a terminal.

In:  `Solution`.   Out: text.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from shopdraw.job.model import Job
from shopdraw.lengths import (
    format_length,
    format_made,
    rounded,
    typed_length,
)
from shopdraw.masonry.coursing.form import Doubt
from shopdraw.masonry.wall.bond_rules import GivenUp
from shopdraw.masonry.wall.layout import CutListRow
from shopdraw.quantities.cutting import CutPlan
from shopdraw.quantities.money import format_money
from shopdraw.quantities.takeoff import Takeoff
from shopdraw.review.findings import in_words
from shopdraw.solution import Solution
from shopdraw.views.parts.courses import (
    course_kind,
    further_columns,
    laid_words,
    level_words,
    lot_words,
)
from shopdraw.views.parts.phrases import sourced
from shopdraw.views.words.patterns import riser_table

if TYPE_CHECKING:
    from shopdraw.drawing.tables import Table

Rows = list[tuple[str, ...]]
DECIDED = "What was decided, and why"


def write_report(solution: Solution) -> str:
    """Return the report: coursing, targets, decisions, cuts, findings, quantities."""
    lines = [
        *_coursing(solution),
        *_targets(solution),
        *listed(DECIDED, (*solution.coursing.reasons, *solution.layout.reasons)),
        *_given_up(solution),
        *_hearth(solution),
        *listed("Brick as measured", tuple(lot_words(solution))),
        *_ways_out(solution),
        *_cuts(solution),
        *_cut_plan(solution.job, solution.cut_plan),
        *listed("Widths with fewer cuts", solution.layout.ways_out),
        *_findings(solution),
        *_takeoff(solution.takeoff),
        *_estimate(solution),
    ]
    return "\n".join(lines) + "\n"


def _hearth(solution: Solution) -> Iterator[str]:
    """Say what was decided of a hearth of brick, and how its riser is coursed."""
    hearth = solution.hearth
    if hearth is None:
        return
    yield from listed("Hearth of brick", hearth.layout.reasons)
    if hearth.riser is not None:
        table = riser_table(solution.job, hearth.riser)
        yield "Course list of the riser, from the floor:"
        heads = tuple(column.head.lower() for column in table.columns)
        yield from columns([heads, *table.rows], (0, 2, 3, 4))
        yield ""


def _given_up(solution: Solution) -> Iterator[str]:
    """Say face by face what the bond gives up, and what less of it would cost."""
    layout = solution.layout
    yield "What the bond gives up on each face, what counts most first:"
    if not layout.given_up:
        yield "  - Nothing."
    rows: Rows = [("face", "count", "what", "counted in", "where")]
    first: dict[str, GivenUp] = {}
    for each in layout.given_up:
        named = "" if each.face in first else each.face
        first.setdefault(each.face, each)
        where = ", ".join(f"{zone} {count}" for zone, count in each.zones)
        rows.append((named, str(each.count), each.level, each.counts, where))
    if first:
        yield from columns(rows, (1,))
    for face, worst in first.items():
        if worst.before and layout.searched_all:
            # What stands beside soldiers is laid once the front is.
            given = ", with the front as it is," if face.endswith("beside") else ""
            yield (
                f"  - To have less of the first on the {face}{given} you would have to "
                f"give up more of something that counts more: {worst.before}."
            )
    yield ""


def write_doubts(job: Job, doubts: Iterable[Doubt]) -> tuple[str, ...]:
    """Say of each reading in doubt what was expected, and what to do."""

    def tape(length: Fraction) -> str:
        return format_length(length, job.lengths)

    return tuple(
        f"course {doubt.course}: {tape(doubt.read)} from the datum looks like a slip "
        f"of the tape: above {_since(doubt)} the joints that the job allows bring it "
        f"to {tape(doubt.least)} at the least and {tape(doubt.most)} at the most, with "
        f"{tape(doubt.spare)} each way for brick and joints that are a little off, and "
        f"{tape(doubt.planned)} was planned; measure again, and count the courses; "
        "where it is so all the same, add --anyway"
        for doubt in doubts
    )


def _since(doubt: Doubt) -> str:
    return f"course {doubt.below}" if doubt.below else "the datum"


def write_remeasured(plan: Solution, after: Solution) -> str:
    """Return the corrected course marks, which targets land, and what does not pass.

    Args:
        plan: the solution before courses were laid, or measured again.
        after: the solution with the courses as they were measured.
    """
    lines = [
        *(_record(after) if after.coursing.is_as_built else _marks(plan, after)),
        *_targets(after),
        *listed(DECIDED, after.coursing.reasons),
        *_ways_out(after),
        *_findings(after, but="passed"),
    ]
    return "\n".join(lines) + "\n"


def _marks(plan: Solution, after: Solution) -> Iterator[str]:
    """List the marks of the courses, and how far each has moved from the plan."""
    job, coursing = after.job, after.coursing
    count = len(coursing.laid.courses) if coursing.laid else 0
    changes = {x.course: x for x in coursing.changes_from(plan.coursing.courses)}

    def moved(value: Fraction | None) -> str:
        if value is None:
            return ""
        shown = rounded(value, job.lengths)
        way = "+" if shown > 0 else "-"
        return f"{way}{format_length(abs(shown), job.lengths)}" if shown else "-"

    rows: Rows = [("course", "bed joint", "change", "top of brick", "change", "")]
    for course in coursing.courses:
        change = changes.get(course.number)
        joint, _, top = level_words(job, course)
        by_joint = None if change is None or course.is_joint_reckoned else change.joint
        by_top = None if change is None or course.is_reckoned else change.top
        rows.append(
            (
                *(str(course.number), joint, moved(by_joint), top, moved(by_top)),
                laid_words(job, course),
            )
        )
    yield f"Marks of {job.job.name} from the datum, corrected above course {count}:"
    yield from columns(rows, (0, 1, 2, 3, 4))
    yield "  (change: the new figure less the planned one)"
    yield ""


def _record(solution: Solution) -> Iterator[str]:
    """Say, once all is laid, how far each course is off the plan, and what was used."""
    # Tables load what draws them, which no check has to wait for.
    from shopdraw.views.words.tables import as_built_table, used_table

    yield f"Record of {solution.job.job.name}, as built, from the datum:"
    yield from _table(as_built_table(solution))
    yield ""
    used = used_table(solution)
    yield "Brick used against ordered:"
    yield from _table(used)
    if not all(count for _, _, _, count, _ in used.rows):
        yield "  Not counted yet; write it into the job file: shopdraw explain used"
    yield ""


def _table(table: Table) -> Iterator[str]:
    heads = tuple(column.head.lower() for column in table.columns)
    right = tuple(n for n, x in enumerate(table.columns) if x.align == "right")
    yield from columns([heads, *table.rows], right)


def columns(rows: Rows, right: tuple[int, ...] = ()) -> Iterator[str]:
    """Line cells up under their heads; `right` lists the columns to align right."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    for row in rows:
        cells = [
            cell.rjust(width) if i in right else cell.ljust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield f"  {'  '.join(cells)}".rstrip()


def listed(title: str, sentences: tuple[str, ...]) -> Iterator[str]:
    """List sentences under a title; nothing where there are none."""
    if sentences:
        yield f"{title}:"
        yield from (f"  - {sentence}" for sentence in sentences)
        yield ""


def _coursing(solution: Solution) -> Iterator[str]:
    job, coursing = solution.job, solution.coursing
    datum = "the datum (highest point of the hearth)"
    yield f"Course list of {job.job.name}, from {datum}:"
    further = list(further_columns(solution))
    rows: Rows = [
        (
            *("course", "kind", "bed joint", "bottom of brick", "top of brick"),
            *(name.lower() for name, _ in further),
        )
    ]
    rows += [
        (
            str(course.number),
            course_kind(course, solution.layout.cycle),
            *level_words(job, course),
            *(cells[place] for _, cells in further),
        )
        for place, course in enumerate(coursing.courses)
    ]
    yield from columns(rows, (0, 2, 3, 4))
    if len(coursing.joints) > len(coursing.courses):
        last = format_length(coursing.joints[-1], job.lengths)
        yield f"  and a joint of {last} above the last course"
    yield ""


def _targets(solution: Solution) -> Iterator[str]:
    job = solution.job
    yield "Targets:"
    rows: Rows = [("target", "brick edge", "wanted", "got", "")]
    for target in solution.coursing.targets:
        said = "lands" if target.lands else "MISSED"
        if not target.lands:
            # Up: a miss never reads as smaller than it is.
            said += f" by {in_words(target.miss, job.lengths, up=True)}"
        rows.append(
            (
                target.name,
                target.meets,
                format_length(target.wanted, job.lengths),
                format_length(target.got, job.lengths),
                said,
            )
        )
    yield from columns(rows, (2, 3))
    yield ""


def _ways_out(solution: Solution) -> Iterator[str]:
    if not solution.ways_out:
        return
    yield "Ways out; with any one of them the courses land:"
    for number, way in enumerate(solution.ways_out, start=1):
        yield f"  {number}. {way.says} Cost: {way.cost}"
        for key, value in way.edits:
            yield f'       {key} = "{typed_length(value, solution.job.lengths)}"'
    yield ""


def _cuts(solution: Solution) -> Iterator[str]:
    job = solution.job
    yield "Cut list:"
    rows: Rows = [("mark", "kind", "length", "height", "legs", "count", "")]
    rows += [
        (
            row.mark,
            _state(row) + row.kind,
            format_made(row.length, job.lengths),
            format_made(row.height, job.lengths),
            " x ".join(format_made(leg, job.lengths) for leg in row.legs),
            str(row.count),
            row.note,
        )
        for row in solution.cut_list
    ]
    yield from columns(rows, (2, 3, 5))
    yield ""


def _state(row: CutListRow) -> str:
    if row.is_made:
        return "mitred "
    return "cut " if row.is_cut else "trimmed " if row.is_trimmed else ""


def _cut_plan(job: Job, plan: CutPlan) -> Iterator[str]:
    if not plan.units:
        return
    bound = "" if plan.is_proved else f"; any plan needs {plan.least}"
    yield f"Cut plan ({plan.whole_units} whole units to saw{bound}):"
    rows: Rows = [("units", "saw each into", "left over")]
    rows += [
        (str(x.count), " + ".join(x.marks), format_made(x.left, job.lengths))
        for x in plan.units
    ]
    yield from columns(rows, (0, 2))
    yield ""


def _findings(solution: Solution, *, but: str = "") -> Iterator[str]:
    """Count the findings, and list all but those of one status."""
    counts = {
        status: sum(finding.status == status for finding in solution.findings)
        for status in ("passed", "failed", "not checked")
    }
    said = ", ".join(f"{count} {status}" for status, count in counts.items())
    yield f'Findings ({said}; "not checked" is not an approval):'
    for finding in solution.findings:
        if finding.status == but:
            continue
        figures = ""
        if finding.measured is not None:
            figures = f": {in_words(finding.measured, solution.job.lengths)}"
            if finding.limit is not None:
                figures += f", limit {in_words(finding.limit, solution.job.lengths)}"
        yield f"  {finding.status.upper():11}  {finding.rule.words}{figures}"
        yield f"               {finding.says}"
        if finding.keys:
            yield f"               fill in: {', '.join(finding.keys)}"
        for mend in finding.mends:
            yield f"               to pass: {mend}"
        source = sourced(finding.source, finding.source_status)
        yield f"               source: {source}"
    yield ""


def _takeoff(takeoff: Takeoff) -> Iterator[str]:
    yield "Takeoff:"
    rows: Rows = [("item", "pieces laid", "net", "to order", "measure", "")]
    rows += [
        (
            row.item,
            "" if row.laid is None else str(row.laid),
            f"{float(row.net):g}"
            if row.measure == "pieces"
            else f"{float(row.net):.2f}",
            "" if row.order is None else f"{float(row.order):g}",
            row.measure,
            row.note,
        )
        for row in takeoff.on_paper
    ]
    yield from columns(rows, (1, 2, 3))


def _estimate(solution: Solution) -> Iterator[str]:
    """Yield hours and price line by line, if the job asks for them."""
    estimate = solution.estimate
    if solution.job.labour is None:
        return
    rows: Rows = [("what", "quantity", "hours", "cost", "price", "")]
    for line in estimate.lines:
        hours, cost, price = (
            "" if x is None else format_money(x)
            for x in (line.hours, line.cost, line.price)
        )
        missing = f"not reckoned; fill in: {', '.join(line.missing)}"
        note = missing if line.cost is None else "taxed" * line.is_taxed
        rows.append((line.what, line.amount, hours, cost, price, note))
    total = f"{format_money(estimate.total)} {estimate.currency}".rstrip()
    what = "PARTIAL, no price; reckoned so far" if estimate.is_partial else "Total"
    yield from ("", "Hours and price:", *columns(rows, (1, 2, 3, 4)))
    yield f"  {what}, with {format_money(estimate.tax)} of tax: {total}"
