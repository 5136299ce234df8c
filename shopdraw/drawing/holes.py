"""Find the largest hole between the things on a sheet.

In:  the room on the sheet, the boxes of what stands there.   Out: how large it is.
Frame: paper lengths.

A margin is no hole: it lies about everything, and is what room the sheet has left.
"""

from __future__ import annotations

from collections.abc import Sequence

from shopdraw.drawing.lettering import Box

NOTHING = 1e-6
Span = tuple[float, float]


def largest_hole(area: Box, boxes: Sequence[Box]) -> float:
    """Return the largest hole as a part of the sheet's width and of its height alike.

    A hole of 0.3 is a blank, inside of what the boxes take together, that is at least
    0.3 of the area's width and 0.3 of its height.
    """
    wide, high = area[2] - area[0], area[3] - area[1]
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    foot, head = min(bottoms), max(tops)
    ends = sorted({*lefts, *rights})
    largest = 0.0
    for place, left in enumerate(ends):
        for right in ends[place + 1 :]:
            across = (right - left) / wide
            if across > largest:
                here = [
                    (bottom, top)
                    for a, bottom, c, top in boxes
                    if a < right - NOTHING and c > left + NOTHING
                ]
                blank = _tallest_blank(here, foot, head) / high
                largest = max(largest, min(across, blank))
    return largest


def _tallest_blank(taken: list[Span], foot: float, head: float) -> float:
    """Return the height of the tallest blank between what is taken, foot to head."""
    tallest, level = 0.0, foot
    for bottom, top in [*sorted(taken), (head, head)]:
        tallest, level = max(tallest, bottom - level), max(level, top)
    return tallest
