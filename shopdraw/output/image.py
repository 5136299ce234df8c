"""Write sheets as pictures: PNG for the screen, one PDF for paper.

In:  `Sheet`s.   Out: bytes.
Frame: the page is the sheet at true size; what is put on it is in paper
lengths, so nothing is scaled to fit.

Plotted as a draughtsman would: black, greys for what exists and what is hidden, dark
red for cuts. The font is the one that matplotlib ships, by path.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable
from functools import cache
from math import cos, radians, sin
from pathlib import Path
from typing import Any

import matplotlib
import numpy as np
from matplotlib.artist import Artist
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import FigureCanvasPdf, PdfPages
from matplotlib.collections import LineCollection, PathCollection, PolyCollection
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.path import Path as Outline
from matplotlib.textpath import TextToPath
from matplotlib.transforms import Affine2D, IdentityTransform

from shopdraw.drawing.ink import (
    FILL_OPACITY,
    LAYERS,
    Fill,
    Ink,
    Insert,
    Layer,
    Measure,
    Paint,
    Point,
    Stroke,
    Symbol,
    Words,
)
from shopdraw.drawing.lettering import em_of, width_of
from shopdraw.drawing.measures import TICK_PEN_MM, letter_of, lines_of, ticks_of
from shopdraw.drawing.sheets import Sheet

POINTS = 72.0
MM = 25.4
_GREYS = {1: "#8a0f0f", 6: "#5a1050", 8: "#707070", 9: "#9a9a9a", 30: "#8a4a00"}
"""Plot colours by colour index; every other index is black."""
_DASHES = {
    "HIDDEN": (0.125, 0.0625),
    "CENTER": (0.5, 0.0625, 0.125, 0.0625),
    "PHANTOM": (0.5, 0.0625, 0.09375, 0.0625, 0.09375, 0.0625),
}
"""In inches on paper."""
_LAYERS = {layer.name: layer for layer in LAYERS}
Move = Callable[[Point], Point]


def write_png(sheet: Sheet, dpi: int = 150) -> bytes:
    """Draw a sheet as a picture, true to size at so many dots an inch."""
    page = _Page(sheet)
    canvas: Any = FigureCanvasAgg(page.figure)
    page.figure.set_dpi(dpi)
    plot = _Plot(sheet)
    plot.add_lines(page)
    _letter_as_outlines(page, plot.words)
    canvas.draw()
    stream = io.BytesIO()
    pixels = np.asarray(canvas.buffer_rgba())
    picture = _whole(pixels) if plot.paints else _in_few_colours(pixels)
    picture.save(stream, "PNG", dpi=(dpi, dpi), compress_level=3)
    return stream.getvalue()


def _whole(pixels: Any) -> Any:
    """Return the picture in all its colours."""
    from PIL import Image

    size = (pixels.shape[1], pixels.shape[0])
    picture = Image.frombuffer("RGBA", size, pixels, "raw", "RGBA", 0, 1)
    return picture.convert("RGB")


def _in_few_colours(pixels: Any) -> Any:
    """Return the picture in eight bits a dot: in greys, or with the pens' colours."""
    from PIL import Image

    red, green, blue = (pixels[:, :, i] for i in range(3))
    if (red == green).all() and (green == blue).all():
        return Image.fromarray(np.ascontiguousarray(green))
    palette = Image.new("P", (1, 1))
    palette.putpalette(_shades())
    return _whole(pixels).quantize(palette=palette, dither=Image.Dither.NONE)


@cache
def _shades() -> bytes:
    """Return a palette: greys, and each pen's colour from white to full.

    Ink on paper is one colour, thinner at its edges, so it needs no others.
    """
    # Colours are looked up four levels at a time: nothing else is as near to white.
    greys = [*((level,) * 3 for level in range(0, 252, 4)), (255, 255, 255)]
    pens = sorted({pen for pen in _GREYS.values() if len({*_parts(pen)}) > 1})
    steps = (256 - len(greys)) // len(pens)
    shades = [
        tuple(255 - (255 - part) * step // steps for part in _parts(pen))
        for pen in pens
        for step in range(3, steps + 1)
    ]
    return bytes(part for shade in (*greys, *shades) for part in shade)


def _parts(colour: str) -> tuple[int, int, int]:
    red, green, blue = bytes.fromhex(colour[1:])
    return red, green, blue


def write_pdf(sheets: tuple[Sheet, ...], title: str) -> bytes:
    """Draw all sheets as one PDF, a page each at true size, its text searchable."""
    stream = io.BytesIO()
    fixed = {"CreationDate": None, "Producer": None, "Creator": None, "Title": title}
    with (
        matplotlib.rc_context({"pdf.fonttype": 3, "pdf.compression": 6}),
        PdfPages(stream, metadata=fixed) as pages,
    ):
        for sheet in sheets:
            page = _Page(sheet)
            FigureCanvasPdf(page.figure)
            plot = _Plot(sheet)
            plot.add_lines(page)
            page.put(_Lettering(plot.words, POINTS / _per_inch(sheet)))
            pages.savefig(page.figure)
    return stream.getvalue()


def _per_inch(sheet: Sheet) -> float:
    return 1.0 if sheet.lengths == "in" else MM


class _Page:
    """A blank page of the sheet's size, on which artists are put in paper lengths."""

    def __init__(self, sheet: Sheet) -> None:
        inch = _per_inch(sheet)
        self.figure = Figure(figsize=(sheet.width / inch, sheet.height / inch))
        self._to_page = Affine2D().scale(1 / inch) + self.figure.dpi_scale_trans

    def put(self, artist: Any) -> None:
        """Put an artist down over those that are there already."""
        artist.set_transform(self._to_page)
        artist.set_zorder(len(self.figure.artists))
        self.figure.add_artist(artist)


@cache
def _font() -> FontProperties:
    file = Path(matplotlib.get_data_path()) / "fonts" / "ttf" / "DejaVuSans.ttf"
    return FontProperties(fname=str(file))


class _Plot:
    """A sheet's ink in paper lengths, sorted by pen."""

    def __init__(self, sheet: Sheet) -> None:
        self.lines: dict[tuple[str, float, str], list[list[Point]]] = {}
        self.fills: dict[str, list[list[Point]]] = {}
        self.paints: list[tuple[str, list[Point]]] = []
        self.words: list[tuple[Words, Point, float]] = []
        self.inch = _per_inch(sheet)
        for placed in sheet.drawings:
            symbols = {symbol.name: symbol for symbol in placed.drawing.symbols}
            move = placed.placement.to_paper
            for ink in placed.drawing.ink:
                self._add(ink, move, placed.drawing.scale, symbols)
        for ink in sheet.paper_ink:
            self._add(ink, lambda point: point, 1.0, {})

    def _add(
        self, ink: Ink, move: Move, scale: float, symbols: dict[str, Symbol]
    ) -> None:
        if isinstance(ink, Stroke):
            self._stroke(ink.layer, ink.points, move, closed=ink.closed)
        elif isinstance(ink, Fill):
            colour = _colour(_LAYERS[ink.layer])
            self.fills.setdefault(colour, []).append([move(p) for p in ink.points])
        elif isinstance(ink, Paint):
            self.paints.append((ink.colour, [move(p) for p in ink.points]))
        elif isinstance(ink, Words):
            self.words.append((ink, move(ink.at), ink.height_on_paper))
        elif isinstance(ink, Insert):
            for stroke in symbols[ink.symbol].strokes:
                points = [(x + ink.at[0], y + ink.at[1]) for x, y in stroke.points]
                self._stroke(stroke.layer, points, move, closed=stroke.closed)
            for tag in ink.tags:
                if tag.words is not None:
                    at = move(tag.words.at)
                    self.words.append((tag.words, at, tag.words.height_on_paper))
        else:
            self._measure(ink, move, scale)

    def _measure(self, measure: Measure, move: Move, scale: float) -> None:
        for line in lines_of(measure, scale):
            self._stroke(measure.layer, line, move)
        for tick in ticks_of(measure, scale):
            self._stroke(measure.layer, tick, move, pen_mm=TICK_PEN_MM)
        words = letter_of(measure, scale)
        self.words.append((words, move(words.at), words.height_on_paper))

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

    def add_lines(self, page: _Page) -> None:
        """Put paint and fills down, then the lines, a collection a pen."""
        if self.paints:
            colours, painted = zip(*self.paints, strict=True)
            page.put(PolyCollection(painted, facecolors=colours, linewidths=0))
        for colour, polygons in self.fills.items():
            page.put(
                PolyCollection(
                    polygons, facecolors=colour, alpha=FILL_OPACITY, linewidths=0
                )
            )
        for (colour, pen_mm, kind), lines in self.lines.items():
            width = pen_mm / MM * POINTS
            dashes: Any = "solid"
            if kind in _DASHES:
                # matplotlib counts dashes in line widths.
                dashes = (0, tuple(x * POINTS / width for x in _DASHES[kind]))
            page.put(
                LineCollection(
                    lines,
                    colors=colour,
                    linewidths=width,
                    linestyles=[dashes],
                    capstyle="butt",
                    joinstyle="miter",
                )
            )


def _colour(layer: Layer) -> str:
    return _GREYS.get(layer.colour, "#000000")


def _foot_left(words: Words, height: float) -> Point:
    """Return where the text begins, about its own point, before it is turned."""
    width = width_of(words.text, height)
    x = {"left": 0.0, "centre": -width / 2, "right": -width}[words.align]
    y = {"foot": 0.0, "middle": -height / 2, "top": -height}[words.seat]
    return x, y


@cache
def _glyph(sign: str) -> tuple[Any, Any]:
    """Return the points and codes of a sign's outline, an em being one."""
    shaper: Any = TextToPath()
    points, codes = shaper.get_text_path(_font(), sign, ismath=False)
    return np.asarray(points).reshape(-1, 2) / shaper.FONT_SCALE, codes


def _outline_of(text: str) -> tuple[Any, Any]:
    """Return the points and codes of a line of text, an em being one."""
    points, codes, x = [], [], 0.0
    for sign in text:
        glyph, its_codes = _glyph(sign)
        points.append(glyph + np.array((x, 0.0)))
        codes.append(its_codes)
        x += width_of(sign, 1 / em_of(1))
    return np.concatenate(points), np.concatenate(codes)


def _letter_as_outlines(page: _Page, words: list[tuple[Words, Point, float]]) -> None:
    """Letter with outlines of the glyphs, each glyph's made once."""
    outlines: dict[str, tuple[Any, Any]] = {}
    by_colour: dict[str, list[Outline]] = {}
    for line, at, height in words:
        if not line.text.strip():
            continue
        if line.text not in outlines:
            outlines[line.text] = _outline_of(line.text)
        points, codes = outlines[line.text]
        points = points * em_of(height) + _foot_left(line, height)
        if line.angle_deg:
            cosine, sine = cos(radians(line.angle_deg)), sin(radians(line.angle_deg))
            points = points @ np.array(((cosine, sine), (-sine, cosine)))
        colour = _colour(_LAYERS[line.layer])
        by_colour.setdefault(colour, []).append(Outline(points + at, codes))
    for colour, paths in by_colour.items():
        page.put(
            PathCollection(
                paths,
                facecolors=colour,
                linewidths=0,
                offset_transform=IdentityTransform(),
            )
        )


def _turned(spot: Point, angle_deg: float, at: Point) -> Point:
    """Return where a spot lies that is turned about its origin, and that moved."""
    if not angle_deg:
        return spot[0] + at[0], spot[1] + at[1]
    cosine, sine = cos(radians(angle_deg)), sin(radians(angle_deg))
    x, y = spot
    return x * cosine - y * sine + at[0], x * sine + y * cosine + at[1]


class _Lettering(Artist):
    """All lettering of a page, drawn as text that can be searched and selected."""

    def __init__(
        self, words: list[tuple[Words, Point, float]], points_per_length: float
    ) -> None:
        super().__init__()
        self._words = words
        self._points = points_per_length

    def draw(self, renderer: Any) -> None:
        """Letter every line at its place."""
        fonts: dict[float, FontProperties] = {}
        for line, at, height in self._words:
            if not line.text.strip():
                continue
            if height not in fonts:
                fonts[height] = _font().copy()
                fonts[height].set_size(em_of(height) * self._points)
            x, y = _turned(_foot_left(line, height), line.angle_deg, at)
            graphics = renderer.new_gc()
            graphics.set_foreground(_colour(_LAYERS[line.layer]))
            renderer.draw_text(
                graphics,
                x * self._points,
                y * self._points,
                line.text,
                fonts[height],
                line.angle_deg,
            )
            graphics.restore()
