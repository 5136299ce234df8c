"""Every way of laying a leg or a return, a table for each kind, and the best of them.

In:  `LegSpan`, `Sizes`.   Out: `Rows`: tables, judged; the best of each kind.
Frame: grid lengths; a stretch begins at its corner or free edge, on the left.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from shopdraw.masonry.bonding.search import Price
from shopdraw.masonry.rows.forms import Speller, leg_spellings
from shopdraw.masonry.rows.judge import End, RowSetting, judge_rows
from shopdraw.masonry.rows.layer import Cuts, RowLayer
from shopdraw.masonry.rows.meetings import Meeting, Pairs, Perpends, joints_of
from shopdraw.masonry.rows.merit import Ints
from shopdraw.masonry.rows.sizes import Sizes
from shopdraw.masonry.rows.tables import Fillings, joined_tables

Near = Literal["corner", "free"]
Far = Literal["jamb", "free", "wall", "turned"]
"""What a stretch ends at; "turned" where a corner unit turns into the jamb."""


@dataclass(frozen=True)
class LegSpan:
    """A leg or a return.

    Attributes:
        left, right: where it is.
        near, far: what it begins and ends at.
        kinds: the kinds of its courses, bottom up.
    """

    left: int
    right: int
    near: Near
    far: Far
    kinds: tuple[int, ...]

    @property
    def width(self) -> int:
        """How much there is to fill."""
        return self.right - self.left


@dataclass(frozen=True)
class Width:
    """How wide a search is.

    Attributes:
        fine: whether free cuts come in half the steps.
        trims: whether corner units may be trimmed.
        cuts: how many equal cuts may stand on the centre line.
    """

    fine: bool = False
    trims: bool = False
    cuts: int = 3


@dataclass(frozen=True)
class Rows:
    """The fillings of one kind.

    Attributes:
        table: every filling once.
        at: where they stand.
        words: each one's own merit.
        joints: their joints.
    """

    table: Fillings
    at: RowSetting
    words: Ints
    joints: Perpends

    def take(self, which: Ints) -> Rows:
        """Return some of them."""
        return Rows(
            self.table.take(which), self.at, self.words[which], self.joints.take(which)
        )


def once(table: Fillings) -> Ints:
    """Return which fillings to keep so that each stands there once."""
    every = np.concatenate(
        [table.left, table.right, table.role.astype(np.int64)], axis=1
    )
    first: dict[bytes, int] = {}
    for at, line in enumerate(every):
        first.setdefault(line.tobytes(), at)
    return np.array(sorted(first.values()), np.int64)


def judged(table: Fillings, at: RowSetting) -> Rows:
    """Judge a table's fillings."""
    return Rows(table, at, judge_rows(table, at), joints_of(table, at))


def fill_stretch(sizes: Sizes, stretch: LegSpan, kind: int, width: Width) -> Rows:
    """Return every filling of one kind of a stretch, judged."""
    row = sizes.bond.rows[kind]
    limits, brick = sizes.limits, sizes.brick
    step = limits.bat_step // 2 if width.fine else limits.bat_step
    speller = Speller(sizes, row, stretch.width)
    has_corner = stretch.near == "corner"
    spellings = list(
        leg_spellings(
            speller,
            has_corner=has_corner,
            end="wall" if stretch.far == "wall" else "jamb",
            trims=width.trims,
            at_both=stretch.far == "turned",
        )
    )
    shorter = list(_short_of_wall(sizes, stretch, kind))
    starts = np.array([stretch.left])
    widths = np.array([stretch.width])
    table = joined_tables([])
    for least in (limits.least_piece, sizes.joints.step):
        at_wall = min(least, -(-3 * least // 4)) if least > sizes.joints.step else least
        cuts = Cuts(
            least=least,
            least_at_wall=at_wall,
            free=sizes.bats(step),
            ends_at_wall=stretch.far == "wall",
            slack=sizes.joints.most if stretch.far == "wall" else 0,
        )
        layer = RowLayer(sizes, row, cuts)
        joints = sorted(
            {*sizes.joints.on_step(), *layer.fitting_joints(spellings, stretch.width)}
        )
        table, _ = layer.lay(spellings, starts, widths, joints)
        if shorter:
            more, _ = layer.lay(shorter, starts, widths, sizes.joints.on_step())
            table = joined_tables([table, more])
        if has_corner and width.trims and stretch.width < brick.leg(row.leg):
            alone, _ = layer.lay([("X",)], starts, widths, joints)
            table = joined_tables([table, alone])
        if len(table):
            break
    ends: tuple[End, End] = (
        stretch.near,
        "corner" if stretch.far == "turned" else stretch.far,
    )
    legs = brick.leg(row.leg), brick.leg(row.at_jamb)
    return judged(table.take(once(table)), RowSetting(sizes, row, ends, legs))


def _short_of_wall(
    sizes: Sizes, stretch: LegSpan, kind: int
) -> list[tuple[int | str, ...]]:
    """Return corner unit and whole units that end a joint short of a hidden wall."""
    if stretch.far != "wall" or stretch.near != "corner":
        return []
    speller = Speller(
        sizes, sizes.bond.rows[kind], stretch.width, slack=sizes.joints.most
    )
    every = leg_spellings(
        speller, has_corner=True, end="wall", trims=False, at_both=False
    )
    return [x for x in every if not set(x) & set("xqpXPY")]


def meeting_price(one: Rows, other: Rows, at: Meeting) -> Price:
    """Return what a pair of two kinds' fillings costs where they meet."""

    def price(a: Ints, b: Ints, pairs: Pairs) -> None:
        pairs.meet((one.joints, a), (other.joints, b), at)

    return price


def meeting_prices(
    rows: dict[int, Rows], stretch: LegSpan, sizes: Sizes
) -> dict[tuple[int, int], Price]:
    """Return what every two kinds of a stretch that lie on one another cost."""
    return {
        (one, other): meeting_price(
            rows[one], rows[other], Meeting(sizes, (one, other), stretch.width)
        )
        for one, other in sizes.bond.meetings(stretch.kinds)
    }
