"""Mirror faces that fail as their own mirror image, against the brute force.

Such a face is searched unmirrored too. Line 7 of the order counts one for the face; the
brute force counts each row, so here it leaves the line out: the two searches are made
apart, and the unmirrored one is wanted only where it keeps more of lines 1 to 6. What
is a mirror image counts as one, whichever search it was found by.
"""

from __future__ import annotations

import random
from collections import namedtuple
from dataclasses import replace
from fractions import Fraction as F
from functools import cache

import pytest

from shopdraw.masonry.bonding import answer
from tests.longer import mostly_long
from tests.masonry.bonding import brute_force
from tests.masonry.bonding.brute_force import (
    BONDS,
    Front,
    Search,
    Trade,
    Wall,
    judge,
    say,
)
from tests.masonry.bonding.test_against_brute_force import grid, solved_front, wall_of
from tests.masonry.bonding.test_unlike import in_brute_rows

FAILS, FAULTS, MIRRORED = 6, 13, 7
CASES = {
    "half": (26, 31, 36),
    "third": (17, 21),
    "quarter": (1, 6),
    "English": (0, 9, 24),
    "Flemish": (3, 9),
    "common-6": (0, 3),
}
"""By bond, which of its random fronts: those that fail, and are small enough.

Stack bond, and common bond with a header course every fifth, are not compared here.
"""
JUDGE_KIND = brute_force.judge_kind
UNMIRRORED = {"half": 36, "quarter": 6, "English": 24, "common-6": 0}
"""Of those, some that keep more of lines 1 to 6 unmirrored."""


def front_of(pick: random.Random, name: str) -> Wall:
    """Return a random mirrored front, with legs so narrow that many fail."""
    wall = wall_of(pick, name)
    least = 9 if wall.unit < 9 else 13
    end = pick.choice(("corner", "free"))
    leg = F(pick.randint(4 * (least - 2), 4 * (least + 3)), 8)
    if end == "corner":
        leg += F(pick.randint(-4, 8), 4)
    opening = F(pick.randint(3 * least // 2, 3 * least // 2 + 3), 2)
    face = Front(2 * leg + opening, leg, leg, end, end, 12, 12)
    one = wall.joint
    return replace(wall, least_joint=one, most_joint=one, face=face, free_step=F(2))


def without_line_7(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the brute force judge all but whether a face mirrors."""

    def judged(trade: Trade, laid: brute_force.Laid) -> list[int]:
        tally = JUDGE_KIND(trade, laid)
        tally[MIRRORED - 1] = 0
        return tally

    monkeypatch.setattr(brute_force, "judge_kind", judged)


def wanted(wall: Wall, name: str) -> tuple[int, ...]:
    """Return the least merit of a mirror face that fails as its own mirror image."""
    trade = Trade(brute_force.times(wall, brute_force.scale_of(wall)), BONDS[name])
    search, best = Search(), brute_force.search_of(trade, Search(), every=False)
    for faults, more in ((FAULTS, {"fine": True}), (FAILS, {"trimmed": True})):
        if best is None or any(best.merit[:faults]):
            search = search._replace(**more)
            best = brute_force.search_of(trade, search, every=False) or best
    if best is None or any(best.merit[:FAULTS]):
        more = brute_force.search_of(trade, search._replace(centre=5), every=False)
        if more and (best is None or more.merit[:FAULTS] < best.merit[:FAULTS]):
            best, search = more, more.search
    other = brute_force.search_of(trade, search._replace(mirrored=False), every=False)
    assert best is not None
    every = [tuple(best.merit)]
    if other is not None:
        every.append((*other.merit[: MIRRORED - 1], 1, *other.merit[MIRRORED:]))
    image = mirror_image(trade, search)
    return min([*every, image] if image else every)


def mirror_image(trade: Trade, search: Search) -> tuple[int, ...] | None:
    """Return the least merit of the unmirrored ways, where it is of a mirror image."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(brute_force, "judge_kind", JUDGE_KIND)
        search = search._replace(mirrored=False)
        found = brute_force.search_of(trade, search, every=False)
    return None if found is None or found.merit[MIRRORED - 1] else tuple(found.merit)


@cache
def least_of(wall: Wall, name: str) -> tuple[int, ...]:
    """Return the same, once for all that is held against it."""
    with pytest.MonkeyPatch.context() as patched:
        without_line_7(patched)
        return wanted(wall, name)


def compare(wall: Wall, name: str) -> bool | None:
    """Fail where ours is not the least; say whether it is unmirrored.

    None where the face does not fail, so that nothing is to be compared here.
    """
    found = solved_front(wall, name)
    if not any(found.merit[:FAILS]):
        return None
    assert found.searched_all
    ours = list(brute_force.judge(wall, BONDS[name], in_brute_rows(found, wall, name)))
    ours[MIRRORED - 1] = min(ours[MIRRORED - 1], 1)
    assert list(found.merit) == ours, f"judged otherwise: {wall}\n{say(ours)}"
    least = least_of(wall, name)
    assert tuple(ours) == least, f"{wall}\n{say(ours)}\n{say(least)}"
    return bool(found.merit[MIRRORED - 1])


def front(name: str, at: int) -> Wall:
    """Return one of a bond's random fronts."""
    pick = random.Random(f"{name} unmirrored")
    return [front_of(pick, name) for _ in range(at + 1)][-1]


@pytest.mark.parametrize(
    ("name", "at"),
    mostly_long(
        ((name, at) for name, some in CASES.items() for at in some),
        *((name, UNMIRRORED.get(name, some[-1])) for name, some in CASES.items()),
    ),
)
def test_no_way_of_a_face_that_fails_mirrored_is_better(name: str, at: int) -> None:
    is_unmirrored = compare(front(name, at), name)
    assert is_unmirrored is not None
    assert not is_unmirrored or name in UNMIRRORED


@pytest.mark.parametrize("name", UNMIRRORED)
def test_a_face_that_is_only_searched_mirrored_is_noticed(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(answer, "_better", lambda one, other: one or other)
    with pytest.raises(AssertionError):
        compare(front(name, UNMIRRORED[name]), name)


EQUAL_CUTS = Wall(
    unit=F(61, 8), header=F(3), long=F(61, 8), short=F(3), joint=F(3, 8),
    least_joint=F(3, 8), most_joint=F(3, 8), step=F(1, 16), least_piece=F(2),
    least_lap=F(2), free_step=F(1, 4),
    face=Front(F(453, 8), F(109, 16), F(109, 16), "corner", "corner", 11, 5),
)  # fmt: skip
"""A Flemish front with so narrow legs that two equal cuts lie side by side over each
jamb: no narrower mirrored way keeps lines 1 to 6."""


def test_equal_cuts_at_both_ends_over_the_opening_are_a_mirror_image() -> None:
    found = solved_front(EQUAL_CUTS, "Flemish")
    assert not any(found.merit[: FAILS + 1])
    ours = judge(
        EQUAL_CUTS, BONDS["Flemish"], in_brute_rows(found, EQUAL_CUTS, "Flemish")
    )
    assert list(found.merit) == list(ours)
    over = {tuple(b - a for a, b in x.pieces) for x in found.zones["over"].values()}
    assert all(x == x[::-1] for x in over)
    assert any(x[1] == x[2] != x[3] for x in over)


def test_a_face_is_a_mirror_image_however_it_was_found(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    mirrored = solved_front(EQUAL_CUTS, "Flemish")
    monkeypatch.setattr(answer, "_mirrored", lambda *_: None)
    found = solved_front(EQUAL_CUTS, "Flemish")
    assert found.merit == mirrored.merit
    assert found.merit == tuple(
        map(sum, zip(*(x.merit for x in found.parts), strict=True))
    )


def test_one_piece_elsewhere_is_no_mirror_image() -> None:
    zones = dict(solved_front(EQUAL_CUTS, "Flemish").zones)
    about = grid(EQUAL_CUTS.face.width)
    front = namedtuple("About", "about")(about)
    assert answer.is_mirror_image(front, zones)
    for zone in zones:
        row = zones[zone][0]
        pieces = ((row.pieces[0][0], row.pieces[0][1] - 1), *row.pieces[1:])
        moved = {**zones[zone], 0: replace(row, pieces=pieces)}
        assert not answer.is_mirror_image(front, {**zones, zone: moved})
