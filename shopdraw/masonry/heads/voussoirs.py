"""Stand voussoirs between two skewbacks, along rays from the centre of the arch.

In:  a `Setting`, how many voussoirs, the joint.   Out: rings, joints, soffit, back.
Frame: floating point, in the job's lengths; the middle of the spring line is the
origin, y up.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, hypot, sin, sqrt, tan

from shopdraw.job.arching import segmental_radius
from shopdraw.job.model import JointTable
from shopdraw.masonry.wall.arch import ArchJoint

Spot = tuple[float, float]
Ring = tuple[Spot, ...]


@dataclass(frozen=True)
class Setting:
    """What an arch is set out from, the middle of its spring line at the origin.

    Attributes:
        span, rise, depth: as `Arch`.
        below: how far below the spring line the centre lies.
        angle: of the skewback.
        width, length: of a brick; its height is the width of a voussoir.
        joint: the range of the joints.
        level_back: whether the back is level.
    """

    span: float
    rise: float
    depth: float
    below: float
    angle: float
    width: float
    length: float
    joint: JointTable
    level_back: bool


def extent_along(ring: Ring, tilt: float) -> tuple[float, float]:
    """Return how wide a ring is across its axis, and how long along it."""
    turned = [turn(spot, tilt) for spot in ring]
    xs, ys = zip(*turned, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def turn(spot: Spot, tilt: float) -> Spot:
    """Turn a spot so that an axis leaning to the right by `tilt` stands upright."""
    x, y = spot
    return x * cos(tilt) - y * sin(tilt), x * sin(tilt) + y * cos(tilt)


@dataclass(frozen=True)
class SetOut:
    """So many voussoirs between two skewbacks."""

    setting: Setting
    count: int
    joint: float
    is_whole: bool

    def rays(self) -> list[float]:
        """Return the angle of each joint's middle line from the vertical."""
        setting = self.setting
        if setting.level_back:
            # Joints are spaced evenly along the level back, where they are set out.
            high = setting.below + setting.depth
            reach = high * tan(setting.angle) - self.joint / 2 / cos(setting.angle)
            return [
                atan2(reach * (2 * k / self.count - 1), high)
                for k in range(self.count + 1)
            ]
        middle = self._soffit_at + setting.depth / 2
        reach = setting.angle - self.joint / 2 / middle
        return [reach * (2 * k / self.count - 1) for k in range(self.count + 1)]

    @property
    def _soffit_at(self) -> float:
        """How far the ends of the voussoirs at the soffit lie from the centre."""
        setting = self.setting
        return hypot(setting.below, setting.span / 2)

    def _on_soffit(self, angle: float) -> Spot:
        """Return where a ray meets the soffit."""
        setting = self.setting
        if not setting.level_back:
            return self._at(angle, self._soffit_at)
        if not setting.rise:
            return self._at(angle, setting.below / cos(angle))
        radius = segmental_radius(setting.span, setting.rise)
        # The soffit's own centre lies on the centre line, below the arch's.
        down = setting.below + setting.rise - radius
        along = down * cos(angle) + sqrt(radius**2 - (down * sin(angle)) ** 2)
        return self._at(angle, along)

    def _at(self, angle: float, along: float) -> Spot:
        return along * sin(angle), along * cos(angle) - self.setting.below

    def plain_rings(self) -> Iterator[tuple[Ring, float]]:
        """Yield the ring of each voussoir as one piece, and its tilt."""
        setting = self.setting
        for left, right in pairwise(self.rays()):
            tilt = (left + right) / 2
            if self.is_whole:
                near = self._soffit_at * cos((right - left) / 2)
                half = setting.width / 2
                corners = (
                    (-half, near),
                    (half, near),
                    (half, near + setting.depth),
                    (-half, near + setting.depth),
                )
                yield tuple(self._turned(spot, tilt) for spot in corners), tilt
                continue
            sides = self._side(left, self.joint / 2), self._side(right, -self.joint / 2)
            ends = self._ends(left, right)
            low = [_meet(side, ends[0]) for side in sides]
            high = [_meet(side, ends[1]) for side in sides]
            yield (low[0], low[1], high[1], high[0]), tilt

    def rings(self, cross_joint: float) -> list[tuple[Ring, float]]:
        """Return the rings; where one brick is too short for the depth, each in two.

        The cross joints lie by turns at one third and at two thirds of the depth, so
        that neighbours do not line up.
        """
        plain = list(self.plain_rings())
        longest = max(extent_along(ring, tilt)[1] for ring, tilt in plain)
        if longest <= self.setting.length + 1e-9:
            return plain
        rings = []
        for place, (ring, tilt) in enumerate(plain):
            share = 2 / 3 if place % 2 == 0 else 1 / 3
            low, high = _parted(ring, share, cross_joint)
            rings += [(low, tilt), (high, tilt)]
        return rings

    def _turned(self, spot: Spot, tilt: float) -> Spot:
        x, y = turn(spot, -tilt)
        return x, y - self.setting.below

    def _side(self, angle: float, aside: float) -> tuple[Spot, Spot]:
        """Return two spots of a ray that is moved sideways, to its right."""
        shift = aside * cos(angle), -aside * sin(angle)
        spots = [self._at(angle, along) for along in (1.0, 2.0)]
        a, b = ((x + shift[0], y + shift[1]) for x, y in spots)
        return a, b

    def _ends(
        self, left: float, right: float
    ) -> tuple[tuple[Spot, Spot], tuple[Spot, Spot]]:
        """Return the lines that a voussoir ends on, at the soffit and at the back."""
        setting = self.setting
        a, b = self._on_soffit(left), self._on_soffit(right)
        if setting.level_back:
            return (a, b), ((0.0, setting.depth), (1.0, setting.depth))
        tilt = (left + right) / 2
        up = setting.depth * sin(tilt), setting.depth * cos(tilt)
        return (a, b), ((a[0] + up[0], a[1] + up[1]), (b[0] + up[0], b[1] + up[1]))

    def joints(self) -> Iterator[ArchJoint]:
        """Yield the joints, each measured between the corners that face each other."""
        setting = self.setting
        rings = [ring for ring, _ in self.plain_rings()]
        skewbacks = (self._side(-setting.angle, 0.0), self._side(setting.angle, 0.0))
        first, last = rings[0], rings[-1]
        low, high = (-_left_of(first[i], skewbacks[0]) for i in (0, 3))
        yield ArchJoint(low, high)
        for a, b in pairwise(rings):
            side = (b[0], b[3])
            yield ArchJoint(_left_of(a[1], side), _left_of(a[2], side))
        yield ArchJoint(
            _left_of(last[1], skewbacks[1]), _left_of(last[2], skewbacks[1])
        )

    def soffit(self) -> Ring:
        """Return the soffit from spring to spring."""
        half = self.setting.span / 2
        return (
            (-half, 0.0),
            *(self._on_soffit(ray) for ray in self.rays()),
            (half, 0.0),
        )

    def keep_out(self, joint: float) -> Ring:
        """Return the ring that other brick keeps out of: the arch and a joint above."""
        setting = self.setting
        half = setting.span / 2
        if setting.level_back:
            high = setting.below + setting.depth
            reach = high * tan(setting.angle)
            back: list[Spot] = [(-reach, setting.depth), (reach, setting.depth)]
        else:
            rays = self.rays()
            wide = (rays[1] - rays[0]) / 2
            far = self._soffit_at * cos(wide) + setting.depth + joint
            angles = [-setting.angle, *rays[1:-1], setting.angle]
            back = [self._at(angle, far / cos(wide)) for angle in angles]
        return ((half, 0.0), *reversed(back), (-half, 0.0))


def _meet(a: tuple[Spot, Spot], b: tuple[Spot, Spot]) -> Spot:
    """Return where two lines meet."""
    (x1, y1), (x2, y2) = a
    (x3, y3), (x4, y4) = b
    over = (x1 - x2) * (y3 - y4) - (y1 - y2) * (x3 - x4)
    share = ((x1 - x3) * (y3 - y4) - (y1 - y3) * (x3 - x4)) / over
    return x1 + share * (x2 - x1), y1 + share * (y2 - y1)


def _left_of(spot: Spot, line: tuple[Spot, Spot]) -> float:
    """Return how far a spot lies to the left of a line; negative to its right."""
    (x1, y1), (x2, y2) = line
    cross = (x2 - x1) * (spot[1] - y1) - (y2 - y1) * (spot[0] - x1)
    return cross / hypot(x2 - x1, y2 - y1)


def _parted(ring: Ring, share: float, joint: float) -> tuple[Ring, Ring]:
    """Part a voussoir in two, one above the other, with a joint between."""
    low_left, low_right, high_right, high_left = ring

    def along(a: Spot, b: Spot, aside: float) -> Spot:
        length = hypot(b[0] - a[0], b[1] - a[1])
        at = share + aside / length
        return a[0] + at * (b[0] - a[0]), a[1] + at * (b[1] - a[1])

    sides = (low_left, high_left), (low_right, high_right)
    under = [along(a, b, -joint / 2) for a, b in sides]
    over = [along(a, b, joint / 2) for a, b in sides]
    return (
        (low_left, low_right, under[1], under[0]),
        (over[0], over[1], high_right, high_left),
    )
