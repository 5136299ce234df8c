"""Draw what each sheet is for: its views, its tables, its notes.

In:  `Solution`, the room on a sheet.   Out: `Purpose`s.
Frame: paper lengths, in the job's lengths.
"""

from __future__ import annotations

from bisect import bisect
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import chain, product
from math import ceil

from shopdraw.drawing.arranging import Item, alone
from shopdraw.drawing.composing import Purpose
from shopdraw.drawing.framing import left_out
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.sheets import STYLES, PaperStyle, size_on_paper
from shopdraw.drawing.tables import (
    Column,
    Notes,
    Table,
    draw_notes,
    draw_table,
    fitted,
    least_width,
    without_blank,
)
from shopdraw.solution import Solution
from shopdraw.views.general import CLOSE, ROW, draw_legend, index_table
from shopdraw.views.making import cut_pieces
from shopdraw.views.parts.stamps import sheet_numbers, title_block
from shopdraw.views.projection import GAP, Views, profiled
from shopdraw.views.review.where import with_views
from shopdraw.views.words import schedules, tables
from shopdraw.views.words.notes import caution_notes, general_notes

ON = " (CONTINUED)"
"""What a part of a table, or of notes, has in its title from the second on."""
INDEX, LONG_INDEX = 8, 24
"""The index of sheets, which is made last, has about so many rows; of narrow sheets."""
SLACK = 8
"""One column of notes may be so many heights of lettering longer than another."""
LEAST = 16
"""Notes begin under the legend of a narrow sheet where it leaves so many heights."""
TABLE_WIDE = 60
"""A column of a table that shares a sheet has at least so many heights of lettering."""
SAWN_LISTS = {
    "cut-list": "CUT LIST",
    "fabrication": "FABRICATOR'S LIST",
    "cut-plan": "CUT PLAN",
    "saw-stops": "SAW STOPS",
}
"""The lists beside the cut pieces; a sheet with one of them alone has its name."""
NOTES_WIDE = 56
"""How wide the column of notes is, in heights of lettering."""


def purposes(solution: Solution, content: Box) -> Iterator[tuple[Purpose, ...]]:
    """Draw everything that goes on a sheet, by what the sheet is for.

    Yields:
        Every way that is to be tried, of two that look alike the better one first: the
        courses listed with what else is to be known, or beside the returns; the section
        beside the returns, or after the plans; the schedules at the end, or beside the
        general notes; the review at the end, or sooner, where there is room.

    Raises:
        NotDrawable: the paper is too small for the scale asked for, or for any scale.
    """
    views = Views(solution, content)
    front = Purpose("elevation", views.main, 2, is_apart=True)
    hearth = Purpose("hearth", tuple(views.others("hearth")), 4)
    details = Purpose("details", tuple(views.others("detail")), 5)
    cut = _cut_pieces(solution, content, views)
    listed = _schedules(solution, content, views.scale)
    review = _review(solution, content, views.scale)
    courses = replace(listed, items=(replace(listed.items[0], shows=("COURSE LIST",)),))
    rest = replace(listed, items=listed.items[1:])
    besides = tuple(_beside(views))
    returns = Purpose("returns", besides[0], 3)
    general = _general(
        solution, (front, returns, hearth, details, cut), content, views.scale
    )
    apart = ((replace(listed, items=()), listed), (courses, rest))
    ways = product(apart, besides, PLACES)
    for (beside, other), sides, (first, second) in ways:
        row, *rows = (Purpose("returns", x, 3) for x in (sides[:1], sides[1:]))
        drawn = (
            *((general,), (front,), (row, beside, *rows)),
            *((hearth,), (details,), (cut,)),
        )
        order = (*drawn[:first], (other,), *drawn[first:second], (review,))
        flat = chain.from_iterable((*order, *drawn[second:]))
        yield tuple(purpose for purpose in flat if purpose.items)


PLACES = ((6, 6), *((1, place) for place in (6, 5, 4, 3, 2, 1)))
"""Behind so many purposes stand the schedules and the review: at the end, or sooner."""


def _beside(views: Views) -> Iterator[tuple[Item, ...]]:
    """Yield the returns, sections and further plans in each order that is tried.

    Where a section goes into the row of the returns it stands there, in projection.
    """
    sides, uprights = tuple(views.rows("side")), tuple(views.rows("upright"))
    joined = tuple(views.rows("side", "upright"))
    plans = tuple(views.others("plan", "course"))
    yield (*joined, *plans)
    if len(joined) == len(sides) + len(uprights):
        yield (*sides, *plans, *uprights)


def _general(
    solution: Solution, drawn: tuple[Purpose, ...], content: Box, scale: float
) -> Purpose:
    """Explain what is drawn; letter notes, cautions; list materials and revisions."""
    job, style = solution.job, STYLES[solution.lengths]
    width = min(NOTES_WIDE * style.text, content[2] - content[0])
    lettered = (general_notes(solution), caution_notes(job))
    listed = [schedules.materials_table(job), *fields_left_out(solution)]
    if job.revision:
        listed.append(schedules.revisions_table(job))
    shown = (
        drawing
        for purpose in drawn
        for item in purpose.items
        for drawing, _ in item.parts
    )
    is_narrow = content[2] - content[0] < 2 * width + GAP * style.text
    legend = draw_legend(solution, shown, scale, CLOSE if is_narrow else ROW)
    noted = (
        _general_item(legend),
        *_noted(lettered, (content, legend), scale, width, style),
        *map(_general_item, tabled(listed, content, scale, style)),
    )
    return Purpose("general", noted)


def _general_item(drawing: Drawing) -> Item:
    return alone(drawing, shows="GENERAL NOTES", is_words=True)


LONGEST_TITLE = (
    "RETURNS, SECTIONS AND PLANS, DETAILS, CUT PIECES AND SAWYER'S LISTS (2)"
)
"""What is left out must be known before a sheet has its title: one of the longest."""


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


def _made(drawing: Drawing) -> str:
    """Return what a sheet's title calls details of pieces."""
    return "CUT PIECES" if "CUT PIECES" in drawing.title else drawing.title


def _listed(drawing: Drawing) -> str:
    """Return what a sheet's title calls a list of what is sawn."""
    return next(x for name, x in SAWN_LISTS.items() if drawing.name.startswith(name))


def _cut_pieces(solution: Solution, content: Box, views: Views) -> Purpose:
    """Draw what is sawn, beside its list, the cut plan and the stops of the saw."""
    job, style = solution.job, STYLES[solution.lengths]
    listed = [
        tables.cut_list_table(solution),
        schedules.fabrication_table(job, solution.fabrication),
        schedules.cut_plan_table(job, solution.cut_plan),
        schedules.stops_table(job, solution.cut_plan),
    ]
    lettered = tabled(listed, content, views.scale, style, 2)
    drawn = cut_pieces.draw_details(solution, views.large)
    items = (
        *(alone(profiled(job, x), shows=_made(x)) for x in drawn),
        *(alone(x, shows=_listed(x), is_words=True) for x in lettered),
    )
    return Purpose("cut-pieces", items, 5)


def _schedules(solution: Solution, content: Box, scale: float) -> Purpose:
    """List courses, targets, what to order and how long to wait."""
    style = STYLES[solution.lengths]
    listed = [
        tables.coursing_table(solution),
        tables.as_built_table(solution),
        tables.used_table(solution),
        *tables.riser_tables(solution),
        tables.targets_table(solution),
        tables.takeoff_table(solution),
        schedules.schedule_table(solution.schedule),
    ]
    lettered = tabled(listed, content, scale, style, 3)
    items = (alone(x, shows="SCHEDULES", is_words=True) for x in lettered)
    return Purpose("schedules", tuple(items), 6)


def _review(solution: Solution, content: Box, scale: float) -> Purpose:
    """List what was reviewed, what was found, and what was not checked."""
    style = STYLES[solution.lengths]
    listed = with_views(solution, tables.findings_table(solution))
    lettered = tabled([listed], content, scale, style)
    items = (alone(x, shows="CLEARANCE REVIEW", is_words=True) for x in lettered)
    return Purpose("review", tuple(items), 6)


def _noted(
    notes: tuple[Notes, ...],
    below: tuple[Box, Drawing],
    scale: float,
    width: float,
    style: PaperStyle,
) -> list[Item]:
    """Letter notes in columns that are about even, as many as they call for.

    Args:
        notes: what to letter.
        below: the room on a sheet, and the legend that the first notes stand below.
        scale: of the sheet's model space.
        width: of a column.
        style: of its lettering.
    """
    content, legend = below
    room = content[3] - content[1]
    is_narrow = content[2] - content[0] < 2 * width + GAP * style.text
    rows = LONG_INDEX if is_narrow else INDEX
    index = draw_table(index_table((), rows), style.text, scale)
    taken = sum(size_on_paper(each)[1] for each in (index, legend))
    left = room - taken - 2 * GAP * style.text
    found: list[Item] = []
    for note in notes:
        high = size_on_paper(draw_notes(note, style.text, scale, width))[1]
        columns = ceil((taken + high) / room)
        rooms = room, room
        if is_narrow:
            # A column is a sheet: the first one is what the legend leaves of its own.
            has_some = taken and high > left > LEAST * style.text
            rooms = left if has_some else room, room
        elif columns > 1:
            even = min(room, high / columns + SLACK * style.text)
            rooms = even, even
        found += _columns(note, rooms, scale, width, style)
        taken = 0.0
    return found


def _columns(
    note: Notes,
    rooms: tuple[float, float],
    scale: float,
    width: float,
    style: PaperStyle,
) -> Iterator[Item]:
    """Yield columns of notes, each with as many paragraphs as go into its room.

    The first of `rooms` is the first column's, the second that of all others. Two that
    come to stand one under the other are one again.
    """

    def lettered(start: int, end: int) -> Item:
        part = replace(note, paragraphs=note.paragraphs[start:end])
        if start:
            name, title = f"{note.name}-on", note.title + ON
            part = replace(part, name=name, title=title, first=note.first + start)
        return _general_item(draw_notes(part, style.text, scale, width))

    before, start, end, last = None, 0, 0, len(note.paragraphs)
    while end < last:
        room, first = rooms[bool(before)], end
        many = range(first + 2, last + 1)
        end = bisect(many, room, key=lambda n: lettered(first, n).size[1]) + first + 1
        item = lettered(first, end)
        if before is not None:
            item = replace(item, joined=_joining(before, lettered, (start, end)))
        yield item
        before, start = item, first


def _joining(
    before: Item, lettered: Callable[[int, int], Item], both: tuple[int, int]
) -> Callable[[Item], Item | None]:
    """Return what letters two parts of notes as one, the first of them given."""
    return lambda above: lettered(*both) if above is before else None


def tabled(
    listed: list[Table],
    content: Box,
    scale: float,
    style: PaperStyle,
    share: int = 1,
) -> list[Drawing]:
    """Draw tables that have rows, each split in parts if it is higher than a sheet.

    Args:
        listed: what to draw.
        content: the room on a sheet.
        scale: of the sheet's model space.
        style: of the lettering.
        share: of so many columns a table takes one, if that is not too narrow.
    """
    wide, high = content[2] - content[0], content[3] - content[1]
    shared = [
        (wide - (each - 1) * GAP * style.text) / each for each in range(share, 0, -1)
    ]

    def room(table: Table) -> tuple[float, float]:
        least = max(TABLE_WIDE * style.text, least_width(table, style.text))
        return next((each for each in shared if each >= least), wide), high

    return [
        drawing
        for table in map(without_blank, listed)
        if table.rows
        for drawing in _split(
            fitted(table, style.text, room(table)[0]), room(table), scale, style
        )
    ]


def _split(
    table: Table,
    room: tuple[float, float],
    scale: float,
    style: PaperStyle,
    whole: Table | None = None,
) -> Iterator[Drawing]:
    """Yield a table, or parts of it with as many rows as a sheet takes.

    One that is itself what is left of a whole has columns as wide as that has.
    """

    def part(rows: int) -> Drawing:
        shown = replace(table, rows=table.rows[:rows])
        return draw_table(shown, style.text, scale, room[0], whole or table)

    every = part(len(table.rows))
    if size_on_paper(every)[1] <= room[1] or len(table.rows) < 2:
        yield every
        return
    too_many = range(2, len(table.rows) + 1)
    rows = bisect(too_many, room[1], key=lambda n: size_on_paper(part(n))[1]) + 1
    yield part(rows)
    rest = replace(
        table,
        name=f"{table.name}-on",
        title=f"{table.title.removesuffix(ON)}{ON}",
        rows=table.rows[rows:],
    )
    yield from _split(rest, room, scale, style, whole or table)
