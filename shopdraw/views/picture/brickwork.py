"""Paint brick as it looks: no two alike, their edges worn, joints in their own shade.

In:  rings of brick, colours.   Out: `Paint`s.
Frame: as the picture's; x right, y up; light comes from the upper left.

Nothing is drawn by chance: each brick's look is reckoned from its ID and the job's
seed, so that the same job gives the same picture.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, hypot, pi, sin
from zlib import crc32

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Paint, Point
from shopdraw.job.model import Job
from shopdraw.lengths import MM_PER_INCH

Ring = tuple[Point, ...]
RECESS = {
    "flush": 0.0, "struck": 0.5, "weathered": 0.35, "concave": 0.7, "v": 0.7,
    "vee": 0.7, "beaded": 0.5, "raked": 1.2,
}  # fmt: skip
"""How deep a shadow a joint's profile throws, beside the usual one. Our own, by eye."""
USUAL = 0.7
SHADOW = 0.13
"""How far the deepest shadow reaches into a joint, in inches."""
WORN = 0.035
"""How far a brick's edge is worn back from its line at the most, in inches."""
ARRIS = 0.05
"""How wide the edge that catches the light, or is in shade, is drawn, in inches."""
MOST = 1800
"""All brick together have about so many spots and patches."""


@dataclass(frozen=True)
class Brickwork:
    """How brick is painted.

    Attributes:
        job: its colours, its seed and the profile of its joints.
        inch: how long an inch is in the job's lengths.
        spots: how many patches and spots a brick has.
    """

    job: Job
    inch: float
    spots: int


def brickwork(job: Job, count: int) -> Brickwork:
    """Return how so many brick are painted."""
    inch = 1.0 if job.lengths == "in" else float(MM_PER_INCH)
    return Brickwork(job, inch, max(2, min(14, MOST // max(count, 1))))


def draws(*names: object) -> Iterator[float]:
    """Yield figures between 0 and 1 that look like chance, alike for one name."""
    state = crc32(" ".join(str(x) for x in names).encode())
    while True:
        state = (1664525 * state + 1013904223) & 0xFFFFFFFF
        yield (state >> 8) / 0xFFFFFF


def shaded(colour: str, light: float) -> str:
    """Return a colour so much lighter (over 1) or darker."""
    parts = bytes.fromhex(colour[1:])
    return "#" + "".join(f"{min(255, max(0, round(x * light))):02x}" for x in parts)


def tone_of(job: Job, name: str) -> str:
    """Return one brick's colour: a little off the one asked for, always the same."""
    asked = job.appearance
    off, some = asked.variation / 100, draws(asked.seed, name)
    next(some)
    tone, red_by, blue_by, burnt = (2 * next(some) - 1 for _ in range(4))
    # A few of a batch lay nearer to the fire.
    tone = -0.75 - 0.25 * abs(tone) if burnt > 0.8 else tone
    red, green, blue = bytes.fromhex(asked.brick[1:])
    light = 1 + off * tone
    parts = (
        red * light * (1 + off / 4 * red_by),
        green * light,
        blue * light * (1 + off / 3 * blue_by),
    )
    return "#" + "".join(f"{min(255, max(0, round(part))):02x}" for part in parts)


def joint_shade(work: Brickwork, rings: list[Ring], joint: str) -> Iterator[Paint]:
    """Paint the joints' own relief: lit below and to the right, in shade under brick.

    It goes under the brick that throw it.
    """
    deep = RECESS.get(work.job.joints.profile.lower().split()[0], USUAL) * work.inch
    if deep:
        for ring in rings:
            lit = tuple(
                (x - 0.25 * SHADOW * deep, y + 0.45 * SHADOW * deep) for x, y in ring
            )
            yield Paint(layers.PATTERN, lit, shaded(joint, 1.07))
    for share, light in ((1.5, 0.82), (0.8, 0.6)) if deep else ():
        for ring in rings:
            by = share * SHADOW * deep
            thrown = tuple((x + 0.55 * by, y - by) for x, y in ring)
            yield Paint(layers.PATTERN, thrown, shaded(joint, light))


def brick(work: Brickwork, name: str, ring: Ring, colour: str) -> Iterator[Paint]:
    """Paint one brick: its worn edge, its face, and what makes it no other's twin."""
    some = draws(work.job.appearance.seed, name, "face")
    next(some)
    edge = tuple(_worn(ring, WORN * work.inch, some))
    yield Paint(layers.PATTERN, edge, shaded(colour, 0.72))
    by = ARRIS * work.inch
    lit = _drawn_in(edge, (0.0, by, by, 0.0))
    yield Paint(layers.PATTERN, lit, shaded(colour, 1.16))
    yield Paint(layers.PATTERN, _drawn_in(edge, (by, by, by, by)), colour)
    well_in = 2.5 * by
    inner = _drawn_in(ring, (well_in, well_in, well_in, well_in))
    yield from _patches(work, inner, colour, some)


def _worn(ring: Ring, most: float, some: Iterator[float]) -> Iterator[Point]:
    """Yield a ring whose sides are not quite straight, and nowhere further out."""
    x0, y0 = _middle(ring)
    for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        steps = max(1, round(hypot(x2 - x1, y2 - y1) / (60 * most)))
        for n in range(steps):
            x, y = x1 + (x2 - x1) * n / steps, y1 + (y2 - y1) * n / steps
            # A corner is worn the most.
            back = most * next(some) * (1.5 if n == 0 else 1.0)
            far = hypot(x0 - x, y0 - y) or 1.0
            if n:
                # Square to the side, inwards on a ring that runs anticlockwise.
                long = hypot(x2 - x1, y2 - y1)
                yield x - back * (y2 - y1) / long, y + back * (x2 - x1) / long
            else:
                yield x + back * (x0 - x) / far, y + back * (y0 - y) / far


def _middle(ring: Ring) -> Point:
    return sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)


def _drawn_in(ring: Ring, by: tuple[float, float, float, float]) -> Ring:
    """Return a ring drawn in at its left, its foot, its right and its top."""
    (x0, y0), (wide, high) = _middle(ring), _reach(ring)
    sizes = (wide, high, wide, high)
    left, foot, right, top = (
        min(1.0, 2.2 * far / size) for far, size in zip(by, sizes, strict=True)
    )
    return tuple(
        (
            x + (x0 - x) * (left if x < x0 else right),
            y + (y0 - y) * (foot if y < y0 else top),
        )
        for x, y in ring
    )


def _reach(ring: Ring) -> Point:
    """Return how wide and how high a ring is."""
    xs, ys = zip(*ring, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def _patches(
    work: Brickwork, ring: Ring, colour: str, some: Iterator[float]
) -> Iterator[Paint]:
    """Paint clouds of tone and, over them, small dark and light spots."""
    wide, high = _reach(ring)
    for n in range(work.spots):
        is_cloud = n < work.spots // 2
        at = _within(ring, some)
        size = (0.1 + 0.16 * next(some)) if is_cloud else 0.0
        light = 0.93 + 0.13 * next(some)
        rx, ry = size * wide, size * high
        if not is_cloud:
            rx = ry = work.inch * (0.02 + 0.05 * next(some))
            light = (0.62 if next(some) < 0.65 else 1.3) + 0.1 * next(some)
        points = []
        for k in range(8 if is_cloud else 5):
            angle, far = 2 * pi * k / (8 if is_cloud else 5), 0.6 + 0.4 * next(some)
            points.append(
                (at[0] + rx * far * cos(angle), at[1] + ry * far * sin(angle))
            )
        kept = tuple(_held(point, at, ring) for point in points)
        yield Paint(layers.PATTERN, kept, shaded(colour, light))


def _within(ring: Ring, some: Iterator[float]) -> Point:
    """Return a place in a ring, evenly enough."""
    x0, y0 = _middle(ring)
    (x1, y1), (x2, y2) = (ring[int(next(some) * len(ring)) % len(ring)] for _ in "ab")
    share, out = next(some), 0.9 * next(some) ** 0.5
    x, y = x1 + (x2 - x1) * share, y1 + (y2 - y1) * share
    return x0 + (x - x0) * out, y0 + (y - y0) * out


def _held(point: Point, inside: Point, ring: Ring) -> Point:
    """Return a point, drawn back towards one inside until it is inside a ring too."""
    if len(ring) == 4 and ring[0][0] == ring[3][0] and ring[0][1] == ring[1][1]:
        # An upright rectangle, as most brick are.
        (left, low), (right, high) = ring[0], ring[2]
        return min(max(point[0], left), right), min(max(point[1], low), high)
    for share in (1.0, 0.6, 0.25):
        x = inside[0] + (point[0] - inside[0]) * share
        y = inside[1] + (point[1] - inside[1]) * share
        if _is_in((x, y), ring):
            return x, y
    return inside


def _is_in(point: Point, ring: Ring) -> bool:
    x, y = point
    is_in = False
    for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1):
            is_in = not is_in
    return is_in
