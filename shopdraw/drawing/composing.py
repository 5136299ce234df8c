"""Compose sheets: which drawings go on which sheet.

In:  items in order, by purpose.   Out: what stands on each sheet, and where.
Frame: paper lengths.

Items keep their order, and each sheet is arranged by `arranging`. Where one sheet ends
and the next begins is decided by the measure: the fewest sheets, then fill.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shopdraw.drawing.arranging import Item, arrange
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.lettering import Box
from shopdraw.errors import NotDrawable

LEAST_FILL, MOST_FILL = 0.5, 0.85
"""A sheet looks bare below the one and crowded above the other."""


@dataclass(frozen=True)
class Purpose:
    """What some sheets are for.

    Attributes:
        name: for the file, `cut-pieces`.
        items: in order.
        series: the digit that such sheets' numbers begin with.
        is_apart: nothing of another purpose stands before it on its sheet.
    """

    name: str
    items: tuple[Item, ...]
    series: int = 0
    is_apart: bool = False


@dataclass(frozen=True)
class Composed:
    """One sheet.

    Attributes:
        purposes: what it is for, in order.
        shows: what its items show, in order.
        places: each drawing, and its window on the sheet.
        fill: the part of the usable area that the drawings' extents take.
    """

    purposes: tuple[Purpose, ...]
    shows: tuple[str, ...]
    places: tuple[tuple[Drawing, Box], ...]
    fill: float


def compose(purposes: Sequence[Purpose], area: Box, gap: float) -> list[Composed]:
    """Put all items on sheets, in order.

    Of all ways to end one sheet and begin the next, the one with the fewest sheets is
    taken; of these the one whose sheets are least bare or crowded.

    Raises:
        NotDrawable: an item is larger than the area.
    """
    items = [(purpose, item) for purpose in purposes for item in purpose.items]
    # The best way to put the first so many items on sheets: its cost, and the sheets.
    best: list[tuple[tuple[int, int], tuple[Composed, ...]]] = [((0, 0), ())]
    for end in range(1, len(items) + 1):
        found: tuple[tuple[int, int], tuple[Composed, ...]] | None = None
        for start in reversed(range(end)):
            sheet = _sheet(items[start:end], area, gap)
            if sheet is None:
                break
            (sheets, amiss), before = best[start]
            cost = (sheets + 1, amiss + _amiss(sheet.fill))
            if found is None or cost < found[0]:
                found = cost, (*before, sheet)
        if found is None:
            item = items[end - 1][1]
            what = item.shows[0] if item.shows else item.parts[0][0].name
            message = (
                f"sheet.size: a part of the {what.lower()} is larger than a sheet; "
                "give larger paper"
            )
            raise NotDrawable(message)
        best.append(found)
    return list(best[-1][1])


def cost_of(sheets: Sequence[Composed]) -> tuple[int, int]:
    """Return the measure of a set: how many sheets, then how bare or crowded."""
    return len(sheets), sum(_amiss(sheet.fill) for sheet in sheets)


def _amiss(fill: float) -> int:
    """Return how far a fill is from what looks well, in thousandths, squared."""
    off = max(LEAST_FILL - fill, fill - MOST_FILL, 0.0)
    return round(1000 * off) ** 2


def _sheet(
    items: Sequence[tuple[Purpose, Item]], area: Box, gap: float
) -> Composed | None:
    """Return a sheet with just these items, or None if they do not fit it."""
    if any(
        after.is_apart and after is not before
        for (before, _), (after, _) in pairwise(items)
    ):
        return None
    places = arrange([item for _, item in items], area, gap)
    if places is None:
        return None
    left, bottom, right, top = area
    inked = sum(item.ink_area for _, item in items)
    return Composed(
        purposes=tuple({each.name: each for each, _ in items}.values()),
        shows=tuple(word for _, item in items for word in item.shows if word),
        places=places,
        fill=inked / ((right - left) * (top - bottom)),
    )
