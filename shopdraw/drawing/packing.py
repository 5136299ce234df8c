"""Pack boxes onto sheets, in rows from the top, in the order given.

In:  sizes on paper.   Out: where each goes, sheet by sheet.
Frame: paper lengths.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.drawing.lettering import Box

Size = tuple[float, float]


@dataclass(frozen=True)
class Packed:
    """Which of the boxes, and its place on the sheet."""

    index: int
    box: Box


@dataclass(frozen=True)
class _Free:
    """A free rectangle of a sheet: left, top, width, height, from its upper left."""

    x: float
    y: float
    width: float
    height: float


def pack(sizes: list[Size], content: Box, gap: float) -> list[list[Packed]]:
    """Put each box into the first place it fits, on the first sheet that has one.

    A free place is split in two by each box put into it: what is beside the box, and
    what is below it. Every box must fit an empty sheet.

    Raises:
        ValueError: a box is larger than a sheet.
    """
    pages: list[list[Packed]] = []
    free: list[list[_Free]] = []
    whole = _Free(
        content[0], content[3], content[2] - content[0], content[3] - content[1]
    )
    for index, size in enumerate(sizes):
        page = _first_page(free, size)
        if page is None:
            pages.append([])
            free.append([whole])
            page = len(pages) - 1
        place = next((f for f in free[page] if _goes(f, size)), None)
        if place is None:
            message = (
                f"a drawing of {size[0]:.2f} x {size[1]:.2f} is larger than a sheet"
            )
            raise ValueError(message)
        pages[page].append(
            Packed(index, (place.x, place.y - size[1], place.x + size[0], place.y))
        )
        free[page].remove(place)
        free[page] += _split(place, size, gap)
        free[page].sort(key=lambda f: (-f.y, f.x))
    return pages


NOTHING = 1e-9


def _goes(free: _Free, size: Size) -> bool:
    return size[0] <= free.width + NOTHING and size[1] <= free.height + NOTHING


def _first_page(free: list[list[_Free]], size: Size) -> int | None:
    for page, places in enumerate(free):
        if any(_goes(place, size) for place in places):
            return page
    return None


def _split(free: _Free, size: Size, gap: float) -> list[_Free]:
    """Return what is left beside and below; the larger of the two is kept whole."""
    beside_width = free.width - size[0] - gap
    below_height = free.height - size[1] - gap
    tall_beside = beside_width * free.height >= below_height * free.width
    beside = _Free(
        free.x + size[0] + gap,
        free.y,
        beside_width,
        free.height if tall_beside else size[1],
    )
    below = _Free(
        free.x,
        free.y - size[1] - gap,
        size[0] if tall_beside else free.width,
        below_height,
    )
    return [f for f in (beside, below) if f.width > 0 and f.height > 0]
