"""Joints that are near one another, and headers that joints stand over.

In:  joints and headers of two kinds.   Out: `NearJoints`, tables of headers.
Frame: grid lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from shopdraw.masonry.rows.judge import up
from shopdraw.masonry.rows.merit import PLACES, Flags, Ints

Codes: TypeAlias = NDArray[np.int8]


@dataclass(frozen=True)
class NearJoints:
    """Joints that are near one another.

    Attributes:
        one, other: which they are, of those looked at and of all the other's.
        lap: how far apart they are.
        times: how often the first one counts.
        is_at_wall: whether either is the last before a hidden wall.
        shape: how many joints there are.
    """

    one: Ints
    other: Ints
    lap: Ints
    times: Ints
    is_at_wall: Flags
    shape: tuple[int, int]

    def spread(self, words: Ints) -> Ints:
        """Return words of these in a table, the other's joints by the one's."""
        table = np.zeros(self.shape[::-1], np.int64)
        table[self.other, self.one] = words
        return table


def lap_words(lap: Ints, least: int, step: int, is_at_wall: Flags | None) -> Ints:
    """Return what laps add to merits 3 and 4, in the first word.

    Args:
        lap: how far apart two joints are, 0 where they overlap.
        least: the least lap.
        step: the joint step.
        is_at_wall: whether either joint is the last before a hidden wall.
    """
    # Twice the lengths, so that half the least lap is whole.
    bound = np.full_like(lap, 2 * least)
    if is_at_wall is not None:
        bound[is_at_wall] = least
    short = bound - np.minimum(2 * lap, bound)
    steps = up(short, 2 * step)
    words = (steps > 0).astype(np.int64) << PLACES[2][1]
    return words + (steps << PLACES[3][1])


FEW = 2_000_000
"""So many numbers are added up as they stand sooner than what is near is sought."""


def added_up(table: Ints, lines: Ints) -> Ints:
    """Return for every row of line numbers the sum of these lines of a table.

    Args:
        table: a line for each joint of one kind; a column for each of the other, from
            left to right, so that what is not 0 in a line stands close together.
        lines: numbers of lines, none but the last twice in a row; that one is all 0.
    """
    total = np.zeros((len(lines), table.shape[1]), table.dtype)
    if lines.size * table.shape[1] < FEW:
        for line in lines.T:
            total += table[line]
        return total
    for line, rows, near in _near_rows(table, lines, 0):
        total[rows, near] += table[line, near]
    return total


def least_of_lines(table: Codes, lines: Ints, usual: int, nothing: int) -> Codes:
    """Return for every row of line numbers the least of these lines of a table.

    Args:
        table: as above; what most of it is, is `usual`. The last line is `nothing`.
        lines: as above.
        usual: more than it is only `nothing`.
        nothing: the least of no line.
    """
    least = np.full((len(lines), table.shape[1]), nothing, table.dtype)
    if lines.size * table.shape[1] < FEW:
        for line in lines.T:
            np.minimum(least, table[line], out=least)
        return least
    least[(lines != len(table) - 1).any(axis=1)] = usual
    for line, rows, near in _near_rows(table[:-1], lines, usual):
        least[rows, near] = np.minimum(least[rows, near], table[line, near])
    return least


def _near_rows(
    table: Ints | Codes, lines: Ints, usual: int
) -> Iterator[tuple[int, Ints, slice]]:
    """Yield the lines of a table that are not all usual, and the rows that name each.

    With them comes where, from the first column that is not usual to the last.
    """
    unusual = table != usual
    begin = unusual.argmax(axis=1)
    end = unusual.shape[1] - unusual[:, ::-1].argmax(axis=1)
    flat = lines.reshape(-1)
    order = np.argsort(flat, kind="stable")
    ends = np.searchsorted(flat[order], np.arange(len(table) + 1))
    for line in np.nonzero(unusual.any(axis=1))[0].tolist():
        rows = order[ends[line] : ends[line + 1]] // lines.shape[1]
        if len(rows):
            yield line, rows, slice(begin[line], end[line])


def headers_under(
    mine: tuple[Ints, Ints, Ints], theirs: tuple[Ints, Ints, Ints]
) -> tuple[Ints, Ints, Flags]:
    """Return headers by number, how often each counts, and under which rows it has one.

    Args:
        mine: where headers begin and end and how often each counts, of shape
            (fillings, headers).
        theirs: where each different joint of the other kind begins and ends, and the
            joints of each of its fillings by number.

    Returns:
        The numbers and the counts, of shape (fillings, headers), and whether each of
        the other's fillings has a joint over each header.
    """
    columns = np.nonzero(mine[2].any(axis=0))[0]
    left, right, times = (x[:, columns] for x in mine)
    joint_left, joint_right, lines = theirs
    if not len(columns):
        return times, times, np.zeros((len(lines), 1), np.bool_)
    key = np.stack([left.reshape(-1), right.reshape(-1)], axis=1)
    each, numbers = np.unique(key, axis=0, return_inverse=True)
    over = joint_left[:, None] < each[None, :, 1]
    over &= joint_right[:, None] > each[None, :, 0]
    found = np.zeros((len(lines), len(each)), np.bool_)
    for line in lines.T:
        found |= over[line]
    return numbers.reshape(left.shape), times, found
