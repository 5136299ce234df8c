"""Make all that the page says, from the solution and the sheets that are drawn of it.

In:  `Solution`, the set's `Sheet`s.   Out: `Page`; what must be found on it.
Frame: lengths as the sheets print them; drawings as the sheets have them.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.lettering import plain
from shopdraw.drawing.page import Fact, Page
from shopdraw.drawing.sheets import Sheet
from shopdraw.drawing.tables import Table
from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import OF_AN_ARCH
from shopdraw.solution import Solution
from shopdraw.views.page.lists import landed, lists_of
from shopdraw.views.page.looking import views_of_pieces
from shopdraw.views.page.makes import makes_of
from shopdraw.views.page.steps import steps_of
from shopdraw.views.parts.stamps import drawn_from, looking_note, stamps
from shopdraw.views.words.notes import caution_notes, general_notes, order_words
from shopdraw.views.words.schedules import materials_table, revisions_table

PLACES = (
    "Tops are from the datum, the highest point of the hearth under the brick. Places "
    "are from the left end of each finished face. A mark in brackets is the other leg "
    "of a corner unit, which counts on the face of its long leg. On drawings a piece "
    "without a mark is a whole brick."
)

ASLANT = " What is sawn aslant is placed as it is at the middle of its course."


def make_page(solution: Solution, sheets: tuple[Sheet, ...]) -> Page:
    """Return the page of a set: everything that is read on site, and by whom else."""
    job, origin = solution.job, drawn_from(solution.job)
    return Page(
        title=plain(job.job.name),
        about=tuple(_about(job)),
        drawn_from=origin.words,
        digest=origin.job_file,
        mark=origin.mark,
        revision=job.job.revision,
        lengths=job.lengths,
        stamps=stamps(solution),
        landed=landed(solution),
        cautions=tuple(_cautions(job)),
        views=tuple(views_of_pieces(solution, sheets)),
        views_say=looking_note(solution),
        steps_title="Courses",
        steps_say=f"{order_words(solution)} {PLACES}{_aslant(solution)}",
        steps=tuple(steps_of(solution)),
        makes_title="Marks: how each kind of piece is made",
        makes=tuple(makes_of(solution)),
        lists=tuple(lists_of(solution)),
        tables=(materials_table(job), *_revisions(job)),
        notes=general_notes(solution).paragraphs,
    )


def _aslant(solution: Solution) -> str:
    """Say where a piece in a course is that is no rectangle, if one is not."""
    pieces = solution.layout.in_courses
    outlines = (x.outlines[0] for x in pieces if x.kind not in OF_AN_ARCH)
    return "" if all(outline.is_rectangle for outline in outlines) else ASLANT


def _about(job: Job) -> Iterator[Fact]:
    about = job.job
    for name, value in (
        ("number", about.number),
        ("date", str(about.date or "")),
        ("for", about.for_whom),
        ("site", about.site),
        ("drawn by", about.drawn_by),
    ):
        if value:
            yield name, plain(value)


def _cautions(job: Job) -> Iterator[Fact]:
    """Yield each caution with its topic, as the sheets print it."""
    for paragraph in caution_notes(job).paragraphs:
        topic, _, words = paragraph.partition(". ")
        yield topic.lower(), words


def _revisions(job: Job) -> Iterator[Table]:
    table = revisions_table(job)
    if table.rows:
        yield table
