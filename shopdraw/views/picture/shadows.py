"""Paint soft shadows: dark near what throws them, fading out further off.

In:  what a shadow's outline is at a share of its reach.   Out: `Paint`s.
Frame: as the picture's; x right, y up; light comes from the upper left.

A window is no point of light, so that a shadow has no sharp edge. Sheets of a faint
tint lie on one another, each a little further out than the next.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Paint
from shopdraw.drawing.lettering import Box
from shopdraw.views.parts.figures import clipped
from shopdraw.views.picture.brickwork import Ring

DARK = "#1c1410"
SHEETS = 16
FIRST, LAST = 0.35, 1.3
"""At which shares of a shadow's reach the first and the last of its sheets end."""


def is_tint(colour: str) -> bool:
    """Whether what is below a colour is seen through it."""
    return len(colour) > len("#rrggbb")


def soft(outline: Callable[[float], Ring], strength: float) -> Iterator[Paint]:
    """Paint a shadow, the widest of its sheets first.

    Args:
        outline: of the shadow at a share of its reach.
        strength: how much of the light it takes where it is darkest, under 1.
    """
    faint = 1 - (1 - strength) ** (1 / SHEETS)
    tint = f"{DARK}{round(255 * faint):02x}"
    for n in range(SHEETS):
        share = LAST + (FIRST - LAST) * n / (SHEETS - 1)
        yield Paint(layers.PATTERN, outline(share), tint)


def below(box: tuple[float, float, float, float], deep: float) -> Iterator[Paint]:
    """Paint what a body that stands so far out throws, below it and to its right."""
    left, low, right, high = box

    def thrown(share: float) -> Ring:
        aside, down = 0.22 * deep * share, 0.6 * deep * share
        return (
            (left + aside, low - down), (right + aside, low - down),
            (right + aside, high - down), (right, high - 0.5 * down),
            (right, low), (left, low),
        )  # fmt: skip

    def near(share: float) -> Ring:
        foot = low - 0.16 * deep * share
        return ((left, foot), (right, foot), (right, low), (left, low))

    if deep:
        yield from soft(thrown, 0.42)
        yield from soft(near, 0.3)


def right_of(ring: Ring, reach: float, low: float) -> Iterator[Paint]:
    """Paint what a face throws on the wall at its right, down to the foot of that."""
    right = max(x for x, _ in ring)
    high = max(y for x, y in ring if x == right)

    def thrown(share: float) -> Ring:
        out, down = reach * share, 0.8 * reach * share
        return ((right, low), (right + out, low), (right + out, high - down),
                (right, high))  # fmt: skip

    if reach:
        yield from soft(thrown, 0.34)


def kept_in(box: Box, ink: Iterable[Ink]) -> Iterator[Ink]:
    """Yield a picture's ink, its shadows only as far as they fall in the picture."""
    for each in ink:
        if not isinstance(each, Paint) or not is_tint(each.colour):
            yield each
        elif len(ring := _kept(each.points, box)) > 2:
            yield replace(each, points=ring)


def _kept(ring: Ring, box: Box) -> Ring:
    """Return the part of a ring that is in a box, corner by corner."""
    for axis in (0, 1):
        for sign, far in ((1.0, box[axis + 2]), (-1.0, -box[axis])):
            turned = [(sign * x, sign * y) for x, y in ring]
            if any(point[axis] > far for point in turned):
                ring = tuple(
                    (sign * x, sign * y) for x, y in clipped(turned, axis, far)
                )
    return ring
