"""Tables of fillings: what stands where.

In:  nothing.   Out: `Fillings`.
Frame: grid lengths; a table's rows are fillings, its columns pieces left to right.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shopdraw.masonry.rows.merit import Flags, Ints

NONE, LEG, WHOLE, CUT, CLOSER = range(5)
"""What a column of a filling is; none where the filling has fewer pieces."""


def picked(table: NDArray[Any], columns: Ints) -> NDArray[Any]:
    """Return for each row of a table some of its columns, of the shape of these."""
    found: NDArray[Any] = table[np.arange(len(table))[:, None], columns]
    return found


@dataclass(frozen=True)
class Fillings:
    """Fillings, one a row.

    Attributes:
        left, right: where each piece stands, of shape (fillings, columns).
        role: what each piece is.
        letter: the place in the pattern of a whole unit, -1 for anything else.
        joint: the head joint, of shape (fillings,); 0 where there is none.
        counted: which pieces are judged here; others are judged with the leg.
    """

    left: Ints
    right: Ints
    role: NDArray[np.int8]
    letter: NDArray[np.int8]
    joint: Ints
    counted: Flags

    def __len__(self) -> int:
        return len(self.left)

    @property
    def pieces(self) -> Ints:
        """How many pieces each filling has."""
        count: Ints = (self.role != NONE).sum(axis=1)
        return count

    def take(self, which: Ints | Flags) -> Fillings:
        """Return some of the fillings, in the order given."""
        return Fillings(
            self.left[which],
            self.right[which],
            self.role[which],
            self.letter[which],
            self.joint[which],
            self.counted[which],
        )

    def mirrored(self, about: int) -> Fillings:
        """Return every filling mirrored about half of `about`."""
        columns = np.arange(self.left.shape[1])[None, :]
        pieces = self.pieces[:, None]
        at = np.where(columns < pieces, pieces - 1 - columns, columns)
        role = picked(self.role, at)
        is_piece = role != NONE
        left = np.where(is_piece, about - picked(self.right, at), 0)
        right = np.where(is_piece, about - picked(self.left, at), 0)
        return replace(
            self,
            left=left,
            right=right,
            role=role,
            letter=picked(self.letter, at),
            counted=picked(self.counted, at),
        )


def joined_tables(tables: Sequence[Fillings]) -> Fillings:
    """Return the fillings of several tables in one."""
    columns = max((x.left.shape[1] for x in tables), default=1)

    def stacked(name: str, empty: int) -> NDArray[np.int64]:
        found = np.full((sum(map(len, tables)), columns), empty, np.int64)
        begin = 0
        for table in tables:
            part = getattr(table, name)
            found[begin : begin + len(part), : part.shape[1]] = part
            begin += len(part)
        return found

    return Fillings(
        stacked("left", 0),
        stacked("right", 0),
        stacked("role", NONE).astype(np.int8),
        stacked("letter", -1).astype(np.int8),
        np.concatenate([x.joint for x in tables]) if tables else np.zeros(0, np.int64),
        stacked("counted", 0).astype(np.bool_),
    )


def side_by_side(tables: Sequence[Fillings], joint: Ints) -> Fillings:
    """Return rows made of the rows of several tables, left to right.

    Args:
        tables: of one length; where a row has no piece the next ones move up.
        joint: the head joint that the rows are judged by.
    """
    role = np.concatenate([x.role for x in tables], axis=1)
    columns = int((role != NONE).sum(axis=1).max(initial=1))
    at = np.argsort(role == NONE, axis=1, kind="stable")[:, :columns]

    def moved(name: str) -> NDArray[np.int64]:
        return picked(np.concatenate([getattr(x, name) for x in tables], axis=1), at)

    return Fillings(
        moved("left"),
        moved("right"),
        moved("role").astype(np.int8),
        moved("letter").astype(np.int8),
        joint,
        moved("counted").astype(np.bool_),
    )
