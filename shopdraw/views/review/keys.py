"""Place measured lines, their figures and their row numbers, wherever there is room.

In:  the ink of a view, and what to key on it.   Out: `Board`, with its ink.
Frame: the view's own, full size.

A figure stands as near to its line as it can be read: clear of all lettering, with no
line through it, and no leader through another figure.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import cos, floor, hypot, sin, tau
from typing import Generic, TypeVar

from shopdraw.drawing import layers
from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.hatching import lines_in
from shopdraw.drawing.ink import Drawing, Hatch, Ink, Measure, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, overlap, width_of
from shopdraw.drawing.measures import Line, lines_of, ticks_of
from shopdraw.drawing.sheets import STYLES
from shopdraw.lengths import MM_PER_INCH, Lengths
from shopdraw.views.parts.figures import dot, ring_of

RING, NUMBER = 0.078, 0.055
"""In inches on paper: the radius of a key's circle, and the height of its number."""
TURNS, FURTHEST, NEAR = 16, 30, 10
"""In how many directions and how many steps away a figure is tried, and how many steps
away the row number of a thing without a figure."""

Thing = TypeVar("Thing")
CELL = 8
"""In heights of lettering: how wide a cell is of the grid that keeps what is drawn."""
MOST_MISSED = 8
"""So many figures may find no place before no other is tried: the view is full."""


@dataclass(frozen=True)
class Keyed:
    """What to key: a figure with the lines that may show it, or a thing in its place.

    Attributes:
        number: of its row in the table.
        words: the figure; empty for a thing.
        spans: lines that measure it, the best first.
        toward: the direction in which the figure is tried first; 0 is to the right.
        extends_from: the level at which extension lines begin; None for no such lines.
    """

    number: int
    words: str
    spans: tuple[Line, ...]
    toward: float = 0.0
    extends_from: float | None = None


class _Near(Generic[Thing]):
    """What lies on a view, by the cells of a grid that each thing's box is in."""

    def __init__(self, cell: float) -> None:
        self._cell = cell
        self._things: defaultdict[tuple[int, int], list[Thing]] = defaultdict(list)

    def put(self, thing: Thing, box: Box) -> None:
        """Put a thing where its box is."""
        for cell in self._cells(box):
            self._things[cell].append(thing)

    def near(self, box: Box) -> Iterator[Thing]:
        """Yield all that shares a cell with a box, some of it more than once."""
        for cell in self._cells(box):
            if cell in self._things:
                yield from self._things[cell]

    def _cells(self, box: Box) -> Iterator[tuple[int, int]]:
        left, low, right, high = (floor(side / self._cell) for side in box)
        for x in range(left, right + 1):
            for y in range(low, high + 1):
                yield x, y


class Board:
    """A view being drawn: its ink so far, and where there is still room."""

    def __init__(self, lengths: Lengths, scale: float, ink: Iterable[Ink]) -> None:
        self.scale, self.small = scale, STYLES[lengths].small
        self.inch = scale * (1.0 if lengths == "in" else float(MM_PER_INCH))
        self.ink: list[Ink] = []
        cell = CELL * self.text
        self._boxes: _Near[Box] = _Near(cell)
        self._lines: _Near[Line] = _Near(cell)
        self._measured: list[Box] = []
        for each in ink:
            self._put(each)

    @property
    def text(self) -> float:
        """The height of the lettering, at full size."""
        return self.small * self.scale

    def drawing(self, name: str) -> Drawing:
        """Return the drawing so far."""
        return Drawing(name, "", self.scale, tuple(self.ink))

    def _put(self, ink: Ink) -> None:
        self.ink.append(ink)
        alone = Drawing("", "", self.scale, (ink,))
        for _, box in lettering_of(alone):
            self._boxes.put(box, box)
        self._put_lines(ink)

    def _put_lines(self, ink: Ink) -> None:
        for line in _lines(ink, self.scale):
            self._lines.put(line, _about(line))

    def key(self, keyed: list[Keyed]) -> Iterator[int]:
        """Draw measured lines, figures and row numbers where nothing is in the way.

        Yields:
            The rows of figures that found no place; their lines are not drawn either. A
            thing that found none stands without its number.
        """
        # Lines first, those with one place before the rest; then what is beside them.
        spans = {
            x.number: self._span(x) for x in sorted(keyed, key=lambda x: len(x.spans))
        }
        missed = 0
        for each in sorted(keyed, key=lambda x: not x.words):
            span = spans[each.number]
            is_tried = span is not None and missed < MOST_MISSED
            if not is_tried or span is None or not self._is_keyed(each, span):
                missed += is_tried
                yield from (each.number,) if each.words else ()

    def _span(self, keyed: Keyed) -> Line | None:
        """Take a line that runs through no lettering nor along another line, if any."""
        free = [
            x
            for x in keyed.spans
            if not any(_meet(x, y) for y in self._boxes.near(_about(x)))
        ]
        half = 0.4 * self.text
        wide = [(x, _about(x, half)) for x in free]
        alone = [
            x for x, box in wide if not any(overlap(box, y) for y in self._measured)
        ]
        span = next(iter((*alone, *free)), None)
        if span and keyed.words:
            for ink in self._measure(keyed, span, span[0]):
                self._put_lines(ink)
            if span[0][0] == span[1][0] or span[0][1] == span[1][1]:
                self._measured.append(_about(span, half))
        return span

    def _is_keyed(self, keyed: Keyed, span: Line) -> bool:
        """Draw a figure at the nearest clear place; False where there is none."""
        turns = [keyed.toward + tau * turn / TURNS for turn in range(TURNS)]
        turns.sort(key=lambda turn: -round(cos(turn - keyed.toward), 6))
        return any(
            self._draw(keyed, span, far, turn)
            for far in range(FURTHEST if keyed.words else NEAR)
            for turn in turns
        )

    def _draw(self, keyed: Keyed, span: Line, far: int, turn: float) -> bool:
        """Draw a figure so far off in one direction, if it is clear there."""
        number = str(keyed.number)
        radius = max(RING, width_of(number, NUMBER) / 2 + 0.025) * self.inch
        (a, b), (c, d) = span
        away = (1.5 * bool(keyed.words) + 0.6 * far) * radius
        at = ((a + c) / 2 + away * cos(turn), (b + d) / 2 + away * sin(turn))
        # The figure stands on the far side of the circle, as the leader comes to it.
        side = -1 if cos(turn) < -0.01 else 1
        wide = width_of(keyed.words, self.text)
        letter = (at[0] + side * (radius + 0.4 * self.text + wide / 2), at[1])
        ends = at[0] - radius, at[0] + radius, letter[0] + side * wide / 2
        clear = 0.2 * self.text
        up = radius + clear
        box = (min(ends) - clear, at[1] - up, max(ends) + clear, at[1] + up)
        if any(overlap(box, other) for other in self._boxes.near(box)):
            return False
        own = list(self._measure(keyed, span, letter)) if keyed.words else []
        lead = _leader(span, at, radius)
        if not self._is_clear(box, own, lead):
            return False
        ring = tuple(
            (at[0] + radius * cos(x), at[1] + radius * sin(x))
            for x in (tau * place / 24 for place in range(24))
        )
        height = NUMBER * self.inch / self.scale
        for ink in (
            *own,
            *(Stroke(layers.DIMENSIONS, line) for line in lead),
            Stroke(layers.DIMENSIONS, ring, closed=True),
            Words(layers.DIMENSIONS, at, number, height, "centre", "middle"),
        ):
            self._put(ink)
        self._boxes.put(box, box)
        return True

    def _is_clear(self, box: Box, own: list[Ink], lead: list[Line]) -> bool:
        """Whether a figure in a box, its line and its leader are in nothing's way."""
        lines = [line for ink in own for line in _lines(ink, self.scale)]
        return not (
            any(_meet(line, box) for line in lines)
            or any(_meet(line, box) for line in self._lines.near(box))
            or any(
                _meet(x, y)
                for x in (*lines, *lead)
                for y in self._boxes.near(_about(x))
            )
        )

    def _measure(self, keyed: Keyed, span: Line, letter: Point) -> Iterator[Ink]:
        """Draw a measured line and its figure; a slanting line as plain strokes."""
        (a, b), (c, d) = span
        if (a == c) != (b == d):
            level = keyed.extends_from
            start, end = span if level is None else ((a, level), (c, level))
            yield Measure(
                layers.DIMENSIONS,
                start,
                end,
                "x" if b == d else "y",
                b if b == d else a,
                keyed.words,
                self.small,
                letter=letter,
                upright=True,
            )
            return
        yield Words(
            layers.DIMENSIONS, letter, keyed.words, self.small, "centre", "middle"
        )
        if span[0] == span[1]:
            yield dot(span[0], 0.4 * self.text)
            return
        yield Stroke(layers.DIMENSIONS, span)
        tick = 0.4 * self.text
        for x, y in span:
            yield Stroke(
                layers.DIMENSIONS, ((x - tick, y - tick), (x + tick, y + tick))
            )


def _about(line: Line, by: float = 0.0) -> Box:
    """Return the box round a line, wider by so much each way."""
    (a, b), (c, d) = line
    return (min(a, c) - by, min(b, d) - by, max(a, c) + by, max(b, d) + by)


def _leader(span: Line, at: Point, radius: float) -> list[Line]:
    """Return the line from a circle to the nearest point of what it belongs to."""
    (a, b), (c, d) = span
    long = (c - a) ** 2 + (d - b) ** 2
    part = ((at[0] - a) * (c - a) + (at[1] - b) * (d - b)) / long if long else 0.0
    part = min(max(part, 0.0), 1.0)
    x, y = a + part * (c - a), b + part * (d - b)
    far = hypot(x - at[0], y - at[1])
    if far <= radius:
        return []
    edge = radius / far
    return [((x, y), (at[0] + (x - at[0]) * edge, at[1] + (y - at[1]) * edge))]


def _lines(ink: Ink, scale: float) -> list[Line]:
    """Return the lines that ink is made of."""
    if isinstance(ink, Measure):
        return [*lines_of(ink, scale), *ticks_of(ink, scale)]
    if isinstance(ink, Hatch):
        return list(lines_in(ink))
    if not isinstance(ink, Stroke):
        return []
    points = (*ink.points, ink.points[0]) if ink.closed else ink.points
    return list(pairwise(points))


def _meet(line: Line, box: Box) -> bool:
    """Whether a line runs through a box: its corners are not all on one side of it."""
    ((a, b), (c, d)), (left, low, right, high) = line, box
    if (a < left and c < left) or (a > right and c > right):
        return False
    if (b < low and d < low) or (b > high and d > high):
        return False
    along, up = c - a, d - b
    sides = [along * (y - b) - up * (x - a) for x, y in ring_of(box)]
    return min(sides) <= 0.0 <= max(sides)
