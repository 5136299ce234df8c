"""How later papers are set: headings stand free, cells apart, blanks to be filled."""

from __future__ import annotations

from itertools import pairwise

import pytest

from shopdraw.drawing.ink import Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.views.papers.asked import DRAWN
from tests.demos import solution_of
from tests.views.papers.reading import dining, lines_on, text_of, words_on

PAPERS = sorted(DRAWN)
LEAST = 1.2
"""How far apart cells are read as two, in heights of lettering."""


def crowded(page: Sheet) -> list[tuple[str, str]]:
    """Return the cells of a row, and the words of a line, that nearly touch."""
    rows: dict[float, list[Words]] = {}
    for words in words_on((page,)):
        rows.setdefault(round(words.at[1], 3), []).append(words)
    return [
        (one.text, other.text)
        for row in rows.values()
        for one in row
        for other in row
        if one.align == "right"
        and other.align == "left"
        and box_of(one)[0] < box_of(other)[0]
        and box_of(other)[0] - box_of(one)[2] < LEAST * one.height_on_paper
    ]


@pytest.mark.parametrize("paper", PAPERS)
def test_cells_beside_one_another_are_read_as_two(paper: str) -> None:
    for solution in (dining(), solution_of("metric-slips")):
        for page in DRAWN[paper](solution):
            assert crowded(page) == []


@pytest.mark.parametrize("paper", PAPERS)
def test_a_heading_is_nearer_to_what_it_heads_than_to_what_stands_above(
    paper: str,
) -> None:
    for page in DRAWN[paper](dining()):
        lettered = words_on((page,))
        text = max(x.height_on_paper for x in lettered if x.text[0].islower())
        for before, head in pairwise(lettered):
            is_head = head.text.isupper() and head.height_on_paper > 1.1 * text
            if is_head and head.at[1] < before.at[1] and head.at[0] == before.at[0]:
                down = before.at[1] - head.at[1]
                assert down > 2.2 * head.height_on_paper, (before.text, head.text)


def test_costs_that_nobody_gave_are_lines_to_write_on() -> None:
    pages = DRAWN["costs"](solution_of("library-hearth"))
    said = text_of(pages)
    assert "0.00" not in said
    assert "0 %" not in said
    assert "PARTIAL" not in said
    assert [line for line in lines_on(pages) if line in ("Cost", "TOTAL", "Deposit")]
