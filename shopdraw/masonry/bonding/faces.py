"""Solve the bond of a face: the best way to lay its legs, its courses over, a return.

In:  `Sizes`, and `Front` or `LegSpan`.   Out: `Solved`.
Frame: whole numbers on the caller's grid, left to right.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from shopdraw.masonry.bonding.legs import (
    LegSpan,
    Rows,
    Width,
    fill_stretch,
    meeting_prices,
)
from shopdraw.masonry.rows.bonds import each_kind
from shopdraw.masonry.rows.merit import (
    FAILS,
    FAULTS,
    SAWN,
    Merit,
    as_tuple,
    joined,
    pack,
)
from shopdraw.masonry.rows.search import Pair, Price, best_together
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import CLOSER, CUT, LEG, NONE, WHOLE, Fillings

ROLES = {LEG: "leg", WHOLE: "whole", CUT: "cut", CLOSER: "closer"}
NO_WAY = "no course can be laid here, not even of pieces a joint step long"


class NoWayError(ValueError):
    """Nothing can be laid, not even of pieces a joint step long."""

    def __init__(self) -> None:
        super().__init__(NO_WAY)


@dataclass(frozen=True)
class LaidRow:
    """One course's pieces in one zone.

    Attributes:
        pieces: every piece as (left, right).
        roles: what each is: "leg" of a corner unit, "whole", "cut", "closer".
        letters: S or H for a whole, "" for anything else.
        joint: the head joint; over the opening, that between the legs' pieces; 0
            where there is none.
    """

    pieces: tuple[tuple[int, int], ...]
    roles: tuple[str, ...]
    letters: tuple[str, ...]
    joint: int

    @property
    def joints(self) -> tuple[tuple[int, int], ...]:
        """The head joints as (left, right)."""
        pairs = zip(self.pieces, self.pieces[1:], strict=False)
        return tuple((a[1], b[0]) for a, b in pairs)

    def moved(self, at: int, *, turned: bool) -> LaidRow:
        """Return it laid from another place, to the right or turned to the left."""
        if not turned:
            pieces = tuple((at + a, at + b) for a, b in self.pieces)
            return replace(self, pieces=pieces)
        return replace(
            self,
            pieces=tuple((at - b, at - a) for a, b in reversed(self.pieces)),
            roles=self.roles[::-1],
            letters=self.letters[::-1],
        )


@dataclass(frozen=True)
class Part:
    """What one row or one meeting adds to the merit.

    Attributes:
        zone: "left leg", "right leg", "over", "head", "return", ...
        kinds: the kind of the row, or the two kinds that meet.
        merit: the 24 counts.
    """

    zone: str
    kinds: tuple[int, ...]
    merit: Merit


@dataclass(frozen=True)
class Solved:
    """The best way to lay a face.

    Attributes:
        zones: by zone's name, the filling of each kind.
        parts: what each row and each meeting adds; their sum is the merit.
        merit: the 24 counts of the whole face.
        searched_all: whether every way of the family was looked at or ruled out.
    """

    zones: Mapping[str, Mapping[int, LaidRow]]
    parts: tuple[Part, ...]
    merit: Merit
    searched_all: bool


def filling_of(table: Fillings, at: int, sizes: Sizes, pattern: str) -> LaidRow:
    """Return one of a table's fillings; a cut as long as its letter is whole."""
    wholes = {sizes.whole(letter): letter for letter in pattern}
    pieces, roles, letters = [], [], []
    for left, right, role, letter in zip(
        table.left[at], table.right[at], table.role[at], table.letter[at], strict=True
    ):
        if role == NONE:
            continue
        pieces.append((int(left), int(right)))
        whole = wholes.get(int(right - left), "") if role in (WHOLE, CUT) else ""
        name = pattern[letter] if letter >= 0 else whole
        roles.append("whole" if name else ROLES[int(role)])
        letters.append(name)
    return LaidRow(tuple(pieces), tuple(roles), tuple(letters), int(table.joint[at]))


def joints_key(table: Fillings, at: int) -> tuple[object, ...]:
    """Return a filling's joints, left to right, for ties."""
    pieces = int((table.role[at] != NONE).sum())
    edges = zip(table.right[at, : pieces - 1], table.left[at, 1:pieces], strict=True)
    return tuple((int(a), int(b)) for a, b in edges)


def solve_stretch(sizes: Sizes, stretch: LegSpan, zone: str = "leg") -> Solved:
    """Return the best way to lay a leg or a return by itself.

    Args:
        sizes: the bond and the brick; for a return, `sizes.round_the_corner()`.
        stretch: where; it begins at its corner or free edge, on the left.
        zone: what the zone is called in what comes back.

    Raises:
        NoWayError: nothing can be laid, not even of pieces a joint step long.
    """
    solved = _solve_stretch(sizes, stretch, zone, Width())
    if solved is None or any(solved.merit[:FAULTS]):
        solved = _solve_stretch(sizes, stretch, zone, Width(fine=True))
    if solved is None or any(solved.merit[:FAILS]):
        solved = _solve_stretch(sizes, stretch, zone, Width(fine=True, trims=True))
    if solved is None:
        raise NoWayError
    return solved


def _solve_stretch(
    sizes: Sizes, stretch: LegSpan, zone: str, width: Width
) -> Solved | None:
    rows = {
        kind: fill_stretch(sizes, stretch, kind, width)
        for kind in each_kind(stretch.kinds)
    }
    return best_rows(sizes, stretch, zone, rows)


def best_rows(
    sizes: Sizes, stretch: LegSpan, zone: str, rows: dict[int, Rows]
) -> Solved | None:
    """Return the best of some fillings of a stretch that lie on one another.

    Returns:
        None where some kind has none.
    """
    prices = meeting_prices(rows, stretch, sizes)
    own = {
        kind: x.words + pack({SAWN: stretch.kinds.count(kind) * x.sawn}, len(x.sawn))
        for kind, x in rows.items()
    }
    found = best_together(
        own, prices, lambda kind, at: joints_key(rows[kind].table, at)
    )
    if found is None:
        return None
    chosen = found.chosen
    parts = [
        Part(zone, (kind,), as_tuple(joined(rows[kind].words[at])))
        for kind, at in chosen.items()
    ]
    return Solved(
        zones={zone: _fillings(rows, chosen)},
        parts=(*parts, *meeting_parts(zone, prices, chosen)),
        merit=as_tuple(joined(found.words)),
        searched_all=True,
    )


def _fillings(rows: dict[int, Rows], chosen: Mapping[int, int]) -> dict[int, LaidRow]:
    return {
        kind: filling_of(
            rows[kind].table, at, rows[kind].at.sizes, rows[kind].at.row.pattern
        )
        for kind, at in chosen.items()
    }


def meeting_parts(
    zone: str, prices: Mapping[Pair, Price], chosen: Mapping[int, int]
) -> list[Part]:
    """Return what each meeting of a zone adds."""
    parts = []
    for pair, price in prices.items():
        # Of these two fillings alone: a price of all would look all of them up.
        alone = price.take(*(np.array([chosen[kind]]) for kind in pair))
        words = alone(np.array([0]), np.array([0]))[0]
        parts.append(Part(zone, pair, as_tuple(joined(words))))
    return parts
