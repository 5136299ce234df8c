"""Square cuts and common sizes: by hand, and against every choice of sizes."""

from __future__ import annotations

from fractions import Fraction as F
from itertools import combinations, pairwise
from random import Random

import pytest

from shopdraw.job.reading import parse_job
from shopdraw.masonry.sawing.squaring import fewest_sizes, squared
from shopdraw.masonry.wall.layout import Outline, flat_piece
from shopdraw.pipeline import solve
from tests.demos import CONFIGS

GRID = F(1, 16)
TOLERANCE = F(1, 32)


def piece_of(*points, cuts):
    ring = tuple((F(x), F(y)) for x, y in points)
    edges = tuple(dict.fromkeys(Outline("front", ring, cuts).sawn_ends()))
    return flat_piece("stretcher", 3, Outline("front", ring, cuts), edges)


def test_a_taper_under_the_tolerance_is_cut_square_where_it_is_tightest():
    piece = piece_of((0, 0), (5, 0), (F(499, 100), 2), (0, 2), cuts=(1,))
    square = squared(piece, TOLERANCE)
    right = F(499, 100)
    assert square.outlines[0].points == ((0, 0), (right, 0), (right, 2), (0, 2))
    assert square.outlines[0].is_rectangle
    assert square.length == F(499, 100)
    assert square.cut_edges == ("right",)
    assert not square.shapes


def test_a_taper_of_the_tolerance_is_kept():
    piece = piece_of((0, 0), (5, 0), (5 - TOLERANCE, 2), (0, 2), cuts=(1,))
    assert squared(piece, TOLERANCE) == piece


def test_a_hearth_s_taper_stays_beside_a_jamb_that_is_cut_square():
    piece = piece_of((0, F(1, 4)), (5, 0), (F(499, 100), 2), (0, 2), cuts=(0, 1))
    (outline,) = squared(piece, TOLERANCE).outlines
    assert [x for x, _ in outline.points] == [0, F(499, 100), F(499, 100), 0]
    assert outline.bottom == F(1, 4) - F(499, 100) / 20
    assert outline.cuts == (0, 1)


def test_a_head_that_sags_is_cut_square_at_its_lowest():
    piece = piece_of(
        (0, F(1, 50)), (1, 0), (F(9, 4), F(1, 90)), (F(9, 4), 7), (0, 7), cuts=(0, 1)
    )
    assert squared(piece, TOLERANCE).outlines[0].bottom == F(1, 50)


@pytest.mark.parametrize("seed", range(30))
def test_no_choice_of_sizes_is_fewer(seed):
    random = Random(seed)
    ranges = []
    for _ in range(random.randrange(1, 7)):
        middle = F(random.randrange(3 * 64, 4 * 64), 64)
        wide = F(random.randrange(2, 9), 64)
        ranges.append((middle - wide, middle + wide))
    sizes = fewest_sizes(ranges, GRID)
    for (low, high), size in zip(ranges, sizes, strict=True):
        assert low <= size <= high
        assert size % GRID == 0
    printed = [
        GRID * n
        for n in range(2 * 16, 5 * 16)
        if any(low <= GRID * n <= high for low, high in ranges)
    ]
    fewest = next(
        count
        for count in range(1, 10)
        for some in combinations(printed, count)
        if all(any(low <= x <= high for x in some) for low, high in ranges)
    )
    assert len(set(sizes)) == fewest


def test_a_size_between_two_figures_is_as_large_as_there_is_room():
    most = F(66, 32) - F(1, 100)
    assert fewest_sizes([(F(65, 32), most)], GRID) == (most,)


# ------------------------------------------------------------- the crooked demo's jambs


def crooked(fit):
    text = (CONFIGS / "crooked-study.toml").read_text()
    assert "[edges]\n" in text
    return solve(parse_job(text.replace("[edges]\n", f'[edges]\nfit = "{fit}"\n'), "x"))


@pytest.fixture(scope="module")
def sawn():
    return crooked("sawn")


def test_leaning_jambs_make_a_handful_of_marks(sawn):
    # Each jamb leans 1/4 in; sawn one by one, stretchers alone made 35 marks.
    rows = [row for row in sawn.cut_list if row.kind == "stretcher" and row.is_cut]
    assert len(rows) <= 18
    soldiers = [row for row in sawn.cut_list if row.kind == "soldier"]
    assert len(soldiers) == 3


def test_pieces_sawn_at_a_jamb_are_as_printed_and_their_joints_in_range(sawn):
    head = sawn.job.joints.head
    jambs = sawn.surround.as_built.jambs
    rows = {}
    for piece in sawn.layout.pieces:
        for outline in piece.outlines:
            if outline.face == "front" and piece.kind != "soldier":
                rows.setdefault(piece.course, []).append((outline, piece))
    seen = 0
    for course, row in rows.items():
        row.sort(key=lambda each: each[0].left)
        for (a, left), (b, right) in pairwise(row):
            gap = b.left - a.right
            if gap > 10:
                continue
            assert head.least <= gap <= head.most, (course, left.id, right.id)
        if course > 1:
            for outline, piece in row:
                near = min(
                    abs(outline.right - jambs[0][0][0]),
                    abs(outline.left - jambs[1][0][0]),
                )
                if piece.is_cut and not piece.shapes and near < 1:
                    assert piece.length % GRID == 0, piece.id
                    seen += 1
    assert seen > 20


def test_every_piece_of_a_mark_has_one_outline(sawn):
    sizes = {}
    for piece in sawn.layout.pieces:
        if not piece.shapes:
            size = piece.length, piece.height, piece.legs
            assert sizes.setdefault(piece.mark, size) == size


def test_one_end_stays_as_delivered_where_the_other_is_sawn_to_a_jamb(sawn):
    for row in sawn.cut_list:
        if (
            row.kind == "stretcher"
            and row.is_cut
            and row.length < sawn.job.brick.length
        ):
            assert "one end as delivered" in row.note, row.mark


def test_a_steep_bit_of_an_arch_is_not_what_its_whole_edge_is_squared_to():
    # The side at the lower right is 1/50 long and steep, the long one over it is not.
    piece = piece_of(
        (0, 0), (1, 0), (F(101, 100), F(1, 50)), (3, 1), (4, F(7, 4)), (4, 2), (0, 2),
        cuts=(1, 2, 3),
    )  # fmt: skip
    assert squared(piece, TOLERANCE).outlines[0].right == 4
