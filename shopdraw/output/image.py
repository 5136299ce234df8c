"""Write a sheet as a PNG picture for the screen.

In:  `Sheet`.   Out: bytes.
Frame: the page is the sheet at true size, and everything on it is in paper lengths, so
nothing is scaled to fit.
"""

from __future__ import annotations

from functools import cache, lru_cache
from itertools import accumulate
from math import cos, radians, sin
from typing import Any

import numpy as np
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.collections import LineCollection, PathCollection, PolyCollection
from matplotlib.font_manager import FontProperties
from matplotlib.path import Path as Outline
from matplotlib.textpath import TextToPath
from matplotlib.transforms import Affine2D, IdentityTransform

from shopdraw.drawing.ink import FILL_OPACITY, Paint
from shopdraw.drawing.lettering import em_of, width_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.output.packing import pack_png
from shopdraw.output.plot import (
    DASHES,
    MM,
    PENS,
    POINTS,
    Letters,
    Plot,
    font_file,
    per_inch,
    plot_of,
)

WHITE = 0xFFFFFFFF
"""A dot without ink, its four parts together."""


def write_png(sheet: Sheet, dpi: int = 150, drawn_from: str = "") -> bytes:
    """Draw a sheet as a picture, true to size at so many dots an inch.

    What it is drawn from stands in the file, beside the picture.
    """
    page = _Page((sheet.width, sheet.height), per_inch(sheet), dpi)
    plot = plot_of(sheet)
    _put_lines(page, plot)
    _put_letters(page, plot.letters)
    if plot.paints:
        return pack_png(page.pixels[:, :, :3], b"", dpi, drawn_from)
    return pack_png(*_in_few_colours(page.pixels), dpi, drawn_from)


def _in_few_colours(pixels: Any) -> tuple[Any, bytes]:
    """Return dots in eight bits, and their palette: greys, or these and pens' colours.

    Most of a sheet is white, and its dots are not looked at one by one.
    """
    whole = pixels.view(np.uint32).reshape(-1)
    places = np.flatnonzero(whole != WHITE)
    ink = whole[places].view(np.uint8).reshape(-1, 4)
    if (ink[:, 0] == ink[:, 1]).all() and (ink[:, 1] == ink[:, 2]).all():
        palette = bytes(level for level in range(256) for _ in "rgb")
        white, shades = 255, ink[:, 1]
    else:
        palette = _shades()
        white, shades = _matched(np.full((1, 4), 255, np.uint8)), _matched(ink)
    dots = np.full(pixels.shape[:2], white, np.uint8)
    dots.reshape(-1)[places] = shades
    return dots, palette


def _matched(dots: Any) -> Any:
    """Return the number in the palette of each of some dots' colour."""
    from PIL import Image

    palette = Image.new("P", (1, 1))
    palette.putpalette(_shades())
    row = Image.frombuffer("RGBA", (len(dots), 1), dots, "raw", "RGBA", 0, 1)
    few = row.convert("RGB").quantize(palette=palette, dither=Image.Dither.NONE)
    return np.asarray(few)[0]


@cache
def _shades() -> bytes:
    """Return a palette: greys, and each pen's colour from white to full.

    Ink on paper is one colour, thinner at its edges, so it needs no others.
    """
    # Colours are matched four levels at a time: white must be the nearest to white.
    greys = [*((level,) * 3 for level in range(0, 252, 4)), (255, 255, 255)]
    pens = sorted({pen for pen in PENS.values() if len({*_parts(pen)}) > 1})
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


def paint_over(picture: Any, paints: tuple[Paint, ...]) -> Any:
    """Paint over a picture, an inch to a dot; return its dots, red, green and blue.

    Args:
        picture: of the imaging library.
        paints: in dots, x right, y down, from its upper left corner.
    """
    page = _Page(picture.size, 1.0, 1.0)
    page.pixels[:, :, :3] = np.asarray(picture)
    high = picture.height
    rings = [[(x, high - y) for x, y in paint.points] for paint in paints]
    colours = [paint.colour for paint in paints]
    page.put(PolyCollection(rings, facecolors=colours, linewidths=0))
    return np.ascontiguousarray(page.pixels[:, :, :3])


class _Page:
    """A blank page of some size, to put artists on in its lengths.

    It stands where they look for the library's figure, which loads every kind of chart.
    Its dots are those of the next page of its size.
    """

    def __init__(self, size: tuple[float, float], inch: float, dpi: float) -> None:
        wide, high = (side / inch * dpi for side in size)
        self._renderer = _renderer(wide, high, dpi)
        self._to_page = Affine2D().scale(1 / inch).scale(dpi)
        self.bbox, self.dpi = self._renderer.bbox, dpi
        self.pixels = np.asarray(self._renderer.buffer_rgba())
        self.pixels[:] = 255

    def get_figure(self, **_: object) -> _Page:
        """Return what an artist of this page asks how large it is."""
        return self

    def put(self, artist: Any) -> None:
        """Put an artist on top of those that are there already."""
        artist.set_figure(self)
        artist.set_transform(self._to_page)
        artist.draw(self._renderer)


@lru_cache(maxsize=1)
def _renderer(wide: float, high: float, dpi: float) -> Any:
    """Return what draws on pages of a size: room for so many dots takes long to get."""
    library: Any = RendererAgg
    return library(wide, high, dpi)


def _put_lines(page: _Page, plot: Plot) -> None:
    """Put down paint and fills, then the lines, one collection for each pen."""
    if plot.paints:
        colours, painted = zip(*plot.paints, strict=True)
        page.put(PolyCollection(painted, facecolors=colours, linewidths=0))
    for colour, polygons in plot.fills.items():
        page.put(
            PolyCollection(
                polygons, facecolors=colour, alpha=FILL_OPACITY, linewidths=0
            )
        )
    for (colour, pen_mm, kind), lines in plot.lines.items():
        width = pen_mm / MM * POINTS
        dashes: Any = "solid"
        if kind in DASHES:
            # matplotlib counts dashes in line widths.
            dashes = (0, tuple(x * POINTS / width for x in DASHES[kind]))
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


@cache
def _font() -> FontProperties:
    return FontProperties(fname=str(font_file()))


@cache
def _glyph(sign: str) -> tuple[Any, Any, float]:
    """Return a character's outline with an em of 1: points, codes, how far it goes."""
    shaper: Any = TextToPath()
    points, codes = shaper.get_text_path(_font(), sign, ismath=False)
    points = np.asarray(points).reshape(-1, 2) / shaper.FONT_SCALE
    return points, codes, width_of(sign, 1 / em_of(1))


@cache
def _outline_of(text: str) -> tuple[Any, Any]:
    """Return the points and codes of a line of text, with an em of 1."""
    points, codes, widths = zip(*map(_glyph, text), strict=True)
    starts = tuple(accumulate(widths, initial=0.0))[:-1]
    outline = np.concatenate(points)
    outline[:, 0] += np.repeat(starts, [len(each) for each in points])
    return outline, np.concatenate(codes)


def _put_letters(page: _Page, letters: list[Letters]) -> None:
    """Letter with the outlines of characters; each outline is made once."""
    by_colour: dict[str, list[Outline]] = {}
    for line in letters:
        points, codes = _outline_of(line.text)
        points = points * em_of(line.height)
        if line.angle_deg:
            cosine, sine = cos(radians(line.angle_deg)), sin(radians(line.angle_deg))
            points = points @ np.array(((cosine, sine), (-sine, cosine)))
        by_colour.setdefault(line.colour, []).append(Outline(points + line.foot, codes))
    for colour, paths in by_colour.items():
        letters_put = PathCollection(
            paths,
            facecolors=colour,
            linewidths=0,
            offset_transform=IdentityTransform(),
        )
        # Words of upright and level strokes alone ("LEFT") would be put on whole dots.
        letters_put.set_snap(False)
        page.put(letters_put)
