"""The order of the stages, nothing else.

In:  `Job`.   Out: `Solution`, then `DrawingSet`.
Frame: each stage says its own.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.doubting import doubts_of
from shopdraw.masonry.coursing.form import Doubt
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.coursing.ways import find_ways_out
from shopdraw.masonry.heads.placing import place_courses
from shopdraw.masonry.hearth.lay import lay_hearth
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.pieces import list_cuts
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.marks.rule_marks import follow_marks
from shopdraw.masonry.marks.setting_out import mark_strips
from shopdraw.masonry.marks.variation import allowed_wander, reckon_variation
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.quantities.cutting import plan_cuts
from shopdraw.quantities.estimate import reckon_estimate
from shopdraw.quantities.fabricating import list_fabrication
from shopdraw.quantities.schedule import reckon_schedule
from shopdraw.quantities.takeoff import take_off
from shopdraw.review.clearances import review_clearances
from shopdraw.review.opening import trace_openings
from shopdraw.solution import Solution

if TYPE_CHECKING:
    from shopdraw.drawing.choices import Choices
    from shopdraw.drawing.page import Glance, Page
    from shopdraw.drawing.photo import Photo
    from shopdraw.drawing.set import DrawingSet
    from shopdraw.drawing.sheets import Sheet


def solve(job: Job) -> Solution:
    """Solve a job: what to build, whether the rules allow it, and what to buy."""
    surround = trace_surround(job)
    coursing = place_courses(job, surround, solve_coursing(job, surround))
    layout = prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))
    layout, hearth = lay_hearth(job, surround, layout)
    laid = (*layout.pieces, *(hearth.layout.pieces if hearth else ()))
    cut_list = list_cuts(job, laid)
    variation = reckon_variation(job, coursing)
    openings = trace_openings(job, surround, coursing, layout.arch)
    cut_plan = plan_cuts(job, laid)
    takeoff = take_off(job, surround, coursing, layout, cut_plan, hearth)
    return Solution(
        job=job,
        surround=surround,
        coursing=coursing,
        ways_out=find_ways_out(job, surround, coursing),
        layout=layout,
        hearth=hearth,
        cut_list=cut_list,
        variation=variation,
        rule_marks=follow_marks(job, coursing),
        strips=mark_strips(surround, coursing, layout, variation),
        openings=openings,
        findings=review_clearances(
            job, surround, coursing, layout, openings, variation, hearth
        ),
        cut_plan=cut_plan,
        takeoff=takeoff,
        estimate=reckon_estimate(job, laid, layout.arch, takeoff),
        fabrication=list_fabrication(job, cut_list),
        schedule=reckon_schedule(job),
    )


def doubt(job: Job, plan: Solution, courses: set[int]) -> tuple[Doubt, ...]:
    """Return which courses measured, of some, can't be where they were read.

    Args:
        job: with every course laid.
        plan: the solution before those were measured.
        courses: their numbers.
    """
    wander = partial(allowed_wander, plan.variation)
    return tuple(doubts_of(job, plan.coursing, courses, wander))


def look(solution: Solution) -> tuple[Glance, Sheet]:
    """Draw the elevation alone, with what is told beside it."""
    from shopdraw.views.front import draw_front
    from shopdraw.views.page.lists import make_glance

    return make_glance(solution), draw_front(solution)


def page_beside(solution: Solution, front: Sheet) -> Page:
    """Make the page of a job of which the elevation alone is drawn."""
    from shopdraw.views.page.make import make_page

    return make_page(solution, (front,))


def offer(
    offered: tuple[tuple[str, Solution], ...], photo: Photo | None = None
) -> Choices:
    """Draw what the owner may choose from, each option by its name."""
    from shopdraw.views.papers.options import draw_options

    return draw_options(offered, photo)


def build(
    solution: Solution,
    photo: Photo | None = None,
    begin: Callable[[tuple[Sheet, ...], str], None] | None = None,
) -> DrawingSet:
    """Draw the set: its sheets, the papers beside them, and the tables and records.

    Args:
        solution: what is drawn.
        photo: the photograph that the picture is laid into; None without one.
        begin: is given the sheets as soon as they are composed, and what they say that
            they are drawn from, so that their pictures may be begun.
    """
    # Drawing is loaded here: a job that is only checked never needs it.
    from shopdraw.catalog.rows import layer_names
    from shopdraw.drawing.set import DrawingSet, FileForm
    from shopdraw.views.expected.sheets import expect_bare, expect_sheets
    from shopdraw.views.page.make import make_page
    from shopdraw.views.papers.asked import KEPT_BACK
    from shopdraw.views.parts.stamps import drawn_from
    from shopdraw.views.picture.appearance import compose_appearance
    from shopdraw.views.picture.in_photo import lay_into
    from shopdraw.views.set import compose_sheets, draw_papers
    from shopdraw.views.wall.bare import draw_surround
    from shopdraw.views.words.record import record_text
    from shopdraw.views.words.schedules import list_events
    from shopdraw.views.words.tables import file_tables

    job = solution.job
    made_from = drawn_from(job).showing(photo)
    sheets = compose_sheets(solution)
    if begin is not None:
        begin(sheets, made_from.words)
    bare = draw_surround(solution)
    return DrawingSet(
        drawn_from=made_from,
        title=job.job.name,
        dated=job.job.date,
        lengths=job.lengths,
        sheets=sheets,
        picture=compose_appearance(solution, len(sheets) + 1),
        expected=expect_sheets(solution, sheets),
        bare=bare,
        bare_expected=expect_bare(solution, bare),
        tables=file_tables(solution),
        record_json=record_text(solution),
        form=FileForm(job.sheet.dxf, layer_names(job.layer_naming, job.layers.own)),
        events=list_events(solution),
        papers=draw_papers(solution, sheets),
        kept_back=KEPT_BACK,
        page=make_page(solution, sheets),
        on_page=tuple((piece.id, piece.mark) for piece in solution.pieces),
        montage=lay_into(solution, photo) if photo is not None else None,
    )
