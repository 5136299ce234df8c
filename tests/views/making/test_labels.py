"""The labels: one for each piece to make, in order, each within its own label."""

from __future__ import annotations

import io
import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction as F

import pytest
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

from shopdraw.drawing.ink import Stroke, Words
from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import NotDrawable
from shopdraw.job.reading import parse_job
from shopdraw.lengths import MM_PER_INCH
from shopdraw.output.pdf import write_pdf
from shopdraw.views.making.labels import draw_labels
from shopdraw.views.parts.stamps import drawn_from
from tests.views.jobs import text_of, with_job
from tests.views.lettering import collisions_on
from tests.views.making.label_pages import (
    DIVIDED,
    PAGES,
    boxes_of,
    changed,
    divided,
    every_job,
    every_page,
    every_way,
    ink_of,
    job_of,
    labelled,
    labels_on,
    lettered,
    out_of_place,
    size_of,
    wanted,
    within,
    wrong_labels,
)

PAINTING = {b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"sh"}


@every_page
@every_job
def test_there_is_one_label_for_each_piece_to_make(
    name: str, page: str, way: str
) -> None:
    job, rows, sheets = labelled(name, page, way)
    # Label after label these are what is wanted; so many are wanted of each mark.
    assert wrong_labels(job, rows, sheets) == []
    assert Counter(mark for mark, _ in wanted(job, rows)) == {
        each.row.mark: each.make for each in rows
    }


@every_page
@every_job
def test_every_label_keeps_to_itself(name: str, page: str, way: str) -> None:
    job, _, sheets = labelled(name, page, way)
    assert sheets
    assert out_of_place(job, sheets) == []
    for sheet in sheets:
        assert collisions_on(sheet) == []


@every_way
@every_job
def test_no_page_is_begun_before_the_last_is_full(name: str, way: str) -> None:
    job, _, sheets = labelled(name, "letter", way)
    table = job.labels
    assert table is not None
    many = [len(labels_on(job, sheet)) for sheet in sheets]
    full = table.columns * table.rows
    assert many[:-1] == [full] * (len(sheets) - 1)
    assert 0 < many[-1] <= full
    # They fill the page from its first label on, row by row.
    for sheet, count in zip(sheets, many, strict=True):
        words = lettered(sheet)
        taken = [
            any(within(box, its_box) for _, its_box in words)
            for box in boxes_of(job, sheet)
        ]
        assert taken == [True] * count + [False] * (full - count)


def test_a_wrong_label_is_noticed() -> None:
    job, rows, sheets = labelled("library-hearth", "letter", "apart")

    def wrong(old: str, new: str) -> list[str]:
        pages = changed(
            sheets,
            lambda words: old in words.text,
            lambda words: replace(words, text=words.text.replace(old, new)),
        )
        return wrong_labels(job, rows, pages)

    assert wrong("B1", "B2") == ["30: mark"]
    assert wrong("3 OF 26", "4 OF 26") == ["3: 3 OF 26"]
    assert wrong("SPARE 1 OF 3", "SPARE 2 OF 3") == ["27: SPARE 1 OF 3"]
    assert wrong("SPARE 1 OF 3", "27 OF 26") == ["27: SPARE 1 OF 3", "27: spare"]
    assert wrong("F-01-04", "F-01-05") == ["2: F-01-04"]
    assert wrong("3 5/8", "3 1/2") == ['1: 7 5/8" x 3 5/8" OUTSIDE x 2 1/4" HIGH']
    assert wrong("LH-01", "LH-02") == ["1: Library hearth LH-01"]
    assert wrong("REVISION", "") == ["1: NO REVISION"]
    assert wrong("CUT STRETCHER", "CUT SOLDIER") == ["30: STRETCHER"]


def test_a_label_left_out_or_moved_is_noticed() -> None:
    job, rows, sheets = labelled("metric-slips", "A4", "apart")

    def first(words: Words) -> bool:
        return words.text == "B1"

    assert wrong_labels(job, rows, changed(sheets, first, lambda _: None))
    count = len(labels_on(job, sheets[0]))
    # 20 of B1, and 2 spares.
    assert count == 22
    emptied = sheets
    for _ in range(sum(isinstance(x, Words) for x in ink_of(sheets[0]).ink) // count):
        emptied = changed(emptied, lambda _: True, lambda _: None)
    assert wrong_labels(job, rows, emptied) == ["how many"]

    def shifted(dx: float, dy: float) -> list[str]:
        pages = changed(
            sheets,
            first,
            lambda words: replace(words, at=(words.at[0] + dx, words.at[1] + dy)),
        )
        return out_of_place(job, pages)

    assert shifted(0.2, 0.2) == []
    assert shifted(-3.0, 0) == shifted(0, 5.0) == ["B1"]
    wide = divided(job, "apart").model_copy(update={"left": F(40)})
    beyond = job.model_copy(update={"labels": wide})
    assert "beyond the page" in out_of_place(beyond, sheets)
    again = changed(sheets, first, lambda words: replace(words, text="B1 AND MORE"))
    assert any(collisions_on(sheet) for sheet in again)


def test_lettering_is_as_large_as_the_label_takes() -> None:
    heights = {}
    for way in DIVIDED:
        job, _, sheets = labelled("library-hearth", "letter", way)
        heights[way] = {
            words.height_on_paper
            for sheet in sheets
            for words in ink_of(sheet).ink
            if isinstance(words, Words) and words.text != drawn_from(job).words
        }
    # All labels of a job alike: the mark, the count, and one height for the rest.
    assert all(2 <= len(found) <= 3 for found in heights.values())
    least = {way: min(found) for way, found in heights.items()}
    assert least["butting"] < least["apart"] < least["one"]
    assert least["butting"] > 0.04
    for found in heights.values():
        assert max(found) > 2 * min(found)


@pytest.mark.parametrize(
    ("way", "has_room"), [("apart", True), ("one", True), ("narrow", False)]
)
def test_what_labels_are_drawn_from_is_small_and_only_where_it_has_room(
    way: str, *, has_room: bool
) -> None:
    job, _, sheets = labelled("library-hearth", "letter", way)
    every = [each for sheet in sheets for each, _ in lettered(sheet)]
    words = drawn_from(job).words
    assert words.endswith(job.digest[:12])
    small = {each.height_on_paper for each in every if each.text == words}
    others = {each.height_on_paper for each in every if each.text != words}
    count = sum(len(labels_on(job, sheet)) for sheet in sheets)
    assert sum(each.text == words for each in every) == (count if has_room else 0)
    assert len(small) == int(has_room)
    assert all(0.03 <= each < 0.7 * min(others) for each in small)


@every_way
@pytest.mark.parametrize("name", ["crooked-study", "trimmed", "metric corners"])
def test_no_figure_is_broken_over_two_lines(name: str, way: str) -> None:
    _, _, sheets = labelled(name, "letter", way)
    for sheet in sheets:
        for ink in ink_of(sheet).ink:
            if isinstance(ink, Words):
                assert not re.match(r"\d+/\d+", ink.text), ink.text
                assert not re.search(r"(\bx|[\d\"] x|\d-)$", ink.text), ink.text


@every_job
def test_a_size_stands_whole_on_its_line_where_there_is_room(name: str) -> None:
    job, rows, sheets = labelled(name, "letter", "apart")
    lines = [
        ink.text
        for sheet in sheets
        for ink in ink_of(sheet).ink
        if isinstance(ink, Words)
    ]
    for _, parts in wanted(job, rows):
        kind, size = parts[-4:-2]
        assert size in lines, kind


def drawn(sheet: Sheet) -> list[Stroke]:
    return [ink for ink in ink_of(sheet).ink if isinstance(ink, Stroke)]


@every_job
def test_no_line_is_printed_and_two_crosses_show_where_the_labels_lie(
    name: str,
) -> None:
    page = "A4" if job_of(name).job.lengths == "mm" else "letter"
    job, _, sheets = labelled(name, page, "apart")
    unprinted = {layer.name for layer in LAYERS if not layer.plots}
    for sheet in sheets:
        boxes, many = boxes_of(job, sheet), len(labels_on(job, sheet))
        lines = drawn(sheet)
        assert {line.layer for line in lines} <= unprinted
        assert len(lines) == 4
        for line, box in zip(
            lines, [boxes[0]] * 2 + [boxes[many - 1]] * 2, strict=True
        ):
            for x, y in line.points:
                assert box[0] - 1e-9 <= x <= box[2] + 1e-9
                assert box[1] - 1e-9 <= y <= box[3] + 1e-9
    pdf = PdfReader(io.BytesIO(write_pdf(sheets, "Labels")))
    assert len(pdf.pages) == len(sheets)
    for printed in pdf.pages:
        assert not paints(printed)
        wide, high = (72 * float(side) for side in PAGES[page])
        size = (float(printed.mediabox.width), float(printed.mediabox.height))
        assert size == pytest.approx((wide, high), abs=0.01)


def paints(page: PageObject) -> bool:
    """Whether a page of a PDF paints a line or an area, which no lettering does.

    ISO 32000-1, tables 60 and 77 (from memory): the operators that paint a path.
    """
    stream = ContentStream(page.get_contents(), page.pdf)
    return any(operator in PAINTING for _, operator in stream.operations)


def test_a_line_that_is_printed_is_noticed() -> None:
    _, _, (sheet, *_) = labelled("library-hearth", "letter", "apart")
    drawing = ink_of(sheet)
    line = Stroke("A-ELEV-OTLN", ((1.0, 1.0), (2.0, 2.0)))
    placed = replace(
        sheet.drawings[0], drawing=replace(drawing, ink=(*drawing.ink, line))
    )
    data = write_pdf((replace(sheet, drawings=(placed,)),), "Labels")
    (printed,) = PdfReader(io.BytesIO(data)).pages
    assert paints(printed)


def test_pages_are_named() -> None:
    job, _, sheets = labelled("library-hearth", "letter", "apart")
    # 29 corner units and 13, 15 and 15 of the cuts, spares with them: 27 on a page.
    assert [sheet.name for sheet in sheets] == ["labels", "labels-2", "labels-3"]
    assert [sheet.title for sheet in sheets][:2] == ["LABELS", "LABELS (2)"]
    assert [sheet.number for sheet in sheets] == [1, 2, 3]
    assert {(sheet.width, sheet.height) for sheet in sheets} == {size_of(job, "letter")}


def test_a_job_that_gives_no_labels_or_makes_nothing_has_none() -> None:
    solution = job_of("library-hearth")
    assert draw_labels(with_job(solution, labels=None)) == ()
    given = with_job(solution, labels=divided(solution.job, "apart"))
    assert draw_labels(given) != ()
    assert draw_labels(replace(given, fabrication=())) == ()


def test_labels_are_laid_out_as_the_job_file_says() -> None:
    table = """
[labels]
columns = 2
rows = 5
width = "3 1/2 in"
height = "45 mm"
left = "1/2 in"
top = "20 mm"
"""
    text = re.sub(r"(?ms)^\[labels\].*?(?=^\[|\Z)", "", text_of("library-hearth"))
    job = parse_job(text + table, "labels.toml")
    assert job.labels is not None
    assert job.labels.across is None
    assert job.labels.height == 45 / MM_PER_INCH
    solution = replace(job_of("library-hearth"), job=job)
    sheets = draw_labels(solution)
    # 72 labels, ten on a page.
    assert len(sheets) == 8
    assert wrong_labels(job, solution.fabrication, sheets) == []
    assert out_of_place(job, sheets) == []


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("columns", 4),
        ("rows", 10),
        ("left", F(3)),
        ("across", F(2)),
        ("down", F(1)),
    ],
)
def test_labels_that_go_past_the_page_or_over_one_another_are_refused(
    key: str, value: F | int
) -> None:
    solution = job_of("library-hearth")
    table = divided(solution.job, "apart").model_copy(update={key: value})
    with pytest.raises(NotDrawable, match=r"labels\."):
        draw_labels(with_job(solution, labels=table))


def test_labels_too_small_to_letter_are_refused() -> None:
    solution = job_of("library-hearth")
    small = {"width": F(1, 2), "height": F(1, 8)}
    table = divided(solution.job, "apart").model_copy(update=small)
    with pytest.raises(NotDrawable, match=r"labels\.height"):
        draw_labels(with_job(solution, labels=table))


def test_a_long_name_is_broken_and_plain() -> None:
    solution = job_of("library-hearth")
    name = "The caf\u00e9's back room, " + "W" * 50
    labels, about = divided(solution.job, "apart"), {"name": name, "revision": "B"}
    named = with_job(solution, labels=labels, job=about)
    job, sheets = named.job, draw_labels(named)
    assert out_of_place(job, sheets) == []
    for label in labels_on(job, sheets[0]):
        assert "REVISION B" in label.rest
        assert f"Thecafe'sbackroom,{'W' * 50}" in label.rest.replace(" ", "")
    assert all(collisions_on(sheet) == [] for sheet in sheets)
