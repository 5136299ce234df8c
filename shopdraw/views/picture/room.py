"""Paint what is around the brick in the picture: wall, hearth, firebox, woodwork.

In:  rings and boxes, colours, `Job`.   Out: `Paint`s, and `Fill`s for cast shadows.
Frame: as the picture's; x right, y up; light comes from the upper left.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Fill, Ink, Paint, Point
from shopdraw.job.model import Job
from shopdraw.job.model_around import TrimTable
from shopdraw.views.picture.brickwork import Ring, draws, shaded

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
GRAIN = 26
Box = tuple[float, float, float, float]


def ring_about(box: Box) -> Ring:
    """Return a box's corners, anticlockwise from the lower left one."""
    left, low, right, high = box
    return ((left, low), (right, low), (right, high), (left, high))


def painted(box: Box, colour: str) -> Paint:
    """Paint a box in one colour."""
    return Paint(layers.PATTERN, ring_about(box), colour)


def room_behind(box: Box, floor: float) -> Iterator[Paint]:
    """Paint the wall that the surround stands against, and the floor before it."""
    left, low, right, high = box
    steps = 24
    for n in range(steps):
        foot = floor + (high - floor) * n / steps
        top = floor + (high - floor) * (n + 1.02) / steps
        light = 0.95 + 0.07 * n / steps
        yield painted((left, foot, right, min(top, high)), shaded(WALL, light))
    if low >= floor:
        return
    yield painted((left, low, right, floor), FLOOR)
    boards = 5
    for n in range(boards):
        # Boards look narrower towards the wall.
        near, far = (1 - (x / boards) ** 0.6 for x in (n + 0.12, n))
        foot, top = (low + (floor - low) * x for x in (near, far))
        yield painted((left, foot, right, top), shaded(FLOOR, 0.8))


def slab(line: Ring, foot: float) -> Iterator[Ink]:
    """Paint a hearth by others, from the line of its top down to its foot."""
    tops = [y for _, y in line]
    deep = min(tops) - foot
    ends = (line[-1][0], foot), (line[0][0], foot)
    yield Paint(layers.PATTERN, (*line, *ends), HEARTH)
    lip = tuple((x, y - 0.16 * deep) for x, y in reversed(line))
    yield Paint(layers.PATTERN, (*line, *lip), shaded(HEARTH, 1.22))
    dark = foot + 0.14 * deep
    yield painted((line[0][0], foot, line[-1][0], dark), shaded(HEARTH, 0.72))
    some = draws("hearth")
    for _ in range(90):
        x = line[0][0] + next(some) * (line[-1][0] - line[0][0])
        y = dark + next(some) * 0.6 * deep
        size = deep * (0.015 + 0.03 * next(some))
        spot = (x, y, x + 1.6 * size, y + size)
        yield painted(spot, shaded(HEARTH, 0.85 + 0.3 * next(some)))
    below = (line[0][0], foot - 0.25 * deep, line[-1][0] + 0.2 * deep, foot)
    yield Fill(layers.SECTION, ring_about(below))


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
        yield from _thrown(box, float(trim.furthest))
        yield from _body(job, trim, box)


def box_of(trim: TrimTable) -> Box:
    """Return where a body stands before the front."""
    x, y = float(trim.left), float(trim.bottom)
    return x, y, x + float(trim.width), y + float(trim.height)


def _thrown(box: Box, deep: float) -> Iterator[Fill]:
    """Throw a body's shadow on what is behind and below it.

    It is twice as dark right under the body, and ends sharp: tints have one strength.
    """
    left, low, right, high = box
    if not deep:
        return
    aside, core = 0.22 * deep, 0.6 * deep
    yield Fill(
        layers.SECTION,
        (
            (left + aside, low - core), (right + aside, low - core),
            (right + aside, high - core), (right, high - core / 2),
            (right, low), (left, low),
        ),
    )  # fmt: skip
    yield Fill(layers.SECTION, ring_about((left, low - core / 3, right, low)))


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
        yield painted(
            _streak(box, is_level, some), shaded(colour, 0.93 + 0.1 * next(some))
        )
    for at in _steps(trim, low, high):
        thin = 0.05 * (high - low)
        yield painted((left, at - thin, right, at), shaded(colour, 0.66))
        yield painted((left, at, right, at + 0.6 * thin), shaded(colour, 1.14))
    edge = 0.07 * min(high - low, right - left)
    yield painted((left, high - edge, right, high), shaded(colour, 1.18))
    yield painted((left, low, right, low + 1.4 * edge), shaded(colour, 0.68))
    yield painted((left, low, left + edge, high), shaded(colour, 1.08))
    yield painted((right - edge, low, right, high), shaded(colour, 0.78))


def _streak(box: Box, is_level: bool, some: Iterator[float]) -> Box:
    """Return a thin streak of grain along a body."""
    left, low, right, high = box
    at, start, long = next(some), next(some), 0.25 + 0.6 * next(some)
    end, thin = min(1.0, start * 0.8 + long), 0.012 + 0.03 * next(some)
    a, b, c, d = start * 0.8, at * (1 - thin), end, at * (1 - thin) + thin
    if not is_level:
        a, b, c, d = b, a, d, c
    wide, tall = right - left, high - low
    return left + a * wide, low + b * tall, left + c * wide, low + d * tall


def _steps(trim: TrimTable, low: float, high: float) -> Iterator[float]:
    """Yield the levels at which a profile steps out, from its foot up."""
    reach = Fraction(0)
    for step in trim.steps[:-1]:
        reach += step.reach
        if low + float(reach) < high:
            yield low + float(reach)
