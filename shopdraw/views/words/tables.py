"""Make each table once: the sheets and the files show the same one.

In:  `Solution`.   Out: `Table`s.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from fractions import Fraction

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.tables import Column, Table
from shopdraw.lengths import format_length, format_made
from shopdraw.masonry.wall.layout import CORNER_KINDS
from shopdraw.quantities.measures import TakeoffRow
from shopdraw.review.findings import Finding, figures_of, in_words
from shopdraw.solution import Solution
from shopdraw.views.brick.units import state_of
from shopdraw.views.parts.courses import (
    LENGTHS_ALONE,
    course_kind,
    further_columns,
    level_words,
    lower_end,
    off_plan,
    planned_and_laid,
    top_words,
)
from shopdraw.views.parts.phrases import sourced
from shopdraw.views.words.patterns import riser_table
from shopdraw.views.words.schedules import (
    cut_plan_table,
    fabrication_table,
    stops_table,
)


def file_tables(solution: Solution) -> tuple[Table, ...]:
    """Return the tables that are written as CSV files too, named as the files are."""
    job = solution.job
    return (
        cut_list_table(solution),
        fabrication_table(job, solution.fabrication),
        cut_plan_table(job, solution.cut_plan),
        stops_table(job, solution.cut_plan),
        takeoff_table(solution),
    )


def riser_tables(solution: Solution) -> tuple[Table, ...]:
    """Return the courses of the hearth's riser, if it has one."""
    hearth = solution.hearth
    if hearth is None or hearth.riser is None:
        return ()
    return (riser_table(solution.job, hearth.riser),)


def coursing_table(solution: Solution) -> Table:
    """Return every course with its bed joint and its levels from the datum."""
    rows: list[tuple[str, ...]] = [
        (
            str(course.number),
            course_kind(course, solution.layout.cycle),
            *level_words(solution.job, course),
        )
        for course in solution.coursing.courses
    ]
    columns = [
        Column("COURSE", "right"),
        Column("KIND"),
        Column("BED JOINT", "right"),
        Column("BOTTOM", "right"),
        Column("TOP", "right"),
    ]
    for column, cells in further_columns(solution):
        columns.append(Column(column, "right" if column in LENGTHS_ALONE else "left"))
        rows = [(*row, cell) for row, cell in zip(rows, cells, strict=True)]
    return Table(
        "course-list", "COURSE LIST, FROM THE DATUM", tuple(columns), tuple(rows)
    )


def as_built_table(solution: Solution) -> Table:
    """Return how far each course lies off the plan; no rows before all are laid."""
    job, coursing = solution.job, solution.coursing
    heads = ["COURSE", "PLANNED TOP", "TOP AS LAID", "OFF THE PLAN", "JOINT AS LAID"]
    has_ends = any(laid.taper for laid in job.laid)
    heads += ["LOWER END"] * has_ends
    return Table(
        "as-built",
        "AS BUILT, FROM THE DATUM",
        tuple(Column(head, "right") for head in heads),
        tuple(
            (
                str(course.number),
                format_length(planned.top, job.lengths),
                top_words(job, course) if not course.is_reckoned else "not measured",
                off_plan(job, coursing, course),
                level_words(job, course)[0],
                *([lower_end(job, course)] * has_ends),
            )
            for planned, course in planned_and_laid(coursing)
        ),
    )


UNITS = (("flat units", "flats"), ("corner units", "corners"))
"""What is bought by the piece, as the takeoff and as `[used]` call it."""


def used_table(solution: Solution) -> Table:
    """Return the brick used against what was ordered; no rows before all is laid."""
    rows: list[tuple[str, ...]] = []
    for item, key in UNITS if solution.coursing.is_as_built else ():
        found = [row for row in solution.takeoff.rows if row.item == item]
        used: int | None = getattr(solution.job.used, key)
        for row in found:
            ordered = row.order or Fraction(0)
            if used is None and not ordered:
                continue
            left = "" if used is None else _figure(ordered - used)
            rows.append((item, _figure(row.net), _figure(ordered), _figure(used), left))
    return Table(
        "used",
        "BRICK USED AGAINST ORDERED",
        (
            Column("ITEM"),
            *(
                Column(head, "right")
                for head in ("NET, BY THE CUT PLAN", "TO ORDER", "USED", "LEFT OVER")
            ),
        ),
        tuple(rows),
    )


def targets_table(solution: Solution) -> Table:
    """Return every target: the level wanted, the level got, and how far it is off."""
    job = solution.job
    return Table(
        name="targets",
        title="TARGETS, FROM THE DATUM",
        columns=(
            Column("TARGET"),
            Column("BRICK EDGE"),
            Column("WANTED", "right"),
            Column("GOT", "right"),
            Column("OFF BY", "right"),
            Column("TOLERANCE", "right"),
            Column("RESULT"),
        ),
        rows=tuple(
            (
                plain(target.name),
                target.meets,
                format_length(target.wanted, job.lengths),
                format_length(target.got, job.lengths),
                # Up: a miss never reads as smaller than it is.
                in_words(target.miss, job.lengths, up=True),
                in_words(target.tolerance, job.lengths),
                "lands" if target.lands else "MISSED",
            )
            for target in solution.coursing.targets
        ),
    )


def cut_list_table(solution: Solution) -> Table:
    """Return every mark: its size, how it is sawn and how many there are."""
    job = solution.job
    pieces = sum(row.count for row in solution.cut_list)
    return Table(
        name="cut-list",
        title=f"CUT LIST: {pieces} PIECES",
        columns=(
            Column("MARK"),
            Column("KIND"),
            Column("LENGTH", "right"),
            Column("HEIGHT", "right"),
            Column("LEGS, OUTSIDE"),
            Column("COUNT", "right"),
            Column("CUT?"),
            Column("NOTE"),
        ),
        rows=tuple(
            (
                row.mark,
                row.kind,
                format_made(row.length, job.lengths),
                format_made(row.height, job.lengths),
                # A soldier that shows its edge round a fold has no legs to saw.
                " x ".join(format_made(leg, job.lengths) for leg in row.legs)
                if row.kind in CORNER_KINDS
                else "",
                str(row.count),
                state_of(row).strip().lower() or "whole",
                row.note,
            )
            for row in solution.cut_list
        ),
    )


def takeoff_table(solution: Solution) -> Table:
    """Return what to buy, and how each quantity was worked out."""
    return Table(
        name="takeoff",
        title=f"TAKEOFF: {plain(solution.job.job.name).upper()}",
        columns=(
            Column("ITEM"),
            Column("PIECES LAID", "right"),
            Column("NET", "right"),
            Column("TO ORDER", "right"),
            Column("MEASURE"),
            Column("HOW WORKED OUT"),
        ),
        rows=tuple(
            (
                row.item,
                _figure(row.laid),
                _net(row),
                _figure(row.order),
                row.measure,
                row.note,
            )
            for row in solution.takeoff.on_paper
        ),
    )


def _net(row: TakeoffRow) -> str:
    return _figure(row.net) if row.measure == "pieces" else f"{float(row.net):.2f}"


def _figure(value: Fraction | int | None) -> str:
    return "" if value is None else f"{float(value):g}"


def findings_table(solution: Solution) -> Table:
    """Return every finding: what was measured, its limit, status and source.

    Clouds and names on the views call it by its number.
    """
    return Table(
        name="findings",
        title='FINDINGS ("NOT CHECKED" IS NOT AN APPROVAL)',
        columns=(
            Column("NO.", "right"),
            Column("RULE"),
            Column("STATUS"),
            Column("MEASURED", "right"),
            Column("LIMIT", "right"),
            Column("MARGIN", "right"),
            Column("SOURCE, AND HOW IT WAS READ"),
            Column("HOW IT WAS MEASURED, OR WHAT TO FIND OUT"),
        ),
        rows=tuple(
            (
                str(number),
                plain(finding.rule.words),
                finding.status.upper(),
                *(each or "" for each in figures_of(finding, solution.job.lengths)),
                plain(sourced(finding.source, finding.source_status)),
                plain(_with_mends(finding)),
            )
            for number, finding in enumerate(solution.findings, start=1)
        ),
    )


def _with_mends(finding: Finding) -> str:
    if not finding.mends:
        return finding.says
    return f"{finding.says}. TO PASS: {', or '.join(finding.mends)}"
