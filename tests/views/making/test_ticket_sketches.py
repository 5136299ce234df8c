"""The ticket's sketches: true to scale, every cut drawn, ends and corners as said."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction as F
from math import cos, radians, sin

import pytest

from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.layers import CUTS, UNITS
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.sheets import SCALES
from shopdraw.job.model import Job
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow, Outline
from shopdraw.masonry.wall.printing import as_printed
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.views.making.sizes import ends_kept
from tests.views.making.tickets import (
    FULLEST,
    STANDS,
    Cell,
    both_pages,
    box_about,
    cells_of,
    damaged,
    drawings,
    every_job,
    job_of,
    length,
    rows_of,
    says,
    text_on,
    with_text,
)

MARK = {"in": F(1, 32), "mm": F(1, 2)}
"""What shaped pieces are printed to; an axis between two marks takes half of one more.
"""
LEG, BRICK = "A-SECT-MCUT", "A-ELEV-HIDD"


def scale_on(pages: list[Drawing]) -> float:
    """Return the scale that the first page says its sketches have."""
    named = re.search(
        r"Sketches are drawn at (.+?); go by the figures", text_on(pages[0])
    )
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


def mitred_sizes(job: Job, row: CutListRow) -> list[tuple[float, float]]:
    """Return how large a mitred unit is from above, then each of its legs."""
    (a, b), thick = (float(leg) for leg in row.legs), float(job.brick.thickness)
    turn = radians(row.turn)
    together = (a + b * cos(turn), b * sin(turn) + thick * cos(turn))
    return [together, (max(a, b), thick), (min(a, b), thick)]


def sizes_wanted(job: Job, row: CutListRow, layer: str) -> list[tuple[float, float]]:
    if row.is_made and layer == LEG:
        return mitred_sizes(job, row)
    if row.kind in CORNER_KINDS:
        if layer == LEG:
            return [(float(row.legs[0]), float(row.legs[1]))]
        return [
            (float(leg.right - leg.left), float(leg.top - leg.bottom))
            for leg in as_printed(row.unfolded, job.lengths)
        ]
    if layer == LEG:
        return []
    along, across = row.length, row.height
    for shape in as_printed(row.shapes[:1], job.lengths):
        # A shape is drawn where its figures say, within half a mark of what it is.
        printed = shape.right - shape.left, shape.top - shape.bottom
        assert (
            max(abs(printed[0] - along), abs(printed[1] - across)) <= MARK[job.lengths]
        )
        along, across = printed
    if row.kind in STANDS:
        along, across = across, along
    return [(float(along), float(across))]


def out_of_scale(
    pages: list[Drawing], rows: tuple[FabricationRow, ...], scale: float, job: Job
) -> list[str]:
    """Return the marks that are not drawn at their size, lying as on the saw."""
    wrong = []
    for cell, each in zip(cells_of(pages), rows, strict=True):
        for layer in (UNITS, LEG):
            drawn = sizes_drawn(cell, layer, scale)
            wanted = sizes_wanted(job, each.row, layer)
            is_on_end = "mitre" in each.row.note and not each.row.is_made
            if layer == LEG and is_on_end:
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
    assert out_of_scale(pages, rows_of(name), scale_on(pages), job_of(name).job) == []


@pytest.mark.parametrize(("name", "page"), [*FULLEST, ("splayed-parlour", "letter")])
def test_a_sketch_out_of_scale_is_noticed(name: str, page: str) -> None:
    pages, rows = drawings(name, page), rows_of(name)
    job, scale = job_of(name).job, scale_on(pages)
    every = [each.row.mark for each in rows]
    assert [*dict.fromkeys(out_of_scale(pages, rows, 2 * scale, job))] == every

    def is_ring(ink: Ink) -> bool:
        return isinstance(ink, Stroke) and ink.layer == UNITS and ink.closed

    def longer(ink: Ink) -> Ink:
        assert isinstance(ink, Stroke)
        (x, y), *others = ink.points
        return replace(ink, points=((x - 0.01, y), *others))

    flat = next(each.row.mark for each in rows if each.row.kind not in CORNER_KINDS)
    stretched = damaged(pages, is_ring, longer)
    assert out_of_scale(stretched, rows, scale, job) == [flat]
    gone = damaged(pages, is_ring, lambda _: None)
    assert out_of_scale(gone, rows, scale, job) == [flat]


def cuts_wanted(job: Job, row: CutListRow) -> int:
    if row.is_made:
        return 2 + sum(len(leg.cuts) for leg in row.unfolded)
    if row.kind in CORNER_KINDS:
        corner = {
            "corner unit": job.brick.corner,
            "soldier corner unit": job.brick.soldier_corner,
        }[row.kind]
        assert corner is not None
        inside = job.brick.thickness if corner.measured == "inside" else 0
        bought = corner.long_leg + inside, corner.short_leg + inside
        trimmed = sum(leg < was for leg, was in zip(row.legs, bought, strict=True))
        return trimmed + sum(len(leg.cuts) for leg in row.unfolded)
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
    for said, other in (("LEFT", "RIGHT"), ("LEFT", "NONE")):
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

    They go round from the lower left one, anticlockwise as the ring is drawn. Of a
    piece that lies down two figures are rounded for one of a corner's places.
    """
    step = 1 / 32 if job.lengths == "in" else 0.5
    wrong = []
    for cell, each in zip(cells_of(pages), rows, strict=True):
        lists = re.findall(r"ALONG x UP: ([0-9/\"', x-]+)", cell.text)
        if len(lists) != len(each.row.unfolded or each.row.shapes):
            wrong.append(each.row.mark)
            continue
        rings = [stroke for stroke in cell.on(UNITS) if stroke.closed]
        if not lists:
            continue
        # Both legs of a corner unit are measured from one corner.
        left, low, *_ = about(p for ring in rings for p in ring.points)
        for said, ring in zip(lists, rings, strict=True):
            drawn = [((x - left) * scale, (y - low) * scale) for x, y in ring.points]
            pairs = [pair.split(" x ") for pair in said.strip().split(", ")]
            read = [tuple(float(length(job, x)) for x in pair) for pair in pairs]
            first = drawn.index(min(drawn, key=sum))
            start = [*drawn[first:], *drawn[:first]]
            if len(read) != len(drawn) or any(
                abs(a - b) > step + 1e-4
                for one, two in zip(read, start, strict=True)
                for a, b in zip(one, two, strict=True)
            ):
                wrong.append(each.row.mark)
    return wrong


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
