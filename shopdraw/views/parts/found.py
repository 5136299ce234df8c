"""Draw what is there already: hearth, datum, true outline, woodwork.

In:  `Solution`, the scale.   Out: ink.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import inf

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Stroke, Words
from shopdraw.drawing.lettering import Box, plain, width_of
from shopdraw.drawing.sheets import STYLES, PaperStyle
from shopdraw.job.model_around import TrimTable
from shopdraw.job.model_face import Side
from shopdraw.job.model_review import FittingTable
from shopdraw.lengths import Lengths, format_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.laying.cuts import cut_upright
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.laying.outlines import front_ring, head_over
from shopdraw.masonry.wall.form import Surround
from shopdraw.solution import Solution
from shopdraw.views.parts.aslant import width_seen

Spot = tuple[Fraction, Fraction]
OLD_BRICK: dict[Lengths, Fraction] = {"in": Fraction(14), "mm": Fraction(350)}
"""How much is drawn of old brick beside the face."""


def outline_front(solution: Solution, dx: float) -> Stroke:
    """Outline the front and its opening as they were measured, not squared up."""
    ring = front_ring(solution.surround, solution.coursing, solution.layout)
    points = tuple((float(x) + dx, float(y)) for x, y in ring)
    return Stroke(layers.OUTLINE, points, closed=True)


def box_on_face(table: TrimTable | FittingTable) -> Box:
    """Return where woodwork, or a fitting, lies before the face."""
    left, low = float(table.left), float(table.bottom)
    return left, low, left + float(table.width), low + float(table.height)


def highest_at(solution: Solution, x: float) -> float:
    """Return how high the brick goes there, or woodwork or a fitting before it."""
    before: list[TrimTable | FittingTable] = [*solution.job.trim, *solution.job.fitting]
    boxes = (box_on_face(table) for table in before)
    tops = (top for left, _, right, top in boxes if left <= x <= right)
    return max((float(solution.coursing.top), *tops))


def draw_existing(solution: Solution, scale: float, style: PaperStyle) -> Iterator[Ink]:
    """Draw the hearth as measured, the datum, and woodwork by others."""
    surround = solution.surround
    width, dx = float(surround.front.width), -float(surround.front.left)
    left, right = (3 * style.text * scale + x for x in width_seen(surround))
    hearth = surround.as_built.hearth
    spots = [(float(x) + dx, float(y)) for x, y in hearth.points]
    inside = [spot for spot in spots if 0.0 < spot[0] < width]
    ends = [float(hearth.at(x)) for x in (surround.front.left, surround.front.right)]
    ground = (
        (-left, ends[0]),
        (0.0, ends[0]),
        *inside,
        (width, ends[1]),
        (width + right, ends[1]),
    )
    yield Stroke(layers.OTHERS, ground)
    if any(y for _, y in ground):
        # Where the hearth is not level, the line that it is measured from is drawn.
        jambs = [float(x) + dx for x in (surround.opening.left, surround.opening.right)]
        yield Stroke(layers.LEVELS, ((-left, 0.0), (0.0, 0.0)))
        yield Stroke(layers.LEVELS, ((jambs[0], 0.0), (jambs[1], 0.0)))
    for trim in solution.job.trim:
        a, c, b, d = box_on_face(trim)
        yield Stroke(layers.OTHERS, ((a, c), (b, c), (b, d), (a, d)), closed=True)
        words = f"{plain(trim.name).upper()}, BY OTHERS"
        if is_clear(trim, solution.coursing) and (
            width_of(words, style.text) * scale < (b - a) * 0.95
            and (d - c) / scale > 1.4 * style.text
        ):
            at = ((a + b) / 2, (c + d) / 2)
            yield Words(layers.NOTES, at, words, style.text, "centre", "middle")


def is_clear(trim: TrimTable, coursing: Coursing) -> bool:
    """Whether woodwork stands above the brick, where there is room for its name."""
    return trim.bottom >= coursing.top


def hearth_drops(solution: Solution, scale: float, foot: float) -> Iterator[Ink]:
    """Letter how far the hearth lies below the datum, at each point measured."""
    front, hearth = solution.surround.front, solution.surround.as_built.hearth
    if not any(y for _, y in hearth.points):
        return
    style = STYLES[solution.job.lengths]
    dx = -float(front.left)
    places = {min(max(x, front.left), front.right) for x, _ in hearth.points}
    taken = [-inf, -inf]
    for place in sorted(places):
        words = format_length(-hearth.at(place), solution.job.lengths)
        half = width_of(words, style.text) / 2 * scale
        at = float(place) + dx
        row = 0 if at - half > taken[0] + style.text * scale else 1
        taken[row] = at + half
        y = foot - (1.2 + 1.6 * row) * style.text * scale
        yield Words(layers.DIMENSIONS, (at, y), words, style.text, "centre", "top")
        yield Stroke(
            layers.DIMENSIONS,
            ((at, float(hearth.at(place))), (at, y + 0.3 * style.text * scale)),
        )
    x = -3.0 * style.text * scale
    at_left = (x, foot - 1.2 * style.text * scale)
    yield Words(layers.NOTES, at_left, "HEARTH BELOW DATUM", style.text, "right", "top")


def lowest_of(surround: Surround) -> float:
    """Return the lowest level of the hearth under the front."""
    front = surround.front
    heights = surround.as_built.hearth.over(front.left, front.right)
    return min(0.0, *(float(y) for y in heights))


def reach_of(solution: Solution) -> tuple[float, float]:
    """Return the left and the right end of brick, new and old, and woodwork."""
    lefts = [float(trim.left) for trim in solution.job.trim]
    rights = [float(trim.left + trim.width) for trim in solution.job.trim]
    left, right = width_seen(solution.surround)
    end = float(solution.surround.front.width) + right
    old = old_brick_width(solution, "left"), old_brick_width(solution, "right")
    return min([-left - old[0], *lefts]), max([end + old[1], *rights])


def old_brick_width(solution: Solution, side: Side) -> float:
    """Return how much is drawn of old brick on a side; 0 where there is none."""
    places = {old.where for old in solution.job.existing_brick}
    return float(OLD_BRICK[solution.lengths]) if side in places else 0.0


def cut_at_centre(solution: Solution) -> tuple[Cut, ...]:
    """Return the brick that an upright section on the opening's centre line cuts."""
    return _cut_at(solution, solution.surround.opening.centre)


def _cut_at(solution: Solution, x: Fraction) -> tuple[Cut, ...]:
    job, out = solution.job, solution.coursing.projections
    widest, thickness = job.joints.head.most, job.brick.thickness
    return cut_upright(solution.layout, x, widest, thickness, out)


def is_cut_as_at_centre(solution: Solution, x: Fraction) -> bool:
    """Whether a section at a place over the opening is that on its centre line.

    It is where head, brick and the woodwork before it are the same.
    """
    parts = solution.surround, solution.coursing, solution.layout
    centre, left = solution.surround.opening.centre, solution.surround.front.left

    def met(at: Fraction) -> tuple[object, ...]:
        trim = [t for t in solution.job.trim if 0 <= at - left - t.left <= t.width]
        rings = [cut.ring for cut in _cut_at(solution, at)]
        return head_over(*parts, at), rings, trim

    return met(x) == met(centre)


def seen_beyond(solution: Solution) -> tuple[tuple[Fraction, Fraction], ...]:
    """Return from which level to which brick is seen beyond a section at the centre.

    It is the courses of the jamb, and above an arch's spring line its soffit, as one.
    """
    arch, head = solution.layout.arch, head_at_centre(solution)
    high = head if arch is None else arch.spring
    courses = [
        (course.bottom, min(course.top, high))
        for course in solution.coursing.courses
        if course.bottom < high
    ]
    if arch is not None and arch.spring < head:
        courses.append((arch.spring, head))
    return tuple(courses)


def top_of(cut: Cut) -> Fraction:
    """Return the top of what a section cuts."""
    return max(y for _, y in cut.ring)


def head_at_centre(solution: Solution) -> Fraction:
    """Return the level of the head or soffit on the opening's centre line."""
    parts = solution.surround, solution.coursing, solution.layout
    return head_over(*parts, solution.surround.opening.centre)
