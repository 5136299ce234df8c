"""Set details out in rows, and share the rows out among sheets.

In:  the size of each, the room.   Out: where each stands, sheet by sheet.
Frame: lengths of one kind; the origin is the upper left corner of each sheet, y up.

A detail is drawn once, and the words below it are tried in columns of several widths.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from math import ceil

from shopdraw.drawing.ink import Drawing, Point
from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import CutListRow
from shopdraw.views.parts.figures import WIDE, mark_words

Sizes = Sequence[tuple[float, float]]
"""Widths and heights."""
Corners = dict[int, tuple[float, float]]
"""Of each thing on a sheet, by its number: where its upper left corner is."""
Rows = list[range]


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

    def lettered(self, wide: float = WIDE) -> Drawing:
        """Letter it; a line wider than so many heights of lettering is broken."""
        scale = self.drawing.scale
        words = mark_words(self.job, self.row, scale, self.foot, self.lines, wide)
        return replace(self.drawing, ink=(*self.drawing.ink, *words))


def set_out(sizes: Sizes, gap: float, room: tuple[float, float]) -> list[Corners]:
    """Set things side by side, in rows, in order, on the fewest sheets for the rows.

    On each sheet they stand in columns, where that takes no more room, with about as
    many in each row: none has a row to itself below a full one.

    Args:
        sizes: the width and height of each.
        gap: between two side by side, and between rows.
        room: the width and height of a sheet; what is higher has a sheet of its own.
    """
    rows: Rows = []
    x = 0.0
    for n, (wide, _) in enumerate(sizes):
        if not rows or x + wide > room[0]:
            rows.append(range(n, n))
            x = 0.0
        rows[-1] = range(rows[-1].start, n + 1)
        x += wide + gap
    highs = [_high(sizes, row) for row in rows]
    sheets: list[Corners] = []
    for run in _shared(highs, gap, room[1]):
        shown = rows[run.start : run.stop]
        sheets.append(
            _in_columns(sizes, shown, gap, room[0]) or _placed(sizes, shown, gap)
        )
    return sheets


def _in_columns(sizes: Sizes, rows: Rows, gap: float, room: float) -> Corners | None:
    """Set what some rows hold out in columns, in as many rows, and no higher.

    Returns:
        Where each stands; None where columns would be too wide or too high.
    """
    first, end = rows[0].start, rows[-1].stop
    most = _down(sizes, rows, gap)
    for count in range(ceil((end - first) / len(rows)), max(map(len, rows)) + 1):
        grid = [range(n, min(n + count, end)) for n in range(first, end, count)]
        wides = [
            max(sizes[n][0] for n in range(first + column, end, count))
            for column in range(min(count, end - first))
        ]
        fits = sum(wides) + gap * (len(wides) - 1) <= room
        if fits and len(grid) == len(rows) and _down(sizes, grid, gap) <= most:
            return _placed(sizes, grid, gap, wides)
    return None


def _placed(
    sizes: Sizes, rows: Rows, gap: float, wides: Sequence[float] = ()
) -> Corners:
    """Place things in rows: in columns so wide, or right beside each other."""
    corners: Corners = {}
    y = 0.0
    for row in rows:
        across = wides or [sizes[n][0] for n in row]
        xs = accumulate((wide + gap for wide in across), initial=0.0)
        corners |= {n: (x, y) for n, x in zip(row, xs, strict=False)}
        y -= _high(sizes, row) + gap
    return corners


def _high(sizes: Sizes, row: range) -> float:
    return max(sizes[n][1] for n in row)


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
