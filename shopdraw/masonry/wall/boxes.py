"""Find what of a straight line lies in an upright box.

In:  the ends of a line, a box.   Out: the part of the line.
Frame: any, one for both; floating point.
"""

from __future__ import annotations

Spot = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, bottom, right, top."""


def clip_line(a: Spot, b: Spot, box: Box) -> tuple[Spot, Spot] | None:
    """Return the part of a line that is in a box, its edge included.

    None where there is none; where the line only touches the box both ends are one.
    """
    left, bottom, right, top = box
    first, last = 0.0, 1.0
    for start, step, low, high in (
        (a[0], b[0] - a[0], left, right),
        (a[1], b[1] - a[1], bottom, top),
    ):
        if not step:
            if not low <= start <= high:
                return None
            continue
        near, far = sorted(((low - start) / step, (high - start) / step))
        first, last = max(first, near), min(last, far)
    if first > last:
        return None

    def at(share: float) -> Spot:
        return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])

    return a if first == 0.0 else at(first), b if last == 1.0 else at(last)
