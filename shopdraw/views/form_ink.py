"""The ink of a form to fill in by hand: boxes, questions, letters in circles.

In:  points, words.   Out: `Ink`.
Frame: inches, y up.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import cos, hypot, sin, tau

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Align, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.drawing.papers import Part

MARGIN, GAP, GUTTER, LEAST_WIDTH, LEAST_FIGURE = 0.4, 0.11, 0.2, 7.4, 1.9
"""In inches; the gutter is the gap between two columns."""
LETTER = 11 - 2 * MARGIN
"""In inches: how high a page of letter is within its margins."""
TITLE, HEAD, TEXT, FINE, PITCH = 0.15, 0.075, 0.0625, 0.055, 1.65
"""Heights of lettering, and how far apart its lines are, in heights."""
TAG, TICK, ROW, BAND, BOX, ASK, SQUARE = 0.08, 0.03, 0.213, 0.15, 1.0, 0.18, 0.1
LEAST_BOX = 0.42
"""In inches: the boxes of a row share `BOX`, and take more where each would be less."""
Row = tuple[str, str, str]
"""A letter of the figure, a key, and from where to where to measure. Without a letter:
a heading, the heads of the boxes below, and the words."""
Marks = Iterator[Ink]


def words(at: Point, text: str, height: float = TEXT, align: Align = "left") -> Words:
    """Return a line of lettering."""
    return Words(layers.NOTES, at, text, height, align)


def ring(left: float, top: float, wide: float, high: float) -> tuple[Point, ...]:
    """Return the corners of a box from its upper left one, the first again at last."""
    right, foot = left + wide, top - high
    return (left, foot), (right, foot), (right, top), (left, top), (left, foot)


def box(left: float, top: float, wide: float, high: float) -> Stroke:
    """Return a box to write in."""
    return Stroke(layers.TABLES, ring(left, top, wide, high)[1:], closed=True)


def asked(at: Point, what: str, key: str, right: float | None = None) -> Marks:
    """Letter a question and its key, and rule a line to write on, as far as `right`."""
    yield words(at, what)
    x = at[0] + width_of(f"{what}  ", TEXT)
    if key:
        yield words((x, at[1]), key, FINE)
        x += width_of(f"{key} ", FINE)
    if right is not None:
        yield Stroke(layers.TABLES, ((x, at[1] - 0.02), (right, at[1] - 0.02)))


def table(
    columns: tuple[tuple[Row, ...], tuple[Row, ...]], wide: float, row: float
) -> Part:
    """Draw the boxes for what to measure, in two columns with equally many rows.

    Args:
        columns: the rows of each.
        wide: the page within its margins, in inches.
        row: how high a row is.
    """
    half, y = (wide - GUTTER) / 2, 0.0
    ink: list[Ink] = []
    for left, rows in zip((0.0, half + GUTTER), columns, strict=True):
        y, heads = 0.0, [""]
        for letter, key, what in rows:
            heads = heads if letter else key.split()
            high = row if letter else BAND
            each = max(BOX / len(heads), LEAST_BOX)
            first = left + half - each * len(heads)
            ink.append(box(left, y, half, high))
            for place, head in enumerate(heads):
                x = first + place * each
                at = (x + each / 2, y - 0.1)
                boxed = box(x, y, each, high)
                ink.append(boxed if letter else words(at, head, FINE, "centre"))
            if letter:
                ink += mark(letter, (left + 0.14, y - high / 2))
                ink.append(words((left + 0.28, y - row / 2 + 0.017), what))
                ink.append(words((left + 0.28, y - row / 2 - 0.075), key, FINE))
            else:
                ink.append(words((left + 0.06, y - 0.105), what))
            y -= high
    return tuple(ink), -y


def span(letter: str, start: Point, end: Point, aside: Point | None = None) -> Marks:
    """Draw a dimension line with its letter in it, or beside it where it is short."""
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    for x, y in (start, end):
        yield Stroke(layers.DIMENSIONS, ((x - TICK, y - TICK), (x + TICK, y + TICK)))
    if aside:
        yield Stroke(layers.DIMENSIONS, (start, end))
    yield from mark(letter, aside or middle, *((middle,) if aside else (start, end)))


def mark(letter: str, at: Point, *points: Point) -> Marks:
    """Draw a letter in a circle, and lines to it from what it measures."""
    (x, y), turns = at, (tau * place / 24 for place in range(24))
    ring = tuple((x + TAG * cos(a), y + TAG * sin(a)) for a in turns)
    yield Stroke(layers.DIMENSIONS, ring, closed=True)
    yield words((x, y - TEXT / 2), letter, align="centre")
    for far_x, far_y in points:
        part = TAG / hypot(far_x - x, far_y - y)
        end = (x + (far_x - x) * part, y + (far_y - y) * part)
        yield Stroke(layers.DIMENSIONS, ((far_x, far_y), end))


def dashes(*points: Point, dash: float = 0.05) -> Marks:
    """Draw a dashed line in black strokes, so that it can be photocopied."""
    for (x, y), (far_x, far_y) in pairwise(points):
        count = round(hypot(far_x - x, far_y - y) / dash / 1.6) or 1
        for a, b in ((i / count, (i + 0.65) / count) for i in range(count)):
            start = (x + (far_x - x) * a, y + (far_y - y) * a)
            end = (x + (far_x - x) * b, y + (far_y - y) * b)
            yield Stroke(layers.DIMENSIONS, (start, end))
