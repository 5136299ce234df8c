"""What a mark of a view, and its leader, keep clear of.

In:  a `Drawing`.   Out: boxes and polygons.
Frame: the drawing's own.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeGuard

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Fill, Ink, Insert, Point, Stroke
from shopdraw.drawing.lettering import Box


def boxes_of(drawing: Drawing) -> Iterator[Box]:
    """Yield the boxes round all lettering."""
    yield from (box for _, box in lettering_of(drawing))


def arrows_of(drawing: Drawing) -> Iterator[shapely.Polygon]:
    """Yield the arrows of marks, which are drawn through three points."""
    strokes = (x for x in drawing.ink if isinstance(x, Stroke))
    for stroke in strokes:
        if stroke.layer == layers.NOTES and len(stroke.points) == 3:
            yield shapely.Polygon(stroke.points)


def solids_of(drawing: Drawing, radius: float) -> Iterator[shapely.Polygon]:
    """Yield brick, what others make, other bubbles and leaders; less than all of it.

    So a leader may begin at an edge.
    """
    symbols = {symbol.name: symbol for symbol in drawing.symbols}
    for ink in drawing.ink:
        if _is_leader(ink):
            yield shapely.LineString(ink.points).buffer(0.02 * radius)
            continue
        ring: tuple[Point, ...] = ()
        if isinstance(ink, Insert):
            (x, y), first = ink.at, symbols[ink.symbol].strokes[0]
            ring = tuple((x + a, y + b) for a, b in first.points)
        elif _is_solid(ink) or _is_arrow(ink):
            ring = ink.points
        if len(ring) > 2:
            yield shapely.Polygon(ring).buffer(-0.02 * radius)


def _is_solid(ink: Ink) -> TypeGuard[Fill | Stroke]:
    """Whether it is cut brick, the outline of what others make, or a bubble."""
    if isinstance(ink, Fill):
        return ink.layer == layers.SECTION
    outlines = (layers.OTHERS, layers.NOTES)
    return isinstance(ink, Stroke) and ink.closed and ink.layer in outlines


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
