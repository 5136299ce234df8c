"""Say which corner units to order, and what would save trimming them.

In:  `BondPlan`, `SolvedBond`, the pieces as laid.   Out: sentences.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.lengths import format_made
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.bond.solve import SolvedBond, solve_bond
from shopdraw.masonry.rows.merit import TRIMMED
from shopdraw.masonry.rows.sizes import Brick, Sizes
from shopdraw.masonry.wall.layout import Piece
from shopdraw.masonry.wall.surround import corner_legs

_LegsOf = Callable[[Fraction, Fraction], str]


def say_corners(
    plan: BondPlan, solved: SolvedBond, pieces: tuple[Piece, ...]
) -> Iterator[str]:
    """Yield which corner units to order, how many, and what is trimmed off them.

    Args:
        plan: what was asked.
        solved: how it is laid.
        pieces: every piece, as it is sawn to fit.
    """
    corner, lengths = plan.job.brick.corner, plan.job.lengths
    every = [piece for piece in pieces if piece.kind == "corner unit"]

    def legs_of(one: Fraction, other: Fraction) -> str:
        return f"{format_made(one, lengths)} x {format_made(other, lengths)}"

    yield from _say_made([piece for piece in every if piece.is_made], legs_of)
    units = [piece for piece in every if not piece.is_made]
    if corner is None or not units:
        return
    long, short = corner_legs(corner, plan.job.brick.thickness)
    trimmed = _sizes([piece for piece in units if piece.is_trimmed], legs_of)
    whole = len(units) - sum(trimmed.values())
    stand = "stands" if len(units) == 1 else "stand"
    says = f"Corner units of {legs_of(long, short)}: {len(units)} {stand} on the wall"
    if not trimmed:
        yield f"{says}, all of them as delivered."
        return
    sawn = ", ".join(f"{count} trimmed to {size}" for size, count in trimmed.items())
    yield f"{says}, {whole} of them as delivered, {sawn}."
    for brick in other_corners(plan.sizes):
        sizes = replace(plan.sizes, brick=brick)
        other = solve_bond(replace(solved.plan, sizes=sizes))
        if not other.merit[TRIMMED - 1]:
            legs = plan.off_grid(brick.long), plan.off_grid(brick.short)
            yield f"With corner units of {legs_of(*legs)} none would be trimmed."


def _sizes(units: list[Piece], legs_of: _LegsOf) -> Counter[str]:
    """Count corner units by their sizes in words, the largest first.

    A left and a right one may be of the same size, and so may two that floating point
    tells apart where they were clipped.
    """
    legs = sorted((sorted(unit.legs, reverse=True) for unit in units), reverse=True)
    return Counter(legs_of(*each) for each in legs)


def _say_made(units: list[Piece], legs_of: _LegsOf) -> Iterator[str]:
    """Say how corner units are made that turn by another angle than a square one."""
    for turn in sorted({piece.turn for piece in units}):
        some = _sizes([piece for piece in units if piece.turn == turn], legs_of)
        sizes = ", ".join(f"{count} of {size}" for size, count in some.items())
        yield (
            f"Corner units that turn by {float(turn):g} degrees are not sold: each is "
            f"sawn from two flat brick, mitred at {float(turn / 2):g} degrees and "
            "glued by the fabricator (common practice, no published source). On the "
            f"wall stand {sizes}."
        )


def other_corners(sizes: Sizes) -> Iterator[Brick]:
    """Yield the brick with the corner units that are commonly made, but its own.

    A whole brick by a header, and a whole by a half bat: common practice, no published
    source.
    """
    brick = sizes.brick
    for short in sorted({brick.header, sizes.half_bat}):
        if (brick.unit, short) != (brick.long, brick.short):
            yield replace(brick, long=brick.unit, short=short)
