"""Divide a story pole or a rod into stretches that go on a page, and draw them.

In:  `Strip`s.   Out: `Stretch`es; ink.
Frame: the strip at full size, standing up from its foot; sizes of paper in inches.

A stretch ends where a blank is, so that no mark stands at a join: at a JOIN, where the
next one is stuck on, or at a break, where a long blank is left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import plain
from shopdraw.job.model import Job
from shopdraw.job.model_head import propped_on
from shopdraw.lengths import FINEST, MM_PER_INCH, format_length, format_made
from shopdraw.masonry.marks.form import Strip, Tick
from shopdraw.views.making.marks import lines_of
from shopdraw.views.parts.phrases import INSIDE_CORNER, OUTSIDE_CORNER
from shopdraw.views.parts.strings import is_half

STRIP = 1.35
"""How wide the strip is, in inches; the measures below are in inches too."""
TEXT, PITCH = 0.094, 1.55
"""The height of lettering, and how far apart its lines are, in heights."""
BETWEEN = 0.8
"""What is free between two signs, in heights of lettering: so they are told apart."""
ACROSS = 1.2
"""The room on the left for a line that goes right across a strip."""
LAP = 0.3
"""How far a stretch goes on past a join, to be stuck down on."""
CLEAR = 0.4
"""A join stays so far from every mark, where it can."""
BLANK, KEPT = 12.0, {"in": 0.75, "mm": 20 / 25.4}
"""A blank longer than this is left out, but for so much at either end."""
DEEP = 0.2
"""How long the mark of one side is."""
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
End = Literal["end", "join", "break"]


@dataclass(frozen=True)
class Stretch:
    """A part of a strip that is drawn in one piece.

    Attributes:
        strip: what it is a part of.
        number, count: of the stretch, from 1, and how many the strip has.
        low, high: from where to where on the strip, in the job's lengths.
        foot, head: what it ends in below and above.
        joins: the numbers of the joins at its foot and its head; 0 where there is none.
        left_out: how much of a blank is left out above it.
    """

    strip: Strip
    number: int
    count: int
    low: float
    high: float
    foot: End
    head: End
    joins: tuple[int, int] = (0, 0)
    left_out: float = 0.0

    def drawn(self, inch: float) -> tuple[float, float]:
        """Return from where to where it is drawn: past its joins by a lap."""
        lap = LAP * inch
        return (
            self.low - lap * (self.foot == "join"),
            self.high + lap * (self.head == "join"),
        )


def divide(strip: Strip, room: float, job: Job) -> list[Stretch]:
    """Divide a strip into stretches that are drawn no higher than the room."""
    inch = inch_of(job)
    marks = sorted({0.0, float(strip.length), *(float(t.at) for t in strip.ticks)})
    spans = list(_without_blanks(marks, inch, KEPT[job.lengths] * inch))
    found: list[Stretch] = []
    joins = 0
    for place, (low, high) in enumerate(spans):
        cuts = [low, *_cuts(marks, (low, high), room - 2 * LAP * inch, inch), high]
        for n, (a, b) in enumerate(pairwise(cuts)):
            below, above = n > 0, n < len(cuts) - 2
            gap = spans[place + 1][0] - high if place + 1 < len(spans) else 0.0
            found.append(
                Stretch(
                    strip, 0, 0, a, b,
                    "join" if below else "break" if place else "end",
                    "join" if above else "break" if gap else "end",
                    (joins if below else 0, joins + 1 if above else 0),
                    0.0 if above else gap,
                )
            )  # fmt: skip
            joins += above
    count = len(found)
    return [replace(x, number=n, count=count) for n, x in enumerate(found, start=1)]


def _without_blanks(
    marks: list[float], inch: float, kept: float
) -> Iterator[tuple[float, float]]:
    """Yield what is left of a strip between its long blanks."""
    start = marks[0]
    for a, b in pairwise(marks):
        if b - a > BLANK * inch:
            yield start, a + kept
            start = b - kept
    yield start, marks[-1]


def _cuts(
    marks: list[float], span: tuple[float, float], room: float, inch: float
) -> Iterator[float]:
    """Yield where a span is cut: as high as there is room, and clear of every mark."""
    low, high = span
    clear = CLEAR * inch
    while high - low > room + 1e-9:
        limit = low + room
        gaps = [(a, min(b, limit + clear)) for a, b in pairwise(marks) if a < limit]
        gaps = [(a, b) for a, b in gaps if b > low + room / 2]
        wide = [(a, b) for a, b in gaps if b - a >= 2 * clear]
        if wide:
            cut = min(wide[-1][1] - clear, limit)
        else:
            # Nowhere is it clear: as clear as it can be.
            a, b = max(gaps, key=lambda gap: min(gap[1], limit) - gap[0])
            cut = (a + min(b, limit)) / 2
        yield cut
        low = cut


# ---------------------------------------------------------------------------- the ink


def draw_stretch(job: Job, stretch: Stretch, inch: float, room: float) -> Iterator[Ink]:
    """Draw the edges, the ends and the marks of a stretch.

    Args:
        job: its lengths, and what an arch is propped on.
        stretch: to be drawn.
        inch: how long an inch is in the job's lengths.
        room: how far to the right of the strip its lettering may go.
    """
    wide = STRIP * inch
    low, high = stretch.drawn(inch)
    for x in (0.0, wide):
        yield Stroke(layers.BORDER, ((x, low), (x, high)))
    yield from _end(job, stretch, stretch.foot, -1, inch)
    yield from _end(job, stretch, stretch.head, 1, inch)
    shown = [t for t in stretch.strip.ticks if stretch.low <= t.at <= stretch.high]
    for tick in shown:
        yield from _tick(tick, wide, inch)
    for side in ("A", "B"):
        labels = _labels(job, stretch.strip, shown, side)
        columns = (wide + 0.12 * inch, room)
        if side == "A":
            columns = ((DEEP + 0.1) * inch, wide - DEEP * inch)
        yield from _letter(labels, columns, inch, stretch)


def _end(job: Job, stretch: Stretch, kind: End, way: int, inch: float) -> Iterator[Ink]:
    """Draw where a stretch is joined to the next one, or broken off."""
    at = stretch.high if way > 0 else stretch.low
    wide, text = STRIP * inch, TEXT * inch
    if kind == "join":
        yield Stroke(layers.HIDDEN, ((-0.1 * inch, at), (wide + 0.1 * inch, at)))
        words = f"JOIN {stretch.joins[way > 0]}"
        spot = (0.3 * inch, at + way * LAP * inch / 2)
        yield Words(layers.NOTES, spot, words, text, "left", "middle")
    elif kind == "break":
        yield Stroke(layers.DIMENSIONS, _zigzag(at, wide, 0.07 * inch))
        if way > 0:
            exact = Fraction(stretch.left_out).limit_denominator(FINEST)
            left_out = format_made(exact, job.lengths)
            unit = " MM" if job.lengths == "mm" else ""
            spot = (0.0, at + 0.16 * inch)
            yield Words(layers.NOTES, spot, f"LEFT OUT: {left_out}{unit}", text)


def _zigzag(at: float, wide: float, size: float) -> tuple[Point, ...]:
    """Return a break line across a strip."""
    middle = wide / 2
    kink = (
        (middle - 1.5 * size, at), (middle - size / 2, at + size),
        (middle + size / 2, at - size), (middle + 1.5 * size, at),
    )  # fmt: skip
    return ((-size, at), *kink, (wide + size, at))


def _tick(tick: Tick, wide: float, inch: float) -> Iterator[Ink]:
    """Draw one mark, right across the strip if both sides share it."""
    y = float(tick.at)
    if tick.side == "both":
        layer = layers.HIDDEN if tick.kind == "centre" else layers.BORDER
        yield Stroke(layer, ((0.0, y), (wide, y)))
        return
    deep = DEEP * inch
    a, b = (0.0, deep) if tick.side == "A" else (wide - deep, wide)
    yield Stroke(layers.BORDER, ((a, y), (b, y)))


def _labels(
    job: Job, strip: Strip, shown: list[Tick], side: str
) -> list[tuple[float, tuple[str, ...]]]:
    """Return the lettering of one side, upward: each level with everything at it.

    A line across the strip has its figure on the right; on the left it has no words.
    """
    across = [tick for tick in shown if tick.side == "both"]
    # What prints the same as such a line can't be told from it on the strip either.
    said = {_figure(job, tick) for tick in across}
    by_level: dict[float, list[str]] = {}
    for tick in shown:
        words = _says(job, strip, tick, side)
        is_across = tick.side == "both"
        if is_across and side == "A" and tick.kind != "end":
            by_level.setdefault(float(tick.at), []).append("")
        elif words and (is_across or words not in said):
            by_level.setdefault(float(tick.at), []).append(words)
    return [(level, _once(words)) for level, words in sorted(by_level.items())]


def _once(words: Sequence[str]) -> tuple[str, ...]:
    """Leave out a name that stands at the same level with its figure."""
    return tuple(
        each
        for each in words
        if not each or not any(other.startswith(f"{each}  ") for other in words)
    )


def _figure(job: Job, tick: Tick) -> str:
    """Return a mark's figure; to half of the usual step where that says it exactly.

    A piece is sawn to such a half, and must not end elsewhere on the rod.
    """
    finer = is_half(tick.at, job.lengths)
    return (format_made if finer else format_length)(tick.at, job.lengths)


def _says(job: Job, strip: Strip, tick: Tick, side: str) -> str:
    """Return the words beside a mark, on the side where it stands."""
    figure = _figure(job, tick)
    if tick.side == "both":
        if side == "A" or tick.kind == "end":
            return ""
        return f"{_SAYS[tick.kind]}  {figure}"
    if tick.side != side:
        return ""
    if tick.kind == "end":
        return f"END  {figure}"
    if strip.courses:
        is_joint = tick.kind == "joint edge"
        return figure if is_joint else f"{_SAYS[tick.kind]}  {figure}"
    if tick.kind == "target":
        return f"{plain(tick.name).upper()}  {figure}"
    if tick.kind == "ledger" and propped_on(job.opening.head) == "centre":
        return "SPRING LINE"
    words = _SAYS[tick.kind].format(name=plain(tick.name).upper())
    return f"{words}  {figure}" if tick.kind == "course top" else words


def _letter(
    labels: list[tuple[float, tuple[str, ...]]],
    columns: tuple[float, float],
    inch: float,
    stretch: Stretch,
) -> Iterator[Ink]:
    """Letter the marks of one side, clear of one another, with lines to them."""
    text = TEXT * inch
    bend, right = columns
    foot = bend - 0.1 * inch
    signs = [
        (level, lines_of(each, text, right - bend - 0.04 * inch) if each else ())
        for level, words in labels
        for each in words
    ]
    apart = PITCH * text
    free = BETWEEN * text
    # The first line stands no lower than the stretch's foot, the last no higher.
    past = (apart + free) / 2
    places = _spread(
        [level for level, _ in signs],
        [len(lines) * apart + free if lines else ACROSS * text for _, lines in signs],
        (stretch.low - past, stretch.high + past),
    )
    for (level, lines), middle in zip(signs, places, strict=True):
        if lines and 0.1 * text < abs(middle - level):
            yield Stroke(layers.DIMENSIONS, ((foot, level), (bend, middle)))
        y = middle + (len(lines) - 1) / 2 * apart
        for line in lines:
            at = (bend + 0.04 * inch, y)
            yield Words(layers.NOTES, at, line, text, seat="middle")
            y -= apart


def _spread(
    levels: list[float], heights: list[float], ends: tuple[float, float]
) -> list[float]:
    """Return the middles of signs, as near their levels as they have room, in order.

    Signs that meet are put together, and their column stands at their levels' middle.

    Args:
        levels: of the marks, upward.
        heights: of the signs, with what is free between them.
        ends: which no sign passes while there is room.
    """
    # Of each column where its foot should be, and how high its signs are.
    columns: list[tuple[float, list[float]]] = []
    for level, high in zip(levels, heights, strict=True):
        columns.append((level - high / 2, [high]))
        while len(columns) > 1:
            (low, below), (foot, above) = columns[-2:]
            if low + sum(below) <= foot + 1e-9:
                break
            wanted = low * len(below) + (foot - sum(below)) * len(above)
            columns[-2:] = [(wanted / (len(below) + len(above)), [*below, *above])]
    places: list[float] = []
    reached = ends[0]
    for foot, column in columns:
        at = max(foot, reached)
        for high in column:
            places.append(at + high / 2)
            at += high
        reached = at
    limit = ends[1]
    for index in range(len(places) - 1, -1, -1):
        half = heights[index] / 2
        places[index] = min(places[index], limit - half)
        limit = places[index] - half
    return places


def inch_of(job: Job) -> float:
    """Return how long an inch is in the job's lengths."""
    return 1.0 if job.lengths == "in" else float(MM_PER_INCH)
