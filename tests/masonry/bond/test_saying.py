"""What is said of the bond is true of the pieces, on walls of every bond."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction as F
from functools import cache

import pytest

from shopdraw.masonry.bond.plan import plan_bond
from shopdraw.masonry.bond.saying import say_bond, say_courses
from shopdraw.masonry.bond.solve import solve_bond
from shopdraw.masonry.coursing.solve import solve_coursing
from tests.alcoves import beside_alcoves
from tests.aslant import CHAMFERS, SPLAYED, breast
from tests.demos import solution_of
from tests.longer import mostly_long
from tests.masonry.bond.held_words import Wall, numbers_in, untrue
from tests.masonry.conftest import stack_job_of
from tests.masonry.legs import CORNER, lay
from tests.splayed import RETURNS as SQUARE_RETURNS
from tests.splayed import SPLAY, splayed

BONDS = ("half", "third", "quarter", "stack", "Flemish", "English", "common")
RETURNS = {"face__left_return": "11 5/8 in", "face__right_return": "11 5/8 in",
           "brick__corner": CORNER}  # fmt: skip
WALLS = {
    "corners": {**RETURNS, "face__width": "67 5/8 in", "opening__width": "28 3/8 in"},
    "free": {"face__width": "61 in", "opening__width": "31 in"},
    "unlike": {"face__width": "58 in", "opening__from_left": "9 in"},
    "soldiers": {**RETURNS, "face__width": "64 in", "opening__head": "soldier"},
    "narrow": {"face__width": "47 in", "opening__width": "34 in"},
    "odd returns": {**RETURNS, "face__left_return": "8 1/4 in",
                    "face__right_return": "5 in", "face__width": "63 1/2 in"},
    "as wide as a short leg": {**RETURNS, "face__width": "40 in",
                               "opening__width": "32 3/4 in"},
}  # fmt: skip
EVERY = tuple((bond, kind) for bond in BONDS for kind in WALLS)
LONG = {
    *((x, "unlike") for x in ("third", "quarter", "Flemish", "common")),
    *(("quarter", x) for x in ("corners", "odd returns", "soldiers")),
    ("third", "free"),
    ("Flemish", "odd returns"),
}
"""These take longest, and other bonds have the like."""
each_wall = pytest.mark.parametrize(
    ("bond", "kind"), mostly_long(EVERY, *(x for x in EVERY if x not in LONG))
)

TURNED = 'jamb_return = "7 5/8 in"'


@cache
def wall(bond: str, kind: str) -> Wall:
    job = stack_job_of(
        "in", face__height="43 1/2 in", bond__pattern=bond, **WALLS[kind]
    )
    surround, _, layout = lay(job)
    return Wall(job, surround, layout)


@each_wall
def test_every_sentence_about_the_bond_is_true_of_the_pieces(
    bond: str, kind: str
) -> None:
    assert untrue(wall(bond, kind)) == []


@pytest.mark.parametrize("bond", ["half", "third", "quarter"])
def test_a_long_leg_trimmed_to_the_length_of_a_short_one_is_told(bond: str) -> None:
    narrow = wall(bond, "as wide as a short leg")
    trimmed = {x.course for x in narrow.layout.pieces if "front leg" in x.cut_edges}
    assert trimmed
    (told,) = (x for x in narrow.layout.reasons if x.startswith("Corner units are tri"))
    assert numbers_in(told.split(" of the ")[0].split(" in ")[1]) == trimmed


def test_what_trimming_is_for_is_not_claimed_where_not_every_way_was_looked_at() -> (
    None
):
    narrow = wall("half", "as wide as a short leg")
    surround, job = narrow.surround, narrow.job
    opening = surround.opening
    jambs = opening.brick_left, opening.brick_right
    plan = plan_bond(job, surround, solve_coursing(job, surround), jambs)
    solved = solve_bond(plan)
    faces = {k: replace(x, searched_all=False) for k, x in solved.faces.items()}
    unsure = replace(narrow.layout, searched_all=False)
    for said, layout, is_true in (
        (say_bond(plan, solved), narrow.layout, True),
        (say_bond(plan, solved), unsure, False),
        (say_bond(plan, replace(solved, faces=faces)), unsure, True),
        (say_bond(plan, replace(solved, faces=faces)), narrow.layout, False),
    ):
        reasons = tuple(said)
        assert any("Without that" in x for x in reasons)
        found = untrue(replace(narrow, layout=replace(layout, reasons=reasons)))
        assert (found == []) == is_true


@pytest.mark.parametrize(
    ("opening", "changed"),
    [(SPLAY, '7 5/8" along'), (SPLAY, 'reach 6 5/8"'), (TURNED, '7 5/8" back')],
)
def test_how_far_brick_turns_into_the_jambs_is_held(opening: str, changed: str) -> None:
    solution = splayed(opening)
    turned = Wall(solution.job, solution.surround, solution.layout)
    assert untrue(turned) == []
    (sentence,) = [x for x in solution.layout.reasons if "turn into the jambs" in x]
    other = re.sub(r"\d+(?= \d+/)", "2", changed)
    assert changed in sentence
    reasons = tuple(x.replace(changed, other) for x in solution.layout.reasons)
    layout = replace(solution.layout, reasons=reasons)
    assert len(untrue(replace(turned, layout=layout))) == 1


@pytest.mark.parametrize("bond", BONDS)
def test_what_is_said_of_another_wall_is_told_to_be_untrue(bond: str) -> None:
    """The sentences of one wall do not hold for a wall of another bond."""
    other = "Flemish" if bond != "Flemish" else "common"
    one, two = wall(bond, "corners"), wall(other, "corners")
    swapped = replace(one.layout, reasons=two.layout.reasons)
    assert untrue(replace(one, layout=swapped))


def test_the_sentence_about_mitred_corner_units_is_true_and_held() -> None:
    solution = splayed()
    splay = Wall(solution.job, solution.surround, solution.layout)
    assert untrue(splay) == []
    (sentence,) = [x for x in solution.layout.reasons if "mitred at 30" in x]
    for old, new in (("60 degrees", "75 degrees"), ("stand 2", "stand 3")):
        reasons = tuple(
            x.replace(old, new) if x is sentence else x for x in solution.layout.reasons
        )
        said = replace(solution.layout, reasons=reasons)
        assert [*map(len, [untrue(replace(splay, layout=said))])] == [1]


@pytest.mark.parametrize(
    "bond",
    mostly_long((x for x in BONDS if x != "stack"), "half", "Flemish", "English"),
)
def test_what_is_said_of_inside_corners_is_true_and_held(bond: str) -> None:
    solution = beside_alcoves(more=f'[bond]\npattern = "{bond}"')
    inside = Wall(solution.job, solution.surround, solution.layout)
    assert untrue(inside) == []
    (sentence,) = [x for x in solution.layout.reasons if "left inside corner" in x]
    swapped = {"return runs": "alcove runs", "alcove runs": "return runs"}
    old = next(x for x in swapped if x in sentence)
    for before, after in (
        (old, swapped[old]),
        ('5/8" behind', '1/2" behind'),
        ("of 3/8", "of 1/4"),
        ("in course 1", "in course 2"),
    ):
        assert before in sentence
        reasons = tuple(
            x.replace(before, after) if x is sentence else x
            for x in solution.layout.reasons
        )
        said = replace(solution.layout, reasons=reasons)
        assert len(untrue(replace(inside, layout=said))) == 1


def test_a_piece_that_is_moved_makes_the_mirror_image_untrue() -> None:
    whole = wall("Flemish", "corners")
    pieces = list(whole.layout.pieces)
    at = next(
        i
        for i, x in enumerate(pieces)
        if x.kind == "closer" and x.outlines[0].face == "front"
    )
    first = pieces[at].outlines[0]
    pieces[at] = replace(pieces[at], outlines=(first.moved(F(1, 16), F(0)),))
    moved = replace(whole, layout=replace(whole.layout, pieces=tuple(pieces)))
    assert any("mirror image" in x for x in untrue(moved))


def test_places_of_closers_in_the_same_courses_are_said_at_once() -> None:
    (said,) = (x for x in solution_of("banded-breast").layout.reasons if "Closers" in x)
    where = "beside the corner unit and by the jamb in course 8"
    assert said == f'Closers of 1 5/8" stand {where}.'


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ([3], "course 3"),
        ([2, 5], "courses 2 and 5"),
        ([2, 3, 4], "courses 2 to 4"),
        ([1, 7, 13, 19], "courses 1, 7, 13 and 19"),
        ([2, 4, 6], "courses 2, 4 and 6"),
        ([2, 4, 6, 8], "every other course from 2 to 8"),
    ],
)
def test_courses_are_named_as_a_mason_names_them(
    numbers: list[int], words: str
) -> None:
    assert say_courses(numbers) == words
    assert numbers_in(words) == {*numbers}


@pytest.mark.parametrize(
    "face",
    [
        SPLAYED,
        CHAMFERS,
        CHAMFERS.replace("10 3/4", "6"),
        f"{SQUARE_RETURNS}\nright_return_splay = -15\nleft_return_splay = 20",
    ],
)
def test_what_is_said_of_corners_that_are_not_square_is_true(face: str) -> None:
    solution = breast(face)
    aslant = Wall(solution.job, solution.surround, solution.layout)
    assert untrue(aslant) == []
    told = [x for x in solution.layout.reasons if x.startswith("On the left, corner")]
    assert len(told) == 1
    damages = (" degrees; when", "1 degrees; when"), ("return is 1", "return is 2")
    for old, new in damages:
        reasons = tuple(
            x.replace(old, new) if x in told else x for x in solution.layout.reasons
        )
        said = replace(solution.layout, reasons=reasons)
        assert [*map(len, [untrue(replace(aslant, layout=said))])] == [1]
