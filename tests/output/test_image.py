"""PNG and PDF: true to scale, searchable, and the same drawing as the DXF."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pdfplumber
import pytest
from PIL import Image

from shopdraw.drawing.ink import Drawing, Insert, Measure, Stroke, Symbol, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import SCALES, Cell, Sheet, TitleBlock, compose_sheet
from shopdraw.lengths import Lengths
from shopdraw.output.dxf import write_dxf
from shopdraw.output.image import write_pdf, write_png


def tiny(size: float = 8.0, scale: float = 4.0) -> Sheet:
    ring = ((0.0, 0.0), (size, 0.0), (size, size), (0.0, size))
    drawing = Drawing("x", "", scale, (Stroke("A-ELEV-OTLN", ring, closed=True),))
    cell = Cell((1.0, 1.0, 4.0, 4.0))
    return compose_sheet(
        1, "x", "X", (8.0, 5.0), "in", ((drawing, cell),), TitleBlock(())
    )


def test_a_pdf_is_true_to_scale() -> None:
    """Measured with pdfplumber: 8 in at 1:4 is 2 in on paper, to 0.002 in."""
    with pdfplumber.open(io.BytesIO(write_pdf((tiny(),), "X"))) as pdf:
        (page,) = pdf.pages
        assert (page.width, page.height) == (8 * 72, 5 * 72)
        rings = [
            (max(x for x, _ in c["pts"]) - min(x for x, _ in c["pts"])) / 72
            for c in (*page.curves, *page.rects, *page.lines)
        ]
    assert any(abs(width - 2.0) < 0.002 for width in rings)


def test_every_page_is_its_sheet_and_its_words_can_be_searched(
    files: dict[str, bytes], drawing_set: DrawingSet
) -> None:
    inch = 1.0 if drawing_set.lengths == "in" else 25.4
    with pdfplumber.open(io.BytesIO(files["set.pdf"])) as pdf:
        for page, sheet in zip(
            pdf.pages, (*drawing_set.sheets, drawing_set.picture), strict=True
        ):
            assert float(page.width) == pytest.approx(sheet.width / inch * 72, abs=0.1)
        text = pdf.pages[0].extract_text()
    assert "FRONT ELEVATION" in text
    assert "NOT CHECKED" in text


def test_a_picture_has_the_size_of_its_sheet_and_ink_where_it_belongs() -> None:
    picture = np.asarray(
        Image.open(io.BytesIO(write_png(tiny(), dpi=100))).convert("L")
    )
    assert picture.shape == (500, 800)
    # The ring is 2 in square in the middle of a cell from 1 to 4 in: 1.5 to 3.5 in.
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
        dots = np.asarray(Image.open(io.BytesIO(data)).convert("RGB")).astype(int)
        assert (dots[5, 5] == 255).all()
        off = np.abs(dots - np.array(pen)).sum(axis=2)
        assert off[600:2400, 600].min() <= 12


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


@pytest.mark.parametrize(
    ("lengths", "scale"),
    [
        *(("in", scale) for scale, _ in SCALES["us"]),
        *(("mm", scale) for scale, _ in SCALES["iso"]),
    ],
)
def test_every_length_in_a_pdf_is_true_to_two_thousandths(
    lengths: Lengths, scale: float
) -> None:
    """Strokes of known length at every scale, found with pdfplumber at their place."""
    inch = 1.0 if lengths == "in" else 25.4
    size = (11.0 * inch, 8.5 * inch)
    full = scale * inch
    strokes = tuple(
        Stroke("A-ANNO-NOTE", ((0.0, y * full), (length * full, y * full)))
        for y, length in ((0.0, 7.5), (2.0, 3.125), (5.0, 0.25))
    )
    cell = Cell((0.5 * inch, 0.5 * inch, 8.25 * inch, 8.0 * inch))
    drawing = Drawing("x", "", scale, strokes)
    sheet = compose_sheet(
        1, "x", "X", size, lengths, ((drawing, cell),), TitleBlock(())
    )
    with pdfplumber.open(io.BytesIO(write_pdf((sheet,), "X"))) as pdf:
        (page,) = pdf.pages
        level = [line for line in page.lines if abs(line["y0"] - line["y1"]) < 0.01]
    found = sorted((line["y0"] / 72, (line["x1"] - line["x0"]) / 72) for line in level)
    (low, long), (middle, half), (high, short) = found
    assert (long, half, short) == pytest.approx((7.5, 3.125, 0.25), abs=0.002)
    assert (middle - low, high - low) == pytest.approx((2.0, 5.0), abs=0.002)


def test_pages_may_differ_in_size_and_the_title_is_the_set_s() -> None:
    other = replace(tiny(), width=11.0, height=8.5)
    data = write_pdf((tiny(), other), "Library hearth")
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert [(page.width, page.height) for page in pdf.pages] == [
            (576, 360),
            (792, 612),
        ]
        assert pdf.metadata["Title"] == "Library hearth"
        assert "CreationDate" not in pdf.metadata


def ink_of(drawing_set: DrawingSet, dpi: int = 40) -> np.ndarray:
    data = write_png(drawing_set.sheets[0], dpi=dpi)
    return np.asarray(Image.open(io.BytesIO(data)).convert("L")) < 200


def rendered(data: bytes, sheet: Sheet, dpi: int = 40) -> np.ndarray:
    """Render the saved DXF's model space with ezdxf's own drawing add-on."""
    import random

    import ezdxf
    from ezdxf.addons.drawing.config import ColorPolicy
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    from tests.render import draw_on

    random.seed(0)
    document = ezdxf.read(io.StringIO(data.decode()))
    figure = Figure(figsize=(sheet.width, sheet.height), dpi=dpi)
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    draw_on(axes, document, document.modelspace(), ColorPolicy.BLACK)
    scale = max(placed.drawing.scale for placed in sheet.drawings)
    axes.set_xlim(0, sheet.width * scale)
    axes.set_ylim(0, sheet.height * scale)
    figure.patch.set_facecolor("white")
    axes.patch.set_facecolor("white")
    canvas.draw()
    pixels = np.asarray(canvas.buffer_rgba())[:, :, :3].mean(axis=2)
    return pixels < 200


def covered(ink: np.ndarray, by: np.ndarray, reach: int = 2) -> float:
    """Return how much of some ink lies within `reach` dots of the other's."""
    near = by.copy()
    for dx in range(-reach, reach + 1):
        for dy in range(-reach, reach + 1):
            near |= np.roll(np.roll(by, dx, axis=0), dy, axis=1)
    return float((ink & near).sum() / max(ink.sum(), 1))


def test_picture_and_dxf_show_the_same_units(
    library_set: DrawingSet, library: dict[str, bytes]
) -> None:
    """Most of what an independent renderer draws of the DXF is ink on our picture."""
    sheet = library_set.sheets[0]
    other = rendered(library["sheets/01-elevation.dxf"], sheet)
    ours = ink_of(library_set)
    assert covered(other, ours) > 0.97

    elevation = sheet.drawings[0]
    kept = tuple(x for x in elevation.drawing.ink if not isinstance(x, Insert))
    without = replace(
        sheet,
        drawings=(
            replace(elevation, drawing=replace(elevation.drawing, ink=kept)),
            *sheet.drawings[1:],
        ),
    )
    picture = ink_of(replace(library_set, sheets=(without,)))
    assert covered(other, picture) < 0.97


def worst(ink: np.ndarray, by: np.ndarray, tile: int = 25) -> int:
    """Return how many dots of a small square the other has no ink near, at the most."""
    near = by.copy()
    for dx in (-1, 0, 1):
        for dy in (-1, 0, 1):
            near |= np.roll(np.roll(by, dx, axis=0), dy, axis=1)
    bare = ink & ~near
    high, wide = (size - size % tile for size in bare.shape)
    squares = bare[:high, :wide].reshape(high // tile, tile, wide // tile, tile)
    return int(squares.sum(axis=(1, 3)).max())


def boxes(*places: tuple[float, float]) -> Sheet:
    ring = ((0.0, 0.0), (8.0, 0.0), (8.0, 2.25), (0.0, 2.25))
    symbol = Symbol("BOX", (Stroke("A-ELEV-MSNR", ring, closed=True),))
    ink = (
        *(Insert("A-ELEV-MSNR", "BOX", place) for place in places),
        Measure("A-ANNO-DIMS", (0.0, 0.0), (16.0, 0.0), "x", -2.0, "1'-4\"", 0.1),
        Measure("A-ANNO-DIMS", (0.0, 0.0), (0.0, 8.0), "y", -2.0, '8"', 0.1),
    )
    drawing = Drawing("x", "", 4.0, ink, (symbol,))
    cell = Cell((0.5, 0.5, 6.0, 4.5))
    sheet = compose_sheet(
        1, "x", "X", (9.5, 5.0), "in", ((drawing, cell),), TitleBlock(())
    )
    return replace(sheet, paper_ink=())


def dots(sheet: Sheet) -> np.ndarray:
    picture = Image.open(io.BytesIO(write_png(sheet, dpi=100))).convert("L")
    return np.asarray(picture) < 200


def test_one_insert_that_moves_is_seen_in_the_picture() -> None:
    """The DXF as ezdxf's drawing add-on renders it against our own picture."""
    places = ((0.0, 0.0), (8.5, 0.0), (0.0, 2.625), (8.5, 2.625), (4.0, 5.25))
    sheet = boxes(*places)
    other = rendered(write_dxf(sheet), sheet, dpi=100)
    ours = dots(sheet)
    assert worst(other, ours) <= 12
    assert worst(ours, other) <= 12
    moved = dots(boxes(*places[:-1], (4.0 + 0.25, 5.25)))
    assert worst(other, moved) > 12
    assert worst(moved, other) > 12
