"""Fill a rectangle with a pattern, at the phase whose narrowest piece is widest.

In:  `PatternName`, the rectangle, `PanelBrick`, `Asked`.   Out: `Panel`.
Frame: the panel's: x from its left edge, y up from its lower edge.

Common practice, no published source: the pattern is cut at the edge all round, and it
is moved until what is cut there is as wide as it can be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import ceil, inf

from shopdraw.masonry.panels.form import (
    Asked,
    NotFilled,
    Panel,
    PanelBrick,
    PatternName,
    Point,
)
from shopdraw.masonry.panels.laying import PARTS, PatternOver, cut_pieces, lay_over
from shopdraw.masonry.panels.patterns import Pattern, pattern_of

REFINED = (4, 16)
"""The grid is made so many times finer round the best phase, one after the other."""
AS_WIDE = 1e-6
"""Pieces whose widths differ by less are equally wide."""


@dataclass(frozen=True)
class Tried:
    """A phase that was tried: how narrow its narrowest piece is, how many are sawn."""

    width: float
    is_symmetric: bool
    sawn: int
    phase: Point

    def beats(self, other: Tried) -> bool:
        """Whether it is wider; or as wide, and symmetric, or with fewer sawn."""
        if self.width > other.width + AS_WIDE:
            return True
        if self.width < other.width - AS_WIDE:
            return False
        return (not self.is_symmetric, self.sawn) < (
            not other.is_symmetric,
            other.sawn,
        )


def fill_rectangle(
    pattern: PatternName,
    size: tuple[Fraction, Fraction],
    brick: PanelBrick,
    asked: Asked,
) -> Panel:
    """Fill a rectangle with a pattern.

    Args:
        pattern: its name.
        size: the rectangle's width and height.
        brick: what it is laid of.
        asked: what the pieces must be, and how finely phases are tried.

    Returns:
        Every phase on the grid was tried, and those that are symmetric about the
        middle; then finer ones round the best. The narrowest piece is as wide as at any
        of these; of equals it is a symmetric one, of these one with the fewest sawn.

    Raises:
        NotFilled: the rectangle is too small, or the brick does not fit the pattern.
    """
    if min(size) < asked.limits.width:
        message = f"a panel of {float(size[0]):g} x {float(size[1]):g} has no room"
        raise NotFilled(message)
    laid_in = pattern_of(pattern, brick)
    over = lay_over(laid_in, brick, size)
    best, tried = choose_phase(over, asked.grid)
    pieces, left_out = cut_pieces(over, best.phase, asked)
    return Panel(
        pattern=pattern,
        width=size[0],
        height=size[1],
        brick=brick,
        pieces=pieces,
        left_out=left_out,
        phase=best.phase,
        is_symmetric=best.is_symmetric,
        phases_tried=tried,
    )


def choose_phase(over: PatternOver, grid: Fraction) -> tuple[Tried, int]:
    """Return the best phase, and how many were tried."""
    every = [(phase, True) for phase in symmetric_phases(over.pattern)]
    every += ((phase, False) for phase in phases_on_grid(over.pattern, grid))
    best = _best_of(over, every, Tried(-inf, False, 0, every[0][0]))
    tried = len(every)
    for finer in REFINED:
        step, (x, y) = grid / finer, best.phase
        near = [
            ((x + i * step, y + j * step), False)
            for i, j in product(range(-4, 5), repeat=2)
            if i or j
        ]
        best = _best_of(over, near, best)
        tried += len(near)
    return best, tried


def _best_of(over: PatternOver, phases: list[tuple[Point, bool]], best: Tried) -> Tried:
    """Return the best of some phases, each symmetric or not, and of one before them."""
    for phase, is_symmetric in phases:
        enough = best.width - AS_WIDE
        spot = float(phase[0]), float(phase[1])
        width = over.narrowest(spot, enough)
        if width >= enough:
            found = Tried(width, is_symmetric, over.sawn(spot), phase)
            best = found if found.beats(best) else best
    return best


def symmetric_phases(pattern: Pattern) -> Iterator[Point]:
    """Yield the phases that put one of the pattern's middles on the panel's."""
    first = pattern.middles[0]
    for x, y in pattern.middles:
        dx, dy = first[0] - x, first[1] - y
        if pattern.turned_deg:
            # On the panel the pattern is turned: put the middle there to the grid.
            share = Fraction(1 / 2**0.5)
            dx, dy = (dx + dy) * share, (dy - dx) * share
            dx = Fraction(round(dx * PARTS), PARTS)
            dy = Fraction(round(dy * PARTS), PARTS)
        yield dx, dy


def phases_on_grid(pattern: Pattern, grid: Fraction) -> Iterator[Point]:
    """Yield every phase on a grid, until the pattern comes back on itself."""
    (first, far), (second, deep) = pattern.spread
    for i in _about(ceil(far / float(grid))):
        for j in _about(ceil(deep / float(grid))):
            yield (
                grid * (i * first[0] + j * second[0]),
                grid * (i * first[1] + j * second[1]),
            )


def _about(count: int) -> range:
    """Return so many whole numbers about nothing."""
    return range(-(count // 2), count - count // 2)
