"""The bonds, as data: what lies in each kind of course, and how far it must lap.

In:  nothing.   Out: `CourseKind`, `Bond`, `BONDS`, `common_bond`.
Frame: none; lengths come with the brick.

A new bond is one more `Bond` in `BONDS`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

LegName = Literal["long", "short"]
Lap = Literal["none", "half", "third", "quarter", "Flemish", "English"]
"""A bond's own lap, as a share of the brick: `sizes.own_lap` says how much each is."""

GAP = -1
"""Stands among the kinds of courses, bottom up, where a course that is none of the
bond's lies between two: these do not meet."""
OTHER_LEG: dict[LegName, LegName] = {"long": "short", "short": "long"}


@dataclass(frozen=True)
class CourseKind:
    """One kind of course.

    Attributes:
        pattern: the letters that repeat, S for a stretcher and H for a header.
        leg: which leg of the corner unit shows on the front.
        is_read: whether a piece that does not read as its letter breaks the pattern.
        at_jamb: which leg shows at the far end, where a corner unit turns there too: of
            a leg of the front into the jamb, of a chamfer round to the return.
    """

    pattern: str
    leg: LegName
    is_read: bool
    at_jamb: LegName

    @property
    def has_headers(self) -> bool:
        """Whether headers show in the row."""
        return "H" in self.pattern


def row(pattern: str, leg: LegName, *, is_read: bool | None = None) -> CourseKind:
    """Return a row; one with headers is read unless it is said not to be."""
    is_read = "H" in pattern if is_read is None else is_read
    return CourseKind(pattern, leg, is_read, leg)


@dataclass(frozen=True)
class Bond:
    """A bond.

    Attributes:
        name: as the job says it.
        rows: the kinds of course.
        cycle: the kind of each course, bottom up, until it repeats.
        lap: the bond's own lap.
        return_rows: what each kind shows on a return.
        lap_beside_headers: the own lap where a row of headers meets one without.
    """

    name: str
    rows: tuple[CourseKind, ...]
    cycle: tuple[int, ...]
    lap: Lap
    return_rows: tuple[CourseKind, ...]
    lap_beside_headers: Lap

    @property
    def letters(self) -> tuple[str, ...]:
        """What lies in each course by turns, bottom up, until the bond repeats."""
        return tuple(self.rows[kind].pattern for kind in self.cycle)

    def round_the_corner(self) -> Bond:
        """Return the bond as it shows on a return."""
        return replace(self, rows=self.return_rows, return_rows=self.rows)

    def far_legs_swapped(self) -> Bond:
        """Return the bond with unlike legs at the two ends of a course."""
        swapped = tuple(replace(x, at_jamb=OTHER_LEG[x.leg]) for x in self.rows)
        return replace(self, rows=swapped)

    def round_the_far_corner(self) -> Bond:
        """Return the bond as it shows past the far end, round the corner there."""
        is_swapped = any(x.leg != x.at_jamb for x in self.rows)
        return self if is_swapped else self.round_the_corner()

    def own_lap(self, one: int, other: int) -> Lap:
        """Return which own lap holds where two kinds meet."""
        if self.lap != "none" and "H" in (
            self.rows[one].pattern,
            self.rows[other].pattern,
        ):
            return "English"
        if self.rows[one].has_headers or self.rows[other].has_headers:
            return self.lap_beside_headers
        return self.lap

    def meetings(self, kinds: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
        """Return each two kinds that lie on one another, once, lower kind first.

        Args:
            kinds: the kinds of courses that lie on one another, bottom up.
        """
        pairs = {x for x in pairwise(kinds) if GAP not in x and x[0] != x[1]}
        return tuple(sorted({(min(pair), max(pair)) for pair in pairs}))

    def header_kind(self, kind: int) -> int | None:
        """Return the kind of a course of headers in place of one; None where none is.

        The same leg of the corner unit shows, so that the legs go on by turns; at a
        jamb that brick turns into either may.
        """
        wanted = "H", self.rows[kind].leg
        rows = enumerate(self.rows)
        return next((at for at, x in rows if (x.pattern, x.leg) == wanted), None)

    def with_headers(self, kind: int) -> Bond:
        """Return the bond with a row of headers besides, in place of a kind."""
        if self.header_kind(kind) is not None:
            return self
        wanted = row("H", self.rows[kind].leg)
        turned = replace(
            wanted, leg=OTHER_LEG[wanted.leg], at_jamb=OTHER_LEG[wanted.leg]
        )
        return replace(
            self,
            rows=(*self.rows, wanted),
            return_rows=(*self.return_rows, turned),
        )


def each_kind(kinds: tuple[int, ...]) -> list[int]:
    """Return each kind once, gaps left out."""
    return sorted(set(kinds) - {GAP})


def _other_leg(rows: tuple[CourseKind, ...]) -> tuple[CourseKind, ...]:
    return tuple(row(x.pattern, OTHER_LEG[x.leg], is_read=x.is_read) for x in rows)


def _plain(name: str, lap: Lap) -> Bond:
    rows = row("S", "long"), row("S", "short")
    return Bond(name, rows, (0, 1), lap, _other_leg(rows), lap)


def two_rows(name: str, rows: tuple[CourseKind, CourseKind], lap: Lap) -> Bond:
    """Return a bond of two courses by turns; round the corner each is the other."""
    return Bond(name, rows, (0, 1), lap, rows[::-1], lap)


def common_bond(header_every: int) -> Bond:
    """Return common bond, with a course of headers every fifth or sixth course."""
    rows: tuple[CourseKind, ...] = (
        row("S", "long"),
        row("S", "short"),
        row("H", "short"),
    )
    cycle = {6: (2, 0, 1, 0, 1, 0), 5: (2, 0, 1, 0, 1, 3, 1, 0, 1, 0)}[header_every]
    if header_every == 5:
        rows = (*rows, row("H", "long"))
    return Bond("common", rows, cycle, "half", _other_leg(rows), "English")


BONDS = {
    bond.name: bond
    for bond in (
        _plain("half", "half"),
        _plain("third", "third"),
        _plain("quarter", "quarter"),
        Bond("stack", (row("S", "long"),), (0,), "none", (row("S", "short"),), "none"),
        two_rows("Flemish", (row("SH", "long"), row("SH", "short")), "Flemish"),
        two_rows(
            "English", (row("S", "long", is_read=True), row("H", "short")), "English"
        ),
        common_bond(6),
    )
}
