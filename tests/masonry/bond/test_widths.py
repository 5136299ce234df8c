"""Widths that need nothing sawn: those by hand, and each laid as it is named."""

from __future__ import annotations

import re
from fractions import Fraction as F

import pytest

from shopdraw.lengths import parse_length
from shopdraw.masonry.wall.layout import Layout
from tests.masonry.bond.held_words import Wall
from tests.masonry.conftest import stack_job_of
from tests.masonry.legs import CORNER, lay

RETURNS = {"face__left_return": "14 in", "face__right_return": "14 in",
           "brick__corner": CORNER}  # fmt: skip
HALF = F(29, 8)
CLOSER = F(13, 8)


def laid(bond: str, **changes: str) -> Wall:
    job = stack_job_of("in", face__height="43 1/2 in", bond__pattern=bond, **changes)
    surround, _, layout = lay(job)
    return Wall(job, surround, layout)


def widths_of(layout: Layout, part: str) -> set[F]:
    """Return the widths that are named for a part of the wall."""
    named = set()
    for sentence in layout.ways_out:
        parts, _, rest = sentence.partition(": ")
        found = re.match(r"(.+?) would (?:by itself )?need nothing sawn", rest)
        if part in parts.lower() and found:
            named.add(parse_length(found[1], "in"))
    return named


def sawn(wall: Wall, zone: str) -> set[F]:
    """Return the lengths of what is sawn in a zone, halves and closers left out."""
    return {
        right - left
        for name, _, row in wall.zones()
        if name == zone
        for left, right, piece in row
        if (piece.is_cut or piece.is_trimmed) and right - left not in (HALF, CLOSER)
    }


def test_legs_with_corners_in_half_bond_need_modules_of_eight_less_a_joint() -> None:
    # 8 n - 3/8 and 8 n + 4 - 3/8: 7 5/8 + 3/8 + 3 5/8 over 3 5/8 + 3/8 + 7 5/8.
    wall = laid("half", **RETURNS, face__width="62 in", opening__width="34 in")
    assert widths_of(wall.layout, "left leg") == {F(93, 8), F(125, 8)}
    assert widths_of(wall.layout, "left return") == {F(93, 8), F(125, 8)}


def test_a_flemish_front_with_corners_needs_twelve_n_and_eight_less_a_joint() -> None:
    wall = laid("Flemish", **RETURNS, face__width="71 in", opening__width="31 3/4 in")
    assert widths_of(wall.layout, "whole front") == {F(68) - F(3, 8), F(80) - F(3, 8)}


@pytest.mark.parametrize("bond", ["half", "third", "quarter", "Flemish", "English"])
def test_each_width_that_is_named_for_a_return_needs_nothing_sawn(bond: str) -> None:
    wall = laid(bond, **RETURNS, face__width="62 in")
    named = widths_of(wall.layout, "left return")
    for width in named:
        depth = f"{width} in"
        other = laid(
            bond, **RETURNS | {"face__left_return": depth}, face__width="62 in"
        )
        assert sawn(other, "left return") == set()
    if bond == "half":
        assert named


def test_the_joint_at_the_wall_that_is_named_makes_the_width() -> None:
    asked = RETURNS | {"face__left_return": "12 in", "face__width": "62 in"}
    wall = laid("half", **asked, edges__left={"kind": "soft", "width": "1/4 in"})
    assert sawn(wall, "left return")
    ways = " ".join(wall.layout.ways_out)
    assert "a joint of 3/8 in at the wall, makes it" in ways
    other = laid("half", **asked, edges__left={"kind": "soft", "width": "3/8 in"})
    assert sawn(other, "left return") == set()


def test_another_corner_unit_is_named_where_it_makes_the_width() -> None:
    # 5 5/8 in is no brick's header: the short leg leaves 5 5/8 of every other course.
    corner = {"long_leg": "7 5/8 in", "short_leg": "5 5/8 in"}
    plain = {"face__width": "63 5/8 in", "opening__width": "32 3/8 in"}
    wall = laid("half", **RETURNS | {"brick__corner": corner}, **plain)
    assert sawn(wall, "left leg")
    ways = " ".join(wall.layout.ways_out)
    assert (
        'corner units of 7 5/8" x 3 5/8" it would by itself need nothing sawn' in ways
    )
    other = laid("half", **RETURNS, **plain)
    assert sawn(other, "left leg") == set()


def test_build_out_is_never_named_for_a_leg_without_a_return() -> None:
    wall = laid("half", face__width="62 in", face__measured_to="substrate")
    about_legs = [x for x in wall.layout.ways_out if "leg" in x.partition(":")[0]]
    assert about_legs
    assert not any("setting bed" in x for x in about_legs)


FIXED = {"preferred": "3/8 in", "least": "3/8 in", "most": "3/8 in"}


def told(wall: Wall, part: str, words: str) -> bool:
    """Whether some way out of a part of the wall says so."""
    return any(
        part in x.partition(":")[0].lower() and words in x for x in wall.layout.ways_out
    )


def test_the_bed_that_is_named_makes_a_return_and_its_leg_but_no_leg_without() -> None:
    # All three are 11 1/2 in wide, 1/8 less than 7 5/8 + 3/8 + 3 5/8; the bed makes
    # the return and the leg beside it wider, and leaves the other leg as it is.
    asked = {
        "face__measured_to": "substrate", "face__left_return": "10 1/2 in",
        "face__width": "56 in", "opening__width": "34 in",
        "opening__from_left": "10 1/2 in", "brick__corner": CORNER,
        "joints__head": FIXED,
    }  # fmt: skip
    wall = laid("half", **asked)
    bed = "a setting bed of 1/2 in on the average"
    for part in ("left return", "left leg", "right leg"):
        assert F(93, 8) in widths_of(wall.layout, part)
        assert told(wall, part, bed) == (part != "right leg")
    other = laid("half", **asked, setting_bed={"least": "1/2 in", "most": "1/2 in"})
    assert sawn(wall, "left return")
    assert sawn(wall, "left leg")
    assert sawn(other, "left return") == sawn(other, "left leg") == set()


def test_the_joint_beside_the_opening_that_is_named_makes_the_leg() -> None:
    # The leg would need nothing sawn by itself. Over the opening this front is off the
    # module, and the legs are laid with what is over them.
    plain = {"face__width": "57 1/4 in", "opening__width": "33 1/2 in"}
    jambs = {"kind": "soft", "width": "1/2 in"}
    wall = laid("half", **plain, edges__jambs=jambs)
    assert sawn(wall, "left leg")
    assert told(wall, "left leg", "a joint of 1/4 in beside the opening")
    other = laid("half", **plain, edges__jambs=jambs | {"width": "1/4 in"})
    assert other.surround.opening.brick_left == F(93, 8)
    assert sawn(other, "left leg")
    assert told(wall, "left leg", "would by itself need nothing sawn")


def test_where_nothing_is_sawn_no_width_is_named() -> None:
    wall = laid("half", **RETURNS | {"face__left_return": "11 5/8 in",
                "face__right_return": "11 5/8 in"}, face__width="63 5/8 in",
                opening__width="32 3/8 in")  # fmt: skip
    assert sawn(wall, "left leg") == sawn(wall, "left return") == set()
    assert not any("leg" in x or "return" in x for x in wall.layout.ways_out)
