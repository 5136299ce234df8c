"""Corners that are not square on paper: figures by hand, damage that makes red."""

from __future__ import annotations

import pytest
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Measure, Stroke, Words
from shopdraw.views.making.mitred_units import put_together
from shopdraw.views.parts.aslant import width_seen
from shopdraw.views.wall.corner import draw_corner_interlock
from shopdraw.views.wall.elevation import draw_elevation
from shopdraw.views.wall.plans import draw_plan
from shopdraw.views.wall.returns import draw_return
from shopdraw.views.wall.turned import corners_shown, draw_turned_corner
from shopdraw.views.words.notes import general_notes
from tests.aslant import CHAMFERS, SPLAYED, breast
from tests.splayed import RETURNS
from tests.views.lettering import collisions


def figures(drawing: Drawing, axis: str) -> list[str]:
    return [x.words for x in drawing.ink if isinstance(x, Measure) and x.axis == axis]


def said(drawing: Drawing) -> list[str]:
    return [x.text for x in drawing.ink if isinstance(x, Words)]


def spots(drawing: Drawing, layer: str) -> set[tuple[float, float]]:
    return {
        (round(x, 3), round(y, 3))
        for stroke in drawing.ink
        if isinstance(stroke, Stroke) and stroke.layer == layer
        for x, y in stroke.points
    }


def test_the_plan_folds_a_chamfered_breast_at_its_angles() -> None:
    # A chamfer of 11 5/8 goes 8.2201 aside and back, 8 1/4 on a tape; the return goes
    # on 11 7/16, to 19.6576. The front is 55 in.
    drawing = draw_plan(breast(CHAMFERS), 1, 12.0)
    section = spots(drawing, layers.SECTION)
    assert {(0.0, 0.0), (-8.22, 8.22), (55.0, 0.0), (63.22, 8.22)} <= section
    assert figures(drawing, "x")[-3:] == ['8 1/4"', "4'-7\"", '8 1/4"']
    assert figures(drawing, "y")[-2:] == ['8 1/4"', '11 7/16"']
    assert said(drawing).count("OUTSIDE CORNER, TURNS 45 DEG") == 4
    assert collisions(drawing) == []


def test_the_plan_of_a_splayed_return_ends_at_the_wall() -> None:
    # 12 1/8 at 30 degrees out of square: 6 1/16 aside, 10 1/2 back.
    drawing = draw_plan(breast(SPLAYED), 1, 12.0)
    assert figures(drawing, "x")[-3] == '6 1/16"'
    assert '10 1/2"' in figures(drawing, "y")
    assert "OUTSIDE CORNER, TURNS 60 DEG" in said(drawing)


def test_the_brick_reaches_past_the_front_by_what_goes_aside_and_not_back() -> None:
    # As in the two plans above: 8.2201, and 6 1/16; both go further back than that.
    for face, aside in ((CHAMFERS, 8.2201), (SPLAYED, 6.0625)):
        assert width_seen(breast(face).surround) == pytest.approx(
            (aside, aside), abs=1e-4
        )
    assert width_seen(breast(RETURNS).surround) == (0.0, 0.0)


def test_both_legs_of_a_mitred_unit_are_as_thick_as_its_brick() -> None:
    """Its outline is the strip as wide as the brick is thick, inside the two faces."""
    solution = breast(CHAMFERS)
    thick = float(solution.job.brick.thickness)
    made = [row for row in solution.cut_list if row.is_made]
    assert {row.turn for row in made} == {45}
    for row in made:
        ring, _ = put_together(solution.job, row)
        faces = shapely.LineString((ring.points[1], ring.points[0], ring.points[5]))
        side = -thick if ring.points[1][0] > 0 else thick
        strip = faces.buffer(side, single_sided=True, join_style="mitre")
        assert strip.symmetric_difference(shapely.Polygon(ring.points)).area < 1e-3


def test_a_square_plan_says_nothing_of_angles() -> None:
    drawing = draw_plan(breast(RETURNS), 1, 12.0)
    assert not any("TURNS" in words for words in said(drawing))
    assert "CORNERS AND WALL, FINISH" not in said(drawing)


def test_each_kind_of_corner_is_drawn_once_from_the_front_on() -> None:
    surround = breast(CHAMFERS).surround
    front, back = surround.front.left, surround.faces[0].right
    assert [*corners_shown(surround)] == [front, back]
    assert [*corners_shown(breast(RETURNS).surround)] == []
    unlike = SPLAYED.replace("right_return_splay = 30", "right_return_splay = 10")
    assert len([*corners_shown(breast(unlike).surround)]) == 2


def test_a_corner_is_drawn_at_its_true_angle() -> None:
    # Course 1 has its long leg on the front: the chamfer's leg of 3 5/8 ends at
    # 3 5/8 x 0.7071 = 2.5633 aside and back. Inside, 5/8 x tan 22.5 = 0.2589.
    solution = breast(CHAMFERS)
    place = solution.surround.folds.index(solution.surround.front.left) + 1
    drawing = draw_turned_corner(solution, place, 4.0)
    section = spots(drawing, layers.SECTION)
    assert {(0.0, 0.0), (-2.563, 2.563), (0.259, 0.625), (7.625, 0.0)} <= section
    assert drawing.title == "LEFT CORNER, FRONT TO CHAMFER, COURSES 1 AND 2"
    words = said(drawing)
    # Each is said once: the angle at its arc, the long leg with how long it is.
    assert words.count("45 DEG") == sum("45 DEG" in x for x in words) == 2
    assert [x for x in words if "LEG" in x] == [
        "LONG LEG ON THE FRONT",
        'LEG ON THE CHAMFER 3 5/8"',
        'LONG LEG ON THE CHAMFER 7 5/8"',
    ]
    assert collisions(drawing) == []
    with pytest.raises(ValueError, match="no square corner"):
        draw_corner_interlock(solution, 4.0)


def test_a_chamfer_is_an_elevation_of_its_own_between_two_corners() -> None:
    drawing = draw_return(breast(CHAMFERS), "left chamfer", 12.0)
    assert drawing.title == "LEFT CHAMFER, DEVELOPED"
    assert said(drawing).count("OUTSIDE CORNER, 45 DEG") == 2
    assert figures(drawing, "x")[-2:] == ['11 5/8"', '10 3/4"']


def test_a_splayed_return_shows_the_joint_at_the_wall_as_it_is_on_the_face() -> None:
    drawing = draw_return(breast(SPLAYED), "left", 12.0)
    assert {'WALL, SOFT JOINT 3/4"', "OUTSIDE CORNER, 60 DEG"} <= set(said(drawing))
    assert figures(drawing, "x")[-2:] == ["1'-0 1/8\"", '11"']


def test_the_front_sees_chamfers_foreshortened() -> None:
    drawing = draw_elevation(breast(CHAMFERS), 12.0)
    corners = spots(drawing, layers.CORNERS)
    assert min(x for x, _ in corners) == pytest.approx(-8.22, abs=1e-3)
    assert max(x for x, _ in corners) == pytest.approx(63.22, abs=1e-3)
    assert collisions(drawing) == []
    # What is narrower at the wall is not seen.
    narrower = f"{RETURNS}\nleft_return_splay = -12"
    corners = spots(draw_elevation(breast(narrower), 12.0), layers.CORNERS)
    assert min(x for x, _ in corners) == 0


def test_the_notes_say_what_each_corner_grows_by() -> None:
    notes = " ".join(general_notes(breast(CHAMFERS)).paragraphs)
    assert '7/16" at each outside corner that turns by 45 degrees' in notes
    notes = " ".join(general_notes(breast(RETURNS)).paragraphs)
    assert '1" at each outside corner (the build-out)' in notes
