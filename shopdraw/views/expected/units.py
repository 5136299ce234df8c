"""Trace the pieces that lie on one face.

In:  `Layout`, the face, how far it is moved.   Out: `Trace`s.
Frame: the drawing's own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.expected import Trace
from shopdraw.drawing.ink import Point
from shopdraw.masonry.laying.cut_lines import cut_lines
from shopdraw.masonry.wall.layout import Layout


def trace_units(layout: Layout, face: str, dx: Fraction) -> Iterator[Trace]:
    """Yield the outlines and the cut lines of all pieces on a face, moved by `dx`."""
    folds = {stop.x for stop in layout.stops if stop.kind == "fold"}
    for piece in layout.pieces:
        layer = layers.CORNERS if len(piece.outlines) == 2 else layers.UNITS
        for outline in piece.outlines:
            if outline.face != face:
                continue
            ring = _floats((x + dx, y) for x, y in outline.points)
            yield Trace(layer, "closed", ring)
            for line in cut_lines(piece, outline, folds):
                ends = tuple((x + float(dx), y) for x, y in line)
                yield Trace(layers.CUTS, "open", ends)


def _floats(points: Iterable[tuple[Fraction, Fraction]]) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in points)
