"""What is sawn and ordered for corners that are not square, by hand."""

from __future__ import annotations

from fractions import Fraction as F

from shopdraw.job.splayed import is_mitred, turns_of
from tests.aslant import CHAMFERS, SPLAYED, breast
from tests.splayed import RETURNS


def test_every_corner_unit_of_a_chamfered_breast_is_made_of_two_flat_brick() -> None:
    solution = breast(CHAMFERS)
    (row,) = [x for x in solution.cut_list if x.kind == "corner unit"]
    assert (row.mark, row.turn, row.legs) == ("C1", 45, (F(61, 8), F(29, 8)))
    # Four corners, a unit a course.
    assert row.count == 4 * len(solution.coursing.courses)
    assert "two flat brick mitred at 22.5 degrees" in row.note
    items = {x.item: x for x in solution.takeoff.rows}
    # None is bought, so none is counted or measured as bought.
    assert not {"corner units", "corner height"} & {*items}
    assert f"the legs of {row.count} mitred corner units" in items["cut units"].note


def test_units_of_unlike_angles_have_marks_of_their_own() -> None:
    unlike = SPLAYED.replace("right_return_splay = 30", "right_return_splay = 10")
    rows = [x for x in breast(unlike).cut_list if x.kind == "corner unit"]
    assert {(x.mark, x.turn) for x in rows} == {("C1", 80), ("C2", 60)}


def test_corner_units_are_made_wherever_a_corner_is_not_square() -> None:
    assert turns_of(breast(CHAMFERS).job) == (45, 45, 45, 45)
    assert is_mitred(breast(SPLAYED).job)
    assert not is_mitred(breast(RETURNS).job)
