"""Spread what is drawn at full size over pages, with lines to join them by.

In:  `Solution`, a `Template`.   Out: pages, each waiting for its number.
Frame: of a template its own, at full size; of a page, paper lengths.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import box_of, overlap, plain, wrap
from shopdraw.drawing.sheets import PlacedDrawing, Placement, Sheet
from shopdraw.lengths import MM_PER_INCH
from shopdraw.masonry.wall.boxes import Box, clip_line
from shopdraw.solution import Solution
from shopdraw.views.making.poles import check_bars
from shopdraw.views.parts.stamps import drawn_from, page_size

MARGIN, FOOT, HEAD, OVERLAP = 0.5, 1.05, 0.9, 1.0
"""Of a page, in inches: the bars stand at its foot and its name at its head."""
ASIDE = 0.25
"""How far a level JOIN is lettered from the page's edge, where a template may begin."""
TEXT, SMALL, LARGE = 0.1, 0.08, 0.16
NEAR, STEP = 0.06, 0.125
"""How far off its line a JOIN is lettered, how far apart places are tried, in inches.
"""
CLOSE = 1e-9
Line = tuple[Point, Point]
Place = tuple[int, int]
"""The row and the column of a page: rows from the foot, columns from the left."""


@dataclass(frozen=True)
class Template:
    """Something to be drawn at full size.

    Attributes:
        name: short, of its pages.
        title: as lettered on each page.
        says: what whoever cuts it must know.
        parts: strokes and words at full size, and what must be shown of them: left,
            bottom, right, top; each begins a page of its own.
    """

    name: str
    title: str
    says: str
    parts: tuple[tuple[tuple[Ink, ...], Box], ...]


def room_of(solution: Solution) -> tuple[float, float]:
    """Return the width and height that a page has for a template."""
    inch = _inch(solution)
    wide, high = page_size(solution)
    return wide - 2 * MARGIN * inch, high - (2 * MARGIN + FOOT + HEAD) * inch


def _inch(solution: Solution) -> float:
    return 1.0 if solution.lengths == "in" else float(MM_PER_INCH)


def tile(solution: Solution, template: Template) -> tuple[Callable[[int], Sheet], ...]:
    """Spread a template over as many pages as it needs, row by row from the top.

    Returns:
        A page for each, which is made when its number in the file is known.
    """
    parts = [_shown(solution, ink, extent) for ink, extent in template.parts]
    shown = [each for part in parts for each in part]
    is_joined = any(len(part) > 1 for part in parts)

    def page(place: int) -> Callable[[int], Sheet]:
        window, ink = shown[place - 1]
        return lambda number: _page(
            solution, template, window, ink, (number, place, len(shown)), is_joined
        )

    return tuple(page(place) for place in range(1, len(shown) + 1))


def _shown(
    solution: Solution, ink: tuple[Ink, ...], extent: Box
) -> list[tuple[Box, tuple[Ink, ...]]]:
    """Return what each page of a part shows, and its ink; no page shows nothing."""
    inch = _inch(solution)
    left, bottom, right, top = extent
    wide, high = room_of(solution)
    columns = _stretches(right - left, wide, OVERLAP * inch)
    rows = _stretches(top - bottom, high, OVERLAP * inch)

    def window(place: Place) -> Box:
        x, y = left + columns[place[1]], bottom + rows[place[0]]
        return x, y, min(x + wide, right), min(y + high, top)

    places = [
        (row, column)
        for row in reversed(range(len(rows)))
        for column in _of_use(ink, row, len(columns), window, inch)
    ]
    pages = []
    for place in places:
        clipped = tuple(_clipped(ink, window(place)))
        joins = _joins(place, frozenset(places), window(place), inch, clipped)
        pages.append((window(place), (*clipped, *joins)))
    return pages


def _of_use(
    ink: tuple[Ink, ...],
    row: int,
    count: int,
    window: Callable[[Place], Box],
    inch: float,
) -> range:
    """Return the columns of a row from the first to the last with ink of its own.

    What the page on its left or the one below shows as well is theirs.
    """
    lap = OVERLAP * inch
    inked = []
    for column in range(count):
        left, bottom, right, top = window((row, column))
        own = left + lap * (column > 0), bottom + lap * (row > 0), right, top
        if any(True for _ in _clipped(ink, own)):
            inked.append(column)
    return range(inked[0], inked[-1] + 1) if inked else range(0)


def _stretches(length: float, room: float, overlap: float) -> list[float]:
    """Return where each page begins, along one side; neighbours overlap."""
    starts = [0.0]
    while starts[-1] + room < length - CLOSE:
        starts.append(starts[-1] + room - overlap)
    return starts


def _joins(
    place: Place,
    places: frozenset[Place],
    window: Box,
    inch: float,
    shown: tuple[Ink, ...],
) -> Iterator[Ink]:
    """Draw the lines by which a page meets its neighbours: A, B upright; 1, 2 level.

    Each is broken where lettering stands, and lettered at the first clear place.
    """
    joins = list(_places(place, places, window, inch))
    words = [each for each in shown if isinstance(each, Words)]
    lines = [line for line, _ in joins]
    for each in shown:
        if isinstance(each, Stroke):
            lines += pairwise([*each.points, *(each.points[:1] if each.closed else ())])
    for line, first in joins:
        lettering = [_about(box_of(each), NEAR * inch) for each in words]
        for part in _broken(line, lettering):
            yield Stroke(layers.HIDDEN, part)
        (x, y), (start, end) = first.at, line
        is_level = start[1] == end[1]
        far = end[0] - start[0] if is_level else end[1] - start[1]
        for step in range(int(far / (STEP * inch))):
            by = step * STEP * inch
            lettered = replace(first, at=(x + by, y) if is_level else (x, y + by))
            box = _about(box_of(lettered), NEAR * inch / 2)
            struck = any(clip_line(a, b, box) is not None for a, b in lines)
            if not struck and not any(overlap(box, box_of(each)) for each in words):
                words.append(lettered)
                yield lettered
                break


def _places(
    place: Place, places: frozenset[Place], window: Box, inch: float
) -> Iterator[tuple[Line, Words]]:
    """Yield each join's line, and its name where it is to stand if it can."""
    row, column = place
    left, bottom, right, top = window
    half, near, text = OVERLAP * inch / 2, NEAR * inch, SMALL * inch
    for side, x in ((-1, left + half), (0, right - half)):
        number = column + side
        if (row, number if side else column + 1) in places:
            name = f"JOIN {chr(ord('A') + number)}"
            words = Words(layers.NOTES, (x + near, bottom + near), name, text)
            yield ((x, bottom), (x, top)), words
    for side, y in ((-1, bottom + half), (0, top - half)):
        number = row + side
        if (number if side else row + 1, column) in places:
            at = (left + ASIDE * inch, y + near)
            words = Words(layers.NOTES, at, f"JOIN {number + 1}", text)
            yield ((left, y), (right, y)), words


def _about(box: Box, by: float) -> Box:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _broken(line: Line, boxes: list[Box]) -> list[Line]:
    """Return what is left of an upright or level line outside some boxes."""
    parts = [line]
    for box in boxes:
        found: list[Line] = []
        for a, b in parts:
            inside = clip_line(a, b, box)
            if inside is None:
                found.append((a, b))
            else:
                found += [x for x in ((a, inside[0]), (inside[1], b)) if x[0] != x[1]]
        parts = found
    return parts


def _page(
    solution: Solution,
    template: Template,
    window: Box,
    ink: tuple[Ink, ...],
    numbers: tuple[int, int, int],
    is_joined: bool,
) -> Sheet:
    inch, paper = _inch(solution), page_size(solution)
    number, place, _ = numbers
    left, bottom, right, top = window
    at = MARGIN * inch, (MARGIN + FOOT) * inch
    placement = Placement(
        scale=1.0,
        origin=(left, bottom),
        on_paper=at,
        in_model=at,
        window=(*at, at[0] + right - left, at[1] + top - bottom),
    )
    name = f"{template.name}-{place}"
    return Sheet(
        number=number,
        name=f"{template.name}, page {place}",
        title=template.title,
        width=paper[0],
        height=paper[1],
        lengths=solution.lengths,
        drawings=(PlacedDrawing(Drawing(name, "", 1.0, ink), placement),),
        paper_ink=tuple(_notes(solution, template, numbers, is_joined)),
    )


def _clipped(ink: tuple[Ink, ...], window: Box) -> Iterator[Ink]:
    """Yield what of the ink is in a window; words that would be cut are left out."""
    left, bottom, right, top = window
    for each in ink:
        if isinstance(each, Stroke):
            yield from _parts(each, window)
        elif isinstance(each, Words):
            a, b, c, d = box_of(each)
            if left <= a and c <= right and bottom <= b and d <= top:
                yield each


def _parts(stroke: Stroke, window: Box) -> Iterator[Stroke]:
    """Yield a stroke as far as it is in a window, joined up where it stays in it."""
    points = [*stroke.points, *(stroke.points[:1] if stroke.closed else ())]
    run: list[Point] = []
    for a, b in pairwise(points):
        part = clip_line(a, b, window)
        if part is not None and part[0] == part[1]:
            # It only touches the window.
            part = None
        if part is None or (run and part[0] != run[-1]):
            if len(run) > 1:
                yield replace(stroke, points=tuple(run), closed=False)
            run = []
        if part is not None:
            run = [*run, part[1]] if run else [*part]
    if len(run) > 1:
        yield replace(stroke, points=tuple(run), closed=False)


def _notes(
    solution: Solution,
    template: Template,
    numbers: tuple[int, int, int],
    is_joined: bool,
) -> Iterator[Ink]:
    """Letter what the page is, and draw the bars to check its size by."""
    job, inch, paper = solution.job, _inch(solution), page_size(solution)
    _, place, count = numbers
    x, y = MARGIN * inch, paper[1] - (MARGIN + LARGE) * inch
    yield Words(layers.NOTES, (x, y), template.title, LARGE * inch)
    right = paper[0] - MARGIN * inch
    of = f"PAGE {place} OF {count}"
    yield Words(layers.NOTES, (right, y), of, TEXT * inch, "right")
    about = f"{job.job.name} {job.job.number}".strip()
    lines = [
        f"{about} / {drawn_from(job).words}",
        template.says,
        "Full size: print at 100 %, measure both bars."
        + " Lay pages over one another so that JOIN lines meet." * is_joined,
    ]
    text = SMALL * inch
    y -= 0.06 * inch
    for line in lines:
        for part in wrap(plain(line).upper(), text, right - x):
            y -= 1.6 * text
            yield Words(layers.NOTES, (x, y), part, text)
    yield from check_bars(MARGIN * inch, inch)
