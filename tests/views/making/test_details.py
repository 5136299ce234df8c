"""Details: every corner unit and cut piece, at its size, in its own hand."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest

from shopdraw.drawing.extents import extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Measure, Stroke, Words
from shopdraw.drawing.layers import CUTS, DIMENSIONS
from shopdraw.drawing.moving import moved
from shopdraw.drawing.paragraphs import lettering_in, said_by
from shopdraw.drawing.sheets import STYLES, content_of, size_on_paper
from shopdraw.lengths import format_made, half_marked
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow
from shopdraw.masonry.wall.surround import corner_legs
from shopdraw.solution import Solution
from shopdraw.views.making import cut_pieces, sharing
from shopdraw.views.making.corner_units import draw_corner_unit
from shopdraw.views.making.cut_pieces import draw_cut, draw_details
from shopdraw.views.making.sizes import LYING, ends_kept
from tests.demos import solution_of
from tests.views.jobs import CHANGES, solved, with_job
from tests.views.lettering import collisions

NAMES = sorted(CHANGES)


def corners(solution: Solution) -> list[CutListRow]:
    return [row for row in solution.cut_list if row.kind in CORNER_KINDS]


def figures(drawing: Drawing, axis: str) -> Counter[str]:
    return Counter(
        ink.words
        for ink in drawing.ink
        if isinstance(ink, Measure) and ink.axis == axis
    )


def words_of(drawing: Drawing) -> list[str]:
    return [said_by(lines) for lines in lettering_in(drawing.ink)]


def strokes(drawing: Drawing, layer: str) -> list[Stroke]:
    return [x for x in drawing.ink if isinstance(x, Stroke) and x.layer == layer]


SCALES = {"in": 4.0, "mm": 5.0}
SHEETS = {"in": ("ARCH C", "ANSI B"), "mm": ("A2", "A3")}
"""A sheet as they are drawn on, and a smaller one."""


def scale_of(solution: Solution) -> float:
    return SCALES[solution.job.lengths]


def details_of(solution: Solution) -> list[Drawing]:
    return draw_details(solution, scale_of(solution))


def marks_shown(drawings: list[Drawing]) -> Counter[str]:
    return Counter(
        text.split()[0]
        for drawing in drawings
        for text in words_of(drawing)
        if text.endswith(" REQUIRED")
    )


@pytest.mark.parametrize("name", NAMES)
def test_every_corner_unit_and_every_sawn_piece_is_drawn_once(name: str) -> None:
    solution = solved(name)
    wanted = {r.mark for r in solution.cut_list if r.is_cut or r.is_trimmed}
    wanted |= {row.mark for row in corners(solution)}
    assert marks_shown(details_of(solution)) == Counter(wanted)
    texts = [text for drawing in details_of(solution) for text in words_of(drawing)]
    for row in solution.cut_list:
        if row.mark in wanted:
            assert f"{row.mark}   {row.count} REQUIRED" in texts


@pytest.mark.parametrize("name", NAMES)
def test_a_corner_unit_shows_both_legs_outside_thickness_and_inside(name: str) -> None:
    solution = solved(name)
    lengths, thick = solution.job.lengths, solution.job.brick.thickness
    for row in corners(solution):
        drawing = draw_corner_unit(solution.job, row, scale_of(solution)).lettered()
        for axis, leg in zip("xy", row.legs, strict=True):
            wall = format_made(thick, lengths)
            outside = format_made(leg, lengths)
            inside = half_marked(leg, lengths) - half_marked(thick, lengths)
            wanted = Counter([outside, wall, format_made(inside, lengths)])
            # In the left hand positions are rounded from the free end.
            allowed = [wanted]
            other = half_marked(leg, lengths) - half_marked(leg - thick, lengths)
            allowed.append(
                Counter(
                    [
                        outside,
                        format_made(other, lengths),
                        format_made(leg - thick, lengths),
                    ]
                )
            )
            assert figures(drawing, axis) in allowed


def free_end(drawing: Drawing) -> float:
    """Return how far the long leg reaches from the corner, left negative."""
    (ell,) = strokes(drawing, "A-SECT-MCUT")
    return max((x for x, _ in ell.points), key=abs)


@pytest.mark.parametrize("name", ["two hands", "trimmed", "metric corners"])
def test_a_unit_that_may_not_be_turned_is_drawn_in_its_own_hand(name: str) -> None:
    solution = solved(name)
    by_mark = {piece.mark: piece for piece in solution.layout.pieces}
    for row in corners(solution):
        first, second = by_mark[row.mark].outlines
        long_leg_is_left = first.left < second.left
        drawing = draw_corner_unit(solution.job, row, scale_of(solution)).lettered()
        assert (free_end(drawing) < 0) == long_leg_is_left
        assert abs(abs(free_end(drawing)) - float(row.legs[0])) < 1e-9
        side = "LEFT" if long_leg_is_left else "RIGHT"
        assert f"DO NOT TURN OVER: LONG LEG {side} OF ITS CORNER" in words_of(drawing)


def test_a_unit_that_may_be_turned_says_so() -> None:
    solution = solution_of("library-hearth")
    (row,) = corners(solution)
    drawing = draw_corner_unit(solution.job, row, 4.0).lettered()
    assert "MAY BE TURNED OVER: FITS LEFT AND RIGHT CORNERS" in words_of(drawing)


@pytest.mark.parametrize("name", ["trimmed", "metric corners"])
def test_a_trimmed_leg_has_its_cut_at_the_free_end_and_no_other_has(name: str) -> None:
    solution = solved(name)
    corner = solution.job.brick.corner
    assert corner is not None
    whole = corner_legs(corner, solution.job.brick.thickness)
    rows = corners(solution)
    for row in rows:
        drawing = draw_corner_unit(solution.job, row, scale_of(solution)).lettered()
        cuts = strokes(drawing, CUTS)
        trimmed = [
            axis for axis in (0, 1) if row.is_trimmed and row.legs[axis] < whole[axis]
        ]
        assert len(cuts) == len(trimmed)
        for axis, cut in zip(trimmed, cuts, strict=True):
            at = {round(abs(point[axis]), 9) for point in cut.points}
            assert at == {round(float(row.legs[axis]), 9)}
    assert any(row.is_trimmed for row in rows)


@pytest.mark.parametrize("name", NAMES)
def test_a_cut_piece_shows_its_size_on_the_unit_it_is_sawn_from(name: str) -> None:
    solution = solved(name)
    lengths, brick = solution.job.lengths, solution.job.brick
    for row in solution.cut_list:
        if not row.is_cut or row.kind in CORNER_KINDS:
            continue
        drawing = draw_cut(solution.job, row, scale_of(solution)).lettered()
        assert figures(drawing, "x") == Counter([format_made(row.length, lengths)])
        assert figures(drawing, "y") == Counter([format_made(row.height, lengths)])
        whole = (brick.length, brick.height)
        if row.kind == "soldier":
            whole = (brick.height, brick.length)
        sawn = (row.length < whole[0]) + (row.height < whole[1])
        assert len(strokes(drawing, CUTS)) == sawn + ("mitre" in row.note)
        points = [p for x in strokes(drawing, "A-ELEV-HIDD") for p in x.points]
        if row.length < whole[0]:
            assert max(x for x, _ in points) == float(whole[0])
        if row.height < whole[1]:
            assert max(y for _, y in points) == float(whole[1])


def test_a_row_sawn_both_ways_has_two_cuts() -> None:
    solution = solution_of("library-hearth")
    row = next(row for row in solution.cut_list if row.mark == "B1")
    short = replace(row, height=row.height - Fraction(1, 2))
    drawing = draw_cut(solution.job, short, 4.0).lettered()
    assert len(strokes(drawing, CUTS)) == 2
    assert "SAW ALONG THE BRICK AT THE CUT LINE" in words_of(drawing)


def test_a_butted_soldier_is_a_whole_unit_and_needs_no_detail() -> None:
    solution = solved("butt")
    butted = [
        piece
        for piece in solution.layout.pieces
        if piece.kind == "soldier" and len(piece.outlines) == 2
    ]
    assert butted
    shown = marks_shown(details_of(solution))
    assert not {piece.mark for piece in butted if not piece.is_cut} & set(shown)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("is_smaller", [False, True])
def test_details_stay_on_their_sheet_and_nothing_collides(
    name: str, is_smaller: bool
) -> None:
    solution = solved(name)
    sheet = SHEETS[solution.job.lengths][is_smaller]
    placed = with_job(solution, sheet={"size": sheet})
    wide, high = (float(side) for side in placed.job.paper)
    room = content_of(wide, high, STYLES[placed.job.lengths])
    drawings = details_of(placed)
    assert drawings
    for drawing in drawings:
        width, height = size_on_paper(drawing)
        assert width <= room[2] - room[0] + 1e-9
        assert height <= room[3] - room[1] + 1e-9
        assert collisions(drawing) == []
    assert marks_shown(drawings) == marks_shown(details_of(solution))


def test_words_moved_onto_words_are_noticed() -> None:
    (drawing,) = details_of(solution_of("library-hearth"))
    words = [ink for ink in drawing.ink if isinstance(ink, Words)]
    ink = (*drawing.ink, replace(words[0], at=words[1].at))
    assert collisions(replace(drawing, ink=ink)) != []


def test_a_job_without_corners_or_cuts_has_no_details() -> None:
    solution = solution_of("metric-slips")
    whole = tuple(row for row in solution.cut_list if not row.is_cut)
    uncut = replace(solution, cut_list=whole)
    assert draw_details(uncut, 5.0) == []


@pytest.mark.parametrize(
    ("demo", "titles"),
    [
        ("library-hearth", ["CORNER UNITS AND CUT PIECES"]),
        ("jack-arch-parlour", ["CUT PIECES"] * 4),
        (
            "semicircular-dining-room",
            [
                "CORNER UNITS, CUT PIECES AND KEYSTONE",
                "CUT PIECES",
                "CORNER UNITS AND CUT PIECES",
            ],
        ),
    ],
)
def test_a_title_names_what_is_drawn_and_nothing_else(
    demo: str, titles: list[str]
) -> None:
    """Each of its words stands for a mark that is lettered under the title."""
    solution = solution_of(demo)
    drawings = details_of(solution)
    said = [[x for x in words_of(each) if x in titles] for each in drawings]
    assert said == [[title] for title in titles]
    corner_marks = {row.mark for row in corners(solution)}
    for drawing, title in zip(drawings, titles, strict=True):
        marks = {x.split("   ")[0] for x in words_of(drawing) if " REQUIRED" in x}
        assert ("CORNER" in title) == bool(marks & corner_marks)
        assert ("KEYSTONE" in title) == ("K" in marks)


@pytest.mark.parametrize("size", ["ANSI A", "ANSI B", "ARCH C"])
def test_words_stand_in_the_widest_columns_that_take_the_fewest_drawings(
    size: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On paper that a mason prints at home several voussoirs go on a sheet."""
    solution = solution_of("jack-arch-parlour")
    sheet = solution.job.sheet.model_copy(update={"size": size, "scale": None})
    job = solution.job.model_copy(update={"sheet": sheet})
    solution = replace(solution, job=job)
    found, counts = draw_details(solution, 4.0), list[int]()
    for wide in cut_pieces.COLUMNS:
        monkeypatch.setattr(cut_pieces, "COLUMNS", (wide,))
        counts.append(len(draw_details(replace(solution), 4.0)))
    assert len(found) == min(counts) < counts[0]


@pytest.mark.parametrize(
    "name", ["crooked-study", "banded-breast", "segmental-kitchen", "jack-arch-parlour"]
)
def test_the_list_says_one_end_as_delivered_where_the_detail_names_one(
    name: str,
) -> None:
    # Soldiers left as long as the brick kept both ends on the sheet, one in the list.
    solution = solution_of(name)
    cut = [
        row for row in solution.cut_list if row.is_cut and row.kind not in CORNER_KINDS
    ]
    assert any("left long" in row.note for row in cut) == (name == "crooked-study")
    for row in cut:
        ends = ends_kept(solution.job, row)
        one, lies = len(ends) == 1, row.kind in LYING
        assert ("one end as delivered" in row.note) == one or lies, row.mark
        assert len(ends) != 2 or "one end as delivered" not in row.note, row.mark


@pytest.mark.parametrize("name", ["crooked-study", "jack-arch-parlour"])
def test_the_words_of_all_details_are_set_alike(name: str) -> None:
    """Lines stand a little apart below every detail, or below none."""
    solution = solution_of(name)
    pitches = set[float]()
    for drawing in draw_details(solution, 4.0):
        lines = [
            x
            for x in drawing.ink
            if isinstance(x, Words) and x.column and not x.goes_on
        ]
        for one, other in pairwise(lines):
            down = one.at[1] - other.at[1]
            rows = one.at[0] == other.at[0]
            if rows and 0 < down < 3 * one.height_on_paper * drawing.scale:
                pitches.add(round(down / drawing.scale / one.height_on_paper, 3))
    # A paragraph of one line, and one of two.
    assert len(pitches - {round(min(pitches) + 1.8, 3)}) == 1, pitches


@pytest.mark.parametrize("name", ["banded-breast", "common-sitting-room"])
def test_no_figure_hangs_right_above_the_title_of_its_detail(name: str) -> None:
    solution = solution_of(name)
    rows = [row for row in solution.cut_list if row.is_cut and not row.unfolded]
    text, scale = STYLES[solution.lengths].text, scale_of(solution)
    for row in rows:
        if row.kind in CORNER_KINDS or row.shapes:
            continue
        drawing = draw_cut(solution.job, row, scale).lettered()
        figures = [
            box[1]
            for words, box in lettering_of(drawing)
            if words.layer == DIMENSIONS and not words.angle_deg
        ]
        heads = [
            box[3] for words, box in lettering_of(drawing) if "REQUIRED" in words.text
        ]
        assert min(figures) - max(heads) >= 1.4 * text * scale, row.mark


def test_all_that_is_drawn_of_a_mark_stands_side_by_side() -> None:
    """Of the crooked study two corner units are sawn to shape: two drawings each."""
    solution = solution_of("crooked-study")
    sheets = cut_pieces.set_out_details(solution, scale_of(solution))
    bases = [
        (each.row.mark, number, each.at[1])
        for number, sheet in enumerate(sheets)
        for each in sheet
    ]
    pairs = [(a, b) for a, b in pairwise(bases) if a[0] == b[0]]
    assert len(pairs) == 2
    assert all(a[1] == b[1] and a[2] == pytest.approx(b[2]) for a, b in pairs)


def off_base(solution: Solution) -> list[str]:
    """Return what stands off the base line of the one before it, or its mark off.

    Two that follow on each other are in one row where the second is further right and
    as high up as the first, at least in part.
    """
    off = []
    for details in cut_pieces.set_out_details(solution, scale_of(solution)):
        boxes = [extent_of(moved_to(x)) for x in details]
        for (a, one), (b, other) in pairwise(zip(boxes, details, strict=True)):
            beside = b[0] > a[2] and b[3] > a[1] and a[3] > b[1]
            levels = (one.at[1] - other.at[1], head_of(one) - head_of(other))
            if beside and max(map(abs, levels)) > 1e-6:
                off.append(other.row.mark)
    return off


def head_of(detail: sharing.Detail) -> float:
    """Return the level at which a detail's mark is lettered, among the others."""
    (y,) = (
        x.at[1]
        for x in moved_to(detail).ink
        if isinstance(x, Words) and "REQUIRED" in x.text
    )
    return y


def moved_to(detail: sharing.Detail) -> Drawing:
    """Return a detail where it stands among the others."""
    ink = tuple(moved(x, detail.at) for x in detail.drawing.ink)
    return replace(detail.drawing, ink=ink)


def test_all_of_a_row_stand_on_one_base_line(demo: str) -> None:
    """A detail's own origin is the foot of its piece, or the unit's outside corner."""
    assert off_base(solution_of(demo)) == []
