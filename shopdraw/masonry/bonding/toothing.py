"""What a leg's row hands on to the courses over the opening: its toothing.

In:  a leg's fillings of one kind.   Out: `Way`s of going on from them, `Toothing`.
Frame: grid lengths; a leg begins at its own end, on the left.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shopdraw.masonry.bonding.legs import Rows, as_bytes
from shopdraw.masonry.rows.forms import Speller, Token
from shopdraw.masonry.rows.judge import reads, sawn_pieces
from shopdraw.masonry.rows.meetings import FAR, Perpends
from shopdraw.masonry.rows.merit import Flags, Ints
from shopdraw.masonry.rows.tables import (
    CLOSER,
    CUT,
    LEG,
    NONE,
    Fillings,
    joined_tables,
    picked,
)


@dataclass(frozen=True)
class Way:
    """One way of going on: from which legs, and what the first new piece is.

    Attributes:
        first: "whole", "x", "leg" (a whole corner unit), "none" after a kept piece, or
            "none in place of two", where the last two pieces are not kept.
        legs: which of the leg's fillings.
        kept: how many pieces of each are kept.
    """

    first: str
    legs: Ints
    kept: Ints


def kept_of(legs: Fillings, which: Ints, count: Ints) -> Fillings:
    """Return the pieces of a leg that stay, which are judged with the leg."""
    table = legs.take(which)
    columns = np.arange(table.left.shape[1])[None, :]
    stays = columns < count[:, None]
    return replace(
        table,
        left=np.where(stays, table.left, 0),
        right=np.where(stays, table.right, 0),
        role=np.where(stays, table.role, NONE).astype(np.int8),
        letter=np.where(stays, table.letter, -1).astype(np.int8),
        counted=np.zeros_like(table.counted),
    )


def column(table: NDArray[Any], at: Ints) -> NDArray[Any]:
    """Return one column of each row; the first where the column is below nothing."""
    return picked(table, np.maximum(at, 0)[:, None])[:, 0]


def turns_into_jamb(legs: Rows) -> bool:
    """Whether the legs end with a corner unit that turns into the jamb."""
    return legs.at.ends[1] == "corner"


def ways_of(legs: Rows) -> Iterator[Way]:
    """Yield the ways of going on, each with the legs that it can go on from."""
    table, sizes, row = legs.table, legs.at.sizes, legs.at.row
    pieces, every = table.pieces, np.arange(len(table))
    sawn = sawn_pieces(table, sizes, row)
    length = table.right - table.left
    role, role_before = (column(table.role, pieces - n) for n in (1, 2))
    last = column(length, pieces - 1)
    is_cut = column(sawn, pieces - 1) & (role == CUT)
    is_header = (role != LEG) & ~is_cut & (last == sizes.brick.header)
    # The quoin's closer stays, also where the header after it is at the jamb.
    quoin = (pieces == 3) & (
        ((table.role[:, 0] == LEG) & (row.leg == "short" or row.pattern == "H"))
        | ((table.role[:, 0] != LEG) & (length[:, 0] == sizes.brick.header))
    )
    closed = (pieces > 2) & (role_before == CLOSER) & is_header & ~quoin
    grown = is_cut & (role != LEG)
    flat = (role != LEG) & ~closed
    alone = (pieces == 1) & (role == LEG) & (last < sizes.brick.leg(row.leg))
    if turns_into_jamb(legs):
        # The corner unit at the jamb stays below the head, and its closer with it.
        closed = (pieces > 2) & (role_before == CLOSER) & ~quoin
        is_jambs = (pieces > 1) | (legs.at.ends[0] == "free")
        grown = flat = is_jambs & ~closed
        alone &= ~is_jambs
    else:
        yield Way("none", every, pieces)
    yield Way("whole", every[grown], pieces[grown] - 1)
    yield Way("x", every[flat], pieces[flat] - 1)
    yield Way("leg", every[alone], pieces[alone] - 1)
    before_cut = column(sawn, pieces - 2) & (role_before == CUT)
    dropped = (pieces > 1) & ((is_cut & before_cut) | closed)
    yield Way("none in place of two", every[dropped], pieces[dropped] - 2)


def letters_after(legs: Rows, way: Way) -> Ints:
    """Return for each leg what the last kept piece is, as `token_of` reads it.

    A cut as long as a letter is that letter, and closers are read through.
    """
    table = legs.table.take(way.legs)
    sizes, pattern = legs.at.sizes, legs.at.row.pattern
    role = column(table.role, way.kept - 1)
    through = (role == CLOSER) & (way.kept > 1)
    at = way.kept - 1 - through
    role, letter = column(table.role, at), column(table.letter, at).astype(np.int64)
    length = column(table.right - table.left, at)
    for place, name in enumerate(pattern):
        letter = np.where((role == CUT) & (length == sizes.whole(name)), place, letter)
    code = np.where(role == LEG, -1, np.where(letter >= 0, letter, -2))
    return np.where(way.kept == 0, -2, code)


def token_of(code: int) -> Token | None:
    """Return a token from its code: a letter's place, the leg, or nothing whole."""
    return "L" if code == -1 else None if code < 0 else code


def as_seen(legs: Rows, sides: Fillings) -> Ints:
    """Return all that the judge asks of the last two kept pieces."""
    role = sides.role.astype(np.int64)
    last = [(role[:, 1] == what) for what in (LEG, CLOSER)]
    if len(set(legs.at.row.pattern)) == 1:
        return np.column_stack(last).astype(np.int64)
    length = sides.right - sides.left
    stretcher, header = reads(length, legs.at.sizes)
    reading = np.where(role == CLOSER, 0, 1 + stretcher + 2 * header) * (role != NONE)
    return np.column_stack([*last, reading]).astype(np.int64)


def groups_of(handed: Ints) -> tuple[Ints, Ints]:
    """Return the first of each set of equal lines, and which set each line is in."""
    at: dict[bytes, int] = {}
    group = np.array([at.setdefault(x, len(at)) for x in as_bytes(handed)], np.int64)
    first = np.unique(group, return_index=True)[1]
    return first, group


def two_pieces(table: Fillings, begin: Ints) -> Fillings:
    """Return two pieces of each row, from a column on; nothing where it has none."""
    at = begin[:, None] + np.arange(2)[None, :]
    there = (at >= 0) & (at < table.pieces[:, None])
    at = np.where(there, at, 0)
    return Fillings(
        np.where(there, picked(table.left, at), 0),
        np.where(there, picked(table.right, at), 0),
        np.where(there, picked(table.role, at), NONE).astype(np.int8),
        np.where(there, picked(table.letter, at), -1).astype(np.int8),
        table.joint,
        np.zeros_like(there),
    )


def gone_of(legs: Rows, table: Fillings, way: Way) -> Fillings:
    """Return the pieces of each leg that a new one may stand in the place of.

    At a plain jamb one that is as long as the last piece is that piece, and kept. Over
    a corner unit that turns into the jamb a whole may be as long as its leg.
    """
    is_gone = way.first == "none in place of two" or turns_into_jamb(legs)
    return two_pieces(table, way.kept if is_gone else table.pieces)


def each_with_all(group: Ints, span: Ints, count: int) -> tuple[Ints, Ints]:
    """Return each member of every group with each row that the group has."""
    by_span = np.argsort(span, kind="stable")
    rows = np.bincount(span, minlength=count)
    begin, each = (np.cumsum(rows) - rows)[group], rows[group]
    member = np.repeat(np.arange(len(group)), each)
    place = np.arange(each.sum()) - np.repeat(np.cumsum(each) - each, each)
    return member, by_span[begin[member] + place]


def on_from(codes: Ints, among: Ints) -> tuple[Ints, Ints]:
    """Return each code's place with every place that it has among others, sorted."""
    begin = np.searchsorted(among, codes, "left")
    count = np.searchsorted(among, codes, "right") - begin
    at = np.repeat(np.arange(len(codes)), count)
    place = np.arange(len(at)) - np.repeat(np.cumsum(count) - count, count)
    return at, begin[at] + place


def stands_in(new: Fillings, gone: Fillings) -> Flags:
    """Return which new pieces stand where a piece stood that was not kept."""
    found = np.zeros(new.left.shape, np.bool_)
    for column_of in range(gone.left.shape[1]):
        a, b = gone.left[:, column_of, None], gone.right[:, column_of, None]
        found |= (new.left == a) & (new.right == b)
    return found


FIRSTS = "none", "whole", "x", "leg", "none in place of two"
"""What the first new piece is, as in `Way`; a toothing keeps its place in this."""


@dataclass(frozen=True)
class Groups:
    """What legs hand on; those that hand on the same are one group, a line of each.

    Attributes:
        first: what the first new piece is, a place in `FIRSTS`.
        after: what the last kept piece is, as `token_of` reads it.
        start: where the new pieces begin.
        joint: the head joint, 0 where the leg is one piece.
        dropped: how many sawn pieces of the leg are not kept.
        sides: the last two kept pieces.
        gone: of the last two pieces of the leg those that a new one may stand for.
        less: how many pieces are not kept.
    """

    first: Ints
    after: Ints
    start: Ints
    joint: Ints
    dropped: Ints
    sides: Fillings
    gone: Fillings
    less: Ints


@dataclass(frozen=True)
class Toothing:
    """What one kind's fillings of one side hand on, and as what.

    Fillings of one class are alike to all that lies over the opening: only the best of
    them can be part of the best front. An option is a class that goes on in one way; a
    kind that does not go on has one option of each class.

    Attributes:
        groups: what is handed on.
        of: the class of each filling.
        first_of: a filling of each class.
        begin, count: where the options of each class stand, and how many it has.
        owner: the class of each option.
        group: the group that it hands on; -1 where the kind does not go on.
        joint: its head joint, 0 where it goes with any.
    """

    groups: Groups
    of: Ints
    first_of: Ints
    begin: Ints
    count: Ints
    owner: Ints
    group: Ints
    joint: Ints

    def options(self, classes: Ints) -> tuple[Ints, Ints]:
        """Return every option of some classes: whose it is, and which."""
        count = self.count[classes]
        whose = np.repeat(np.arange(len(classes)), count)
        place = np.arange(len(whose)) - np.repeat(np.cumsum(count) - count, count)
        return whose, self.begin[classes][whose] + place


def toothing_of(
    legs: Rows, reach: int | None, *, goes_on: bool, by_class: bool
) -> Toothing:
    """Return what fillings hand on.

    Args:
        legs: the fillings.
        reach: joints nearer to the jamb than this matter to what lies over the
            opening; none where all do.
        goes_on: whether the kind lies over the opening too.
        by_class: whether fillings that hand on the same are one class; if not, each is
            its own.
    """
    groups, filling, group, way = _hand_on(legs, goes_on=goes_on)
    every = np.arange(len(legs.table))
    of, first_of = every, every
    joint = legs.table.joint * goes_on
    if by_class:
        handed = np.full((len(every), len(FIRSTS)), -1)
        handed[filling, way] = group
        seen = _joints_near(legs.table, reach)
        first_of, of = groups_of(np.column_stack([joint, handed, *seen]))
    if not goes_on:
        filling, group = first_of, np.full(len(first_of), -1)
    named = _first_in_each(of[filling], group)
    owner, group = of[filling[named]], group[named]
    count = np.bincount(owner, minlength=len(first_of))
    return Toothing(
        groups, of, first_of, np.cumsum(count) - count, count, owner, group,
        joint[first_of][owner],
    )  # fmt: skip


def _first_in_each(of: Ints, group: Ints) -> Ints:
    """Return each different pair once, in the order of the first."""
    code = of * (int(group.max(initial=0)) + 2) + group + 1
    first: Ints = np.unique(code, return_index=True)[1]
    return first


def _hand_on(legs: Rows, *, goes_on: bool) -> tuple[Groups, Ints, Ints, Ints]:
    """Return what is handed on, and which filling hands on which group which way."""
    sawn = sawn_pieces(legs.table, legs.at.sizes, legs.at.row)
    handed, filling = list[Ints](), list[Ints]()
    sides, gone = list[Fillings](), list[Fillings]()
    for way in ways_of(legs) if goes_on else ():
        if not len(way.legs):
            continue
        table = legs.table.take(way.legs)
        ends_kept = way.first == "none"
        edge = table.right if ends_kept else table.left
        start = column(edge, way.kept - 1 if ends_kept else way.kept)
        stays = np.arange(sawn.shape[1])[None, :] < way.kept[:, None]
        sides.append(two_pieces(table, way.kept - 2))
        gone.append(gone_of(legs, table, way))
        first = np.full(len(start), FIRSTS.index(way.first))
        handed.append(
            np.column_stack([
                first, letters_after(legs, way), start, table.joint,
                (sawn[way.legs] & ~stays).sum(axis=1), table.pieces - way.kept,
                as_seen(legs, sides[-1]), gone[-1].left, gone[-1].right,
            ])
        )  # fmt: skip
        filling.append(way.legs)
    if not handed:
        none = np.zeros(0, np.int64)
        nothing = two_pieces(legs.table.take(none), none)
        groups = Groups(none, none, none, none, none, nothing, nothing, none)
        return groups, none, none, none
    lines, which = np.concatenate(handed), np.concatenate(filling)
    begin, group = groups_of(lines)
    first, after, start, joint, dropped, less = lines[begin, :6].T
    groups = Groups(
        first, after, start, joint, dropped, joined_tables(sides).take(begin),
        joined_tables(gone).take(begin), less,
    )  # fmt: skip
    return groups, which, group, lines[:, 0]


def _joints_near(table: Fillings, reach: int | None) -> tuple[Ints, Ints]:
    """Return the joints that are nearer to the jamb than the reach, the last first."""
    left, right = table.right[:, :-1], table.left[:, 1:]
    near = table.role[:, 1:] != NONE
    if reach is not None:
        near &= right > table.right.max(axis=1, initial=0)[:, None] - reach
    columns = int(near.sum(axis=1).max(initial=0))
    at = np.argsort(~near[:, ::-1], axis=1, kind="stable")[:, :columns]
    there = picked(near[:, ::-1], at)
    found = (picked(x[:, ::-1], at) for x in (left, right))
    one, other = (np.where(there, x, FAR) for x in found)
    return one, other


def sure_joints(legs: Rows, some: Toothing) -> Perpends:
    """Return the joints that are sure to stand beside a leg, of each option.

    These are the kept ones, and that after the first new piece where it is known.
    """
    groups, joints = some.groups, legs.joints.take(some.first_of[some.owner])
    sizes, row, which = legs.at.sizes, legs.at.row, some.group
    start, joint = groups.start[which], groups.joint[which]
    first, after = groups.first[which], groups.after[which]
    length = np.full(len(which), -1)
    length[first == FIRSTS.index("none")] = 0
    length[first == FIRSTS.index("leg")] = sizes.brick.leg(row.leg)
    speller = Speller(sizes, row, 0)
    for code in np.unique(after):
        letters = speller.after(token_of(int(code)))
        if len(letters) == 1:
            is_whole = (first == FIRSTS.index("whole")) & (after == code)
            length[is_whole] = sizes.whole(row.pattern[letters[0]])
    is_sure = (length >= 0) & (joint > 0)
    kept = joints.is_there & (joints.right <= start[:, None])
    left = np.where(is_sure, start + length, FAR)[:, None]
    right = np.where(is_sure, start + length + joint, -FAR)[:, None]
    there = np.column_stack([kept, is_sure])
    none = np.zeros((len(which), 0), np.int64)
    return Perpends(
        np.column_stack([np.where(kept, joints.left, FAR), left]),
        np.column_stack([np.where(kept, joints.right, -FAR), right]),
        there.astype(np.int64), there, np.column_stack([kept, ~is_sure & False]),
        np.zeros_like(there), none, none, none, none.astype(np.bool_), joint,
    )  # fmt: skip
