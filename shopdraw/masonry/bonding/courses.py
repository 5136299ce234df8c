"""Whole courses over an opening, and where their joints stand.

In:  legs and the ways over that go on from them.   Out: `Courses`.
Frame: grid lengths; rows are their own mirror image about half of `about`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from shopdraw.masonry.bonding.legs import Rows
from shopdraw.masonry.bonding.over import Over, kept_of
from shopdraw.masonry.rows.judge import RowSetting
from shopdraw.masonry.rows.meetings import Perpends, joints_of
from shopdraw.masonry.rows.merit import Ints
from shopdraw.masonry.rows.tables import Fillings, side_by_side


@dataclass
class Courses:
    """Some of the ways over of one kind, to be paired; sorted by their legs.

    Attributes:
        leg: the filling that each goes on from.
        way: which way over it is; -1 where the kind lies only in the legs.
        words: what each adds to its leg.
        extra: what it adds beyond the least that its leg is known to come to.
        rows, joints: the whole courses, where there are any.
    """

    leg: Ints
    way: Ints
    words: Ints
    extra: Ints
    rows: Fillings | None = None
    joints: Perpends | None = None


def whole_rows(legs: Rows | None, over: Over, which: Ints, about: int) -> Fillings:
    """Return the whole course over the opening, for some ways."""
    new = over.new.take(over.at[which])
    if legs is None:
        return new
    kept = kept_of(legs.table, over.leg[which], over.kept[which])
    return side_by_side([kept, new, kept.mirrored(about)], new.joint)


def perpends_over(
    legs: Rows | None, rows: Fillings, leg: Ints, at: RowSetting, about: int
) -> Perpends:
    """Return the joints of whole courses over the opening.

    Args:
        legs: the leg's fillings.
        rows: the courses.
        leg: which filling each course goes on from.
        at: where they stand.
        about: twice the centre line.
    """
    found = joints_of(rows, at, about)
    if legs is None:
        return found
    kept = np.zeros_like(found.is_there)
    left, right = legs.joints.left[leg], legs.joints.right[leg]
    for column in range(left.shape[1]):
        a, b = left[:, column, None], right[:, column, None]
        kept |= (found.left == a) & (found.right == b)
        kept |= (found.left == about - b) & (found.right == about - a)
    return replace(found, is_kept=kept & found.is_there)


def perpends_of_both(joints: Perpends, about: int) -> Perpends:
    """Return the joints of a leg and of its mirror image, for the head."""
    left = np.concatenate([joints.left, about - joints.right], axis=1)
    right = np.concatenate([joints.right, about - joints.left], axis=1)
    there = np.tile(joints.is_there, (1, 2))
    middle = np.zeros_like(joints.times)
    return replace(
        joints,
        left=left,
        right=right,
        times=np.concatenate([2 * joints.times, middle], axis=1),
        is_there=there,
        is_kept=there,
        is_last=np.zeros_like(there),
    )
