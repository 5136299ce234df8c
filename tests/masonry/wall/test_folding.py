"""Faces and outlines on the developed plane and in plan: by hand, and by shapely."""

from __future__ import annotations

from fractions import Fraction as F
from math import cos, radians, sin

import pytest
import shapely

from shopdraw.job.reading import parse_job
from shopdraw.masonry.wall.folding import far_end, place_face
from shopdraw.masonry.wall.form import Face, Surround
from shopdraw.masonry.wall.layout import Outline
from shopdraw.masonry.wall.surround import trace_surround
from tests.aslant import CHAMFERS, SPLAYED
from tests.splayed import RETURNS, text_of

LEANING = Outline("front", ((F(0), F(0)), (F(7), F(1)), (F(8), F(3)), (F(-1), F(2))))
SQUARE = Outline("front", ((F(1), F(2)), (F(4), F(2)), (F(4), F(3)), (F(1), F(3))))


def surround_of(face: str) -> Surround:
    return trace_surround(parse_job(text_of("", face), "folded.toml"))


def test_an_outline_is_met_at_a_level_and_upright_where_shapely_meets_it() -> None:
    shape = shapely.Polygon([(float(x), float(y)) for x, y in LEANING.points])
    for level in (F(1, 2), F(1), F(3, 2), F(2), F(5, 2)):
        line = shapely.LineString([(-9, float(level)), (9, float(level))])
        left, _, right, _ = shape.intersection(line).bounds
        assert LEANING.at_level(level) == pytest.approx((left, right))
    for x in (F(-1, 2), F(1), F(7), F(15, 2)):
        line = shapely.LineString([(float(x), -9), (float(x), 9)])
        _, low, _, high = shape.intersection(line).bounds
        assert LEANING.upright_at(x) == pytest.approx((low, high))
    assert SQUARE.upright_at(F(1)) == SQUARE.upright_at(F(4)) == (2, 3)
    assert SQUARE.at_level(F(2)) == SQUARE.at_level(F(3)) == (1, 4)


def test_only_four_corners_that_stand_square_are_a_rectangle() -> None:
    assert SQUARE.is_rectangle
    assert not LEANING.is_rectangle
    assert not Outline("front", SQUARE.points[:3]).is_rectangle
    for along, up in ((F(1), F(0)), (F(0), F(1))):
        # Level at foot and head and leaning, or upright at both ends and aslant.
        a, b, (x, y), d = SQUARE.points
        pushed = (a, (b[0], b[1] + up), (x + along, y + up), (d[0] + along, d[1]))
        assert not Outline("front", pushed).is_rectangle


def test_a_cut_faces_the_way_that_its_side_looks_most() -> None:
    ways = [[*Outline("front", LEANING.points, (n,)).sawn_ends()] for n in range(4)]
    assert ways == [["bottom"], ["right"], ["top"], ["left"]]
    assert [*LEANING.sawn_ends()] == []


def test_an_end_that_is_sawn_aslant_or_a_point_is_not_square() -> None:
    assert SQUARE.square_ends() == ("left", "right")
    assert SQUARE.square_ends(upright=True) == ("bottom", "top")
    assert Outline("front", SQUARE.points, (1,)).square_ends() == ("left",)
    assert LEANING.square_ends() == ()
    (a, b, c, d) = SQUARE.points
    pointed = Outline("front", (a, b, (F(5), F(5, 2)), c, d))
    assert pointed.square_ends() == ("left",)


def test_an_outline_at_the_origin_keeps_its_form() -> None:
    extent = LEANING.left, LEANING.right, LEANING.bottom, LEANING.top
    assert extent == (-1, 8, 0, 3)
    moved = LEANING.at_origin()
    assert (moved.left, moved.bottom) == (0, 0)
    assert moved.moved(F(-1), F(0)) == LEANING


@pytest.mark.parametrize(
    ("name", "seen", "corner"),
    [
        ("right", (F(0), F(9)), F(9)),
        ("left alcove", (F(0), F(9)), F(9)),
        ("left", (F(1), F(10)), F(1)),
        ("right alcove", (F(1), F(10)), F(1)),
    ],
)
def test_a_face_is_seen_up_to_what_it_goes_on_behind(
    name: str, seen: tuple[F, F], corner: F
) -> None:
    face = Face(name, F(0), F(10), behind=F(1))  # type: ignore[arg-type]
    assert (face.seen, face.inside_corner) == (seen, corner)
    plain = Face(name, F(0), F(10))  # type: ignore[arg-type]
    assert (plain.seen, plain.inside_corner) == ((F(0), F(10)), None)


@pytest.mark.parametrize(("face", "turn"), [(RETURNS, 90), (SPLAYED, 60)])
def test_a_return_goes_back_from_its_corner_at_its_angle(face: str, turn: int) -> None:
    surround = surround_of(face)
    front = surround.front
    for name, way, foot in (("left", -1, F(0)), ("right", 1, front.width)):
        back = surround.face(name)
        assert back.turn == turn
        placed = place_face(surround, name)
        assert placed.corner == (foot, 0)
        assert surround.turn_at(placed.fold) == turn
        x, y = far_end(surround, back)
        long = float(back.width)
        assert float(x) == pytest.approx(float(foot) + way * long * cos(radians(turn)))
        assert float(y) == pytest.approx(long * sin(radians(turn)))
        # Behind a face is towards the middle of the chimney.
        inside, _ = placed.point(placed.fold, F(1))
        assert (inside - foot) * way < 0
    assert surround.flank("left") == (surround.face("left"),)
    with pytest.raises(KeyError):
        surround.turn_at(front.left + 1)


def test_a_return_beyond_a_chamfer_turns_by_what_is_left_to_a_square() -> None:
    surround = surround_of(CHAMFERS)
    assert surround.turns == {45}
    assert [face.name for face in surround.flank("right")] == ["right chamfer", "right"]
    chamfer, back = surround.flank("right")
    x, y = far_end(surround, back)
    aside = float(chamfer.width) * sin(radians(45))
    assert float(x - surround.front.width) == pytest.approx(aside)
    assert float(y) == pytest.approx(aside + float(back.width))
    assert surround.ends(surround.front, F(1)) == (
        surround.front.left - 1,
        surround.front.right + 1,
    )
