"""Brick that turns into splayed jambs, by hand: see `tests.splayed` for the wall."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.errors import NotLaid, NotProved
from shopdraw.job.reading import parse_job
from shopdraw.job.turning import SQUARE, along_mitre, cos_sin, grown_at, taken_at_mitre
from shopdraw.masonry.laying.cuts import cut_level
from shopdraw.masonry.laying.folded import corners_close
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.folding import far_end
from shopdraw.masonry.wall.layout import Piece
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from tests.demos import CONFIGS
from tests.splayed import COS, HALF_TAN, SIN, splayed, text_of

THICK = 0.625
NEAR = 1e-5


def changed(solution: Solution, old: Piece, new: Piece) -> list[str]:
    """Return what the proof says of the layout with one piece changed."""
    pieces = tuple(new if x is old else x for x in solution.layout.pieces)
    layout = replace(solution.layout, pieces=pieces)
    with pytest.raises(NotProved) as refused:
        prove_layout(solution.job, solution.surround, solution.coursing, layout)
    return str(refused.value).splitlines()


def test_an_angle_takes_what_the_tables_say() -> None:
    assert cos_sin(F(60))[0] == F(1, 2)
    assert float(cos_sin(F(60))[1]) == pytest.approx(SIN, abs=1e-6)
    # 5/8 x 0.5773503 = 0.3608439; a square corner takes all of it.
    assert float(taken_at_mitre(F(5, 8), F(60))) == pytest.approx(0.3608439, abs=1e-6)
    assert taken_at_mitre(F(5, 8), SQUARE) == F(5, 8)
    # A saw of 1/8 takes 1/8 / cos 30 = 0.1443376 of the leg.
    assert float(along_mitre(F(1, 8), F(60))) == pytest.approx(0.1443376, abs=1e-6)
    # 1 x 0.5773503 is 9.24 sixteenths, so 9; 25.4 x 0.5773503 is 14.66 mm, so 15.
    assert grown_at(F(1), F(60), "in") == F(9, 16)
    assert grown_at(F(254, 10), F(60), "mm") == 15


def test_the_finished_corner_stands_off_the_substrate_along_the_mitre() -> None:
    # 34 in less 9/16 at each jamb leaves 32 7/8 in the face. A square jamb takes 1 in.
    opening = splayed().surround.opening
    assert opening.brick_right - opening.brick_left == F(263, 8)
    square = splayed('jamb_return = "7 5/8 in"').surround.opening
    assert square.brick_right - square.brick_left == 32


def test_the_developed_plane_has_the_legs_at_their_length_outside() -> None:
    solution = splayed()
    units = [x for x in solution.layout.pieces if x.is_made]
    assert len(units) == 2 * solution.coursing.courses_below_head
    for unit in units:
        assert unit.turn == 60
        assert set(unit.legs) == {F(61, 8), F(29, 8)}
        assert not unit.is_trimmed
    for reveal in solution.surround.reveals:
        assert reveal.width == F(61, 8)


def test_the_jambs_end_in_plan_where_their_angle_takes_them() -> None:
    # The front is 56 1/8 wide, the opening 32 7/8: the left corner stands at 11 5/8. A
    # jamb goes 7 5/8 x 1/2 = 3 13/16 into the opening, 7 5/8 x 0.866 = 6.6034 back.
    surround = splayed().surround
    left, right = (far_end(surround, reveal) for reveal in surround.reveals)
    assert float(left[0]) == pytest.approx(11.625 + 3.8125, abs=NEAR)
    assert float(right[0]) == pytest.approx(56.125 - 11.625 - 3.8125, abs=NEAR)
    assert float(left[1]) == float(right[1]) == pytest.approx(6.6034437, abs=NEAR)


def test_a_mitred_corner_unit_in_plan_by_hand() -> None:
    solution = splayed()
    course = solution.coursing.courses[0]
    cuts = cut_level(solution.surround, solution.layout, course, F(5, 8))
    cut = next(x for x in cuts if x.piece.is_made)
    on_front = next(x for x in cut.outlines if x.face == "front")
    front = float(on_front.right - on_front.left)
    jamb = float(sum(cut.piece.legs)) - front
    x, y = 11.625 + jamb * COS, jamb * SIN
    wanted = [
        (11.625 - front, 0.0),
        (11.625, 0.0),
        (x, y),
        # The back lies 5/8 to the left of the jamb's face, square to it.
        (x - THICK * SIN, y + THICK * COS),
        # Where both backs meet: the mitre takes 0.3608 of the leg on the front.
        (11.625 - THICK * HALF_TAN, THICK),
        (11.625 - front, THICK),
    ]
    for found, hand in zip(cut.ring, wanted, strict=True):
        assert float(found[0]) == pytest.approx(hand[0], abs=NEAR)
        assert float(found[1]) == pytest.approx(hand[1], abs=NEAR)


def test_the_right_jamb_mirrors_the_left_one_in_plan() -> None:
    solution = splayed()
    course = solution.coursing.courses[1]
    cuts = cut_level(solution.surround, solution.layout, course, F(5, 8))
    places = {
        (round(float(x), 4), round(float(y), 4)) for cut in cuts for x, y in cut.ring
    }
    assert places == {(round(56.125 - x, 4), y) for x, y in places}


def test_a_corner_unit_with_another_angle_than_its_corner_is_refused() -> None:
    solution = splayed()
    unit = next(x for x in solution.layout.pieces if x.is_made)
    said = changed(solution, unit, replace(unit, turn=SQUARE))
    assert said == [f"{unit.id} turns by 90 degrees, but its corner by 60"]


def test_a_leg_that_the_mitre_leaves_nothing_of_is_refused() -> None:
    # The mitre takes 0.361 in: a leg of 5/16 in would have no inside at all.
    solution = splayed()
    unit = next(x for x in solution.layout.pieces if x.is_made)
    short = unit.outlines[1]
    fold = solution.surround.jamb_folds[0]
    ends = (fold, fold + F(5, 16))
    if short.right == fold:
        ends = (fold - F(5, 16), fold)
    stub = replace(
        short,
        points=tuple(
            (ends[0] if x == short.left else ends[1], y) for x, y in short.points
        ),
    )
    legs = (unit.legs[0], F(5, 16))
    said = changed(
        solution, unit, replace(unit, outlines=(unit.outlines[0], stub), legs=legs)
    )
    assert any("its mitre takes 0.361 of it" in line for line in said)


def test_a_corner_unit_off_its_corner_is_refused() -> None:
    solution = splayed()
    unit = next(x for x in solution.layout.pieces if x.is_made)
    off = replace(unit, outlines=tuple(x.moved(F(1, 4), F(0)) for x in unit.outlines))
    said = changed(solution, unit, off)
    assert f"{unit.id} is a corner unit, but does not lie at an outside corner" in said


def test_brick_that_run_into_each_other_in_plan_are_refused() -> None:
    """A jamb's brick set before its corner stands in the front's, seen from above."""
    solution = splayed()
    piece = next(
        x
        for x in solution.layout.pieces
        if x.kind == "stretcher" and x.place == "left reveal"
    )
    moved = replace(piece, outlines=(piece.outlines[0].moved(F(-5), F(0)),))
    pieces = tuple(moved if x is piece else x for x in solution.layout.pieces)
    layout = replace(solution.layout, pieces=pieces)
    sound = corners_close(
        solution.job, solution.surround, solution.coursing, solution.layout
    )
    assert [*sound] == []
    said = corners_close(solution.job, solution.surround, solution.coursing, layout)
    assert any(f"{piece.id}" in line and "run into" in line for line in said)


def test_a_leg_that_has_no_room_for_a_mitre_is_refused_in_words() -> None:
    """The front is 2 1/4 in wide beside the opening, with a corner at both ends."""
    text = text_of('jamb_return = "11 in"\nsplay = 26', 'right_return = "14 1/4 in"')
    for old, new in (
        ('width = "54 1/8 in"', 'width = "31 in"'),
        ('width = "34 in"', 'width = "26 1/2 in"'),
        ('measured_to = "substrate"', 'measured_to = "finish"'),
    ):
        assert old in text
        text = text.replace(old, new)
    text += '[bond]\npattern = "stack"\n'
    with pytest.raises(NotLaid, match="beside the jambs there is room"):
        solve(parse_job(text, "narrow.toml"))


def test_a_course_that_projects_goes_past_square_corners_and_not_splayed_ones() -> None:
    """Above jambs that splay by 15 degrees three courses step out by 3/16 in each."""
    text = (CONFIGS / "banded-breast.toml").read_text("utf-8")
    assert "[opening]\n" in text
    jamb = '[opening]\njamb_return = "7 5/8 in"\nsplay = 15\n'
    text = text.replace("[opening]\n", jamb).replace('"mitre"', '"butt"')
    solution = solve(parse_job(text, "banded.toml"))
    assert solution.surround.splay == 15
    assert any(piece.is_made for piece in solution.layout.pieces)
    out = [x.projection for x in solution.coursing.courses if x.projection]
    assert out == [F(3, 16), F(3, 8), F(9, 16)]
    top, thick = solution.coursing.courses[-1], F(5, 8)
    cuts = cut_level(solution.surround, solution.layout, top, thick)
    corner = next(x for x in cuts if len(x.ring) == 6 and x.ring[0][0] < 0)
    assert corner.ring[0] == (-out[-1], -out[-1])
    assert (thick - out[-1], thick - out[-1]) in corner.ring
    # A unit at its outside corner that goes past it by less is noticed.
    unit = corner.piece
    short = tuple(
        x.moved(F(1, 16) * (1 if x.face == "front" else -1), F(0))
        for x in unit.outlines
    )
    said = changed(solution, unit, replace(unit, outlines=short))
    assert f"{unit.id} is a corner unit, but does not lie at an outside corner" in said


@pytest.mark.parametrize(
    "turns",
    [
        'at_fold = "mitre"',
        'soldier_corner = { long_leg = "4 in", short_leg = "3 in" }',
    ],
)
def test_a_standing_band_does_not_turn_into_jambs_that_splay(turns: str) -> None:
    band = '[[band]]\nkind = "soldier"\ncourse = {}'

    def wall(course: int, opening: str) -> str:
        text = text_of(opening, more=band.format(course))
        return text.replace("corner = {", f"{turns}\ncorner = {{", 1)

    splays = 'jamb_return = "6 in"\nsplay = 10'
    with pytest.raises(NotLaid, match="course 2 turns into jambs that splay"):
        solve(parse_job(wall(2, splays), "band.toml"))
    # Above the opening it meets no jamb, and a square jamb it may turn into.
    solve(parse_job(wall(12, splays), "band.toml"))
    solve(parse_job(wall(2, 'jamb_return = "6 in"'), "band.toml"))
