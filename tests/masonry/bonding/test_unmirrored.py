"""Mirror faces that fail as their own mirror image, against the brute force.

Such a face is searched unmirrored too. Line 7 of the order counts one for the face; the
brute force counts each row, so here it leaves the line out: the two searches are made
apart, and the unmirrored one is wanted only where it keeps more of lines 1 to 6.
"""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction as F

import pytest

from shopdraw.masonry.bonding import answer
from tests.masonry.bonding import brute_force
from tests.masonry.bonding.brute_force import BONDS, Front, Search, Trade, Wall, say
from tests.masonry.bonding.test_against_brute_force import solved_front, wall_of
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
    judge_kind = brute_force.judge_kind

    def judged(trade: Trade, laid: brute_force.Laid) -> list[int]:
        tally = judge_kind(trade, laid)
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
    if other is None or other.merit[:FAILS] >= best.merit[:FAILS]:
        return tuple(best.merit)
    return (*other.merit[: MIRRORED - 1], 1, *other.merit[MIRRORED:])


def compare(wall: Wall, name: str, monkeypatch: pytest.MonkeyPatch) -> bool | None:
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
    with monkeypatch.context() as patched:
        without_line_7(patched)
        least = wanted(wall, name)
    assert tuple(ours) == least, f"{wall}\n{say(ours)}\n{say(least)}"
    return bool(found.merit[MIRRORED - 1])


def front(name: str, at: int) -> Wall:
    """Return one of a bond's random fronts."""
    pick = random.Random(f"{name} unmirrored")
    return [front_of(pick, name) for _ in range(at + 1)][-1]


@pytest.mark.parametrize(
    ("name", "at"), [(name, at) for name, some in CASES.items() for at in some]
)
def test_no_way_of_a_face_that_fails_mirrored_is_better(
    name: str, at: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    is_unmirrored = compare(front(name, at), name, monkeypatch)
    assert is_unmirrored is not None
    assert not is_unmirrored or name in UNMIRRORED


@pytest.mark.parametrize("name", UNMIRRORED)
def test_a_face_that_is_only_searched_mirrored_is_noticed(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(answer, "_better", lambda one, other: one or other)
    with pytest.raises(AssertionError):
        compare(front(name, UNMIRRORED[name]), name, monkeypatch)
