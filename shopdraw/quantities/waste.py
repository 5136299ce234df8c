"""Add waste to a net quantity, and say how much.

In:  `WasteRule`, a net quantity.   Out: what to order; words.
Frame: the item's own measure.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from shopdraw.job.model_around import WasteRule


def with_waste(
    net: Fraction, waste: WasteRule, step: Fraction = Fraction(1)
) -> Fraction:
    """Add waste: the percentage, or the least if that is more; then round up once.

    Args:
        net: what is on the wall; where there is nothing, nothing is ordered.
        waste: a percentage, and the least to add in the item's own measure.
        step: what it is bought by, and rounded up to.
    """
    if not net:
        return Fraction(0)
    by_percent = net * (1 + Fraction(str(waste.percent)) / 100)
    return ceil(max(by_percent, net + waste.least) / step) * step


def waste_words(waste: WasteRule, measure: str) -> str:
    """Say how much waste is added."""
    percent = f"plus {waste.percent:g} % waste"
    return f"{percent}, at least {waste.least} {measure}" if waste.least else percent
