"""The forms of what the mason sets out by: poles, rods, rule marks, and spread.

In:  nothing.   Out: `Strip`, `Variation`, `Follows` and what they hold.
Frame: the job's lengths; each form says along what.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, sqrt
from typing import Literal

TickKind = Literal[
    "course top", "joint edge", "target", "ledger", "measure again",
    "centre", "jamb", "fold", "inside corner", "end",
]  # fmt: skip
Side = Literal["A", "B", "both"]
FINEST = 4096
"""A deviation is rounded up to one part in so many."""
DEVIATIONS = 2
"""How many standard deviations are counted; common practice, no published source."""


@dataclass(frozen=True)
class Tick:
    """One mark of a strip.

    Attributes:
        at: where.
        kind: what it marks.
        side: A is the left side of a strip as it is printed, standing up.
        name: the course's number, the target's name, or nothing.
    """

    at: Fraction
    kind: TickKind
    side: Side
    name: str = ""


@dataclass(frozen=True)
class Strip:
    """The story pole, or the setting-out rod of one face.

    Attributes:
        name: "story pole", or the face's, with "soldiers" where it is a rod for those.
        length: of the strip.
        ticks: in order.
        courses: the numbers of the courses on sides A and B of a rod; none for a pole.
    """

    name: str
    length: Fraction
    ticks: tuple[Tick, ...]
    courses: tuple[int, ...] = ()


@dataclass(frozen=True)
class Spread:
    """How much the brick of a sample differ in one size.

    Attributes:
        count: how many were measured.
        mean, least, most: exact.
        variance: of the sample: its sum of squares over the count less one.
    """

    count: int
    mean: Fraction
    least: Fraction
    most: Fraction
    variance: Fraction

    @property
    def deviation(self) -> float:
        """The standard deviation."""
        return sqrt(self.variance)

    def wander_squared(self, courses: int) -> Fraction:
        """Return the square of what `wander` returns, exactly."""
        whole = courses + Fraction(courses**2, self.count)
        return DEVIATIONS**2 * self.variance * whole

    def wander(self, courses: int) -> float:
        """Return how far the top of so many courses may wander, at two deviations."""
        return sqrt(self.wander_squared(courses))


@dataclass(frozen=True)
class Variation:
    """What a sample of the brick means for the coursing.

    Attributes:
        height, length: None where the sample does not give each brick's.
        at_once: how many courses may be laid before measuring again, so that correcting
            by one joint step is enough; 0 where one brick alone may be off by more.
        remeasure_at: the courses to measure at, the last below the head among them.
        laid: how many courses are laid.
        tight: the courses whose bed joint is nearer an end of its range than the two
            deviations of one brick.
    """

    height: Spread | None
    length: Spread | None
    at_once: int
    remeasure_at: tuple[int, ...]
    laid: int
    tight: tuple[int, ...]

    def wander_at(self, course: int) -> float | None:
        """Return how far a course's top may wander; None where heights are not known.

        It counts from the last course laid, whose top was measured.
        """
        if self.height is None:
            return None
        return self.height.wander(max(0, course - self.laid))


@dataclass(frozen=True)
class Follows:
    """The mark of the mason's rule that a course follows.

    Attributes:
        mark: as printed on the rule.
        off: how much higher the course with its joint is than the mark gives.
        moves: whether the course below follows another mark.
    """

    mark: str
    off: Fraction
    moves: bool


def not_less(deviation: float) -> Fraction:
    """Return a deviation as a fraction that is never less than it."""
    return Fraction(ceil(deviation * FINEST), FINEST)
