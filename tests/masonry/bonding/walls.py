"""Small walls for the tests of the bond, in sixteenths of an inch."""

from __future__ import annotations

from fractions import Fraction

from shopdraw.masonry.bonding.legs import Far, Front, LaidRow, LegSpan, Near
from shopdraw.masonry.rows.bonds import Bond
from shopdraw.masonry.rows.sizes import BondLimits, Brick, Joints, Sizes

INCH = 16 * 232_792_560


def on_grid(text: str) -> int:
    """Return inches, such as "7 5/8", on the tests' grid."""
    return int(sum(map(Fraction, text.split())) * INCH)


def sixteenths(lengths: int) -> Fraction:
    """Return a grid length in sixteenths of an inch."""
    return Fraction(lengths * 16, INCH)


def sizes_of(
    bond: Bond, unit: str = "7 5/8", header: str = "3 5/8", step: str = "1/16"
) -> Sizes:
    """Return a brick whose corner unit is its own length and its header."""
    return Sizes(
        bond,
        Brick(*map(on_grid, (unit, header, unit, header))),
        Joints(*map(on_grid, ("3/8", "1/4", "1/2", step))),
        BondLimits(*map(on_grid, ("2", "2", "1/4"))),
    )


def leg_of(width: str, near: Near, bond: Bond, far: Far = "jamb") -> LegSpan:
    """Return a leg with every kind of the bond's cycle."""
    return LegSpan(0, on_grid(width), near, far, bond.cycle)


def front_of(width: str, leg: str, end: Near, bond: Bond) -> Front:
    """Return a mirrored front with two cycles in the legs and two over."""
    whole, jamb = on_grid(width), on_grid(leg)
    kinds = 2 * bond.cycle
    return Front(0, whole, (jamb, whole - jamb), (end, end), kinds, kinds, True)


def lengths(filling: LaidRow) -> list[Fraction]:
    """Return how long the pieces are, in sixteenths."""
    return [sixteenths(b - a) for a, b in filling.pieces]


def marks(filling: LaidRow) -> list[Fraction]:
    """Return where the joints end, in inches: the nominal marks."""
    return [sixteenths(b) / 16 for _, b in filling.joints]
