"""Draw the review for a permit file: every finding and its limit, on one page or more.

In:  `Solution`.   Out: `Sheet`s, standing up.
Frame: each part in the page's lengths from its own upper left corner, y up; the page
puts the parts under one another, at the scale of the drawing.

One page is wanted. Where there is not enough room, the words of what passed give way
first, then the room between columns, and last the words of what was not checked. Where
one page does not hold every finding even so, nothing gives way: further pages go on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from shopdraw.drawing import layers
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Ink, Stroke, Words
from shopdraw.drawing.lettering import plain, width_of, wrap
from shopdraw.drawing.measures import with_arrows
from shopdraw.drawing.moving import moved
from shopdraw.drawing.papers import Part, page_of
from shopdraw.drawing.sheets import (
    SCALES,
    Sheet,
    scale_name,
    size_on_paper,
)
from shopdraw.drawing.titles import BAR_LENGTHS
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.review.findings import Status
from shopdraw.review.limits import area_words, title_of_rules
from shopdraw.review.listed import LISTED
from shopdraw.review.opening import area_held
from shopdraw.solution import Solution
from shopdraw.views.parts.stamps import drawn_from, page_size
from shopdraw.views.review.drawing import Reviewed, draw_reviewed
from shopdraw.views.review.further import draw_further, first_of, fitting_rows
from shopdraw.views.review.paper import (
    COUNTS,
    FINE,
    GAP,
    MARGIN,
    NO_APPROVAL,
    STAMP,
    TEXT,
    TITLE,
    Paper,
    box_of,
    cautions,
    set_down,
)
from shopdraw.views.review.table import (
    ALL,
    PITCH,
    SHOWN,
    Listed,
    ReviewTable,
    TableSetting,
    heights_of,
    letter_table,
)
from shopdraw.views.review.where import where_drawn

LABEL, BAR = 1.0, 1.5
"""In inches: how wide the name of a field is, and how long a scale bar may be."""
LEAST_WIDTH = 7.4
"""In inches: the width that the heading needs within the margins."""
SHARE, STRETCH = 0.3, 0.7
"""The share of the page kept for the drawing; how far a row may spread, in heights."""
HEADING = "CLEARANCE REVIEW"
EXAMPLE = "EXAMPLE FIGURES: NOT FOR CONSTRUCTION"
KEYED = (
    "A number in a circle is the number of a row in the table.",
    "Broken lines are existing work, work by others, and the opening that distances "
    "are measured from, where that is not the finished one.",
)
NO_ROOM = " There is no room here to draw what was measured in rows {}."


GIVES_WAY: tuple[tuple[int, tuple[Status, ...], bool], ...] = (
    (0, ALL, False),
    (0, ALL[:2], False),
    (0, ALL[:2], True),
    (1, ALL[:2], True),
    (2, ALL[:2], True),
    (0, ALL[:1], True),
)
"""What gives way, one try after another: how many steps smaller the drawing is, which
findings keep their words, and whether the table is tight. In the end only the drawing
gets smaller."""


def draw_review(solution: Solution, sheets: Mapping[int, str]) -> tuple[Sheet, ...]:
    """Draw the review on one upright page, or on as many as its findings need.

    Args:
        solution: what was reviewed.
        sheets: on which sheet each view is, by its number.

    Raises:
        NotDrawable: the paper has no room for the heading and the drawing.
    """
    job, size = solution.job, page_size(solution)
    paper = Paper(job.lengths, size)
    above, below = _heading(paper, solution), cautions(paper)
    room = paper.high - above[1] - below[1] - 3 * GAP * paper.inch

    tries = (
        draw_reviewed(solution, scale)
        for scale, _ in SCALES[job.scales]
        if float(solution.surround.front.width) / scale <= paper.wide
    )
    is_wide = paper.wide >= LEAST_WIDTH * paper.inch
    fitting = [view for view in tries if is_wide and _goes_on(view, paper, room)]
    whole = [view for view in fitting if not view.left_out]
    listed = [_listed(solution, sheets, views) for views in (whole, fitting)]
    fitted = _fit((whole, fitting), listed, paper, room)
    further: tuple[Part, ...] = ()
    if fitted is None:
        fitted, further = _begun(whole or fitting, listed[not whole], paper, room)
    view, table = fitted
    scale = view.drawing.scale
    others = draw_further(solution, paper, (table.rows[0], *further))
    if others:
        above = (*above[0], first_of(paper, HEADING, len(others) + 1)), above[1]
    page = page_of(
        _composed(paper, job, (above, below), view, table),
        ("review", HEADING),
        size,
        job.lengths,
        scale=scale,
    )
    pages = (page, *others)
    if job.sheet.profile != "iso":
        return pages
    (placed,) = page.drawings
    arrows = replace(placed, drawing=with_arrows(placed.drawing))
    return (replace(page, drawings=(arrows,)), *pages[1:])


def _begun(
    views: list[Reviewed], listed: Listed, paper: Paper, room: float
) -> tuple[tuple[Reviewed, ReviewTable], tuple[Part, ...]]:
    """Return a drawing and the rows that fit beside it, and all rows after those.

    There is paper enough, so that nothing gives way.

    Raises:
        NotDrawable: not even the first row fits.
    """
    setting = TableSetting(heights_of(paper.lengths)[0], ALL, is_tight=False)
    table = letter_table(listed, setting, paper.lengths, paper.wide)
    room -= table.note[1]
    share = SHARE * paper.size[1]
    low = [view for view in views if _height(view, paper) <= share]
    for view in low or views[-1:]:
        count = fitting_rows(table.rows, room - _height(view, paper))
        if count > 1:
            return (view, replace(table, rows=table.rows[:count])), table.rows[count:]
    message = (
        "sheet.page: the page has no room for the review's drawing and the first of "
        f"its {len(listed.findings)} findings; give a larger page"
    )
    raise NotDrawable(message)


def _listed(
    solution: Solution, sheets: Mapping[int, str], views: list[Reviewed]
) -> Listed:
    """Return what the table lists beside any of some drawings."""
    left_out = {row for view in views for row in view.left_out}
    return Listed(solution.findings, where_drawn(solution, sheets, left_out))


def _goes_on(view: Reviewed, paper: Paper, room: float) -> bool:
    """Whether the page has room for a drawing and something beside it."""
    return size_on_paper(view.drawing)[0] <= paper.wide and _height(view, paper) < room


def _height(view: Reviewed, paper: Paper) -> float:
    """Return the height of a drawing with its caption."""
    return size_on_paper(view.drawing)[1] + _under(paper)


def _fit(
    tries: tuple[list[Reviewed], ...],
    listed: list[Listed],
    paper: Paper,
    room: float,
) -> tuple[Reviewed, ReviewTable] | None:
    """Return the largest drawing and the table that fit one page; None where none do.

    A share of the page is kept for the drawing; it also takes what the table leaves. A
    drawing without room for every figure is the last resort.
    """
    for views, table_of in zip(tries, listed, strict=True):
        if not views or not _may_fit(views[-1], table_of, paper, room):
            continue
        heights = [_height(view, paper) for view in views]
        last = len(views) - 1
        share = SHARE * paper.size[1]
        first = next((n for n, high in enumerate(heights) if high <= share), last)
        alone = ((down, ALL[:1], True) for down in range(1, last + 1))
        for down, tells, is_tight in (*GIVES_WAY, *alone):
            least = heights[min(first + down, last)]
            table = _table_in(room - least, tells, is_tight, table_of, paper)
            if table is not None:
                left = room - table.depth
                largest = next(n for n, high in enumerate(heights) if high <= left)
                return views[largest], table
    return None


def _may_fit(view: Reviewed, listed: Listed, paper: Paper, room: float) -> bool:
    """Whether the least of all tables goes beside the smallest drawing."""
    setting = TableSetting(heights_of(paper.lengths)[-1], ALL[:1], is_tight=True)
    table = letter_table(listed, setting, paper.lengths, paper.wide)
    return table.depth <= room - _height(view, paper)


def _table_in(
    room: float,
    tells: tuple[Status, ...],
    is_tight: bool,
    listed: Listed,
    paper: Paper,
) -> ReviewTable | None:
    """Return the table in the largest lettering that fits; None where none does."""
    for height in heights_of(paper.lengths):
        setting = TableSetting(height, tells, is_tight)
        table = letter_table(listed, setting, paper.lengths, paper.wide)
        if table.depth <= room:
            return table
    return None


def _composed(
    paper: Paper, job: Job, ends: tuple[Part, Part], view: Reviewed, table: ReviewTable
) -> Iterator[Ink]:
    """Put the parts under one another, spread evenly over the page."""
    inch, scale = paper.inch, view.drawing.scale
    (above, depth), (below, foot) = ends
    left, low, right, high = extent_of(view.drawing)
    deep = (high - low) / scale + _under(paper)
    spare = paper.high - depth - foot - deep - table.depth - 3 * GAP * inch
    spread = min(spare / 2 / len(table.rows), STRETCH * table.height)
    spare = min((spare - spread * len(table.rows)) / 3, 3 * GAP * inch)
    gap = GAP * inch + spare

    margin, y = MARGIN * inch, paper.size[1] - MARGIN * inch
    yield from set_down(above, (margin, y), scale)
    y -= depth + gap
    middle = paper.size[0] / 2
    across = middle * scale - (left + right) / 2
    for ink in view.drawing.ink:
        yield moved(ink, (across, y * scale - high))
    under = _caption(paper, job, view)
    yield from set_down(under, (middle, y - (high - low) / scale), scale)
    y -= deep + gap
    line = (Stroke(layers.TABLES, ((0.0, 0.0), (paper.wide, 0.0))),)
    yield from set_down(line, (margin, y), scale)
    for marks, deep in table.rows:
        yield from set_down(marks, (margin, y - spread / 2), scale)
        y -= deep + spread
        yield from set_down(line, (margin, y), scale)
    yield from set_down(table.note[0], (margin, y), scale)
    yield from set_down(below, (margin, margin + foot), scale)


# -------------------------------------------------------------------------- heading


def _heading(paper: Paper, solution: Solution) -> Part:
    """Letter the project, the rules it was checked by, and the count of findings."""
    job, findings = solution.job, solution.findings
    inch, wide = paper.inch, paper.wide
    y = -TITLE * inch
    ink: list[Ink] = [Words(layers.NOTES, (0.0, y), HEADING, TITLE * inch)]
    manual = job.appliance.manual
    if manual is not None and manual.example:
        high, x = STAMP * inch, wide - 0.1 * inch
        ink.append(Words(layers.NOTES, (x, y + 0.03 * inch), EXAMPLE, high, "right"))
        left = x - width_of(EXAMPLE, high) - 0.1 * inch
        ink.append(box_of((left, y - 0.02 * inch, wide, 0.0), layers.BORDER))
    y -= 0.06 * inch
    half, text = (wide - 0.2 * inch) / 2, TEXT * inch
    for pair in _fields(solution):
        depth = 0.0
        for x, (name, value) in zip((0.0, half + 0.2 * inch), pair, strict=True):
            ink.append(Words(layers.NOTES, (x, y - 1.7 * text), name, FINE * inch))
            lines = wrap(plain(value), text, half - LABEL * inch)
            for row, line in enumerate(lines):
                at = (x + LABEL * inch, y - (1.7 + PITCH * row) * text)
                ink.append(Words(layers.NOTES, at, line, text))
            depth = max(depth, len(lines) * PITCH * text)
        y -= depth + 0.15 * text
    y -= 0.13 * inch
    counts = [sum(x.status == status for x in findings) for status in SHOWN]
    said = "{} FINDINGS:  {} PASSED,  {} FAILED,  {} NOT CHECKED"
    words, high = said.format(len(findings), *counts), COUNTS * inch
    y -= 2.2 * high
    ink.append(box_of((0.0, y, wide, y + 2.2 * high), layers.BORDER))
    ink.append(Words(layers.NOTES, (high, y + 0.6 * high), words, high))
    ink.append(
        Words(layers.NOTES, (wide - high, y + 0.6 * high), NO_APPROVAL, high, "right")
    )
    return tuple(ink), -y


Field = tuple[str, str]


def _fields(solution: Solution) -> tuple[tuple[Field, Field], ...]:
    job = solution.job
    about, none = job.job, "not given"
    area, which = _area(solution)
    origin = drawn_from(job)
    return (
        (("PROJECT", about.name), ("APPLIANCE", job.appliance.kind or none)),
        (("NUMBER", about.number or none), _rules_of(job)),
        (("DATE", str(about.date or none)), ("OPENING AREA", area)),
        (("REVISION", about.revision or none), ("GOVERNED BY", which)),
        (("PROGRAM", origin.program), ("JOB FILE", origin.mark)),
    )


def _rules_of(job: Job) -> Field:
    """Name the rule set, or the manual with its page."""
    if job.appliance.kind not in LISTED:
        return "RULE SET", title_of_rules(job) or "none named"
    manual = job.appliance.manual
    if manual is None:
        return "MANUAL", "not given; a code's figures do not replace it"
    document, page = manual.document or "document not given", manual.page
    return "MANUAL", f"{document}, {f'page {page}' if page else 'page not given'}"


def _area(solution: Solution) -> Field:
    """Return the area that governs, rounded down, and which opening it is of."""
    job, openings = solution.job, solution.openings
    area = area_held(job, openings)
    says = "the opening, the same as found and as finished"
    if job.rules.area != "stricter":
        agreed = job.rules.area_agreed or "not said by whom"
        says = f"the opening as {job.rules.area}; agreed: {agreed}"
    elif openings.found.area != openings.finished.area:
        which = "found" if area == openings.found.area else "finished"
        says = f"the opening as {which}, the larger of the two"
    feet = area_words(area, job.lengths)
    if job.lengths == "mm":
        return f"{int(area / 1000) / 1000:.3f} m2 ({feet})", says
    return feet, says


# -------------------------------------------------------- under the drawing, the foot


def _under(paper: Paper) -> float:
    """Return the height of the caption below the drawing."""
    return (1.0 + 2 + 2 * 1.7) * TEXT * paper.inch


def _caption(paper: Paper, job: Job, view: Reviewed) -> Iterator[Ink]:
    """Letter the drawing's title, its scale and scale bar, and how to read it.

    Its own frame: the drawing's middle, at its foot.
    """
    text, scale = TEXT * paper.inch, view.drawing.scale
    name = scale_name(scale, job.scales)
    words = f"FRONT, AND SECTION THROUGH THE OPENING    SCALE {name}"
    lengths = BAR_LENGTHS[job.lengths]
    wanted = BAR * paper.inch * scale
    length = max((x for x in lengths if x <= wanted), default=lengths[0])
    bar, end = length / scale, f'{length}"' if job.lengths == "in" else f"{length} mm"
    wide = width_of(words, text) + bar + 3.5 * text + width_of(end, text)
    x, y = -wide / 2, -2.6 * text
    yield Words(layers.NOTES, (x, y), words, text)
    x += wide - bar - 0.5 * text - width_of(end, text)
    yield Words(layers.NOTES, (x - 0.5 * text, y), "0", text, "right")
    yield Words(layers.NOTES, (x + bar + 0.5 * text, y), end, text)
    for part in range(4):
        a, b = x + bar * part / 4, x + bar * (part + 1) / 4
        yield box_of((a, y + 0.2 * text, b, y + 0.8 * text), layers.NOTES)
        if part % 2 == 0:
            yield Stroke(layers.NOTES, ((a, y + 0.5 * text), (b, y + 0.5 * text)))
    first = KEYED[0]
    if view.left_out:
        first += NO_ROOM.format(", ".join(str(row) for row in view.left_out))
    for row, line in enumerate((first, KEYED[1]), start=1):
        at = (0.0, y - 1.7 * row * text)
        yield Words(layers.NOTES, at, line, FINE * paper.inch, "centre")
