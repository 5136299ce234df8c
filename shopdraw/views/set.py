"""Compose the set: what each sheet is for, and which views, tables and notes it takes.

In:  `Solution`.   Out: `Sheet`s; the papers beside them.
Frame: paper lengths, in the job's lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shopdraw.drawing.bubbles import Which, numbers_on, with_sheets
from shopdraw.drawing.composing import Composed, Item, Purpose, alone, compose
from shopdraw.drawing.framing import draw_frame, left_out
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.measures import with_arrows
from shopdraw.drawing.sheets import (
    STYLES,
    PaperStyle,
    Sheet,
    compose_sheet,
    content_of,
    size_on_paper,
)
from shopdraw.drawing.tables import Column, Notes, Table, draw_notes, draw_table
from shopdraw.job.model import Job
from shopdraw.solution import Solution
from shopdraw.views.general import draw_legend, index_table
from shopdraw.views.making import cut_pieces
from shopdraw.views.making.labels import draw_labels
from shopdraw.views.making.poles import draw_poles
from shopdraw.views.making.templates import draw_templates
from shopdraw.views.making.ticket import draw_ticket
from shopdraw.views.parts.stamps import (
    picture_number,
    scale_words,
    sheet_numbers,
    title_block,
)
from shopdraw.views.projection import GAP, Views
from shopdraw.views.review.page import draw_review
from shopdraw.views.words import schedules, tables
from shopdraw.views.words.notes import caution_notes, general_notes

NOTES_WIDE = 56
"""How wide the column of notes is, in heights of lettering."""


def compose_sheets(solution: Solution) -> tuple[Sheet, ...]:
    """Draw every view and put them on sheets.

    Raises:
        NotDrawable: the paper is too small for the scale asked for, or for any scale.
    """
    job, style = solution.job, STYLES[solution.lengths]
    wide, high = (float(side) for side in job.paper)
    content = content_of(wide, high, style)
    sheets = _indexed(job, purposes(solution, content), content, style)
    named = tuple(_named(sheets, job))
    sheets = _referring(sheets, [identity for identity, _, _ in named])
    return tuple(
        compose_sheet(
            number,
            name,
            title,
            (wide, high),
            job.lengths,
            sheet.places,
            draw_frame(
                (wide, high),
                job.lengths,
                title_block(
                    solution,
                    sheet_numbers(job, identity, number, len(sheets) + 1),
                    title,
                    scale_words(job, (x.scale for x, _ in sheet.places if x.title)),
                ),
            ),
            shows=tuple(purpose.name for purpose in sheet.purposes),
            paper=job.sheet.size,
        )
        for number, (sheet, (identity, name, title)) in enumerate(
            zip(sheets, named, strict=True), start=1
        )
    )


def draw_papers(solution: Solution) -> tuple[tuple[str, tuple[Sheet, ...]], ...]:
    """Draw the pages that are printed beside the sheets, as far as the job has them."""
    papers = (
        ("story-pole", draw_poles(solution)),
        ("review", (draw_review(solution),)),
        ("ticket", draw_ticket(solution)),
        ("labels", draw_labels(solution)),
        ("arch-templates", draw_templates(solution)),
    )
    return tuple((name, pages) for name, pages in papers if pages)


def _indexed(
    job: Job, wanted: tuple[Purpose, ...], content: Box, style: PaperStyle
) -> list[Composed]:
    """Compose the sheets, with an index of them among the general notes.

    The index may itself move what comes after it, so that it is made anew until it
    says what is there; it gets a blank row where it would go round in a circle.
    """
    general, *others = wanted
    scale = general.items[0].parts[0][0].scale
    rows: tuple[tuple[str, str], ...] = ()
    seen: list[tuple[tuple[str, str], ...]] = []
    while True:
        listed = index_table(rows, seen.count(rows))
        table = draw_table(listed, style.text, scale)
        index = alone(table, is_words=True)
        first = replace(general, items=(index, *general.items))
        sheets = compose([first, *others], content, GAP * style.text)
        named = ((identity, title) for identity, _, title in _named(sheets, job))
        found = (*named, (picture_number(job, len(sheets)), "APPEARANCE"))
        if found == rows:
            return sheets
        seen.append(rows)
        rows = found


def _referring(sheets: list[Composed], identities: list[str]) -> list[Composed]:
    """Fill in on which sheet each view stands, and on which it is cut."""
    on: dict[Which, dict[int, str]] = {"drawn": {}, "cut": {}}
    for sheet, identity in zip(sheets, identities, strict=True):
        for drawing, _ in sheet.places:
            on["cut"] |= dict.fromkeys(numbers_on(drawing, "drawn"), identity)
            on["drawn"] |= dict.fromkeys(numbers_on(drawing, "cut"), identity)
    return [
        replace(
            sheet,
            places=tuple((with_sheets(each, on), box) for each, box in sheet.places),
        )
        for sheet in sheets
    ]


def _named(sheets: list[Composed], job: Job) -> Iterator[tuple[str, str, str]]:
    """Yield each sheet's number, its name for a file, and its title.

    The number is of the national standard's form, from the series of what the sheet is
    for first (the digits of series 0 and 9 from memory); under the ISO profile sheets
    are counted.
    """
    seen: dict[str, int] = {}
    series: dict[int, int] = {}
    for number, sheet in enumerate(sheets, start=1):
        for purpose in sheet.purposes:
            seen[purpose.name] = seen.get(purpose.name, 0) + 1
        first = sheet.purposes[0]
        series[first.series] = series.get(first.series, 0) + 1
        identity = f"A-{first.series}{series[first.series]:02}"
        page = seen[first.name]
        titles = [
            x.title if seen[x.name] == 1 else f"{x.title} ({seen[x.name]})"
            for x in sheet.purposes
        ]
        last = titles.pop()
        yield (
            str(number) if job.sheet.profile == "iso" else identity,
            first.name if page == 1 else f"{first.name}-{page}",
            f"{', '.join(titles)} AND {last}" if titles else last,
        )


def purposes(solution: Solution, content: Box) -> tuple[Purpose, ...]:
    """Draw everything that goes on a sheet, by what the sheet is for."""
    views = Views(solution, content)
    scale = views.scale
    found = (
        _general(solution, content, scale),
        Purpose("elevation", "ELEVATION AND PLAN", (views.main,), 2),
        Purpose(
            "returns",
            "RETURNS AND SECTIONS",
            (
                *views.others("plan", "course"),
                *views.rows("side", "upright"),
            ),
            3,
        ),
        Purpose("details", "DETAILS", tuple(views.others("detail")), 5),
        Purpose("hearth", "HEARTH IN BRICK", tuple(views.others("hearth")), 4),
        _cut_pieces(solution, content, views),
        _schedules(solution, content, scale),
        _review(solution, content, scale),
    )
    kept = (purpose for purpose in found if purpose.items)
    if solution.job.sheet.profile != "iso":
        return tuple(kept)
    return tuple(
        replace(purpose, items=tuple(_with_arrows(item) for item in purpose.items))
        for purpose in kept
    )


def _with_arrows(item: Item) -> Item:
    return replace(
        item, parts=tuple((with_arrows(drawing), at) for drawing, at in item.parts)
    )


def _general(solution: Solution, content: Box, scale: float) -> Purpose:
    """Letter the notes and cautions, and list materials and revisions."""
    job, style = solution.job, STYLES[solution.lengths]
    width = min(NOTES_WIDE * style.text, content[2] - content[0])
    lettered = (general_notes(solution), caution_notes(job))
    listed = [schedules.materials_table(job)]
    listed += fields_left_out(solution)
    if job.revision:
        listed.append(schedules.revisions_table(job))
    drawings = (
        draw_legend(solution, scale),
        *_noted(lettered, content, scale, width, style),
        *_tabled(listed, content, scale, style),
    )
    items = tuple(alone(each, is_words=True) for each in drawings)
    return Purpose("general", "GENERAL NOTES", items)


LONGEST_TITLE = "RETURNS AND SECTIONS (2), HEARTH IN BRICK, DETAILS AND CUT PIECES (2)"


def fields_left_out(solution: Solution) -> Iterator[Table]:
    """List the fields that the title block has no room for, if there are any."""
    job = solution.job
    wide, high = (float(side) for side in job.paper)
    numbers = sheet_numbers(job, "A-999", 99, 99)
    block = title_block(solution, numbers, LONGEST_TITLE, "AS SHOWN")
    cells = left_out((wide, high), job.lengths, block)
    if cells:
        rows = tuple((cell.name, cell.value) for cell in cells)
        columns = (Column("FIELD"), Column("WHAT IT SAYS"))
        yield Table("fields", "FIELDS OF THE TITLE BLOCK", columns, rows)


def _cut_pieces(solution: Solution, content: Box, views: Views) -> Purpose:
    """Draw what is sawn, beside its list, the cut plan and the stops of the saw."""
    job, style = solution.job, STYLES[solution.lengths]
    listed = [
        tables.cut_list_table(solution),
        schedules.fabrication_table(job, solution.fabrication),
        schedules.cut_plan_table(job, solution.cut_plan),
        schedules.stops_table(job, solution.cut_plan),
    ]
    lettered = _tabled(listed, content, views.scale, style)
    drawn = cut_pieces.draw_details(solution, views.large)
    items = (
        *(alone(drawing) for drawing in drawn),
        *(alone(drawing, is_words=True) for drawing in lettered),
    )
    return Purpose("cut-pieces", "CUT PIECES", items, 5)


def _schedules(solution: Solution, content: Box, scale: float) -> Purpose:
    """List courses, targets, what to order and how long to wait."""
    style = STYLES[solution.lengths]
    listed = [
        tables.coursing_table(solution),
        *tables.riser_tables(solution),
        tables.targets_table(solution),
        tables.takeoff_table(solution),
        schedules.schedule_table(solution.schedule),
    ]
    lettered = _tabled(listed, content, scale, style)
    items = tuple(alone(drawing, is_words=True) for drawing in lettered)
    return Purpose("schedules", "SCHEDULES", items, 6)


def _review(solution: Solution, content: Box, scale: float) -> Purpose:
    """List what was reviewed, what was found, and what was not checked."""
    style = STYLES[solution.lengths]
    lettered = _tabled([tables.findings_table(solution)], content, scale, style)
    items = tuple(alone(drawing, is_words=True) for drawing in lettered)
    return Purpose("review", "CLEARANCE REVIEW", items, 6)


def _noted(
    notes: tuple[Notes, ...],
    content: Box,
    scale: float,
    width: float,
    style: PaperStyle,
) -> list[Drawing]:
    """Letter notes in as many columns as the height of the sheet calls for."""
    drawings = []
    for note in notes:
        drawing = draw_notes(note, style.text, scale, width)
        if size_on_paper(drawing)[1] <= content[3] - content[1]:
            drawings.append(drawing)
            continue
        half = len(note.paragraphs) // 2
        for part, paragraphs in enumerate(
            (note.paragraphs[:half], note.paragraphs[half:])
        ):
            title = note.title if not part else f"{note.title} (CONTINUED)"
            one = replace(
                note, name=f"{note.name}-{part}", title=title, paragraphs=paragraphs
            )
            drawings += _noted((one,), content, scale, width, style)
    return drawings


def _tabled(
    listed: list[Table], content: Box, scale: float, style: PaperStyle
) -> list[Drawing]:
    """Draw tables that have rows, each split in parts if it is higher than a sheet."""
    room = content[2] - content[0], content[3] - content[1]
    return [
        drawing
        for table in listed
        if table.rows
        for drawing in _split(table, room, scale, style)
    ]


def _split(
    table: Table, room: tuple[float, float], scale: float, style: PaperStyle
) -> list[Drawing]:
    drawing = draw_table(table, style.text, scale, room[0])
    if size_on_paper(drawing)[1] <= room[1] or len(table.rows) < 2:
        return [drawing]
    half = len(table.rows) // 2
    title = table.title.removesuffix(" (CONTINUED)")
    parts = (
        replace(table, rows=table.rows[:half]),
        replace(
            table,
            name=f"{table.name}-on",
            title=f"{title} (CONTINUED)",
            rows=table.rows[half:],
        ),
    )
    return [d for part in parts for d in _split(part, room, scale, style)]
