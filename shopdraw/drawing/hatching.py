"""The standard hatches: the lines of each, and those that fall in an area.

In:  `Hatch`.   Out: lines.
Frame: the hatch's own.

A pattern is one or more families of parallel lines, in inches on paper. Names and lines
are those of the standard set, so that a program that knows it shows the same; the file
holds the lines too, for one that does not.
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
SHRUNK = 0.06
"""The pattern for concrete is drawn at full size in the set; on paper it is so small.
"""


def _stones() -> Iterator[Family]:
    """Yield the triangles and dots of concrete."""
    rows: tuple[tuple[float, Point, Point, tuple[float, ...]], ...] = (
        (50.0, (0, 0), (7.172625, -0.627521), (0.75, -8.25)),
        (355.0, (0, 0), (-1.387536, 7.521923), (0.6, -6.600024)),
        (100.4514, (0.597717, -0.052293), (5.785088, 6.894400), (0.637402, -7.011427)),
        (46.1842, (0, 2), (10.672403, -1.655207), (1.125, -12.375)),
        (96.6356, (0.889366, 1.862067), (9.346747, 9.741124), (0.956103, -10.517132)),
        (351.1842, (0, 2), (9.346747, 9.741124), (0.9, -9.900058)),
        (21.0, (1, 1.5), (5.969070, -4.026188), (0.75, -8.25)),
        (326.0, (1, 1.5), (2.433151, 7.251739), (0.6, -6.6)),
        (71.4514, (1.497423, 1.164484), (8.402221, 3.225546), (0.637402, -7.011415)),
        (37.5, (0, 0), (0.121598, 3.328939), (0, -6.52, 0, -6.7, 0, -6.625)),
        (7.5, (0, 0), (2.630697, 3.944117), (0, -3.82, 0, -6.37, 0, -2.525)),
        (-32.5, (-2.23, 0), (5.338409, -0.225506), (0, -2.5, 0, -7.8, 0, -10.35)),
    )
    for angle, base, step, dashes in rows:
        yield Family(
            angle,
            (base[0] * SHRUNK, base[1] * SHRUNK),
            (step[0] * SHRUNK, step[1] * SHRUNK),
            tuple(x * SHRUNK for x in dashes),
        )


PATTERNS: dict[PatternName, tuple[Family, ...]] = {
    "ANSI31": (Family(45.0, (0.0, 0.0), (-EIGHTH, EIGHTH)),),
    "ANSI37": (
        Family(45.0, (0.0, 0.0), (-EIGHTH, EIGHTH)),
        Family(135.0, (0.0, 0.0), (-EIGHTH, -EIGHTH)),
    ),
    "AR-CONC": tuple(_stones()),
    "DASH": (Family(45.0, (0.0, 0.0), (0.0, 2 * EIGHTH), (0.125, -0.125)),),
    "DOTS": (Family(0.0, (0.0, 0.0), (0.046875, 0.09375), (0.0, -0.09375)),),
}
TURNED: dict[PatternName, float] = {"DASH": 45.0}
"""By how many degrees a pattern is turned from how the set has it."""
ENLARGED: dict[PatternName, float] = {"AR-CONC": SHRUNK, "DOTS": 1.5}
"""How many times as large a pattern is as the set has it."""


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
