"""Arrange one sheet: views in rows, words in columns.

In:  `Item`s in order, the room.   Out: each drawing's window; None if they do not fit.
Frame: paper lengths.

Views stand in rows with a common foot; beside a high one lower ones may stand one above
another, stacks of as many on common lines. Views that share verticals stand on them
(`verticals`). Words (tables and notes) stand in columns with a common head, narrow ones
beside each other, at the right of the views, or else below them. What room is left over
is shared out evenly.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Point
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.shelving import (
    Size,
    Upright,
    columns_of,
    down,
    shelves,
    size_of,
    width_of,
)
from shopdraw.drawing.verticals import NOTHING, across

HALVINGS = 8
"""How often the height of columns is halved in search of the lowest."""


def _no_larger() -> None:
    return None


def _is_whole(_before: Item) -> None:
    return None


@dataclass(frozen=True, eq=False)
class Item:
    """What is placed as one: a drawing, or several in projection; each is itself alone.

    Attributes:
        parts: drawings, and where the origin of each lies from the item's own origin,
            on paper.
        is_words: it is a table or notes, and stands in a column.
        shows: what it shows, word by word, as in a sheet's title.
        larger: draws it at the next larger scale; None where there is none.
        joined: draws it as one with the item before it; None unless that is the part
            that it goes on from.
        verticals: what its origin's vertical is called. Of items on one sheet and at
            one scale that call it alike the origins stand one above another.
    """

    parts: tuple[tuple[Drawing, Point], ...]
    is_words: bool = False
    shows: tuple[str, ...] = ()
    larger: Callable[[], Item | None] = _no_larger
    joined: Callable[[Item], Item | None] = _is_whole
    verticals: str = ""

    @property
    def shares(self) -> Hashable:
        """The verticals that it shares, at its scale; None if it shares none."""
        return (self.verticals, self.parts[0][0].scale) if self.verticals else None

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

    @cached_property
    def ink_area(self) -> float:
        """The area that the extents of its drawings take."""
        return sum((c - a) * (d - b) for a, b, c, d in self.boxes)


def alone(drawing: Drawing, *, shows: str = "", is_words: bool = False) -> Item:
    """Return the item of one drawing."""
    return Item(((drawing, (0.0, 0.0)),), is_words, (shows,))


def on_verticals(name: str, drawing: Drawing, along: float, shows: str = "") -> Item:
    """Return the item of a drawing whose origin lies so far along from verticals."""
    at = along / drawing.scale, 0.0
    return Item(((drawing, at),), shows=(shows,), verticals=name)


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


def fits(items: Sequence[Item], area: Box, gap: float) -> bool:
    """Whether items go on one sheet, as `arrange` sets them out."""
    left, bottom, right, top = area
    views = [item.size for item in items if not item.is_words]
    words = [item.size for item in items if item.is_words]
    if not words:
        return _go(views, (right - left, top - bottom), gap)
    columns = columns_of(words, top - bottom, gap)
    if columns is None:
        return False
    side = right - left - width_of(columns, gap)
    if not views:
        return side > -NOTHING
    if _go(views, (side - 2 * gap, top - bottom), gap):
        return True
    rows = shelves(views, right - left, gap)
    if rows is None:
        return False
    below_all = columns_of(words, top - bottom - down(rows, gap) - 2 * gap, gap)
    return below_all is not None and width_of(below_all, gap) <= right - left + NOTHING


def _go(views: Sequence[Size], room: Size, gap: float) -> bool:
    rows = shelves(views, room[0], gap)
    return rows is not None and down(rows, gap) <= room[1] + NOTHING


def arrange(
    items: Sequence[Item], area: Box, gap: float
) -> tuple[tuple[Drawing, Box], ...] | None:
    """Set items out on one sheet: views in rows, words in columns.

    Returns:
        Each drawing and its window, in the order given; None if they do not fit.
    """
    views = [item for item in items if not item.is_words]
    words = [item for item in items if item.is_words]
    if not words:
        placed = _rows(views, area, gap)
    elif not views:
        placed = _even(words, area, gap)
    else:
        placed = _words_beside(views, words, area, gap)
        if placed is None:
            placed = _words_below(views, words, area, gap)
    if placed is None:
        return None
    for place, (above, under) in enumerate(pairwise(items)):
        whole = under.joined(above)
        if whole is not None and placed[id(above)][0] == placed[id(under)][0]:
            # Both parts stand in one column: undivided they have room there, too.
            return arrange((*items[:place], whole, *items[place + 2 :]), area, gap)
    return tuple(
        (drawing, _moved(box, placed[id(item)]))
        for item in items
        for (drawing, _), box in zip(item.parts, item.boxes, strict=True)
    )


def _words_beside(
    views: Sequence[Item], words: Sequence[Item], area: Box, gap: float
) -> dict[int, Point] | None:
    """Set views out at the left, and words at their right in the narrowest columns."""
    left, bottom, right, top = area
    columns = columns_of([item.size for item in words], top - bottom, gap)
    if columns is None:
        return None
    across = width_of(columns, gap)
    placed = _rows(views, (left, bottom, right - across - 2 * gap, top), gap)
    if placed is None:
        return None
    # Words stand with the views: in the middle of what is left at their right, their
    # heads level with the views', as far as they go down from there.
    ends = max(placed[id(item)][0] + item.box[2] for item in views)
    head = max(placed[id(item)][1] + item.box[3] for item in views)
    head = max(head, bottom + max(column.high for column in columns))
    x = ends + max(2 * gap, (right - ends - across) / 2)
    return placed | _set_up(words, columns, (x, bottom, x + across, head), gap)


def _words_below(
    views: Sequence[Item], words: Sequence[Item], area: Box, gap: float
) -> dict[int, Point] | None:
    """Set views out at the top, and words below them in the lowest columns that fit."""
    left, bottom, right, top = area
    rows = shelves([item.size for item in views], right - left, gap)
    if rows is None:
        return None
    taken = down(rows, gap)
    room = left, bottom, right, top - taken - 2 * gap
    columns = _lowest(words, room, gap)
    if columns is None:
        return None
    height = max(column.high for column in columns)
    spare = (top - bottom - taken - height) / (len(rows) + 2)
    foot = bottom + spare + height
    placed = _rows(views, (left, foot, right, top), gap)
    if placed is None:
        return None
    return placed | _set_up(words, columns, (left, bottom, right, foot), gap)


def _even(words: Sequence[Item], area: Box, gap: float) -> dict[int, Point] | None:
    """Set words out in the lowest columns that fit."""
    columns = _lowest(words, area, gap)
    return None if columns is None else _set_up(words, columns, area, gap)


def _rows(items: Sequence[Item], area: Box, gap: float) -> dict[int, Point] | None:
    """Place items in rows, each row's feet in one line; share out what is left over."""
    left, bottom, right, top = area
    sizes = [item.size for item in items]
    rows = shelves(sizes, right - left, gap)
    if rows is None:
        return None
    if down(rows, gap) > top - bottom + NOTHING:
        return None
    taken = sum(row.high for row in rows)
    between = max(0.0, (top - bottom - taken) / (len(rows) + 1))
    boxes, shared = [item.box for item in items], [item.shares for item in items]
    stacks = [row.stacks for row in rows]
    origins = across(stacks, boxes, shared, (left, right), gap)
    placed: dict[int, Point] = {}
    y = top
    for row in rows:
        y -= between + row.high
        heights = [[sizes[n][1] for n in stack] for stack in row.stacks]
        levels = _levelled(heights, row.high, gap)
        for stack, level in zip(row.stacks, levels, strict=True):
            feet = _feet(level, row.high)
            for n, foot in zip(stack, feet, strict=True):
                placed[id(items[n])] = origins[n], y + foot - boxes[n][1]
    return placed


def _levelled(
    stacks: Sequence[Sequence[float]], high: float, gap: float
) -> Iterator[Sequence[float]]:
    """Yield the heights of each stack of a row as those are that its feet go by.

    Stacks of as many things stand on the same lines, if the row is high enough for it.
    """
    for stack in stacks:
        alike = zip(*(x for x in stacks if len(x) == len(stack)), strict=True)
        highest = [max(level) for level in alike]
        taken = sum(highest) + gap * (len(highest) - 1)
        yield highest if taken <= high + NOTHING else stack


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


def _set_up(
    items: Sequence[Item], columns: Sequence[Upright], area: Box, gap: float
) -> dict[int, Point]:
    """Place items in columns, their heads in one line; share out the width left."""
    left, _, right, top = area
    wides = sum(column.wide for column in columns)
    spare = max(0.0, (right - left - wides) / (len(columns) + 1))
    placed: dict[int, Point] = {}
    x = left
    for column in columns:
        x += spare
        y = top
        for row in column.rows:
            at = x
            for stack in row:
                head = y
                for n in stack:
                    box = items[n].box
                    placed[id(items[n])] = (at - box[0], head - box[3])
                    head -= items[n].size[1] + gap
                at += max(items[n].size[0] for n in stack) + gap
            sizes = {n: items[n].size for stack in row for n in stack}
            y -= size_of(row, sizes, gap)[1] + gap
        x += column.wide
    return placed


def _lowest(words: Sequence[Item], area: Box, gap: float) -> list[Upright] | None:
    """Return the lowest columns that fit an area, about even; None where none do."""
    left, bottom, right, top = area
    sizes = [item.size for item in words]
    found: list[Upright] | None = None
    low, high = 0.0, top - bottom
    for _ in range(HALVINGS):
        tried = high if found is None else (low + high) / 2
        columns = columns_of(sizes, tried, gap)
        if columns is not None and width_of(columns, gap) <= right - left + NOTHING:
            found, high = columns, max(column.high for column in columns)
        elif found is None:
            return None
        else:
            low = tried
    return found


def _box_at(drawing: Drawing, at: Point) -> Box:
    left, bottom, right, top = (x / drawing.scale for x in extent_of(drawing))
    return left + at[0], bottom + at[1], right + at[0], top + at[1]


def _moved(box: Box, by: Point) -> Box:
    return box[0] + by[0], box[1] + by[1], box[2] + by[0], box[3] + by[1]
