"""Corners that are not square are asked for with a bevel, side by side."""

from __future__ import annotations

from shopdraw.review.findings import Finding
from shopdraw.solution import Solution
from tests.aslant import CHAMFERS, SPLAYED, breast
from tests.splayed import RETURNS


def asked(solution: Solution) -> list[Finding]:
    return [x for x in solution.findings if x.rule.key == "corner-angle"]


def test_an_angle_that_nobody_held_a_bevel_to_is_not_checked() -> None:
    left, right = asked(breast(CHAMFERS))
    assert (left.status, right.status) == ("not checked", "not checked")
    assert (left.rule.about, right.rule.about) == ("left", "right")
    assert "turn by 45 and 45 degrees" in left.says
    assert [x.status for x in asked(breast(SPLAYED))] == ["not checked"] * 2
    assert asked(breast(RETURNS)) == []
    (one,) = asked(breast(f"{RETURNS}\nleft_return_splay = -5"))
    assert "turn by 95 degrees" in one.says


def test_an_angle_from_a_depth_says_how_much_a_mark_of_the_tape_turns_it() -> None:
    # 1/16 off on 11 x sin 30 = 5.5 is 0.01136 of a radian: 0.7 of a degree.
    face = f'{RETURNS}\nleft_return_depth = "9 1/2 in"\nleft_return_splay = 30'
    (finding,) = asked(breast(face))
    assert (
        "depth of a return that is 1/16 in off turns it by 0.7 degrees" in finding.says
    )
