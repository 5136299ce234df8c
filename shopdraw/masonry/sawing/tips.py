"""Cut off the tip of a course that runs out on an arch at a shallow angle.

In:  where brick may be in one course.   Out: the tips that mortar takes.
Frame: as the course, in floating point.

A mason does not saw a knife edge: where the course grows thinner than the least width
he cuts it square, and fills what is left with mortar. Where the edge turns away before
the course is thick enough, he saws on in one straight line instead. Where that leaves
more mortar than is allowed he cuts aslant, no sharper than a corner may be: the end is
as wide as the least width still, and reaches further (common practice, no published
source).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, hypot, radians, sin

import shapely
from shapely.geometry.base import BaseGeometry

from shopdraw.masonry.sawing.shapes import NOTHING, Ring, Spot, inside_angle

FAR = 1000.0
"""Past the end of any course."""
Sides = tuple[tuple[Spot, ...], tuple[Spot, ...]]
"""The corners of a tip's two sides, from its end on, for as long as each goes on."""
ASLANT = tuple(range(85, 0, -5))
"""Degrees, the squarest first; the sharpest corner that is allowed comes last."""


@dataclass(frozen=True)
class Tip:
    """The end of a course that is too thin to be sawn.

    Attributes:
        area: what is cut off.
        end: its sharp corner.
        way: 1 where the brick is to the right of that, -1 where it is to the left.
        aslant: the corner that the cut makes with the bed, in degrees; None where it
            is cut square.
        is_wedge: nothing is cut: a whole brick ends short of an arch's back.
    """

    area: shapely.Polygon
    end: Spot
    way: int
    aslant: float | None = None
    is_wedge: bool = False

    @property
    def ring(self) -> Ring:
        """The corners of what is cut off."""
        around = shapely.orient_polygons(self.area).exterior.coords
        return tuple((x, y) for x, y in around[:-1])

    @property
    def cut(self) -> float:
        """Where it is cut off, as far from its end as that goes."""
        return self.end[0] + self.way * self.length

    @property
    def length(self) -> float:
        """How long it is along the course."""
        left, _, right, _ = self.area.bounds
        return float(right - left)


def find_tips(
    free: BaseGeometry, width: float, corner: float, longest: float | None = None
) -> Iterator[Tip]:
    """Yield the tips of a course that are too thin to be sawn.

    Args:
        free: where brick may be between the bed joints of the course.
        width: the least width of a piece.
        corner: the sharpest corner of a piece, in degrees.
        longest: over which length of mortar a tip is cut aslant; None for never.
    """
    for part in getattr(free, "geoms", [free]):
        if part.area <= NOTHING:
            continue
        around = shapely.orient_polygons(part).exterior.coords
        ring: Ring = tuple((x, y) for x, y in around[:-1])
        for place in range(len(ring)):
            if inside_angle(ring, place) < corner - NOTHING:
                tip = _tip(part, ring, place, width)
                if tip is None:
                    continue
                if longest is not None and tip.length > longest + NOTHING:
                    tip = _shorter(part, ring, tip, (width, corner, longest))
                yield tip


def _shorter(
    part: shapely.Polygon, ring: Ring, tip: Tip, limits: tuple[float, float, float]
) -> Tip:
    """Return a tip cut aslant: the squarest that is short enough, or the shortest.

    Args:
        part: what it is the tip of.
        ring: its corners.
        tip: as it is cut square.
        limits: the least width, the sharpest corner, the longest that mortar may be.
    """
    width, sharpest, longest = limits
    place = ring.index(tip.end)
    chains = _chain(ring, place, 1), _chain(ring, place, -1)
    if abs(chains[0][1][1] - tip.end[1]) > NOTHING:
        chains = chains[1], chains[0]
    if abs(chains[0][1][1] - tip.end[1]) > NOTHING:
        # Neither side is a bed.
        return tip
    sides = _onward(chains[0], tip.way), _onward(chains[1], tip.way)
    thickening = [*_thickening(sides, tip.end, tip.way)]
    found: tuple[float, float] | None = None
    for corner in (*(x for x in ASLANT if x > sharpest), sharpest):
        off = _so_thick(thickening, width * sin(radians(corner)))
        if off is not None:
            found = corner, off
            if off <= longest + NOTHING:
                break
    if found is None:
        return tip
    corner, off = found
    x = tip.end[0] + tip.way * off
    far = x, _height(sides[1], x)
    near = x - tip.way * width * cos(radians(corner)), tip.end[1]
    cut = _beyond(part, tip.end, tip.way, (near, far))
    if cut is None or cut.length >= tip.length:
        return tip
    return replace(cut, aslant=float(corner))


def _tip(part: shapely.Polygon, ring: Ring, place: int, width: float) -> Tip | None:
    """Return the tip of a part at one sharp corner; None where it stands upright."""
    end = ring[place]
    chains = _chain(ring, place, 1), _chain(ring, place, -1)
    away = sum(chain[1][0] - end[0] for chain in chains)
    rise = sum(abs(chain[1][1] - end[1]) for chain in chains)
    if abs(away) <= rise:
        return None
    way = 1 if away > 0 else -1
    sides = _onward(chains[0], way), _onward(chains[1], way)
    off = _so_thick(_thickening(sides, end, way), width)
    if off is not None:
        cut = end[0] + way * off
        return _beyond(part, end, way, ((cut, -FAR), (cut, FAR)))
    reach = _reach(sides, end)
    # An edge turns away before that: the saw goes on along its next side.
    for chain, side in zip(chains, sides, strict=True):
        turn = len(side) - 1
        if turn + 1 < len(chain) and abs(side[-1][0] - end[0]) <= reach + NOTHING:
            return _beyond(part, end, way, (chain[turn + 1], chain[turn]))
    return None


def _thickening(sides: Sides, end: Spot, way: int) -> Iterator[tuple[float, float]]:
    """Yield how far from its end a tip's sides turn, and how thick it is there.

    From its end on, for as far as both sides go.
    """
    reach = _reach(sides, end)
    stops = {abs(x - end[0]) for side in sides for x, _ in side}
    for off in sorted(each for each in stops if each <= reach + NOTHING):
        x = end[0] + way * off
        a, b = (_height(side, x) for side in sides)
        yield off, abs(a - b)


def _so_thick(thickening: Iterable[tuple[float, float]], width: float) -> float | None:
    """Return how far from its end a tip is so thick; None where it never is."""
    near = thin = 0.0
    for off, thick in thickening:
        if off > near and thick >= width - NOTHING:
            return near + (width - thin) / (thick - thin) * (off - near)
        near, thin = off, thick
    return None


def _reach(sides: Sides, end: Spot) -> float:
    """Return how far from its end both sides of a tip go on one way."""
    return min(max(abs(x - end[0]) for x, _ in side) for side in sides)


def _chain(ring: Ring, place: int, step: int) -> tuple[Spot, ...]:
    """Return the corners from one corner on, one way round."""
    return tuple(ring[(place + step * i) % len(ring)] for i in range(len(ring)))


def _onward(chain: tuple[Spot, ...], way: int) -> tuple[Spot, ...]:
    """Return the corners of a chain for as long as it goes on one way along x."""
    onward = [chain[0]]
    for spot in chain[1:]:
        if (spot[0] - onward[-1][0]) * way <= NOTHING:
            break
        onward.append(spot)
    return tuple(onward)


def _height(onward: tuple[Spot, ...], x: float) -> float:
    for (x1, y1), (x2, y2) in pairwise(onward):
        if min(x1, x2) - NOTHING <= x <= max(x1, x2) + NOTHING:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return onward[-1][1]


def _beyond(
    part: shapely.Polygon, end: Spot, way: int, line: tuple[Spot, Spot]
) -> Tip | None:
    """Return what lies on the tip's side of a line through two spots."""
    a, b = line
    x, y = b[0] - a[0], b[1] - a[1]
    length = hypot(x, y)
    x, y = x / length * FAR, y / length * FAR
    side = -y, x
    if side[0] * (end[0] - b[0]) + side[1] * (end[1] - b[1]) < 0:
        side = y, -x
    corners = [
        (b[0] - x, b[1] - y),
        (b[0] + x, b[1] + y),
        (b[0] + x + side[0], b[1] + y + side[1]),
        (b[0] - x + side[0], b[1] - y + side[1]),
    ]
    rest = part.intersection(shapely.Polygon(corners))
    spot = shapely.Point(end)
    for each in getattr(rest, "geoms", [rest]):
        if each.area > NOTHING and each.distance(spot) < NOTHING:
            return Tip(each, end, way)
    return None
