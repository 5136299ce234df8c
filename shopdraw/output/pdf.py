"""Write sheets as one PDF, for paper and for the screen.

In:  `Sheet`s.   Out: bytes.
Frame: a page is the sheet at true size, and everything on it is in paper lengths, so
nothing is scaled to fit; the file asks printers not to scale it either.

The text can be searched and selected. The sheets' names are its bookmarks and page
labels. The same sheets give the same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping
from datetime import date
from functools import cache
from math import cos, radians, sin
from types import MappingProxyType
from typing import Any

from reportlab import rl_config
from reportlab.lib.colors import Color, HexColor
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfdoc, pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from shopdraw import __version__
from shopdraw.drawing.ink import FILL_OPACITY, Point
from shopdraw.drawing.lettering import Box, em_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.output.plot import (
    DASHES,
    MM,
    POINTS,
    Letters,
    Plot,
    font_file,
    per_inch,
    plot_of,
)

# Nothing needs a PDF to be of letters alone, and spelling it so takes long.
rl_config.useA85 = 0

NUDGE = 1e-8
"""In points: what lies half way between two steps goes up, whatever its last digit."""
Pictured = tuple[Box, bytes]
"""A box on paper, and the JPEG file that fills it."""


class _NoDay:
    """What stands where the library would ask the environment, then the clock.

    A moment that is always the same, the library's own for files that are to be alike:
    it goes into a file's identifier. The day that is shown is the job's.
    """

    t = 946684800.0
    YMDhms = (2000, 1, 1, 0, 0, 0)
    dhh = dmm = 0

    def __init__(self, _invariant: object = None) -> None:
        """Take what the library gives, and ask for nothing."""


def write_pdf(
    sheets: tuple[Sheet, ...],
    title: str,
    dated: date | None = None,
    drawn_from: str = "",
    pictures: Mapping[int, tuple[Pictured, ...]] = MappingProxyType({}),
) -> bytes:
    """Draw every sheet on a page of its own, at true size.

    Args:
        sheets: the pages.
        title: of the file.
        dated: the day that it is of; no clock is asked.
        drawn_from: which program and job file, among its keywords.
        pictures: what is put on sheets beside their ink, by the sheets' numbers.
    """
    stream = io.BytesIO()
    canvas = _blank(stream)
    _describe(canvas, title, dated)
    canvas.setKeywords(drawn_from)
    for index, sheet in enumerate(sheets):
        name = sheet.name if sheet.identity else f"{sheet.number} {sheet.name}"
        points = POINTS / per_inch(sheet)
        canvas.setPageSize((sheet.width * points, sheet.height * points))
        canvas.bookmarkPage(name)
        canvas.addOutlineEntry(name, name)
        canvas.addPageLabel(index, prefix=name)
        for picture in pictures.get(sheet.number, ()):
            _put(canvas, picture, points)
        plot = plot_of(sheet)
        _draw_lines(canvas, plot, points)
        _letter(canvas, plot.letters, points)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _put(canvas: Canvas, picture: Pictured, points: float) -> None:
    """Put a picture into its box on paper."""
    (left, low, right, high), data = picture
    size = (right - left) * points, (high - low) * points
    canvas.drawImage(ImageReader(io.BytesIO(data)), left * points, low * points, *size)


def _blank(stream: io.BytesIO) -> Canvas:
    """Return a file without pages, made without asking which day it is."""
    # The library takes its own stamp whatever it is given: here it has no other.
    library: Any = pdfdoc
    library.TimeStamp = _NoDay
    lettering: Any = _font()
    return Canvas(
        stream, invariant=1, pageCompression=1, lang="en", initialFontName=lettering
    )


def _describe(canvas: Canvas, title: str, dated: date | None) -> None:
    """Set the title of the file, and how it is to be shown and printed."""
    canvas.setTitle(title)
    canvas.setSubject("Shop drawings")
    canvas.setAuthor("")
    canvas.setCreator(f"shopdraw {__version__}")
    canvas.setProducer(f"shopdraw {__version__}")
    stamp = f"D:{dated:%Y%m%d}" if dated else ""
    canvas.setDateFormatter(lambda *_: stamp)
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.showOutline()


def _draw_lines(canvas: Canvas, plot: Plot, points: float) -> None:
    """Put down paint and fills, then the lines, one path for each pen."""
    for colour, ring in plot.paints:
        _fill(canvas, _colour(colour), [ring], points)
    for colour, rings in plot.fills.items():
        full = _colour(colour)
        tint = Color(full.red, full.green, full.blue, alpha=FILL_OPACITY)
        _fill(canvas, tint, rings, points)
    for (colour, pen_mm, kind), lines in plot.lines.items():
        canvas.setStrokeColor(_colour(colour))
        canvas.setLineWidth(pen_mm / MM * POINTS)
        canvas.setDash([x * POINTS for x in DASHES.get(kind, ())])
        canvas.addLiteral(" ".join(_traced(line, points) for line in lines) + " S")


def _fill(
    canvas: Canvas, colour: Color, rings: Iterable[list[Point]], points: float
) -> None:
    canvas.setFillColor(colour)
    for ring in rings:
        canvas.addLiteral(f"{_traced(ring, points)} h f*")


def _traced(line: list[Point], points: float) -> str:
    """Return a path, to a thousandth of a point (ISO 32000, 8.5.2).

    The library's own asks of each number how many digits it needs, which takes long.
    """
    (x, y), *rest = line
    begun = f"{x * points + NUDGE:.3f} {y * points + NUDGE:.3f} m"
    ends = (f"{x * points + NUDGE:.3f} {y * points + NUDGE:.3f} l" for x, y in rest)
    return " ".join((begun, *ends))


def _letter(canvas: Canvas, letters: list[Letters], points: float) -> None:
    text = canvas.beginText()
    for line in letters:
        text.setFillColor(_colour(line.colour))
        text.setFont(_font(), em_of(line.height) * points)
        x, y = (part * points + NUDGE for part in line.foot)
        cosine, sine = cos(radians(line.angle_deg)), sin(radians(line.angle_deg))
        text.setTextTransform(cosine, sine, -sine, cosine, x, y)
        text.textOut(line.text)
    canvas.drawText(text)


@cache
def _colour(name: str) -> Color:
    return HexColor(name, hasAlpha=len(name) == len("#rrggbbaa"))


@cache
def _font() -> str:
    """Register the font with the PDF library, and return its name there."""
    font = TTFont("DejaVuSans", font_file())
    pdfmetrics.registerFont(font)
    return str(font.fontName)
