"""The brute force of the bond problem: answers by hand, and damage it must see.

Rows are written as they lie, "L7.625 H3.625 S7.625", with one joint; 7 5/8 in brick,
3/8 in joint and a corner unit of 7 5/8 x 3 5/8 unless said.
"""

from __future__ import annotations

from fractions import Fraction as F
from itertools import pairwise

import pytest

from tests.masonry.bonding.brute_fillings import fillings, over_between
from tests.masonry.bonding.brute_force import (
    BONDS,
    Front,
    Piece,
    Run,
    Search,
    Trade,
    Wall,
    best,
    judge,
    say,
)

J = "0.375"


def row(text, joint=J, at=0):
    pieces, left = [], F(at)
    for word in text.split():
        right = left + F(word[1:])
        pieces.append(Piece(left, right, word[0]))
        left = right + F(joint)
    return tuple(pieces)


def mirrored(half, centre=""):
    words = half.split()
    return row(" ".join([*words, *centre.split(), *reversed(words)]))


def right_leg(text, front, joint=J):
    """The right leg of a front, written from its own end, the corner."""
    return tuple(
        Piece(front - p.right, front - p.left, p.role)
        for p in reversed(row(text, joint))
    )


def wall(face, unit="7.625", long="7.625", least_joint="0.25", most_joint="0.5"):
    return Wall(
        unit=F(unit), header=F("3.625"), long=F(long), short=F("3.625"),
        joint=F(J), least_joint=F(least_joint), most_joint=F(most_joint), step=F(1, 16),
        least_piece=F(2), least_lap=F(2), free_step=F(1, 4), face=face,
    )  # fmt: skip


def raised(merit):
    return {level: n for level, n in enumerate(merit, 1) if n}


# --- answers worked by hand: the least over every filling -----------------------------

LEGS = {
    "half": (
        wall(Run(F(13))),
        row("L7.625 x5.125", "0.25"),
        row("L3.625 x6 x2.875", "0.25"),
    ),
    "third": (
        wall(Run(F("19.625"), start="free"), unit="11.625"),
        row("x7.625 S11.625"),
        row("S11.625 x7.625"),
    ),
    "quarter": (
        wall(Run(F("17.625")), unit="11.625", long="11.625"),
        row("L11.625 x5.6875", "0.3125"),
        row("L3.625 x5.5 x8", "0.25"),
    ),
    "Flemish": (
        wall(Run(F("19.625"))),
        row("L7.625 H3.625 S7.625"),
        row("L3.625 Q1.625 S7.625 Q1.625 H3.625"),
    ),
    "English": (
        wall(Run(F("19.625"), start="free")),
        row("x5.625 S7.625 x5.625"),
        row("H3.625 H3.625 H3.625 H3.625 H3.625"),
    ),
    "common-6": (
        wall(Run(F("19.625"))),
        row("L7.625 S7.625 x3.625"),
        row("L3.625 S7.625 S7.625"),
        row("L3.625 Q1.625 H3.625 H3.625 x5.625"),
    ),
}


# Alone a leg of common bond does better, sawn to keep its headers; on its front the
# textbook's stands (`test_worked_answers`).
@pytest.mark.parametrize("name", [x for x in LEGS if x != "common-6"])
def test_the_best_leg_is_the_one_worked_by_hand(name):
    wanted, *rows = LEGS[name]
    answer = best(wanted, BONDS[name])
    assert answer is not None
    assert [answer.rows[kind]["run"] for kind in range(len(rows))] == rows
    parts = {kind: {"run": some} for kind, some in enumerate(rows)}
    assert judge(wanted, BONDS[name], parts) == answer.merit, say(answer.merit)


@pytest.mark.parametrize("name", ["half", "quarter"])
def test_leaving_what_is_already_worse_changes_no_answer(name):
    wanted = LEGS[name][0]
    assert best(wanted, BONDS[name], every=True) == best(wanted, BONDS[name])


# --- whole fronts of the textbook, judged ---------------------------------------------

FLEMISH = wall(Front(F("67.625"), F("19.625"), F("19.625")))
ENGLISH = wall(Front(F("67.625"), F("19.625"), F("19.625"), "free", "free"))
COMMON = wall(Front(F("71.625"), F("19.625"), F("19.625")))


def front(face, leg, over):
    return {"left": row(leg), "right": right_leg(leg, face.face.width), "over": over}


FRONTS = {
    # The first joint of a header course is 3 5/8 from any joint below it, and so is
    # the one before the header at the jamb: off the bond's lap (16), nothing else.
    "Flemish": (
        FLEMISH,
        {
            0: front(
                FLEMISH,
                "L7.625 H3.625 S7.625",
                mirrored("L7.625 H3.625 S7.625 H3.625 S7.625", "H3.625"),
            ),
            1: front(
                FLEMISH,
                "L3.625 Q1.625 S7.625 Q1.625 H3.625",
                mirrored("L3.625 Q1.625 S7.625 H3.625 S7.625 H3.625", "S7.625"),
            ),
        },
        {16: 4},
    ),
    "English": (
        ENGLISH,
        {
            0: front(
                ENGLISH,
                "x5.625 S7.625 x5.625",
                mirrored("x5.625 S7.625 S7.625 S7.625", "S7.625"),
            ),
            1: front(
                ENGLISH,
                "H3.625 " * 5,
                row("H3.625 " * 17),
            ),
        },
        # Three-quarter bats at both jambs and both free edges.
        {19: 2, 20: 2, 22: 2, 23: 4},
    ),
    "common-6": (
        COMMON,
        {
            0: front(
                COMMON,
                "L7.625 S7.625 x3.625",
                mirrored("L7.625" + " S7.625" * 3, "S7.625"),
            ),
            1: front(
                COMMON, "L3.625 S7.625 S7.625", mirrored("L3.625" + " S7.625" * 4)
            ),
            2: front(
                COMMON,
                "L3.625 Q1.625 H3.625 H3.625 x5.625",
                mirrored("L3.625 Q1.625" + " H3.625" * 7, "H3.625"),
            ),
        },
        # At each jamb a half bat, and in the header course a three-quarter bat that
        # reads as a stretcher (14, a leg's twice).
        {14: 4, 16: 2, 19: 4, 22: 4, 23: 4},
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FRONTS)
def test_the_textbooks_front_has_no_fault_but_those_counted_by_hand(name):
    face, rows, faults = FRONTS[name]
    assert raised(judge(face, BONDS[name], rows)) == faults


def test_the_textbooks_half_front_is_the_best_of_its_family():
    # Legs of 15 5/8: a long course of four nominal eights, a short one of 4 8 8 8 4
    # with a half bat at either jamb.
    face = wall(
        Front(F("39.625"), F("15.625"), F("15.625")), least_joint=J, most_joint=J
    )
    answer = best(face, BONDS["half"])
    assert answer is not None
    assert answer.rows[0]["over"] == mirrored("L7.625 S7.625", "S7.625")
    assert answer.rows[1]["left"] == row("L3.625 S7.625 x3.625")
    assert answer.rows[1]["over"] == mirrored("L3.625 S7.625 S7.625")
    assert raised(answer.merit) == {19: 2, 22: 2, 23: 2}


def test_a_mirrored_english_front_is_searched_to_the_textbooks_answer():
    face = wall(
        Front(F("67.625"), F("19.625"), F("19.625"), "free", "free"),
        least_joint=J, most_joint=J,
    )  # fmt: skip
    answer = best(face, BONDS["English"])
    assert answer is not None
    assert answer.rows == FRONTS["English"][1]


# --- the family -----------------------------------------------------------------------


@pytest.mark.parametrize("name", ["half", "third", "quarter", "English", "common-6"])
def test_every_filling_fills_its_leg_with_one_joint(name):
    trade = Trade(LEGS[name][0], BONDS[name])
    place = trade.place(len(LEGS[name]) - 2, "run")
    rows = fillings(trade, place, Search())
    assert rows
    for some in rows:
        assert some[0].left == 0
        assert some[-1].right == place.width
        gaps = {b.left - a.right for a, b in pairwise(some)}
        assert len(gaps) <= 1
        assert all(F(1, 4) <= gap <= F(1, 2) for gap in gaps)


def test_unlike_legs_are_carried_over_the_opening():
    face = wall(Front(F("39.625"), F("15.625"), F("7.625")))
    trade = Trade(face, BONDS["stack"])
    legs = row("L7.625 S7.625"), row("L7.625")
    places = trade.place(0, "left"), trade.place(0, "right")
    over = trade.place(0, "over")
    rows = over_between(trade, places, over, legs, Search(), F(2))
    whole = mirrored("L7.625 S7.625", "S7.625")
    assert whole in rows
    # Two equal cuts at the right end in place of one whole.
    assert row("L7.625 S7.625 S7.625 x3.625 x3.625 L7.625") in rows
    for some in rows:
        parts = {
            "left": legs[0],
            "right": (Piece(F(32), F("39.625"), "L"),),
            "over": some,
        }
        assert raised(judge(face, BONDS["stack"], {0: parts})).get(8, 0) == 0


def test_a_whole_row_may_stop_short_of_a_hidden_wall():
    face = wall(Run(F("15.875"), end="wall", is_return=True), least_joint=J)
    answer = best(face, BONDS["half"])
    assert answer is not None
    # The return takes the other leg; the row of the long leg stops 1/4 in short.
    assert answer.rows[1]["run"] == row("L7.625 S7.625")


def test_a_corner_unit_is_trimmed_only_where_nothing_else_serves():
    narrow = best(wall(Run(F(5))), BONDS["half"])
    assert narrow is not None
    assert narrow.search.trimmed
    assert narrow.rows[0]["run"] == row("T5")
    wide = best(wall(Run(F(13))), BONDS["half"])
    assert wide is not None
    assert not wide.search.trimmed


# --- damage: what each merit must see -------------------------------------------------

STACK_LEG = (wall(Run(F("23.625"))), "stack")
STACK_WALL = (wall(Run(F("23.625"), end="wall")), "stack")
HALF_LEG = (wall(Run(F("14.375"))), "half")
HALF_WALL = (wall(Run(F("14.375"), end="wall")), "half")
HALF_FREE = (wall(Run(F("6.5"), start="free")), "half")
ENGLISH_LEG = (wall(Run(F("12.5625"))), "English")
FLEMISH_LEG = (wall(Run(F("19.625"))), "Flemish")
A = "L7.625 x6.375"  # over it, in half bond, lies the course that is damaged

FEWER = {17: -1, 18: -1, 20: -1, 21: -18, 23: -1}  # one cut instead of two of 3 1/16

# level: (face, its courses before, after, what else changes). A course is written as
# its pieces, or with its joint before a colon.
DAMAGE = {
    1: (STACK_LEG, ["L7.625 x2"], ["L7.625 x1.9375"], {2: 1, 21: 1}),
    2: (STACK_LEG, ["L7.625 x1.9375"], ["L7.625 x1.875"], {21: 1}),
    3: (HALF_LEG, [A, "L3.625 x6 x4"], [A, "L3.625 x5.9375 x4.0625"], {4: 1}),
    4: (HALF_LEG, [A, "L3.625 x5.9375 x4.0625"], [A, "L3.625 x5.875 x4.125"], {}),
    5: (HALF_FREE, ["x6.5", "x3.0625 x3.0625"], ["x6.5", "x6.5"], FEWER),
    6: (STACK_LEG, ["T5.625 S7.625"], ["T5.5625 S7.625"], {15: 1}),
    9: (STACK_LEG, ["L7.625 S7.625"], ["T7.5 S7.625"], {15: 1}),
    10: (HALF_WALL, [A, "L3.625 x6 x4"], [A, "L3.625 x5.9375 x4.0625"], {}),
    11: (HALF_LEG, [A, "0.4375:L3.625 x9"], [A, "0.5:L3.625 x9"], {24: 2}),
    12: (STACK_LEG, ["L7.625 x2.875"], ["L7.625 x2.8125"], {21: 1}),
    13: (STACK_LEG, ["L7.625 x2.875 S7.625"], ["L7.625 x2.8125 S7.625"], {21: 1}),
    14: (
        ENGLISH_LEG,
        ["L7.625 x4.5625", "L3.625 H3.625 x4.5625"],
        ["L7.625 x4.5625", "L3.625 H3.625 x4.625"],
        {},
    ),
    15: (STACK_LEG, ["T7.5 S7.625"], ["T7.375 S7.625"], {}),
    16: (HALF_LEG, [A, "L3.625 x6.4375 x4"], [A, "L3.625 x6.375 x4"], {}),
    17: (STACK_LEG, ["L7.625 x3.625"], ["L7.625 x3.5"], {21: 2}),
    18: (STACK_LEG, ["L7.625 x3.625 S7.625"], ["L7.625 x3.5 S7.625"], {21: 2}),
    19: (STACK_LEG, ["L7.625 x5 S7.625"], ["L7.625 S7.625 x5"], {}),
    20: (STACK_LEG, ["L7.625 x5 S7.625 S7.625"], ["L7.625 S7.625 x5 S7.625"], {}),
    21: (STACK_LEG, ["L7.625 x3.5"], ["L7.625 x3.4375"], {}),
    22: (STACK_LEG, ["L7.625 x5 x5 S7.625"], ["L7.625 x4.5 x5.5 S7.625"], {}),
    23: (STACK_WALL, ["L7.625 x5 S7.625 S7.625"], ["L7.625 x5 S7.625 x5"], {}),
    24: (STACK_LEG, ["L7.625 S7.625"], ["0.4375:L7.625 S7.625"], {}),
}


def course(text):
    joint, _, pieces = text.rpartition(":")
    return row(pieces, joint or J)


def judged(face, texts):
    bond = BONDS[face[1]]
    return judge(face[0], bond, {k: {"run": course(t)} for k, t in enumerate(texts)})


def change(before, after):
    return {
        i: b - a
        for i, (a, b) in enumerate(zip(before, after, strict=True), 1)
        if a != b
    }


@pytest.mark.parametrize("level", DAMAGE)
def test_damage_to_a_run_is_seen_by_its_merit_and_no_other(level):
    face, before, after, also = DAMAGE[level]
    changed = change(judged(face, before), judged(face, after))
    assert changed.pop(level) > 0
    assert changed == also
    assert judged(face, after) > judged(face, before)


STACK_FRONT = wall(Front(F("55.625"), F("23.625"), F("23.625")))
OVER = mirrored("L7.625 S7.625 S7.625", "S7.625")


def stack_front(left, right, over=OVER):
    legs = {"left": row(left), "right": right_leg(right, F("55.625"))}
    return judge(STACK_FRONT, BONDS["stack"], {0: {**legs, "over": over}})


def test_a_broken_mirror_is_seen_and_nothing_else():
    # The joint between the two cuts at the right jamb moves; both belong to the jamb.
    before = stack_front(*["L7.625 S7.625 x3.75 x3.5"] * 2)
    after = stack_front("L7.625 S7.625 x3.75 x3.5", "L7.625 S7.625 x3.5 x3.75")
    assert change(before, after) == {7: 1, 17: -1, 18: 1}


def test_a_perpend_that_jumps_at_the_head_is_seen_on_each_side():
    whole = "L7.625 S7.625 S7.625"
    jumps = mirrored("L7.625 x7.5625 S7.625", "S7.75")
    changed = change(stack_front(whole, whole), stack_front(whole, whole, jumps))
    # The moved joint, both sides; two cuts of one length, not beside a jamb.
    assert changed[8] == 2
    assert set(changed) == {8, 22, 23}


def test_two_alike_side_by_side_and_a_header_under_a_joint_are_seen():
    good = ["L7.625 H3.625 S7.625", "L3.625 Q1.625 S7.625 Q1.625 H3.625"]
    alike = ["L7.625 S7.625 H3.625", good[1]]
    # L S: two, a leg's row twice; the header has become the end piece.
    assert change(judged(FLEMISH_LEG, good), judged(FLEMISH_LEG, alike))[14] == 4
    under = [good[0], "L3.625 S7.625 H3.625 H3.625"]
    # H H side by side (4). Each inner header only touches a joint of the other course
    # at its end (at 11 5/8, at 12): none is over it.
    assert change(judged(FLEMISH_LEG, good), judged(FLEMISH_LEG, under))[14] == 4
    moved = [good[0], "L3.625 Q1.5 x4 H3.625 S7.625"]
    # The 4 in cut reads as a header, between two headers (4 and 4, the closer read
    # through). B's joint from 9 7/8 lies over A's header, A's joints at 7 5/8 and
    # 11 5/8 over B's two inner ones (1 each).
    assert change(judged(FLEMISH_LEG, good), judged(FLEMISH_LEG, moved))[14] == 11


def test_the_head_counts_a_lap_of_over_against_the_leg_below_once():
    # One leg course and one over it: only the new joints meet the leg's.
    face = wall(Front(F("39.625"), F("15.625"), F("15.625"), legs=1, over=1))
    leg = {
        "left": row("L7.625 S7.625"),
        "right": right_leg("L7.625 S7.625", F("39.625")),
    }
    good = {0: leg, 1: {"over": mirrored("L3.625 S7.625 S7.625")}}
    bad = {0: leg, 1: {"over": mirrored("L3.625 x3.125 x6.125 x5.625")}}
    assert raised(judge(face, BONDS["half"], good)) == {}
    changed = change(judge(face, BONDS["half"], good), judge(face, BONDS["half"], bad))
    # The joint at 7 1/8 to 7 1/2 is 1/8 from the leg's at 7 5/8: 30 steps short, twice.
    assert (changed[3], changed[4]) == (2, 60)
    assert 16 not in changed


def test_a_merit_is_said_in_words():
    merit = judged(STACK_LEG, ["L7.625 x1.9375"])
    assert say(merit).startswith("1. under the least 1; 2. steps under 1; ")
    assert say([0] * 24) == "nothing against it"
