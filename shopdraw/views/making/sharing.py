"""Set details out in rows, and share the rows out among sheets.

In:  the size of each, the room.   Out: where each stands, sheet by sheet.
Frame: lengths of one kind; the origin is the upper left corner of each sheet, y up.

A detail is drawn once, and the words below it are tried in columns of several widths.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from shopdraw.drawing.ink import Drawing, Point
from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import CutListRow
from shopdraw.views.parts.figures import WIDE, mark_words

Corners = dict[int, tuple[float, float]]
"""Of each thing on a sheet, by its number: where its upper left corner is."""


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


def set_out(
    sizes: Sequence[tuple[float, float]], gap: float, room: tuple[float, float]
) -> list[Corners]:
    """Set things side by side, in rows, in order, on the fewest sheets for the rows.

    Args:
        sizes: the width and height of each.
        gap: between two side by side, and between rows.
        room: the width and height of a sheet; what is higher has a sheet of its own.
    """
    rows: list[list[tuple[int, float]]] = []
    x = 0.0
    for n, (wide, _) in enumerate(sizes):
        if not rows or x + wide > room[0]:
            rows.append([])
            x = 0.0
        rows[-1].append((n, x))
        x += wide + gap
    highs = [max(sizes[n][1] for n, _ in row) for row in rows]
    sheets: list[Corners] = []
    for run in _shared(highs, gap, room[1]):
        y = 0.0
        sheets.append({})
        for number in run:
            sheets[-1] |= {n: (x, y) for n, x in rows[number]}
            y -= highs[number] + gap
    return sheets


def _shared(highs: Sequence[float], gap: float, room: float) -> list[range]:
    """Share rows out among the fewest sheets, so that the fullest has least."""
    best: list[tuple[tuple[int, float], list[range]]] = [((0, 0.0), [])]
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
