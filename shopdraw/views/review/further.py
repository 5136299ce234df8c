"""Draw the further pages of a review whose findings one page does not hold.

In:  `Solution`, rows of its table.   Out: `Sheet`s, standing up.
Frame: as the first page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Stroke, Words
from shopdraw.drawing.lettering import plain, width_of
from shopdraw.drawing.papers import Part, page_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.solution import Solution
from shopdraw.views.parts.stamps import drawn_from
from shopdraw.views.review.paper import (
    GAP,
    MARGIN,
    NO_APPROVAL,
    STAMP,
    TEXT,
    TITLE,
    Paper,
    cautions,
    set_down,
)


def fitting_rows(rows: Sequence[Part], room: float) -> int:
    """Return how many rows, one under the other, go into so much height."""
    count = 0
    for _, depth in rows:
        room -= depth
        if room < 0:
            break
        count += 1
    return count


def draw_further(
    solution: Solution, paper: Paper, rows: tuple[Part, ...]
) -> tuple[Sheet, ...]:
    """Draw as many pages as rows need; none for none.

    Args:
        solution: what was reviewed.
        paper: of every page.
        rows: the row of headings, which stands on every page, and those still to come.
    """
    heads, left = rows[0], rows[1:]
    below, high = cautions(paper), _heading(paper, solution, "")[1]
    room = paper.high - high - below[1] - 2 * GAP * paper.inch - heads[1]
    pages: list[tuple[Part, ...]] = []
    while left:
        # A row that is higher than a page stands on one of its own.
        count = max(fitting_rows(left, room), 1)
        pages.append(left[:count])
        left = left[count:]
    return tuple(
        page_of(
            _composed(
                paper,
                (_heading(paper, solution, numbered(number, len(pages) + 1)), below),
                (heads, *some),
            ),
            ("review", "CLEARANCE REVIEW"),
            paper.size,
            paper.lengths,
            number=number,
        )
        for number, some in enumerate(pages, start=2)
    )


def first_of(paper: Paper, title: str, count: int) -> Words:
    """Letter, beside the first page's title, that further pages belong to it."""
    x = width_of(title, TITLE * paper.inch) + 0.2 * paper.inch
    at = (x, -TITLE * paper.inch)
    return Words(layers.NOTES, at, numbered(1, count), STAMP * paper.inch)


def numbered(number: int, count: int) -> str:
    """Say which page of how many it is."""
    return f"PAGE {number} OF {count}"


def _heading(paper: Paper, solution: Solution, which: str) -> Part:
    """Letter what the page belongs to, in case it is parted from the first."""
    job, text = solution.job, TEXT * paper.inch
    title, origin = TITLE * paper.inch, drawn_from(job)
    number = f", {job.job.number}" if job.job.number else ""
    y = -title - 2 * text
    ink = (
        Words(layers.NOTES, (0.0, -title), f"CLEARANCE REVIEW, {which}", title),
        Words(layers.NOTES, (paper.wide, -title), NO_APPROVAL, text, "right"),
        Words(layers.NOTES, (0.0, y), plain(f"{job.job.name}{number}"), text),
        Words(layers.NOTES, (paper.wide, y), origin.words, text, "right"),
    )
    return ink, -y + 0.5 * text


def _composed(
    paper: Paper, ends: tuple[Part, Part], rows: tuple[Part, ...]
) -> Iterator[Ink]:
    (above, depth), (below, foot) = ends
    margin, y = MARGIN * paper.inch, paper.size[1] - MARGIN * paper.inch
    yield from set_down(above, (margin, y), 1.0)
    y -= depth + GAP * paper.inch
    line = (Stroke(layers.TABLES, ((0.0, 0.0), (paper.wide, 0.0))),)
    yield from set_down(line, (margin, y), 1.0)
    for marks, deep in rows:
        yield from set_down(marks, (margin, y), 1.0)
        y -= deep
        yield from set_down(line, (margin, y), 1.0)
    yield from set_down(below, (margin, margin + foot), 1.0)
