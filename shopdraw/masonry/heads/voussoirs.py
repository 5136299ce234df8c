"""Stand voussoirs between two skewbacks, along rays from the centre of the arch.

In:  a `Setting`, how many voussoirs, the joint.   Out: rings, joints, soffit, back.
Frame: floating point, in the job's lengths; the middle of the spring line is the
origin, y up.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import atan2, cos, floor, hypot, sin, sqrt, tan

from shopdraw.job.arching import segmental_radius
from shopdraw.job.model import JointTable
from shopdraw.masonry.wall.arch import ArchJoint

Spot = tuple[float, float]
Ring = tuple[Spot, ...]
CLOSE = 1e-9
"""How far floating point may be off."""
CHORDS = 128
"""How many chords stand for a soffit's curve: over a span of 4 ft they lie within a
hundredth of an inch of it."""


@dataclass(frozen=True)
class Keystone:
    """A keystone: its width at its foot, and how far it rises past the back.

    Attributes:
        ray: of the joint to its right, in an outer ring that it goes through; None in
            the ring that it has its foot in.
    """

    width: float
    rises: float
    ray: float | None = None


@dataclass(frozen=True)
class Setting:
    """What one ring is set out from, the middle of its spring line at the origin.

    Attributes:
        span, rise, depth: as `Arch`.
        below: how far below the spring line the centre lies.
        angle: of the skewback.
        width, length: of a brick; its height is the width of a voussoir.
        joint: the range of the joints.
        level_back: whether the back is level.
        springs_on: where the arch springs from level beds, the bed joint below its
            first voussoirs; None where skewbacks lean.
        key: the keystone on the centre line, if there is one.
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
    springs_on: float | None = None
    key: Keystone | None = None


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
    """So many voussoirs between two skewbacks, the keystone counted among them."""

    setting: Setting
    count: int
    joint: float
    is_whole: bool

    @cached_property
    def rays(self) -> tuple[float, ...]:
        """The angle of each joint's middle line from the vertical, left to right."""
        half = self._right_half()
        mirrored = tuple(-ray for ray in reversed(half))
        return (*mirrored[: -1 if half[0] < CLOSE else None], *half)

    def _right_half(self) -> tuple[float, ...]:
        """Return the rays from the centre line to the right skewback."""
        far, edge = self._reach
        first = 0.0 if self._key_angle is None else self._along(self._key_angle)
        between = self.count / 2 if self._key_angle is None else (self.count - 1) // 2
        # Where the last ray is no joint's middle but the last voussoir's own edge, the
        # voussoir beside it is half a joint short of the pitch.
        pitch = (far - first + edge) / between
        places = (far + edge - pitch * k for k in range(floor(between), 0, -1))
        return tuple(self._angle(x) for x in (*places, far))

    @property
    def _reach(self) -> tuple[float, float]:
        """How far along the arch the last ray lies, and what it lacks of a pitch.

        Along a level back the joints are spaced evenly, where they are set out; along
        a curve, at the middle of the depth.
        """
        setting, joint = self.setting, self.joint
        if setting.level_back:
            reach = self._along(setting.angle) - joint / 2 / cos(setting.angle)
            return reach, 0.0
        reach = self._along(setting.angle)
        if setting.springs_on is None:
            return reach - joint / 2, 0.0
        if self.is_whole:
            return reach + setting.springs_on / 2, 0.0
        return reach, joint / 2

    def _along(self, angle: float) -> float:
        setting = self.setting
        if setting.level_back:
            return (setting.below + setting.depth) * tan(angle)
        return angle * (self._soffit_at + setting.depth / 2)

    def _angle(self, along: float) -> float:
        setting = self.setting
        if setting.level_back:
            return atan2(along, setting.below + setting.depth)
        return along / (self._soffit_at + setting.depth / 2)

    @cached_property
    def _key_angle(self) -> float | None:
        """The ray to the right of the keystone, found by halving; None without one."""
        key = self.setting.key
        if key is None or key.ray is not None:
            return None if key is None else key.ray
        low, high = 0.0, self.setting.angle
        for _ in range(60):
            middle = (low + high) / 2
            left, right, *_ = self._sawn(-middle, middle)
            is_narrow = right[0] - left[0] < key.width
            low, high = (middle, high) if is_narrow else (low, middle)
        return high

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

    @property
    def key_at(self) -> int | None:
        """Which voussoir is the keystone, from the left; None where there is none."""
        return None if self.setting.key is None else self.count // 2

    @cached_property
    def plain_rings(self) -> tuple[tuple[Ring, float], ...]:
        """The ring of each voussoir as one piece, and its tilt."""
        return tuple(
            (self._ring(place, left, right), (left + right) / 2)
            for place, (left, right) in enumerate(pairwise(self.rays))
        )

    def _ring(self, place: int, left: float, right: float) -> Ring:
        setting = self.setting
        if place == self.key_at and setting.key is not None:
            return self._sawn(left, right, setting.key.rises)
        if not self.is_whole:
            return self._sawn(left, right)
        near = self._soffit_at * cos((right - left) / 2)
        half, far = setting.width / 2, near + setting.depth
        corners = ((-half, near), (half, near), (half, far), (-half, far))
        return tuple(self._turned(spot, (left + right) / 2) for spot in corners)

    def _sawn(self, left: float, right: float, rises: float | None = None) -> Ring:
        """Return the ring of a tapered voussoir, or of a keystone that rises so far.

        At a level springing its outer side is the bed that it stands on.
        """
        aside = self.joint / 2
        level = self.setting.springs_on is not None
        end = self.setting.angle - CLOSE
        sides = (
            self._side(left, 0.0 if level and left < -end else aside),
            self._side(right, 0.0 if level and right > end else -aside),
        )
        ends = self._ends(left, right, rises)
        low = [_meet(side, ends[0]) for side in sides]
        high = [_meet(side, ends[1]) for side in sides]
        return low[0], low[1], high[1], high[0]

    def rings(self, cross_joint: float) -> list[tuple[Ring, float]]:
        """Return the rings; where one brick is too short for the depth, each in two.

        The cross joints lie by turns at one third and at two thirds of the depth, so
        that neighbours do not line up. A keystone is never in two.
        """
        plain = list(self.plain_rings)
        if self.longest() <= self.setting.length + CLOSE:
            return plain
        rings = []
        for place, (ring, tilt) in enumerate(plain):
            if place == self.key_at:
                rings.append((ring, tilt))
                continue
            share = 2 / 3 if place % 2 == 0 else 1 / 3
            low, high = _parted(ring, share, cross_joint)
            rings += [(low, tilt), (high, tilt)]
        return rings

    def longest(self) -> float:
        """Return how long the longest voussoir is along its axis."""
        return max(extent_along(ring, tilt)[1] for ring, tilt in self._of_brick())

    def widest(self) -> float:
        """Return how wide the widest voussoir is across its axis."""
        return max(extent_along(ring, tilt)[0] for ring, tilt in self._of_brick())

    def _of_brick(self) -> Iterator[tuple[Ring, float]]:
        for place, (ring, tilt) in enumerate(self.plain_rings):
            if place != self.key_at:
                yield ring, tilt

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
        self, left: float, right: float, rises: float | None
    ) -> tuple[tuple[Spot, Spot], tuple[Spot, Spot]]:
        """Return the lines that a voussoir ends on, at the soffit and at the back."""
        setting = self.setting
        a, b = self._on_soffit(left), self._on_soffit(right)
        if setting.level_back:
            high = setting.depth + (rises or 0.0)
            return (a, b), ((0.0, high), (1.0, high))
        tilt, deep = (left + right) / 2, setting.depth
        if rises is not None:
            # Its foot is a chord; what it rises is counted from the back's own curve.
            deep += rises + self._soffit_at * (1 - cos((right - left) / 2))
        up = deep * sin(tilt), deep * cos(tilt)
        return (a, b), ((a[0] + up[0], a[1] + up[1]), (b[0] + up[0], b[1] + up[1]))

    def joints(self) -> Iterator[ArchJoint]:
        """Yield the joints, each measured between the corners that face each other."""
        setting = self.setting
        rings = [ring for ring, _ in self.plain_rings]
        bed = setting.springs_on or 0.0
        skewbacks = self._side(-setting.angle, -bed), self._side(setting.angle, bed)
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
        """Return the soffit from spring to spring, as the voussoirs make it."""
        half = self.setting.span / 2
        rays = [ray for ray in self.rays if abs(ray) < self.setting.angle - CLOSE]
        return (-half, 0.0), *(self._on_soffit(ray) for ray in rays), (half, 0.0)

    def curve(self) -> Ring:
        """Return the soffit's true curve, in chords too short to tell from it."""
        half, angle = self.setting.span / 2, self.setting.angle
        inner = (angle * (2 * k / CHORDS - 1) for k in range(1, CHORDS))
        return (-half, 0.0), *(self._on_soffit(ray) for ray in inner), (half, 0.0)

    def back(self, joint: float) -> list[Spot]:
        """Return the back with a joint over it, from the left skewback to the right.

        Each line of the back is moved out by the joint, and meets the next one. Of a
        keystone, whose corners stand out from the curve, the sides are moved out too.
        """
        setting = self.setting
        lines = [self._side(-setting.angle, 0.0)]
        for place, (ring, tilt) in enumerate(self.plain_rings):
            _, _, right, left = ring
            up = (0.0, joint)
            if not setting.level_back:
                up = joint * sin(tilt), joint * cos(tilt)
            top = _moved(left, up), _moved(right, up)
            if place == self.key_at:
                aside = self.joint / 2 - joint
                a, b = self.rays[place], self.rays[place + 1]
                lines += [self._side(a, aside), top, self._side(b, -aside)]
            elif not setting.level_back or place in (0, (self.key_at or -2) + 1):
                lines.append(top)
        lines.append(self._side(setting.angle, 0.0))
        return [_meet(a, b) for a, b in pairwise(lines)]


def _moved(spot: Spot, by: Spot) -> Spot:
    return spot[0] + by[0], spot[1] + by[1]


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
