"""The angle of splayed jambs: what follows from what, and what is refused in words."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.model_opening import OpeningTable
from shopdraw.job.reading import parse_job
from tests.splayed import text_of


def opening_of(opening: str) -> OpeningTable:
    return parse_job(text_of(opening), "splayed.toml").opening


def faults(opening: str, **more: str) -> dict[str, str]:
    with pytest.raises(BadJob) as refused:
        parse_job(text_of(opening, **more), "splayed.toml")
    return {fault.key: fault.wanted for fault in refused.value.faults}


def test_two_depths_give_the_splay_to_half_a_degree() -> None:
    # 6 5/8 / 7 5/8 = 0.8689 is the cosine of 29.67 degrees: to half a degree, 29.5.
    asked = 'jamb_return = "7 5/8 in"\njamb_depth = "6 5/8 in"'
    assert opening_of(asked).splayed == F(59, 2)
    # As deep as it is long, it is square.
    asked = 'jamb_return = "7 5/8 in"\njamb_depth = "7 5/8 in"'
    assert opening_of(asked).splayed == 0


def test_a_depth_and_the_splay_give_the_length_which_never_reaches_too_far() -> None:
    # 6 5/8 / cos 30 = 7.6499; to the sixteenth below it is 7 5/8.
    assert opening_of('jamb_depth = "6 5/8 in"\nsplay = 30').jamb_return == F(61, 8)


def test_all_three_may_be_given_where_they_agree() -> None:
    # 7 5/8 x cos 30 = 6.603: 6 5/8 and 6 9/16 are within a sixteenth of it.
    for deep in ("6 5/8 in", "6 9/16 in"):
        asked = f'jamb_return = "7 5/8 in"\nsplay = 30\njamb_depth = "{deep}"'
        assert opening_of(asked).splayed == 30


@pytest.mark.parametrize(
    ("opening", "key", "words"),
    [
        ("splay = 15", "opening.splay", "is for brick that turns into the jambs"),
        ('jamb_depth = "7 in"', "opening.jamb_depth", "but not how long it is"),
        (
            'jamb_return = "7 in"\njamb_depth = "7 1/2 in"',
            "opening.jamb_depth",
            "is more than opening.jamb_return, 7 in",
        ),
        (
            'jamb_return = "7 5/8 in"\njamb_depth = "2 in"',
            "opening.jamb_depth",
            "makes a splay of 75.0 degrees with opening.jamb_return; it may be 60 at "
            "most",
        ),
        (
            'jamb_return = "7 5/8 in"\nsplay = 30\njamb_depth = "7 1/8 in"',
            "opening.jamb_depth",
            "does not agree with the other two: a jamb of 7 5/8 in that splays by 30 "
            "degrees reaches 6 5/8 in back",
        ),
        ('jamb_return = "7 5/8 in"\nsplay = 61', "opening.splay", "60"),
        ('jamb_return = "7 5/8 in"\nsplay = -1', "opening.splay", "can't be negative"),
        ('jamb_return = "7 5/8 in"\nsplay = "steep"', "opening.splay", "number"),
    ],
)
def test_what_can_not_be_built_is_refused_in_words(
    opening: str, key: str, words: str
) -> None:
    assert words in faults(opening)[key]


def test_a_leg_longer_than_a_brick_can_not_be_mitred_from_one() -> None:
    text = text_of().replace('long_leg = "7 5/8 in"', 'long_leg = "8 in"')
    with pytest.raises(BadJob) as refused:
        parse_job(text, "splayed.toml")
    (fault,) = refused.value.faults
    assert fault.key == "brick.corner.long_leg"
    assert "each leg is sawn from one brick" in fault.wanted
    # Bought square, it may be longer.
    parse_job(text.replace("splay = 30", ""), "square.toml")
