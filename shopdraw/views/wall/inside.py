"""Draw an inside corner at large scale: which face runs past, and which butts.

In:  `Solution`, the side, the scale.   Out: `Drawing`.
Frame: full size, as a plan: the corner of the two finished faces is at x = 0, y = 0.
The return comes to it from below, the alcove goes away to its own side; the second
course stands to the right of the first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Axis, Drawing, Ink, Measure, Point, Stroke
from shopdraw.drawing.moving import moved
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.laying.cuts import course_ends
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.wall.folding import far_end
from shopdraw.masonry.wall.form import Face
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
from shopdraw.views.parts.phrases import INSIDE_CORNER
from shopdraw.views.wall.plans import cuts_of

COURSES = 2
"""How many courses are drawn, side by side."""
SHARE = 0.75
"""How much of a face is shown at the most, so that nothing beyond it is."""
AIR, LETTERED = 3.4, 6.8
"""How far off the brick a joint is dimensioned, and where its figure ends, in heights
of lettering."""
LONGEST = "THE RETURN RUNS PAST: B10"
"""The longest line under a corner."""


@dataclass(frozen=True)
class Inside:
    """How much of an inside corner is shown.

    Attributes:
        alcove, beside: the two faces, the alcove and the return.
        side: 1 where the alcove goes away to the right, -1 to the left.
        corner: where the finished faces meet, in plan.
        far: how far along the alcove, and how far out along the return, is shown.
        wall: how deep the wall is drawn.
        apart: the distance from one course drawn to the next.
    """

    alcove: Face
    beside: Face
    side: int
    corner: Point
    far: tuple[float, float]
    wall: float
    apart: float

    def shows(self, cut: Cut) -> bool:
        """Whether a piece lies on one of the two faces."""
        names = (self.alcove.name, self.beside.name)
        return any(outline.face in names for outline in cut.piece.outlines)

    def seen_from(self, points: tuple[Point, ...]) -> list[Point]:
        """Return an outline along the alcove, and out along the return."""
        return [
            (self.side * (x - self.corner[0]), self.corner[1] - y) for x, y in points
        ]


def inside_of(solution: Solution, side: str, scale: float) -> Inside:
    """Return what is shown of an inside corner.

    Raises:
        KeyError: there is no alcove on that side.
    """
    surround, hand = solution.surround, Hand(solution.lengths, scale)
    alcove = surround.face(f"{side} alcove")
    beside = surround.before(alcove)
    x, y = far_end(surround, beside)
    wanted = 1.25 * float(solution.job.brick.length)
    wide, deep = (SHARE * float(face.width - face.behind) for face in (alcove, beside))
    far = (min(wanted, wide), min(wanted, deep))
    wall = 2.0 * float(surround.build_out)
    open_side = max(far[0], 10.0 * hand.text)
    across = open_side + float(surround.build_out) + wall + 11.0 * hand.text
    return Inside(
        alcove=alcove,
        beside=beside,
        side=-1 if side == "left" else 1,
        corner=(float(x), float(y)),
        far=far,
        wall=wall,
        apart=max(across, hand.width(LONGEST) + 4.0 * hand.text),
    )


def draw_inside_corner(solution: Solution, side: str, scale: float) -> Drawing:
    """Draw an inside corner through courses 1 and 2, side by side.

    Raises:
        KeyError: there is no alcove on that side.
    """
    hand, shown = Hand(solution.lengths, scale), inside_of(solution, side, scale)
    ink: list[Ink] = []
    courses = solution.coursing.courses[:COURSES]
    for place, course in enumerate(courses):
        part = [
            *_brick(solution, course, shown),
            *_wall(solution, shown, hand),
            *_figures(solution, course, shown, hand),
        ]
        ink += [moved(x, (place * shown.apart, 0.0)) for x in part]
    numbers = " AND ".join(str(course.number) for course in courses)
    title = f"{side.upper()} {INSIDE_CORNER}, COURSES {numbers}"
    return Drawing(f"inside-{side}", title, scale, tuple(ink))


def _brick(solution: Solution, course: Course, shown: Inside) -> Iterator[Ink]:
    """Draw the brick of both faces near the corner."""
    for cut in cuts_of(solution, course):
        if not shown.shows(cut):
            continue
        ring = shown.seen_from(points_of(cut))
        for axis in (0, 1):
            ring = [*clipped(ring, axis, shown.far[axis])]
        if len(ring) > 2:
            drawn = tuple((shown.side * u, -v) for u, v in ring)
            yield from cut_off(drawn, (shown.far[0], -shown.far[1]))


def _wall(solution: Solution, shown: Inside, hand: Hand) -> Iterator[Ink]:
    """Draw both walls behind the brick, broken off at their backs and ends."""
    deep, side, (wide, out) = float(solution.surround.build_out), shown.side, shown.far
    back = deep + shown.wall
    ring = tuple(
        (side * u, y)
        for u, y in (
            (-deep, -out), (-deep, deep), (wide, deep), (wide, back), (-back, back),
            (-back, -out),
        )
    )  # fmt: skip
    yield Stroke(layers.OTHERS, ring[:3])
    yield hatch(ring, wall_pattern(solution.job), hand)
    yield break_line((0.0, -out), ring[5], 0.4 * hand.text)
    yield break_line((side * wide, 0.0), ring[3], 0.4 * hand.text)
    yield break_line(ring[3], ring[4], 0.4 * hand.text)
    yield break_line(ring[4], ring[5], 0.4 * hand.text)


def gap_at(solution: Solution, face: Face, course: Course) -> Fraction:
    """Return how far a course stops before the corner; below 0 where it runs past."""
    ends = course_ends(solution.layout, face.name, course)
    corner = face.inside_corner or Fraction(0)
    return corner - max(ends) if corner == face.seen[1] else min(ends) - corner


def _figures(
    solution: Solution, course: Course, shown: Inside, hand: Hand
) -> Iterator[Ink]:
    """Dimension the joint of what butts and how far the other runs past; say which."""
    lines = [f"COURSE {course.number}"]
    for face in (shown.beside, shown.alcove):
        gap = gap_at(solution, face, course)
        mark = _mark_at(solution, face, course)
        name = "ALCOVE" if face.is_alcove else "RETURN"
        lines.append(f"THE {name} {'BUTTS' if gap > 0 else 'RUNS PAST'}: {mark}")
        yield from _gap(solution, face, gap, shown, hand)
    edge = min(shown.side * shown.far[0], -shown.side * _back(solution, shown))
    below = max(shown.far[1], LETTERED * hand.text)
    for row, words in enumerate(lines):
        at = (edge, -below - (2.4 + 1.8 * row) * hand.text)
        yield hand.caption(at, words, "left")


def _back(solution: Solution, shown: Inside) -> float:
    return float(solution.surround.build_out) + shown.wall


def _gap(
    solution: Solution, face: Face, gap: Fraction, shown: Inside, hand: Hand
) -> Iterator[Ink]:
    """Dimension a joint before the corner, in the open; or what runs past, behind."""
    side, text = shown.side, hand.text
    thick = float(solution.job.brick.thickness)
    # An alcove's is measured along x, away from the corner to its side; a return's
    # along y, out of the corner downward.
    axis: Axis = "x" if face.is_alcove else "y"
    way, out = (side, -1) if face.is_alcove else (-1, side)
    near, air = 0.0, out * AIR * text
    if gap < 0:
        near = -out * thick
        out, air = -out, -out * (_back(solution, shown) + 1.4 * text)
    ends = tuple(sorted((Fraction(0), way * gap)))
    for end in map(float, ends):
        line = ((near, end), (air - out * 1.4 * text, end))
        if axis == "x":
            line = ((end, near), (end, air - out * 1.4 * text))
        yield Stroke(layers.DIMENSIONS, line)
    figure = hand.width(format_length(abs(gap), hand.lengths))
    aside = (side * (figure / 2 + text), 0.0) if axis == "x" else (0.0, -1.4 * text)
    for ink in hand.fan(axis, ends, air, outward=out):
        yield ink if gap < 0 else _moved_aside(ink, aside)


def _moved_aside(ink: Ink, by: Point) -> Ink:
    """Return a figure, or the line to it, moved away from the brick beside its gap."""
    if isinstance(ink, Measure) and ink.letter is not None:
        x, y = ink.letter
        return replace(ink, letter=(x + by[0], y + by[1]))
    if isinstance(ink, Stroke):
        x, y = ink.points[-1]
        return replace(ink, points=(*ink.points[:-1], (x + by[0], y + by[1])))
    return ink


def _mark_at(solution: Solution, face: Face, course: Course) -> str:
    """Return the mark of the piece that ends a course at the corner."""
    pieces = [
        (outline, piece.mark)
        for piece in solution.layout.in_courses
        if piece.course == course.number
        for outline in piece.outlines
        if outline.face == face.name
    ]
    if face.inside_corner == face.seen[1]:
        return max(pieces, key=lambda each: each[0].right)[1]
    return min(pieces, key=lambda each: each[0].left)[1]
