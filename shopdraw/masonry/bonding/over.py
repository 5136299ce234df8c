"""Carry a leg's row on over the opening, as its own mirror image.

In:  a leg's fillings of one kind.   Out: `Over`: what may be laid on from each.
Frame: grid lengths; the leg is the left one, mirrored about half of `about`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from shopdraw.masonry.bonding.legs import Rows, spans
from shopdraw.masonry.bonding.toothing import (
    Way,
    as_seen,
    column,
    each_with_all,
    gone_of,
    groups_of,
    letters_after,
    stands_in,
    token_of,
    turns_into_jamb,
    two_pieces,
    ways_of,
)
from shopdraw.masonry.rows.bonds import CourseKind
from shopdraw.masonry.rows.closing import (
    OverSpan,
    begun_rows,
    course_joints,
    mirror_spellings,
)
from shopdraw.masonry.rows.forms import Speller, Spelling, Token
from shopdraw.masonry.rows.judge import RowSetting, judge_rows, sawn_pieces
from shopdraw.masonry.rows.layer import Cuts, RowLayer, Spans
from shopdraw.masonry.rows.merit import Flags, Ints
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import (
    CLOSER,
    CUT,
    Fillings,
    joined_tables,
    side_by_side,
)

FIRST: dict[str, Spelling] = {"x": ("x",), "leg": ("L",)}


@dataclass(frozen=True)
class Over:
    """Ways of laying the courses over the opening of one kind.

    Attributes:
        new: the new pieces between what is kept of the legs.
        words: the new pieces' own merit.
        leg: for each way, which of the leg's fillings it goes on from.
        kept: for each way, how many of that filling's pieces are kept.
        at: for each way, which row of `new` it is.
        sawn: for each way, how many pieces of the whole course are sawn.
    """

    new: Fillings
    words: Ints
    leg: Ints
    kept: Ints
    at: Ints
    sawn: Ints

    def __len__(self) -> int:
        return len(self.leg)


@dataclass(frozen=True)
class _Laid:
    """What one way gives.

    Attributes:
        new: new pieces.
        sides: the last two kept pieces to the left of each.
        gone: of the last two pieces of the leg those that a new one may stand for.
        row_group: the group of each row of new pieces.
        leg, kept, group: which filling goes on, with how many pieces kept, and the
            group of those that hand on the same.
        groups: how many groups there are.
    """

    new: Fillings
    sides: Fillings
    gone: Fillings
    row_group: Ints
    leg: Ints
    kept: Ints
    group: Ints
    groups: int


@dataclass(frozen=True)
class Carrying:
    """Carries the rows of one kind's legs on over the opening.

    Attributes:
        legs: the legs' fillings.
        opening: where.
        cuts: how many equal cuts may stand on the centre line.
        ends: whether an equal cut may stand at each end of what is new.
    """

    legs: Rows
    opening: OverSpan
    cuts: int
    ends: bool = False

    def over(self) -> Over:
        """Return every way of carrying every filling on.

        New rows are laid and judged once for all legs that hand on the same.
        """
        legs, about, laid = self.legs, self.opening.about, list[_Laid]()
        for way in ways_of(legs):
            after = letters_after(legs, way)
            for code in np.unique(after):
                at = after == code
                some = replace(way, legs=way.legs[at], kept=way.kept[at])
                laid.append(self._carry(some, token_of(int(code))))
        sizes, row = legs.at.sizes, legs.at.row
        new, sides, gone = (
            joined_tables([getattr(x, name) for x in laid])
            for name in ("new", "sides", "gone")
        )
        stood = stands_in(new, gone) | stands_in(new, gone.mirrored(about))
        new = replace(new, counted=new.counted & ~stood)
        seen = side_by_side([sides, new, sides.mirrored(about)], new.joint)
        end = legs.at.goes_on_from
        setting = RowSetting(sizes, row, (end, end), (0, 0), is_leg=False)
        begin = np.cumsum([0, *(x.groups for x in laid)])
        leg, kept = (_joined([getattr(x, n) for x in laid]) for n in ("leg", "kept"))
        group, row_group = (
            _joined(
                [getattr(x, n) + first for x, first in zip(laid, begin, strict=False)]
            )
            for n in ("group", "row_group")
        )
        member, at = each_with_all(group, row_group, int(begin[-1]))
        leg, kept = leg[member], kept[member]
        sawn = np.cumsum(sawn_pieces(legs.table, sizes, row), axis=1)
        of_leg = np.where(kept > 0, sawn[leg, np.maximum(kept - 1, 0)], 0)
        of_new = sawn_pieces(new, sizes, row).sum(axis=1)
        words = judge_rows(seen, setting)
        return Over(new, words, leg, kept, at, 2 * of_leg + of_new[at])

    def _carry(self, way: Way, last: Token | None) -> _Laid:
        """Lay what one way gives."""
        legs, about = self.legs, self.opening.about
        source, joint = self._joints(legs.table.take(way.legs))
        leg, kept = way.legs[source], way.kept[source]
        table = legs.table.take(leg)
        ends_kept = way.first == "none"
        edge = table.right if ends_kept else table.left
        starts = column(edge, kept - 1 if ends_kept else kept)
        sides = two_pieces(table, kept - 2)
        gone = gone_of(legs, table, replace(way, legs=leg, kept=kept))
        handed = np.column_stack(
            [starts, joint, gone.left, gone.right, as_seen(legs, sides)]
        )
        first, group = groups_of(handed)
        begin = Spans(starts[first], about - 2 * starts[first], joint[first])
        new, span = self._lay(way, last, begin)
        sides, gone = sides.take(first[span]), gone.take(first[span])
        ok = self._may_stand(new, sides, way)
        return _Laid(
            new.take(ok), sides.take(ok), gone.take(ok), span[ok],
            leg, kept, group, len(first),
        )  # fmt: skip

    def _joints(self, table: Fillings) -> tuple[Ints, Ints]:
        """Return which filling goes on with which joint: its own, where it has one."""
        alone = table.pieces == 1
        one, many = np.nonzero(~alone)[0], np.nonzero(alone)[0]
        if not len(many):
            return one, table.joint[one]
        opening, legs = self.opening, self.legs
        widths = {
            *legs.joint_widths,
            *course_joints(legs.at.sizes, legs.at.row, opening),
        }
        joints = np.array(sorted(widths), np.int64)
        return (
            np.concatenate([one, np.repeat(many, len(joints))]),
            np.concatenate([table.joint[one], np.tile(joints, len(many))]),
        )

    def _lay(self, way: Way, last: Token | None, begin: Spans) -> tuple[Fillings, Ints]:
        lead = 1 if way.first == "none" else 0
        sizes, row, least = self.legs.at.sizes, self.legs.at.row, self.legs.least
        widest = int(begin.widths.max(initial=0))
        slack = widest - int(begin.widths.min(initial=widest))
        speller = Speller(sizes, row, widest, slack)
        begun = FIRST.get(way.first, ())
        fewest = int(way.first == "whole")
        spelt = list(mirror_spellings(speller, begun, last, self.cuts, lead, fewest))
        if self.ends:
            wholes = way.first == "whole"
            before = [(x,) for x in speller.after(last)] if wholes else [begun]
            for some in before:
                more = mirror_spellings(speller, (*some, "x"), None, 0, lead)
                spelt += [x for x in more if x not in spelt]
        layer = RowLayer(sizes, row, Cuts(least, least, (), lead=lead))
        return layer.lay(spelt, begin)

    def _may_stand(self, new: Fillings, sides: Fillings, way: Way) -> Flags:
        """Return which rows reach the jamb, with nothing short beside a closer.

        The first new piece reaches the jamb, or the second among headers. One that
        ends at the jamb again is the piece that was there.
        """
        row, jamb = self.legs.at.row, self.opening.jamb
        length = new.right[:, 0] - new.left[:, 0]
        short = (new.role[:, 0] == CUT) & (length < self.legs.at.sizes.brick.header)
        ok: Flags = ~(short & (sides.role[:, -1] == CLOSER))
        if way.first == "none":
            return ok
        reach = new.right[:, 0] >= jamb
        if row.has_headers and new.left.shape[1] > 1:
            reach |= new.right[:, 1] >= jamb
        if not turns_into_jamb(self.legs) and way.first != "none in place of two":
            reach &= new.right[:, 0] != jamb
        return np.asarray(ok & reach)


def _joined(arrays: list[Ints]) -> Ints:
    return np.concatenate([np.zeros(0, np.int64), *arrays])


def fill_alone(
    sizes: Sizes, row: CourseKind, opening: OverSpan, bats: Sequence[int], cuts: int
) -> Over:
    """Return the courses over the opening of a kind that no leg has."""
    speller = Speller(sizes, row, opening.width)
    begun = list(begun_rows(speller, opening))
    begun += [
        (*begun[0], *x) for x in ("x", "xx", *("p" if "S" in row.pattern else ()))
    ]
    spelt = [
        x for some in begun for x in mirror_spellings(speller, some, None, cuts, 0)
    ]
    widths = {*sizes.joints.on_step(), *course_joints(sizes, row, opening)}
    found = joined_tables([])
    for least in (sizes.limits.least_piece, sizes.joints.step):
        layer = RowLayer(sizes, row, Cuts(least, least, tuple(bats)))
        found, _ = layer.lay(spelt, spans(opening.left, opening.width, sorted(widths)))
        if len(found):
            break
    leg = sizes.brick.leg(row.leg)
    at = RowSetting(sizes, row, (opening.near, opening.near), (leg, leg), is_leg=False)
    every = np.arange(len(found))
    sawn = sawn_pieces(found, sizes, row).sum(axis=1)
    return Over(found, judge_rows(found, at), every * 0, every * 0, every, sawn)
