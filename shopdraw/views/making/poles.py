"""Draw the story pole and the setting-out rods at full size, side by side on pages.

In:  `Solution`.   Out: a `Sheet` a page, portrait.
Frame: each stretch of a strip at full size, standing up from its foot; black ticks and
plain figures only, so that any printer will do.

The stretches stand in columns, in order: down the first, then down the next. The notes
have the first column of the first page.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import plain, wrap
from shopdraw.drawing.sheets import PlacedDrawing, Placement, Sheet
from shopdraw.job.model import Job
from shopdraw.lengths import MM_PER_INCH, format_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.marks.form import Strip
from shopdraw.solution import Solution
from shopdraw.views.making.stretches import (
    PITCH,
    STRIP,
    TEXT,
    Stretch,
    divide,
    draw_stretch,
    inch_of,
)
from shopdraw.views.parts.heights import level_name
from shopdraw.views.parts.stamps import drawn_from, page_size

BARS = ((Fraction(6), "6 IN"), (100 / MM_PER_INCH, "100 MM"))
"""The bars that prove a page's size, in inches."""
MARGIN, FOOT, HEAD, LARGE = 0.5, 1.05, 0.65, 0.16
"""In inches, as are the measures below."""
LEAST_COLUMN, GUTTER = 2.35, 0.06
NAMED, BELOW = 0.62, 0.34
"""The room for a stretch's name above it, and for what is said below its foot."""


@dataclass(frozen=True)
class OnPage:
    """A stretch and where the foot of what is drawn of it stands on its page."""

    stretch: Stretch
    at: Point


def draw_poles(solution: Solution) -> tuple[Sheet, ...]:
    """Draw the pole and every rod, on as few upright pages as their order allows."""
    job, paper = solution.job, page_size(solution)
    inch = inch_of(job)
    wide = paper[0] - 2 * MARGIN * inch
    columns = int(wide / (LEAST_COLUMN * inch))
    pages = _pack(solution, columns, (wide / columns, _column_high(paper, inch)))
    return tuple(
        _page(solution, placed, (number, len(pages)), wide / columns)
        for number, placed in enumerate(pages, start=1)
    )


def _column_high(paper: tuple[float, float], inch: float) -> float:
    return paper[1] - (2 * MARGIN + FOOT + HEAD) * inch


def _pack(
    solution: Solution, columns: int, column: tuple[float, float]
) -> list[list[OnPage]]:
    """Stand the stretches in columns, in their order; the first one is the notes'."""
    inch = inch_of(solution.job)
    wide, high = column
    head = (MARGIN + FOOT) * inch + high
    around = (NAMED + BELOW) * inch
    pages: list[list[OnPage]] = [[]]
    place, y = 1, head
    for strip in map(partial(_as_built, solution.coursing), solution.strips):
        for stretch in divide(strip, high - around, solution.job):
            low, top = stretch.drawn(inch)
            takes = top - low + around
            if y - takes < head - high - 1e-9:
                place, y = place + 1, head
            if place >= columns:
                pages.append([])
                place, y = 0, head
            at = MARGIN * inch + place * wide, y - takes + BELOW * inch
            pages[-1].append(OnPage(stretch, at))
            y -= takes
    return pages


def _as_built(coursing: Coursing, strip: Strip) -> Strip:
    """Return a strip whose targets are named for what really lies at their level."""
    named = {t.name: level_name(t, coursing).lower() for t in coursing.targets}
    ticks = (
        replace(tick, name=named.get(tick.name, tick.name))
        if tick.kind == "target"
        else tick
        for tick in strip.ticks
    )
    return replace(strip, ticks=tuple(ticks))


def _page(
    solution: Solution, placed: list[OnPage], numbers: tuple[int, int], wide: float
) -> Sheet:
    job, paper = solution.job, page_size(solution)
    inch = inch_of(job)
    ink: list[Ink] = [*_heading(solution, numbers), *check_bars(MARGIN * inch, inch)]
    if numbers[0] == 1:
        ink += _notes(solution, wide - 2 * GUTTER * inch)
    for each in placed:
        ink += _names(each, wide, inch)
    return Sheet(
        number=numbers[0],
        name=f"story-pole, page {numbers[0]}",
        title="STORY POLE AND SETTING-OUT RODS",
        width=paper[0],
        height=paper[1],
        lengths=job.lengths,
        drawings=tuple(_on_page(job, each, wide, inch) for each in placed),
        paper_ink=tuple(ink),
    )


def _on_page(job: Job, each: OnPage, wide: float, inch: float) -> PlacedDrawing:
    stretch = each.stretch
    low, high = stretch.drawn(inch)
    room = wide - 2 * GUTTER * inch
    ink = tuple(draw_stretch(job, stretch, inch, room))
    at = each.at[0] + GUTTER * inch, each.at[1]
    placement = Placement(
        scale=1.0,
        origin=(0.0, low),
        on_paper=at,
        in_model=at,
        window=(*at, at[0] + STRIP * inch, at[1] + high - low),
    )
    name = f"{stretch.strip.name}-{stretch.number}"
    return PlacedDrawing(Drawing(name, "", 1.0, ink), placement)


def _names(each: OnPage, wide: float, inch: float) -> Iterator[Ink]:
    """Letter the name of a stretch above it, and which end is down below its foot."""
    stretch, text = each.stretch, TEXT * inch
    low, high = stretch.drawn(inch)
    x = each.at[0] + GUTTER * inch
    lines = [
        line
        for said in _name(stretch)
        for line in wrap(said, text, wide - 2 * GUTTER * inch)
    ]
    y = each.at[1] + high - low + (0.13 + 0.2 * (stretch.head == "break")) * inch
    for line in reversed(lines):
        yield Words(layers.NOTES, (x, y), line, text)
        y += PITCH * text
    if stretch.number == 1:
        end = "THIS END DOWN: LEFT END" if stretch.strip.courses else "LOWER END, 0"
        yield Words(layers.NOTES, (x, each.at[1] - 0.2 * inch), end, text)


def _name(stretch: Stretch) -> Iterator[str]:
    strip = stretch.strip
    yield f"{_title(strip)}, {stretch.number} OF {stretch.count}"
    if strip.courses:
        a, *b = strip.courses
        yield f"COURSE {a} LEFT" + (f", {b[0]} RIGHT" if b else "")


def _title(strip: Strip) -> str:
    return f"ROD, {strip.name.upper()}" if strip.courses else "STORY POLE"


def _heading(solution: Solution, numbers: tuple[int, int]) -> Iterator[Ink]:
    """Letter what the page is, and how it is to be printed."""
    job = solution.job
    inch, paper = inch_of(job), page_size(solution)
    text, x, right = TEXT * inch, MARGIN * inch, paper[0] - MARGIN * inch
    y = paper[1] - (MARGIN + LARGE) * inch
    title = "STORY POLE AND RODS" if len(solution.strips) > 1 else "STORY POLE"
    yield Words(layers.NOTES, (x, y), title, LARGE * inch)
    of = f"PAGE {numbers[0]} OF {numbers[1]}"
    yield Words(layers.NOTES, (right, y), of, text, "right")
    about = f"{job.job.name} {job.job.number}".strip()
    for said in (
        f"{about} / {drawn_from(job).words}",
        "Full size: print at 100 %. Measure both bars before use.",
    ):
        for line in wrap(plain(said).upper(), text, right - x)[:1]:
            y -= 1.7 * text
            yield Words(layers.NOTES, (x, y), line, text)


def _notes(solution: Solution, room: float) -> Iterator[Ink]:
    """Letter how the strips are used, in the first column."""
    inch, paper = inch_of(solution.job), page_size(solution)
    text, x = TEXT * inch, MARGIN * inch
    y = paper[1] - (MARGIN + HEAD) * inch
    for paragraph in _paragraphs(solution):
        y -= 0.6 * text
        for line in wrap(plain(paragraph).upper(), text, room):
            y -= 1.6 * text
            yield Words(layers.NOTES, (x, y), line, text)


def _paragraphs(solution: Solution) -> Iterator[str]:
    job, about = solution.job, solution.job.job
    survey_line = solution.surround.as_built.survey_line
    revision = f", revision {about.revision}" if about.revision else ""
    yield f"Date: {about.date or 'not given'}{revision}"
    yield f"Brick {format_length(job.brick.height, job.lengths)} high"
    yield (
        "The story pole: 0 is the datum, level with the highest point of the hearth "
        "under the brick. Set the pole's 0 to that level; do not stand it on the "
        "hearth."
    )
    if survey_line is not None:
        yield f"The level line of your survey is {_from_datum(survey_line, job)}."
    yield "Left: the top of each course. Right: the targets and other levels."
    if len(solution.strips) > 1:
        yield (
            "The rods: each stands on its left end here, and its figures are from that "
            "end. The marks are both edges of each head joint, on either edge those of "
            "the course that is named."
        )
    yield (
        "Cut the strips out. Stick each on the one before it, so that lines with the "
        "same JOIN number meet. No mark stands at a join."
    )
    yield (
        "At a break line a blank length is left out; how long is said there. Every "
        "figure is from 0, so go by the figures."
    )


def _from_datum(level: Fraction, job: Job) -> str:
    """Say where a level lies, seen from the datum."""
    if not level:
        return "at the datum"
    side = "above" if level > 0 else "below"
    return f"{format_length(abs(level), job.lengths)} {side} the datum"


def check_bars(margin: float, inch: float) -> Iterator[Ink]:
    """Draw the bars to measure after printing."""
    for row, (length, name) in enumerate(BARS):
        y = margin + (0.75 - 0.45 * row) * inch
        far = margin + float(length) * inch
        yield Stroke(layers.BORDER, ((margin, y), (far, y)))
        for x in (margin, far):
            ends: tuple[Point, Point] = ((x, y - 0.08 * inch), (x, y + 0.08 * inch))
            yield Stroke(layers.BORDER, ends)
        at = (far + 0.1 * inch, y)
        yield Words(layers.NOTES, at, name, 0.11 * inch, seat="middle")
