"""Pages of labels for demos and changed jobs, and what is read off them."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction as F
from functools import cache
from typing import Any

import pytest

from shopdraw.drawing.ink import Drawing, Ink, Words
from shopdraw.drawing.lettering import Box, box_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.model import Job
from shopdraw.job.model_around import LabelsTable
from shopdraw.lengths import MM_PER_INCH, format_made
from shopdraw.masonry.wall.layout import CORNER_KINDS
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.solution import Solution
from shopdraw.views.making.labels import draw_labels
from tests.demos import CONFIGS, solution_of
from tests.views.jobs import CHANGES, solved, with_job

PAGES = {"letter": (F(17, 2), F(11)), "A4": (210 / MM_PER_INCH, 297 / MM_PER_INCH)}
"""In inches, as the labels; both are turned into the job's lengths."""
CALLED = {"letter": "ANSI A", "A4": "A4"}
"""What a job file calls each."""
FIGURES = ("columns", "rows", "width", "height", "left", "top", "across", "down")
DIVIDED: dict[str, tuple[Any, ...]] = {
    "apart": (3, 9, F("2.4"), F("1.1"), F("0.3"), F("0.5"), F("2.6"), F("1.15")),
    "butting": (4, 18, F("1.9"), F("0.52"), F("0.25"), F("0.6"), None, None),
    "narrow": (6, 5, F("1.1"), F("1.9"), F("0.5"), F("0.6"), F("1.2"), F(2)),
    "one": (1, 1, F(7), F(9), F("0.5"), F("0.5"), None, None),
}


DEMOS = sorted(path.stem for path in CONFIGS.glob("*.toml"))
every_job = pytest.mark.parametrize("name", [*DEMOS, *list(CHANGES)[::3]])
both_pages = pytest.mark.parametrize("page", PAGES)
every_way = pytest.mark.parametrize("way", ["apart", "butting", "narrow"])
every_page = pytest.mark.parametrize(
    ("page", "way"),
    [("letter", "apart"), ("letter", "butting"), ("letter", "narrow"), ("A4", "apart")],
)
"""Every way on one size of page, and one on the other."""


def inch_of(job: Job) -> F:
    return F(1) if job.lengths == "in" else MM_PER_INCH


def divided(job: Job, way: str) -> LabelsTable:
    """Return a division of the page, in the job's lengths."""
    inch = inch_of(job)
    sizes: dict[str, Any] = {
        name: value * inch if isinstance(value, F) else value
        for name, value in zip(FIGURES, DIVIDED[way], strict=True)
    }
    return LabelsTable.model_construct(**sizes)


def job_of(name: str) -> Solution:
    return solved(name) if name in CHANGES else solution_of(name)


def size_of(job: Job, page: str) -> tuple[float, float]:
    wide, high = (float(side * inch_of(job)) for side in PAGES[page])
    return wide, high


@cache
def labelled(
    name: str, page: str, way: str
) -> tuple[Job, tuple[FabricationRow, ...], tuple[Sheet, ...]]:
    plain = job_of(name)
    labels, sheet = divided(plain.job, way), {"page": CALLED[page]}
    solution = with_job(plain, labels=labels, sheet=sheet)
    return solution.job, solution.fabrication, draw_labels(solution)


def ink_of(sheet: Sheet) -> Drawing:
    """Return a page's ink, which stands on the paper as it is drawn."""
    (placed,) = sheet.drawings
    assert placed.placement.to_paper((1.5, 2.5)) == (1.5, 2.5)
    assert sheet.paper_ink == ()
    return placed.drawing


def boxes_of(job: Job, sheet: Sheet) -> list[Box]:
    """Return where the labels of a page lie, by the job's own figures."""
    table = job.labels
    assert table is not None
    across, down = table.across or table.width, table.down or table.height
    boxes = []
    for row in range(table.rows):
        for column in range(table.columns):
            left = float(table.left + column * across)
            top = sheet.height - float(table.top + row * down)
            right, foot = left + float(table.width), top - float(table.height)
            boxes.append((left, foot, right, top))
    return boxes


def lettered(sheet: Sheet) -> list[tuple[Words, Box]]:
    """Return a page's lettering, with the box that each takes."""
    words = (ink for ink in ink_of(sheet).ink if isinstance(ink, Words))
    return [(each, box_of(each)) for each in words]


def within(box: Box, other: Box) -> bool:
    return (
        box[0] < other[0]
        and box[1] < other[1]
        and other[2] < box[2]
        and other[3] < box[3]
    )


@dataclass(frozen=True)
class Label:
    """What one label says: its mark is its largest lettering."""

    mark: str
    rest: str


def labels_on(job: Job, sheet: Sheet) -> list[Label]:
    """Return the labels of a page in reading order, those with nothing left out."""
    words = lettered(sheet)
    labels = []
    for box in boxes_of(job, sheet):
        inside = [each for each, its_box in words if within(box, its_box)]
        if inside:
            largest = max(inside, key=lambda each: each.height_on_paper)
            rest = " ".join(each.text for each in inside if each is not largest)
            labels.append(Label(largest.text, rest))
    return labels


def out_of_place(job: Job, sheets: tuple[Sheet, ...]) -> list[str]:
    """Return the lettering that lies in no label, and the labels beyond the page."""
    wrong = []
    for sheet in sheets:
        boxes = boxes_of(job, sheet)
        page = (-1e-9, -1e-9, sheet.width + 1e-9, sheet.height + 1e-9)
        wrong += ["beyond the page" for box in boxes if not within(page, box)]
        for words, its_box in lettered(sheet):
            found = sum(within(box, its_box) for box in boxes)
            wrong += [] if found == 1 else [words.text]
    return wrong


def wanted(job: Job, rows: tuple[FabricationRow, ...]) -> list[tuple[str, list[str]]]:
    """Return, label after label, the mark and what else must be on it."""
    about = job.job
    revision = f"REVISION {about.revision}" if about.revision else "NO REVISION"
    every = [f"{about.name} {about.number}", revision]
    labels = []
    for each in rows:
        row = each.row
        corner = row.kind in CORNER_KINDS
        sides = row.legs if corner else (row.length,)
        size = " x ".join(format_made(side, job.lengths) for side in sides)
        size += " OUTSIDE" if corner else ""
        size += f" x {format_made(row.height, job.lengths)}"
        size += " HIGH" if job.lengths == "in" else " MM HIGH"
        like = [row.kind.upper(), size, *every]
        for number, name in enumerate(row.ids, start=1):
            labels.append((row.mark, [f"{number} OF {row.count}", name, *like]))
        for number in range(1, each.spares + 1):
            labels.append((row.mark, [f"SPARE {number} OF {each.spares}", *like]))
    return labels


def wrong_labels(
    job: Job, rows: tuple[FabricationRow, ...], sheets: tuple[Sheet, ...]
) -> list[str]:
    """Return what is wrong with the labels: how many, which order, what they say."""
    labels = [label for sheet in sheets for label in labels_on(job, sheet)]
    expected = wanted(job, rows)
    if len(labels) != len(expected):
        return ["how many"]
    wrong = []
    for number, (label, (mark, parts)) in enumerate(
        zip(labels, expected, strict=True), start=1
    ):
        text = f" {label.rest} ".replace(",", "")
        if label.mark != mark:
            wrong.append(f"{number}: mark")
        wrong += [f"{number}: {part}" for part in parts if f" {part} " not in text]
        spare = parts[0].startswith("SPARE")
        if spare != ("SPARE" in text) or (
            spare and re.search(r"[FLR]J?-\d\d-\d\d", text)
        ):
            wrong.append(f"{number}: spare")
    return wrong


def changed(
    sheets: tuple[Sheet, ...],
    which: Callable[[Words], bool],
    new: Callable[[Words], Words | None],
) -> tuple[Sheet, ...]:
    """Return the pages with the first words looked for changed, or left out."""
    done = False
    pages = []
    for sheet in sheets:
        ink: list[Ink] = []
        for each in ink_of(sheet).ink:
            if not done and isinstance(each, Words) and which(each):
                done = True
                other = new(each)
                ink += [] if other is None else [other]
            else:
                ink.append(each)
        drawing = replace(ink_of(sheet), ink=tuple(ink))
        placed = replace(sheet.drawings[0], drawing=drawing)
        pages.append(replace(sheet, drawings=(placed,)))
    assert done
    return tuple(pages)
