"""Draw the fabricator's ticket: what to saw, from which brick and in which order.

In:  `Solution`.   Out: `Sheet`s.
Frame: each part in inches from its own upper left corner, y up; the page puts the parts
under one another and turns inches into its lengths, larger where few marks leave room.

A flat piece is seen from its face, lying down as it lies on the saw. A corner unit is
seen from above; a leg of it that is sawn to shape is seen from its face as well.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import ceil

from shopdraw.drawing import layers
from shopdraw.drawing.extents import about, extent_of
from shopdraw.drawing.ink import Align, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import plain, width_of
from shopdraw.drawing.moving import moved
from shopdraw.drawing.papers import Part, page_of
from shopdraw.drawing.sheets import SCALES, Sheet
from shopdraw.drawing.tables import MANY_ROWS, Column, draw_table
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.lengths import MM_PER_INCH, format_made, typed_length
from shopdraw.masonry.wall.layout import CORNER_KINDS
from shopdraw.masonry.wall.turning import turning_of
from shopdraw.quantities.cutting import CutPlan
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.solution import Solution
from shopdraw.views.making.marks import lines_of, longest_sketch, views_of
from shopdraw.views.making.mitred_units import making_of
from shopdraw.views.making.sizes import (
    LYING,
    angles_of,
    corners_of,
    ends_kept,
    finished_size,
    kind_of,
    notes_of,
)
from shopdraw.views.parts.stamps import drawn_from, page_size
from shopdraw.views.words.notes import caution_notes, ticket_legend
from shopdraw.views.words.schedules import cut_plan_table, sawing_table

MARGIN, GAP, GUTTER, PAD, LEAST_CELL = 0.4, 0.13, 0.2, 0.08, 2.3
"""In inches; the gutter is the gap between two columns."""
TITLE, MARK, HEAD, SIZE, TEXT, FINE, PITCH = 0.15, 0.13, 0.075, 0.07, 0.0625, 0.056, 1.7
"""Heights of lettering, and how far apart its lines are, in heights."""
SQUARE, PAST = 0.11, 0.06
"""In inches: a square to tick, and how far a sketch's cut lines run past the brick."""
LARGER = (1.6, 1.25, 1.0)
"""How much larger than usual a ticket that fits one page may be, the largest first."""
TOPICS = ("CODE", "SILICA", "SAW")
"""The cautions for whoever saws; the first says who decides."""
DIVIDED = 3 * MANY_ROWS
"""A table is divided only where it has more rows."""
FIELDS = ((0.32, 0.14, 0.16, 0.12, 0.26), (0.32, 0.3, 0.12, 0.26))
"""How wide the boxes of the heading are, row by row, as parts of the width."""
Rows = tuple[FabricationRow, ...]
Views = tuple[tuple[str, tuple[Stroke, ...]], ...]
"""The views of a mark, each with its caption."""


@dataclass(frozen=True)
class TicketPage:
    """The measures that the parts of a page are set out with.

    Attributes:
        job: says its lengths, and what the heading says.
        wide, high: within the margins.
        half: how wide one of two columns is.
        cell: how wide a mark's cell is.
        unit: how long an inch of a part is on paper, in the job's lengths.
        scale: of the sketches.
        sketches: the views of each mark at that scale, in the marks' order.
    """

    job: Job
    wide: float
    high: float
    half: float
    cell: float
    unit: float
    scale: float
    sketches: tuple[Views, ...] = ()


def draw_ticket(solution: Solution) -> tuple[Sheet, ...]:
    """Draw the ticket on upright pages, on one page if the marks fit.

    Raises:
        NotDrawable: a page has no room for a mark.
    """
    job, rows, plan = solution.job, solution.fabrication, solution.cut_plan
    size = page_size(solution)
    inch = 1.0 if job.lengths == "in" else float(MM_PER_INCH)
    is_unfolded = any(each.row.unfolded for each in rows)
    page, pages = _page(job, size, inch, 1.0, is_unfolded), list[list[Part]]()
    for larger in LARGER if rows else ():
        page = _sketched(_page(job, size, inch, larger, is_unfolded), rows, page)
        pages = _pages(page, rows, plan)
        if len(pages) == 1:
            break
    if rows and not pages:
        message = "sheet.page: the ticket needs a page of letter or A4 at least"
        raise NotDrawable(message)
    corner = (MARGIN * inch, size[1] - MARGIN * inch)
    return tuple(
        page_of(
            _on_paper(page, parts, corner),
            ("ticket", "TICKET"),
            size,
            job.lengths,
            number=number,
        )
        for number, parts in enumerate(pages, start=1)
    )


def _page(
    job: Job, size: tuple[float, float], inch: float, larger: float, is_unfolded: bool
) -> TicketPage:
    """Set out a page, its sketches at the largest scale that fits a cell."""
    unit = larger * inch
    wide, high = (side / unit - 2 * MARGIN / larger for side in size)
    half, cell = (wide - GUTTER) / 2, wide / max(1, int(wide / LEAST_CELL))
    longest = longest_sketch(job, is_unfolded)
    room = (cell - 2 * (PAD + PAST)) * unit
    scales = [scale for scale, _ in SCALES[job.scales]]
    scale = min((x for x in scales if longest / x <= room), default=scales[-1])
    return TicketPage(job, wide, high, half, cell, unit, scale)


def _sketched(page: TicketPage, rows: Rows, last: TicketPage) -> TicketPage:
    """Sketch each mark, unless the last page tried has them at the same scale."""
    sketches = last.sketches
    if not sketches or last.scale != page.scale:
        sketches = tuple(
            tuple(views_of(page.job, each.row, page.scale)) for each in rows
        )
    return replace(page, sketches=sketches)


def _pages(page: TicketPage, rows: Rows, plan: CutPlan) -> list[list[Part]]:
    """Put the parts on pages; return none where one part is higher than a page."""
    foot = _cautions(page)
    heads = [sum(high for _, high in _heading(page, rows, plan, x, x)) for x in (1, 2)]
    rooms = [page.high - foot[1] - GAP - head for head in heads]
    pages: list[list[Part]] = [[]]
    left = rooms[0]
    for part in (*_cells(page, rows), *_sequence(page, rows, plan)):
        if part[1] > left and pages[-1]:
            pages.append([])
            left = rooms[1]
        pages[-1].append(part)
        left -= part[1]
        if left < 0:
            return []
    return [
        [*_heading(page, rows, plan, number, len(pages)), *parts, foot]
        for number, parts in enumerate(pages, start=1)
    ]


def _on_paper(page: TicketPage, parts: list[Part], corner: Point) -> tuple[Ink, ...]:
    """Put parts under one another, the last one at the foot of the page."""
    ink: list[Ink] = []
    y = 0.0
    for marks, high in parts[:-1]:
        ink += _moved(marks, 0.0, y)
        y -= high
    foot, high = parts[-1]
    ink += _moved(foot, 0.0, high - page.high)
    return tuple(_moved(ink, *corner, page.unit))


def _moved(ink: Iterable[Ink], x: float, y: float, unit: float = 1.0) -> Iterator[Ink]:
    """Move a part's ink to its place, and scale it."""
    return (moved(each, (x, y), unit) for each in ink)


def _words(at: Point, text: str, height: float = TEXT, align: Align = "left") -> Words:
    return Words(layers.NOTES, at, text, height, align)


def _box(left: float, top: float, wide: float, high: float) -> Stroke:
    right, foot = left + wide, top - high
    corners = ((left, foot), (right, foot), (right, top), (left, top))
    return Stroke(layers.TABLES, corners, closed=True)


def _lines(texts: Iterable[str], height: float, width: float, x: float = 0.0) -> Part:
    """Letter texts under one another, each broken to fit the width."""
    lines = [line for text in texts for line in lines_of(text, height, width)]
    pitch = PITCH * height
    ink: list[Ink] = [
        _words((x, -pitch * place), line, height)
        for place, line in enumerate(lines, start=1)
    ]
    return tuple(ink), pitch * len(lines)


def _heading(
    page: TicketPage, rows: Rows, plan: CutPlan, number: int, count: int
) -> Iterator[Part]:
    """Letter the heading; on the first page also the brick, the saw and the legend."""
    more = "" if number == 1 else f" ({number})"
    title = _words((0, -TITLE), f"FABRICATOR'S TICKET{more}", TITLE)
    said = f"PAGE {number} OF {count}", drawn_from(page.job).words
    beside = [
        _words((page.wide, row * (TITLE - TEXT) - TITLE), words, align="right")
        for row, words in enumerate(said)
    ]
    yield (title, *beside), TITLE + 0.1
    fields = _fields(page.job, plan)
    for widths in FIELDS if number == 1 else FIELDS[:1]:
        yield _boxes([(share * page.wide, *next(fields)) for share in widths])
    if number == 1:
        yield (), 0.03
        tells = any(True for x in rows for _ in corners_of(page.job, x.row))
        legend = ticket_legend(page.job, page.scale, tells_corners=tells)
        yield _lines([legend], FINE, page.wide)
    yield (), GAP


def _fields(job: Job, plan: CutPlan) -> Iterator[tuple[str, str]]:
    """Yield the boxes of the heading in order, each with its name."""
    given, brick = job.job, job.brick
    yield "PROJECT", given.name
    yield "NUMBER", given.number
    yield "DATE", str(given.date or "")
    yield "REVISION", given.revision or "none"
    yield "DRAWN BY", given.drawn_by
    sides = (brick.length, brick.height, brick.thickness)
    size = " x ".join(format_made(side, job.lengths) for side in sides)
    yield "BRICK", f"{size}, {brick.size or 'as measured'}"
    yield "LOT", given.units_lot
    yield "KERF", typed_length(plan.kerf, job.lengths)
    bound = "the fewest possible"
    if not plan.is_proved:
        bound = f"any plan needs {plan.least}"
    yield (
        "WHOLE UNITS TO SAW",
        f"{plan.whole_units}; {bound}" if plan.units else "none",
    )


def _boxes(fields: list[tuple[float, str, str]]) -> Part:
    """Draw a row of boxes, each with its name above its words."""
    said = [
        _lines([plain(words) or "not given"], TEXT, wide - 2 * PAD, PAD)
        for wide, _, words in fields
    ]
    high = 0.15 + max(each[1] for each in said) + 0.05
    ink: list[Ink] = []
    x = 0.0
    for (wide, name, _), (lines, _) in zip(fields, said, strict=True):
        ink += (_box(x, 0.0, wide, high), _words((x + PAD, -0.115), name, FINE))
        ink += _moved(lines, x, -0.14)
        x += wide
    return tuple(ink), high


def _cautions(page: TicketPage) -> Part:
    """Letter the cautions at the foot of the page, in two columns."""
    words = caution_notes(page.job).paragraphs
    code, *saw = (x for topic in TOPICS for x in words if x.startswith(f"{topic}."))
    ours, others = _lines(saw, FINE, page.half), _lines([code], FINE, page.half)
    ink: list[Ink] = [_words((0, -HEAD), "CAUTIONS", HEAD)]
    ink += _moved(ours[0], 0.0, -HEAD - 0.03)
    ink += _moved(others[0], page.half + GUTTER, -HEAD - 0.03)
    return tuple(ink), HEAD + 0.06 + max(ours[1], others[1])


def _cells(page: TicketPage, rows: Rows) -> Iterator[Part]:
    """Yield the marks, a row of cells at a time, their sketches in line."""
    columns = round(page.wide / page.cell)
    for start in range(0, len(rows), columns):
        some = slice(start, start + columns)
        trios = [
            (_named(page, each), _sketch(page, views), _notes(page, each))
            for each, views in zip(rows[some], page.sketches[some], strict=True)
        ]
        highs = [max(trio[i][1] for trio in trios) for i in range(3)]
        total = sum(highs) + 4 * PAD
        ink: list[Ink] = []
        for place, trio in enumerate(trios):
            x, y = place * page.cell, -PAD
            ink.append(_box(x, 0.0, page.cell, total))
            for part, room in zip(trio, highs, strict=True):
                drop = (room - part[1]) / 2 if part is trio[1] else 0.0
                ink += _moved(part[0], x, y - drop)
                y -= room + PAD
        yield tuple(ink), total


def _named(page: TicketPage, each: FabricationRow) -> Part:
    """Letter a mark, how many to make, its kind and its finished size."""
    row, right = each.row, page.cell - PAD
    plural = "" if each.spares == 1 else "S"
    said = f"{row.count} + {each.spares} SPARE{plural} = MAKE {each.make}"
    x, y = 2 * PAD + SQUARE, -MARK
    ink: list[Ink] = [
        _box(PAD, y + (MARK + SQUARE) / 2, SQUARE, SQUARE),
        _words((x, y), row.mark, MARK),
    ]
    if x + width_of(row.mark, MARK) + width_of(said, TEXT) + PAD > right:
        y -= PITCH * TEXT
    ink.append(_words((right, y), said, TEXT, "right"))
    texts = (kind_of(row), finished_size(page.job, row))
    lines, high = _lines(texts, SIZE, page.cell - 2 * PAD, PAD)
    return (*ink, *_moved(lines, 0.0, y - 0.03)), high - y + 0.03


def _sketch(page: TicketPage, views: Views) -> Part:
    """Draw the views of a piece to scale, one below another."""
    ink: list[Ink] = []
    y, part = 0.0, 1 / (page.scale * page.unit)
    for caption, strokes in views:
        if caption:
            y -= PITCH * FINE + (PAD if ink else 0.0)
            ink.append(_words((page.cell / 2, y), caption, FINE, "centre"))
            y -= 0.06
        left, bottom, right, top = about(p for line in strokes for p in line.points)
        x = page.cell / 2 - (left + right) / 2 * part
        ink += _moved(strokes, x, y - top * part, part)
        y -= (top - bottom) * part
    return tuple(ink), -y


def _notes(page: TicketPage, each: FabricationRow) -> Part:
    """Letter what the sketch can't show: tolerance, ends, turning, corners."""
    job, row = page.job, each.row
    what = "LEGS" if row.kind in CORNER_KINDS else "SAWN SIZES"
    within = typed_length(each.tolerance, job.lengths).upper()
    said = (
        f"TOLERANCE OF {what}: {within} EITHER WAY",
        f"ENDS AS DELIVERED: {', '.join(ends_kept(job, row)) or 'NONE'}",
        *notes_of(row),
        "45-DEGREE EDGE: SEE THE END VIEW AT THE RIGHT, FACE TO ITS LEFT"
        if "mitre" in row.note and not row.is_made
        else "",
        *(making_of(row) if row.is_made else ()),
        turning_of(row).upper(),
        *angles_of(row),
        "DRAWN LYING DOWN, FOOT TO THE LEFT, LEFT SIDE UP" if row.kind in LYING else "",
        *corners_of(job, row),
    )
    return _lines((x for x in said if x), FINE, page.cell - 2 * PAD, PAD)


def _sequence(page: TicketPage, rows: Rows, plan: CutPlan) -> Iterator[Part]:
    """Yield the saw stops beside the cut plan, some rows at a time."""
    stops = sawing_table(page.job, rows, plan)
    done = replace(
        stops,
        columns=(Column("DONE"), *stops.columns),
        rows=tuple(("", *row) for row in stops.rows),
    )
    tables = ((0.0, done), (page.half + GUTTER, cut_plan_table(page.job, plan)))
    parts = [ceil(len(x.rows) / DIVIDED) for _, x in tables]
    for n in range(max(parts)):
        ink: list[Ink] = []
        depth = 0.0
        for (x, table), count in zip(tables, parts, strict=True):
            again = f"{table.title.replace(':', ',').split(',')[0]} (CONTINUED)"
            # Each as even as it can be.
            step = ceil(len(table.rows) / count) if count else 0
            some = table.rows[n * step : (n + 1) * step]
            if some:
                part = replace(table, rows=some, title=again if n else table.title)
                # What is ticked has a line under each row.
                drawn = draw_table(part, TEXT, 1.0, page.half, ruled=table is done)
                ink += _moved(drawn.ink, x, -GAP)
                depth = max(depth, GAP - extent_of(drawn)[1])
        yield tuple(ink), depth
