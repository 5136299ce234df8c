"""The piece that an arch is turned on: straight under a jack arch, a half ring."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from math import hypot

import pytest

from shopdraw.masonry.marks.templates import TurningPiece, turning_piece
from shopdraw.masonry.wall.arch import Arch
from tests.demos import solution_of


def piece_of(name: str, **changes: object) -> tuple[TurningPiece, Arch]:
    solution = solution_of(name)
    assert solution.layout.arch is not None
    arch = replace(solution.layout.arch, **changes)  # type: ignore[arg-type]
    return turning_piece(solution.job, solution.surround, arch), arch


def test_a_jack_arch_without_camber_is_turned_on_a_straight_piece() -> None:
    piece, arch = piece_of("jack-arch-parlour", radius=0.0, rise=F(0))
    assert (piece.radius, piece.centre) == (0, 0)
    # An eighth of an inch clear of each jamb.
    half = float(arch.span / 2 - F(1, 8))
    assert piece.curve == ((0, 0), (half, 0))
    # Each joint is marked where it meets the straight edge, and points away from where
    # all of them meet, below the spring line.
    below = float(arch.spring - arch.centre[1])
    assert below > 0
    assert len(piece.marks) > 4
    for (x, y), lean in piece.marks:
        assert y == 0
        assert (lean > 0) == (x > 1e-6)
    feet = {
        round(float(x - arch.centre[0]), 9)
        for place in arch.feet
        for x, _ in arch.voussoirs[place][:2]
        if x >= arch.centre[0]
    }
    assert {round(x, 9) for (x, _), _ in piece.marks} == feet


@pytest.mark.parametrize("name", ["semicircular-dining-room", "segmental-kitchen"])
def test_a_round_one_s_edge_is_as_far_from_its_centre_all_along(name: str) -> None:
    piece, arch = piece_of(name)
    assert 0 < piece.radius < arch.radius
    for x, y in (*piece.curve, *(at for at, _ in piece.marks)):
        assert hypot(x, y - piece.centre) == pytest.approx(piece.radius)
    assert piece.curve[0] == pytest.approx((0, piece.centre + piece.radius))
    # To its right end, or down to the spring line where it comes there before.
    x, y = piece.curve[-1]
    assert x == pytest.approx(piece.half) or y == pytest.approx(0)
    assert min(y for _, y in piece.curve) > -1e-9
