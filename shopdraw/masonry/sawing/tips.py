"""Cut off the tip of a course that runs out on an arch at a shallow angle.

In:  where brick may be in one course.   Out: the tips that mortar takes.
Frame: as the course, in floating point.

A mason does not saw a knife edge: where the course grows thinner than the least width
he cuts it square, and fills what is left with mortar. Where the edge turns away before
the course is thick enough, he saws on in one straight line instead.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

import shapely
from shapely.geometry.base import BaseGeometry

from shopdraw.masonry.sawing.shapes import NOTHING, Ring, Spot, inside_angle

FAR = 1000.0
"""Past the end of any course."""


@dataclass(frozen=True)
class Tip:
    """The end of a course that is too thin to be sawn.

    Attributes:
        area: what is cut off.
        end: its sharp corner.
        way: 1 where the brick is to the right of that, -1 where it is to the left.
    """

    area: shapely.Polygon
    end: Spot
    way: int

    @property
    def ring(self) -> Ring:
        """The corners of what is cut off."""
        around = shapely.orient_polygons(self.area).exterior.coords
        return tuple((x, y) for x, y in around[:-1])

    @property
    def length(self) -> float:
        """How long it is along the course."""
        left, _, right, _ = self.area.bounds
        return float(right - left)


def find_tips(free: BaseGeometry, width: float, corner: float) -> Iterator[Tip]:
    """Yield the tips of a course that are too thin to be sawn.

    Args:
        free: where brick may be between the bed joints of the course.
        width: the least width of a piece.
        corner: the sharpest corner of a piece, in degrees.
    """
    for part in getattr(free, "geoms", [free]):
        if part.area <= NOTHING:
            continue
        around = shapely.orient_polygons(part).exterior.coords
        ring: Ring = tuple((x, y) for x, y in around[:-1])
        for place in range(len(ring)):
            if inside_angle(ring, place) < corner - NOTHING:
                tip = _tip(part, ring, place, width)
                if tip is not None:
                    yield tip


def _tip(part: shapely.Polygon, ring: Ring, place: int, width: float) -> Tip | None:
    """Return the tip of a part at one sharp corner; None where it stands upright."""
    end = ring[place]
    chains = _chain(ring, place, 1), _chain(ring, place, -1)
    away = sum(chain[1][0] - end[0] for chain in chains)
    rise = sum(abs(chain[1][1] - end[1]) for chain in chains)
    if abs(away) <= rise:
        return None
    way = 1 if away > 0 else -1
    stops = sorted(
        {abs(x - end[0]) for chain in chains for x, _ in _onward(chain, way)}
    )
    reach = min(max(abs(x - end[0]) for x, _ in _onward(c, way)) for c in chains)
    near = 0.0
    for stop in (each for each in stops if each <= reach + NOTHING):
        if stop > near and _thick(chains, end, way, stop) >= width - NOTHING:
            cut = _where(chains, end, way, (near, stop), width)
            return _beyond(part, end, way, ((cut, -FAR), (cut, FAR)))
        near = stop
    # An edge turns away before that: the saw goes on along its next side.
    for chain in chains:
        onward = _onward(chain, way)
        turn = len(onward) - 1
        if turn + 1 < len(chain) and abs(onward[-1][0] - end[0]) <= reach + NOTHING:
            return _beyond(part, end, way, (chain[turn + 1], chain[turn]))
    return None


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


def _thick(
    chains: tuple[tuple[Spot, ...], tuple[Spot, ...]], end: Spot, way: int, off: float
) -> float:
    """Return how thick a tip is, so far from its end."""
    x = end[0] + way * off
    a, b = (_height(_onward(chain, way), x) for chain in chains)
    return abs(a - b)


def _height(onward: tuple[Spot, ...], x: float) -> float:
    for (x1, y1), (x2, y2) in pairwise(onward):
        if min(x1, x2) - NOTHING <= x <= max(x1, x2) + NOTHING:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return onward[-1][1]


def _where(
    chains: tuple[tuple[Spot, ...], tuple[Spot, ...]],
    end: Spot,
    way: int,
    between: tuple[float, float],
    width: float,
) -> float:
    """Return the x at which a tip is as thick as the least width."""
    near, far = between
    thin, thick = (_thick(chains, end, way, off) for off in between)
    share = (width - thin) / (thick - thin)
    return end[0] + way * (near + share * (far - near))


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
