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
class _Tried:
    """A phase that was tried: how narrow its narrowest piece is."""

    width: float
    is_symmetric: bool
    phase: Point

    def beats(self, other: _Tried | None) -> bool:
        """Whether it is wider, or as wide and symmetric where the other is not."""
        if other is None or self.width > other.width + AS_WIDE:
            return True
        if self.width < other.width - AS_WIDE:
            return False
        return self.is_symmetric and not other.is_symmetric


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
        of these; of equals it is a symmetric one, of these the first.

    Raises:
        NotFilled: the rectangle is too small, or the brick does not fit the pattern.
    """
    if min(size) < asked.width:
        message = f"a panel of {float(size[0]):g} x {float(size[1]):g} has no room"
        raise NotFilled(message)
    laid_in = pattern_of(pattern, brick)
    ground = lay_over(laid_in, brick, size)
    best, tried = choose_phase(ground, asked.grid)
    pieces, left_out = cut_pieces(ground, best.phase, asked)
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


def choose_phase(ground: PatternOver, grid: Fraction) -> tuple[_Tried, int]:
    """Return the best phase and how many were tried."""
    best: _Tried | None = None
    tried = 0

    def attempt(phase: Point, *, is_symmetric: bool) -> None:
        nonlocal best, tried
        tried += 1
        enough = -inf if best is None else best.width - AS_WIDE
        width = ground.narrowest((float(phase[0]), float(phase[1])), enough)
        found = _Tried(width, is_symmetric, phase)
        if found.beats(best):
            best = found

    for phase in symmetric_phases(ground.pattern):
        attempt(phase, is_symmetric=True)
    for phase in phases_on_grid(ground.pattern, grid):
        attempt(phase, is_symmetric=False)
    for finer in REFINED:
        if best is None:
            break
        step, middle = grid / finer, best.phase
        for i, j in product(range(-4, 5), repeat=2):
            if i or j:
                at = middle[0] + i * step, middle[1] + j * step
                attempt(at, is_symmetric=False)
    if best is None:  # A pattern always has a middle.
        raise NotFilled
    return best, tried


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
    for i in range(ceil(far / float(grid))):
        for j in range(ceil(deep / float(grid))):
            yield (
                grid * (i * first[0] + j * second[0]),
                grid * (i * first[1] + j * second[1]),
            )
