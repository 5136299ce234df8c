"""The PDF: true to scale, searchable, its pages named; read with two readers."""

from __future__ import annotations

import io
import os
import time
from dataclasses import replace
from datetime import date

import pdfplumber
import pytest
from pypdf import PdfReader

from shopdraw.drawing.ink import Drawing, Stroke
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import SCALES, compose_sheet
from shopdraw.lengths import Lengths
from shopdraw.output.pdf import write_pdf
from tests.longer import mostly_long_demos
from tests.output.test_image import tiny


def test_every_page_has_its_bookmark_and_its_label_and_is_printed_unscaled() -> None:
    sheets = (tiny(), replace(tiny(), number=2, name="plans"))
    reader = PdfReader(io.BytesIO(write_pdf(sheets, "X")))
    assert [mark.title for mark in reader.outline] == ["1 x", "2 plans"]
    assert [reader.get_destination_page_number(x) for x in reader.outline] == [0, 1]
    assert reader.page_labels == ["1 x", "2 plans"]
    assert reader.viewer_preferences is not None
    assert reader.viewer_preferences["/PrintScaling"] == "/None"


def test_both_pdfs_of_a_set_are_named(library: dict[str, bytes]) -> None:
    for name in ("set.pdf", "story-pole.pdf"):
        reader = PdfReader(io.BytesIO(library[name]))
        assert len(reader.outline) == len(reader.pages)
        assert reader.viewer_preferences is not None
        assert reader.viewer_preferences["/PrintScaling"] == "/None"


def test_a_pdf_is_dated_by_its_job_and_by_no_clock() -> None:
    """A job without a date gives a file without one."""
    for dated, stamp in ((date(2026, 3, 2), "D:20260302"), (None, "")):
        data = write_pdf((tiny(),), "Library hearth", dated)
        with pdfplumber.open(io.BytesIO(data)) as pdf:
            assert pdf.metadata["Title"] == "Library hearth"
            assert pdf.metadata["CreationDate"] == stamp
            assert pdf.metadata["ModDate"] == stamp


@pytest.mark.parametrize("day", ["86400", "tomorrow"])
def test_neither_the_environment_nor_a_clock_is_asked_for_the_day(
    monkeypatch: pytest.MonkeyPatch, day: str
) -> None:
    """Nor is the environment changed, not even for a moment."""
    expected = write_pdf((tiny(),), "X", date(2026, 3, 2))

    def asked(*_: object) -> None:
        message = "a clock was asked, or the environment changed"
        raise AssertionError(message)

    monkeypatch.setenv("SOURCE_DATE_EPOCH", day)
    with monkeypatch.context() as patch:
        for name in ("time", "gmtime", "localtime"):
            patch.setattr(time, name, asked)
        for name in ("__setitem__", "__delitem__"):
            patch.setattr(type(os.environ), name, asked)
        written = write_pdf((tiny(),), "X", date(2026, 3, 2))
    assert written == expected


def test_lettering_is_outlined_in_the_file_itself(library: dict[str, bytes]) -> None:
    """Every font that a page names comes with it: no reader puts in one of its own."""
    reader = PdfReader(io.BytesIO(library["set.pdf"]))
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[index]
            described = font.get_object()
            assert "/FontFile2" in described["/FontDescriptor"]


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


@mostly_long_demos("chimney-breast-gas", "library-hearth", "metric-slips")
def test_every_page_is_its_sheet_and_its_words_can_be_searched(
    files: dict[str, bytes], drawing_set: DrawingSet
) -> None:
    inch = 1.0 if drawing_set.lengths == "in" else 25.4
    with pdfplumber.open(io.BytesIO(files["set.pdf"])) as pdf:
        for page, sheet in zip(
            pdf.pages, (*drawing_set.sheets, drawing_set.picture), strict=True
        ):
            assert float(page.width) == pytest.approx(sheet.width / inch * 72, abs=0.1)
        text = "".join(page.extract_text() for page in pdf.pages[:3])
    assert "FRONT ELEVATION" in text
    assert "NOT CHECKED" in text


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
    box = (0.5 * inch, 0.5 * inch, 8.25 * inch, 8.0 * inch)
    drawing = Drawing("x", "", scale, strokes)
    sheet = compose_sheet(1, "x", "X", size, lengths, ((drawing, box),), ())
    with pdfplumber.open(io.BytesIO(write_pdf((sheet,), "X"))) as pdf:
        (page,) = pdf.pages
        level = [line for line in page.lines if abs(line["y0"] - line["y1"]) < 0.01]
    found = sorted((line["y0"] / 72, (line["x1"] - line["x0"]) / 72) for line in level)
    (low, long), (middle, half), (high, short) = found
    assert (long, half, short) == pytest.approx((7.5, 3.125, 0.25), abs=0.002)
    assert (middle - low, high - low) == pytest.approx((2.0, 5.0), abs=0.002)


def test_pages_may_differ_in_size() -> None:
    other = replace(tiny(), width=11.0, height=8.5)
    data = write_pdf((tiny(), other), "Library hearth")
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert [(page.width, page.height) for page in pdf.pages] == [
            (576, 360),
            (792, 612),
        ]
