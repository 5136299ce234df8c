"""Compose sheets: which drawings go on which sheet, and where on it.

In:  items in order, by purpose.   Out: what stands on each sheet, and where.
Frame: paper lengths.

Views stand in rows with a common foot. Words (tables and notes) stand in columns with a
common head, at the right of the views, or else below them. What room is left over is
shared out evenly. Items keep their order; where one sheet ends and the next begins is
decided by the measure: the fewest sheets, then fill.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Point
from shopdraw.drawing.lettering import Box

Size = tuple[float, float]
NOTHING = 1e-9
LEAST_FILL, MOST_FILL = 0.5, 0.85
"""A sheet looks bare below the one and crowded above the other."""


@dataclass(frozen=True)
class Item:
    """What is placed as one: a drawing, or several in projection.

    Attributes:
        parts: drawings, and where the origin of each lies from the item's own origin,
            on paper.
        is_words: it is a table or notes, and stands in a column.
    """

    parts: tuple[tuple[Drawing, Point], ...]
    is_words: bool = False

    @cached_property
    def boxes(self) -> tuple[Box, ...]:
        """The extents of each part, from the item's own origin."""
        return tuple(_box_at(drawing, at) for drawing, at in self.parts)

    @property
    def box(self) -> Box:
        """The extents of all parts together."""
        lefts, bottoms, rights, tops = zip(*self.boxes, strict=True)
        return min(lefts), min(bottoms), max(rights), max(tops)

    @property
    def size(self) -> Size:
        """Width and height on the sheet."""
        left, bottom, right, top = self.box
        return right - left, top - bottom

    @property
    def ink_area(self) -> float:
        """The area that the extents of its drawings take."""
        return sum((c - a) * (d - b) for a, b, c, d in self.boxes)


@dataclass(frozen=True)
class Purpose:
    """What some sheets are for.

    Attributes:
        name: for the file, `cut-pieces`.
        title: as lettered.
        items: in order.
        series: the digit that such sheets' numbers begin with.
    """

    name: str
    title: str
    items: tuple[Item, ...]
    series: int = 0


@dataclass(frozen=True)
class Composed:
    """One sheet.

    Attributes:
        purposes: what it is for, in order.
        places: each drawing, and its window on the sheet.
        fill: the part of the usable area that the drawings' extents take.
    """

    purposes: tuple[Purpose, ...]
    places: tuple[tuple[Drawing, Box], ...]
    fill: float


def alone(drawing: Drawing, *, is_words: bool = False) -> Item:
    """Return the item of one drawing."""
    return Item(((drawing, (0.0, 0.0)),), is_words)


def beside(item: Item, drawing: Drawing, gap: float, side: int) -> Item:
    """Add a drawing at the right (1) or left (-1) of an item, on its level lines."""
    a, _, c, _ = _box_at(drawing, (0.0, 0.0))
    left, _, right, _ = item.box
    x = right + gap - a if side > 0 else left - gap - c
    return replace(item, parts=(*item.parts, (drawing, (x, 0.0))))


def below(item: Item, drawing: Drawing, gap: float) -> Item:
    """Add a drawing below an item, on its verticals."""
    _, _, _, top = _box_at(drawing, (0.0, 0.0))
    y = item.box[1] - gap - top
    return replace(item, parts=(*item.parts, (drawing, (0.0, y))))


def compose(purposes: Sequence[Purpose], area: Box, gap: float) -> list[Composed]:
    """Put all items on sheets, in order.

    Of all ways to end one sheet and begin the next, the one with the fewest sheets is
    taken; of these the one whose sheets are least bare or crowded.

    Raises:
        ValueError: an item is larger than the area.
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
            wide, high = items[end - 1][1].size
            message = f"a drawing of {wide:.2f} x {high:.2f} is larger than a sheet"
            raise ValueError(message)
        best.append(found)
    return list(best[-1][1])


def _amiss(fill: float) -> int:
    """Return how far a fill is from what looks well, in thousandths, squared."""
    off = max(LEAST_FILL - fill, fill - MOST_FILL, 0.0)
    return round(1000 * off) ** 2


def _sheet(
    items: Sequence[tuple[Purpose, Item]], area: Box, gap: float
) -> Composed | None:
    """Return a sheet with just these items, or None if they do not fit it."""
    places = arrange([item for _, item in items], area, gap)
    if places is None:
        return None
    left, bottom, right, top = area
    inked = sum(item.ink_area for _, item in items)
    return Composed(
        purposes=tuple({each.name: each for each, _ in items}.values()),
        places=places,
        fill=inked / ((right - left) * (top - bottom)),
    )


def arrange(
    items: Sequence[Item], area: Box, gap: float
) -> tuple[tuple[Drawing, Box], ...] | None:
    """Set items out on one sheet: views in rows, words in columns.

    Returns:
        Each drawing and its window, in the order given; None if they do not fit.
    """
    left, bottom, right, top = area
    wide, high = right - left, top - bottom
    views = [item for item in items if not item.is_words]
    words = [item for item in items if item.is_words]
    placed: dict[int, Point] = {}
    if not words:
        placed_views = _rows(views, area, gap)
        if placed_views is None:
            return None
        placed |= placed_views
    else:
        columns = _lines([item.size[::-1] for item in words], high, gap)
        if columns is None:
            return None
        across = _across(words, columns, 0, gap)
        if not views:
            if across > wide + NOTHING:
                return None
            placed |= _columns(words, columns, area, gap)
        else:
            room = (left, bottom, right - across - 2 * gap, top)
            placed_views = _rows(views, room, gap)
            if placed_views is not None:
                placed |= placed_views
                side = (right - across, bottom, right, top)
                placed |= _columns(words, columns, side, gap)
            else:
                under = _words_below(views, words, area, gap)
                if under is None:
                    return None
                placed |= under
    return tuple(
        (drawing, _moved(box, placed[id(item)]))
        for item in items
        for (drawing, _), box in zip(item.parts, item.boxes, strict=True)
    )


def _words_below(
    views: Sequence[Item], words: Sequence[Item], area: Box, gap: float
) -> dict[int, Point] | None:
    """Set views out at the top and words below them, in the lowest columns that fit."""
    left, bottom, right, top = area
    rows = _lines([item.size for item in views], right - left, gap)
    if rows is None:
        return None
    taken = _across(views, rows, 1, gap)
    room = top - bottom - taken - 2 * gap
    # The lowest columns are as high as some run of words.
    heights = sorted(
        {
            sum(item.size[1] for item in words[a:b]) + (b - a - 1) * gap
            for a in range(len(words))
            for b in range(a + 1, len(words) + 1)
        }
    )
    for height in heights:
        if height > room + NOTHING:
            return None
        columns = _lines([item.size[::-1] for item in words], height, gap)
        if columns is None or _across(words, columns, 0, gap) > right - left + NOTHING:
            continue
        spare = (top - bottom - taken - height) / (len(rows) + 2)
        foot = bottom + spare + height
        placed = _rows(views, (left, foot, right, top), gap) or {}
        return placed | _columns(words, columns, (left, bottom, right, foot), gap)
    return None


def _rows(items: Sequence[Item], area: Box, gap: float) -> dict[int, Point] | None:
    """Place items in rows, each row's feet in one line; share out what is left over."""
    left, bottom, right, top = area
    rows = _lines([item.size for item in items], right - left, gap)
    if rows is None:
        return None
    highs = [max(items[n].size[1] for n in row) for row in rows]
    if sum(highs) + gap * (len(rows) - 1) > top - bottom + NOTHING:
        return None
    between = max(0.0, (top - bottom - sum(highs)) / (len(rows) + 1))
    placed: dict[int, Point] = {}
    y = top
    for row, high in zip(rows, highs, strict=True):
        y -= between + high
        x = left
        spare = (right - left - sum(items[n].size[0] for n in row)) / (len(row) + 1)
        for n in row:
            x += spare
            box = items[n].box
            placed[id(items[n])] = (x - box[0], y - box[1])
            x += items[n].size[0]
    return placed


def _columns(
    items: Sequence[Item], columns: list[list[int]], area: Box, gap: float
) -> dict[int, Point]:
    """Place items in columns, their heads in one line; share out the width left."""
    left, _, right, top = area
    wides = [max(items[n].size[0] for n in column) for column in columns]
    spare = max(0.0, (right - left - sum(wides)) / (len(columns) + 1))
    placed: dict[int, Point] = {}
    x = left
    for column, wide in zip(columns, wides, strict=True):
        x += spare
        y = top
        for n in column:
            box = items[n].box
            y -= items[n].size[1]
            placed[id(items[n])] = (x - box[0], y - box[1])
            y -= gap
        x += wide
    return placed


def _lines(sizes: list[Size], room: float, gap: float) -> list[list[int]] | None:
    """Break things into lines, in order: the least room across, then the most even.

    Args:
        sizes: of each along the line and across it.
        room: how long a line may be.
        gap: between two in a line, and between lines.

    Returns:
        The numbers in each line; None if one is longer than the room.
    """
    best: list[tuple[float, float]] = [(0.0, 0.0)]
    starts = [0]
    for end in range(1, len(sizes) + 1):
        found: tuple[tuple[float, float], int] | None = None
        along = -gap
        across = 0.0
        for start in reversed(range(end)):
            along += sizes[start][0] + gap
            across = max(across, sizes[start][1])
            if along > room + NOTHING:
                break
            lines = best[start][0] + across + (gap if start else 0.0)
            cost = (round(lines, 6), best[start][1] + round((room - along) ** 2, 6))
            if found is None or cost < found[0]:
                found = cost, start
        if found is None:
            return None
        best.append(found[0])
        starts.append(found[1])
    lines_found: list[list[int]] = []
    end = len(sizes)
    while end:
        lines_found.append(list(range(starts[end], end)))
        end = starts[end]
    return lines_found[::-1]


def _across(
    items: Sequence[Item], lines: list[list[int]], axis: int, gap: float
) -> float:
    """Return the room that lines take across."""
    widths = (max(items[n].size[axis] for n in line) for line in lines)
    return sum(widths) + gap * (len(lines) - 1)


def _box_at(drawing: Drawing, at: Point) -> Box:
    left, bottom, right, top = (x / drawing.scale for x in extent_of(drawing))
    return left + at[0], bottom + at[1], right + at[0], top + at[1]


def _moved(box: Box, by: Point) -> Box:
    return box[0] + by[0], box[1] + by[1], box[2] + by[0], box[3] + by[1]
