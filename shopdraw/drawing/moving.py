"""Move ink from one place to another, as large as it is or larger.

In:  any ink.   Out: the same ink, moved.
Frame: the ink's own, then that of its place.
"""

from __future__ import annotations

from dataclasses import replace

from shopdraw.drawing.ink import Hatch, Ink, Insert, Measure, Point, Words


def moved(
    ink: Ink, at: Point, unit: float = 1.0, lettering: float | None = None
) -> Ink:
    """Return ink moved to its place, and made larger; an insert only moves.

    Args:
        ink: any.
        at: where the origin of its own frame comes to lie.
        unit: how long a length of its own frame is there.
        lettering: how many times as high its lettering is there; as `unit` if None.
    """
    larger = unit if lettering is None else lettering

    def place(point: Point) -> Point:
        return point[0] * unit + at[0], point[1] * unit + at[1]

    if isinstance(ink, Words):
        height, column = ink.height_on_paper * larger, ink.column * larger
        return replace(ink, at=place(ink.at), height_on_paper=height, column=column)
    if isinstance(ink, Insert):
        return replace(ink, at=place(ink.at))
    if isinstance(ink, Measure):
        return replace(
            ink,
            start=place(ink.start),
            end=place(ink.end),
            line_at=ink.line_at * unit + (at[1] if ink.axis == "x" else at[0]),
            height_on_paper=ink.height_on_paper * larger,
            letter=None if ink.letter is None else place(ink.letter),
        )
    points = tuple(place(point) for point in ink.points)
    if isinstance(ink, Hatch):
        whole = ink.inch * unit
        return replace(ink, points=points, inch=whole, origin=place(ink.origin))
    return replace(ink, points=points)
