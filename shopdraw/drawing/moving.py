"""Move ink from one place to another.

In:  any ink.   Out: the same ink, moved.
Frame: the ink's own.
"""

from __future__ import annotations

from dataclasses import replace

from shopdraw.drawing.ink import Ink, Insert, Measure, Point, Words


def moved(ink: Ink, dx: float, dy: float) -> Ink:
    """Return ink moved."""

    def shift(point: Point) -> Point:
        return (point[0] + dx, point[1] + dy)

    if isinstance(ink, Words):
        return replace(ink, at=shift(ink.at))
    if isinstance(ink, Insert):
        return replace(ink, at=shift(ink.at))
    if isinstance(ink, Measure):
        return replace(
            ink,
            start=shift(ink.start),
            end=shift(ink.end),
            line_at=ink.line_at + (dy if ink.axis == "x" else dx),
            letter=None if ink.letter is None else shift(ink.letter),
        )
    return replace(ink, points=tuple(shift(point) for point in ink.points))
