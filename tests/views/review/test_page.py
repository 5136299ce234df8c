"""The review is one page, or more: all ink inside, nothing crowded, what gives way."""

from __future__ import annotations

import io
from dataclasses import replace
from typing import Any

import pdfplumber
import pytest

from shopdraw.drawing.extents import extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Stroke
from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.sheets import SCALES, Sheet
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from shopdraw.lengths import Lengths
from shopdraw.output.pdf import write_pdf
from shopdraw.pipeline import solve
from shopdraw.review.findings import Finding, Rule
from shopdraw.solution import Solution
from shopdraw.views.review.keys import Board
from shopdraw.views.review.page import draw_review
from tests.findings import by_key, name_of
from tests.views.jobs import text_of
from tests.views.lettering import collisions, crossings
from tests.views.review.jobs import (
    DEMOS,
    INCH,
    ON_SHEETS,
    SIZES,
    every,
    ink_of,
    lettered,
    page_of,
    piece,
    sheet_of,
    solved,
)
from tests.views.review.lines import missing_lines
from tests.views.review.rows import figures_wrong, rows_on, told_wrongly, untold

MARGIN = 0.375
"""In inches: what no ink may enter."""
LEAST = {"in": 0.045, "mm": 1.2}


def test_all_demos_are_tried() -> None:
    assert len(DEMOS) >= 14
    assert {solved(name).job.lengths for name in DEMOS} == {"in", "mm"}


def is_inside(drawing: Drawing, lengths: Lengths) -> bool:
    width, height = SIZES[lengths]
    margin = MARGIN * INCH[lengths]
    left, low, right, top = (side / drawing.scale for side in extent_of(drawing))
    return min(left, low) > margin and right < width - margin and top < height - margin


@every
def test_it_is_one_standing_page_with_all_ink_inside_its_margins(name: str) -> None:
    sheet, lengths = sheet_of(name), solved(name).job.lengths
    assert (sheet.number, sheet.name) == (1, "review")
    assert (sheet.width, sheet.height) == SIZES[lengths]
    assert (sheet.lengths, sheet.paper_ink) == (lengths, ())
    assert is_inside(ink_of(sheet), lengths)
    placement = sheet.drawings[0].placement
    scale = ink_of(sheet).scale
    assert placement.to_paper((3 * scale, 5 * scale)) == pytest.approx((3.0, 5.0))


@pytest.mark.parametrize("name", ["library-hearth", "metric-slips"])
def test_its_pdf_has_one_page_of_the_size_asked_for(name: str) -> None:
    lengths = solved(name).job.lengths
    with pdfplumber.open(io.BytesIO(write_pdf((sheet_of(name),), "Review"))) as pdf:
        (page,) = pdf.pages
        assert "CLEARANCE REVIEW" in page.extract_text()
        wanted = [side / INCH[lengths] * 72 for side in SIZES[lengths]]
        assert [page.width, page.height] == pytest.approx(wanted, abs=0.01)


def test_ink_in_the_margin_is_noticed() -> None:
    drawing = ink_of(sheet_of("library-hearth"))
    stray = Stroke("A-ANNO-DIMS", ((0.2 * drawing.scale, 1.0), (9.0, 9.0)))
    assert not is_inside(replace(drawing, ink=(*drawing.ink, stray)), "in")


@every
def test_no_lettering_lies_on_lettering_or_on_a_line(name: str) -> None:
    drawing = ink_of(sheet_of(name))
    assert collisions(drawing) == []
    assert crossings(drawing) == []


def test_words_on_words_and_a_line_through_words_are_noticed() -> None:
    drawing = ink_of(sheet_of("library-hearth"))
    words, (left, low, right, top) = next(lettering_of(drawing))
    again = replace(drawing, ink=(*drawing.ink, replace(words, text="AGAIN")))
    assert collisions(again)
    middle = (low + top) / 2
    line = Stroke("A-ANNO-DIMS", ((left, middle), (right, middle)))
    assert crossings(replace(drawing, ink=(*drawing.ink, line)))


@every
def test_lettering_is_plain_and_never_too_small(name: str) -> None:
    drawing, least = ink_of(sheet_of(name)), LEAST[solved(name).job.lengths]
    layers = {layer.name for layer in LAYERS if layer.plots}
    for ink in drawing.ink:
        assert ink.layer in layers
    for words, _ in lettering_of(drawing):
        assert plain(words.text) == words.text
        assert words.height_on_paper >= least - 1e-9


def test_a_page_without_room_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    # No sheet of the catalog is as small.
    for size in ((8.5, 4.0), (7.0, 11.0)):
        monkeypatch.setattr(Job, "page", size)
        with pytest.raises(NotDrawable, match=r"sheet\.page"):
            draw_review(solved("cannot-land"), ON_SHEETS)


# -------------------------------------------------------------------- what gives way


def padded(solution: Solution, passed: int, open_items: int) -> tuple[Finding, ...]:
    """Return a job's findings with so many more that passed, or were not checked."""
    says = "from one end to the other, by the shortest way, as it was measured there"
    model = by_key(solution.findings)["hearth-side", "left"]
    assert model.status == "passed"
    more = [
        replace(model, rule=Rule("question", f"further {n}", f"further {n}"), says=says)
        for n in range(passed)
    ]
    for n in range(open_items):
        given = f"key.{n} is not given: {says}, then once more to be sure of it"
        rule = Rule("question", f"open {n}", f"open {n}")
        more.append(
            replace(model, rule=rule, status="not checked", margin=None, says=given)
        )
    return (*solution.findings, *more)


@pytest.mark.parametrize("name", ["eaten hearth", "low shelf"])
@pytest.mark.parametrize("more", [(4, 4), (10, 25), (30, 20)])
def test_however_many_there_are_every_finding_is_on_the_one_page(
    name: str, more: tuple[int, int]
) -> None:
    solution = solved(name)
    findings = padded(solution, *more)
    sheet = page_of(solution, findings)
    drawing = ink_of(sheet)
    assert told_wrongly(drawing, findings) == []
    assert figures_wrong(drawing, solution.job, findings) == []
    assert is_inside(drawing, solution.job.lengths)
    assert collisions(drawing) == []
    assert crossings(drawing) == []
    failed = {name_of(x.rule) for x in findings if x.status == "failed"}
    assert not failed & set(untold(drawing, findings))
    assert missing_lines(drawing, solution) == []


def test_the_words_of_what_passed_give_way_first_then_of_what_is_open() -> None:
    solution = solved("eaten hearth")
    elsewhere = "The drawing sheets say what to find out for the other rows"
    told = []
    for more in ((0, 0), (12, 4), (10, 30)):
        findings = padded(solution, *more)
        drawing = ink_of(page_of(solution, findings))
        rows = rows_on(drawing)
        passed = any(
            finding.says in row.says
            for row, finding in zip(rows, findings, strict=True)
            if finding.status == "passed"
        )
        told.append(
            (passed, not untold(drawing, findings), elsewhere in lettered(drawing))
        )
    assert told == [(True, True, False), (False, True, False), (False, False, True)]


def test_the_drawing_is_the_larger_the_fewer_findings_there_are() -> None:
    solution = solved("eaten hearth")
    scales = [
        ink_of(page_of(solution, findings)).scale
        for findings in (solution.findings[:4], padded(solution, 10, 30))
    ]
    assert scales[0] < scales[1]
    assert set(scales) <= {scale for scale, _ in SCALES["us"]}


def pages_of(solution: Solution, findings: tuple[Finding, ...]) -> tuple[Sheet, ...]:
    return draw_review(replace(solution, findings=findings), ON_SHEETS)


@pytest.mark.parametrize("name", ["eaten hearth", "metric-slips", "chimney-breast-gas"])
def test_further_pages_hold_what_one_does_not(name: str) -> None:
    """Every row once, in order, none crowded, and every page by itself recognised."""
    solution = solved(name)
    findings = (
        padded(solution, 40, 80) if name == "eaten hearth" else (solution.findings * 6)
    )
    lengths = solution.job.lengths
    pages = pages_of(solution, findings)
    assert len(pages) > 2
    read = [rows_on(ink_of(page)) for page in pages]
    assert [row.number for rows in read for row in rows] == [
        str(number) for number in range(1, len(findings) + 1)
    ]
    for row, finding in zip((x for rows in read for x in rows), findings, strict=True):
        assert finding.says[:30] in row.says
    for number, page in enumerate(pages, start=1):
        drawing, said = ink_of(page), lettered(ink_of(page))
        assert page.name == ("review" if number == 1 else f"review-{number}")
        assert is_inside(drawing, lengths)
        assert not collisions(drawing)
        assert f"PAGE {number} OF {len(pages)}" in said
        assert "NOT CHECKED IS NOT AN APPROVAL" in said
        assert "this page approves nothing" in said
        assert plain(solution.job.job.name) in said


def test_no_more_is_tried_than_rows_ask_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """Figures tried for a place, at all scales: they grow as the woodwork does."""
    tried = []
    for count in (10, 80):
        counted = [0]

        def draw(
            self: Board, *words: Any, counted: list[int] = counted, **more: Any
        ) -> bool:
            counted[0] += 1
            return DRAW(self, *words, **more)

        monkeypatch.setattr(Board, "_draw", draw)
        pages = draw_review(solve(parse_job(woodwork(count), "den.toml")), ON_SHEETS)
        numbers = [row.number for page in pages for row in rows_on(ink_of(page))]
        assert numbers == [str(n) for n in range(1, len(numbers) + 1)]
        assert len(numbers) > 2 * count
        tried.append(counted[0] / count)
    # With every figure tried everywhere 80 pieces take thrice the tries a piece of 10.
    assert tried[1] < 3 * tried[0]


DRAW = Board._draw


def woodwork(count: int) -> str:
    """Return a job with so many pieces of woodwork, high and low."""
    pieces = (
        piece(
            f"piece {n}",
            (f"{7 * n % 50} in", f"{35 + 3 * n % 30} in", "3 in", "1 in"),
            'projection = "2 in"',
        )
        for n in range(count)
    )
    return text_of("library-hearth") + "".join(pieces)
