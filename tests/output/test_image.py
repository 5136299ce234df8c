"""PNG and PDF: true to scale, searchable, and the same drawing as the DXF."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pdfplumber
import pytest
from PIL import Image

from shopdraw.drawing.framing import draw_frame
from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.drawing.sheets import Sheet, compose_sheet
from shopdraw.drawing.title_block import TitleBlock
from shopdraw.output.image import write_png
from shopdraw.output.pdf import write_pdf


def tiny(size: float = 8.0, scale: float = 4.0) -> Sheet:
    ring = ((0.0, 0.0), (size, 0.0), (size, size), (0.0, size))
    drawing = Drawing("x", "", scale, (Stroke("A-ELEV-OTLN", ring, closed=True),))
    box = (1.0, 1.0, 4.0, 4.0)
    frame = draw_frame((8.0, 5.0), "in", TitleBlock(()))
    return compose_sheet(1, "x", "X", (8.0, 5.0), "in", ((drawing, box),), frame)


def test_a_picture_has_the_size_of_its_sheet_and_ink_where_it_belongs() -> None:
    picture = np.asarray(
        Image.open(io.BytesIO(write_png(tiny(), dpi=100))).convert("L")
    )
    assert picture.shape == (500, 800)
    # The ring is 2 in square in the middle of a box from 1 to 4 in: 1.5 to 3.5 in.
    column = picture[250, 140:360] < 128
    dark = np.flatnonzero(column) + 140
    assert abs(dark.min() - 150) <= 2
    assert abs(dark.max() - 350) <= 2


def test_paper_stays_white_and_each_pen_keeps_its_colour() -> None:
    """The cut line's dark red, among greys: a picture of few colours, none of them off.

    To four levels of 256, as colours are looked up.
    """
    ring = ((1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0))
    for layer, pen in (("A-ELEV-MSNR-CUTM", (138, 15, 15)), ("A-ELEV-OTLN", (0, 0, 0))):
        sheet = replace(tiny(), paper_ink=(Stroke(layer, ring, closed=True),))
        data = write_png(sheet, dpi=600)
        picture = Image.open(io.BytesIO(data)).convert("RGB")
        assert picture.getpixel((5, 5)) == (255, 255, 255)
        column = np.asarray(picture.crop((600, 600, 601, 2400))).astype(int)
        assert np.abs(column - np.array(pen)).sum(axis=2).min() <= 12


def test_nothing_of_the_page_before_is_left_on_a_page() -> None:
    """Pages of one size are drawn in the same place."""
    first = write_png(tiny(4.0), dpi=100)
    assert write_png(tiny(), dpi=100) != first
    assert write_png(tiny(4.0), dpi=100) == first


def test_a_whole_line_is_even_where_a_broken_one_lies_on_it() -> None:
    """An extension line and the level that it measures, whichever is drawn first."""
    line = ((1.0, 2.0), (5.0, 2.0))
    ink = Stroke("A-ANNO-DIMS", line), Stroke("A-ELEV-CNTR", line)
    for order in (ink, ink[::-1]):
        sheet = replace(tiny(), paper_ink=order)
        picture = Image.open(io.BytesIO(write_png(sheet, dpi=300))).convert("L")
        rows = np.asarray(picture)[880:920, 360:1440].astype(int)
        along = rows.min(axis=0)
        assert along.max() < 96
        assert along.max() - along.min() <= 8


def test_dollar_signs_are_lettered_as_they_stand() -> None:
    """Two of them are no mathematics, in the picture as in the PDF."""
    words = Words("A-ANNO-NOTE", (0.5, 4.5), "AT $5_x^ TO $10", 0.2)
    sheet = replace(tiny(), paper_ink=(words,))
    with pdfplumber.open(io.BytesIO(write_pdf((sheet,), "X"))) as pdf:
        assert "AT $5_x^ TO $10" in pdf.pages[0].extract_text()
    picture = Image.open(io.BytesIO(write_png(sheet, dpi=100))).convert("L")
    row = np.asarray(picture)[20:60] < 128
    wide = np.flatnonzero(row.any(axis=0))
    # A font's kerning takes off a little; mathematics would take off nearly half.
    assert (wide.max() - 50) / 100 == pytest.approx(width_of(words.text, 0.2), abs=0.1)


def test_letters_of_upright_and_level_strokes_are_lettered_like_others() -> None:
    """A word like LEFT has no slant: it must not be put on whole dots by itself."""

    def dark(text: str) -> float:
        words = Words("A-ANNO-NOTE", (0.5, 4.0), text, 0.06)
        sheet = replace(tiny(), paper_ink=(words,), drawings=())
        picture = Image.open(io.BytesIO(write_png(sheet, dpi=110))).convert("L")
        wide = 0.5 + width_of("LEFT", 0.06)
        part = np.asarray(picture)[90:125, 50 : int(wide * 110)]
        return float((255 - part.astype(float)).sum())

    assert dark("LEFT") == pytest.approx(dark("LEFT S"), rel=0.02)
