"""Turn exact lengths into the numbers of a record, and days into its texts.

In:  fractions, dates.   Out: ints, and the nearest floats; texts.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction
from typing import overload


@overload
def number(value: Fraction) -> float: ...
@overload
def number(value: Fraction | None) -> float | None: ...
def number(value: Fraction | None) -> float | None:
    """Return a whole number as an int, any other as the nearest float."""
    if value is None:
        return None
    return int(value) if value.denominator == 1 else float(value)


def numbers(values: Iterable[Fraction]) -> list[float]:
    """Return whole numbers as ints, any others as the nearest floats."""
    return [number(value) for value in values]


def day_of(day: date | None) -> str | None:
    """Return a day, year first; None where there is none."""
    return day.isoformat() if day else None
