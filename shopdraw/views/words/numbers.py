"""Turn exact lengths into the numbers of a record.

In:  fractions.   Out: ints, and the nearest floats.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterable
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
