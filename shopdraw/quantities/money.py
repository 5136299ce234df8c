"""Reckon in exact decimals: round to the cent, and letter money and hours.

In:  exact numbers.   Out: exact numbers, rounded once; text.
Frame: money in the job's currency, hundredths the finest.

A half is rounded up, away from nothing: common practice, no published source.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor

CENT = Fraction(1, 100)
NONE = Fraction(0)


def exactly(value: float) -> Fraction:
    """Return a number as it was typed: the decimal, not the binary nearest to it."""
    return Fraction(str(value))


def to_cent(value: Fraction) -> Fraction:
    """Round what is not negative to a whole hundredth, a half up."""
    return floor(value / CENT + Fraction(1, 2)) * CENT


def share(value: Fraction, percent: Fraction) -> Fraction:
    """Return so many percent of a sum, rounded to the cent."""
    return to_cent(value * percent / 100)


def format_money(value: Fraction) -> str:
    """Letter a sum of whole cents: `1,234.50`."""
    whole, cents = divmod(int(value / CENT), 100)
    return f"{whole:,}.{cents:02}"


def format_hundredths(value: Fraction) -> str:
    """Letter a quantity to the hundredth, or as whole as it is: `13.51`, `24`."""
    rounded = to_cent(value)
    if rounded.denominator == 1:
        return str(rounded.numerator)
    return format_money(rounded).replace(",", "")


def format_each(value: Fraction) -> str:
    """Letter a price as it was typed, with cents at the least: `88.40`, `0.125`."""
    return (
        format_money(value) if (value / CENT).denominator == 1 else format_figure(value)
    )


def format_figure(value: Fraction) -> str:
    """Letter a figure as it was typed, which is a decimal: `0.35`, `68`, `8.875`."""
    if value.denominator == 1:
        return str(value.numerator)
    places = 0
    while (value * 10**places).denominator != 1:
        places += 1
    whole, rest = divmod(int(value * 10**places), 10**places)
    return f"{whole}.{rest:0{places}}"
