"""Turn exact lengths into the numbers of a record, and days into its texts.

In:  fractions, dates.   Out: ints, and the nearest floats; texts.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction
from typing import overload

from shopdraw.masonry.wall.arch import Arch
from shopdraw.views.words import record_wall


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


def arch_record(arch: Arch) -> record_wall.ArchRecord:
    """Return the record of an arch."""
    x, y = arch.centre
    return {
        "kind": arch.kind,
        "span": number(arch.span),
        "spring": number(arch.spring),
        "rise": number(arch.rise),
        "depth": number(arch.depth),
        "radius": arch.radius,
        "skewback_deg": arch.skewback_deg,
        "centre": (number(x), number(y)),
        "are_whole": arch.are_whole,
        "counts": list(arch.counts),
        "has_keystone": arch.keystone is not None,
        "over": number(arch.over),
        "strip": number(arch.strip),
        "joints": [(joint.at_soffit, joint.at_back) for joint in arch.joints],
    }
