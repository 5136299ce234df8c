"""The review of panels in the face: pieces that can be sawn, places mortar takes."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.wall.layout import Layout, Outline, Piece
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.review.panels import review_panels
from tests.findings import by_key
from tests.masonry.inset.panel_jobs import job_of

F = Fraction
Ring = tuple[tuple[Fraction, Fraction], ...]


@cache
def laid() -> tuple[Job, Layout]:
    job = job_of(('pattern = "herringbone 45"', 'pattern = "stack"'))
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    return job, lay_bond(job, surround, coursing)


def box(wide: str, high: str) -> Ring:
    """Return a rectangle that begins where the panel of the demo does."""
    left, bottom = laid()[1].panels[0].box[:2]
    right, top = left + F(wide), bottom + F(high)
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def corner(long: str, high: str) -> Ring:
    """Return a triangle with a square corner where the panel begins."""
    lower_left, lower_right, _, upper_left = box(long, high)
    return lower_left, lower_right, upper_left


def with_pieces(*rings: Ring) -> Layout:
    """Return the layout with its panel's first pieces sawn to other outlines."""
    layout = laid()[1]
    sawn: dict[str, Piece] = {}
    for piece, ring in zip(in_panel(layout), rings, strict=False):
        outline = Outline("front", ring)
        sawn[piece.id] = replace(piece, outlines=(outline,), is_cut=True)
    pieces = tuple(sawn.get(piece.id, piece) for piece in layout.pieces)
    return replace(layout, pieces=pieces)


def in_panel(layout: Layout) -> list[Piece]:
    return [piece for piece in layout.pieces if piece.place == "panel"]


def test_a_panel_of_whole_brick_is_as_narrow_as_a_brick_is_high() -> None:
    found = by_key(review_panels(*laid()))
    assert list(found) == [("panel-pieces", 1)]
    pieces = found["panel-pieces", 1]
    # Modular brick are 2 1/4 in high; the job allows 3/4 in.
    assert (pieces.status, pieces.measured, pieces.margin) == (
        "passed",
        F(9, 4),
        F(3, 2),
    )
    assert "the narrowest piece is 2 1/4 in" in pieces.says


def test_a_face_without_a_panel_has_none_of_these_findings() -> None:
    job, layout = laid()
    assert list(review_panels(job, replace(layout, panels=()))) == []


def test_a_piece_too_narrow_to_saw_is_named_with_what_it_measures() -> None:
    layout = with_pieces(box("7.625", "0.5"))
    found = by_key(review_panels(laid()[0], layout))["panel-pieces", 1]
    (first,) = in_panel(layout)[:1]
    assert (found.status, found.measured, found.pieces) == (
        "failed",
        F(1, 2),
        (first.id,),
    )
    assert (
        f"1 piece falls short of what can be sawn; the worst is {first.id}"
        in found.says
    )
    assert "1/2 in wide, and 3/4 in is the least" in found.says


def test_several_that_fall_short_are_counted_and_the_worst_is_told() -> None:
    layout = with_pieces(box("7.625", "0.625"), box("7.625", "0.5"))
    found = by_key(review_panels(laid()[0], layout))["panel-pieces", 1]
    first, second = (piece.id for piece in in_panel(layout)[:2])
    assert found.pieces == (first, second)
    assert (
        f"2 pieces fall short of what can be sawn; the worst is {second}" in found.says
    )


def test_a_knife_edge_is_short_by_its_corner_and_has_no_width_to_hold() -> None:
    # 1 1/2 in 6 is 14 degrees: its end is sharp, its width 1.46 in.
    found = by_key(review_panels(laid()[0], with_pieces(corner("6", "1.5"))))
    pieces = found["panel-pieces", 1]
    assert (pieces.status, pieces.measured, pieces.limit) == ("failed", None, None)
    assert "a corner of 14 degrees, and 30 is the least" in pieces.says


def test_pieces_beside_the_panel_are_not_its_own() -> None:
    layout = laid()[1]
    beside = next(piece for piece in layout.pieces if piece.place != "panel")
    sliver = replace(
        beside, outlines=(Outline("front", box("3", "0.25")),), is_cut=True
    )
    pieces = tuple(sliver if x is beside else x for x in layout.pieces)
    found = by_key(review_panels(laid()[0], replace(layout, pieces=pieces)))
    assert found["panel-pieces", 1].status == "passed"


@pytest.mark.parametrize(
    ("rings", "widest", "says"),
    [
        (
            (box("5", "0.25"),),
            F(1, 4),
            "1 place at the pattern's edge is left to mortar",
        ),
        (
            (box("5", "0.25"), box("0.375", "4")),
            F(3, 8),
            "2 places at the pattern's edge are left to mortar, the widest 3/8 in",
        ),
    ],
)
def test_what_mortar_takes_is_as_wide_as_the_widest_of_its_places(
    rings: tuple[Ring, ...], widest: Fraction, says: str
) -> None:
    job, layout = laid()
    panel = replace(layout.panels[0], left_out=rings)
    found = by_key(review_panels(job, replace(layout, panels=(panel,))))
    left_out = found["panel-left-out", 1]
    assert left_out.measured == widest
    assert says in left_out.says
    assert left_out.status == ("passed" if widest <= left_out.limit else "failed")
