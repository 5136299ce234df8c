"""Arrange one sheet: views in rows, words in columns.

In:  `Item`s in order, the room.   Out: each drawing's window; None if they do not fit.
Frame: paper lengths.

Views stand in rows with a common foot; beside a high one lower ones may stand one above
another. Words (tables and notes) stand in columns with a common head, at the right of
the views, or else below them. What room is left over is shared out evenly.
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


@dataclass(frozen=True)
class Item:
    """What is placed as one: a drawing, or several in projection.

    Attributes:
        parts: drawings, and where the origin of each lies from the item's own origin,
            on paper.
        is_words: it is a table or notes, and stands in a column.
        shows: what it shows, word by word, as in a sheet's title.
    """

    parts: tuple[tuple[Drawing, Point], ...]
    is_words: bool = False
    shows: tuple[str, ...] = ()

    @cached_property
    def boxes(self) -> tuple[Box, ...]:
        """The extents of each part, from the item's own origin."""
        return tuple(_box_at(drawing, at) for drawing, at in self.parts)

    @cached_property
    def box(self) -> Box:
        """The extents of all parts together."""
        lefts, bottoms, rights, tops = zip(*self.boxes, strict=True)
        return min(lefts), min(bottoms), max(rights), max(tops)

    @cached_property
    def size(self) -> Size:
        """Width and height on the sheet."""
        left, bottom, right, top = self.box
        return right - left, top - bottom

    @property
    def ink_area(self) -> float:
        """The area that the extents of its drawings take."""
        return sum((c - a) * (d - b) for a, b, c, d in self.boxes)


def alone(drawing: Drawing, *, shows: str = "", is_words: bool = False) -> Item:
    """Return the item of one drawing."""
    return Item(((drawing, (0.0, 0.0)),), is_words, (shows,))


def beside(
    item: Item, drawing: Drawing, gap: float, side: int, shows: str = ""
) -> Item:
    """Add a drawing at the right (1) or left (-1) of an item, on its level lines."""
    a, _, c, _ = _box_at(drawing, (0.0, 0.0))
    left, _, right, _ = item.box
    x = right + gap - a if side > 0 else left - gap - c
    return _joined(item, drawing, shows, (x, 0.0))


def below(item: Item, drawing: Drawing, gap: float, shows: str = "") -> Item:
    """Add a drawing below an item, on its verticals."""
    _, _, _, top = _box_at(drawing, (0.0, 0.0))
    y = item.box[1] - gap - top
    return _joined(item, drawing, shows, (0.0, y))


def _joined(item: Item, drawing: Drawing, shows: str, at: Point) -> Item:
    return replace(item, parts=(*item.parts, (drawing, at)), shows=(*item.shows, shows))


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
    rows = _shelves([item.size for item in views], right - left, gap)
    if rows is None:
        return None
    taken = sum(row.high for row in rows) + gap * (len(rows) - 1)
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
    sizes = [item.size for item in items]
    rows = _shelves(sizes, right - left, gap)
    if rows is None:
        return None
    taken = sum(row.high for row in rows)
    if taken + gap * (len(rows) - 1) > top - bottom + NOTHING:
        return None
    between = max(0.0, (top - bottom - taken) / (len(rows) + 1))
    placed: dict[int, Point] = {}
    y = top
    for row in rows:
        y -= between + row.high
        x = left
        wides = [max(sizes[n][0] for n in stack) for stack in row.stacks]
        spare = (right - left - sum(wides)) / (len(wides) + 1)
        for stack, wide in zip(row.stacks, wides, strict=True):
            x += spare
            feet = _feet([sizes[n][1] for n in stack], row.high)
            for n, foot in zip(stack, feet, strict=True):
                box = items[n].box
                middle = x + (wide - sizes[n][0]) / 2
                placed[id(items[n])] = (middle - box[0], y + foot - box[1])
            x += wide
    return placed


def _feet(heights: Sequence[float], high: float) -> list[float]:
    """Return how high each thing stands that is stacked from the top of a row down."""
    if len(heights) == 1:
        return [0.0]
    between = (high - sum(heights)) / (len(heights) - 1)
    feet = []
    level = high + between
    for each in heights:
        level -= between + each
        feet.append(level)
    return feet


@dataclass(frozen=True)
class _Row:
    """Things in a row, some one above another: their numbers, the row's size."""

    stacks: tuple[tuple[int, ...], ...]
    wide: float
    high: float


def _shelves(sizes: Sequence[Size], room: float, gap: float) -> list[_Row] | None:
    """Break things into rows, in order: the least height, then the most even.

    Returns:
        The rows from the top; None if one thing is wider than the room.
    """
    best: list[tuple[tuple[float, float], list[_Row]]] = [((0.0, 0.0), [])]
    for end in range(1, len(sizes) + 1):
        found: tuple[tuple[float, float], list[_Row]] | None = None
        for start in range(end):
            row = _stacked(sizes, range(start, end), gap)
            if row.wide > room + NOTHING:
                continue
            (high, odd), before = best[start]
            high += row.high + (gap if start else 0.0)
            cost = round(high, 6), odd + round((room - row.wide) ** 2, 6)
            if found is None or cost < found[0]:
                found = cost, [*before, row]
        if found is None:
            return None
        best.append(found)
    return best[-1][1]


def _stacked(sizes: Sequence[Size], run: range, gap: float) -> _Row:
    """Set things side by side, or on one another while no higher than the highest."""
    high = max(sizes[n][1] for n in run)
    stacks: list[list[int]] = []
    taken = high
    for n in run:
        taken += gap + sizes[n][1]
        if taken > high + NOTHING:
            stacks.append([])
            taken = sizes[n][1]
        stacks[-1].append(n)
    wides = (max(sizes[n][0] for n in stack) for stack in stacks)
    return _Row(tuple(map(tuple, stacks)), sum(wides) + gap * (len(stacks) - 1), high)


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
