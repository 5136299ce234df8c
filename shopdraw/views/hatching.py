"""Hatch what is cut or stands behind with plain slanting lines.

In:  a box.   Out: `Stroke`s.
Frame: as the view's.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.ink import Stroke

MOST_LINES = 120


def hatch_box(
    layer: str,
    box: tuple[float, float, float, float],
) -> Iterator[Stroke]:
    """Hatch an upright box at 45 degrees.

    Args:
        layer: of the lines.
        box: left, bottom, right, top.

    The lines are a third of the box's short side apart, or further where they would
    be too many, so that a hatch is never crowded.
    """
    left, bottom, right, top = box
    width, height = right - left, top - bottom
    step = max(min(width, height) / 3, (width + height) / MOST_LINES)
    start = left - height
    count = int((right - start) / step)
    for n in range(1, count + 1):
        x = start + n * step
        a = (max(x, left), bottom + max(left - x, 0.0))
        b = (min(x + height, right), top - max(x + height - right, 0.0))
        if b[0] > a[0]:
            yield Stroke(layer, (a, b))
