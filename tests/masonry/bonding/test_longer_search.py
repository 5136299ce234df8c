"""Where unlike legs break a rule the search looks on, and finds what it had missed."""

from __future__ import annotations

import pytest

from shopdraw.masonry.bond import solve
from shopdraw.masonry.bonding import answer, unlike
from tests.bench.bonds import KINDS, hold

SHORT = 1, 1, 1


@pytest.mark.parametrize("looks_on", [True, False])
def test_a_broken_rule_is_looked_on_for(
    monkeypatch: pytest.MonkeyPatch, looks_on: bool
) -> None:
    # In this wall a lap under the least (merits 3 and 4) is found first, later none.
    monkeypatch.setattr(answer, "WORK", SHORT)
    if not looks_on:
        monkeypatch.setattr(answer, "PATIENCE", SHORT)
    solve._front.cache_clear()
    held = hold(KINDS["English, unlike legs"].kind, 4)
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
