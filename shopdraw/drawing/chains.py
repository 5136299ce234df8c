"""Round positions along an axis for display, and say what lies between them.

In:  exact positions along an axis.   Out: `Chain`, its figures and words.
Frame: the drawing's own lengths, full size.

Positions are rounded, once, for display; a figure is the difference of two rounded
positions. So the figures of a chain add up to its overall figure, as printed. Equal
gaps may have unlike figures then: where their count and sum are lettered they are EQ.
So are gaps that are crowded, which a string then says the figure of with their sum.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import inf
from string import ascii_uppercase
from typing import NamedTuple

from shopdraw.drawing.ink import Axis
from shopdraw.lengths import (
    Lengths,
    format_length,
    format_made,
    half_marked,
    rounded,
    settled,
    shown_step,
)

EQ = "EQ"
"""What equal gaps are lettered with; several kinds in one string are EQ A, EQ B."""


class Equal(NamedTuple):
    """Equal gaps of a string: their name, their places, and the sum as printed."""

    name: str
    places: tuple[int, ...]
    total: Fraction


@dataclass(frozen=True)
class Chain:
    """Positions in order along an axis.

    Attributes:
        positions: exact, rising, at least two.
        axis: "x" or "y".
        lengths: what they are measured in, which says how they are rounded.
        is_fine: whether they are rounded to half of what other figures are: sizes that
            somebody saws to.
        is_summed: whether the count and the sum of `equals` are lettered beside it.
        is_crowded: whether the equal gaps that there are most of are EQ as well where
            their figures are alike: it is narrower.
    """

    positions: tuple[Fraction, ...]
    axis: Axis
    lengths: Lengths
    is_fine: bool = False
    is_summed: bool = False
    is_crowded: bool = False

    @property
    def shown(self) -> tuple[Fraction, ...]:
        """The positions rounded for display, from the first one."""
        to_mark = half_marked if self.is_fine else rounded
        return tuple(
            to_mark(settled(x - self.positions[0]), self.lengths)
            for x in self.positions
        )

    @property
    def figures(self) -> tuple[Fraction, ...]:
        """The figures printed between neighbouring positions."""
        return tuple(b - a for a, b in pairwise(self.shown))

    @property
    def overall(self) -> Fraction:
        """The figure printed from end to end."""
        return self.shown[-1]

    @property
    def equals(self) -> tuple[Equal, ...]:
        """The equal gaps whose figures are not, or crowd, each kind by its own name.

        Each sum is rounded by itself, if the string closes with that. If not it is what
        the figures add up to; where that is off by more than half a mark it is not
        lettered, and each gap has its figure.
        """
        alike: dict[Fraction, list[int]] = {}
        for place, (a, b) in enumerate(pairwise(self.positions)):
            alike.setdefault(settled(b - a), []).append(place)
        figures, to_mark = self.figures, half_marked if self.is_fine else rounded
        most = max(map(len, alike.values())) if self.is_crowded else inf
        found = [
            (tuple(places), sum(figures[n] for n in places), settled(gap * len(places)))
            for gap, places in alike.items()
            if len({figures[n] for n in places}) > 1 or len(places) == most
        ]
        sums = [(places, to_mark(true, self.lengths)) for places, _, true in found]
        if sum(total for _, total in sums) != sum(total for _, total, _ in found):
            off = shown_step(self.lengths) / (4 if self.is_fine else 2)
            sums = [
                (places, Fraction(total))
                for places, total, true in found
                if abs(total - true) <= off
            ]
        return tuple(
            Equal(EQ if len(sums) == 1 else f"{EQ} {letter}", places, total)
            for (places, total), letter in zip(sums, ascii_uppercase, strict=False)
        )

    def words(self) -> tuple[str, ...]:
        """Return the figures as lettered, or EQ."""
        written = format_made if self.is_fine else format_length
        words = [written(x, self.lengths) for x in self.figures]
        for equal in self.equals if self.is_summed else ():
            for place in equal.places:
                words[place] = equal.name
        return tuple(words)


def strings_close(chains: Iterator[Chain]) -> bool:
    """Whether the printed figures of every chain add up to its printed overall."""
    return all(sum(chain.figures, Fraction(0)) == chain.overall for chain in chains)
