"""Find widths near the job's that would need fewer cuts.

In:  `BondPlan`, the pieces as laid.   Out: sentences.
Frame: the job's lengths.
"""

from __future__ import annotations

from shopdraw.masonry.layout import Piece
from shopdraw.masonry.plan import BondPlan


def find_better_widths(plan: BondPlan, pieces: tuple[Piece, ...]) -> tuple[str, ...]:
    """Name, for each leg and return with cuts other than halves, what would fit better."""
    return ()
