"""What is always true of sawn pieces, marks and fillets, each damage noticed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.masonry.laying.proof_pieces import prove_pieces
from shopdraw.masonry.wall.bond_rules import Fillet
from shopdraw.masonry.wall.layout import rectangle
from tests.demos import solution_of


def differences(solution, layout):
    return list(prove_pieces(solution.job, solution.coursing, layout))


def with_piece(layout, old, new):
    pieces = tuple(new if piece is old else piece for piece in layout.pieces)
    return replace(layout, pieces=pieces)


@pytest.mark.parametrize("name", ["segmental-kitchen", "crooked-study"])
def test_a_demo_s_pieces_are_as_they_must_be(name):
    solution = solution_of(name)
    assert not differences(solution, solution.layout)


@pytest.mark.parametrize(
    ("points", "rule"),
    [
        # A strip, a knife edge, a scrap: in the place of a piece beside the arch.
        (((30, 35), (37, 35), (37, F(71, 2)), (30, F(71, 2))), "least width"),
        (((30, 35), (36, F(297, 8)), (30, F(297, 8))), "sharpest corner"),
        (((30, 35), (32, 35), (32, 37), (31, 37)), "least area"),
    ],
)
def test_a_shape_that_nobody_reports_is_noticed(points, rule):
    solution = solution_of("segmental-kitchen")
    old = next(x for x in solution.layout.pieces if x.course == 14 and x.shapes)
    ring = tuple((F(x), F(y)) for x, y in points)
    shape = replace(old.outlines[0], points=ring, cuts=())
    new = replace(old, outlines=(shape,), mark="B99")
    found = differences(solution, with_piece(solution.layout, old, new))
    assert f"{old.id} can't be sawn: it breaks the {rule}, and nothing says so" in found


def test_a_short_piece_that_nobody_reports_is_noticed():
    solution = solution_of("segmental-kitchen")
    old = next(
        x
        for x in solution.layout.pieces
        if x.kind == "stretcher" and x.place == "front"
    )
    one = old.outlines[0]
    short = rectangle(one.face, one.left, one.bottom, one.left + F(15, 8), one.top)
    new = replace(old, outlines=(short,), length=F(15, 8), mark="B99", is_cut=True)
    found = differences(solution, with_piece(solution.layout, old, new))
    assert any(
        x.startswith(f"{old.id} can't be sawn: it breaks the least") for x in found
    )


@pytest.mark.parametrize(("off", "is_noticed"), [(F(1, 32), False), (F(1, 20), True)])
def test_a_piece_that_is_not_what_its_mark_says_is_noticed(off, is_noticed):
    solution = solution_of("segmental-kitchen")
    old = [x for x in solution.layout.pieces if x.mark == "B6"][1]
    one = old.outlines[0]
    longer = rectangle(one.face, one.left, one.bottom, one.right + off, one.top)
    new = replace(old, outlines=(longer,), length=old.length + off)
    found = differences(solution, with_piece(solution.layout, old, new))
    assert (f"{old.id} is not what its mark B6 says" in found) == is_noticed


def test_a_piece_left_too_short_to_be_scribed_is_noticed():
    solution = solution_of("crooked-study")
    old = next(x for x in solution.layout.pieces if x.left_long)
    made = old.left_long[0]
    less = rectangle(made.face, made.left, made.bottom, made.right - 1, made.top)
    new = replace(old, left_long=(less,))
    found = differences(solution, with_piece(solution.layout, old, new))
    assert f"{old.id} is not left long enough to be scribed on the wall" in found


def damaged_fillet(change):
    solution = solution_of("segmental-kitchen")
    first, *others = solution.layout.fillets
    fillets = (change(first), *others)
    return differences(solution, replace(solution.layout, fillets=fillets))


def test_a_fillet_that_brick_would_fill_is_noticed():
    def taller(fillet: Fillet) -> Fillet:
        points = ((F(27), F(33)), (F(28), F(33)), (F(28), F(34)), (F(27), F(34)))
        return replace(fillet, points=points)

    found = damaged_fillet(taller)
    assert (
        "the fillet in course 13 of the front face is thick enough for brick" in found
    )


def test_a_fillet_where_brick_lies_is_noticed():
    def aside(fillet: Fillet) -> Fillet:
        return replace(fillet, points=tuple((x - 2, y) for x, y in fillet.points))

    found = damaged_fillet(aside)
    assert "the fillet in course 13 of the front face is where brick is" in found


def test_a_fillet_that_is_told_too_short_is_noticed():
    found = damaged_fillet(lambda fillet: replace(fillet, length=F(1)))
    assert "the fillet in course 13 of the front face is longer than 1" in found
