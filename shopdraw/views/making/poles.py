"""Draw the story pole and the setting-out rods at full size, page by page.

In:  `Solution`.   Out: a `Sheet` a page, portrait.
Frame: the strip at full size, standing up from its foot at the page's origin; black
ticks and plain figures only, so that any printer will do.

A page shows as much of the strip as it has room for, beginning with the end of the page
before, so that the pages can be laid over one another on the marked lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import plain, wrap
from shopdraw.drawing.sheets import PlacedDrawing, Placement, Sheet
from shopdraw.job.model import Job
from shopdraw.job.model_head import propped_on
from shopdraw.lengths import MM_PER_INCH, format_length
from shopdraw.masonry.marks.form import Strip, Tick
from shopdraw.solution import Solution
from shopdraw.views.parts.phrases import INSIDE_CORNER, OUTSIDE_CORNER
from shopdraw.views.parts.stamps import drawn_from, page_size

BARS = ((Fraction(6), "6 IN"), (100 / MM_PER_INCH, "100 MM"))
"""The bars that prove a page's size, in inches."""
STRIP = 1.9
"""How wide the strip is, in inches; the measures below are in inches too."""
MARGIN, FOOT, OVERLAP, TEXT, LARGE = 0.5, 1.35, 1.0, 0.11, 0.16
LABELS, NOTES = 0.9, 5.2
"""Where the strip and the notes begin, from the page's margin."""
_SAYS = {
    "course top": "{name}:",
    "joint edge": "JOINT UNDER {name}",
    "ledger": "LEDGER TOP",
    "measure again": "MEASURE AGAIN HERE",
    "centre": "CENTRE LINE",
    "jamb": "JAMB",
    "fold": OUTSIDE_CORNER,
    "inside corner": INSIDE_CORNER,
}


@dataclass(frozen=True)
class Stretch:
    """The part of a strip that one page shows.

    Attributes:
        number, count: the page's number, from 1, and how many pages there are.
        low, high: from where to where on the strip, in the job's lengths.
    """

    number: int
    count: int
    low: float
    high: float


def draw_poles(solution: Solution) -> tuple[Sheet, ...]:
    """Draw the pole and every rod, each on as many upright pages as it needs."""
    job, paper = solution.job, page_size(solution)
    inch = 1.0 if job.lengths == "in" else float(MM_PER_INCH)
    room = paper[1] - (2 * MARGIN + FOOT) * inch
    sheets: list[Sheet] = []
    for strip in solution.strips:
        for page in _pages(float(strip.length), room, OVERLAP * inch):
            number = len(sheets) + 1
            sheets.append(_page(solution, strip, page, paper, inch, number))
    return tuple(sheets)


def _pages(length: float, room: float, overlap: float) -> list[Stretch]:
    """Split a strip so that each page begins with the end of the last one."""
    lows = [0.0]
    while lows[-1] + room < length + overlap / 2:
        lows.append(lows[-1] + room - overlap)
    return [
        Stretch(number, len(lows), low, min(low + room, length + overlap / 2))
        for number, low in enumerate(lows, start=1)
    ]


def _page(
    solution: Solution,
    strip: Strip,
    page: Stretch,
    paper: tuple[float, float],
    inch: float,
    number: int,
) -> Sheet:
    job, at = solution.job, ((MARGIN + LABELS) * inch, (MARGIN + FOOT) * inch)
    ink = tuple(_strip(job, strip, page, inch))
    drawing = Drawing(f"{strip.name}-{page.number}", "", 1.0, ink)
    placement = Placement(
        scale=1.0,
        origin=(0.0, page.low),
        on_paper=at,
        in_model=at,
        window=(*at, at[0] + STRIP * inch, at[1] + page.high - page.low),
    )
    return Sheet(
        number=number,
        name=f"{strip.name}, page {page.number}",
        title=_title(strip),
        width=paper[0],
        height=paper[1],
        lengths=job.lengths,
        drawings=(PlacedDrawing(drawing, placement),),
        paper_ink=tuple(_notes(solution, strip, page, paper, inch)),
    )


def _title(strip: Strip) -> str:
    if not strip.courses:
        return "STORY POLE"
    return f"SETTING-OUT ROD, {strip.name.upper()}"


def _strip(job: Job, strip: Strip, page: Stretch, inch: float) -> Iterator[Ink]:
    """Draw the edges, the join lines and the marks of one page."""
    wide = STRIP * inch
    end = min(page.high, float(strip.length))
    for x in (0.0, wide):
        yield Stroke(layers.BORDER, ((x, page.low), (x, end)))
    half = OVERLAP * inch / 2
    for level, other in ((page.low + half, -1), (page.high - half, 1)):
        if 1 <= page.number + other <= page.count:
            lower = min(page.number, page.number + other)
            yield Stroke(
                layers.HIDDEN, ((-0.9 * inch, level), (wide + 0.3 * inch, level))
            )
            words = f"JOIN {lower}"
            at = (-0.9 * inch, level + 0.03 * inch)
            yield Words(layers.NOTES, at, words, TEXT * inch)
    shown = [t for t in strip.ticks if page.low <= t.at <= page.high]
    for tick in shown:
        yield from _tick(tick, wide, inch)
    for side in ("A", "B"):
        labels = _labels(job, strip, shown, side)
        yield from _letter(labels, side == "A", wide, inch, page)


def _tick(tick: Tick, wide: float, inch: float) -> Iterator[Ink]:
    """Draw one mark, right across the strip if both sides share it."""
    y = float(tick.at)
    if tick.side == "both":
        layer = layers.HIDDEN if tick.kind == "centre" else layers.BORDER
        yield Stroke(layer, ((0.0, y), (wide, y)))
        return
    deep = 0.3 * inch
    a, b = (0.0, deep) if tick.side == "A" else (wide - deep, wide)
    yield Stroke(layers.BORDER, ((a, y), (b, y)))


def _labels(
    job: Job, strip: Strip, shown: list[Tick], side: str
) -> list[tuple[float, tuple[str, ...]]]:
    """Return the lettering of one side: each level with everything at it."""
    shared = {tick.at for tick in shown if tick.side == "both"}
    by_level: dict[float, list[str]] = {}
    for tick in shown:
        words = _says(job, strip, tick, side)
        # A mark that both sides share has its figure already.
        if words and (tick.side == "both" or tick.at not in shared):
            by_level.setdefault(float(tick.at), []).append(words)
    return [(level, tuple(words)) for level, words in by_level.items()]


def _says(job: Job, strip: Strip, tick: Tick, side: str) -> str:
    """Return the words beside a mark, on the side where it stands."""
    figure = format_length(tick.at, job.lengths)
    if tick.side == "both":
        if side == "A" or tick.kind == "end":
            return ""
        return f"{_SAYS[tick.kind]}  {figure}"
    if tick.side != side:
        return ""
    if strip.courses:
        return figure
    if tick.kind == "target":
        return f"{plain(tick.name).upper()}  {figure}"
    if tick.kind == "ledger" and propped_on(job.opening.head) == "centre":
        return "SPRING LINE"
    words = _SAYS[tick.kind].format(name=plain(tick.name).upper())
    return f"{words}  {figure}" if tick.kind == "course top" else words


def _letter(
    labels: list[tuple[float, tuple[str, ...]]],
    inside: bool,
    wide: float,
    inch: float,
    page: Stretch,
) -> Iterator[Ink]:
    """Letter the marks of one side, clear of one another, with lines to them."""
    text = TEXT * inch
    foot, bend = (0.3 * inch, 0.4 * inch) if inside else (wide, wide + 0.12 * inch)
    room = wide if inside else (NOTES - LABELS - 0.25) * inch - bend
    lines: list[tuple[float, str]] = []
    for level, words in labels:
        wrapped = [line for each in words for line in wrap(each, text, room)]
        lines += ((level, line) for line in reversed(wrapped))
    levels = _spread([level for level, _ in lines], 1.6 * text, page.high)
    for (level, line), y in zip(lines, levels, strict=True):
        if 0.1 * text < abs(y - level):
            yield Stroke(layers.DIMENSIONS, ((foot, level), (bend, y)))
        at = (bend + 0.05 * inch, y)
        yield Words(layers.NOTES, at, line, text, seat="middle")


def _spread(levels: list[float], apart: float, top: float) -> list[float]:
    """Spread levels upwards to be at least so far apart, none above the top."""
    places: list[float] = []
    for level in levels:
        places.append(max(level, places[-1] + apart) if places else level)
    limit = top
    for index in range(len(places) - 1, -1, -1):
        places[index] = min(places[index], limit)
        limit = places[index] - apart
    return places


def _notes(
    solution: Solution,
    strip: Strip,
    page: Stretch,
    paper: tuple[float, float],
    inch: float,
) -> Iterator[Ink]:
    """Letter what the page is, draw the bars to check its size, mark its lower end."""
    text, margin = TEXT * inch, MARGIN * inch
    x = margin + NOTES * inch
    y = paper[1] - margin
    room = paper[0] - margin - x
    for line in wrap(_title(strip), LARGE * inch, room):
        y -= 1.4 * LARGE * inch
        yield Words(layers.NOTES, (x, y), line, LARGE * inch)
    for paragraph in _paragraphs(solution, strip, page):
        y -= 0.6 * text
        for line in wrap(plain(paragraph).upper(), text, room):
            y -= 1.6 * text
            yield Words(layers.NOTES, (x, y), line, text)
    yield from check_bars(margin, inch)
    foot = (margin + LABELS * inch, margin + FOOT * inch - 0.2 * inch)
    end = "LOWER END, 0" if not strip.courses else "THIS END DOWN: LEFT END"
    if page.number == 1:
        yield Words(layers.NOTES, foot, end, text)


def _paragraphs(solution: Solution, strip: Strip, page: Stretch) -> Iterator[str]:
    job, about = solution.job, solution.job.job
    survey_line = solution.surround.as_built.survey_line
    yield f"{about.name} {about.number}".strip()
    dated = " / ".join(x for x in (str(about.date or ""), about.revision) if x)
    yield f"Date / revision: {dated or 'none given'}"
    yield f"Program / job file: {drawn_from(job).words}"
    yield f"Page {page.number} of {page.count}"
    yield "Full size: print at 100 %. Measure both bars before use."
    height = format_length(job.brick.height, job.lengths)
    if not strip.courses:
        yield f"Brick {height} high"
    if page.number > 1:
        return
    if not strip.courses:
        yield (
            "0 is the datum: level with the highest point of the hearth under the "
            "brick. Set the pole's 0 to that level; do not stand it on the hearth."
        )
        if survey_line is not None:
            yield f"The level line of your survey is {_from_datum(survey_line, job)}."
        yield "Left: the top of each course. Right: the targets and other levels."
    else:
        a, *b = strip.courses
        yield f"Left edge: course {a}." + (f" Right edge: course {b[0]}." if b else "")
        yield "Here the rod stands on its left end. Figures are from that end."
        yield "The marks are both edges of each head joint."
    yield "Lay the pages over one another so that lines with the same JOIN number meet."


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
        yield Words(layers.NOTES, at, name, TEXT * inch, seat="middle")
