"""Tables and notes, as text and as drawings.

In:  heads and rows of text, or paragraphs.   Out: `Table`; `Drawing`s of them.
Frame: as `ink`; the origin is the upper left corner. Sizes on paper are drawn `scale`
times as large, because the drawing stands among full-size views.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import compress
from math import sqrt

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Align, Drawing, Ink, Stroke, Words
from shopdraw.drawing.lettering import plain, whole_lengths, width_of, wrap
from shopdraw.drawing.paragraphs import set_in_lines


@dataclass(frozen=True)
class Column:
    """A column: its head, and how its cells are aligned."""

    head: str
    align: Align = "left"


@dataclass(frozen=True)
class Table:
    """A table: a title, columns, and rows with one cell for each column."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


def without_blank(table: Table) -> Table:
    """Leave out the columns under whose head nothing stands."""
    kept = [any(cells) for cells in zip(*table.rows, strict=True)]
    return replace(
        table,
        columns=tuple(compress(table.columns, kept)),
        rows=tuple(tuple(compress(row, kept)) for row in table.rows),
    )


def fitted(table: Table, height: float, width: float) -> Table:
    """Return a table as it is drawn in a width on paper.

    Where its sentences have too little room, what stands in columns of figures that are
    mostly empty is said in its last column: they take their heads' width from it.
    """
    if _roomy(_plain(table), height, 0.7 * height, width) is not None:
        return table
    *columns, last = range(len(table.columns))
    if table.columns[last].align != "left":
        return table
    sparse = [
        place
        for place in columns
        if table.columns[place].align == "right"
        and 2 * sum(bool(row[place]) for row in table.rows) < len(table.rows)
    ]
    heads = {place: table.columns[place].head.lower() for place in sparse}
    rows = []
    for row in table.rows:
        said = ", ".join(f"{heads[x]} {row[x]}" for x in sparse if row[x])
        kept = [row[x] for x in columns if x not in heads]
        rows.append((*kept, "; ".join(x for x in (said, row[last]) if x)))
    left = (x for place, x in enumerate(table.columns) if place not in heads)
    return replace(table, columns=tuple(left), rows=tuple(rows))


def draw_table(
    table: Table,
    height: float,
    scale: float,
    width: float | None = None,
    whole: Table | None = None,
    *,
    ruled: bool = False,
) -> Drawing:
    """Draw a table with ruled lines.

    Args:
        table: what to draw.
        height: of its lettering, on paper.
        scale: of the sheet's model space.
        width: on paper, at the most; cells of the widest columns are broken to fit.
        whole: what it is a part of: all parts have columns of the same widths.
        ruled: a line under each row, however many: each has a place to write in.

    Returns:
        The drawing, its upper left corner at the origin.
    """
    # A file of the same table has its cells as they were typed.
    table, whole = (_plain(each) for each in (table, whole or table))
    pad, pitch = 0.7 * height, 1.7 * height
    if width is None or least_width(whole, height) <= width:
        table, whole = _tied(table), _tied(whole)
    widths = _widths(whole, height, pad, width)
    heads, *body = [
        [
            wrap(cell, height, wide - 2 * pad) or ("",)
            for cell, wide in zip(row, widths, strict=True)
        ]
        for row in (tuple(column.head for column in table.columns), *table.rows)
    ]
    total = sum(widths)
    title_high = 1.35 * height
    title: tuple[str, ...] = (table.title,)
    if width is not None:
        title = wrap(table.title, title_high, width) or title
    feet = [-title_high - 1.7 * height * row for row in range(len(title))]
    ink: list[Ink] = [
        Words(layers.NOTES, (0, foot * scale), line, title_high)
        for line, foot in zip(title, feet, strict=True)
    ]
    y = top = feet[-1] - 1.1 * height
    ink.append(_rule(0, total, y, scale))
    every = 1 if ruled or len(body) <= MANY_ROWS else 3
    for row, lines in enumerate([heads, *body]):
        high = max(len(cell) for cell in lines) * pitch + 0.5 * height
        x = 0.0
        for column, cell, wide in zip(table.columns, lines, widths, strict=True):
            ink += _cell(cell, column.align, (x, y), wide, height, scale)
            x += wide
        y -= high
        if row == len(body) or row % every == 0:
            ink.append(_rule(0, total, y, scale))
    x = 0.0
    for wide in (0.0, *widths):
        x += wide
        ink.append(
            Stroke(layers.TABLES, ((x * scale, top * scale), (x * scale, y * scale)))
        )
    return Drawing(name=table.name, title="", scale=scale, ink=tuple(ink))


LINE = 120.0
"""How long a cell's line may be, in its heights: the eye loses a longer one, and a file
may have no more than 256 letters in a line."""
TINY = 1e-9
"""What floating point leaves of nothing."""
STEPS = 40
"""In so many steps is shared out what is left of a table's width."""
NARROW = 25
"""A column whose lines are broken shorter, in heights of lettering, is too narrow."""
MANY_ROWS = 12
"""Up to so many rows there is a line under each; beyond, under every third."""


def _rule(left: float, right: float, y: float, scale: float) -> Stroke:
    return Stroke(
        layers.TABLES, ((left * scale, y * scale), (right * scale, y * scale))
    )


def _cell(
    lines: tuple[str, ...],
    align: Align,
    corner: tuple[float, float],
    wide: float,
    height: float,
    scale: float,
) -> list[Ink]:
    pad = 0.7 * height
    x = corner[0] + {"left": pad, "centre": wide / 2, "right": wide - pad}[align]
    ink: list[Ink] = []
    for row, line in enumerate(lines):
        y = corner[1] - 1.45 * height - row * 1.7 * height
        ink.append(Words(layers.NOTES, (x * scale, y * scale), line, height, align))
    return ink


def _widths(table: Table, height: float, pad: float, most: float | None) -> list[float]:
    """Return each column's width on paper; the widest columns give way first.

    Where that leaves one too narrow for sentences, heads are broken before what stands
    under them; and if that is not enough, each column has what its longest word takes,
    and what is left goes where it makes the rows less high.
    """
    roomy = _roomy(table, height, pad, most)
    if roomy is not None or most is None:
        return roomy or []
    around = 2 * pad + 0.02 * height
    return list(
        _lowest(table, height, _least(table, height, around, most), around, most)
    )


def _least(
    table: Table, height: float, around: float, most: float
) -> tuple[float, ...]:
    """Return what each column's longest word takes; nothing where that is too much."""
    columns = range(len(table.columns))
    least = [_longest_word(_column(table, i), height) + around for i in columns]
    return tuple(least if sum(least) <= most else [0.0 for _ in columns])


def _roomy(
    table: Table, height: float, pad: float, most: float | None
) -> list[float] | None:
    """Return each column's width where none is too narrow for sentences, else None."""
    columns = range(len(table.columns))
    around = 2 * pad + 0.02 * height

    def wide_enough(heads: Sequence[float]) -> list[float]:
        cells = [[width_of(row[i], height) for row in table.rows] for i in columns]
        most_of = (max(heads[i], *cells[i], 0.0) for i in columns)
        return [min(wide, LINE * height) + around for wide in most_of]

    heads = [width_of(column.head, height) for column in table.columns]
    widths = wide_enough(heads)
    if most is None or sum(widths) <= most:
        return widths
    least = _least(table, height, around, most)
    words = [_longest_word((column.head,), height) for column in table.columns]
    for wanted in (widths, wide_enough(words)):
        even = _even(wanted, least, most) if sum(wanted) > most else wanted
        # Sentences in a narrow column are many short lines, and all others stand empty.
        if all(even[i] >= min(wanted[i], NARROW * height) - TINY for i in columns):
            return even
    return None


@lru_cache(maxsize=64)
def _lowest(
    table: Table, height: float, least: tuple[float, ...], around: float, most: float
) -> tuple[float, ...]:
    """Share out what is left of a width so that the rows come out low.

    A row is about as high as its highest cell, and that as high as its words are longer
    than its column is wide. A step of width goes wherever it lowers all rows most.

    Args:
        table: what stands in the columns.
        height: of its lettering, on paper.
        least: what each column must have.
        around: what of it stays empty beside the words.
        most: what there is for all of them.
    """
    rows = (tuple(column.head for column in table.columns), *table.rows)
    long = [[width_of(cell, height) for cell in row] for row in rows]
    widths, step = list(least), (most - sum(least)) / STEPS

    def high(place: int, wide: float) -> float:
        room = [max(x - around, height) for x in widths]
        room[place] = max(wide - around, height)
        # Nearly the highest cell; but of two as high, lowering one counts.
        return sum(
            sqrt(sum((x / y) ** 2 for x, y in zip(row, room, strict=True)))
            for row in long
        )

    for _ in range(STEPS):
        place = min(
            range(len(widths)), key=lambda place: high(place, widths[place] + step)
        )
        widths[place] += step
    return tuple(widths)


def _even(widths: Sequence[float], least: Sequence[float], most: float) -> list[float]:
    """Give all columns the same width, but for those that need less or must have more.

    Args:
        widths: what each takes at the most.
        least: what each must have.
        most: what there is for all of them, less than they take.
    """
    columns = range(len(widths))
    # What those that differ leave, or take, the others share.
    kept: dict[int, float] = {}
    while True:
        wide = [i for i in columns if i not in kept]
        share = (most - sum(kept.values())) / max(len(wide), 1)
        fitted = {i: max(least[i], min(widths[i], share)) for i in wide}
        over = sum(fitted.values()) - share * len(wide)
        settled = {
            i: fitted[i]
            for i in wide
            if (fitted[i] - share) * over > 0 or abs(over) < TINY
        }
        if not settled:
            return [kept.get(i, share) for i in columns]
        kept |= settled


def least_width(table: Table, height: float) -> float:
    """Return how wide a table is on paper, at the least, for lengths in one line each.

    A length in two lines is read as two lengths.
    """
    tied, columns = _tied(table), range(len(table.columns))
    return sum(_longest_word(_column(tied, i), height) + 1.42 * height for i in columns)


def _plain(table: Table) -> Table:
    rows = tuple(tuple(plain(cell) for cell in row) for row in table.rows)
    return replace(table, rows=rows)


def _tied(table: Table) -> Table:
    """Tie each length to its fraction, its sign and its unit."""
    rows = tuple(tuple(whole_lengths(cell) for cell in row) for row in table.rows)
    return replace(table, rows=rows)


def _column(table: Table, place: int) -> tuple[str, ...]:
    """Return a column's head, and what stands under it."""
    return table.columns[place].head, *(row[place] for row in table.rows)


def _longest_word(cells: Iterable[str], height: float) -> float:
    """Return how wide the longest word of some cells is on paper."""
    words = {word for cell in cells for word in cell.split()}
    return max((width_of(word, height) for word in words), default=0.0)


@dataclass(frozen=True)
class Notes:
    """Paragraphs under a heading, numbered from `first` on, or not numbered."""

    name: str
    title: str
    paragraphs: tuple[str, ...]
    numbered: bool = True
    first: int = 1


def draw_notes(notes: Notes, height: float, scale: float, width: float) -> Drawing:
    """Letter notes in a column so wide on paper; its upper left is the origin."""
    pitch = 1.7 * height
    title_high = 1.35 * height
    ink: list[Ink] = [
        Words(layers.NOTES, (0, -title_high * scale), notes.title, title_high)
    ]
    indent = width_of("00. ", height) if notes.numbered else 0.0
    y = -title_high - 0.7 * height
    for number, paragraph in enumerate(notes.paragraphs, start=notes.first):
        at = (indent * scale, (y - pitch) * scale)
        first = Words(layers.NOTES, at, "", height, column=width - indent)
        lines = set_in_lines(paragraph, first, pitch, scale)
        if lines and notes.numbered:
            ink.append(Words(layers.NOTES, (0, at[1]), f"{number}.", height))
        ink += lines
        y -= len(lines) * pitch + 0.5 * height
    return Drawing(name=notes.name, title="", scale=scale, ink=tuple(ink))
