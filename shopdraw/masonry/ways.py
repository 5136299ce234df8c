"""Find the ways out when the courses do not land.

In:  `Job`, `Coursing`.   Out: `WayOut`s, each proved by solving the job with it.
Frame: the job's lengths.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.masonry.coursing import Coursing
from shopdraw.masonry.surround import Surround


@dataclass(frozen=True)
class WayOut:
    """One change to the job after which every target lands.

    Attributes:
        edits: dotted keys and the values to put there, all of them together.
        says: the change in the mason's words, with the figure.
        cost: what it costs: the joints it leads to, the pieces to saw.
    """

    edits: tuple[tuple[str, Fraction], ...]
    says: str
    cost: str


def find_ways_out(
    job: Job, surround: Surround, coursing: Coursing
) -> tuple[WayOut, ...]:
    """Return the ways out, cheapest first; none where every target lands."""
    raise NotImplementedError
