"""What the brute force of the bond problem is given: brick, bond, face, limits.

Lengths are whole numbers or `Fraction`s, all in one unit of the caller's choice
(inches, or steps of the grid). A leg, a return or a lone run is laid from its outer
end, 0, to its jamb or wall; a front from its left end. A piece is (left, right, role):

    L corner unit's leg, whole   T the same, trimmed   S stretcher   H header
    F leg of the unit that turns into the jamb, whole   f the same, trimmed
    x p sawn pieces (equal, free)   Q closer   q closer that isn't Q (x-closer)
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

Num = int | Fraction
LEVELS = (
    "under the least", "steps under", "laps under", "steps of lap", "unbonded",
    "corner unread", "unmirrored", "not carried", "legs trimmed", "laps at wall",
    "joints differ", "small at jamb", "small elsewhere", "pattern", "trimmed by",
    "off the lap", "under N at jamb", "under N elsewhere", "cuts at jamb", "stray cuts",
    "steps under N", "different cuts", "cuts", "joint's departure",
)  # fmt: skip
SAWN, CUT, CLOSER = frozenset("xpTf"), frozenset("xp"), frozenset("Qq")
LEGS = frozenset("LTFf")


class Piece(NamedTuple):
    """One piece of a course, from left to right, and what it is."""

    left: Num
    right: Num
    role: str


Row = tuple[Piece, ...]
Parts = Mapping[str, Row]  # "run"; or "left", "right", "over"
Joint = tuple[Num, Num]
Token = tuple[str, Num | None]  # a role and its length; None: follows from the width


@dataclass(frozen=True)
class Bond:
    """Rows as (pattern, leg of the corner unit on the front), and kinds upward."""

    name: str
    rows: tuple[tuple[str, str], ...]
    cycle: tuple[int, ...]


_HALF = (("S", "long"), ("S", "short"))
BONDS = {
    bond.name: bond
    for bond in (
        Bond("half", _HALF, (0, 1)),
        Bond("third", _HALF, (0, 1)),
        Bond("quarter", _HALF, (0, 1)),
        Bond("stack", (("S", "long"),), (0,)),
        Bond("Flemish", (("SH", "long"), ("SH", "short")), (0, 1)),
        Bond("English", (("S", "long"), ("H", "short")), (0, 1)),
        Bond("common-6", (*_HALF, ("H", "short")), (2, 0, 1, 0, 1, 0)),
        Bond(
            "common-5",
            (*_HALF, ("H", "short"), ("H", "long")),
            (2, 0, 1, 0, 1, 3, 1, 0, 1, 0),
        ),
    )
}


@dataclass(frozen=True)
class Run:
    """A leg or a return by itself; start corner or free, end jamb, wall or free.

    Where the end is inside, at an inside corner, the kinds whose row has the leg
    `butting` are so much shorter, and have a joint more there. Where it is turned, a
    corner unit turns in there: its leg is the same as the row's, or the other one
    (`crossed`). A free edge, or a hidden wall, that leans takes `start_lean` off the
    piece there, a leaning jamb `jamb_lean`. Courses begin at the `first` of the cycle.
    """

    width: Num
    start: str = "corner"
    end: str = "jamb"
    is_return: bool = False
    courses: int = 24
    butting: str = ""
    shorter: Num = 0
    corner_joint: Num = 0
    start_lean: Num = 0
    jamb_lean: Num = 0
    crossed: bool = False
    first: int = 0


@dataclass(frozen=True)
class Front:
    """Two legs and what lies over them; ends corner or free; courses of each zone.

    Jambs are plain, or turned, the same way or crossed, as a run's end is; free edges
    lean alike, and so do jambs.
    """

    width: Num
    left: Num
    right: Num
    left_end: str = "corner"
    right_end: str = "corner"
    legs: int = 24
    over: int = 24
    start_lean: Num = 0
    jamb_lean: Num = 0
    jamb: str = "jamb"
    crossed: bool = False

    @property
    def own_mirror(self) -> bool:
        return self.left == self.right and self.left_end == self.right_end


@dataclass(frozen=True)
class Beside:
    """What a run beside soldiers lies on and under, from its outer end; by kind."""

    legs: Mapping[int, Row]
    below: tuple[int, Row] | None = None
    above: tuple[int, Row] | None = None


@dataclass(frozen=True)
class Wall:
    """The brick, the corner unit, the joints, the leasts and the face to fill."""

    unit: Num
    header: Num
    long: Num
    short: Num
    joint: Num
    least_joint: Num
    most_joint: Num
    step: Num
    least_piece: Num
    least_lap: Num
    free_step: Num  # what a free cut is a multiple of: 1/4 in or 5 mm
    face: Run | Front


class Place(NamedTuple):
    """Where a row lies and by which pattern; the leg is the corner unit's.

    `far` is the leg of the unit that turns into the jamb; a lean takes so much off the
    first piece and off the last.
    """

    pattern: str
    leg: str
    width: Num
    start: str
    end: str
    over: bool = False
    far: str = ""
    leans: tuple[Num, Num] = (0, 0)

    def left_of(self, row: Row, i: int) -> Num:
        """How much of a piece is left where the lean takes most."""
        size = row[i].right - row[i].left
        size -= self.leans[0] if i == 0 else 0
        return size - (self.leans[1] if i == len(row) - 1 else 0)

    def seen_as(self, row: Row, i: int) -> str:
        """What a piece is: a whole that a lean takes from is a cut."""
        _, right, role = row[i]
        is_less = self.left_of(row, i) < right - row[i].left
        return "x" if is_less and role in "SH" else role

    def leg_of(self, role: str) -> str:
        """Which leg of its corner unit a piece is."""
        return self.far if role in "Ff" else self.leg


class Search(NamedTuple):
    """How wide the search is."""

    fine: bool = False
    trimmed: bool = False
    centre: int = 3
    mirrored: bool = True


class Answer(NamedTuple):
    """The least merit, its rows for each kind and part, and what was searched."""

    merit: tuple[int, ...]
    rows: dict[int, dict[str, Row]]
    search: Search
    options: tuple[int, ...]  # how many fillings each kind had in the last search


def other_leg(leg: str) -> str:
    return "short" if leg == "long" else "long"


def apart(one: Num, other: Num) -> Num:
    """How far two lengths differ."""
    return one - other if one >= other else other - one


def share(length: Num, by: int) -> Num:
    """Divide exactly, to a whole number where it is one."""
    if isinstance(length, int) and length % by == 0:
        return length // by
    part = Fraction(length) / by
    return part.numerator if part.denominator == 1 else part


def steps_up(length: Num, step: Num) -> int:
    """Count steps, part of one as one."""
    return int(-(-length // step))


def steps_near(length: Num, step: Num) -> int:
    """Count steps to the nearest, halves upward."""
    return int((2 * length + step) // (2 * step))


def flip(row: Row, width: Num) -> Row:
    """Lay a row from the other end."""
    return tuple(Piece(width - b, width - a, role) for a, b, role in reversed(row))


def sizes_of(row: Row) -> list[Token]:
    return [(piece.role, piece.right - piece.left) for piece in row]


def joints_of(row: Row) -> list[Joint]:
    return [(a.right, b.left) for a, b in pairwise(row)]


def joint_width(row: Row) -> Num | None:
    return row[1].left - row[0].right if len(row) > 1 else None


class Trade:
    """What follows from the wall and the bond: limits, laps, places, meetings."""

    def __init__(self, wall: Wall, bond: Bond, beside: Beside | None = None) -> None:
        self.wall, self.bond, self.beside = wall, bond, beside
        self.options: dict[tuple[int, Search], list[dict[str, Row]]] = {}
        self._limits: dict[tuple[int, int], tuple[Num, Num, Num | None]] = {}
        u, h, j, step = wall.unit, wall.header, wall.joint, wall.step
        self.half_bat, self.three_quarter = share(u - j, 2), share(3 * u - j, 4)
        self.reads_stretcher = share(u + h, 2) - step
        self.reads_header = (share(3 * h, 4), h + share(u - h, 4))
        short = wall.short
        if wall.long - short < wall.least_lap:
            short = share(wall.long - j, 2)
        self.read_long, self.read_short = (
            share(wall.long + short, 2),
            share(3 * short, 4),
        )
        self.longest = max(u, wall.long, wall.short)
        self.hidden_least = share(3 * wall.least_piece, 4)

    @cached_property
    def zones(self) -> tuple[list[int], list[int]]:
        """The kinds of the courses, bottom up, of the legs and of over."""
        face, cycle = self.wall.face, self.bond.cycle
        legs = face.courses if isinstance(face, Run) else face.legs
        over = 0 if isinstance(face, Run) else face.over
        first = face.first if isinstance(face, Run) else 0
        kinds = [cycle[(first + i) % len(cycle)] for i in range(legs + over)]
        return kinds[:legs], kinds[legs:]

    @cached_property
    def meetings(self) -> tuple[set[frozenset[int]], set[frozenset[int]]]:
        legs, over = self.zones
        pairs = [{frozenset(two) for two in pairwise(zone)} for zone in (legs, over)]
        stack = self.bond.name == "stack"
        return (set(), set()) if stack else (pairs[0], pairs[1])

    @cached_property
    def head(self) -> tuple[int, int] | None:
        """The kinds of the last course of the legs and the first over them."""
        legs, over = self.zones
        if not (legs and over) or self.bond.name == "stack":
            return None
        return legs[-1], over[0]

    def place(self, kind: int, part: str) -> Place:
        pattern, leg = self.bond.rows[kind]
        face = self.wall.face
        if isinstance(face, Run) and face.is_return:
            if self.bond.name in ("Flemish", "English"):
                pattern, leg = self.bond.rows[1 - kind]
            else:
                leg = other_leg(leg)
        far = other_leg(leg) if face.crossed else leg

        def lean(end: str) -> Num:
            edge = face.start_lean
            takes = {"free": edge, "wall": edge, "jamb": face.jamb_lean}
            return takes.get(end, 0)

        if isinstance(face, Run):
            width = face.width - (face.shorter if leg == face.butting else 0)
            start, end = face.start, face.end
        elif part == "over":
            ends = face.left_end, face.right_end
            leans = lean(ends[0]), lean(ends[1])
            return Place(pattern, leg, face.width, *ends, over=True, leans=leans)
        else:
            sides = {
                "left": (face.left, face.left_end),
                "right": (face.right, face.right_end),
            }
            (width, start), end = sides[part], face.jamb
        far = far if end == "turned" else ""
        leans = lean(start), lean(end)
        return Place(pattern, leg, width, start, end, far=far, leans=leans)

    def leg(self, place: Place, role: str = "L") -> Num:
        is_long = place.leg_of(role) == "long"
        return self.wall.long if is_long else self.wall.short

    def whole(self, letter: str) -> Num:
        return self.wall.unit if letter == "S" else self.wall.header

    def natural(self, place: Place) -> Num:
        if "H" in place.pattern:
            return self.wall.header
        if self.bond.name == "third":
            return share(self.wall.unit - 2 * self.wall.joint, 3)
        return self.half_bat

    def small(self, place: Place) -> Num:
        lesser = min(share(3 * self.wall.unit, 8), self.natural(place))
        return max(self.wall.least_piece, lesser)

    def closer(self, place: Place) -> Num:
        u, h, j = self.wall.unit, self.wall.header, self.wall.joint
        return share(u - h, 2) - j if place.pattern == "SH" else share(h - j, 2)

    def own_lap(self, one: int, other: int) -> Num:
        u, h, j = self.wall.unit, self.wall.header, self.wall.joint
        patterns = self.bond.rows[one][0] + self.bond.rows[other][0]
        if patterns == "SHSH":
            return share(u - h, 2) - j
        if "H" in patterns:
            return min(share(u - h, 2) - j, share(h - j, 2))
        return share(u + j, {"third": 3, "quarter": 4}.get(self.bond.name, 2)) - j

    def lap_limits(self, one: int, other: int) -> tuple[Num, Num, Num | None]:
        """The least lap of two kinds, and how near and how far is off the bond's."""
        if (one, other) not in self._limits:
            self._limits[one, other] = self._reckoned(one, other)
        return self._limits[one, other]

    def _reckoned(self, one: int, other: int) -> tuple[Num, Num, Num | None]:
        own = self.own_lap(one, other)
        least = min(self.wall.least_lap, own - 2 * self.wall.step)
        headers = "H" in self.bond.rows[one][0] + self.bond.rows[other][0]
        if headers or self.bond.name in ("third", "quarter"):
            return least, share(3 * own, 4), share(4 * own, 3)
        return least, share(2 * own, 3), None
