"""Joints that are near one another, and headers that joints stand over.

In:  joints and headers of two kinds.   Out: `NearJoints`, tables of headers.
Frame: grid lengths.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from shopdraw.masonry.rows.merit import Flags, Ints


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
