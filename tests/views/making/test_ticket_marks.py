"""The fabricator's ticket: every mark once, with what is to be made of it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from shopdraw.drawing.ink import Drawing, Ink, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.job.model import Job
from shopdraw.lengths import format_made, typed_length
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow
from shopdraw.masonry.wall.turning import turning_of
from shopdraw.quantities.fabricating import FabricationRow
from tests.views.making.tickets import (
    FULLEST,
    INCH,
    STANDS,
    TABLE,
    Cell,
    both_pages,
    box_about,
    cells_of,
    damaged,
    drawings,
    every_job,
    holds,
    job_of,
    rows_of,
    says,
    with_text,
)


def finished(job: Job, row: CutListRow) -> str:
    """Return the sizes as they are to be lettered: both legs outside, or the length."""
    sides = row.legs if row.kind in CORNER_KINDS else (row.length,)
    along = " x ".join(format_made(side, job.lengths) for side in sides)
    outside = " OUTSIDE" if row.kind in CORNER_KINDS else ""
    unit = "" if job.lengths == "in" else " MM"
    return f" {along}{outside} x {format_made(row.height, job.lengths)}{unit} HIGH "


def ticks_in(cell: Cell, inch: float) -> int:
    """Count the empty squares that are large enough to tick."""
    count = 0
    for stroke in cell.on(TABLE):
        left, low, right, high = box_about(stroke)
        wide, tall = (right - left) / inch, (high - low) / inch
        square = stroke.closed and abs(wide - tall) < 1e-6 and 0.1 < wide < 0.25
        count += square and not any(
            holds((left, low, right, high), box_of(words)) for words in cell.words
        )
    return count


def wrong_marks(
    pages: list[Drawing], job: Job, rows: tuple[FabricationRow, ...]
) -> list[str]:
    """Return what is wrong with the marks: each once, in order, with its figures."""
    cells = cells_of(pages)
    if [cell.mark for cell in cells] != [each.row.mark for each in rows]:
        return ["marks"]
    wrong = []
    for cell, each in zip(cells, rows, strict=True):
        figures = re.search(r"(\d+) \+ (\d+) SPARES? = MAKE (\d+)", cell.text)
        assert figures is not None
        count, spares, make = (int(figure) for figure in figures.groups())
        within = f": {typed_length(each.tolerance, job.lengths).upper()} EITHER WAY"
        # The notes say more nearly which end is kept, and what is turned.
        told = ("", "one end as delivered", turning_of(each.row))
        notes = [note.upper() for note in each.row.note.split("; ") if note not in told]
        if each.row.kind in STANDS:
            notes.append("DRAWN LYING DOWN, FOOT TO THE LEFT, LEFT SIDE UP")
        if "mitre" in each.row.note and not each.row.is_made:
            notes.append(
                "45-DEGREE EDGE: SEE THE END VIEW AT THE RIGHT, FACE TO ITS LEFT"
            )
        wrong += [
            f"{cell.mark}: {what}"
            for what, right in (
                ("count", (count, spares) == (each.row.count, each.spares)),
                ("make", make == count + spares == each.make),
                ("size", finished(job, each.row) in cell.text),
                ("kind", each.row.kind.upper() in cell.text),
                ("sawn", (" CUT " in cell.text) == each.row.is_cut),
                ("tolerance", within in cell.text),
                ("tick", ticks_in(cell, INCH[job.lengths]) == 1),
                ("notes", all(note in cell.text for note in notes)),
                ("turning", turning(each.row) in cell.text),
            )
            if not right
        ]
    return wrong


def turning(row: CutListRow) -> str:
    """Return what must be said of turning, reckoned from what the piece is."""
    if row.kind not in CORNER_KINDS:
        return " DO NOT TURN END" if row.shapes else " MAY BE TURNED END"
    if not row.shapes and row.mark[-2:] not in ("-L", "-R"):
        return " MAY BE TURNED OVER"
    side = {"L": "LEFT", "R": "RIGHT"}[row.mark[-1]]
    return f" DO NOT TURN OVER: LONG LEG {side} OF ITS CORNER"


@both_pages
@every_job
def test_every_mark_stands_once_with_what_is_to_be_made(name: str, page: str) -> None:
    pages = drawings(name, page)
    assert wrong_marks(pages, job_of(name).job, rows_of(name)) == []


@pytest.mark.parametrize(("name", "page"), [("library-hearth", "letter"), *FULLEST])
def test_wrong_figures_of_a_mark_are_noticed(name: str, page: str) -> None:
    pages, job, rows = drawings(name, page), job_of(name).job, rows_of(name)
    last = rows[-1]

    def wrong(which: Callable[[Ink], bool], new: Callable[[Ink], Ink | None]) -> object:
        return wrong_marks(damaged(pages, which, new), job, rows)

    mark = rows[0].row.mark
    height = max(x.height_on_paper for x in cells_of(pages)[0].words)

    def is_mark(ink: Ink) -> bool:
        return (
            isinstance(ink, Words)
            and ink.text == mark
            and ink.height_on_paper == height
        )

    assert wrong(is_mark, lambda _: None) == ["marks"]
    assert wrong(is_mark, with_text(lambda _: last.row.mark)) == ["marks"]
    make = f"= MAKE {rows[0].make}"
    assert wrong(says(make), with_text(lambda x: f"{x}0")) == [f"{mark}: make"]
    assert wrong(says(make), with_text(lambda x: f"1{x}")) == [
        f"{mark}: count",
        f"{mark}: make",
    ]
    size = finished(job, rows[0].row).strip()
    other = size.replace("2 1/4", "2 3/16")
    assert wrong(says(size), with_text(lambda _: other)) == [f"{mark}: size"]
    assert f"{mark}: tolerance" in wrong(  # type: ignore[operator]
        says("TOLERANCE"), with_text(lambda x: x.replace("1/32", "1/16"))
    )
    tick = next(
        stroke
        for stroke in cells_of(pages)[0].on(TABLE)
        if ticks_in(replace(cells_of(pages)[0], strokes=(stroke,)), INCH[job.lengths])
    )
    assert wrong(lambda ink: ink == tick, lambda _: None) == [f"{mark}: tick"]
    turned = turning(rows[0].row).strip()
    assert wrong(says(turned), with_text(lambda _: "AS YOU LIKE")) == [
        f"{mark}: turning"
    ]


def test_a_note_left_out_is_noticed() -> None:
    pages, job = drawings("trimmed", "letter"), job_of("trimmed").job
    rows = rows_of("trimmed")
    trimmed = next(each for each in rows if each.row.is_trimmed)
    left_out = damaged(pages, says("TRIM FROM THE FREE END"), lambda _: None)
    assert wrong_marks(left_out, job, rows) == [f"{trimmed.row.mark}: notes"]
