"""Keep what stands on a drawing in the way of the marks that are put on it.

In:  a `Drawing`, and what was added to it since.   Out: its lines, lettering, solids.
Frame: the drawing's own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TypeGuard

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import RADIUS
from shopdraw.drawing.extents import about, every_line, extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Fill, Ink, Insert, Measure, Point, Stroke
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.measures import Line

CLEAR = 0.2
"""How far a leader keeps off lettering, in its heights."""


class InTheWay:
    """What stands on a drawing, in the way of its marks: reckoned once, then added to.

    Attributes:
        name: the drawing's.
        text: how high it is lettered on paper.
        scale: the drawing's.
        radius: of a bubble.
        extent: of all ink, which had better not grow.
    """

    def __init__(self, drawing: Drawing, text: float) -> None:
        self.name, self.text, self.scale = drawing.name, text, drawing.scale
        self.radius = RADIUS * text * drawing.scale
        self.extent = extent_of(drawing)
        self._strings = tuple(x for x in drawing.ink if isinstance(x, Measure))
        self._drawing = drawing
        # On a plan corners are lettered right beside where their marks are led to.
        self._clear = CLEAR * text * drawing.scale if self.name == "elevation" else 0.0
        self._lines: list[Line] = []
        self._words, self._near, self._solid = (list[shapely.Geometry]() for _ in "wns")
        self._marks = list[shapely.Geometry]()
        self.add(drawing)

    def add(self, more: Drawing) -> None:
        """Add what was drawn since."""
        self._lines += every_line(more)
        boxes = [shapely.box(*box) for box in _boxes(more)]
        self._words += boxes
        self._near += (*(x.buffer(self._clear) for x in boxes), *_arrows(more))
        self._marks += _marks(more, self.radius)
        self._solid += _solids(more, self.radius)
        boxes_about = self.extent, extent_of(more)
        corners = [corner for a, b, c, d in boxes_about for corner in ((a, b), (c, d))]
        self.extent = about(corners)

    def trees(self) -> tuple[shapely.STRtree, ...]:
        """Return lines; lettering; what a leader keeps clear of; what is solid."""
        lines = shapely.STRtree(shapely.linestrings(self._lines))
        others = self._words, self._near, [*self._solid, *self._marks]
        return lines, *(shapely.STRtree(each) for each in others)

    def marks_across(self, leader: shapely.LineString) -> int:
        """Count the bubbles, arrows and leaders that a leader runs through."""
        return sum(leader.crosses(mark) for mark in self._marks)

    def left_of_strings(self) -> float:
        """Return where the strings of dimensions end at the left."""
        return extent_of(replace(self._drawing, ink=self._strings))[0]


def _boxes(drawing: Drawing) -> Iterator[Box]:
    """Yield the boxes round all lettering."""
    yield from (box for _, box in lettering_of(drawing))


def _arrows(drawing: Drawing) -> Iterator[shapely.Polygon]:
    """Yield the arrows of marks, which are drawn through three points."""
    strokes = (x for x in drawing.ink if isinstance(x, Stroke))
    for stroke in strokes:
        if stroke.layer == layers.NOTES and len(stroke.points) == 3:
            yield shapely.Polygon(stroke.points)


def _marks(drawing: Drawing, radius: float) -> Iterator[shapely.Polygon]:
    """Yield other bubbles, their arrows, all leaders, each a little less than it is.

    So a leader may begin at an edge.
    """
    for ink in drawing.ink:
        if _is_leader(ink):
            yield shapely.LineString(ink.points).buffer(0.02 * radius)
        elif _is_arrow(ink) or _is_outline(ink, layers.NOTES):
            yield shapely.Polygon(ink.points).buffer(-0.02 * radius)


def _solids(drawing: Drawing, radius: float) -> Iterator[shapely.Polygon]:
    """Yield what is placed whole, cut, or made by others; a little less than it is."""
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    for ink in drawing.ink:
        ring: tuple[Point, ...] = ()
        if isinstance(ink, Insert):
            (x, y), first = ink.at, symbols[ink.symbol].strokes[0]
            ring = tuple((x + a, y + b) for a, b in first.points)
        elif _is_cut(ink) or _is_outline(ink, layers.OTHERS):
            ring = ink.points
        if len(ring) > 2:
            yield shapely.Polygon(ring).buffer(-0.02 * radius)


def _is_cut(ink: Ink) -> TypeGuard[Fill]:
    """Whether it is a solid that the view cuts."""
    return isinstance(ink, Fill) and ink.layer == layers.SECTION


def _is_outline(ink: Ink, layer: str) -> TypeGuard[Stroke]:
    """Whether it is the outline of what others make, or a bubble: on their layers."""
    return isinstance(ink, Stroke) and ink.closed and ink.layer == layer


def _is_leader(ink: Ink) -> TypeGuard[Stroke]:
    """Whether it is the leader of another bubble, or the line across it."""
    if not isinstance(ink, Stroke):
        return False
    return ink.layer == layers.NOTES and len(ink.points) == 2


def _is_arrow(ink: Ink) -> TypeGuard[Stroke]:
    """Whether it is the arrow of another bubble."""
    if not isinstance(ink, Stroke):
        return False
    return ink.layer == layers.NOTES and len(ink.points) == 3
