"""Pack boxes on sheets, from the top down, in the order given.

In:  sizes on paper.   Out: where each goes, sheet by sheet.
Frame: paper lengths.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.drawing.lettering import Box

Size = tuple[float, float]


@dataclass(frozen=True)
class Packed:
    """The number of a box, and its place on the sheet."""

    index: int
    box: Box


def pack(sizes: list[Size], content: Box, gap: float) -> list[list[Packed]]:
    """Put each box in the highest place where it fits, on the first sheet that has one.

    Raises:
        ValueError: a box is larger than a sheet.
    """
    # Boxes are packed with a gap at their right and below, so the sheet gets one too.
    whole = (content[0], content[1] - gap, content[2] + gap, content[3])
    pages: list[list[Packed]] = []
    free: list[list[Box]] = []
    for index, (wide, high) in enumerate(sizes):
        size = (wide + gap, high + gap)
        page = next(
            (n for n, places in enumerate(free) if _places(places, size)), len(pages)
        )
        if page == len(pages):
            pages.append([])
            free.append([whole])
        fitting = _places(free[page], size)
        if not fitting:
            message = f"a drawing of {wide:.2f} x {high:.2f} is larger than a sheet"
            raise ValueError(message)
        left, _, _, top = min(fitting, key=lambda box: (-box[3], box[0]))
        taken = (left, top - size[1], left + size[0], top)
        free[page] = _without(free[page], taken)
        pages[page].append(Packed(index, (left, top - high, left + wide, top)))
    return pages


NOTHING = 1e-9


def _places(free: list[Box], size: Size) -> list[Box]:
    return [
        box
        for box in free
        if size[0] <= box[2] - box[0] + NOTHING and size[1] <= box[3] - box[1] + NOTHING
    ]


def _without(free: list[Box], taken: Box) -> list[Box]:
    """Return the largest free boxes that remain when one is taken."""
    left, bottom, right, top = taken
    parts: list[Box] = []
    for box in free:
        a, b, c, d = box
        if left >= c or right <= a or bottom >= d or top <= b:
            parts.append(box)
            continue
        parts += [(a, b, left, d), (right, b, c, d), (a, b, c, bottom), (a, top, c, d)]
    parts = [x for x in parts if x[2] - x[0] > NOTHING and x[3] - x[1] > NOTHING]
    unique = list(dict.fromkeys(parts))
    return [x for x in unique if not any(x != y and _inside(x, y) for y in unique)]


def _inside(box: Box, other: Box) -> bool:
    return (
        box[0] >= other[0] - NOTHING
        and box[1] >= other[1] - NOTHING
        and box[2] <= other[2] + NOTHING
        and box[3] <= other[3] + NOTHING
    )
