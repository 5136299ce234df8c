"""Draw a splayed jamb at large scale: how two courses turn into it, at the true angle.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; the corner of the left jamb is at x = 0, x along the front into the
opening, y back from the finished front; the second course stands to the right.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import cos, inf, radians, sin

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.moving import moved
from shopdraw.drawing.sheets import STYLES
from shopdraw.lengths import format_length
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.wall.layout import CORNER_KINDS, Piece
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import (
    Hand,
    break_line,
    clipped,
    cut_off,
    hatch,
    points_of,
)
from shopdraw.views.parts.jambs import ends_of_jambs
from shopdraw.views.wall.plans import cuts_of, ground_of, splay_words

COURSES = 2
"""How many courses are drawn, side by side."""


@dataclass(frozen=True)
class Jamb:
    """How much of a splayed jamb is shown.

    Attributes:
        fold: where its corner is, along the front.
        end: where the brick of the jamb ends, from the corner on.
        reach: how much of the leg beside it is shown.
        goes_on: whether the leg goes on beyond that, and is broken off there.
        apart: the distance from one course drawn to the next.
    """

    fold: float
    end: Point
    reach: float
    goes_on: bool
    apart: float


def jamb_of(solution: Solution, scale: float) -> Jamb:
    """Return what is shown of the left jamb."""
    hand, surround = Hand(solution.lengths, scale), solution.surround
    (x, deep), _ = ends_of_jambs(solution)
    fold = float(surround.jamb_folds[0] - surround.front.left)
    longest = max(leg for piece in solution.layout.pieces for leg in piece.legs)
    wanted = 1.25 * float(longest)
    reach = min(wanted, fold)
    words = hand.width(f"LONG LEG IN THE JAMB{' ' * 8}")
    apart = max(reach + max(x - fold, 0.5 * deep) + 17.0 * hand.text, words)
    return Jamb(fold, (x - fold, deep), reach, fold > wanted, apart)


def draw_jamb_courses(solution: Solution, scale: float) -> Drawing:
    """Draw the left jamb through courses 1 and 2, side by side.

    Raises:
        ValueError: the jambs are not splayed.
    """
    if not solution.surround.splay:
        message = "the jambs of this surround are not splayed"
        raise ValueError(message)
    hand, shown = Hand(solution.lengths, scale), jamb_of(solution, scale)
    below = solution.coursing.courses_below_head
    courses = solution.coursing.courses[: min(COURSES, below)]
    splay = splay_words(solution.surround)
    ink: list[Ink] = []
    for place, course in enumerate(courses):
        part = [
            *_brick(cuts_of(solution, course), shown, splay, hand),
            *_wall(solution, shown, hand),
            *_figures(solution, shown, hand),
        ]
        ink += [moved(x, (place * shown.apart, 0.0)) for x in part]
    numbers = " AND ".join(str(course.number) for course in courses)
    word = "COURSE" if len(courses) == 1 else "COURSES"
    return Drawing("jamb", f"LEFT JAMB, {word} {numbers}", scale, tuple(ink))


def _brick(cuts: tuple[Cut, ...], shown: Jamb, splay: str, hand: Hand) -> Iterator[Ink]:
    """Draw the brick near the corner, the mitre of its corner unit, and its legs."""
    broken = shown.reach if shown.goes_on else inf
    for cut in cuts:
        ring = _near(points_of(cut), shown)
        if not ring:
            continue
        yield from cut_off(ring, (broken, inf))
        if cut.piece.kind in CORNER_KINDS and (0.0, 0.0) in ring:
            inside = ring[(ring.index((0.0, 0.0)) + 3) % len(ring)]
            yield Stroke(layers.SECTION, ((0.0, 0.0), inside))
            yield from _legs(cut.piece, shown, splay, hand)


def _near(points: tuple[Point, ...], shown: Jamb) -> tuple[Point, ...]:
    """Return an outline from the corner on, clipped where the leg is broken off.

    What lies wholly past the end of this jamb belongs to the other one.
    """
    ring = [(shown.fold - x, y) for x, y in points]
    if max(x for x, _ in ring) < -shown.end[0]:
        return ()
    return tuple((0.0 - x, y) for x, y in clipped(ring, 0, shown.reach))


def _legs(piece: Piece, shown: Jamb, splay: str, hand: Hand) -> Iterator[Ink]:
    """Letter the course, the mark, both legs of a corner unit and the splay below."""
    front = next(x for x in piece.outlines if x.face == "front")
    side = next(x for x in piece.outlines if x.face != "front")
    along, back = front.right - front.left, side.right - side.left
    yield from hand.string("x", (-along, Fraction(0)), -3.0 * hand.text)
    on = "FRONT" if along >= back else "JAMB"
    said = format_length(back, hand.lengths)
    lines = (
        f"COURSE {piece.course}: {piece.mark}",
        f"LONG LEG {'ON THE' if on == 'FRONT' else 'IN THE'} {on}",
        f"LEG IN THE JAMB {said}",
        f"SPLAY {splay} OFF SQUARE",
    )
    for row, words in enumerate(lines):
        at = (-shown.reach, -(6.0 + 1.8 * row) * hand.text)
        yield hand.caption(at, words, "left")


def _wall(solution: Solution, shown: Jamb, hand: Hand) -> Iterator[Ink]:
    """Draw the wall behind the brick, broken off at its back and in the leg."""
    ground = ground_of(solution)
    across, deep = ground.slant
    x, y, left = ground.jambs[0] - shown.fold, ground.build_out, -shown.reach
    back = deep + y
    foot, end = (x, y), (x + across, y + deep)
    if not shown.goes_on and ground.left is not None:
        left += y
    yield Stroke(layers.OTHERS, ((left, y), foot, end))
    ring = ((left, back), (left, y), foot, end)
    yield from hatch(ring, 1.6 * hand.text)
    yield break_line((left, back), end, 0.8 * hand.text)
    if shown.goes_on:
        yield break_line((left, 0.0), (left, back), 0.8 * hand.text)


def _figures(solution: Solution, shown: Jamb, hand: Hand) -> Iterator[Ink]:
    """Dimension how far the jamb goes sideways and back, and letter its angle."""
    surround, text = solution.surround, hand.text
    x, y = shown.end
    turn = radians(surround.reveals[0].turn)
    radius, small = 0.45 * y, STYLES[hand.lengths].small
    turned = f"{float(surround.reveals[0].turn):g} DEG"
    at = (radius * cos(turn / 2) + 0.9 * text, radius * sin(turn / 2))
    clear = max(x, radius, at[0] + hand.width(turned, small=True))
    yield from hand.string("x", (Fraction(0), Fraction(x)), y + 5.0 * text, 1)
    line = clear + 2.5 * text
    yield from hand.string("y", (Fraction(0), Fraction(y)), line, 1)
    arc = [(radius * cos(turn * n / 8), radius * sin(turn * n / 8)) for n in range(9)]
    yield Stroke(layers.LEVELS, ((0.0, 0.0), (line - 1.4 * text, 0.0)))
    yield Stroke(layers.DIMENSIONS, tuple(arc))
    yield Words(layers.NOTES, at, turned, small, "left", "middle")
