"""Joints that are near one another are added up, and their least found, both ways."""

from __future__ import annotations

import numpy as np
import pytest

from shopdraw.masonry.rows import overlaps
from shopdraw.masonry.rows.overlaps import added_up, least_of_lines

USUAL, NOTHING = 2, 3


def tables(seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return sums, codes, and rows that name some of their lines; the last is none."""
    pick = np.random.default_rng(seed)
    lines, wide = 40, 60
    sums = np.zeros((lines + 1, wide), np.int64)
    codes = np.full((lines + 1, wide), USUAL, np.int8)
    codes[-1] = NOTHING
    for line in range(lines):
        begin = pick.integers(0, wide - 8)
        some = slice(begin, begin + pick.integers(0, 8))
        sums[line, some] = pick.integers(0, 1 << 45, sums[line, some].shape)
        codes[line, some] = pick.integers(0, USUAL + 1, codes[line, some].shape)
    rows = np.stack([pick.permutation(lines)[:9] for _ in range(25)])
    rows = np.where(pick.random(rows.shape) < 0.3, lines, rows)
    rows[0] = lines
    return sums, codes, rows


@pytest.mark.parametrize("few", [0, 1 << 40])
@pytest.mark.parametrize("seed", range(5))
def test_lines_are_added_up_and_their_least_is_found(
    monkeypatch: pytest.MonkeyPatch, few: int, seed: int
) -> None:
    monkeypatch.setattr(overlaps, "FEW", few)
    sums, codes, rows = tables(seed)
    assert (added_up(sums, rows) == sums[rows].sum(axis=1)).all()
    found = least_of_lines(codes, rows, USUAL, NOTHING)
    assert (found == codes[rows].min(axis=1)).all()
    assert found.dtype == np.int8


def test_a_line_that_is_left_out_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    near_rows = overlaps._near_rows

    def but_the_first(*asked):
        return list(near_rows(*asked))[1:]

    monkeypatch.setattr(overlaps, "FEW", 0)
    monkeypatch.setattr(overlaps, "_near_rows", but_the_first)
    sums, codes, rows = tables(0)
    assert (added_up(sums, rows) != sums[rows].sum(axis=1)).any()
    found = least_of_lines(codes, rows, USUAL, NOTHING)
    assert (found != codes[rows].min(axis=1)).any()
