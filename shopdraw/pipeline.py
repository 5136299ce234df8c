"""The order of the stages, nothing else.

In:  `Job`.   Out: `Solution`, then `DrawingSet`.
Frame: each stage says its own.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from shopdraw.job.model import Job
from shopdraw.lengths import Lengths
from shopdraw.masonry.coursing.form import Coursing, WayOut
from shopdraw.masonry.coursing.laid import changes_from
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.coursing.ways import find_ways_out
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.pieces import list_cuts
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import CutListRow, Layout
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.quantities.comparing import Alternative, compare_jobs
from shopdraw.quantities.cutting import CutPlan, plan_cuts
from shopdraw.quantities.takeoff import Takeoff, take_off
from shopdraw.review.clearances import review_clearances
from shopdraw.review.findings import Finding

if TYPE_CHECKING:
    from shopdraw.drawing.set import DrawingSet
    from shopdraw.drawing.sheets import Sheet


@dataclass(frozen=True)
class Solution:
    """What `check` and every view may want: the wall, solved and reviewed."""

    job: Job
    surround: Surround
    coursing: Coursing
    ways_out: tuple[WayOut, ...]
    layout: Layout
    cut_list: tuple[CutListRow, ...]
    findings: tuple[Finding, ...]
    cut_plan: CutPlan
    takeoff: Takeoff

    @property
    def is_clear(self) -> bool:
        """Whether every target lands and no finding failed."""
        failed = any(finding.status == "failed" for finding in self.findings)
        return self.coursing.lands and not failed


def solve(job: Job) -> Solution:
    """Solve a job: what is to be built, whether it may be, and what it takes."""
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    ways_out = find_ways_out(job, surround, coursing)
    layout = prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))
    cut_list = list_cuts(job, layout)
    findings = review_clearances(job, surround, coursing, layout)
    cut_plan = plan_cuts(job, layout.pieces)
    takeoff = take_off(job, surround, coursing, layout, cut_plan)
    return Solution(
        job,
        surround,
        coursing,
        ways_out,
        layout,
        cut_list,
        findings,
        cut_plan,
        takeoff,
    )


def record(solution: Solution) -> dict[str, Any]:
    """Return the solution as plain records."""
    from shopdraw.views.words.record import solution_record

    return solution_record(
        solution.job,
        solution.surround,
        solution.coursing,
        solution.ways_out,
        solution.layout,
        solution.cut_list,
        solution.findings,
        solution.cut_plan,
        solution.takeoff,
    )


def record_text(solution: Solution) -> str:
    """Return the solution as the JSON text that is printed and written."""
    return json.dumps(record(solution), indent=1) + "\n"


def report(solution: Solution) -> str:
    """Return the solution in words and tables for a person."""
    from shopdraw.views.words.report import write_report

    return write_report(
        solution.job,
        solution.coursing,
        solution.ways_out,
        solution.layout,
        solution.cut_list,
        solution.findings,
        solution.cut_plan,
        solution.takeoff,
    )


def changed_courses(plan: Solution, after: Solution) -> tuple[int, ...]:
    """Return the numbers of the courses that lie otherwise than they were planned.

    Those laid that nobody measured are left out: where they lie is not known.
    """
    changes = changes_from(plan.coursing, after.coursing)
    return tuple(
        course.number
        for course, change in zip(after.coursing.courses, changes, strict=False)
        if (change.top and not course.is_reckoned)
        or (change.joint and not course.is_joint_reckoned)
    )


def remeasured(plan: Solution, after: Solution) -> str:
    """Return in words what the courses laid change, for a person."""
    from shopdraw.views.words.report import write_remeasured

    return write_remeasured(
        after.job, plan.coursing, after.coursing, after.ways_out, after.findings
    )


def remeasured_text(plan: Solution, after: Solution) -> str:
    """Return the solution as JSON, with what the courses laid change."""
    from shopdraw.views.words.record import changes_record

    changes = changes_record(plan.coursing, after.coursing)
    return json.dumps({**record(after), "changes": changes}, indent=1) + "\n"


def compared(job: Job, alternatives: tuple[Alternative, ...]) -> str:
    """Return brick sizes and bonds as a table, for a person."""
    from shopdraw.views.words.report import write_compared

    return write_compared(job, alternatives)


def compared_text(alternatives: tuple[Alternative, ...]) -> str:
    """Return brick sizes and bonds as JSON."""
    from shopdraw.views.words.record import compared_record

    return json.dumps(compared_record(alternatives), indent=1) + "\n"


def compare(
    job: Job, sizes: tuple[str, ...], patterns: tuple[str, ...]
) -> tuple[Alternative, ...]:
    """Solve a job over brick sizes and bonds, and rank them."""
    return compare_jobs(job, sizes, patterns)


def survey_form(lengths: Lengths) -> Sheet:
    """Return the page to take to site, on the usual page for its lengths."""
    from shopdraw.catalog.rows import sheet_size, usual_values
    from shopdraw.views.survey_form import draw_form

    long, short = sheet_size(usual_values(lengths)["sheet"]["page"], lengths)
    return draw_form(lengths, (float(short), float(long)))


def build(solution: Solution) -> DrawingSet:
    """Draw the set: its sheets, and the papers beside them."""
    return replace(compose(solution), papers=draw_papers(solution))


def draw_papers(solution: Solution) -> tuple[tuple[str, tuple[Sheet, ...]], ...]:
    """Draw what is printed apart from the sheets: pole, review, ticket, labels."""
    from shopdraw.catalog.rows import sheet_size
    from shopdraw.masonry.marks.setting_out import mark_pole, mark_rods
    from shopdraw.quantities.fabricating import list_fabrication
    from shopdraw.views.making.labels import draw_labels
    from shopdraw.views.making.poles import draw_poles
    from shopdraw.views.making.ticket import draw_ticket
    from shopdraw.views.review.page import draw_review

    job, layout = solution.job, solution.layout
    long, short = (float(x) for x in sheet_size(job.sheet.page, job.lengths))
    page = (short, long)
    rods = mark_rods(solution.surround, layout)
    strips = (mark_pole(job, solution.coursing), *rods)
    fabrication = list_fabrication(job, solution.cut_list)
    review = draw_review(
        job, solution.surround, solution.coursing, layout, solution.findings, page
    )
    papers: tuple[tuple[str, tuple[Sheet, ...]], ...] = (
        ("story-pole", draw_poles(job, strips, page)),
        ("review", (review,)),
        ("ticket", draw_ticket(job, fabrication, solution.cut_plan, page)),
        ("labels", draw_labels(job, fabrication, page)),
    )
    return tuple((name, pages) for name, pages in papers if pages)


def compose(solution: Solution) -> DrawingSet:
    """Draw the sheets of the set, without the papers beside them."""
    # Drawing is loaded here: a job that is only checked never needs it.
    from shopdraw.catalog.rows import layer_names, sheet_size
    from shopdraw.drawing.set import DrawingSet, Event, FileForm
    from shopdraw.quantities.fabricating import list_fabrication
    from shopdraw.quantities.schedule import reckon_schedule
    from shopdraw.views.expected import expect_bare, expect_sheet
    from shopdraw.views.set import compose_set
    from shopdraw.views.wall.appearance import compose_appearance
    from shopdraw.views.wall.bare import draw_surround
    from shopdraw.views.words.schedules import (
        cut_plan_table,
        fabrication_table,
        schedule_table,
        stops_table,
    )
    from shopdraw.views.words.tables import cut_list_table, takeoff_table

    job, layout = solution.job, solution.layout
    wide, high = (float(x) for x in sheet_size(job.sheet.size, job.lengths))
    steps = reckon_schedule(job)
    files = (
        cut_list_table(job, solution.cut_list),
        fabrication_table(job, list_fabrication(job, solution.cut_list)),
        cut_plan_table(job, solution.cut_plan),
        takeoff_table(job, solution.takeoff),
    )
    sheets = compose_set(
        job,
        solution.surround,
        solution.coursing,
        layout,
        solution.cut_list,
        solution.findings,
        (*files, stops_table(job, solution.cut_plan), schedule_table(steps)),
        (wide, high),
    )
    picture = compose_appearance(
        job,
        solution.surround,
        solution.coursing,
        layout,
        solution.findings,
        (wide, high),
        len(sheets) + 1,
    )
    bare = draw_surround(job, solution.surround, solution.coursing, layout)
    return DrawingSet(
        title=job.job.name,
        dated=job.job.date,
        lengths=job.lengths,
        sheets=sheets,
        picture=picture,
        expected=tuple(expect_sheet(solution.surround, layout, s) for s in sheets),
        bare=bare,
        bare_expected=expect_bare(solution.surround, layout, bare),
        tables=files,
        record_json=record_text(solution),
        events=tuple(
            Event(step.what, step.day, f"{step.wait}: {step.source}")
            for step in steps
            if step.day is not None
        ),
        form=FileForm(job.sheet.dxf, layer_names(job.layer_naming, job.layers.own)),
    )
