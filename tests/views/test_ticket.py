"""The fabricator's ticket: every mark once, true to scale, the sequence as planned.

What is read here is read off the page: boxes, lettering and lines, as a person would.
"""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction as F
from functools import cache
from itertools import pairwise

import pdfplumber
import pytest

from shopdraw.drawing.extents import about, extent_of
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.lettering import Box, box_of, plain
from shopdraw.drawing.sheets import SCALES, Sheet
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.lengths import format_length, parse_length, typed_length
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow, Outline
from shopdraw.output.pdf import write_pdf
from shopdraw.pipeline import Solution
from shopdraw.quantities.fabricating import FabricationRow, list_fabrication
from shopdraw.review.cautions import CAUTIONS
from shopdraw.views.making.marks import ends_kept
from shopdraw.views.making.ticket import draw_ticket
from shopdraw.views.parts.units import CUTS, UNITS
from tests.demos import CONFIGS, solution_of
from tests.views.jobs import CHANGES, solved
from tests.views.lettering import collisions_on, crossings

INCH = {"in": 1.0, "mm": 25.4}
PAGES = {"letter": (8.5, 11.0), "A4": (210 / 25.4, 297 / 25.4)}
"""In inches, whatever the job is measured in."""
LEAST = {"in": 0.055, "mm": 1.4}
MARGIN = 0.375
TABLE, LEG, BRICK = "A-ANNO-SCHD", "A-SECT-MCUT", "A-ELEV-HIDD"
STANDS = ("soldier", "rowlock", "voussoir")
ON_ONE_PAGE = {
    *("cannot-land", "chimney-breast-gas", "library-hearth", "metric-slips"),
    "morning-room",
}
DEMOS = sorted(path.stem for path in CONFIGS.glob("*.toml"))
both_pages = pytest.mark.parametrize("page", PAGES)
every_job = pytest.mark.parametrize("name", [*DEMOS, *CHANGES])
FULLEST = [("crooked-study", "letter"), ("jack-arch-parlour", "A4")]


def job_of(name: str) -> Solution:
    return solved(name) if name in CHANGES else solution_of(name)


def rows_of(name: str) -> tuple[FabricationRow, ...]:
    return list_fabrication(job_of(name).job, job_of(name).cut_list)


def size_of(name: str, page: str) -> tuple[float, float]:
    inch = INCH[job_of(name).job.lengths]
    return PAGES[page][0] * inch, PAGES[page][1] * inch


@cache
def ticket(name: str, page: str) -> tuple[Sheet, ...]:
    solution = job_of(name)
    size = size_of(name, page)
    return draw_ticket(solution.job, rows_of(name), solution.cut_plan, size)


def ink_of(sheet: Sheet) -> Drawing:
    """Return a page's ink, which stands on the paper as it is drawn."""
    (placed,) = sheet.drawings
    assert placed.placement.to_paper((1.5, 2.5)) == (1.5, 2.5)
    assert sheet.paper_ink == ()
    return placed.drawing


def drawings(name: str, page: str) -> list[Drawing]:
    return [ink_of(sheet) for sheet in ticket(name, page)]


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


# ---------------------------------------------------------------------------- marks


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


def finished(job: Job, row: CutListRow) -> str:
    """Return the sizes as they are to be lettered: both legs outside, or the length."""
    sides = row.legs if row.kind in CORNER_KINDS else (row.length,)
    along = " x ".join(format_length(side, job.lengths) for side in sides)
    outside = " OUTSIDE" if row.kind in CORNER_KINDS else ""
    unit = "" if job.lengths == "in" else " MM"
    return f" {along}{outside} x {format_length(row.height, job.lengths)}{unit} HIGH "


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
        within = f"WITHIN {typed_length(each.tolerance, job.lengths).upper()} EITHER"
        # The notes say more nearly which end is kept, and what is turned.
        told = ("", "one end as delivered", "may be turned over", "not turned over")
        notes = [note.upper() for note in each.row.note.split("; ") if note not in told]
        if each.row.kind in STANDS:
            notes.append("DRAWN LYING, ITS FOOT TO THE LEFT")
        if "mitre" in each.row.note:
            notes.append("AT 45 DEGREES: AT THE RIGHT, FROM ITS END")
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
    """Return what must be said of turning: by the note, but never of a shape."""
    if row.kind not in CORNER_KINDS:
        return " NOT TURNED END" if row.shapes else " MAY BE TURNED END"
    if row.shapes:
        return f" NOT TURNED OVER ONCE SAWN: ITS HAND IS {row.ids[0]}"
    if "may be turned over" in row.note:
        return " MAY BE TURNED OVER"
    side = {"L": "LEFT", "R": "RIGHT"}[row.mark[-1]]
    return f" NOT TURNED OVER: LONG LEG {side} OF ITS CORNER"


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
        says("WITHIN"), with_text(lambda x: x.replace("1/32", "1/16"))
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


# -------------------------------------------------------------------------- sketches


def scale_on(pages: list[Drawing]) -> float:
    """Return the scale that the first page says its sketches have."""
    named = re.search(r"Sketches (.+?): the figures govern", text_on(pages[0]))
    assert named is not None
    names = {name: scale for scales in SCALES.values() for scale, name in scales}
    return names[named[1]]


def sizes_drawn(cell: Cell, layer: str, scale: float) -> list[tuple[float, float]]:
    """Return how wide and high each closed ring on a layer is, at full size."""
    sizes = []
    for stroke in cell.on(layer):
        if stroke.closed:
            left, low, right, high = box_about(stroke)
            sizes.append(((right - left) * scale, (high - low) * scale))
    return sizes


def sizes_wanted(row: CutListRow, layer: str) -> list[tuple[float, float]]:
    if row.kind in CORNER_KINDS:
        if layer == LEG:
            return [(float(row.legs[0]), float(row.legs[1]))]
        return [(float(shape.right), float(shape.top)) for shape in row.shapes]
    if layer == LEG:
        return []
    along, across = row.length, row.height
    if row.kind in STANDS:
        along, across = across, along
    return [(float(along), float(across))]


def out_of_scale(
    pages: list[Drawing], rows: tuple[FabricationRow, ...], scale: float
) -> list[str]:
    """Return the marks that are not drawn at their size, lying as on the saw."""
    wrong = []
    for cell, each in zip(cells_of(pages), rows, strict=True):
        for layer in (UNITS, LEG):
            drawn = sizes_drawn(cell, layer, scale)
            wanted = sizes_wanted(each.row, layer)
            if layer == LEG and "mitre" in each.row.note:
                wanted = drawn[:1]
            if len(drawn) != len(wanted) or any(
                a != pytest.approx(b, abs=1e-6)
                for a, b in zip(drawn, wanted, strict=True)
            ):
                wrong.append(each.row.mark)
    return wrong


@both_pages
@every_job
def test_every_sketch_is_true_to_the_scale_that_is_said(name: str, page: str) -> None:
    pages = drawings(name, page)
    assert out_of_scale(pages, rows_of(name), scale_on(pages)) == []


@pytest.mark.parametrize(("name", "page"), FULLEST)
def test_a_sketch_out_of_scale_is_noticed(name: str, page: str) -> None:
    pages, rows = drawings(name, page), rows_of(name)
    every = [each.row.mark for each in rows]
    assert [*dict.fromkeys(out_of_scale(pages, rows, 2 * scale_on(pages)))] == every

    def is_ring(ink: Ink) -> bool:
        return isinstance(ink, Stroke) and ink.layer == UNITS and ink.closed

    def longer(ink: Ink) -> Ink:
        assert isinstance(ink, Stroke)
        (x, y), *others = ink.points
        return replace(ink, points=((x - 0.01, y), *others))

    flat = next(each.row.mark for each in rows if each.row.kind not in CORNER_KINDS)
    stretched = damaged(pages, is_ring, longer)
    assert out_of_scale(stretched, rows, scale_on(pages)) == [flat]
    assert out_of_scale(damaged(pages, is_ring, lambda _: None), rows, 4.0) == [flat]


def cuts_wanted(job: Job, row: CutListRow) -> int:
    if row.kind in CORNER_KINDS:
        corner = {
            "corner unit": job.brick.corner,
            "soldier corner unit": job.brick.soldier_corner,
        }[row.kind]
        assert corner is not None
        inside = job.brick.thickness if corner.measured == "inside" else 0
        bought = corner.long_leg + inside, corner.short_leg + inside
        trimmed = sum(leg < was for leg, was in zip(row.legs, bought, strict=True))
        return trimmed + sum(len(shape.cuts) for shape in row.shapes)
    if row.shapes:
        return len(row.shapes[0].cuts)
    whole = (job.brick.length, job.brick.height)
    if row.kind in STANDS:
        whole = (whole[1], whole[0])
    sawn = (row.length < whole[0]) + (row.height < whole[1])
    return sawn + ("mitre" in row.note)


@both_pages
@every_job
def test_every_cut_is_drawn_and_no_other(name: str, page: str) -> None:
    for cell, each in zip(cells_of(drawings(name, page)), rows_of(name), strict=True):
        wanted = cuts_wanted(job_of(name).job, each.row)
        assert len(cell.on(CUTS)) == wanted, cell.mark


def wrong_ends(pages: list[Drawing], rows: tuple[FabricationRow, ...]) -> list[str]:
    """Return the flat marks whose ends are not as they are said to be.

    An end as delivered is the brick's own end, and no cut lies on it; any other is
    reached by a cut.
    """
    wrong = []
    for cell, each in zip(cells_of(pages), rows, strict=True):
        if each.row.kind in CORNER_KINDS:
            continue
        said = re.search(r"ENDS AS DELIVERED: ((?:LEFT|RIGHT|NONE|, )+)", cell.text)
        assert said is not None
        (piece,) = (box_about(x) for x in cell.on(UNITS) if x.closed)
        # The mitre of a brick on end is no end of it.
        lines = [x for x in cell.on(CUTS) if box_about(x)[0] < piece[2] + 1e-6]
        stock = [x for x in cell.on(BRICK) if box_about(x)[0] < piece[2] + 1e-6]
        brick = about([*piece_corners(piece), *(p for x in stock for p in x.points)])
        for end, side in (("LEFT", 0), ("RIGHT", 2)):
            at = piece[side]
            cut_on = any(all(abs(x - at) < 1e-6 for x, _ in y.points) for y in lines)
            reached = any(
                box_about(x)[0] - 1e-6 <= at <= box_about(x)[2] + 1e-6 for x in lines
            )
            is_own = abs(brick[side] - at) < 1e-6 and not cut_on
            if is_own != (end in said[1]) and (end in said[1] or not reached):
                wrong.append(f"{cell.mark}: {end}")
    return wrong


def piece_corners(box: Box) -> list[tuple[float, float]]:
    return [(box[0], box[1]), (box[2], box[3])]


@both_pages
@every_job
def test_the_ends_that_stay_are_the_bricks_own(name: str, page: str) -> None:
    assert wrong_ends(drawings(name, page), rows_of(name)) == []


@pytest.mark.parametrize("name", ["segmental-kitchen", "crooked-study"])
def test_an_end_wrongly_said_to_stay_is_noticed(name: str) -> None:
    pages, rows = drawings(name, "letter"), rows_of(name)
    for said, other in (("LEFT", "RIGHT"), ("RIGHT", "LEFT"), ("NONE", "LEFT")):
        text = f"ENDS AS DELIVERED: {said}"
        swapped = damaged(
            pages,
            lambda ink, text=text: isinstance(ink, Words) and ink.text == text,  # type: ignore[misc]
            with_text(lambda x, a=said, b=other: x.replace(a, b)),  # type: ignore[misc]
        )
        assert wrong_ends(swapped, rows) != []


def test_a_trimmed_leg_is_not_said_to_be_as_delivered() -> None:
    cells = {cell.mark: cell.text for cell in cells_of(drawings("trimmed", "letter"))}
    # Both legs of C3-L are sawn, of the others the long one.
    assert "ENDS AS DELIVERED: NONE" in cells["C3-L"]
    for mark in ("C1-L", "C2-R", "C4-R"):
        assert "ENDS AS DELIVERED: SHORT LEG TRIM" in cells[mark]
    whole = cells_of(drawings("library-hearth", "letter"))[0].text
    assert "ENDS AS DELIVERED: LONG LEG, SHORT LEG" in whole


def test_a_leg_sawn_to_a_slope_at_its_free_end_does_not_keep_it() -> None:
    solution = job_of("library-hearth")
    row = next(row for row in solution.cut_list if row.kind in CORNER_KINDS)
    assert ends_kept(solution.job, row) == ["LONG LEG", "SHORT LEG"]
    for leg, kept in zip(row.legs, ("SHORT LEG", "LONG LEG"), strict=True):
        ring = ((F(0), F(0)), (leg, F(0)), (leg, row.height), (F(1, 8), row.height))
        sloped = replace(row, shapes=(Outline("front", ring, (3,)),))
        assert ends_kept(solution.job, sloped) == [kept]
        scribed = replace(row, shapes=(Outline("front", ring, (0,)),))
        assert ends_kept(solution.job, scribed) == ["LONG LEG", "SHORT LEG"]


def wrong_corners(
    pages: list[Drawing], rows: tuple[FabricationRow, ...], scale: float, job: Job
) -> list[str]:
    """Return the marks whose corners are not lettered where they are drawn.

    They go round from the lower left one, anticlockwise as the ring is drawn.
    """
    step = 1 / 16 if job.lengths == "in" else 1
    wrong = []
    for cell, each in zip(cells_of(pages), rows, strict=True):
        lists = re.findall(r"ALONG x UP: ([0-9/\"', x-]+)", cell.text)
        if len(lists) != len(each.row.shapes):
            wrong.append(each.row.mark)
            continue
        rings = [stroke for stroke in cell.on(UNITS) if stroke.closed]
        for said, ring in zip(lists, rings, strict=False):
            left, low, *_ = box_about(ring)
            drawn = [((x - left) * scale, (y - low) * scale) for x, y in ring.points]
            pairs = [pair.split(" x ") for pair in said.strip().split(", ")]
            read = [tuple(float(length(job, x)) for x in pair) for pair in pairs]
            first = drawn.index(min(drawn, key=sum))
            start = [*drawn[first:], *drawn[:first]]
            if len(read) != len(drawn) or any(
                abs(a - b) > step / 2 + 1e-4
                for one, two in zip(read, start, strict=True)
                for a, b in zip(one, two, strict=True)
            ):
                wrong.append(each.row.mark)
    return wrong


def length(job: Job, text: str) -> float:
    return float(
        parse_length(text if job.lengths == "in" else f"{text} mm", job.lengths)
    )


@both_pages
@every_job
def test_the_corners_of_a_shape_are_lettered_as_drawn(name: str, page: str) -> None:
    pages, job = drawings(name, page), job_of(name).job
    assert wrong_corners(pages, rows_of(name), scale_on(pages), job) == []


def test_a_corner_elsewhere_is_noticed() -> None:
    pages, rows = drawings("jack-arch-parlour", "letter"), rows_of("jack-arch-parlour")
    job = job_of("jack-arch-parlour").job
    wrong = damaged(
        pages, says("ALONG x UP"), with_text(lambda x: x.replace('0" x', '1/4" x', 1))
    )
    first = next(each.row.mark for each in rows if each.row.shapes)
    assert wrong_corners(wrong, rows, scale_on(pages), job) == [first]


# -------------------------------------------------------------------------- sequence


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
        lines: dict[float, list[Words]] = {}
        for each in below:
            if each.at[1] > max(ends):
                lines.setdefault(round(each.at[1], 6), []).append(each)
        found = [sorted(lines[y], key=lambda x: x.at[0]) for y in sorted(lines)[::-1]]
        rows += found[1:]
    return rows


def _down(words: Words) -> float:
    return -words.at[1]


def stops_read(pages: list[Drawing]) -> list[tuple[str, int, int, tuple[str, ...]]]:
    """Return the stops as lettered: length, cuts, spares, marks."""
    return [
        (row[0].text, int(row[1].text), int(row[2].text), tuple(row[3].text.split()))
        for page in pages
        for row in rows_under(page, "SAW STOPS")
    ]


def plan_read(pages: list[Drawing]) -> list[tuple[int, tuple[str, ...], str]]:
    """Return the cut plan as lettered: units, what each gives, what is left."""
    return [
        (int(row[0].text), tuple(row[1].text.split(" + ")), row[2].text)
        for page in pages
        for row in rows_under(page, "CUT PLAN")
    ]


def wrong_sequence(
    pages: list[Drawing], solution: Solution, rows: tuple[FabricationRow, ...]
) -> list[str]:
    """Return what is wrong with stops and plan: order, sums, and the plan itself."""
    job, plan = solution.job, solution.cut_plan
    spares = {each.row.mark: each.spares for each in rows}
    wanted = [
        (
            format_length(stop.length, job.lengths),
            stop.cuts,
            sum(spares[mark] for mark in stop.marks),
            stop.marks,
        )
        for stop in plan.stops
    ]
    stops, units = stops_read(pages), plan_read(pages)
    lengths = [length(job, stop[0]) for stop in stops]
    given: Counter[str] = Counter()
    for count, marks, _ in units:
        for mark in marks:
            given[mark] += count
    flat = {
        each.row.mark: each.row.count
        for each in rows
        if each.row.kind not in CORNER_KINDS
    }
    left = [
        (unit.count, unit.marks, format_length(unit.left, job.lengths))
        for unit in plan.units
    ]
    return [
        what
        for what, right in (
            ("stops", stops == wanted),
            ("order", all(a > b for a, b in pairwise(lengths))),
            ("plan", units == left),
            ("counts", given == flat),
            ("ticks", all(has_tick(page) for page in pages)),
        )
        if not right
    ]


def has_tick(drawing: Drawing) -> bool:
    """Whether an empty ruled box stands before every stop."""
    boxes = [box_of(words) for words in words_on(drawing)]
    lines = [
        box_about(ink)
        for ink in drawing.ink
        if isinstance(ink, Stroke) and ink.layer == TABLE and not ink.closed
    ]
    for stop, *_ in rows_under(drawing, "SAW STOPS"):
        x, y = box_of(stop)[0], stop.at[1]
        sides = sorted(
            a[0] for a in lines if a[0] == a[2] and a[1] < y < a[3] and a[0] < x
        )
        if len(sides) < 2:
            return False
        left, right = sides[-2:]
        level = [a[1] for a in lines if a[1] == a[3] and a[0] <= left and right <= a[2]]
        low = max((a for a in level if a < y), default=None)
        high = min((a for a in level if a > y), default=None)
        if low is None or high is None or high - low > 3 * stop.height_on_paper:
            return False
        tick = (left, low, right, high)
        if any(holds(tick, box) for box in boxes):
            return False
    return True


@both_pages
@every_job
def test_the_sequence_is_the_cut_plans(name: str, page: str) -> None:
    solution = job_of(name)
    assert wrong_sequence(drawings(name, page), solution, rows_of(name)) == []


@pytest.mark.parametrize(("name", "page"), FULLEST)
def test_a_wrong_sequence_is_noticed(name: str, page: str) -> None:
    pages, solution, rows = drawings(name, page), job_of(name), rows_of(name)
    titles = [words for x in pages for words in words_on(x)]
    assert len([x for x in titles if x.text.startswith("SAW STOPS")]) > 1

    def wrong(target: Words, new: Callable[[Ink], Ink | None]) -> list[str]:
        changed = damaged(pages, lambda ink: ink == target, new)
        return wrong_sequence(changed, solution, rows)

    first, second = next(found for x in pages if (found := rows_under(x, "SAW STOPS")))[
        :2
    ]
    swapped = wrong(first[0], with_text(lambda _: second[0].text))
    assert swapped == ["stops", "order"]
    assert wrong(first[1], with_text(lambda x: f"{x}1")) == ["stops"]
    assert wrong(first[3], with_text(lambda x: f"{x} Z9")) == ["stops"]
    (units, gives, left), *_ = next(
        found for x in pages if (found := rows_under(x, "CUT PLAN"))
    )
    assert wrong(units, with_text(lambda x: f"{x}0")) == ["plan", "counts"]
    assert wrong(gives, with_text(lambda x: f"{x} + B1")) == ["plan", "counts"]
    assert wrong(left, with_text(lambda _: '1 7/16"')) == ["plan"]


def test_a_stop_without_a_box_to_tick_is_noticed() -> None:
    (page,) = drawings("library-hearth", "letter")
    assert has_tick(page)
    stop = rows_under(page, "SAW STOPS")[0][0]
    ticked = replace(stop, text="X", at=(stop.at[0] - 0.7, stop.at[1]))
    assert not has_tick(replace(page, ink=(*page.ink, ticked)))
    uprights = tuple(
        ink
        for ink in page.ink
        if not (
            isinstance(ink, Stroke)
            and ink.layer == TABLE
            and not ink.closed
            and ink.points[0][0] == ink.points[1][0]
        )
    )
    assert not has_tick(replace(page, ink=uprights))


# --------------------------------------------------------------------------- heading


def field(drawing: Drawing, name: str) -> str:
    """Return what stands below a name in its box."""
    (label,) = (words for words in words_on(drawing) if words.text == name)
    (box,) = (box for box in boxes_on(drawing) if holds(box, box_of(label)))
    inside = [words for words in words_on(drawing) if holds(box, box_of(words))]
    return " ".join(words.text for words in inside if words != label)


def wrong_heading(pages: list[Drawing], solution: Solution) -> list[str]:
    """Return the fields that do not say what the job or the plan does."""
    job, plan = solution.job, solution.cut_plan
    brick = (job.brick.length, job.brick.height, job.brick.thickness)
    size = " x ".join(format_length(side, job.lengths) for side in brick)
    fewest = "proved the fewest"
    if plan.whole_units != plan.least:
        fewest = f"at least {plan.least}"
    wanted = {
        "PROJECT": job.job.name,
        "NUMBER": job.job.number or "not given",
        "DATE": str(job.job.date or "not given"),
        "REVISION": job.job.revision or "none",
        "DRAWN BY": job.job.drawn_by or "not given",
    }
    once = {
        "BRICK": f"{size}, {job.brick.size or 'as measured'}",
        "LOT": job.job.units_lot or "not given",
        "KERF": typed_length(job.saw.kerf, job.lengths),
        "WHOLE UNITS TO SAW": f"{sum(x.count for x in plan.units)}, {fewest}",
    }
    wrong = []
    for number, page in enumerate(pages, start=1):
        fields = wanted if number > 1 else wanted | once
        wrong += [name for name, words in fields.items() if field(page, name) != words]
        more = "" if number == 1 else f" ({number})"
        for words in (f"FABRICATOR'S TICKET{more}", f"PAGE {number} OF {len(pages)}"):
            wrong += [] if words in [x.text for x in words_on(page)] else [words]
    return wrong


@both_pages
@every_job
def test_the_heading_says_whose_ticket_it_is(name: str, page: str) -> None:
    assert wrong_heading(drawings(name, page), job_of(name)) == []


def test_a_wrong_heading_is_noticed() -> None:
    pages, solution = (
        drawings("jack-arch-parlour", "letter"),
        job_of("jack-arch-parlour"),
    )
    for name, words in (
        ("NUMBER", "JA-04"),
        ("KERF", "1/8 in"),
        ("WHOLE UNITS TO SAW", "at least 41"),
        ("PAGE 1 OF 5", "PAGE 1 OF 5"),
    ):
        wrong = damaged(pages, says(words), with_text(lambda x: x[::-1]))
        assert wrong_heading(wrong, solution) == [name]


def test_a_plan_that_is_not_proved_says_at_least_how_many() -> None:
    said = field(drawings("jack-arch-parlour", "A4")[0], "WHOLE UNITS TO SAW")
    assert said == "42, at least 41"
    said = field(drawings("library-hearth", "A4")[0], "WHOLE UNITS TO SAW")
    assert said == "40, proved the fewest"


@both_pages
@pytest.mark.parametrize("name", DEMOS)
def test_pages_are_named_and_no_more_than_are_needed(name: str, page: str) -> None:
    sheets = ticket(name, page)
    assert (len(sheets) == 1) == (name in ON_ONE_PAGE)
    wide, high = size_of(name, page)
    for number, sheet in enumerate(sheets, start=1):
        assert (sheet.width, sheet.height) == (wide, high)
        assert sheet.number == number
        more = number > 1
        assert sheet.title == (f"TICKET ({number})" if more else "TICKET")
        assert sheet.name == (f"ticket-{number}" if more else "ticket")
        assert sheet.lengths == job_of(name).job.lengths
    with pdfplumber.open(io.BytesIO(write_pdf(sheets, "Ticket"))) as pdf:
        assert len(pdf.pages) == len(sheets)
        wanted = [72 * side for side in PAGES[page]]
        for each in pdf.pages:
            assert [each.width, each.height] == pytest.approx(wanted, abs=0.01)


# -------------------------------------------------------------------------- cautions


def missing_cautions(drawing: Drawing) -> list[str]:
    wanted = [each for each in CAUTIONS if each.topic in ("silica", "saw", "code")]
    return [
        each.topic
        for each in wanted
        if plain(f"{each.topic.upper()}. {each.words}") not in text_on(drawing)
    ]


@both_pages
@every_job
def test_the_cautions_stand_on_every_page(name: str, page: str) -> None:
    for drawing in drawings(name, page):
        assert missing_cautions(drawing) == []


def test_a_caution_that_lost_a_line_is_noticed() -> None:
    pages = drawings("library-hearth", "letter")
    for topic in ("SILICA", "SAW", "CODE"):
        (left,) = damaged(pages, says(f"{topic}. "), lambda _: None)
        assert missing_cautions(left) == [topic.lower()]


# ---------------------------------------------------------------------------- layout


def crowding(sheet: Sheet) -> list[str]:
    """Return what lies on something, outside the page or its cell, or is too fine."""
    drawing, inch = ink_of(sheet), INCH[sheet.lengths]
    wrong = [f"{a} on {b}" for a, b in collisions_on(sheet)]
    wrong += [f"{words}: a line through it" for words, _ in crossings(drawing)]
    left, low, right, high = extent_of(drawing)
    margin = MARGIN * inch
    if min(left, low) < margin or right > sheet.width - margin:
        wrong.append("margin")
    if high > sheet.height - margin:
        wrong.append("margin")
    wrong += [
        f"{words.text}: too fine"
        for words in words_on(drawing)
        if words.height_on_paper < LEAST[sheet.lengths]
    ]
    for cell in cells_on(drawing):
        ink: tuple[Ink, ...] = (*cell.words, *cell.strokes)
        if not all(holds(cell.box, box_about(each), 0.0) for each in ink):
            wrong.append(f"{cell.mark}: out of its cell")
    return wrong


@both_pages
@every_job
def test_nothing_is_crowded(name: str, page: str) -> None:
    for sheet in ticket(name, page):
        assert crowding(sheet) == []


def test_crowding_is_noticed() -> None:
    (sheet,) = ticket("library-hearth", "letter")

    def wrong(which: Callable[[Ink], bool], new: Callable[[Ink], Ink | None]) -> str:
        (drawing,) = damaged([ink_of(sheet)], which, new)
        placed = replace(sheet.drawings[0], drawing=drawing)
        return "; ".join(crowding(replace(sheet, drawings=(placed,))))

    assert "on SAWN SIZES" in wrong(says("ENDS AS DELIVERED: LEFT"), moved_by(0, 0.12))
    assert "out of its cell" in wrong(says("MAY BE TURNED OVER"), moved_by(3.0, -0.01))
    assert "margin" in wrong(says("FABRICATOR"), moved_by(0, 0.3))

    def finer(ink: Ink) -> Ink:
        assert isinstance(ink, Words)
        return replace(ink, height_on_paper=0.05)

    assert "too fine" in wrong(says("SILICA"), finer)

    def is_cut(ink: Ink) -> bool:
        return isinstance(ink, Stroke) and ink.layer == CUTS

    assert "a line through it" in wrong(is_cut, moved_by(0, -0.9))


@both_pages
def test_long_names_are_broken_and_crowd_nothing(page: str) -> None:
    solution = job_of("library-hearth")
    about_job = solution.job.job.model_copy(
        update={
            "name": "The west drawing room, chimney breast | second of the two "
            + "W" * 20,
            "number": "2222-AAAA-3333-BBBB",
            "revision": "revision 12a",
            "drawn_by": "W" * 60,
            "units_lot": "kiln 4, third firing of March, " * 3,
        }
    )
    job = solution.job.model_copy(update={"job": about_job})
    size = size_of("library-hearth", page)
    sheets = draw_ticket(job, rows_of("library-hearth"), solution.cut_plan, size)
    for sheet in sheets:
        assert crowding(sheet) == []
    said = field(ink_of(sheets[0]), "PROJECT").replace(" ", "")
    assert said == about_job.name.replace(" ", "")


def test_a_job_with_nothing_to_saw_or_turn_has_no_ticket() -> None:
    solution = job_of("library-hearth")
    size = PAGES["letter"]
    assert draw_ticket(solution.job, (), solution.cut_plan, size) == ()


def test_corner_units_alone_have_a_ticket_without_a_sequence() -> None:
    solution = job_of("library-hearth")
    corners = tuple(
        each for each in rows_of("library-hearth") if each.row.kind in CORNER_KINDS
    )
    none = replace(solution.cut_plan, units=(), stops=(), least=0)
    (sheet,) = draw_ticket(solution.job, corners, none, PAGES["letter"])
    drawing = ink_of(sheet)
    assert [cell.mark for cell in cells_on(drawing)] == ["C"]
    assert field(drawing, "WHOLE UNITS TO SAW") == "none"
    assert rows_under(drawing, "SAW STOPS") == rows_under(drawing, "CUT PLAN") == []
    assert missing_cautions(drawing) == []
    assert crowding(sheet) == []


def test_a_page_too_small_for_a_mark_is_refused() -> None:
    solution = job_of("library-hearth")
    rows = rows_of("library-hearth")
    with pytest.raises(NotDrawable, match=r"sheet\.page"):
        draw_ticket(solution.job, rows, solution.cut_plan, (3.5, 4.0))
