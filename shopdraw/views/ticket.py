"""Draw the fabricator's ticket: what to saw, from what, in which order, to tick off.

In:  `Job`, the fabrication list, the cut plan, the page's size.   Out: `Sheet`s.
Frame: each part in inches from its own upper left corner, y up; the page puts the parts
under one another and turns inches into its lengths, larger where few marks leave room.

A flat piece is drawn from its face, the brick's length level as it lies on the saw; a
corner unit from above, and a leg of it that is sawn to shape from its face besides.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import zip_longest
from math import hypot

from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Align, Drawing, Point, Stroke, Words
from shopdraw.drawing.lettering import plain, width_of, wrap
from shopdraw.drawing.sheets import (
    SCALES,
    PlacedDrawing,
    Placement,
    Sheet,
    scale_name,
)
from shopdraw.errors import NotDrawable
from shopdraw.job.model import CornerTable, Job
from shopdraw.lengths import MM_PER_INCH, format_length, typed_length
from shopdraw.masonry.layout import (
    CORNER_KINDS,
    SIDES,
    STANDING_KINDS,
    CutListRow,
    Outline,
)
from shopdraw.masonry.surround import corner_legs
from shopdraw.quantities.cutting import CutPlan, SawnUnit, SawStop
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.views.corner_units import MADE
from shopdraw.views.tables import caution_notes
from shopdraw.views.units import CUTS, TYPE_STATES, UNITS

NOTE, TABLE = "A-ANNO-NOTE", "A-ANNO-SCHD"
SECTION, STOCK = "A-SECT-MCUT", "A-ELEV-HIDD"
MARGIN, GAP, GUTTER, PAD, LEAST_CELL = 0.4, 0.13, 0.2, 0.08, 2.3
"""The measures are in inches; the gutter is between two columns."""
TITLE, MARK, HEAD, SIZE, TEXT, FINE, PITCH = 0.15, 0.125, 0.075, 0.07, 0.0625, 0.056, 1.7
"""Heights of lettering, and how far apart its lines are, in heights."""
SQUARE, PAST, ROW, HIGHEST = 0.11, 0.06, 0.17, 1.5
"""A square to tick, how far a cut line goes past the piece, a row of the sequence, and
what a sketch may be high."""
LARGER = (1.6, 1.45, 1.3, 1.15, 1.0)
"""How many times as large a ticket of one page may be."""
TOPICS = ("silica", "saw", "code")
"""The cautions for whoever saws, and whose word goes before this ticket's."""
FIELDS = ((0.34, 0.14, 0.14, 0.12, 0.26), (0.34, 0.28, 0.12, 0.26))
"""How wide the boxes of the heading are, row by row, in parts of the width."""
TO_SHAPE = "one end as delivered"
Mark = Stroke | Words
Part = tuple[list[Mark], float]
"""The ink of a part, and how high it is."""
View = tuple[str, list[Stroke]]
"""What a sketch shows, where it is not plain, and its lines at full size."""


@dataclass(frozen=True)
class Page:
    """What the parts of a page are set out with.

    Attributes:
        job: for lengths and what the heading says.
        wide, high: within the margins.
        unit: how long an inch of a part is on paper, in the job's lengths.
        scale: of the sketches.
        columns: of cells.
    """

    job: Job
    wide: float
    high: float
    unit: float
    scale: float
    columns: int

    @property
    def cell(self) -> float:
        """How wide a cell is."""
        return self.wide / self.columns

    @property
    def half(self) -> float:
        """How wide one of two columns is."""
        return (self.wide - GUTTER) / 2


def draw_ticket(
    job: Job,
    rows: tuple[FabricationRow, ...],
    plan: CutPlan,
    size: tuple[float, float],
) -> tuple[Sheet, ...]:
    """Draw the ticket on pages so wide and so high: one, wherever the marks fit.

    Raises:
        NotDrawable: a page has no room for a mark.
    """
    if not rows:
        return ()
    inch = 1.0 if job.lengths == "in" else float(MM_PER_INCH)
    for larger in LARGER:
        page = _page(job, rows, size, larger * inch)
        pages = _pages(page, rows, plan)
        if len(pages) == 1:
            break
    else:
        if not pages:
            message = "sheet.page: the ticket needs a page of letter or A4 at least"
            raise NotDrawable(message)
    corner = (MARGIN * inch, size[1] - MARGIN * inch)
    place = Placement(1.0, (0.0, 0.0), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0, *size))
    sheets = []
    for number, parts in enumerate(pages, start=1):
        ink = _on_paper(page, parts, corner)
        placed = PlacedDrawing(Drawing(f"ticket-{number}", "", 1.0, ink), place)
        name, title = f"ticket-{number}", f"TICKET ({number})"
        if number == 1:
            name, title = "ticket", "TICKET"
        sheets.append(Sheet(number, name, title, *size, job.lengths, (placed,), ()))
    return tuple(sheets)


def _page(
    job: Job, rows: tuple[FabricationRow, ...], size: tuple[float, float], unit: float
) -> Page:
    """Set out a page, its sketches in the largest scale that fits a cell."""
    margins = 2 * MARGIN * (1.0 if job.lengths == "in" else float(MM_PER_INCH))
    wide, high = ((side - margins) / unit for side in size)
    columns = max(1, int(wide / LEAST_CELL))
    room = wide / columns - 2 * (PAD + PAST)
    every = [lines for each in rows for _, lines in _views(job, each.row)]
    needed = 0.0
    for lines in every:
        left, bottom, right, top = _about(lines)
        needed = max(needed, (right - left) / room, (top - bottom) / HIGHEST)
    scales = [scale for scale, _ in SCALES[job.scales]]
    fitting = [scale for scale in scales if needed / unit <= scale]
    return Page(job, wide, high, unit, min(fitting, default=scales[-1]), columns)


def _pages(
    page: Page, rows: tuple[FabricationRow, ...], plan: CutPlan
) -> list[list[Part]]:
    """Put the parts on pages; none at all where one is higher than a page.

    The head of the sequence goes before its rows on every page that has some.
    """
    foot = _cautions(page)
    rooms = [
        page.high - foot[1] - GAP - sum(part[1] for part in _heading(page, plan, *which))
        for which in ((1, 1), (2, 2))
    ]
    head, lines = _sequence(page, rows, plan)
    body = [(part, False) for part in _cells(page, rows)]
    pages: list[list[Part]] = [[]]
    left, is_headed = rooms[0], False
    for part, is_line in (*body, *((line, True) for line in lines)):
        before = [head] if is_line and not is_headed else []
        if sum(high for _, high in (*before, part)) > left:
            before = [head] if is_line else []
            pages.append([])
            left = rooms[1]
        pages[-1] += (*before, part)
        left -= sum(high for _, high in (*before, part))
        is_headed = is_line
        if left < 0:
            return []
    return [
        [*_heading(page, plan, number, len(pages)), *parts, ([], 0.0), foot]
        for number, parts in enumerate(pages, start=1)
    ]


def _on_paper(page: Page, parts: list[Part], corner: Point) -> tuple[Mark, ...]:
    """Put parts under one another, the last at the foot of the page, in its lengths."""
    ink: list[Mark] = []
    y = 0.0
    for marks, high in parts[:-1]:
        ink += _moved(marks, 0.0, y)
        y -= high
    marks, high = parts[-1]
    ink += _moved(marks, 0.0, high - page.high)
    return tuple(_sized(ink, page.unit, corner))


def _moved(ink: Iterable[Mark], x: float, y: float) -> Iterator[Mark]:
    for each in ink:
        if isinstance(each, Words):
            yield replace(each, at=(each.at[0] + x, each.at[1] + y))
        else:
            yield replace(each, points=tuple((a + x, b + y) for a, b in each.points))


def _sized(ink: Iterable[Mark], unit: float, corner: Point) -> Iterator[Mark]:
    """Turn inches into the page's lengths, from a corner of it."""

    def at(point: Point) -> Point:
        return corner[0] + point[0] * unit, corner[1] + point[1] * unit

    for each in ink:
        if isinstance(each, Words):
            height = each.height_on_paper * unit
            yield replace(each, at=at(each.at), height_on_paper=height)
        else:
            yield replace(each, points=tuple(map(at, each.points)))


def _words(at: Point, text: str, height: float = TEXT, align: Align = "left") -> Words:
    return Words(NOTE, at, text, height, align)


def _box(left: float, top: float, wide: float, high: float) -> Stroke:
    right, foot = left + wide, top - high
    corners = ((left, foot), (right, foot), (right, top), (left, top))
    return Stroke(TABLE, corners, closed=True)


def _column(lines: Iterable[str], height: float, width: float, x: float) -> Part:
    """Letter lines under one another, each broken to the width."""
    ink: list[Mark] = []
    y = 0.0
    for line in lines:
        for row in wrap(line, height, width):
            y -= PITCH * height
            ink.append(_words((x, y), row, height))
    return ink, -y


def _heading(page: Page, plan: CutPlan, number: int, count: int) -> Iterator[Part]:
    """Say whose ticket it is; on its first page also of what it is sawn, and how."""
    more = "" if number == 1 else f" ({number})"
    title = _words((0, -TITLE), f"FABRICATOR'S TICKET{more}", TITLE)
    said = f"PAGE {number} OF {count}"
    yield [title, _words((page.wide, -TITLE), said, align="right")], TITLE + 0.1
    fields = list(_fields(page.job, plan))
    for widths in FIELDS if number == 1 else FIELDS[:1]:
        yield _boxes(page, widths, [fields.pop(0) for _ in widths])
    yield _column(_legend(page) if number == 1 else (), FINE, page.wide, 0.0)
    yield [], GAP


def _fields(job: Job, plan: CutPlan) -> Iterator[tuple[str, str]]:
    about_job, brick = job.job, job.brick
    yield "PROJECT", about_job.name
    yield "NUMBER", about_job.number
    yield "DATE", str(about_job.date or "")
    yield "REVISION", about_job.revision or "none"
    yield "DRAWN BY", about_job.drawn_by
    sides = (brick.length, brick.height, brick.thickness)
    size = " x ".join(format_length(side, job.lengths) for side in sides)
    yield "BRICK", f"{size}, {brick.size or 'as measured'}"
    yield "LOT", about_job.units_lot
    yield "KERF", typed_length(plan.kerf, job.lengths)
    proved = "proved the fewest" if plan.is_proved else f"at least {plan.least}"
    units = f"{plan.whole_units}, {proved}" if plan.units else "none"
    yield "WHOLE UNITS TO SAW", units


def _boxes(
    page: Page, widths: tuple[float, ...], fields: list[tuple[str, str]]
) -> Part:
    """Draw a row of boxes, each with its name above what it says."""
    wides = [share * page.wide for share in widths]
    said = [
        _column([plain(value) or "not given"], TEXT, wide - 2 * PAD, PAD)
        for wide, (_, value) in zip(wides, fields, strict=True)
    ]
    high = 0.15 + max(each[1] for each in said) + 0.05
    ink: list[Mark] = []
    x = 0.0
    for wide, (name, _), (lines, _) in zip(wides, fields, said, strict=True):
        ink += (_box(x, 0.0, wide, high), _words((x + PAD, -0.115), name, FINE))
        ink += _moved(lines, x, -0.135)
        x += wide
    return ink, high


def _legend(page: Page) -> Iterator[str]:
    name = scale_name(page.scale, page.job.scales)
    unit = "All lengths in millimetres. " if page.job.lengths == "mm" else ""
    yield plain(
        f"{unit}Sketches {name}: the figures govern. A line past the edges of a piece is "
        "a cut; dashed is the brick, or the leg, as delivered. Units to saw and cuts are "
        "for the counts; a spare is sawn at the same stop, from a further unit. Corner "
        "units are sawn from corner units, beside the plan. Tick each mark and stop."
    )


def _cautions(page: Page) -> Part:
    """Letter the cautions for the saw, in two columns."""
    words = {
        topic: next(
            (x for x in caution_notes(page.job).paragraphs if x.startswith(topic.upper())),
            "",
        )
        for topic in TOPICS
    }
    *ours, others = words.values()
    ink: list[Mark] = [_words((0, -HEAD), "CAUTIONS", HEAD)]
    depth = 0.0
    for left, texts in ((0.0, ours), (page.half + GUTTER, [others])):
        lines, high = _column(texts, FINE, page.half, left)
        ink += _moved(lines, 0.0, -HEAD - 0.03)
        depth = max(depth, high)
    return ink, HEAD + 0.05 + depth


def _cells(page: Page, rows: tuple[FabricationRow, ...]) -> Iterator[Part]:
    """Yield the marks, a row of cells at a time, their sketches level."""
    for start in range(0, len(rows), page.columns):
        group = rows[start : start + page.columns]
        trios = [
            (_named(page, x), _sketch(page, x.row), _notes(page, x)) for x in group
        ]
        highs = [max(trio[i][1] for trio in trios) for i in range(3)]
        total = sum(highs) + 4 * PAD
        ink: list[Mark] = []
        for place, trio in enumerate(trios):
            x, y = place * page.cell, -PAD
            ink.append(_box(x, 0.0, page.cell, total))
            for (marks, high), room in zip(trio, highs, strict=True):
                is_sketch = marks is trio[1][0]
                ink += _moved(marks, x, y - (room - high) / 2 * is_sketch)
                y -= room + PAD
        yield ink, total


def _named(page: Page, each: FabricationRow) -> Part:
    """Letter a mark, how many to make, what it is and its finished sizes."""
    row, right = each.row, page.cell - PAD
    said = f"{row.count} + {each.spares} SPARE{'S' * (each.spares != 1)}"
    said = f"{said} = MAKE {each.make}"
    x, y = 2 * PAD + SQUARE, -MARK
    ink: list[Mark] = [
        _box(PAD, y + MARK / 2 + SQUARE / 2, SQUARE, SQUARE),
        _words((x, y), row.mark, MARK),
    ]
    if x + width_of(row.mark, MARK) + width_of(said, TEXT) + PAD > right:
        y -= PITCH * TEXT
    ink.append(_words((right, y), said, TEXT, "right"))
    kind = f"{TYPE_STATES[row.is_cut, row.is_trimmed]}{row.kind.upper()}"
    lines, high = _column([kind, _size(page.job, row)], SIZE, page.cell - 2 * PAD, PAD)
    return [*ink, *_moved(lines, 0.0, y - 0.02)], high - y + 0.02


def _size(job: Job, row: CutListRow) -> str:
    height = format_length(row.height, job.lengths)
    if row.kind in CORNER_KINDS:
        legs = " x ".join(format_length(leg, job.lengths) for leg in row.legs)
        return f"LEGS {legs} OUTSIDE x {height} HIGH"
    return f"{format_length(row.length, job.lengths)} LONG x {height} HIGH"


def _sketch(page: Page, row: CutListRow) -> Part:
    """Draw the views of a piece to scale, one under another, cut lines drawn out."""
    ink: list[Mark] = []
    y, part = 0.0, 1 / (page.scale * page.unit)
    for caption, lines in _views(page.job, row):
        if caption:
            y -= PITCH * FINE
            ink.append(_words((page.cell / 2, y), caption, FINE, "centre"))
            y -= PAST
        left, _, right, top = _about(lines)
        x = page.cell / 2 - (left + right) / 2 * part
        y -= PAST + top * part
        for line in lines:
            points = tuple((x + a * part, y + b * part) for a, b in line.points)
            far = _drawn_out(points) if line.layer == CUTS else points
            ink.append(replace(line, points=far))
        y += _about(lines)[1] * part - PAST
    return ink, -y


def _about(lines: list[Stroke]) -> tuple[float, float, float, float]:
    return about(point for line in lines for point in line.points)


def _drawn_out(line: tuple[Point, ...]) -> tuple[Point, Point]:
    """Return a line drawn out past both its ends."""
    (x1, y1), (x2, y2) = line
    length = hypot(x2 - x1, y2 - y1)
    x, y = ((x2 - x1) / length * PAST, (y2 - y1) / length * PAST)
    return (x1 - x, y1 - y), (x2 + x, y2 + y)
