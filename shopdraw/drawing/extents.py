"""Find how much room the ink of a drawing takes.

In:  a `Drawing`.   Out: the box about all its ink.
Frame: the drawing's own full-size lengths.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise

from shopdraw.drawing.hatching import lines_in
from shopdraw.drawing.ink import (
    Drawing,
    Fill,
    Hatch,
    Ink,
    Insert,
    Measure,
    Paint,
    Point,
    Stroke,
    Symbol,
    Words,
)
from shopdraw.drawing.lettering import Box, box_of
from shopdraw.drawing.measures import Line, letter_of, lines_of, ticks_of


def lettering_of(drawing: Drawing) -> Iterator[tuple[Words, Box]]:
    """Yield every line of lettering on a drawing, with the box round it."""
    for ink in drawing.ink:
        if isinstance(ink, Words):
            yield ink, box_of(ink, drawing.scale)
        elif isinstance(ink, Measure):
            words = letter_of(ink, drawing.scale)
            yield words, box_of(words, drawing.scale)
        elif isinstance(ink, Insert):
            for tag in ink.tags:
                if tag.words is not None:
                    yield tag.words, box_of(tag.words, drawing.scale)


def every_line(drawing: Drawing) -> Iterator[Line]:
    """Yield every straight line on a drawing: strokes, hatches, symbols' sides."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    for ink in drawing.ink:
        if isinstance(ink, Stroke):
            yield from _sides(ink, (0.0, 0.0))
        elif isinstance(ink, Hatch):
            yield from lines_in(ink)
        elif isinstance(ink, Insert):
            for stroke in symbols[ink.symbol].strokes:
                yield from _sides(stroke, ink.at)
        elif isinstance(ink, Measure):
            yield from lines_of(ink, drawing.scale)
            yield from ticks_of(ink, drawing.scale)


def _sides(stroke: Stroke, at: Point) -> Iterator[Line]:
    points = [(x + at[0], y + at[1]) for x, y in stroke.points]
    if stroke.closed:
        points.append(points[0])
    yield from pairwise(points)


@lru_cache(maxsize=64)
def extent_of(drawing: Drawing) -> Box:
    """Return the box round all of a drawing's ink, lettering included."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    points: list[Point] = []
    for ink in drawing.ink:
        points += _points(ink, symbols, drawing.scale)
    for _, (left, bottom, right, top) in lettering_of(drawing):
        points += [(left, bottom), (right, top)]
    return about(points)


def about(points: Iterable[Point]) -> Box:
    """Return the box round points; ValueError where there are none."""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def _points(ink: Ink, symbols: dict[str, Symbol], scale: float) -> list[Point]:
    if isinstance(ink, Stroke | Fill | Hatch | Paint):
        return list(ink.points)
    if isinstance(ink, Insert):
        return [
            (ink.at[0] + x, ink.at[1] + y)
            for stroke in symbols[ink.symbol].strokes
            for x, y in stroke.points
        ]
    if isinstance(ink, Measure):
        lines = (*lines_of(ink, scale), *ticks_of(ink, scale))
        return [point for line in lines for point in line]
    return []
