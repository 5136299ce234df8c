"""Put a flat thing into perspective: a box onto the four corners where it is seen.

In:  a box, four points.   Out: what takes points of the one to points of the other.
Frame: each its own; straight lines stay straight.
"""

from __future__ import annotations

from collections.abc import Callable

from shopdraw.drawing.ink import Point
from shopdraw.drawing.lettering import Box

Corners = tuple[Point, Point, Point, Point]
"""Upper left, upper right, lower right and lower left."""


def onto(box: Box, corners: Corners) -> Callable[[Point], Point]:
    """Return what takes a box's corners to these, and all of its plane with them.

    It is the one map of planes that does (a box onto four points, no three of them on
    a line; the closed form is from memory, and a test solves it anew).

    Args:
        box: y up.
        corners: in the order of `Corners`.
    """
    left, low, right, high = box
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    across, down = (x1 - x2, y1 - y2), (x3 - x2, y3 - y2)
    off = x0 - x1 + x2 - x3, y0 - y1 + y2 - y3
    whole = across[0] * down[1] - down[0] * across[1]
    g = (off[0] * down[1] - down[0] * off[1]) / whole
    h = (across[0] * off[1] - off[0] * across[1]) / whole

    def move(point: Point) -> Point:
        u = (point[0] - left) / (right - left)
        v = (high - point[1]) / (high - low)
        near = g * u + h * v + 1
        return (
            ((x1 - x0 + g * x1) * u + (x3 - x0 + h * x3) * v + x0) / near,
            ((y1 - y0 + g * y1) * u + (y3 - y0 + h * y3) * v + y0) / near,
        )

    return move
