"""What a PDF says of its pages: read with pypdf from what was written."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader, PdfWriter

from shopdraw.output.pages import name_pages


def blank(count: int) -> bytes:
    writer = PdfWriter()
    for _ in range(count):
        writer.add_blank_page(200, 100)
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


def test_every_page_has_its_bookmark_and_its_label_and_is_printed_unscaled() -> None:
    reader = PdfReader(io.BytesIO(name_pages(blank(2), ("1 ELEVATION", "2 PLANS"))))
    assert [mark.title for mark in reader.outline] == ["1 ELEVATION", "2 PLANS"]
    assert [reader.get_destination_page_number(x) for x in reader.outline] == [0, 1]
    assert reader.page_labels == ["1 ELEVATION", "2 PLANS"]
    assert reader.viewer_preferences is not None
    assert reader.viewer_preferences["/PrintScaling"] == "/None"


def test_a_page_without_a_name_is_refused() -> None:
    with pytest.raises(ValueError, match="1 names for 2 pages"):
        name_pages(blank(2), ("1",))


def test_the_same_pages_give_the_same_bytes() -> None:
    assert name_pages(blank(2), ("a", "b")) == name_pages(blank(2), ("a", "b"))


def test_both_pdfs_of_a_set_are_named(library: dict[str, bytes]) -> None:
    for name in ("set.pdf", "story-pole.pdf"):
        reader = PdfReader(io.BytesIO(library[name]))
        assert len(reader.outline) == len(reader.pages)
        assert reader.viewer_preferences is not None
        assert reader.viewer_preferences["/PrintScaling"] == "/None"
