"""The story pole: true to size over its pages, nothing lost, nothing on other words.

Measured with pdfplumber on the pages as they are printed.
"""

from __future__ import annotations

import io
import itertools
from dataclasses import replace
from fractions import Fraction as F

import pdfplumber
import pytest

from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.masonry.marks.form import Strip
from shopdraw.masonry.marks.setting_out import mark_pole
from shopdraw.output.pdf import write_pdf
from shopdraw.solution import Solution
from shopdraw.views.making.poles import draw_poles
from tests.demos import set_of, solution_of
from tests.views.lettering import collisions


def pole_pages(strip: Strip) -> tuple[Sheet, ...]:
    return draw_poles(replace(solution_of("library-hearth"), strips=(strip,)))


def on_page(sheet: Sheet) -> Drawing:
    """Return all ink of a page in paper lengths, strip and notes alike."""
    (placed,) = sheet.drawings
    move = placed.placement.to_paper
    ink = [
        replace(x, at=move(x.at)) for x in placed.drawing.ink if isinstance(x, Words)
    ]
    return Drawing("page", "", 1.0, (*ink, *sheet.paper_ink))


def test_nothing_collides_or_leaves_the_page(drawing_set: DrawingSet) -> None:
    for sheet in dict(drawing_set.papers)["story-pole"]:
        page = on_page(sheet)
        assert collisions(page) == [], sheet.name
        for words in page.ink:
            if isinstance(words, Words):
                left, bottom, right, top = box_of(words)
                assert min(left, bottom) > 0, (sheet.name, words.text)
                assert right < sheet.width, (sheet.name, words.text)
                assert top < sheet.height, (sheet.name, words.text)


def test_a_figure_on_another_is_noticed() -> None:
    page = on_page(dict(set_of("library-hearth").papers)["story-pole"][0])
    words = next(x for x in page.ink if isinstance(x, Words))
    again = replace(words, text="AGAIN")
    assert collisions(replace(page, ink=(*page.ink, again))) != []


def test_every_mark_is_on_some_page_at_its_place(solution: Solution) -> None:
    strip = mark_pole(solution.coursing, solution.variation)
    seen = {
        stroke.points[0][1]
        for sheet in draw_poles(replace(solution, strips=(strip,)))
        for stroke in sheet.drawings[0].drawing.ink
        if isinstance(stroke, Stroke) and stroke.points[0][1] == stroke.points[1][1]
    }
    assert {float(tick.at) for tick in strip.ticks} <= seen


def level_lines(data: bytes) -> list[list[tuple[float, float, float]]]:
    """Return, page by page, level lines as (left, length, height) in inches."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return [
            sorted(
                (
                    x["x0"] / 72,
                    (x["x1"] - x["x0"]) / 72,
                    float(page.height - x["top"]) / 72,
                )
                for x in page.lines
                if abs(x["x1"] - x["x0"]) > abs(x["bottom"] - x["top"])
            )
            for page in pdf.pages
        ]


def test_the_pole_is_true_over_its_pages_to_two_thousandths() -> None:
    """The tops of the courses, page over page, as pdfplumber reads them."""
    solution = solution_of("library-hearth")
    pages = pole_pages(mark_pole(solution.coursing, solution.variation))
    found = level_lines(write_pdf(pages, "X"))
    tops = [float(course.top) for course in solution.coursing.courses]
    for sheet, lines in zip(pages, found, strict=True):
        placement = sheet.drawings[0].placement
        left, foot = placement.on_paper
        ticks = [y for x, _, y in lines if abs(x - left) < 0.01]
        here = [
            top
            for top in tops
            if placement.origin[1] <= top <= placement.origin[1] + 8.65 - 0.01
        ]
        for top in here:
            wanted = top - placement.origin[1] + foot
            assert min(abs(wanted - y) for y in ticks) < 0.002


def test_both_bars_are_true_on_every_page() -> None:
    solution = solution_of("library-hearth")
    for lines in level_lines(
        write_pdf(pole_pages(mark_pole(solution.coursing, solution.variation)), "X")
    ):
        lengths = [length for _, length, _ in lines]
        assert min(abs(length - 6) for length in lengths) < 0.002
        assert min(abs(length - 100 / 25.4) for length in lengths) < 0.002


@pytest.mark.parametrize("length", [F(1), F(8), F(9), F(40), F(100)])
def test_pages_overlap_by_an_inch_and_leave_nothing_out(length: F) -> None:
    pages = pole_pages(Strip("story pole", length, ()))
    spans = [
        (sheet.drawings[0].placement.origin[1], sheet.drawings[0].placement.window)
        for sheet in pages
    ]
    ends = [(low, low + window[3] - window[1]) for low, window in spans]
    assert ends[0][0] == 0
    assert ends[-1][1] >= length
    for (_, high), (low, _) in itertools.pairwise(ends):
        assert high - low == pytest.approx(1.0)


def test_the_pole_says_how_far_the_survey_s_line_is_from_the_datum() -> None:
    """The crooked study's hearth is highest 1/8 in above its surveyor's line."""

    def notes_of(demo: str) -> str:
        first = draw_poles(solution_of(demo))[0]
        return " ".join(x.text for x in first.paper_ink if isinstance(x, Words))

    said = 'THE LEVEL LINE OF YOUR SURVEY IS 1/8" BELOW THE DATUM.'
    assert said in notes_of("crooked-study")
    assert "SURVEY" not in notes_of("library-hearth")
    assert "0 IS THE DATUM" in notes_of("library-hearth")
