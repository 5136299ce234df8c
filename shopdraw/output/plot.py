"""Turn a sheet's ink into plotted lines and letters in paper lengths, sorted by pen.

In:  `Sheet`.   Out: `Plot`.
Frame: paper, from the sheet's bottom left.

The pens are a draughtsman's: black, greys for what exists and what is hidden, dark red
for cuts. The font is the one that comes with matplotlib.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache
from math import cos, radians, sin
from pathlib import Path

from shopdraw.drawing.hatching import lines_in
from shopdraw.drawing.ink import (
    Fill,
    Hatch,
    Ink,
    Insert,
    Measure,
    Paint,
    Point,
    Stroke,
    Symbol,
    Words,
)
from shopdraw.drawing.layers import LAYERS, Layer
from shopdraw.drawing.lettering import width_of
from shopdraw.drawing.measures import TICK_PEN_MM, letter_of, lines_of, ticks_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.output.libraries import beside_matplotlib

POINTS = 72.0
MM = 25.4
PENS = {1: "#8a0f0f", 6: "#5a1050", 8: "#707070", 9: "#9a9a9a", 30: "#8a4a00"}
"""Plot colours by colour index; every other index is black."""
DASHES = {
    "HIDDEN": (0.125, 0.0625),
    "CENTER": (0.5, 0.0625, 0.125, 0.0625),
    "PHANTOM": (0.5, 0.0625, 0.09375, 0.0625, 0.09375, 0.0625),
}
"""In inches on paper."""
_LAYERS = {layer.name: layer for layer in LAYERS}
Move = Callable[[Point], Point]


def per_inch(sheet: Sheet) -> float:
    """Return how many of a sheet's lengths make an inch."""
    return 1.0 if sheet.lengths == "in" else MM


def font_file() -> Path:
    """Return the file of the font that everything is lettered in."""
    return beside_matplotlib() / "fonts" / "ttf" / "DejaVuSans.ttf"


@dataclass(frozen=True, slots=True)
class Letters:
    """A line of text as it is plotted: where its foot begins, and how it is turned."""

    text: str
    foot: Point
    height: float
    """Of its capitals."""
    angle_deg: float
    colour: str


class Plot:
    """A sheet's ink in paper lengths, sorted by pen."""

    def __init__(self, sheet: Sheet) -> None:
        self.lines: dict[tuple[str, float, str], list[list[Point]]] = {}
        self.fills: dict[str, list[list[Point]]] = {}
        self.paints: list[tuple[str, list[Point]]] = []
        self.letters: list[Letters] = []
        for placed in sheet.drawings:
            symbols = {symbol.name: symbol for symbol in placed.drawing.symbols}
            move = placed.placement.to_paper
            for ink in placed.drawing.ink:
                self._add(ink, move, placed.drawing.scale, symbols)
        for ink in sheet.paper_ink:
            self._add(ink, lambda point: point, 1.0, {})
        # A whole line on a broken one is drawn over it: else it shows in the gaps.
        broken = sorted(self.lines, key=lambda pen: pen[2] == "CONTINUOUS")
        self.lines = {pen: self.lines[pen] for pen in broken}

    def _add(
        self, ink: Ink, move: Move, scale: float, symbols: dict[str, Symbol]
    ) -> None:
        if isinstance(ink, Stroke):
            self._stroke(ink.layer, ink.points, move, closed=ink.closed)
        elif isinstance(ink, Fill):
            colour = _colour(_LAYERS[ink.layer])
            self.fills.setdefault(colour, []).append([move(p) for p in ink.points])
        elif isinstance(ink, Hatch):
            for line in lines_in(ink):
                self._stroke(ink.layer, line, move)
        elif isinstance(ink, Paint):
            self.paints.append((ink.colour, [move(p) for p in ink.points]))
        elif isinstance(ink, Words):
            self._letter(ink, move)
        elif isinstance(ink, Insert):
            self._insert(ink, move, symbols[ink.symbol])
        else:
            self._measure(ink, move, scale)

    def _insert(self, insert: Insert, move: Move, symbol: Symbol) -> None:
        for stroke in symbol.strokes:
            points = [(x + insert.at[0], y + insert.at[1]) for x, y in stroke.points]
            self._stroke(stroke.layer, points, move, closed=stroke.closed)
        for tag in insert.tags:
            if tag.words is not None:
                self._letter(tag.words, move)

    def _measure(self, measure: Measure, move: Move, scale: float) -> None:
        for line in lines_of(measure, scale):
            self._stroke(measure.layer, line, move)
        for tick in ticks_of(measure, scale):
            self._stroke(measure.layer, tick, move, pen_mm=TICK_PEN_MM)
        self._letter(letter_of(measure, scale), move)

    def _letter(self, words: Words, move: Move) -> None:
        if not words.text.strip():
            return
        height, (x, y) = words.height_on_paper, move(words.at)
        right, up = _turned(_foot_left(words, height), words.angle_deg)
        colour = _colour(_LAYERS[words.layer])
        self.letters.append(
            Letters(words.text, (x + right, y + up), height, words.angle_deg, colour)
        )

    def _stroke(
        self,
        layer: str,
        points: Iterable[Point],
        move: Move,
        *,
        closed: bool = False,
        pen_mm: float | None = None,
    ) -> None:
        row = _LAYERS[layer]
        if not row.plots:
            return
        line = [move(point) for point in points]
        if closed:
            line.append(line[0])
        pen = (_colour(row), pen_mm or row.pen_mm, row.line_type)
        self.lines.setdefault(pen, []).append(line)


@lru_cache(maxsize=16)  # A sheet's picture and its page are plotted alike.
def plot_of(sheet: Sheet) -> Plot:
    """Return a sheet's ink as it is plotted; nobody changes it."""
    return Plot(sheet)


def _foot_left(words: Words, height: float) -> Point:
    """Return where the text begins, from its own point, before it is turned."""
    width = width_of(words.text, height)
    x = {"left": 0.0, "centre": -width / 2, "right": -width}[words.align]
    y = {"foot": 0.0, "middle": -height / 2, "top": -height}[words.seat]
    return x, y


def _turned(spot: Point, angle_deg: float) -> Point:
    """Return a point turned about the origin."""
    cosine, sine = cos(radians(angle_deg)), sin(radians(angle_deg))
    x, y = spot
    return x * cosine - y * sine, x * sine + y * cosine


def _colour(layer: Layer) -> str:
    return PENS.get(layer.colour, "#000000")
