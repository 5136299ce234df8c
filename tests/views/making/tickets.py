"""Tickets of demos and changed jobs, read off the page and damaged, for their tests.

What is read here is read as a person would: boxes, lettering and lines.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

import pytest

from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.lettering import Box, box_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.model import Job
from shopdraw.lengths import parse_length
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.solution import Solution
from shopdraw.views.making.ticket import draw_ticket
from tests.demos import CONFIGS, solution_of
from tests.views.jobs import CHANGES, solved, with_job

INCH = {"in": 1.0, "mm": 25.4}
PAGES = {"letter": (8.5, 11.0), "A4": (210 / 25.4, 297 / 25.4)}
"""In inches, whatever the job is measured in."""
CALLED = {"letter": "ANSI A", "A4": "A4"}
"""What a job file calls each."""
TABLE = "A-ANNO-SCHD"
STANDS = ("soldier", "rowlock", "voussoir")
DEMOS = sorted(path.stem for path in CONFIGS.glob("*.toml"))
both_pages = pytest.mark.parametrize("page", PAGES)
every_job = pytest.mark.parametrize("name", [*DEMOS, *CHANGES])
FULLEST = [("jack-arch-parlour", "letter"), ("jack-arch-parlour", "A4")]


def job_of(name: str) -> Solution:
    return solved(name) if name in CHANGES else solution_of(name)


def rows_of(name: str) -> tuple[FabricationRow, ...]:
    return job_of(name).fabrication


def size_of(name: str, page: str) -> tuple[float, float]:
    inch = INCH[job_of(name).job.lengths]
    return PAGES[page][0] * inch, PAGES[page][1] * inch


@cache
def ticket(name: str, page: str) -> tuple[Sheet, ...]:
    return draw_ticket(with_job(job_of(name), sheet={"page": CALLED[page]}))


def ink_of(sheet: Sheet) -> Drawing:
    """Return a page's ink, which stands on the paper as it is drawn."""
    (placed,) = sheet.drawings
    assert placed.placement.to_paper((1.5, 2.5)) == (1.5, 2.5)
    assert sheet.paper_ink == ()
    return placed.drawing


def drawings(name: str, page: str) -> list[Drawing]:
    return [ink_of(sheet) for sheet in ticket(name, page)]


def drawn(solution: Solution, page: str) -> list[Drawing]:
    """Return the ticket's pages of a solution that has no name."""
    asked = with_job(solution, sheet={"page": CALLED[page]})
    return [ink_of(sheet) for sheet in draw_ticket(asked)]


def words_on(drawing: Drawing) -> list[Words]:
    """Return the lettering; a cell of a table with nothing in it is none."""
    return [ink for ink in drawing.ink if isinstance(ink, Words) and ink.text]


def text_on(drawing: Drawing) -> str:
    return " ".join(words.text for words in words_on(drawing))


def box_about(ink: Ink) -> Box:
    if isinstance(ink, Words):
        return box_of(ink)
    assert isinstance(ink, Stroke)
    return about(ink.points)


def holds(box: Box, other: Box, slack: float = 1e-6) -> bool:
    return (
        box[0] - slack <= other[0]
        and box[1] - slack <= other[1]
        and other[2] <= box[2] + slack
        and other[3] <= box[3] + slack
    )


def boxes_on(drawing: Drawing) -> list[Box]:
    """Return every closed rectangle that is ruled."""
    return [
        box_about(ink)
        for ink in drawing.ink
        if isinstance(ink, Stroke) and ink.closed and ink.layer == TABLE
    ]


def damaged(
    pages: list[Drawing], which: Callable[[Ink], bool], new: Callable[[Ink], Ink | None]
) -> list[Drawing]:
    """Return the pages with the first ink that is looked for changed, or left out."""
    done = False
    changed = []
    for page in pages:
        ink: list[Ink] = []
        for each in page.ink:
            if not done and which(each):
                done = True
                other = new(each)
                ink += [] if other is None else [other]
            else:
                ink.append(each)
        changed.append(replace(page, ink=tuple(ink)))
    assert done
    return changed


def says(text: str) -> Callable[[Ink], bool]:
    return lambda ink: isinstance(ink, Words) and text in ink.text


def with_text(new: Callable[[str], str]) -> Callable[[Ink], Ink]:
    def change(ink: Ink) -> Ink:
        assert isinstance(ink, Words)
        assert new(ink.text) != ink.text
        return replace(ink, text=new(ink.text))

    return change


def moved_by(dx: float, dy: float) -> Callable[[Ink], Ink]:
    def move(ink: Ink) -> Ink:
        if isinstance(ink, Words):
            return replace(ink, at=(ink.at[0] + dx, ink.at[1] + dy))
        assert isinstance(ink, Stroke)
        return replace(ink, points=tuple((x + dx, y + dy) for x, y in ink.points))

    return move


@dataclass(frozen=True)
class Cell:
    """What stands in the box of one mark: the mark is its largest lettering."""

    box: Box
    words: tuple[Words, ...]
    strokes: tuple[Stroke, ...]

    @property
    def mark(self) -> str:
        return max(self.words, key=lambda words: words.height_on_paper).text

    @property
    def text(self) -> str:
        return " ".join(words.text for words in self.words)

    def on(self, layer: str) -> list[Stroke]:
        return [stroke for stroke in self.strokes if stroke.layer == layer]


def starts_in(box: Box, ink: Ink) -> bool:
    point = ink.at if isinstance(ink, Words) else box_about(ink)[:2]
    return box[0] <= point[0] < box[2] and box[1] <= point[1] < box[3]


def cells_on(drawing: Drawing) -> list[Cell]:
    """Return the cells in reading order: a box that says how many to make is one."""
    cells = []
    for box in boxes_on(drawing):
        within = [
            ink for ink in drawing.ink if starts_in(box, ink) and box_about(ink) != box
        ]
        words = tuple(ink for ink in within if isinstance(ink, Words))
        strokes = tuple(ink for ink in within if isinstance(ink, Stroke))
        if any("MAKE" in each.text for each in words):
            cells.append(Cell(box, words, strokes))
    return sorted(cells, key=lambda cell: (-round(cell.box[3], 6), cell.box[0]))


def cells_of(pages: list[Drawing]) -> list[Cell]:
    return [cell for page in pages for cell in cells_on(page)]


def length(job: Job, text: str) -> float:
    return float(
        parse_length(text if job.lengths == "in" else f"{text} mm", job.lengths)
    )


def rows_under(drawing: Drawing, title: str) -> list[list[Words]]:
    """Return what is lettered under each title, row by row, the heads left out."""
    width = max(box[2] for box in boxes_on(drawing))
    rows: list[list[Words]] = []
    words = words_on(drawing)
    for head in sorted((x for x in words if x.text.startswith(title)), key=_down):
        right = width / 2 if head.at[0] < width / 3 else width + 1
        below = [
            x
            for x in words
            if x.at[1] < head.at[1] and head.at[0] - 1e-6 <= box_of(x)[0] < right
        ]
        ends = [x.at[1] for x in below if x.text.startswith(title)]
        ends += [x.at[1] for x in words if x.text == "CAUTIONS"]
        # Heads of one line or of two stand between the first rule and the next.
        _, under, *_ = sorted(
            (
                box_about(ink)[1]
                for ink in drawing.ink
                if isinstance(ink, Stroke)
                and ink.layer == TABLE
                and box_about(ink)[1] == box_about(ink)[3] < head.at[1]
                and head.at[0] - 1e-6 <= box_about(ink)[0] < right
            ),
            reverse=True,
        )
        lines: dict[float, list[Words]] = {}
        for each in below:
            if max(ends) < each.at[1] < under:
                lines.setdefault(round(each.at[1], 6), []).append(each)
        rows += [sorted(lines[y], key=lambda x: x.at[0]) for y in sorted(lines)[::-1]]
    return rows


def _down(words: Words) -> float:
    return -words.at[1]


def field(drawing: Drawing, name: str) -> str:
    """Return what stands below a name in its box."""
    (label,) = (words for words in words_on(drawing) if words.text == name)
    (box,) = (box for box in boxes_on(drawing) if holds(box, box_of(label)))
    inside = [words for words in words_on(drawing) if holds(box, box_of(words))]
    return " ".join(words.text for words in inside if words != label)
