"""Say where a sheet has ink on a coarse grid, and hold a page or a picture against it.

In:  `Sheet`, or lines and boxes on a page.   Out: `Inked`; differences in words.
Frame: cells of the paper from its lower left corner, rows upwards.

It is reckoned from the ink itself, as the DXF file is, and not from what the writers
of pages and pictures make of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np

from shopdraw.drawing.hatching import lines_in
from shopdraw.drawing.ink import (
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
from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.lettering import ring_of_words
from shopdraw.drawing.measures import letter_of, lines_of, ticks_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.lengths import MM_PER_INCH

CELL = 0.12
"""How wide a cell is, in inches; ink a cell further is where it should be."""
BLANK = frozenset(layer.name for layer in LAYERS if not layer.plots)
"""Layers that are not printed."""
TOLD = 3
"""So many places are named."""
Cells = Any
"""An array of truths: rows upwards, columns to the right."""
Line = tuple[Point, Point]


@dataclass
class Inked:
    """Where a sheet has ink.

    Attributes:
        wide, high: of the paper, in inches.
        must: cells that lines run through.
        may: those, and all that lettering and areas cover.
        words: every line of lettering, blanks left out.
    """

    wide: float
    high: float
    must: Cells
    may: Cells
    words: list[str] = field(default_factory=list)


@dataclass
class _Found:
    """Lines, areas' outlines and letterings' boxes, on paper in inches."""

    lines: list[Line] = field(default_factory=list)
    rings: list[tuple[Point, ...]] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    is_painted: bool = False


@lru_cache(maxsize=16)  # A sheet's picture and its page are held against the same.
def inked(sheet: Sheet) -> Inked:
    """Return where a sheet has ink."""
    inch = 1.0 if sheet.lengths == "in" else float(MM_PER_INCH)
    found = _Found()
    for placed in sheet.drawings:
        drawing, to_paper = placed.drawing, placed.placement.to_paper
        symbols = {symbol.name: symbol for symbol in drawing.symbols}
        _gather(found, drawing.ink, to_paper, inch, drawing.scale, symbols)
    _gather(found, sheet.paper_ink, lambda point: point, inch, 1.0, {})
    wide, high = sheet.width / inch, sheet.height / inch
    must = cells_of(found.lines, wide, high)
    may = must.copy()
    for ring in found.rings:
        _cover(may, ring)
    may |= found.is_painted
    return Inked(wide, high, must, may, found.words)


def _gather(
    found: _Found,
    ink: Iterable[Ink],
    to_paper: Callable[[Point], Point],
    inch: float,
    scale: float,
    symbols: dict[str, Symbol],
) -> None:
    def on_paper(point: Point) -> Point:
        x, y = to_paper(point)
        return x / inch, y / inch

    for each in ink:
        if isinstance(each, Paint):
            found.is_painted = True
        elif isinstance(each, Fill):
            found.rings.append(tuple(map(on_paper, each.points)))
        else:
            found.lines += (
                (on_paper(a), on_paper(b)) for a, b in _lines(each, scale, symbols)
            )
            for words in _lettered(each, scale):
                if words.text.strip():
                    found.words.append(words.text)
                    ring = ring_of_words(words, scale)
                    found.rings.append(tuple(map(on_paper, ring)))


def _lines(ink: Ink, scale: float, symbols: dict[str, Symbol]) -> Iterator[Line]:
    if isinstance(ink, Stroke):
        yield from _sides(ink, (0.0, 0.0))
    elif isinstance(ink, Hatch):
        yield from lines_in(ink)
    elif isinstance(ink, Insert):
        for stroke in symbols[ink.symbol].strokes:
            yield from _sides(stroke, ink.at)
    elif isinstance(ink, Measure):
        yield from lines_of(ink, scale)
        yield from ticks_of(ink, scale)


def _sides(stroke: Stroke, at: Point) -> Iterator[Line]:
    if stroke.layer not in BLANK:
        points = [(x + at[0], y + at[1]) for x, y in stroke.points]
        yield from pairwise([*points, points[0]] if stroke.closed else points)


def _lettered(ink: Ink, scale: float) -> Iterator[Words]:
    if isinstance(ink, Words):
        yield ink
    elif isinstance(ink, Measure):
        yield letter_of(ink, scale)
    elif isinstance(ink, Insert):
        yield from (tag.words for tag in ink.tags if tag.words is not None)


def blank(wide: float, high: float) -> Cells:
    """Return the cells of a paper without ink."""
    return np.zeros((int(high / CELL) + 1, int(wide / CELL) + 1), dtype=bool)


def cells_of(lines: Iterable[Line], wide: float, high: float) -> Cells:
    """Return the cells that lines run through; what is off the paper is in none."""
    cells = blank(wide, high)
    ends = np.array([(*a, *b) for a, b in lines], dtype=float).reshape(-1, 4)
    if not len(ends):
        return cells
    long = np.hypot(ends[:, 2] - ends[:, 0], ends[:, 3] - ends[:, 1])
    count = np.ceil(2 * long / CELL).astype(int) + 1
    of = np.repeat(np.arange(len(ends)), count)
    step = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
    part = (step / np.maximum(count[of] - 1, 1))[:, np.newaxis]
    points = ends[of, :2] + part * (ends[of, 2:] - ends[of, :2])
    columns, rows = np.floor(points / CELL).astype(int).T
    high_count, wide_count = cells.shape
    is_on = (columns >= 0) & (columns < wide_count) & (rows >= 0) & (rows < high_count)
    cells[rows[is_on], columns[is_on]] = True
    return cells


def _cover(cells: Cells, ring: tuple[Point, ...]) -> None:
    """Mark all cells about a ring's points."""
    xs, ys = zip(*ring, strict=True)
    left, right = (max(int(x / CELL), 0) for x in (min(xs), max(xs)))
    low, high = (max(int(y / CELL), 0) for y in (min(ys), max(ys)))
    cells[low : high + 1, left : right + 1] = True


def _spread(cells: Cells) -> Cells:
    """Return cells with all their neighbours."""
    wider = cells.copy()
    wider[1:] |= cells[:-1]
    wider[:-1] |= cells[1:]
    across = wider.copy()
    across[:, 1:] |= wider[:, :-1]
    across[:, :-1] |= wider[:, 1:]
    return across


def hold_ink(found: Cells, wanted: Inked) -> Iterator[str]:
    """Yield it if there is ink where there should be none, or none where it should."""
    for cells, what in (
        (wanted.must & ~_spread(found), "no ink"),
        (found & ~_spread(wanted.may), "ink that should not be there"),
    ):
        places = np.argwhere(cells)
        if len(places):
            spots = ((x * CELL, y * CELL) for y, x in places[:TOLD])
            near = ", ".join(f"({x:.1f}, {y:.1f}) in" for x, y in spots)
            yield f"{what} in {len(places)} places, as near {near}"
