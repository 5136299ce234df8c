"""Run the level lines of a row of views across them, and name each once at the edge.

In:  `Solution`, a `Drawing` of a row.   Out: the drawing with its part of each line.
Frame: the drawing's own; y from the datum.

The levels are the datum, what the courses are to land on, and the crown of an arch. A
line breaks off at lettering and at whatever stands in its way: it is there for the eye,
from one view to the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from shopdraw.drawing import layers
from shopdraw.drawing.extents import about, extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Fill, Hatch, Ink, Insert, Point, Stroke, Words
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.sheets import STYLES
from shopdraw.lengths import format_length
from shopdraw.solution import Solution
from shopdraw.views.parts.heights import LevelLine, levels_of

Run = tuple[float, float]
CLEAR = 0.4
"""How far a line keeps off lettering, in its heights."""
PITCH = 1.7
"""From one line of names to the next, in heights of lettering."""
OUT = 3.0
"""How far off the last view the names stand, in heights of lettering."""


def with_levels(
    solution: Solution, drawing: Drawing, beyond: float, top: float, *, is_named: bool
) -> Drawing:
    """Draw the level lines through a view, as far as what stands beside it.

    Args:
        solution: for the levels.
        drawing: an upright view.
        beyond: how far the lines go on at both sides, on paper.
        top: of the highest view of its row; a level above it has nothing to show there.
        is_named: each line is named at its right end.
    """
    text = STYLES[solution.lengths].text
    left, _, right, _ = extent_of(drawing)
    ends = left - beyond * drawing.scale, right + beyond * drawing.scale
    levels = [x for x in levels_of(solution) if x.at <= top]
    lettered = [box for _, box in lettering_of(drawing)]
    there = lettered, [*_solids(drawing)]
    ink = list[Ink]()
    for level in levels:
        at = float(level.at)
        taken = [*_in_the_way(there, at, CLEAR * text * drawing.scale)]
        ink += (
            Stroke(layers.LEVELS, ((a, at), (b, at)))
            for a, b in _free(ends, taken)
            if b - a > text * drawing.scale
        )
    if is_named:
        ink += _names(solution, levels, ends[1], drawing.scale)
    return replace(drawing, ink=(*drawing.ink, *ink))


def _names(
    solution: Solution, levels: Iterable[LevelLine], x: float, scale: float
) -> Iterator[Ink]:
    """Name the levels from the lowest up; one that is crowded out stands higher."""
    text = STYLES[solution.lengths].text
    unit = text * scale
    last: float | None = None
    for level in levels:
        at = float(level.at)
        letter = at if last is None else max(at, last + PITCH * unit)
        words = f"{', '.join(level.names)} {format_length(level.at, solution.lengths)}"
        bend = (x + unit, at), (x + (OUT - 0.4) * unit, letter)
        yield Stroke(layers.LEVELS, ((x, at), *bend))
        spot = x + OUT * unit, letter
        yield Words(layers.NOTES, spot, words, text, "left", "middle")
        last = letter


def _in_the_way(
    there: tuple[list[Box], list[Box]], y: float, clear: float
) -> Iterator[Run]:
    """Yield from where to where a level is taken by lettering, or by what is solid."""
    lettered, solids = there
    for left, bottom, right, top in lettered:
        if bottom - clear < y < top + clear:
            yield left - clear, right + clear
    edge = clear / 10
    for left, bottom, right, top in solids:
        if bottom - edge < y < top + edge:
            yield left, right


def _solids(drawing: Drawing) -> Iterator[Box]:
    """Yield the boxes about units, fills, hatches and closed outlines."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    for ink in drawing.ink:
        if isinstance(ink, Insert):
            strokes = symbols[ink.symbol].strokes
            yield about(_moved(p, ink.at) for each in strokes for p in each.points)
        elif isinstance(ink, Fill | Hatch) or (
            isinstance(ink, Stroke) and (ink.closed or ink.layer == layers.PATTERN)
        ):
            yield about(ink.points)


def _moved(point: Point, by: Point) -> Point:
    return point[0] + by[0], point[1] + by[1]


def _free(ends: Run, taken: Iterable[Run]) -> Iterator[Run]:
    """Yield what is left between two ends."""
    at = ends[0]
    for left, right in sorted(taken):
        if left > at:
            yield at, min(left, ends[1])
        at = max(at, right)
    if at < ends[1]:
        yield at, ends[1]
