"""The story pole: true to size over its pages, nothing lost, nothing on other words.

Measured with pdfplumber on the pages as they are printed.
"""

from __future__ import annotations

import io
import itertools
from collections import defaultdict
from dataclasses import replace
from fractions import Fraction as F

import pdfplumber
import pytest

from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.sheets import PlacedDrawing, Sheet
from shopdraw.masonry.marks.form import Strip, Tick
from shopdraw.output.pdf import write_pdf
from shopdraw.solution import Solution
from shopdraw.views.making.poles import draw_poles
from shopdraw.views.making.stretches import LAP, STRIP, divide
from tests.demos import CONFIGS, set_of, solution_of
from tests.views.jobs import with_job
from tests.views.lettering import collisions

PAGES = {"letter": (F(17, 2), F(11)), "A4": (210 / F(254, 10), 297 / F(254, 10))}
"""In inches."""
DEMOS = sorted(path.stem for path in CONFIGS.glob("*.toml"))
both_pages = pytest.mark.parametrize("page", PAGES)


def paged(name: str, page: str) -> Solution:
    called = {"letter": "ANSI A", "A4": "A4"}[page]
    return with_job(solution_of(name), sheet={"page": called})


def pole_pages(strip: Strip) -> tuple[Sheet, ...]:
    return draw_poles(replace(solution_of("library-hearth"), strips=(strip,)))


def on_page(sheet: Sheet) -> Drawing:
    """Return all lettering of a page in paper lengths, strips and notes alike."""
    ink = [
        replace(x, at=placed.placement.to_paper(x.at))
        for placed in sheet.drawings
        for x in placed.drawing.ink
        if isinstance(x, Words)
    ]
    notes = [x for x in sheet.paper_ink if isinstance(x, Words)]
    return Drawing("page", "", 1.0, (*ink, *notes))


def levels_of(placed: PlacedDrawing) -> list[float]:
    """Return the heights of the level lines of a stretch, on the strip."""
    return [
        x.points[0][1]
        for x in placed.drawing.ink
        if isinstance(x, Stroke)
        and len(x.points) == 2
        and x.points[0][1] == x.points[1][1]
    ]


@both_pages
@pytest.mark.parametrize("name", DEMOS)
def test_nothing_collides_or_leaves_the_page(name: str, page: str) -> None:
    for sheet in draw_poles(paged(name, page)):
        lettered = on_page(sheet)
        assert collisions(lettered) == [], sheet.name
        for words in lettered.ink:
            assert isinstance(words, Words)
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
    drawn: dict[str, set[float]] = defaultdict(set)
    for sheet in draw_poles(solution):
        for placed in sheet.drawings:
            drawn[placed.drawing.name.rpartition("-")[0]] |= set(levels_of(placed))
    for strip in solution.strips:
        assert {float(tick.at) for tick in strip.ticks} <= drawn[strip.name]


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


def off_true(name: str, page: str, pages: tuple[Sheet, ...], data: bytes) -> list[str]:
    """Return the marks that are not where they belong from a stretch's lowest one.

    Each stretch is measured by itself, in inches on the page as printed, from its
    lowest mark: what is lettered there is how far up the strip that is.
    """
    solution = paged(name, page)
    inch = 1.0 if solution.lengths == "in" else 25.4
    ticks = {x.name: [float(t.at) for t in x.ticks] for x in solution.strips}
    wrong = []
    for sheet, lines in zip(pages, level_lines(data), strict=True):
        for placed in sheet.drawings:
            left = placed.placement.on_paper[0] / inch
            strip = placed.drawing.name.rpartition("-")[0]
            low = placed.placement.origin[1]
            high = low + placed.placement.window[3] - placed.placement.window[1]
            foot = placed.placement.on_paper[1] / inch
            here = sorted({at for at in ticks[strip] if low <= at <= high})
            found = [
                y
                for x, _, y in lines
                if left - 0.01 < x < left + 1.4 and y > foot - 0.01
            ]
            if not here:
                continue
            start = min(found, key=lambda y: abs(y - foot - (here[0] - low) / inch))
            for at in here:
                wanted = start + (at - here[0]) / inch
                if min(abs(wanted - y) for y in found) > 0.002:
                    wrong.append(f"{placed.drawing.name}: {at}")
    return wrong


@both_pages
@pytest.mark.parametrize("name", ["library-hearth", "metric-slips", "crooked-study"])
def test_marks_are_true_on_the_page_to_two_thousandths(name: str, page: str) -> None:
    """Every mark of every stretch, as pdfplumber reads it off the printed page."""
    pages = draw_poles(paged(name, page))
    assert off_true(name, page, pages, write_pdf(pages, "X")) == []


def test_a_page_printed_smaller_is_noticed() -> None:
    pages = draw_poles(paged("library-hearth", "letter"))
    shrunk = tuple(
        replace(
            sheet,
            drawings=tuple(
                replace(x, placement=replace(x.placement, scale=1.01))
                for x in sheet.drawings
            ),
        )
        for sheet in pages
    )
    assert off_true("library-hearth", "letter", pages, write_pdf(shrunk, "X")) != []


@both_pages
def test_both_bars_are_true_on_every_page(page: str) -> None:
    for name in ("library-hearth", "metric-slips"):
        for lines in level_lines(write_pdf(draw_poles(paged(name, page)), "X")):
            lengths = [length for _, length, _ in lines]
            assert min(abs(length - 6) for length in lengths) < 0.002
            assert min(abs(length - 100 / 25.4) for length in lengths) < 0.002


# --------------------------------------------------------------- how strips are divided


@pytest.mark.parametrize("name", DEMOS)
def test_a_strip_is_divided_where_no_mark_is_and_nothing_is_lost(name: str) -> None:
    solution = solution_of(name)
    job, inch = solution.job, 1.0 if solution.lengths == "in" else 25.4
    for strip in solution.strips:
        marks = {float(tick.at) for tick in strip.ticks}
        stretches = divide(strip, 7.4 * inch, job)
        assert stretches[0].low == 0
        assert stretches[-1].high == float(strip.length)
        for below, above in itertools.pairwise(stretches):
            assert above.low - below.high == below.left_out
            if below.head == "join":
                assert below.left_out == 0
                assert below.joins[1] == above.joins[0] > 0
                # No mark within the lap that is stuck down.
                assert min(abs(below.high - at) for at in marks) > LAP * inch
            else:
                assert (below.head, above.foot) == ("break", "break")
                assert below.left_out > 10 * inch
                gone = [at for at in marks if below.high < at < above.low]
                assert gone == []
        shown = {at for at in marks for x in stretches if x.low <= at <= x.high}
        assert shown == marks
        drawn = [x.drawn(inch) for x in stretches]
        assert max(high - low for low, high in drawn) <= 7.4 * inch + 1e-6


def test_what_is_left_out_is_said_at_the_break() -> None:
    ticks = (Tick(F(2), "jamb", "both"), Tick(F(31, 1), "jamb", "both"))
    strip = Strip("front", F(33), ticks, (1, 2))
    (first, second) = divide(strip, 7.4, solution_of("library-hearth").job)
    assert (first.high, second.low, first.left_out) == (2.75, 30.25, 27.5)
    words = on_page(pole_pages(strip)[0]).ink
    assert [
        x.text for x in words if isinstance(x, Words) and "LEFT OUT:" in x.text
    ] == ["LEFT OUT: 2'-3 1/2\""]


@both_pages
def test_a_pole_of_four_feet_is_on_a_few_pages(page: str) -> None:
    tops = (F(n) * F(21, 8) for n in range(1, 19))
    ticks = tuple(Tick(at, "course top", "A", str(n)) for n, at in enumerate(tops, 1))
    solution = paged("library-hearth", page)
    pole = replace(solution, strips=(Strip("story pole", F(48), ticks),))
    assert len(draw_poles(pole)) == 3


def test_many_bands_take_few_pages() -> None:
    """A pole of 59 in and what was 19 rods: two courses to a rod, and 20 pages."""
    assert len(draw_poles(solution_of("banded-breast"))) <= 20


def test_the_pole_says_how_far_the_survey_s_line_is_from_the_datum() -> None:
    """The crooked study's hearth is highest 1/8 in above its surveyor's line."""

    def notes_of(demo: str) -> str:
        first = draw_poles(solution_of(demo))[0]
        return " ".join(x.text for x in first.paper_ink if isinstance(x, Words))

    said = 'THE LEVEL LINE OF YOUR SURVEY IS 1/8" BELOW THE DATUM.'
    assert said in notes_of("crooked-study")
    assert "SURVEY" not in notes_of("library-hearth")
    assert "0 IS THE DATUM" in notes_of("library-hearth")


def test_a_course_beside_soldiers_is_not_named_their_top() -> None:
    solution = solution_of("splayed-parlour")
    top = solution.coursing.soldier_top
    assert top is not None
    assert top not in {course.top for course in solution.coursing.courses}
    said = {
        x.text
        for sheet in draw_poles(solution)
        for x in on_page(sheet).ink
        if isinstance(x, Words)
    }
    assert not any("SOLDIER TOP" in words for words in said)
    assert any(words.startswith("COURSE 14") for words in said)


def test_signs_of_different_marks_stand_apart() -> None:
    """Their lines are further apart than those of one sign."""
    (head,) = (
        placed
        for sheet in draw_poles(solution_of("crooked-study"))
        for placed in sheet.drawings
        if any(
            isinstance(x, Words) and x.text == "LEDGER TOP" for x in placed.drawing.ink
        )
    )
    signs = [x for x in head.drawing.ink if isinstance(x, Words) and x.at[0] > STRIP]
    ups = sorted(x.at[1] for x in signs)
    apart = [b - a for a, b in itertools.pairwise(ups)]
    # Three lines, one line and three lines.
    assert len(ups) == 7
    assert [gap > 1.2 * min(apart) for gap in apart] == [
        False, False, True, True, False, False
    ]  # fmt: skip


def test_a_rod_has_half_a_brick_where_the_saw_s_stop_has_it() -> None:
    drawn = draw_poles(solution_of("metric-slips"))
    placed = [x.drawing for sheet in drawn for x in sheet.drawings]
    said = {y.text for x in placed for y in x.ink if isinstance(y, Words)}
    assert {"102.5", "112.5", "327.5", "337.5"} <= said
    assert not {"103", "113", "328", "338"} & said


def test_a_level_under_an_arch_is_named_once() -> None:
    """Its centre stands to the spring line, which is a target as well."""
    said = [
        x.text
        for sheet in draw_poles(solution_of("segmental-kitchen"))
        for placed in sheet.drawings
        for x in placed.drawing.ink
        if isinstance(x, Words)
    ]
    # Once with its figure, broken to fit; once under it, for the joint.
    found = sorted(x for x in said if x.startswith("SPRING"))
    assert found == ["SPRING", "SPRING LINE"]


def test_the_pole_says_its_day_and_its_revision_only_where_there_is_one() -> None:
    def first(name: str) -> list[str]:
        (page, *_) = draw_poles(solution_of(name))
        return [x.text for x in page.paper_ink if isinstance(x, Words)]

    assert "DATE: 2026-03-02" in first("library-hearth")
    said = " ".join(first("metric-slips"))
    assert "DATE: 2026-05-04, REVISION B" in said
