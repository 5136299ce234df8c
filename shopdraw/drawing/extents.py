"""Find how much room ink takes.

In:  a `Drawing`.   Out: the box about all its ink.
Frame: the drawing's own full-size lengths.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from shopdraw.drawing.ink import (
    Drawing,
    Fill,
    Ink,
    Insert,
    Measure,
    Point,
    Stroke,
    Symbol,
    Words,
)
from shopdraw.drawing.lettering import Box, box_of

PAST_LINE = 1.5
"""How far a tick or an extension line goes past a dimension line, in letter heights."""


def letter_of(measure: Measure, scale: float) -> Words:
    """Return a dimension's figure as the words that it is lettered with."""
    turned = 90.0 if measure.axis == "y" and not measure.upright else 0.0
    if measure.letter is not None:
        at = measure.letter
    else:
        gap = 0.9 * measure.height_on_paper * scale
        if measure.axis == "x":
            at = ((measure.start[0] + measure.end[0]) / 2, measure.line_at + gap)
        else:
            at = (measure.line_at - gap, (measure.start[1] + measure.end[1]) / 2)
    return Words(
        layer=measure.layer,
        at=at,
        text=measure.words,
        height_on_paper=measure.height_on_paper,
        align="centre",
        seat="middle",
        angle_deg=turned,
    )


def lettering_of(drawing: Drawing) -> Iterator[tuple[Words, Box]]:
    """Yield every line of lettering on a drawing with the box about it."""
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


def extent_of(drawing: Drawing) -> Box:
    """Return the box about all of a drawing's ink, lettering included."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    points: list[Point] = []
    for ink in drawing.ink:
        points += _points(ink, symbols, drawing.scale)
    for _, (left, bottom, right, top) in lettering_of(drawing):
        points += [(left, bottom), (right, top)]
    return about(points)


def about(points: Iterable[Point]) -> Box:
    """Return the box about points; ValueError where there are none."""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def _points(ink: Ink, symbols: dict[str, Symbol], scale: float) -> list[Point]:
    if isinstance(ink, Stroke | Fill):
        return list(ink.points)
    if isinstance(ink, Insert):
        return [
            (ink.at[0] + x, ink.at[1] + y)
            for stroke in symbols[ink.symbol].strokes
            for x, y in stroke.points
        ]
    if isinstance(ink, Measure):
        past = PAST_LINE * ink.height_on_paper * scale
        if ink.axis == "x":
            ends = [(x, ink.line_at) for x in (ink.start[0], ink.end[0])]
            ends = [(x, y + side) for x, y in ends for side in (-past / 2, past / 2)]
        else:
            ends = [(ink.line_at, y) for y in (ink.start[1], ink.end[1])]
            ends = [(x + side, y) for x, y in ends for side in (-past / 2, past / 2)]
        return [ink.start, ink.end, *ends]
    return []
