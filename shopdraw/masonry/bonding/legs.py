"""Every way of laying a leg or a return, a table for each kind; and what was laid.

In:  `LegSpan`, `Front`, `Sizes`.   Out: `Rows`: tables, judged; the form of `Solved`.
Frame: grid lengths; a stretch begins at its corner or free edge, on the left.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from shopdraw.masonry.rows.forms import Speller, Spelling, leg_spellings
from shopdraw.masonry.rows.judge import End, RowSetting, judge_rows, sawn_pieces
from shopdraw.masonry.rows.layer import Cuts, RowLayer, Spans
from shopdraw.masonry.rows.meetings import Perpends, joints_of
from shopdraw.masonry.rows.merit import Ints, Merit
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import (
    CLOSER,
    CUT,
    LEG,
    NONE,
    WHOLE,
    Fillings,
    joined_tables,
)

Near = Literal["corner", "free"]
Far = Literal["jamb", "free", "wall", "turned", "inside"]
"""What a stretch ends at; "turned" where a corner unit turns into the jamb, "inside" at
an inside corner, where courses run past and butt by turns."""


@dataclass(frozen=True)
class LegSpan:
    """A leg or a return.

    Attributes:
        left, right: where it is.
        near, far: what it begins and ends at.
        kinds: the kinds of its courses, bottom up.
        butting: at an inside corner, the kinds that butt there.
        shorter: how much shorter these are.
        joint: between their end and the face that they butt.
    """

    left: int
    right: int
    near: Near
    far: Far
    kinds: tuple[int, ...]
    butting: frozenset[int] = frozenset()
    shorter: int = 0
    joint: int = 0

    def of(self, kind: int) -> LegSpan:
        """Return where the courses of one kind are."""
        if kind not in self.butting:
            return self
        return replace(self, right=self.right - self.shorter)

    @property
    def width(self) -> int:
        """How much there is to fill."""
        return self.right - self.left


@dataclass(frozen=True)
class Front:
    """A front with its opening.

    Attributes:
        left, right: where the front begins and ends.
        jambs: where the opening is.
        ends: what is at the left and at the right.
        leg_kinds: the kinds of the legs' courses, bottom up.
        over_kinds: the kinds of the courses over the opening, bottom up; none where
            nothing runs over it.
        is_mirrored: whether the front is its own mirror image.
        is_turned: whether corner units turn into the jambs.
        is_apart: whether a course that is none of the bond's lies between the legs and
            the courses over the opening.
        bears: told a leg, a kind and its fillings, returns those that bear what stands
            beside soldiers.
    """

    left: int
    right: int
    jambs: tuple[int, int]
    ends: tuple[Near, Near]
    leg_kinds: tuple[int, ...]
    over_kinds: tuple[int, ...]
    is_mirrored: bool
    is_turned: bool = False
    is_apart: bool = False
    bears: Callable[[LegSpan, int, Rows], Rows] | None = None

    @property
    def about(self) -> int:
        """Twice the opening's centre line."""
        return self.jambs[0] + self.jambs[1]

    @property
    def left_leg(self) -> LegSpan:
        """The left leg."""
        return LegSpan(
            self.left,
            self.jambs[0],
            self.ends[0],
            "turned" if self.is_turned else "jamb",
            self.leg_kinds,
        )

    @property
    def right_leg(self) -> LegSpan:
        """The right leg, mirrored about nothing, so that it begins at its end."""
        return LegSpan(
            -self.right,
            -self.jambs[1],
            self.ends[1],
            "turned" if self.is_turned else "jamb",
            self.leg_kinds,
        )


def head_of(front: Front) -> tuple[int, int] | None:
    """Return the kinds of the legs' top course and of the first course over."""
    if not front.leg_kinds or not front.over_kinds or front.is_apart:
        return None
    pair = front.leg_kinds[-1], front.over_kinds[0]
    return None if pair[0] == pair[1] else pair


@dataclass(frozen=True)
class Width:
    """How wide a search is.

    Attributes:
        fine: whether free cuts come in half the steps.
        trims: whether corner units may be trimmed.
        cuts: how many equal cuts may stand on the centre line.
        ends: whether an equal cut may stand at each end of what is new over the
            opening, as fronts that are not their own mirror image have it.
    """

    fine: bool = False
    trims: bool = False
    cuts: int = 3
    ends: bool = False

    def bats(self, sizes: Sizes) -> tuple[int, ...]:
        """Return the free cuts."""
        step = sizes.limits.bat_step
        return sizes.bats(step // 2 if self.fine else step)


@dataclass(frozen=True)
class Rows:
    """The fillings of one kind.

    Attributes:
        table: every filling once.
        at: where they stand.
        words: each one's own merit.
        joints: their joints.
        sawn: how many pieces of each are sawn.
        least: the shortest cut that they were made with.
        joint_widths: the head joints that they were made with.
    """

    table: Fillings
    at: RowSetting
    words: Ints
    joints: Perpends
    sawn: Ints
    least: int = 0
    joint_widths: tuple[int, ...] = ()

    def take(self, which: Ints) -> Rows:
        """Return some of them."""
        return replace(
            self,
            table=self.table.take(which),
            words=self.words[which],
            joints=self.joints.take(which),
            sawn=self.sawn[which],
        )


def as_bytes(lines: Ints) -> list[bytes]:
    """Return each row of some numbers as bytes, so that equal rows are found."""
    wide = lines.shape[1] * lines.itemsize
    found: list[bytes] = np.ascontiguousarray(lines).view(f"V{wide}")[:, 0].tolist()
    return found


def once(table: Fillings) -> Ints:
    """Return which fillings to keep so that each stands there once."""
    every = np.concatenate(
        [table.left, table.right, table.role.astype(np.int64)], axis=1
    )
    first: dict[bytes, int] = {}
    for at, line in enumerate(as_bytes(every)):
        first.setdefault(line, at)
    return np.array(list(first.values()), np.int64)


def judged(table: Fillings, at: RowSetting) -> Rows:
    """Judge a table's fillings."""
    sawn = sawn_pieces(table, at.sizes, at.row).sum(axis=1)
    return Rows(table, at, judge_rows(table, at), joints_of(table, at), sawn)


def fill_stretch(
    sizes: Sizes, stretch: LegSpan, kind: int, width: Width, least: int = 0
) -> Rows:
    """Return every filling of one kind of a stretch, judged.

    Args:
        sizes: the bond and the brick.
        stretch: where.
        kind: the kind of course.
        width: how wide the search is.
        least: the shortest cut; if not given, the least piece, and a joint step where
            nothing comes out with that.
    """
    row, limits, stretch = sizes.bond.rows[kind], sizes.limits, stretch.of(kind)
    spellings = _spellings(sizes, stretch, kind, width)
    table = joined_tables([])
    made_with, widths = 0, list[int]()
    for made_with in (least,) if least else (limits.least_piece, sizes.joints.step):
        at_wall = -(-3 * made_with // 4) if made_with > sizes.joints.step else made_with
        cuts = Cuts(
            least=made_with,
            least_at_wall=at_wall,
            free=width.bats(sizes),
            ends_at_wall=stretch.far == "wall",
            slack=sizes.joints.most if stretch.far == "wall" else 0,
        )
        layer = RowLayer(sizes, row, cuts)
        fits = layer.fitting_joints(spellings, stretch.width)
        widths = sorted({*sizes.joints.on_step(), *fits})
        table, _ = layer.lay(spellings, spans(stretch.left, stretch.width, widths))
        if len(table):
            break
    rows = judged(table.take(once(table)), setting_of(sizes, stretch, kind))
    return replace(rows, least=made_with, joint_widths=tuple(widths))


def setting_of(sizes: Sizes, stretch: LegSpan, kind: int) -> RowSetting:
    """Return where the courses of a kind of a stretch stand, for the judge."""
    row = sizes.bond.rows[kind]
    far: End = "corner" if stretch.far == "turned" else stretch.far
    legs = sizes.brick.leg(row.leg), sizes.brick.leg(row.at_jamb)
    joint = stretch.joint if kind in stretch.butting else 0
    return RowSetting(sizes, row, (stretch.near, far), legs, corner_joint=joint)


def spans(start: int, width: int, joints: Sequence[int]) -> Spans:
    """Return one span with each of some joints."""
    same = np.zeros(len(joints), np.int64)
    return Spans(same + start, same + width, np.array(joints, np.int64))


def _spellings(
    sizes: Sizes, stretch: LegSpan, kind: int, width: Width
) -> list[Spelling]:
    row, has_corner = sizes.bond.rows[kind], stretch.near == "corner"
    at_wall = stretch.far == "wall"
    speller = Speller(sizes, row, stretch.width)

    def every(speller: Speller) -> Iterator[Spelling]:
        return leg_spellings(
            speller,
            has_corner=has_corner,
            end="wall" if at_wall else "jamb",
            trims=width.trims,
            at_both=stretch.far == "turned",
        )

    found = list(every(speller))
    if at_wall and has_corner:
        # Corner unit and whole units may end a joint short of a hidden wall.
        short = replace(speller, slack=sizes.joints.most)
        found += [x for x in every(short) if not set(x) & set("xqpXPY")]
    is_narrow = stretch.width < sizes.brick.leg(row.leg)
    if has_corner and width.trims and is_narrow and stretch.far != "turned":
        found.append(("X",))
    return list(dict.fromkeys(found))


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
