"""Paint what is around the brick in the picture: wall, hearth, firebox, woodwork.

In:  rings and boxes, colours, `Job`.   Out: `Paint`s.
Frame: as the picture's; x right, y up; light comes from the upper left.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Paint, Point
from shopdraw.job.model import Job
from shopdraw.job.model_around import TrimTable
from shopdraw.views.picture.brickwork import Ring, draws, shaded
from shopdraw.views.picture.shadows import below, soft

WALL, FLOOR = "#e8e2d6", "#a98a66"
FIREBOX, HEARTH = "#453d37", "#8f8a84"
WOODS = {
    "oak": "#b2844d", "walnut": "#6b4a33", "pine": "#d3ab72", "maple": "#d8bb8e",
    "cherry": "#9c5f3f", "mahogany": "#7a3f2c", "painted": "#efece4",
    "paint": "#efece4", "white": "#efece4", "mdf": "#efece4", "stone": "#b9b2a4",
    "slate": "#5f6468", "marble": "#e3e1dc", "steel": "#6d7073", "iron": "#3f4042",
}  # fmt: skip
"""What woodwork and shelves of a material look like, by eye: the first one named."""
USUAL = "#b88f5e"
GRAIN = 60
PAINTED, SKIRTING = "#f1ede4", 5.0
"""A skirting board's colour, and how high it is, in inches."""
TOP_SEEN = 0.42
"""How much of the height that a hearth is drawn with is its top."""
Box = tuple[float, float, float, float]


def ring_about(box: Box) -> Ring:
    """Return a box's corners, anticlockwise from the lower left one."""
    left, low, right, high = box
    return ((left, low), (right, low), (right, high), (left, high))


def painted(box: Box, colour: str) -> Paint:
    """Paint a box in one colour."""
    return Paint(layers.PATTERN, ring_about(box), colour)


def room_behind(box: Box, floor: float, inch: float) -> Iterator[Paint]:
    """Paint the wall that the surround stands against, and the floor before it.

    Args:
        box: of the whole picture.
        floor: the level of the floor at the wall.
        inch: how long an inch is.
    """
    left, low, right, high = box
    steps = 24
    for n in range(steps):
        foot = floor + (high - floor) * n / steps
        top = floor + (high - floor) * (n + 1.02) / steps
        light = 0.95 + 0.07 * n / steps
        yield painted((left, foot, right, min(top, high)), shaded(WALL, light))
    if low >= floor:
        return
    yield from _skirting(left, right, floor, inch)
    yield from _boards((left, low, right, floor))


def _skirting(left: float, right: float, floor: float, inch: float) -> Iterator[Paint]:
    """Paint a skirting board along the wall."""
    top = floor + SKIRTING * inch
    yield painted((left, floor, right, top), shaded(PAINTED, 0.93))
    yield painted((left, top - 0.25 * inch, right, top), PAINTED)
    for up, light in ((1.15, 0.86), (1.0, 0.98)):
        bead = top - up * inch
        yield painted((left, bead, right, bead + 0.15 * inch), shaded(PAINTED, light))
    yield painted((left, floor, right, floor + 0.3 * inch), shaded(PAINTED, 0.7))


def _boards(box: Box) -> Iterator[Paint]:
    """Paint a floor of boards along the wall, each a little unlike the next."""
    left, low, right, floor = box
    some = draws("floor")
    next(some)
    boards = 5
    for n in range(boards):
        # Boards look narrower towards the wall.
        near, far = (1 - (x / boards) ** 0.6 for x in (n + 1, n))
        foot, top = (low + (floor - low) * x for x in (near, far))
        # Less light comes to the wall's foot.
        light = 0.72 + 0.28 * (foot - floor) / (low - floor)
        tone = shaded(FLOOR, light + 0.14 * next(some))
        yield painted((left, foot, right, top), tone)
        for _ in range(9):
            at, long = next(some), 0.08 + 0.3 * next(some)
            y, thin = (
                foot + (0.1 + 0.75 * next(some)) * (top - foot),
                0.05 * (top - foot),
            )
            start = left + at * (right - left)
            end = min(right, start + long * (right - left))
            light = 0.93 + 0.1 * next(some)
            yield Paint(layers.PATTERN, lens(start, end, y, thin), shaded(tone, light))
        joint = 0.035 * (top - foot)
        yield painted((left, foot, right, foot + joint), shaded(FLOOR, 0.66))
        butt, wide = left + (0.15 + 0.7 * next(some)) * (right - left), 0.5 * joint
        yield painted((butt, foot, butt + wide, top), shaded(FLOOR, 0.68))


def lens(left: float, right: float, y: float, thin: float) -> Ring:
    """Return a streak that runs out to a point at both ends."""
    third = (right - left) / 3
    a, b = left + third, right - third
    return (
        (left, y), (a, y - 0.5 * thin), (b, y - 0.5 * thin),
        (right, y), (b, y + 0.5 * thin), (a, y + 0.5 * thin),
    )  # fmt: skip


def slab(line: Ring, foot: float) -> Iterator[Ink]:
    """Paint a hearth by others, from the line of its top down to its foot.

    One looks down on it a little: its top is seen, narrower at the wall.
    """
    deep = min(y for _, y in line) - foot
    left, right = line[0][0], line[-1][0]
    inset = TOP_SEEN * deep
    at_wall = ((left + inset, line[0][1]), *line[1:-1], (right - inset, line[-1][1]))
    ahead = tuple((x, y - TOP_SEEN * deep) for x, y in line)
    throws = 0.2 * deep
    yield from soft(
        lambda share: ring_about(
            (left, foot - throws * share, right + throws * share, foot)
        ),
        0.5,
    )
    yield Paint(layers.PATTERN, (*ahead, (right, foot), (left, foot)), HEARTH)
    bands = 6
    for n in range(bands):
        a, b = (
            tuple(
                (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)
                for (x0, y0), (x1, y1) in zip(at_wall, ahead, strict=True)
            )
            for share in (n / bands, 1.0)
        )
        tone = shaded(HEARTH, 1.02 + 0.2 * n / bands)
        yield Paint(layers.PATTERN, (*a, *reversed(b)), tone)
    arris = tuple((x, y - 0.05 * deep) for x, y in reversed(ahead))
    yield Paint(layers.PATTERN, (*ahead, *arris), shaded(HEARTH, 1.32))
    dark = foot + 0.1 * deep
    yield painted((left, foot, right, dark), shaded(HEARTH, 0.72))
    some = draws("hearth")
    for _ in range(90):
        x = left + next(some) * (right - left)
        y = dark + next(some) * (0.85 - TOP_SEEN) * deep
        size = deep * (0.015 + 0.03 * next(some))
        spot = (x, y, x + 1.6 * size, y + size)
        yield painted(spot, shaded(HEARTH, 0.85 + 0.3 * next(some)))


def firebox(ring: Ring) -> Iterator[Paint]:
    """Paint the opening: darker the deeper it is, a little light on its floor."""
    xs, ys = zip(*ring, strict=True)
    low, high = min(ys), max(ys)
    middle = (min(xs) + max(xs)) / 2, low + 0.36 * (high - low)
    yield Paint(layers.PATTERN, ring, FIREBOX)
    steps = 30
    for n in range(1, steps + 1):
        share = 1 - 0.34 * n / steps
        inner = tuple(_towards(point, middle, share) for point in ring)
        yield Paint(layers.PATTERN, inner, shaded(FIREBOX, 1 - 0.72 * n / steps))
    floor = low + (middle[1] - low) * 0.34
    inset = (max(xs) - min(xs)) * 0.17
    for n in range(6):
        near, far = n / 6, (n + 1) / 6
        a, b = (low + (floor - low) * x for x in (near, far))
        in_a, in_b = inset * near, inset * far
        strip = (
            (min(xs) + in_a, a), (max(xs) - in_a, a),
            (max(xs) - in_b, b), (min(xs) + in_b, b),
        )  # fmt: skip
        if a >= max(y for _, y in ring[:2]):
            yield Paint(layers.PATTERN, strip, shaded(FIREBOX, 1.15 - 0.65 * near))


def _towards(point: Point, middle: Point, share: float) -> Point:
    x0, y0 = middle
    return x0 + (point[0] - x0) * share, y0 + (point[1] - y0) * share


# --------------------------------------------------------------------------- woodwork


def woodwork(job: Job) -> Iterator[Ink]:
    """Paint what others build near the brick as solid bodies, and what they shade.

    What stands out further is painted later, over what stands behind it.
    """
    for trim in sorted(job.trim, key=lambda each: each.furthest):
        box = box_of(trim)
        yield from below(box, float(trim.furthest))
        yield from _body(job, trim, box)


def box_of(trim: TrimTable) -> Box:
    """Return where a body stands before the front."""
    x, y = float(trim.left), float(trim.bottom)
    return x, y, x + float(trim.width), y + float(trim.height)


def colour_of(material: str) -> str:
    """Return what a material looks like."""
    words = material.lower()
    return next((each for name, each in WOODS.items() if name in words), USUAL)


def _body(job: Job, trim: TrimTable, box: Box) -> Iterator[Paint]:
    """Paint a body's face, its grain, and the arrises of its profile's steps."""
    left, low, right, high = box
    colour = colour_of(trim.material)
    yield painted(box, colour)
    is_level = right - left >= high - low
    some = draws(job.appearance.seed, trim.name, trim.left, trim.bottom)
    next(some)
    for _ in range(GRAIN):
        streak = _streak(box, is_level, some)
        tone = shaded(colour, 0.9 + 0.14 * next(some))
        yield Paint(layers.PATTERN, streak, tone)
    for at in _steps(trim, low, high):
        thin = 0.05 * (high - low)
        yield painted((left, at - thin, right, at), shaded(colour, 0.66))
        yield painted((left, at, right, at + 0.6 * thin), shaded(colour, 1.14))
    edge = 0.035 * min(high - low, right - left)
    yield painted((left, low, right, low + 3.0 * edge), shaded(colour, 0.84))
    yield painted((left, high - 1.4 * edge, right, high), shaded(colour, 1.2))
    yield painted((left, low, right, low + 1.2 * edge), shaded(colour, 0.62))
    yield painted((left, low, left + 0.6 * edge, high), shaded(colour, 1.1))
    yield painted((right - edge, low, right, high), shaded(colour, 0.74))


def _streak(box: Box, is_level: bool, some: Iterator[float]) -> Ring:
    """Return a thin streak of grain along a body, pointed at both ends."""
    left, low, right, high = box
    long, thick = (right - left, high - low) if is_level else (high - low, right - left)
    start, reach = next(some) * 0.85, 0.1 + 0.5 * next(some) ** 2
    thin = 0.008 + 0.03 * next(some) ** 2
    across = thin + next(some) * (1 - 2 * thin)
    ring = lens(
        start * long, min(1.0, start + reach) * long, across * thick, thin * thick
    )
    if is_level:
        return tuple((left + x, low + y) for x, y in ring)
    return tuple((left + y, low + x) for x, y in ring)


def _steps(trim: TrimTable, low: float, high: float) -> Iterator[float]:
    """Yield the levels at which a profile steps out, from its foot up."""
    reach = Fraction(0)
    for step in trim.steps[:-1]:
        reach += step.reach
        if low + float(reach) < high:
            yield low + float(reach)
