"""Joint areas, against independent geometry and by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, union_all

from shopdraw.quantities.joints import measure_wall

# The wall's 20 + 40 faces are 60 wide and 5 1/4 high; the opening 20 x 2 5/8.


def measured(wall):
    return measure_wall(wall.job, wall.surround, wall.coursing, wall.layout)


def joints_by_geometry(wall, *without):
    """Return the area that is neither brick nor opening nor one of the strips."""
    face = box(0, 0, 60, 5.25) - box(30, 0, 50, 2.625)
    brick = union_all(
        [
            Polygon([(float(x), float(y)) for x, y in outline.points])
            for each in wall.layout.pieces
            for outline in each.outlines
        ]
    )
    return (face - brick - union_all(list(without))).area


def test_joints_are_what_is_left_of_the_face(corner_wall):
    wall = corner_wall()
    assert float(measured(wall).pointed) == pytest.approx(joints_by_geometry(wall))
    assert measured(wall).soft_length == measured(wall).open_length == 0


def test_a_soft_bottom_joint_takes_no_mortar_and_is_told_by_length(corner_wall):
    bottom = {"kind": "soft", "least": "0 in", "most": "3/4 in"}
    wall = corner_wall(joints={"bottom": bottom})
    strips = box(0, 0, 30, 0.375), box(50, 0, 60, 0.375)
    assert float(measured(wall).pointed) == pytest.approx(
        joints_by_geometry(wall, *strips)
    )
    # 60 less the opening's 20.
    assert measured(wall).soft_length == 40
    # Only the bottom joint is soft, whatever the next one is.
    next_joint = replace(wall.coursing, joints=(Fraction(3, 8), Fraction(1, 4)))
    assert measured(replace(wall, coursing=next_joint)) == measured(wall)
    row = wall.take_off().row("soft joints")
    assert (row.net, row.measure, row.order) == (Fraction(40, 12), "ft", None)


def test_a_soft_bottom_joint_stops_where_the_brick_does(corner_wall):
    wall = corner_wall(
        joints={"bottom": {"kind": "soft", "least": "0 in", "most": "3/4 in"}},
        edges={"jambs": {"kind": "gap", "width": "1/4 in"}},
    )
    assert measured(wall).soft_length == 40 - 2 * Fraction(1, 4)
    assert measured(wall).open_length == 2 * Fraction(21, 8)


@pytest.mark.parametrize("side", ["left", "right"])
def test_edges_are_pointed_sealed_or_left_open_as_the_job_says(corner_wall, side):
    def edges(kind):
        edge = {"kind": kind, "width": "1/4 in"}
        return measured(corner_wall(edges={side: edge}))

    mortar, soft, gap = edges("mortar"), edges("soft"), edges("gap")
    strip = Fraction(1, 4) * Fraction(21, 4)
    assert mortar.pointed - soft.pointed == mortar.pointed - gap.pointed == strip
    assert (soft.soft_length, soft.open_length) == (Fraction(21, 4), 0)
    assert (gap.soft_length, gap.open_length) == (0, Fraction(21, 4))
    assert mortar.soft_length == mortar.open_length == 0


def test_both_jambs_count_to_the_head(corner_wall):
    jambs = {"jambs": {"kind": "soft", "width": "1/4 in"}}
    areas = measured(corner_wall(edges=jambs))
    assert areas.soft_length == 2 * Fraction(21, 8)
    plain = measured(corner_wall())
    assert plain.pointed - areas.pointed == Fraction(1, 4) * 2 * Fraction(21, 8)
    assert plain.face == areas.face


def test_the_joint_at_the_top_lies_beyond_the_face(corner_wall):
    def top(kind):
        return measured(corner_wall(edges={"top": {"kind": kind, "width": "1/4 in"}}))

    plain = measured(corner_wall())
    assert top("mortar").pointed - plain.pointed == Fraction(1, 4) * 60
    assert top("gap").pointed == top("soft").pointed == plain.pointed
    assert (top("gap").open_length, top("soft").soft_length) == (60, 60)
    assert top("mortar").face == plain.face


def test_an_open_gap_is_told_but_not_ordered(corner_wall):
    gap = {"top": {"kind": "gap", "width": "1/4 in"}}
    row = corner_wall(edges=gap).take_off().row("soft joints")
    assert row.net == 0
    assert row.note == "none to fill with sealant: 5.00 ft of gap is left open"


def test_a_joint_above_the_last_course_is_pointed_with_the_rest(corner_wall):
    wall = corner_wall(
        face={
            "width": "40 in",
            "height": "11/2 in",
            "left_return": "20 in",
            "top_meets": "underside",
        }
    )
    joint = Fraction(1, 4)
    coursing = replace(wall.coursing, joints=(*wall.coursing.joints, joint))
    above = measure_wall(wall.job, wall.surround, coursing, wall.layout)
    plain = measured(corner_wall())
    assert above.pointed - plain.pointed == above.face - plain.face == joint * 60


@settings(
    max_examples=40,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
    deadline=None,
)
@given(
    widths=st.tuples(*[st.integers(0, 8)] * 4),
    kinds=st.tuples(*[st.sampled_from(("mortar", "soft", "gap", "bare"))] * 4),
)
def test_brick_mortar_seal_and_gap_make_up_the_face(corner_wall, widths, kinds):
    names = ("left", "right", "jambs", "top")
    edges = {
        name: {"kind": kind, "width": f"{width}/16 in"}
        for name, kind, width in zip(names, kinds, widths, strict=True)
    }
    areas = measured(corner_wall(edges=edges))
    lengths = (Fraction(21, 4), Fraction(21, 4), 2 * Fraction(21, 8))
    unfilled = sum(
        Fraction(width, 16) * length
        for width, kind, length in zip(widths, kinds, lengths, strict=False)
        if kind != "mortar"
    )
    across = 60 - Fraction(widths[0] + widths[1], 16)
    beyond = Fraction(widths[3], 16) * across if kinds[3] == "mortar" else 0
    assert areas.brick + areas.pointed + unfilled - beyond == areas.face
