"""Draw an outside corner at large scale: how two courses turn round it.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; the outside corner is at x = 0, x along the front, y back from the
finished front; the second course stands to the right of the first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from math import inf

from shopdraw.drawing import layers
from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke
from shopdraw.drawing.moving import moved
from shopdraw.job.turning import SQUARE
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import CORNER_KINDS, Piece
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import (
    Hand,
    break_line,
    clipped,
    cut_off,
    hatch,
    points_of,
    wall_pattern,
)
from shopdraw.views.parts.ground import ground_of
from shopdraw.views.wall.plans import cuts_of

LONGEST = "LONG LEG ON THE RETURN"
"""The longest line under a corner."""
NOTHING = 1e-9
COURSES = 2
"""How many courses are drawn, side by side."""


@dataclass(frozen=True)
class Corner:
    """How much of an outside corner is shown.

    Attributes:
        side: 1 where the front goes on to the right of the fold, -1 to the left.
        fold: where the corner is, along the front.
        far: how far along the front, and how far back, is shown.
        goes_on: whether leg and return go on beyond that, and are broken off there.
        apart: the distance from one course drawn to the next.
    """

    side: int
    fold: float
    far: tuple[float, float]
    goes_on: tuple[bool, bool]
    apart: float

    def near(self, points: tuple[Point, ...]) -> tuple[Point, ...]:
        """Clip an outline to the part that is shown, from the corner on."""
        ring = [(self.side * (x - self.fold), y) for x, y in points]
        for axis in (0, 1):
            ring = [*clipped(ring, axis, self.far[axis])]
        return tuple((self.side * x, y) for x, y in ring)


def has_square_corner(surround: Surround) -> bool:
    """Whether the brick turns by 90 degrees at an end of the front."""
    return any(map(partial(_is_square, surround), _ends(surround)))


def _ends(surround: Surround) -> tuple[Fraction, Fraction]:
    return surround.front.left, surround.front.right


def _is_square(surround: Surround, x: Fraction) -> bool:
    return x in surround.folds and surround.turn_at(x) == SQUARE


def corner_of(solution: Solution, scale: float) -> Corner:
    """Return what is shown of the left corner, or if it is not square, of the right."""
    hand, ground = Hand(solution.lengths, scale), ground_of(solution)
    corners = [x for x in solution.layout.pieces if x.kind in CORNER_KINDS]
    longest = max((leg for piece in corners for leg in piece.legs), default=Fraction(0))
    reach = max(1.25 * float(longest), 4 * ground.build_out)
    at_left = _is_square(solution.surround, solution.surround.front.left)
    depth = (ground.left if at_left else ground.right).depth
    leg = ground.opening[0] if at_left else ground.width - ground.opening[1]
    return Corner(
        side=1 if at_left else -1,
        fold=0.0 if at_left else ground.width,
        far=(min(reach, leg), min(reach, depth)),
        goes_on=(leg > reach, depth > reach),
        apart=max(reach + 7.0 * hand.text, hand.width(LONGEST) + 2.0 * hand.text),
    )


def draw_corner_interlock(solution: Solution, scale: float) -> Drawing:
    """Draw one outside corner through courses 1 and 2, side by side.

    Raises:
        ValueError: the job has no outside corner.
    """
    if not has_square_corner(solution.surround):
        message = "this surround has no square corner to draw"
        raise ValueError(message)
    hand, corner = Hand(solution.lengths, scale), corner_of(solution, scale)
    ink: list[Ink] = []
    courses = solution.coursing.courses[:COURSES]
    for place, course in enumerate(courses):
        part = _corner(solution, course, corner, hand)
        ink += [moved(x, (place * corner.apart, 0.0)) for x in part]
    numbers = " AND ".join(str(course.number) for course in courses)
    title = f"CORNER INTERLOCK, COURSES {numbers}"
    return Drawing("interlock", title, scale, tuple(ink))


def _corner(
    solution: Solution, course: Course, corner: Corner, hand: Hand
) -> Iterator[Ink]:
    """Draw the part of a course near the corner: brick, then the wall behind it."""
    goes_on, far, side = corner.goes_on, corner.far, corner.side
    # Where leg or return ends within reach, its brick is not broken off.
    broken = far[0] if goes_on[0] else inf, far[1] if goes_on[1] else inf
    for cut in cuts_of(solution, course):
        ring = corner.near(points_of(cut))
        if _has_area(ring):
            yield from cut_off(ring, broken)
            if cut.piece.kind in CORNER_KINDS and (0.0, 0.0) in ring:
                yield from _legs(cut.piece, side > 0, hand)
    t = ground_of(solution).build_out
    a, b = side * t, side * far[0]
    wall = ((a, far[1]), (a, t), (b, t), (b, far[1]))
    yield Stroke(layers.OTHERS, wall[:3])
    yield hatch(wall, wall_pattern(solution.job), hand)
    start = 0.0 if goes_on[1] else a
    yield break_line((start, far[1]), (b, far[1]), 0.8 * hand.text)
    if goes_on[0]:
        yield break_line((b, 0.0), (b, far[1]), 0.8 * hand.text)
    else:
        yield Stroke(layers.OTHERS, ((b, t), (b, far[1])))


def told_of_legs(piece: Piece) -> Iterator[str]:
    """Yield where a unit's long leg is, as it was bought, and where it is trimmed."""
    names = {x.face: "FRONT" if x.face == "front" else "RETURN" for x in piece.outlines}
    # The first outline is on the side of the long leg, however it is trimmed.
    yield f"LONG LEG ON THE {names[piece.place]}"
    trimmed = [name for face, name in names.items() if f"{face} leg" in piece.cut_edges]
    if len(trimmed) == len(names):
        yield "BOTH LEGS TRIMMED"
    elif trimmed:
        yield f"TRIMMED ON THE {trimmed[0]}"


def _has_area(ring: tuple[Point, ...]) -> bool:
    if not ring:
        return False
    left, low, right, high = about(ring)
    return right - left > NOTHING and high - low > NOTHING


def _legs(piece: Piece, at_left: bool, hand: Hand) -> Iterator[Ink]:
    """Dimension both legs of a corner unit, outside, and letter its course and mark."""
    front = next(x for x in piece.outlines if x.face == "front")
    side = next(x for x in piece.outlines if x.face != "front")
    along, back = front.right - front.left, side.right - side.left
    zero = Fraction(0)
    out = -1 if at_left else 1
    ends = (zero, along) if at_left else (-along, zero)
    yield from hand.string("x", ends, -3.0 * hand.text)
    yield from hand.string("y", (zero, back), out * 3.0 * hand.text, out)
    lines = (f"COURSE {piece.course}: {piece.mark}", *told_of_legs(piece))
    for row, words in enumerate(lines):
        at = (0.0, -(6.0 + 1.8 * row) * hand.text)
        yield hand.caption(at, words, "left" if at_left else "right")
