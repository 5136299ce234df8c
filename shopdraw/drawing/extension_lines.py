"""Tie dimensions to the work: take each extension line on to what it measures.

In:  a `Drawing`.   Out: the same; its dimensions begin at corners of the work.
Frame: the drawing's own.

A view sets its strings out before all of its ink is there, each with short extension
lines. Here each is taken on to the nearest corner of the work that stands where it
measures, or to the first outline of solid work in its way; the writers leave the usual
gap there. It stays short where it would run through lettering, or there is neither.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from shopdraw.drawing import layers
from shopdraw.drawing.extents import every_line, lettering_of
from shopdraw.drawing.ink import Axis, Drawing, Insert, Measure, Point, Stroke
from shopdraw.drawing.measures import CLEAR

SOLID = {
    layers.OUTLINE,
    layers.UNITS,
    layers.CORNERS,
    layers.SECTION,
    *layers.OF_RETURNS.values(),
}
"""What an extension line never runs across."""
WORK = SOLID | {layers.HIDDEN, layers.OTHERS, layers.FLOOR}
"""What is measured."""
SAME = 1e-6
"""Full-size lengths that differ by no more are the same."""


class _Work(NamedTuple):
    """What dimensions along one axis may be tied to.

    The first of each pair of coordinates lies along the axis that is measured, the
    other across it.

    Attributes:
        corners: of all work: n x 2.
        solid: lines that are not run across: n x 2 ends x 2.
        lettered: least and most of each line of lettering: n x 2 x 2.
    """

    corners: np.ndarray
    solid: np.ndarray
    lettered: np.ndarray


def tied(drawing: Drawing) -> Drawing:
    """Return a drawing whose extension lines reach the work that they measure."""
    if not any(isinstance(ink, Measure) for ink in drawing.ink):
        return drawing
    lines = _lines(drawing, WORK)
    solid = _lines(drawing, SOLID)
    boxes = [box for words, box in lettering_of(drawing) if words.text.strip()]
    along_x = _Work(lines.reshape(-1, 2), solid, np.array(boxes).reshape(-1, 2, 2))
    along_y = _Work(*(each[..., ::-1] for each in along_x))
    work: dict[Axis, _Work] = {"x": along_x, "y": along_y}
    ink = (
        _tied(each, work[each.axis], drawing.scale)
        if isinstance(each, Measure)
        else each
        for each in drawing.ink
    )
    return replace(drawing, ink=tuple(ink))


def _lines(drawing: Drawing, wanted: set[str]) -> np.ndarray:
    """Return the straight lines on some layers: n x 2 ends x 2."""
    inked = tuple(
        ink
        for ink in drawing.ink
        if isinstance(ink, Stroke | Insert) and ink.layer in wanted
    )
    return np.array(list(every_line(replace(drawing, ink=inked)))).reshape(-1, 2, 2)


def _tied(measure: Measure, work: _Work, scale: float) -> Measure:
    """Return a dimension whose two extension lines are as long as they can be."""
    room = CLEAR * measure.height_on_paper * scale
    way = 0 if measure.axis == "x" else 1

    def begun(point: Point) -> Point:
        at, short = point[way], point[1 - way]
        far = _reached(at, (measure.line_at, short), work, room)
        return (at, far) if measure.axis == "x" else (far, at)

    return replace(measure, start=begun(measure.start), end=begun(measure.end))


def _reached(at: float, ends: Point, work: _Work, room: float) -> float:
    """Return where an extension line begins.

    Args:
        at: where it measures.
        ends: where it ends, at its dimension line, and where it began as set out.
        work: what is there.
        room: how far it keeps off lettering.
    """
    line_at, short = ends
    inward = 1.0 if short > line_at else -1.0
    corners = work.corners[np.abs(work.corners[:, 0] - at) < SAME, 1]
    found = np.concatenate([corners, _met(at, work.solid)])
    found = found[(found - short) * inward > SAME]
    if not found.size:
        return short
    far = float(found[np.argmin(found * inward)])
    low, high = sorted((short, far))
    least, most = work.lettered[:, 0], work.lettered[:, 1]
    struck = (
        (least[:, 0] - room < at)
        & (at < most[:, 0] + room)
        & (least[:, 1] < high)
        & (low < most[:, 1])
    )
    return short if struck.any() else far


def _met(at: float, lines: np.ndarray) -> np.ndarray:
    """Return where lines are met at a coordinate, within their length."""
    first, last = lines[:, 0], lines[:, 1]
    across = (np.minimum(first[:, 0], last[:, 0]) < at - SAME) & (
        at + SAME < np.maximum(first[:, 0], last[:, 0])
    )
    first, last = first[across], last[across]
    share = (at - first[:, 0]) / (last[:, 0] - first[:, 0])
    return np.asarray(first[:, 1] + share * (last[:, 1] - first[:, 1]))
