"""Which soldiers fill a width: held against every row written down, and by hand.

Of random widths a hundred and fifty here, four thousand in the benchmark:
`python -m tests.bench soldiers`.
"""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from fractions import Fraction as F

from shopdraw.job.model import JointTable
from shopdraw.masonry.heads.shares import (
    Filling,
    SoldierRun,
    bearings_between,
    share_alone,
    share_soldiers,
    share_whole,
)
from tests.masonry.heads.by_hand import Asked, Row, best_row, fills, sawn_rows


def filling_of(asked: Asked) -> Filling:
    least, preferred, most = asked.joint
    pitch = asked.face + preferred
    ends = {0: (False, False), 1: (True, False), 2: (True, True)}[asked.end_joints]
    return Filling(
        width=asked.width,
        face=asked.face,
        joint=JointTable(preferred=preferred, least=least, most=most),
        end_joints=ends,
        centre=asked.centre,  # type: ignore[arg-type]
        bearings=bearings_between(pitch / 2, min(pitch, asked.room), asked.step),
    )


def row_of(run: SoldierRun | None) -> Row | None:
    """Read a run off its places, as somebody with a rule would."""
    if run is None:
        return None
    return tuple(b - a for a, b in run.places), run.joint, run.bears


def any_asked(seed: int) -> Asked:
    """Openings of 6 to 60 in, fixed joints and ranges, in inches and millimetres."""
    pick = random.Random(seed)
    unit = F(1, 16) if pick.random() < 0.5 else F(1)
    inch = 16 if unit < 1 else 25
    preferred = pick.randint(inch * 1 // 4, inch // 2)
    spread = pick.choice((0, 0, 0, 1, 2))
    face = pick.randint(inch * 3 // 2, inch * 15 // 4)
    return Asked(
        width=unit * pick.randint(6 * inch, 60 * inch),
        face=unit * face,
        joint=(unit * (preferred - spread), unit * preferred, unit * preferred
               + unit * pick.randint(0, spread)),
        end_joints=pick.choice((0, 1, 2, 2)),
        step=unit,
        room=unit * pick.choice((0, 2 * inch, 6 * inch)),
        centre=pick.choice(("best", "best", "unit", "joint")),
    )  # fmt: skip


def test_the_rules_find_what_is_found_by_writing_every_row_down() -> None:
    kinds = Counter(kind_held(seed) for seed in range(150))
    assert set(kinds) == {"whole", "three quarters", "half", "past", "none"}
    assert min(kinds.values()) >= 5, kinds


def kind_held(seed: int) -> str:
    """Fail where a random width is not filled by the row that is best; say its kind."""
    asked = any_asked(seed)
    run, row = share_soldiers(filling_of(asked)), best_row(asked)
    assert row_of(run) == row, f"seed {seed}: {asked}"
    return kind_of(asked, row)


def kind_of(asked: Asked, row: Row | None) -> str:
    if row is None:
        return "none"
    if row[2]:
        return "past"
    if min(row[0]) == asked.face:
        return "whole"
    return "three quarters" if min(row[0]) >= asked.face * 3 / 4 else "half"


def test_a_row_that_does_not_fill_the_width_is_noticed() -> None:
    for seed in range(40):
        asked = any_asked(seed)
        row = row_of(share_soldiers(filling_of(asked)))
        if row is None:
            continue
        pieces, joint, past = row
        assert fills(asked, row)
        assert not fills(asked, (pieces[1:], joint, past))
        assert not fills(asked, ((pieces[0] + asked.step, *pieces[1:]), joint, past))
        assert not fills(asked, (pieces, joint, past + asked.step))


def test_two_beside_the_centre_never_fit_where_two_at_the_ends_do_not() -> None:
    found = 0
    for seed in range(200):
        asked = any_asked(seed)
        half = asked.face / 2
        if sawn_rows(asked, half, at_ends=False):
            found += 1
            assert sawn_rows(asked, half, at_ends=True)
    assert found > 40


MM = Asked(F(560), F(65), (F(8), F(10), F(12)), 2, F(1), F(0))


def test_an_opening_of_560_mm_has_six_whole_ones_between_two_of_49() -> None:
    # Seven whole ones need joints of 13.1 and eight of 4.4. Six and two equal ones have
    # nine joints: 560 - 6 x 65 - 9 x 8 = 98, and 49 is over 3/4 x 65 = 48.75.
    run = share_soldiers(filling_of(MM))
    assert run is not None
    assert row_of(run) == ((F(49), *[F(65)] * 6, F(49)), F(8), F(0))
    assert run.places[0] == (F(8), F(57))
    assert run.places[-1] == (F(503), F(552))
    # A millimetre less and they are under three quarters, but there is no other way.
    narrower = replace(MM, width=F(559))
    assert row_of(share_soldiers(filling_of(narrower))) == (
        (F(97, 2), *[F(65)] * 6, F(97, 2)), F(8), F(0)
    )  # fmt: skip


def test_whole_ones_that_go_past_come_before_two_halves() -> None:
    # 33 in with joints of 3/8: 12 whole ones fill 27 + 13 x 3/8 = 31 7/8, 13 fill
    # 34 1/2. Two at the ends are (33 - 11 x 2 1/4 - 14 x 3/8) / 2 = 1 1/2, under
    # 1 11/16. 14 whole ones fill 37 1/8, which is 2 1/16 past each jamb.
    fixed = (F(3, 8),) * 3
    asked = Asked(F(33), F(9, 4), fixed, 2, F(1, 16), F(6))
    assert row_of(share_soldiers(filling_of(asked))) == (
        (F(9, 4),) * 14, F(3, 8), F(33, 16)
    )  # fmt: skip
    kept = replace(asked, room=F(0))
    assert row_of(share_soldiers(filling_of(kept))) == (
        (F(3, 2), *[F(9, 4)] * 11, F(3, 2)), F(3, 8), F(0)
    )  # fmt: skip


def test_one_fixed_joint_leaves_widths_that_nothing_fills() -> None:
    # Two soldiers of 2 1/4 and three joints of 3/8 fill 5 5/8; a joint more and two
    # halves fill 6 at least. Between them there is nothing.
    asked = Asked(F(5), F(9, 4), (F(3, 8),) * 3, 2, F(1, 16), F(0))
    filled = [
        x for x in (F(n, 16) for n in range(80, 112))
        if share_soldiers(filling_of(replace(asked, width=x))) is not None
    ]  # fmt: skip
    assert F(45, 8) in filled
    assert [x for x in filled if F(45, 8) < x < 6] == []
    assert F(6) in filled


def test_what_is_asked_for_on_the_centre_line_is_kept_by_a_later_rule() -> None:
    # 34 in, joints of 1/4 to 1/2: 13 whole ones with joints of 19/56. Twelve would need
    # 7/13, fourteen 1/6: a joint in the middle takes two sawn ones, at joints of 1/4.
    asked = Asked(F(34), F(9, 4), (F(1, 4), F(3, 8), F(1, 2)), 2, F(1, 16), F(0))
    best = share_soldiers(filling_of(asked))
    joint = share_soldiers(filling_of(replace(asked, centre="joint")))
    assert best is not None
    assert joint is not None
    assert (len(best.places), best.middle) == (13, "unit")
    assert joint.middle == "joint"
    assert joint.cut is not None


def test_a_width_of_one_soldier_has_no_joint() -> None:
    one = Filling(F(9, 4), F(9, 4), filling_of(MM).joint, (False, False))
    run = share_soldiers(one)
    assert run is not None
    assert (run.places, run.joint_count) == (((F(0), F(9, 4)),), 0)


def test_whole_ones_may_leave_a_joint_open_at_a_wall() -> None:
    # 14: 5 whole ones of 2 1/4 and 4 joints of 3/8 are 12 3/4; 1 1/4 is left, too much.
    # 13 1/8: 3/8 is left open with the preferred joint.
    joint = JointTable(preferred=F(3, 8), least=F(3, 8), most=F(3, 8))
    at = Filling(F(105, 8), F(9, 4), joint, (False, False))
    assert share_whole(at) is None
    run = share_whole(at, F(3, 8))
    assert run is not None
    assert (len(run.places), run.places[-1][1]) == (5, F(51, 4))
    assert share_whole(replace(at, width=F(14)), F(3, 8)) is None
    turned = run.mirrored(at.width)
    assert (turned.places[0][0], turned.places[-1][1]) == (F(3, 8), at.width)


def test_one_alone_is_sawn_to_no_less_than_half() -> None:
    joint = JointTable(preferred=F(3, 8), least=F(1, 4), most=F(1, 2))
    alone = Filling(F(2), F(9, 4), joint, (True, False))
    run = share_alone(alone)
    assert run is not None
    assert run.places == ((F(1, 4), F(2)),)
    assert share_alone(replace(alone, width=F(1))) is None
    assert share_alone(replace(alone, width=F(5, 2))) is None
