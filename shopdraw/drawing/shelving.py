"""Set things of some size in rows, or in columns, in order.

In:  sizes, the room.   Out: `Shelf`s or `Upright`s of numbers; None if they do not fit.
Frame: paper lengths.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from shopdraw.drawing.verticals import NOTHING

Size = tuple[float, float]


@dataclass(frozen=True)
class Shelf:
    """Things in a row, some one above another: their numbers, the row's size."""

    stacks: tuple[tuple[int, ...], ...]
    wide: float
    high: float


def down(rows: Sequence[Shelf], gap: float) -> float:
    """Return the height that rows take."""
    return sum(row.high for row in rows) + gap * (len(rows) - 1)


def shelves(sizes: Sequence[Size], room: float, gap: float) -> list[Shelf] | None:
    """Break things into rows, in order: the least height, then the most even.

    Returns:
        The rows from the top; None if one thing is wider than the room.
    """
    best: list[tuple[tuple[float, float], list[Shelf]]] = [((0.0, 0.0), [])]
    for end in range(1, len(sizes) + 1):
        found: tuple[tuple[float, float], list[Shelf]] | None = None
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


def _stacked(sizes: Sequence[Size], run: range, gap: float) -> Shelf:
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
    return Shelf(tuple(map(tuple, stacks)), sum(wides) + gap * (len(stacks) - 1), high)


@dataclass(frozen=True)
class Upright:
    """Words one below another, narrow ones side by side: their numbers, its size.

    In a row each place has one of them, or more, one below another.
    """

    rows: tuple[tuple[tuple[int, ...], ...], ...]
    wide: float
    high: float


def columns_of(sizes: Sequence[Size], room: float, gap: float) -> list[Upright] | None:
    """Break things into columns, in order: the least width, then the most even.

    Args:
        sizes: of each, its width and height.
        room: how high a column may be.
        gap: between two things, and between columns.

    Returns:
        The columns; None if one thing is higher than the room.
    """
    best: list[tuple[tuple[float, float], list[tuple[int, Upright]]]] = [
        ((0.0, 0.0), [])
    ]
    for end in range(1, len(sizes) + 1):
        found: tuple[tuple[float, float], list[tuple[int, Upright]]] | None = None
        for start in reversed(range(end)):
            column = _column(tuple(sizes[start:end]), gap)
            if column.high > room + NOTHING:
                break
            (wide, odd), before = best[start]
            wide += column.wide + (gap if start else 0.0)
            cost = round(wide, 6), odd + round((room - column.high) ** 2, 6)
            if found is None or cost < found[0]:
                found = cost, [*before, (start, column)]
        if found is None:
            return None
        best.append(found)
    return [_numbered(column, start) for start, column in best[-1][1]]


def _numbered(column: Upright, start: int) -> Upright:
    """Return a column whose first thing has another number than 0."""
    rows = (
        tuple(tuple(n + start for n in stack) for stack in row) for row in column.rows
    )
    return replace(column, rows=tuple(rows))


@cache
def _column(sizes: tuple[Size, ...], gap: float) -> Upright:
    """Set things one below another, side by side while no wider than the widest.

    The same few are asked for on every sheet that is tried.
    """
    # A row of stacks, turned by a quarter.
    high_wide = [(high, wide) for wide, high in sizes]
    turned = _stacked(high_wide, range(len(sizes)), gap)
    rows: list[tuple[tuple[int, ...], ...]] = []
    for row in turned.stacks:
        if rows and len(row) == 1:
            # One alone goes under the last of the row above, where that is no higher.
            *before, last = rows[-1]
            tried = (*before, (*last, *row))
            wide, high = size_of(tried, sizes, gap)
            apart = size_of(rows[-1], sizes, gap)[1] + gap + sizes[row[0]][1]
            if wide <= turned.high + NOTHING and high <= apart + NOTHING:
                rows[-1] = tried
                continue
        rows.append(tuple((n,) for n in row))
    high = sum(size_of(row, sizes, gap)[1] + gap for row in rows) - gap
    return Upright(tuple(rows), turned.high, high)


def size_of(
    row: Sequence[Sequence[int]], sizes: Sequence[Size] | Mapping[int, Size], gap: float
) -> Size:
    """Return the size of a row of words, some of them one below another."""
    wides = [max(sizes[n][0] for n in stack) for stack in row]
    highs = [sum(sizes[n][1] + gap for n in stack) - gap for stack in row]
    return sum(wides) + gap * (len(wides) - 1), max(highs)


def width_of(columns: Sequence[Upright], gap: float) -> float:
    """Return the room that columns take across."""
    return sum(column.wide for column in columns) + gap * (len(columns) - 1)
