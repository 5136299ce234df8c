"""Set details out in rows, and share the rows out among sheets.

In:  the size of each, the room.   Out: where each stands, sheet by sheet.
Frame: lengths of one kind; the origin is the upper left corner of each sheet, y up.

A detail is drawn once, and the words below it are tried in columns of several widths.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from math import ceil
from typing import NamedTuple

from shopdraw.drawing import layers
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Ink, Point, Words
from shopdraw.drawing.lettering import wrap
from shopdraw.drawing.paragraphs import set_in_lines
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import CutListRow, Outline


class Size(NamedTuple):
    """How wide a thing is, and how high above its base line.

    And how far below that line what is lettered begins, and how deep that is.
    """

    wide: float
    up: float
    down: float
    said: float = 0.0


Sizes = Sequence[Size]
Corners = dict[int, tuple[float, float]]
"""Of each thing on a sheet, by its number: where its upper left corner is."""
Rows = list[range]
WIDE = 50.0
"""A note below a detail is broken where it is wider, unless told, in letter heights."""
MANY = 3
"""One alone below so many side by side looks forgotten."""
APART = 0.5
"""So much more, in heights of lettering, stands between notes if one is broken."""


@dataclass(frozen=True)
class Unlettered:
    """A detail without the words below it.

    Attributes:
        job: whose lengths it is lettered in.
        row: of the mark that it shows.
        drawing: all that is drawn.
        foot: where its words begin.
        lines: the words.
    """

    job: Job
    row: CutListRow
    drawing: Drawing
    foot: Point
    lines: tuple[str, ...]

    def breaks(self, wide: float) -> bool:
        """Whether a line is wider than so many heights of lettering."""
        return breaks(self.job, self.lines, wide)

    def lettered(self, wide: float = WIDE, *, apart: bool = False) -> Drawing:
        """Letter it; a line wider than so many heights of lettering is broken.

        `apart` sets its lines apart, to be told from those of a broken one.
        """
        scale = self.drawing.scale
        words = mark_words(
            self.job, self.row, scale, self.foot, self.lines, wide, apart=apart
        )
        return replace(self.drawing, ink=(*self.drawing.ink, *words))


def mark_words(
    job: Job,
    row: CutListRow,
    scale: float,
    at: Point,
    lines: tuple[str, ...],
    wide: float = WIDE,
    *,
    apart: bool = False,
) -> Iterator[Ink]:
    """Letter a mark and its count below a detail, then what the drawing can't show.

    A line wider than so many heights of lettering is broken; then all stand a little
    apart, to be told from each other, and so they do where that is asked for.
    """
    style = STYLES[job.lengths]
    x, y = at[0], at[1] - style.title * scale
    yield Words(layers.NOTES, (x, y), f"{row.mark}   {row.count} REQUIRED", style.title)
    pitch, column = 1.8 * style.text, wide * style.text
    is_apart = apart or breaks(job, lines, wide)
    down = (pitch + APART * style.text * is_apart) * scale
    for line in lines:
        first = Words(layers.NOTES, (x, y - down), "", style.text, column=column)
        lettered = set_in_lines(line, first, pitch, scale)
        yield from lettered
        y = lettered[-1].at[1]


def breaks(job: Job, lines: tuple[str, ...], wide: float) -> bool:
    """Whether any line is wider than so many heights of lettering."""
    text = STYLES[job.lengths].text
    return any(len(wrap(line, text, wide * text)) > 1 for line in lines)


@dataclass(frozen=True)
class Detail:
    """One detail, and where it stands on its drawing.

    Attributes:
        row: of the mark that it shows.
        shapes: the outlines that are drawn from the face; none for a corner unit from
            above, or for a rectangle.
        drawing: about its own origin.
        at: where that origin is on the drawing.
    """

    row: CutListRow
    shapes: tuple[Outline, ...]
    drawing: Drawing
    at: Point = (0.0, 0.0)


def in_rows(
    listed: Sequence[tuple[tuple[Outline, ...], Unlettered]],
    column: tuple[float, bool],
    gap: float,
    room: tuple[float, float],
) -> tuple[tuple[Detail, ...], ...]:
    """Set details side by side, in rows, in order; return them sheet by sheet.

    Where they take more than one sheet, each has about as much. What is drawn of one
    mark stands together. The marks below those in one row stand on one line.

    Args:
        listed: the outlines that each shows, and what it is without its words.
        column: how wide these are in heights of lettering, and whether set apart.
        gap: between two details.
        room: the width and height of a sheet, on paper.
    """
    wide, apart = column
    scale = listed[0][1].drawing.scale if listed else 1.0
    drawn = [x.lettered(wide, apart=apart) for _, x in listed]
    boxes = [extent_of(each) for each in drawn]
    feet = [x.foot[1] for _, x in listed]
    # Each detail's own origin is on its base line.
    sizes = [
        Size(right - left, top, -foot, foot - bottom)
        for foot, (left, bottom, right, top) in zip(feet, boxes, strict=True)
    ]
    sheet = (room[0] * scale * 0.98, room[1] * scale * 0.98)
    pairs = enumerate(pairwise(listed), start=1)
    tied = frozenset(n for n, ((_, one), (_, two)) in pairs if one.row is two.row)
    found = []
    for corners in set_out(sizes, gap, sheet, tied):
        bases = {n: round(y - sizes[n].up, 6) for n, (_, y) in corners.items()}
        some = []
        for n, (x, y) in corners.items():
            shapes, bare = listed[n]
            foot = min(feet[m] for m in corners if bases[m] == bases[n])
            level = replace(bare, foot=(bare.foot[0], foot))
            at = x - boxes[n][0], y - boxes[n][3]
            lettered = level.lettered(wide, apart=apart)
            some.append(Detail(bare.row, shapes, lettered, at))
        found.append(tuple(some))
    return tuple(found)


def set_out(
    sizes: Sizes,
    gap: float,
    room: tuple[float, float],
    tied: frozenset[int] = frozenset(),
) -> list[Corners]:
    """Set things side by side, in rows, in order, on the fewest sheets for the rows.

    On each sheet they stand in columns, where that takes no more room, with about as
    many in each row; or else in rows about as wide: none has a row to itself below a
    full one. What is in one row stands on one base line.

    Args:
        sizes: of each.
        gap: between two side by side, and between rows.
        room: the width and height of a sheet; what is higher has a sheet of its own.
        tied: those that stand in the row of the one before them, if a row holds both.
    """
    rows: Rows = []
    x = 0.0
    for n, (wide, *_) in enumerate(sizes):
        both = wide + gap + sizes[n + 1].wide if n + 1 in tied else wide
        ends = x + (wide if both > room[0] else both)
        if not rows or ends > room[0]:
            rows.append(range(n, n))
            x = 0.0
        rows[-1] = range(rows[-1].start, n + 1)
        x += wide + gap
    highs = [_high(sizes, row) for row in rows]
    sheets: list[Corners] = []
    for run in _shared(highs, gap, room[1]):
        shown = rows[run.start : run.stop]
        sheets.append(
            _in_columns(sizes, shown, gap, room[0], tied)
            or _placed(sizes, _evenly(sizes, shown, gap, tied, room[1]), gap)
        )
    return sheets


def _in_columns(
    sizes: Sizes, rows: Rows, gap: float, room: float, tied: frozenset[int]
) -> Corners | None:
    """Set what some rows hold out in columns, in as many rows, and no higher.

    Returns:
        Where each stands; None where columns would be too wide or too high, would part
        what is tied, or would leave one alone below many.
    """
    first, end = rows[0].start, rows[-1].stop
    most = _down(sizes, rows, gap)
    for count in range(ceil((end - first) / len(rows)), max(map(len, rows)) + 1):
        grid = [range(n, min(n + count, end)) for n in range(first, end, count)]
        wides = [
            max(sizes[n].wide for n in range(first + column, end, count))
            for column in range(min(count, end - first))
        ]
        fits = sum(wides) + gap * (len(wides) - 1) <= room
        fits &= tied.isdisjoint(row.start for row in grid)
        fits &= len(grid[-1]) > 1 or count < MANY
        if fits and len(grid) == len(rows) and _down(sizes, grid, gap) <= most:
            return _placed(sizes, grid, gap, wides)
    return None


def _evenly(
    sizes: Sizes, rows: Rows, gap: float, tied: frozenset[int], room: float
) -> Rows:
    """Break what some rows hold anew, in as many rows, and no higher.

    Where one stands alone below many, they may be as high as the sheet has room.

    Returns:
        The rows whose widest is narrowest; those given where others would be higher.
    """
    first, end = rows[0].start, rows[-1].stop
    stops = sorted({row.stop for row in rows} | (set(range(first, end)) - tied))
    # Of so many rows up to each thing: how wide, how high, and which they are.
    best: dict[int, tuple[float, float, Rows]] = {first: (0.0, 0.0, [])}
    for _ in rows:
        found: dict[int, tuple[float, float, Rows]] = {}
        for start, (widest, down, before) in best.items():
            for stop in (n for n in stops if n > start):
                row = range(start, stop)
                wide = max(widest, sum(sizes[n].wide + gap for n in row))
                way = wide, down + _high(sizes, row), [*before, row]
                if stop not in found or way[:2] < found[stop][:2]:
                    found[stop] = way
        best = found
    even = best[end][2]
    is_alone = len(rows) > 1 and len(rows[-1]) == 1 and len(rows[-2]) >= MANY
    most = room if is_alone else _down(sizes, rows, gap)
    return even if _down(sizes, even, gap) <= most else rows


def _placed(
    sizes: Sizes, rows: Rows, gap: float, wides: Sequence[float] = ()
) -> Corners:
    """Place things in rows: in columns so wide, or right beside each other."""
    corners: Corners = {}
    y = 0.0
    for row in rows:
        across = wides or [sizes[n].wide for n in row]
        xs = accumulate((wide + gap for wide in across), initial=0.0)
        up = _up(sizes, row)
        corners |= {n: (x, y - up + sizes[n].up) for n, x in zip(row, xs, strict=False)}
        y -= _high(sizes, row) + gap
    return corners


def _high(sizes: Sizes, row: range) -> float:
    """Return how high a row is: what is lettered in it begins on one line."""
    down, said = (max(sizes[n][at] for n in row) for at in (2, 3))
    return _up(sizes, row) + down + said


def _up(sizes: Sizes, row: range) -> float:
    """Return how far a row's base line is below its top."""
    return max(sizes[n].up for n in row)


def _down(sizes: Sizes, rows: Rows, gap: float) -> float:
    """Return the height that rows take."""
    return sum(_high(sizes, row) for row in rows) + gap * (len(rows) - 1)


def _shared(highs: Sequence[float], gap: float, room: float) -> Rows:
    """Share rows out among the fewest sheets, so that the fullest has least."""
    best: list[tuple[tuple[int, float], Rows]] = [((0, 0.0), [])]
    for end in range(1, len(highs) + 1):
        found = []
        for start in reversed(range(end)):
            taken = sum(highs[start:end]) + gap * (end - start - 1)
            if taken <= room or end - start == 1:
                (count, most), before = best[start]
                cost = count + 1, max(most, taken)
                found.append((cost, [*before, range(start, end)]))
        best.append(min(found, key=lambda way: way[0]))
    return best[-1][1]
