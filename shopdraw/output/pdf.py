"""Write sheets as one PDF, for paper and for the screen.

In:  `Sheet`s.   Out: bytes.
Frame: a page is the sheet at true size, and everything on it is in paper lengths, so
nothing is scaled to fit; the file asks printers not to scale it either.

The text can be searched and selected. The sheets' names are its bookmarks and page
labels. The same sheets give the same bytes.
"""

from __future__ import annotations

import io
import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import date
from functools import cache
from math import cos, radians, sin
from typing import Any

from reportlab.lib.colors import Color, HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from shopdraw import __version__
from shopdraw.drawing.ink import FILL_OPACITY, Point
from shopdraw.drawing.lettering import em_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.output.plot import DASHES, MM, POINTS, Letters, Plot, font_file, per_inch

DAY = "SOURCE_DATE_EPOCH"


def write_pdf(
    sheets: tuple[Sheet, ...], title: str, dated: date | None = None
) -> bytes:
    """Draw every sheet on a page of its own, at true size.

    Args:
        sheets: the pages.
        title: of the file.
        dated: the date of the file; the clock is not read.
    """
    with _no_day_but_the_job_s():
        return _written(sheets, title, dated)


@contextmanager
def _no_day_but_the_job_s() -> Iterator[None]:
    """Hide a date that the environment may set: the library would use it."""
    day = os.environ.pop(DAY, None)
    try:
        yield
    finally:
        if day is not None:
            os.environ[DAY] = day


def _written(sheets: tuple[Sheet, ...], title: str, dated: date | None) -> bytes:
    stream = io.BytesIO()
    lettering: Any = _font()
    canvas = Canvas(
        stream, invariant=1, pageCompression=1, lang="en", initialFontName=lettering
    )
    _describe(canvas, title, dated)
    for index, sheet in enumerate(sheets):
        name = f"{sheet.number} {sheet.name}"
        points = POINTS / per_inch(sheet)
        canvas.setPageSize((sheet.width * points, sheet.height * points))
        canvas.bookmarkPage(name)
        canvas.addOutlineEntry(name, name)
        canvas.addPageLabel(index, prefix=name)
        plot = Plot(sheet)
        _draw_lines(canvas, plot, points)
        _letter(canvas, plot.letters, points)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


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
        path = canvas.beginPath()
        for line in lines:
            _trace(path, line, points)
        canvas.drawPath(path)


def _fill(
    canvas: Canvas, colour: Color, rings: Iterable[list[Point]], points: float
) -> None:
    canvas.setFillColor(colour)
    for ring in rings:
        path = canvas.beginPath()
        _trace(path, ring, points)
        path.close()
        canvas.drawPath(path, stroke=0, fill=1)


def _trace(path: Any, line: list[Point], points: float) -> None:
    (x, y), *rest = line
    path.moveTo(x * points, y * points)
    for x, y in rest:
        path.lineTo(x * points, y * points)


def _letter(canvas: Canvas, letters: list[Letters], points: float) -> None:
    text = canvas.beginText()
    for line in letters:
        text.setFillColor(_colour(line.colour))
        text.setFont(_font(), em_of(line.height) * points)
        x, y = line.foot
        cosine, sine = cos(radians(line.angle_deg)), sin(radians(line.angle_deg))
        text.setTextTransform(cosine, sine, -sine, cosine, x * points, y * points)
        text.textOut(line.text)
    canvas.drawText(text)


@cache
def _colour(name: str) -> Color:
    return HexColor(name)


@cache
def _font() -> str:
    """Register the font with the PDF library, and return its name there."""
    font = TTFont("DejaVuSans", font_file())
    pdfmetrics.registerFont(font)
    return str(font.fontName)
