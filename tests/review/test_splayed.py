"""Splayed jambs make two openings: the rules go by the right one. By hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.review.clearances import review_clearances
from shopdraw.solution import Solution
from tests.splayed import SPLAY, splayed, text_of

HEARTH = """
[hearth]
front = "22 in"
left = "14 in"
right = "14 in"
material = "noncombustible"
[appliance]
kind = "masonry"
[rules]
set = "irc-2015"
[[fitting]]
name = "key valve"
wants = "clear"
left = "{left}"
bottom = "6 in"
width = "2 in"
height = "2 in"
"""


def reviewed(left: str = "30 in") -> Solution:
    return splayed(more=HEARTH.format(left=left))


def test_the_opening_at_the_back_is_narrower_than_the_one_in_the_face() -> None:
    # 32 7/8 less 2 x 7 5/8 x 1/2 is 25 1/4, on the centre line of the one in the face.
    openings = splayed().openings
    assert openings.at_back is not None
    assert openings.at_back.right - openings.at_back.left == F(101, 4)
    face, back = openings.finished, openings.at_back
    assert face.left + face.right == back.left + back.right
    assert splayed('jamb_return = "7 5/8 in"').openings.at_back is None


def test_area_and_distances_go_by_the_face() -> None:
    # As found 34 x 27 = 918, in the face 32 7/8 x 27 = 887 5/8, at the back 25 1/4 x
    # 27 = 681 3/4 square inches. Only the last is under 6 sq ft, 864 square inches.
    solution = reviewed()
    openings = solution.openings
    assert openings.at_back is not None
    assert openings.governing_area == 918
    assert openings.finished.area == F(7101, 8)
    assert openings.at_back.area == F(2727, 4)
    front = solution.finding("hearth-front")
    assert front is not None
    assert front.limit == 20
    assert (
        "the finished opening is 32 7/8 in wide in the face and 25 1/4 in at their "
        "back; areas and distances go by the face" in front.says
    )


def test_held_with_the_back_the_smaller_hearth_would_do() -> None:
    """What the review would say if it took the wrong figure: the guard is not blind."""
    solution = reviewed()
    back = solution.openings.at_back
    assert back is not None
    wrong = replace(solution.openings, found=back, finished=back)
    findings = review_clearances(
        solution.job, solution.surround, solution.coursing, solution.layout, wrong, None
    )
    front = next(x for x in findings if x.rule.key == "hearth-front")
    assert front.limit == 16


@pytest.mark.parametrize(
    ("left", "status"),
    # The left jamb's corner is at 11 5/8, its end at 15 7/16 from the front's end.
    [("15 1/2 in", "passed"), ("15 in", "failed"), ("12 in", "failed")],
)
def test_what_stands_behind_a_splayed_jamb_is_covered(left: str, status: str) -> None:
    finding = reviewed(left).finding("fitting", 1)
    assert finding is not None
    assert finding.status == status


@pytest.mark.parametrize(
    ("firebox", "status"),
    # 7 5/8 x cos 30 = 6.6034; the back corner of brick and bed 1 x sin 30 = 1/2 more:
    # 7.1034, up to the next sixteenth 7 1/8.
    [("7 1/8 in", "passed"), ("7 1/16 in", "failed"), ("6 5/8 in", "failed")],
)
def test_the_back_corner_of_the_jamb_stays_outside_the_firebox(
    firebox: str, status: str
) -> None:
    finding = splayed(f'{SPLAY}\nfirebox = "{firebox}"').finding("jamb-return")
    assert finding is not None
    assert finding.status == status
    assert finding.limit == F(57, 8)
    if status == "failed":
        (mend,) = finding.mends
        assert "nearer the face" in mend


def test_a_jamb_as_short_as_the_review_says_passes() -> None:
    # 7 1/8 - 7 1/16 and 1/4 more is 5/16: over cos 30 that is 0.361, up to 3/8.
    text = text_of(f'{SPLAY}\nfirebox = "7 1/16 in"').replace(
        'jamb_return = "7 5/8 in"', 'jamb_return = "7 1/4 in"'
    )
    finding = solve(parse_job(text, "shorter.toml")).finding("jamb-return")
    assert finding is not None
    assert finding.status == "passed"


def test_the_angle_is_never_passed() -> None:
    asked = splayed().finding("jamb-splay")
    assert asked is not None
    assert asked.status == "not checked"
    assert "hold a bevel to both" in asked.says
    # 1/16 over 7 5/8 x sin 29.5 is 0.01664, or 0.95 degrees.
    two = splayed('jamb_return = "7 5/8 in"\njamb_depth = "6 5/8 in"')
    finding = two.finding("jamb-splay")
    assert finding is not None
    assert "1/16 in off turns it by 1.0 degrees" in finding.says
    assert splayed('jamb_return = "7 5/8 in"').finding("jamb-splay") is None
