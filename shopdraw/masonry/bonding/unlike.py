"""Solve a front whose legs differ: each leg, and the courses between them over.

In:  `Front`, `Sizes`.   Out: the best over the legs that are best by themselves.
Frame: grid lengths, left to right; the right leg is laid mirrored about nothing.

Only the best way of laying each leg by itself is carried on over the opening, so that
what comes back is not searched to the end where courses run over the opening.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from shopdraw.masonry.bonding.faces import (
    LaidRow,
    Part,
    Solved,
    filling_of,
    joints_key,
    meeting_parts,
)
from shopdraw.masonry.bonding.front import Front, head_of
from shopdraw.masonry.bonding.legs import (
    LegSpan,
    Rows,
    Width,
    fill_stretch,
    judged,
    meeting_prices,
    spans,
)
from shopdraw.masonry.bonding.over import (
    FIRST,
    kept_of,
    letters_after,
    token_of,
    ways_of,
)
from shopdraw.masonry.bonding.search import Pair, Price, best_together
from shopdraw.masonry.rows.forms import Speller, Spelling, Token
from shopdraw.masonry.rows.judge import RowSetting
from shopdraw.masonry.rows.layer import Cuts, RowLayer
from shopdraw.masonry.rows.meetings import Meeting, MeetingJudge
from shopdraw.masonry.rows.merit import Ints, Merit, as_tuple, joined
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import Fillings, joined_tables, side_by_side


@dataclass(frozen=True)
class _Side:
    """One way that a leg's row goes on over the opening, seen from its own end.

    Attributes:
        kept: the pieces that stay.
        start: where the new pieces begin.
        begun: the tokens that come first, a joint among them.
        last: the last kept piece that has a letter.
        is_kept: whether the piece at the jamb stays.
        may_end_at_jamb: whether a first new piece that ends at the jamb is new.
    """

    kept: Fillings
    start: int
    begun: Spelling
    last: Token | None
    is_kept: bool
    may_end_at_jamb: bool


def _sides(legs: Rows) -> Iterator[_Side]:
    """Yield the ways of going on from a leg of one filling."""
    for way in ways_of(legs):
        if not len(way.legs):
            continue
        count, is_kept = int(way.kept[0]), way.first == "none"
        edge = legs.table.right[0, count - 1] if is_kept else legs.table.left[0, count]
        begun: Spelling = (".",) if is_kept else FIRST.get(way.first, ())
        yield _Side(
            kept_of(legs.table, way.legs, way.kept),
            int(edge),
            begun,
            token_of(int(letters_after(legs, way)[0])),
            is_kept,
            way.first == "none in place of two",
        )


def _spellings(
    speller: Speller, left: _Side, right: _Side, cuts: int
) -> Iterator[Spelling]:
    """Yield whole units from both sides, with equal cuts near the middle or an end."""
    shortest = min(speller.longest(at) for at in range(len(speller.row.pattern)))
    most = speller.width // (shortest + speller.sizes.joints.least) + 1
    groups: list[Spelling] = [("x",) * k for k in range(cuts + 1)]
    lasts = [
        next((x for x in side.begun[::-1] if x != "."), side.last)
        for side in (left, right)
    ]
    for count in range(most + 1):
        half = count // 2
        splits = {0, count, *range(max(half - 1, 0), min(half + 2, count) + 1)}
        for at in sorted(splits):
            for one in speller.wholes(lasts[0], at):
                for other in speller.wholes(lasts[1], count - at):
                    for group in groups:
                        yield (
                            *left.begun, *one, *group, *other[::-1], *right.begun[::-1]
                        )  # fmt: skip
        for whole in speller.wholes(lasts[0], count):
            yield (*left.begun, "x", *whole, "x", *right.begun[::-1])


def _reaches(new: Fillings, side: _Side, jamb: int, *, has_headers: bool) -> Ints:
    """Return which rows reach the jamb that a side begins before."""
    if side.is_kept:
        return np.ones(len(new), np.int64)
    reach = new.right[:, 0] >= jamb
    if has_headers and new.left.shape[1] > 1:
        reach |= new.right[:, 1] >= jamb
    if not side.may_end_at_jamb:
        reach &= new.right[:, 0] != jamb
    return reach.astype(np.int64)


@dataclass
class Unlike:
    """The search of one front whose legs are not each other's mirror image."""

    sizes: Sizes
    front: Front
    width: Width
    legs: dict[str, dict[int, Rows]] = field(default_factory=dict)

    def solve(self) -> Solved | None:
        """Return the best over the legs that are best by themselves.

        Returns:
            None where a leg or a course over cannot be laid at this width.
        """
        front, parts = self.front, list[Part]()
        zones: dict[str, dict[int, LaidRow]] = {}
        for zone, stretch in (
            ("left leg", front.left_leg),
            ("right leg", front.right_leg),
        ):
            rows = {
                kind: fill_stretch(self.sizes, stretch, kind, self.width)
                for kind in sorted(set(front.leg_kinds))
            }
            prices = meeting_prices(rows, stretch, self.sizes)
            found = _best(rows, prices)
            if found is None:
                return None
            chosen = found[1]
            self.legs[zone] = {k: rows[k].take(np.array([chosen[k]])) for k in rows}
            parts += meeting_parts(zone, prices, chosen)
            for kind, best in self.legs[zone].items():
                table = best.table if zone == "left leg" else best.table.mirrored(0)
                pattern = best.at.row.pattern
                zones.setdefault(zone, {})[kind] = filling_of(
                    table, 0, self.sizes, pattern
                )
                parts.append(Part(zone, (kind,), as_tuple(joined(best.words[0]))))
        if front.over_kinds:
            laid = self._over()
            if laid is None:
                return None
            zones["over"], parts = laid[0], [*parts, *laid[1]]
        if front.is_mirrored:
            not_mirrored: Merit = tuple(int(n == 7) for n in range(1, 25))
            parts.append(Part("front", (), not_mirrored))
        merits = zip(*(part.merit for part in parts), strict=True)
        return Solved(
            zones, tuple(parts), tuple(map(sum, merits)), not front.over_kinds
        )

    def _over(self) -> tuple[dict[int, LaidRow], list[Part]] | None:
        front, bond = self.front, self.sizes.bond
        rows = {kind: self._over_rows(kind) for kind in sorted(set(front.over_kinds))}
        wide = LegSpan(front.left, front.right, "free", "free", front.over_kinds)
        prices = meeting_prices(rows, wide, self.sizes)
        head = self._price_head(rows)
        found = _best(rows, prices)
        if found is None:
            return None
        chosen = found[1]
        parts = meeting_parts("over", prices, chosen)
        fillings = {}
        for kind, at in chosen.items():
            fillings[kind] = filling_of(
                rows[kind].table, at, self.sizes, bond.rows[kind].pattern
            )
            words = rows[kind].words[at]
            if kind in head:
                words = words - head[kind][at]
                parts.append(Part("head", _head(front), _merit(head[kind][at])))
            parts.append(Part("over", (kind,), _merit(words)))
        return fillings, parts

    def _price_head(self, rows: dict[int, Rows]) -> dict[int, Ints]:
        """Add to the first course over what its laps on the legs cost, and say it."""
        pair = head_of(self.front)
        if pair is None:
            return {}
        below, kind = pair
        over = rows[kind]
        at = Meeting(
            self.sizes, (below, kind), self.front.right - self.front.left, at_head=True
        )
        every = np.arange(len(over.table))
        added = np.zeros_like(over.words)
        for zone, sign in (("left leg", 1), ("right leg", -1)):
            leg = self.legs[zone][below]
            if sign < 0:
                leg = judged(leg.table.mirrored(0), leg.at)
            judge = MeetingJudge(leg.joints, over.joints, at)
            added = added + judge(every * 0, every)
        rows[kind] = replace(over, words=over.words + added)
        return {kind: added}

    def _over_rows(self, kind: int) -> Rows:
        front, sizes = self.front, self.sizes
        row = sizes.bond.rows[kind]
        leg = sizes.brick.leg(row.leg)
        at = RowSetting(sizes, row, front.ends, (leg, leg), is_leg=False)
        if kind not in self.legs["left leg"]:
            return judged(self._alone(kind), at)
        tables = [
            self._between(kind, one, other)
            for one in _sides(self.legs["left leg"][kind])
            for other in _sides(self.legs["right leg"][kind])
        ]
        return judged(joined_tables(tables), at)

    def _alone(self, kind: int) -> Fillings:
        """Return the courses over the opening of a kind that no leg has."""
        front = self.front
        near, other = front.ends
        if near == "free" and other == "corner":
            stretch = LegSpan(-front.right, -front.left, "corner", "free", ())
            rows = fill_stretch(self.sizes, stretch, kind, self.width)
            return rows.table.mirrored(0)
        far: str = "turned" if other == "corner" else "free"
        stretch = LegSpan(
            front.left, front.right, near, "turned" if far == "turned" else "free", ()
        )
        return fill_stretch(self.sizes, stretch, kind, self.width).table

    def _between(self, kind: int, one: _Side, other: _Side) -> Fillings:
        """Return every course over the opening between two kept sides."""
        sizes, row = self.sizes, self.sizes.bond.rows[kind]
        width = -other.start - one.start
        speller = Speller(sizes, row, width)
        spellings = [
            x
            for x in _spellings(speller, one, other, 3)
            if set(x) != {"."} and x and speller.can_fill(x)
        ]
        new = joined_tables([])
        for least in (sizes.limits.least_piece, sizes.joints.step):
            layer = RowLayer(sizes, row, Cuts(least, least, ()))
            fits = layer.fitting_joints(
                [tuple(t for t in x if t != ".") for x in spellings], width
            )
            joints = sorted({*sizes.joints.on_step(), *fits})
            new, _ = layer.lay(spellings, spans(one.start, width, joints))
            if len(new):
                break
        new = side_by_side([new], new.joint)
        jambs, headers = self.front.jambs, row.has_headers
        ok = _reaches(new, one, jambs[0], has_headers=headers) > 0
        ok &= _reaches(new.mirrored(0), other, -jambs[1], has_headers=headers) > 0
        new = new.take(ok)
        every = np.zeros(len(new), np.int64)
        left, right = one.kept.take(every), other.kept.take(every).mirrored(0)
        return side_by_side([left, new, right], new.joint)


def _merit(words: Ints) -> Merit:
    return as_tuple(joined(words))


def _head(front: Front) -> tuple[int, ...]:
    return head_of(front) or ()


def _best(
    rows: dict[int, Rows], prices: dict[Pair, Price]
) -> tuple[int, dict[int, int]] | None:
    found = best_together(
        {kind: x.words for kind, x in rows.items()},
        prices,
        lambda kind, at: joints_key(rows[kind].table, at),
    )
    return None if found is None else (joined(found[0]), found[1])
