"""Read what old work weighs, from the catalog.

In:  `weights.toml`, a kind of old work.   Out: `Weight`, or nothing.
Frame: pounds to a cubic foot.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.catalog.rows import catalog_tables


@dataclass(frozen=True)
class Weight:
    """What a kind of old work weighs: from least to most, and who says so."""

    least: Fraction
    most: Fraction
    source: str
    status: str


def weight_of(kind: str) -> Weight | None:
    """Return what a kind weighs; None where nothing was read of it."""
    row = catalog_tables("weights.toml").get(kind)
    if row is None:
        return None
    least, most = Fraction(row["least"]), Fraction(row["most"])
    return Weight(least, most, row["source"], row["status"])
