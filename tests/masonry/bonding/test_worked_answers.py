"""Walls worked by hand, each bond to the sixteenth, and a bond that is one row more."""

from __future__ import annotations

from fractions import Fraction

import pytest

from shopdraw.masonry.bonding.answer import solve_front, solve_stretch
from shopdraw.masonry.bonding.legs import Front, Solved
from shopdraw.masonry.rows.bonds import BONDS, row, two_rows
from tests.masonry.bonding.walls import (
    front_of,
    leg_of,
    lengths,
    marks,
    on_grid,
    sixteenths,
    sizes_of,
)

LEGS = {
    # Joints and pieces in sixteenths, of the long kind and of the short.
    "half": ("7 5/8", "13", "corner", (4, [122, 82]), (4, [58, 96, 46])),
    "third": ("11 5/8", "19 5/8", "free", (6, [122, 186]), (6, [186, 122])),
    "quarter": ("11 5/8", "17 5/8", "corner", (5, [186, 91]), (4, [58, 88, 128])),
}


@pytest.mark.parametrize("name", LEGS)
def test_a_leg_comes_out_as_by_hand(name: str) -> None:
    unit, width, near, *rows = LEGS[name]
    solved = solve_stretch(
        sizes_of(BONDS[name], unit), leg_of(width, near, BONDS[name])
    )
    laid = solved.zones["leg"]
    got = [(sixteenths(laid[k].joint), lengths(laid[k])) for k in (0, 1)]
    # Either row of third bond may come first: nothing tells them apart.
    assert sorted(got) == sorted(rows)
    assert solved.merit[:6] == (0,) * 6


def test_a_front_of_one_course_has_no_lap_to_keep_and_its_joints_as_preferred() -> None:
    # 13 in are 208 sixteenths: the corner unit's 122, a joint of 6, and 80.
    leg, whole = on_grid("13"), on_grid("66")
    jambs = leg, whole - leg
    front = Front(0, whole, jambs, ("corner", "corner"), (0,), (), is_mirrored=True)
    solved = solve_front(sizes_of(BONDS["half"]), front)
    left, right = (solved.zones[f"{side} leg"][0] for side in ("left", "right"))
    assert (sixteenths(left.joint), lengths(left)) == (6, [122, 80])
    assert lengths(right) == [80, 122]


def solve(name: str, width: str, end: str) -> Solved:
    bond = BONDS[name]
    return solve_front(sizes_of(bond), front_of(width, "19 5/8", end, bond))


def halved(solved: Solved, kind: int, width: int) -> list[Fraction]:
    """Return a course's marks up to the centre; the rest must mirror them."""
    over = solved.zones["over"][kind]
    pieces = [(sixteenths(a) / 16, sixteenths(b) / 16) for a, b in over.pieces]
    whole = pieces[-1][1]
    assert pieces == [(whole - b, whole - a) for a, b in reversed(pieces)]
    return [x for x in marks(over) if 2 * x <= width]


def test_flemish_is_the_textbooks() -> None:
    solved = solve("Flemish", "67 5/8", "corner")
    assert halved(solved, 0, 68) == [8, 12, 20, 24, 32]
    assert halved(solved, 1, 68) == [4, 6, 14, 18, 26, 30]
    assert marks(solved.zones["left leg"][1]) == [4, 6, 14, 16]
    roles = {
        x for rows in solved.zones.values() for f in rows.values() for x in f.roles
    }
    assert roles == {"leg", "whole", "closer"}
    assert solved.searched_all


def test_english_is_the_textbooks() -> None:
    solved = solve("English", "67 5/8", "free")
    assert halved(solved, 0, 68) == [6, 14, 22, 30]
    assert lengths(solved.zones["over"][1]) == [58] * 17


def test_common_is_the_textbooks() -> None:
    solved = solve("common", "71 5/8", "corner")
    assert halved(solved, 0, 72) == [8, 16, 24, 32]
    assert halved(solved, 1, 72) == [4, 12, 20, 28, 36]
    assert halved(solved, 2, 72) == [4, 6, 10, 14, 18, 22, 26, 30, 34]
    assert marks(solved.zones["left leg"][2]) == [4, 6, 10, 14]
    assert lengths(solved.zones["left leg"][2])[-1] == 90


def test_a_new_bond_is_one_row_of_data() -> None:
    rows = row("SSH", "long"), row("SSH", "short")
    bond = two_rows("two stretchers to a header", rows, "English")
    span = leg_of("67 5/8", "corner", bond)
    solved = solve_stretch(sizes_of(bond), span)
    long, short = (solved.zones["leg"][kind] for kind in (0, 1))
    assert "".join(long.letters) == "HSSHSSHSS"
    # A closer beside the quoin's header, and one beside the header at the jamb.
    assert short.roles[:2] == ("leg", "closer")
    assert short.roles[-2:] == ("closer", "whole")
    assert "".join(short.letters) == "SSHSSHSSH"
    assert solved.merit[13] == 0


def test_three_stretchers_in_a_row_or_one_alone_break_two_to_a_header() -> None:
    rows = row("SSH", "long"), row("SSH", "short")
    bond = two_rows("two stretchers to a header", rows, "English")
    solved = solve_stretch(sizes_of(bond), leg_of("39 5/8", "free", bond))
    letters = {"".join(x.letters) for x in solved.zones["leg"].values()}
    broken = any("SSS" in x or "HSH" in x for x in letters)
    assert broken == bool(solved.merit[13])
