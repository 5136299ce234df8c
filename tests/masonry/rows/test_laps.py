"""Pairs of rows whose laps are within a limit: all of them, and few others."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest

from shopdraw.masonry.rows import laps
from shopdraw.masonry.rows.bonds import BONDS
from shopdraw.masonry.rows.laps import Sieve
from shopdraw.masonry.rows.meetings import FAR, Meeting, MeetingJudge, Perpends
from tests.masonry.bonding.walls import INCH, on_grid, sizes_of

SIXTEENTH = INCH // 16
MEETING = Meeting(sizes_of(BONDS["half"]), (0, 1), on_grid("50"), skips=True)
LAP = 1 << 19
"""One lap under the least, in the first word, and no steps of it."""


def rows_of(seed: int, count: int = 40) -> tuple[Perpends, np.ndarray]:
    """Return rows of a few random joints, many alike at first, and how they begin."""
    pick = np.random.default_rng(seed)
    start = pick.integers(0, 4, count)
    first = np.array([20, 40, 60, 90])[start]
    steps = pick.choice([80, 100, 128], (count, 6))
    left = np.column_stack([first, first[:, None] + np.cumsum(steps, axis=1)])
    there = np.arange(7)[None, :] < pick.integers(0, 8, count)[:, None]
    wide = np.array([4, 6, 8])[pick.integers(0, 3, count)][:, None]
    kept = there & (np.arange(7)[None, :] < pick.integers(0, 3, count)[:, None])
    none = np.zeros((count, 0), np.int64)
    rows = Perpends(
        np.where(there, left * SIXTEENTH, FAR),
        np.where(there, (left + wide) * SIXTEENTH, -FAR),
        there.astype(np.int64), there, kept, np.zeros_like(there),
        none, none, none, none.astype(np.bool_), wide[:, 0] * SIXTEENTH,
    )  # fmt: skip
    shuffled = pick.permutation(count)
    return rows.take(shuffled), start[shuffled]


def sieved(seed: int, room: int) -> tuple[Iterator[tuple[int, int]], np.ndarray]:
    """Return the pairs that are found, and the laps of every pair, counted one by one.

    A beginning lies on two others only.
    """
    (one, start), (other, facing) = rows_of(seed), rows_of(seed + 1000)
    begun = np.array([0, 1, 2, 3, 0]), np.array([0, 1, 2, 3, 1])
    found = [
        pair
        for a, b in Sieve(MEETING, room, lambda _: None).pairs(
            (one, other), (start, facing), begun
        )
        for pair in zip(a.tolist(), b.tolist(), strict=True)
    ]
    every = MeetingJudge(one, other, MEETING).first_words(0, len(start))
    may = (start[:, None] == facing[None, :]) | (
        (start[:, None] == 0) & (facing[None, :] == 1)
    )
    return found, np.where(may, every, FAR)


def within(words: np.ndarray, room: int) -> set[tuple[int, int]]:
    """Return the pairs whose laps are within a room."""
    a, b = np.nonzero(words <= room)
    return set(zip(a.tolist(), b.tolist(), strict=True))


@pytest.mark.parametrize("at_once", [50, 1 << 16])
@pytest.mark.parametrize("known", [60, 1 << 25])
@pytest.mark.parametrize("room", [0, LAP, 3 * LAP, FAR - 1])
@pytest.mark.parametrize("seed", range(3))
def test_all_pairs_within_the_room_are_found_once(
    monkeypatch: pytest.MonkeyPatch, seed: int, room: int, known: int, at_once: int
) -> None:
    monkeypatch.setattr(laps, "AT_ONCE", at_once)
    monkeypatch.setattr(laps, "MOST_KNOWN", known)
    found, words = sieved(seed, room)
    expected = within(words, room)
    assert len(found) == len(set(found))
    assert expected <= set(found)
    # A joint that is too near two of the other row is counted once.
    most = room if room in (0, FAR - 1) else 2 * room + LAP - 1
    assert set(found) <= within(words, most)
    assert 0 < len(expected) < words.size


@pytest.mark.parametrize("damage", ["nobody", "everybody", "one place further"])
def test_what_is_too_near_is_held_against_every_pair(
    monkeypatch: pytest.MonkeyPatch, damage: str
) -> None:
    any_of = laps._any_of
    wrong = {
        "nobody": lambda words, first, last: 0 * any_of(words, first, last),
        "everybody": lambda words, first, last: ~(0 * any_of(words, first, last)),
        "one place further": lambda words, first, last: any_of(
            words, np.minimum(first + 1, len(words)), last
        ),
    }
    monkeypatch.setattr(laps, "_any_of", wrong[damage])
    found, words = sieved(0, 0)
    assert set(found) != within(words, 0)


def test_what_is_ruled_out_early_is_not_looked_at() -> None:
    spent = {0: 0, FAR - 1: 0}
    rows, start = rows_of(0, 400)
    some = rows.is_there.any(axis=1)
    # Those that begin alike have their first joint in one place.
    rows, start = rows.take(some), start[some]
    rows = replace(rows, is_kept=np.zeros_like(rows.is_there))
    for room in spent:

        def count(many: int, room: int = room) -> None:
            spent[room] += many

        begun = np.arange(4), np.arange(4)
        list(Sieve(MEETING, room, count).pairs((rows, rows), (start, start), begun))
    assert 4 * spent[0] < spent[FAR - 1]


@pytest.mark.parametrize("damage", ["a joint more", "not kept", "another beginning"])
def test_a_damaged_row_is_told_from_its_like(damage: str) -> None:
    """Rows that differ in one thing only are not taken for one another."""
    rows, start = rows_of(3)
    at = int(np.nonzero(rows.is_kept.any(axis=1) & ~rows.is_there.all(axis=1))[0][0])
    twice = rows.take(np.array([at, at]))
    begins = np.array([0, 0])
    if damage == "a joint more":
        end = int(twice.is_there[1].sum())
        twice.left[1, end], twice.right[1, end] = on_grid("48"), on_grid("48 3/8")
        twice.is_there[1, end], twice.times[1, end] = True, 1
    if damage == "not kept":
        twice.is_kept[1] = False
    if damage == "another beginning":
        begins = np.array([0, 1])
    other, facing = rows_of(1003)
    other = other.take(facing == start[at])
    facing = np.zeros(len(other.joint), np.int64)
    begun = np.array([0, 1]), np.array([0, 0])
    for room in (0, LAP, 2 * LAP):
        found = {
            (int(x), int(y))
            for a, b in Sieve(MEETING, room, lambda _: None).pairs(
                (twice, other), (begins, facing), begun
            )
            for x, y in zip(a, b, strict=True)
        }
        words = MeetingJudge(twice, other, MEETING).first_words(0, 2)
        assert within(words, room) <= found
        assert found <= within(words, room and 2 * room + LAP - 1)
