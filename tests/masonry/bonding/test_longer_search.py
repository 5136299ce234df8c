"""Where unlike legs break a rule the search looks on, and finds what it had missed."""

from __future__ import annotations

import numpy as np
import pytest

from shopdraw.masonry.bond import solve
from shopdraw.masonry.bond.solve import front_of
from shopdraw.masonry.bonding import answer, unlike, unlike_whole
from shopdraw.masonry.bonding.legs import Width
from shopdraw.masonry.bonding.unlike import Unlike
from shopdraw.masonry.bonding.unlike_within import TableOfArms
from shopdraw.masonry.rows.merit import WORDS, with_at_most
from tests.bench.bonds import KINDS, hold
from tests.longer import mostly_long
from tests.masonry.bonding.test_whole_walls import plan_of
from tests.random_walls import WallKind

SHORT = 1, 1, 1
SHORT_OF_LAP = ("half, unlike legs", 3), ("English, unlike legs", 4)
"""In these walls a lap under the least (merits 3 and 4) is found first, later none."""


@pytest.mark.parametrize("looks_on", [True, False])
@pytest.mark.parametrize(("kind", "seed"), mostly_long(SHORT_OF_LAP, SHORT_OF_LAP[0]))
def test_a_broken_rule_is_looked_on_for(
    monkeypatch: pytest.MonkeyPatch, kind: str, seed: int, looks_on: bool
) -> None:
    monkeypatch.setattr(answer, "WORK", SHORT)
    if not looks_on:
        monkeypatch.setattr(answer, "PATIENCE", SHORT)
    solve._front.cache_clear()
    held = hold(KINDS[kind].kind, seed)
    solve._front.cache_clear()
    fails = {merit for face, merit in held.given if face == "front" and merit < 7}
    assert fails == (set() if looks_on else {3, 4})
    assert held.searched_all == looks_on


CORNER_LOST = 30
"""In this wall the left leg alone loses a corner, and the right one has many ways."""


@pytest.mark.parametrize("fewer_first", [True, False])
def test_what_few_legs_rule_out_is_not_looked_for_beside_many(
    monkeypatch: pytest.MonkeyPatch, fewer_first: bool
) -> None:
    if not fewer_first:
        count = unlike._count
        monkeypatch.setattr(unlike, "_count", lambda words: -count(words))
    solve._front.cache_clear()
    held = hold(KINDS["half, unlike legs"].kind, CORNER_LOST)
    solve._front.cache_clear()
    assert ("front", 6) in held.given
    assert held.searched_all == fewer_first


LAP_KEPT = WallKind("common", is_mirrored=False, header_every=5), 701
"""A wall with ways that keep each lap; the best arms of each two kinds make none."""


def beside_another(arms: TableOfArms, *_: int) -> TableOfArms:
    """Return the best arms of all, whatever leg is gone on from."""
    return {kinds: x.first_of_each(unlike_whole.BESIDE) for kinds, x in arms.items()}


@pytest.mark.parametrize("is_whole", [True, False])
def test_legs_are_gone_on_from_by_themselves_where_the_best_arms_do_not_go_together(
    monkeypatch: pytest.MonkeyPatch, is_whole: bool
) -> None:
    if not is_whole:
        monkeypatch.setattr(unlike_whole, "_beside_leg", beside_another)
    monkeypatch.setattr(unlike_whole, "LEGS", 1)
    plan = plan_of(*LAP_KEPT)
    search = Unlike(plan.sizes, front_of(plan), Width(), answer.WORK[0])
    assert search._set_up([0, 1, 2, 3])
    no_laps = with_at_most(np.zeros(WORDS, np.int64), 3, 0)
    arms = search._arms_of([side.words for side in search.sides], no_laps)
    assert arms is not None
    assert search._among(arms, no_laps, unlike.SOME) == (None, False)
    found = search._leg_by_leg(arms, no_laps)
    assert (found is not None) == is_whole
    assert found is None or found.merit[:4] == (0, 0, 0, 0)
