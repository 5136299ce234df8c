"""Write ink as SVG, through the same placement as every other writer.

In:  `Sheet`, or a drawing placed.   Out: SVG elements, as text.
Frame: whole thousandths of an inch on paper (`GRID` to an inch), from the upper left
corner, y down. A path gives its first point from the corner and each further one from
the point before it, both rounded to the grid first, so that nothing drifts.

Pens are classes, `k7` for the colour of that index: how they look by day and by night
stands in the page's style sheet. No element has a style of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from html import escape
from itertools import count, groupby, pairwise

from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Point
from shopdraw.drawing.lettering import Box, em_of, width_of
from shopdraw.drawing.sheets import BEYOND, PlacedDrawing, Placement, Sheet
from shopdraw.lengths import Lengths
from shopdraw.output.plot import DASHES, MM, PENS, Letters, Plot, per_inch

GRID = 1000
"""So many units of the picture make an inch on paper."""
FINE = 6
"""Places are first rounded to so many decimals of a unit."""
CLASSES = {colour: f"k{index}" for index, colour in PENS.items()}
BLACK = "k7"
RGB = len("#rrggbb")
SHORT = 3
"""So few letters are as long as reckoned, near enough, in any upright face."""


@dataclass(frozen=True)
class Frame:
    """How paper lengths become units of a picture.

    Attributes:
        units: to a length of paper.
        left, top: the corner of paper that the picture begins at.
    """

    units: float
    left: float
    top: float

    def at(self, point: Point) -> tuple[int, int]:
        """Return a point of the paper on the picture's grid."""
        x, y = point
        right, down = (x - self.left) * self.units, (self.top - y) * self.units
        # Half a step is rounded alike, whatever the last digit of its float.
        return round(round(right, FINE)), round(round(down, FINE))


def frame_of(sheet: Sheet, box: Box | None = None) -> Frame:
    """Return the frame of a sheet, or of a box of its paper."""
    units = GRID / per_inch(sheet)
    if box is None:
        return Frame(units, 0.0, sheet.height)
    return Frame(units, box[0], box[3])


def view_box(frame: Frame, box: Box) -> str:
    """Return a box of paper as a picture's `viewBox`."""
    x1, y1 = frame.at((box[0], box[3]))
    x2, y2 = frame.at((box[2], box[1]))
    return f"{x1} {y1} {x2 - x1} {y2 - y1}"


def alone(drawing: Drawing, lengths: Lengths) -> Sheet:
    """Put a drawing on a paper of its own, as large as it is."""
    left, low, right, high = extent_of(drawing)
    scale = drawing.scale
    size = (right - left) / scale, (high - low) / scale
    nowhere = (0.0, 0.0)
    placement = Placement(scale, (left, low), nowhere, nowhere, (*nowhere, *size))
    placed = PlacedDrawing(drawing, placement)
    return Sheet(1, drawing.name, "", *size, lengths, (placed,), ())


def only(placed: PlacedDrawing, lengths: Lengths) -> Sheet:
    """Return a sheet that holds one drawing where it is placed, and no frame."""
    _, _, right, top = placed.placement.window
    return Sheet(1, placed.drawing.name, "", right, top, lengths, (placed,), ())


def draw(sheet: Sheet, frame: Frame) -> str:
    """Return all of a sheet's ink: paint and fills first, then lines, then letters."""
    plot = Plot(sheet)
    parts = [*_paints(plot, frame), *_fills(plot, frame), *_lines(plot, frame)]
    return "".join((*parts, *_letters(plot.letters, frame)))


def path(points: Iterable[Point], frame: Frame, *, closed: bool = False) -> str:
    """Return a path's data: one absolute point, then steps from each to the next."""
    spots = [frame.at(point) for point in points]
    x, y = spots[0]
    steps = [f"M{x} {y}"]
    for (x1, y1), (x2, y2) in pairwise(spots):
        dx, dy = x2 - x1, y2 - y1
        if not dx and not dy:
            continue
        if not dy:
            steps.append(f"h{dx}")
        elif not dx:
            steps.append(f"v{dy}")
        else:
            steps.append(f"l{dx} {dy}" if dy >= 0 else f"l{dx}{dy}")
    return "".join((*steps, "z" * closed))


def _paints(plot: Plot, frame: Frame) -> Iterable[str]:
    """Yield areas of colour in order, neighbours of one colour as one path.

    Tints stay apart: where they lie on one another it is darker.
    """
    apart = count()
    for (colour, _), rings in groupby(
        plot.paints, key=lambda x: (x[0], next(apart) if len(x[0]) > RGB else 0)
    ):
        data = "".join(path(ring, frame, closed=True) for _, ring in rings)
        yield f'<path fill="{escape(colour)}" d="{data}"/>'


def _fills(plot: Plot, frame: Frame) -> Iterable[str]:
    for colour, rings in plot.fills.items():
        for ring in rings:
            data = path(ring, frame, closed=True)
            yield f'<path class="f {_pen(colour)}" d="{data}"/>'


def _lines(plot: Plot, frame: Frame) -> Iterable[str]:
    for (colour, pen_mm, kind), lines in plot.lines.items():
        wide = round(pen_mm / MM * GRID, 1)
        dashes = ""
        if kind in DASHES:
            sizes = " ".join(f"{x * GRID:g}" for x in DASHES[kind])
            dashes = f' stroke-dasharray="{sizes}"'
        data = "".join(path(line, frame, closed=_is_ring(line)) for line in lines)
        yield (
            f'<path class="l {_pen(colour)}" stroke-width="{wide:g}"{dashes} '
            f'd="{data}"/>'
        )


def _is_ring(line: list[Point]) -> bool:
    return len(line) > 2 and line[0] == line[-1]


def _letters(letters: list[Letters], frame: Frame) -> Iterable[str]:
    """Yield lettering, like sizes together; each line is as long as it is reckoned."""
    ordered = sorted(letters, key=lambda each: (each.colour, each.height))
    for (colour, height), lines in groupby(
        ordered, key=lambda each: (each.colour, each.height)
    ):
        size = round(em_of(height) * frame.units, 1)
        said = "".join(_line(each, frame) for each in lines)
        yield f'<g class="t {_pen(colour)}" font-size="{size:g}">{said}</g>'


def _line(each: Letters, frame: Frame) -> str:
    x, y = frame.at(each.foot)
    long = round(width_of(each.text, each.height) * frame.units)
    turn = f' transform="rotate({-each.angle_deg:g} {x} {y})"' * bool(each.angle_deg)
    fit = f' textLength="{long}"' * (len(each.text) > SHORT)
    return f'<text x="{x}" y="{y}"{fit}{turn}>{escape(each.text)}</text>'


def _pen(colour: str) -> str:
    return CLASSES.get(colour, BLACK)


def widened(box: Box, lengths: Lengths) -> Box:
    """Return a box with room for half a pen beyond each edge."""
    more = BEYOND[lengths]
    return box[0] - more, box[1] - more, box[2] + more, box[3] + more


def without(
    sheet: Sheet, drawn: frozenset[int], instead: Iterable[PlacedDrawing]
) -> Sheet:
    """Return a sheet without the drawings that stand elsewhere, by their identity."""
    kept = (x for x in sheet.drawings if id(x.drawing) not in drawn)
    return replace(sheet, drawings=(*kept, *instead))
