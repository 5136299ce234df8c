"""Outside corners that are not square: what follows from what, what is refused."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.complaint import legs_of
from shopdraw.job.model_face import FaceTable
from shopdraw.job.reading import parse_job
from tests.aslant import CHAMFERS, SPLAYED
from tests.splayed import RETURNS, text_of

MITRED = (
    'thickness = "5/8 in"\ncorner',
    'thickness = "5/8 in"\nat_fold = "mitre"\ncorner',
)


def face_of(face: str) -> FaceTable:
    return parse_job(text_of("", face), "aslant.toml").face


def faults(face: str, more: str = "", opening: str = "") -> dict[str, str]:
    text = text_of(opening, face, more).replace(*MITRED)
    with pytest.raises(BadJob) as refused:
        parse_job(text, "aslant.toml")
    return {fault.key: fault.wanted for fault in refused.value.faults}


def test_two_lengths_give_the_splay_of_a_return_to_half_a_degree() -> None:
    # 9 1/2 / 11 = 0.8636 is the cosine of 30.27 degrees: to half a degree, 30.5.
    face = face_of('left_return = "11 in"\nleft_return_depth = "9 1/2 in"')
    assert face.left_return_splay == 30.5
    assert face.turns("left") == (F(119, 2),)
    assert face.turns("right") == ()
    assert not face.is_square


def test_a_depth_and_the_splay_give_the_length_to_the_sixteenth_below() -> None:
    # 9 1/2 / cos 30 = 10.9697; to the sixteenth below it is 10 15/16.
    face = face_of('left_return_depth = "9 1/2 in"\nleft_return_splay = 30')
    assert face.left_return == F(175, 16)
    # Narrower at the wall: the same length, and its corner turns further.
    face = face_of('left_return_depth = "9 1/2 in"\nleft_return_splay = -30')
    assert (face.left_return, face.turns("left")) == (F(175, 16), (F(120),))


def test_a_return_given_by_its_depth_has_the_usual_joint_at_the_wall() -> None:
    text = text_of("", 'left_return_depth = "9 1/2 in"\nleft_return_splay = 30')
    assert parse_job(text, "aslant.toml").edges.left.width == F(3, 8)


def test_headings_differ_by_what_each_corner_turns() -> None:
    face = face_of(CHAMFERS)
    assert face.turns("left") == face.turns("right") == (45, 45)
    face = face_of(f"{CHAMFERS}\nleft_return_splay = -10")
    assert face.turns("left") == (45, 55)
    assert face_of(RETURNS).is_square


@pytest.mark.parametrize(
    ("face", "key", "words"),
    [
        ("left_return_splay = 20", "left_return_splay", "is for brick that turns the"),
        ('left_return_depth = "9 in"', "left_return_depth", "but not how long it is"),
        (
            f'{RETURNS}\nleft_return_depth = "12 in"',
            "left_return_depth",
            "is more than face.left_return, 11 in",
        ),
        (
            f'{RETURNS}\nleft_return_depth = "2 in"',
            "left_return_depth",
            "makes a splay of 79.5 degrees",
        ),
        (
            f'{RETURNS}\nleft_return_depth = "9 in"\nleft_return_splay = 10',
            "left_return_depth",
            "a return of 11 in that splays by 10 degrees reaches 10 13/16 in back",
        ),
        (f"{RETURNS}\nleft_return_splay = 61", "left_return_splay", "60"),
        (f"{RETURNS}\nleft_return_splay = -31", "left_return_splay", "-30"),
        (
            'left_return = "2 in"\nleft_return_splay = 45',
            "left_return",
            "for brick between its corner and the joint at the wall",
        ),
        (
            'left_chamfer = "6 in"\nleft_chamfer_splay = 45',
            "left_chamfer",
            "stands between the front and a return",
        ),
        (f'{RETURNS}\nleft_chamfer = "6 in"', "left_chamfer", "needs its angle"),
        (
            f'{RETURNS}\nleft_chamfer = "2 in"\nleft_chamfer_splay = 45',
            "left_chamfer",
            "is 2 7/8 in wide when finished",
        ),
        (
            f"{CHAMFERS}\nleft_return_splay = 40",
            "left_chamfer_splay",
            "leaves a corner of 5 degrees between it and the return",
        ),
        (f"{RETURNS}\nleft_chamfer_splay = 71", "left_chamfer_splay", "70"),
    ],
)
def test_what_can_not_be_built_is_refused_in_words(
    face: str, key: str, words: str
) -> None:
    told = faults(face)
    assert set(told) == {f"face.{key}"}
    assert words in told[f"face.{key}"]


@pytest.mark.parametrize("face", [SPLAYED, CHAMFERS])
@pytest.mark.parametrize(
    ("opening", "more", "key"),
    [
        ("", '[[band]]\nkind = "soldier"\ncourse = 3', "band[1].kind"),
        ("", '[[corbel]]\ncourses = 2\nstep = "1/2 in"', "corbel[1]"),
        ('head = "rowlock"\nhead_over = "face"', "", "opening.head_over"),
    ],
)
def test_what_turns_square_corners_alone_is_refused_in_one_line(
    face: str, opening: str, more: str, key: str
) -> None:
    assert set(faults(face, more, opening)) == {key}
    # At square corners the same is taken.
    parse_job(text_of(opening, RETURNS, more).replace(*MITRED), "square.toml")


def test_a_leg_longer_than_a_brick_can_not_be_mitred_from_one() -> None:
    text = text_of("", SPLAYED).replace('long_leg = "7 5/8 in"', 'long_leg = "8 in"')
    with pytest.raises(BadJob) as refused:
        parse_job(text, "aslant.toml")
    (fault,) = refused.value.faults
    assert fault.key == "brick.corner.long_leg"


def test_each_leg_is_as_wide_as_its_own_side_of_the_opening_leaves_it() -> None:
    text = """
[job]
name = "Off centre"
[face]
measured_to = "finish"
width = "60 in"
height = "40 in"
[opening]
width = "34 in"
height = "26 in"
{from_left}
[brick]
size = "modular"
"""
    aside = text.format(from_left='from_left = "10 in"')
    assert legs_of(parse_job(aside, "legs.toml")) == (10, 16)
    assert legs_of(parse_job(text.format(from_left=""), "legs.toml")) == (13, 13)
    # To the face as found: bed and brick, 3/8 and 5/8 in, grow round no corner here.
    found = aside.replace('"finish"', '"substrate"')
    assert legs_of(parse_job(found, "legs.toml")) == (10, 16)
