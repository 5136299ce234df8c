"""Carry a leg's row on over the opening, as its own mirror image.

In:  a leg's fillings of one kind.   Out: `Over`: what may be laid on from each.
Frame: grid lengths; the leg is the left one, mirrored about half of `about`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from shopdraw.masonry.bonding.legs import Near, Rows, Width
from shopdraw.masonry.rows.forms import Speller, Spelling, Token
from shopdraw.masonry.rows.judge import RowSetting, judge_rows
from shopdraw.masonry.rows.layer import Cuts, RowLayer
from shopdraw.masonry.rows.merit import WORDS, Flags, Ints
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import (
    CLOSER,
    CUT,
    LEG,
    NONE,
    WHOLE,
    Fillings,
    joined_tables,
    side_by_side,
)

FIRST: dict[str, Spelling] = {"x": ("x",), "leg": ("L",)}


@dataclass(frozen=True)
class OverSpan:
    """Where the courses over an opening close.

    Attributes:
        left: where the front begins.
        jamb: the left jamb.
        about: twice the centre line.
        near: what the front ends at.
    """

    left: int
    jamb: int
    about: int
    near: Near


@dataclass(frozen=True)
class Over:
    """Rows over the opening of one kind.

    Attributes:
        new: the new pieces between what is kept of the legs.
        words: the new pieces' own merit.
        leg: for each way, which of the leg's fillings it goes on from; -1 for none.
        kept: for each way, how many of that filling's pieces are kept.
        at: for each way, which row of `new` it is.
    """

    new: Fillings
    words: Ints
    leg: Ints
    kept: Ints
    at: Ints

    def __len__(self) -> int:
        return len(self.leg)

    def take(self, which: Ints | Flags) -> Over:
        """Return some of the ways."""
        return replace(
            self, leg=self.leg[which], kept=self.kept[which], at=self.at[which]
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


def whole_rows(legs: Fillings | None, over: Over, about: int) -> Fillings:
    """Return the whole course over the opening, for every way."""
    new = over.new.take(over.at)
    if legs is None:
        return new
    kept = kept_of(legs, over.leg, over.kept)
    return side_by_side([kept, new, kept.mirrored(about)], new.joint)


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


def ways_of(legs: Rows) -> Iterator[Way]:
    """Yield the ways of going on, each with the legs that it can go on from."""
    table, sizes, row = legs.table, legs.at.sizes, legs.at.row
    pieces = table.pieces
    every = np.arange(len(table))
    length = table.right - table.left
    role = np.take_along_axis(table.role, pieces[:, None] - 1, 1)[:, 0]
    last = np.take_along_axis(length, pieces[:, None] - 1, 1)[:, 0]
    # A corner unit that turns into the jamb stays below the head.
    turns = legs.at.ends[1] == "corner"
    flat = np.ones_like(every, np.bool_) if turns else role != LEG
    if not turns:
        yield Way("none", every, pieces)
    yield Way("whole", every[flat], pieces[flat] - 1)
    yield Way("x", every[flat], pieces[flat] - 1)
    alone = (pieces == 1) & (role == LEG) & (last < sizes.brick.leg(row.leg))
    yield Way("leg", every[alone], pieces[alone] - 1)
    if table.left.shape[1] < 2:
        return
    before = np.maximum(pieces - 2, 0)[:, None]
    role_before = np.take_along_axis(table.role, before, 1)[:, 0]
    length_before = np.take_along_axis(length, before, 1)[:, 0]
    wholes = [sizes.whole(x) for x in set(row.pattern)]
    sawn = (role == CUT) & ~np.isin(last, wholes)
    sawn &= (role_before == CUT) & ~np.isin(length_before, wholes)
    closed = (role_before == CLOSER) & (role != LEG) & (pieces > 2)
    dropped = (pieces > 1) & (sawn | closed)
    # A closer that is also the quoin's stays.
    first_two = (pieces == 3) & (table.role[:, 0] == LEG) & closed
    dropped &= ~first_two
    yield Way("none in place of two", every[dropped], pieces[dropped] - 2)


def letters_after(legs: Rows, way: Way) -> Ints:
    """Return for each leg what the last kept piece is, as `token_of` reads it."""
    table = legs.table.take(way.legs)
    at = np.maximum(way.kept - 1, 0)[:, None]
    role = np.take_along_axis(table.role, at, 1)[:, 0]
    letter = np.take_along_axis(table.letter, at, 1)[:, 0].astype(np.int64)
    ahead = np.maximum(way.kept - 2, 0)[:, None]
    role_ahead = np.take_along_axis(table.role, ahead, 1)[:, 0]
    letter_ahead = np.take_along_axis(table.letter, ahead, 1)[:, 0]
    through = (role == CLOSER) & (way.kept > 1)
    role = np.where(through, role_ahead, role)
    letter = np.where(through, letter_ahead, letter)
    code = np.where(role == WHOLE, letter, np.where(role == LEG, -1, -2))
    return np.where(way.kept == 0, -2, code)


def token_of(code: int) -> Token | None:
    """Return a token from its code: a letter's place, the leg, or nothing whole."""
    return "L" if code == -1 else None if code < 0 else code


def fill_over(legs: Rows, opening: OverSpan, width: Width) -> Over:
    """Return every way of carrying a leg's row on over the opening."""
    found: list[Over] = []
    for way in ways_of(legs):
        if not len(way.legs):
            continue
        after = letters_after(legs, way)
        for code in np.unique(after):
            some = after == code
            group = replace(way, legs=way.legs[some], kept=way.kept[some])
            found += _carry(legs, group, token_of(int(code)), opening, width)
    return _joined(found)


def _joined(found: list[Over]) -> Over:
    if not found:
        none = np.zeros(0, np.int64)
        return Over(joined_tables([]), np.zeros((0, WORDS), np.int64), none, none, none)
    sizes = np.cumsum([0, *(len(x.new) for x in found)])
    return Over(
        joined_tables([x.new for x in found]),
        np.concatenate([x.words for x in found]),
        np.concatenate([x.leg for x in found]),
        np.concatenate([x.kept for x in found]),
        np.concatenate([x.at + n for x, n in zip(found, sizes, strict=False)]),
    )


def _carry(
    legs: Rows, way: Way, last: Token | None, opening: OverSpan, width: Width
) -> Iterator[Over]:
    """Yield what one way gives, judged once for all legs that hand on the same."""
    table = legs.table.take(way.legs)
    ends_kept = way.first == "none"
    at = (way.kept - 1 if ends_kept else way.kept)[:, None]
    edge = table.right if ends_kept else table.left
    starts = np.take_along_axis(edge, at, 1)[:, 0]
    seam = kept_of(legs.table, way.legs, way.kept)
    context = _last_two(seam, way.kept)
    handed = np.concatenate(
        [starts[:, None], *((x - starts[:, None]) * (context.role != NONE)
                            for x in (context.left, context.right)),
         context.role.astype(np.int64)], axis=1,
    )  # fmt: skip
    _, first, group = np.unique(handed, axis=0, return_index=True, return_inverse=True)
    group = group.reshape(-1)
    starts = starts[first]
    widths = opening.about - 2 * starts
    sizes, row = legs.at.sizes, legs.at.row
    new, span = _lay_new(sizes, legs, way, last, (starts, widths), width)
    ok = _reaches_jamb(new, way, opening.jamb, row.has_headers)
    new, span = new.take(ok), span[ok]
    if not len(new):
        return
    sides = context.take(first[span])
    seen = side_by_side([sides, new, sides.mirrored(opening.about)], new.joint)
    setting = RowSetting(sizes, row, ("open", "open"), (0, 0), is_leg=False)
    words = judge_rows(seen, setting)
    # Each leg goes on with every new row of its group.
    by_span = np.argsort(span, kind="stable")
    count = np.bincount(span, minlength=len(starts))
    begin = np.cumsum(count) - count
    each = count[group]
    leg = np.repeat(np.arange(len(group)), each)
    place = np.arange(each.sum()) - np.repeat(np.cumsum(each) - each, each)
    yield Over(
        new, words, way.legs[leg], way.kept[leg], by_span[begin[group[leg]] + place]
    )


def _last_two(seam: Fillings, kept: Ints) -> Fillings:
    """Return the last two kept pieces of each row."""
    columns = np.arange(2)[None, :]
    at = kept[:, None] - 2 + columns
    there = at >= 0
    at = np.maximum(at, 0)
    role = np.where(there, np.take_along_axis(seam.role, at, 1), NONE)
    return Fillings(
        np.where(there, np.take_along_axis(seam.left, at, 1), 0),
        np.where(there, np.take_along_axis(seam.right, at, 1), 0),
        role.astype(np.int8),
        np.where(there, np.take_along_axis(seam.letter, at, 1), -1).astype(np.int8),
        seam.joint,
        np.zeros_like(there),
    )


def _lay_new(
    sizes: Sizes,
    legs: Rows,
    way: Way,
    last: Token | None,
    spans: tuple[Ints, Ints],
    width: Width,
) -> tuple[Fillings, Ints]:
    starts, widths = spans
    lead = 1 if way.first == "none" else 0
    row = legs.at.row
    low = Speller(sizes, row, int(widths.max()), int(widths.max() - widths.min()))
    spellings = list(mirror_spellings(low, way.first, last, width.cuts, lead))
    for least in (sizes.limits.least_piece, sizes.joints.step):
        layer = RowLayer(sizes, row, Cuts(least, least, (), lead=lead))
        new, span = layer.lay(spellings, starts, widths, sizes.joints.on_step())
        if len(new):
            break
    return new, span


def mirror_spellings(
    speller: Speller,
    first: str | Spelling,
    last: Token | None,
    cuts: int,
    lead: int,
) -> Iterator[Spelling]:
    """Yield spellings that are their own mirror image, closed on the centre line.

    Args:
        speller: of the row and of how much there is between what is kept.
        first: the first new piece, as in `Way`; or the tokens that come first.
        last: the last kept piece that has a letter.
        cuts: how many equal cuts may stand on the centre line.
        lead: 1 where joints come first and last.
    """
    begun: Spelling = first if isinstance(first, tuple) else FIRST.get(first, ())
    if begun:
        last = begun[-1]
    unit, joint = speller.sizes.brick.unit, speller.sizes.joints.least
    shortest = min(speller.longest(at) for at in range(len(speller.row.pattern)))
    most = speller.width // (2 * (min(unit, shortest) + joint)) + 1
    for count in range(1 if first == "whole" else 0, most + 1):
        for wholes in speller.wholes(last, count):
            half = (*begun, *wholes)
            end = half[-1] if half else last
            closings: list[Spelling] = [(), *(("x",) * k for k in range(1, cuts + 1))]
            closings += [(letter,) for letter in speller.after(end)]
            for closing in closings:
                spelling = (*half, *closing, *half[::-1])
                if spelling and _could_fill(speller, spelling, lead):
                    yield spelling


def _could_fill(speller: Speller, spelling: Spelling, lead: int) -> bool:
    joints = len(spelling) - 1 + 2 * lead
    least = sum(map(speller.shortest, spelling)) + joints * speller.sizes.joints.least
    most = sum(map(speller.longest, spelling)) + joints * speller.sizes.joints.most
    return least <= speller.width and most >= speller.width - speller.slack


def _reaches_jamb(new: Fillings, way: Way, jamb: int, has_headers: bool) -> Flags:
    """Return which rows' first new piece, or the second among headers, reach the jamb.

    One that ends at the jamb again is the piece that was there.
    """
    if way.first == "none":
        return np.ones(len(new), np.bool_)
    reach = new.right[:, 0] >= jamb
    if has_headers and new.left.shape[1] > 1:
        reach |= new.right[:, 1] >= jamb
    reach &= (new.right[:, 0] != jamb) | (way.first == "none in place of two")
    return reach
