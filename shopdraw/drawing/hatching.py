"""The hatches: the lines of each, and those that fall in an area.

In:  `Hatch`.   Out: lines.
Frame: the hatch's own.

A pattern is one or more families of parallel lines, in inches on paper. What is drawn
so is common practice (lines aslant for a wall, strokes and dots for concrete); names
and figures are our own, and a file holds the lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import ceil, cos, floor, radians, sin

from shopdraw.drawing.ink import Hatch, PatternName, Point

Line = tuple[Point, Point]
DOT = 0.012
"""How long the stroke is that a pen makes of a dot, in inches on paper."""


@dataclass(frozen=True)
class Family:
    """Parallel lines.

    Attributes:
        angle_deg: in which direction they run.
        base: where one of them begins.
        step: from there to where the next begins.
        dashes: dashes, and gaps below nothing, by turns; 0 is a dot. None: unbroken.
    """

    angle_deg: float
    base: Point
    step: Point
    dashes: tuple[float, ...] = ()


EIGHTH = 0.125 * 0.5**0.5
"""Lines at 45 degrees, 1/8 in apart, are so far apart along x and along y."""
CONCRETE = (
    Family(20.0, (0.0, 0.0), (0.17, 0.26), (0.05, -0.55)),
    Family(100.0, (0.11, 0.07), (-0.29, 0.13), (0.045, -0.62)),
    Family(155.0, (0.23, 0.19), (0.12, -0.31), (0.04, -0.58)),
    Family(0.0, (0.05, 0.04), (0.07, 0.11), (0.0, -0.23)),
    Family(35.0, (0.16, 0.02), (0.02, 0.19), (0.0, -0.31)),
)
"""Short strokes this way and that, and dots: its stones and sand."""
PATTERNS: dict[PatternName, tuple[Family, ...]] = {
    "DIAGONAL": (Family(45.0, (0.0, 0.0), (-EIGHTH, EIGHTH)),),
    "CROSSED": (
        Family(45.0, (0.0, 0.0), (-EIGHTH, EIGHTH)),
        Family(135.0, (0.0, 0.0), (-EIGHTH, -EIGHTH)),
    ),
    "CONCRETE": CONCRETE,
    "BROKEN": (Family(45.0, (0.0, 0.0), (0.0, 2 * EIGHTH), (0.125, -0.125)),),
    "DOTTED": (Family(0.0, (0.0, 0.0), (0.046875, 0.09375), (0.0, -0.09375)),),
}


@lru_cache(maxsize=256)
def lines_in(hatch: Hatch) -> tuple[Line, ...]:
    """Return the lines of a hatch within its outline, dots as short lines."""
    families = PATTERNS[hatch.pattern]
    return tuple(line for family in families for line in _within(hatch, family))


def _within(hatch: Hatch, family: Family) -> Iterator[Line]:
    """Yield the lines of one family; across is along them, up is square to them."""
    cosine, sine = cos(radians(family.angle_deg)), sin(radians(family.angle_deg))
    unit = hatch.inch
    x0 = hatch.origin[0] + family.base[0] * unit
    y0 = hatch.origin[1] + family.base[1] * unit
    ring = [
        ((x - x0) * cosine + (y - y0) * sine, (y - y0) * cosine - (x - x0) * sine)
        for x, y in hatch.points
    ]
    dx, dy = family.step
    along, up = (dx * cosine + dy * sine) * unit, (dy * cosine - dx * sine) * unit
    levels = [level / up for _, level in ring]
    for n in range(ceil(min(levels)), floor(max(levels)) + 1):
        level = n * up
        for a, b in _inside(ring, level):
            for c, d in _dashes(family.dashes, (a, b), n * along, unit):
                yield (
                    (x0 + c * cosine - level * sine, y0 + c * sine + level * cosine),
                    (x0 + d * cosine - level * sine, y0 + d * sine + level * cosine),
                )


def _inside(ring: list[Point], level: float) -> Iterator[tuple[float, float]]:
    """Yield from where to where a level line is inside an outline, convex or not."""
    # Half open, so that a line through a corner crosses there once.
    found = sorted(
        a + (c - a) * (level - b) / (d - b)
        for (a, b), (c, d) in pairwise((*ring, ring[0]))
        if (b < level) != (d < level)
    )
    for a, b in zip(found[::2], found[1::2], strict=False):
        if b - a > 1e-9:
            yield a, b


def _dashes(
    dashes: tuple[float, ...], ends: tuple[float, float], first: float, unit: float
) -> Iterator[tuple[float, float]]:
    """Yield the dashes of a line between two ends; one of them begins at `first`."""
    a, b = ends
    if not dashes:
        yield a, b
        return
    period = sum(abs(x) for x in dashes) * unit
    for n in range(floor((a - first) / period), ceil((b - first) / period) + 1):
        at = first + n * period
        for dash in dashes:
            if dash >= 0:
                c, d = max(a, at), min(b, at + max(dash, DOT) * unit)
                if d > c:
                    yield c, d
            at += abs(dash) * unit
