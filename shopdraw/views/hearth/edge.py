"""Draw the front edge of a hearth of brick in section, large.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; x back from the finished face of the wall, the room at negative x; y
up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke
from shopdraw.lengths import format_length
from shopdraw.masonry.hearth.cuts import cut_hearth
from shopdraw.masonry.hearth.form import BrickHearth, Riser
from shopdraw.masonry.laying.form import Cut
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import (
    UNKNOWN,
    Hand,
    break_line,
    cut_off,
    hatch,
    points_of,
    ring_of,
)

ZERO = Fraction(0)
FAR = float("inf")


def draw_hearth_edge(solution: Solution, hearth: BrickHearth, scale: float) -> Drawing:
    """Draw the front edge: riser, nosing, the hearth's brick, their beds, the slab."""
    hand = Hand(solution.lengths, scale)
    ground = hearth.ground
    front, end = -float(ground.face), shown_to(solution, hearth)
    drop, floor = float(ground.drop), floor_of(hearth, hand.text)
    inner = front + float(ground.build_out)
    ink: list[Ink] = []
    for cut in cuts_of(hearth):
        ring = points_of(cut)
        if ring[0][0] >= end:
            continue
        clipped = ring_of((ring[0][0], ring[0][1], min(ring[1][0], end), ring[2][1]))
        ink += cut_off(clipped, (abs(end) if ring[1][0] > end else FAR, FAR))
    core = ((inner, floor), (inner, -drop), (end, -drop), (end, floor))
    ink += [
        Stroke(layers.OTHERS, core[:3]),
        hatch(core, UNKNOWN, hand),
        break_line((end, floor), (end, 0.0), 0.6 * hand.text),
        *_levels(hearth, (front, inner, end), hand),
    ]
    title = "SECTION AT THE HEARTH'S FRONT EDGE"
    return Drawing("hearth-front-section", title, scale, tuple(ink))


def cuts_of(hearth: BrickHearth) -> tuple[Cut, ...]:
    """Return what a section on the opening's centre line cuts of the hearth."""
    ground = hearth.ground
    return cut_hearth(hearth, (ground.opening[0] + ground.opening[1]) / 2)


def shown_to(solution: Solution, hearth: BrickHearth) -> float:
    """Return how far back the section is drawn before it is broken off."""
    length = 1.6 * float(solution.job.brick.length)
    return min(-float(hearth.ground.face) + length, 0.0)


def floor_of(hearth: BrickHearth, text: float) -> float:
    """Return the level of the floor, or where a hearth that is not raised ends."""
    if hearth.riser is None:
        return -float(hearth.ground.drop) - 4.0 * text
    return -float(hearth.riser.height)


def _levels(
    hearth: BrickHearth,
    across: tuple[float, float, float],
    hand: Hand,
) -> Iterator[Ink]:
    """Dimension the levels at the left, and name each material at the right."""
    ground, (front, inner, end) = hearth.ground, across
    thick, drop = ground.thickness, ground.drop
    floor = floor_of(hearth, hand.text)
    x = front - 3.0 * hand.text
    if hearth.riser is not None:
        height = hearth.riser.height
        courses = hearth.riser.coursing.courses
        levels = {-height, *(y - height for c in courses for y in (c.bottom, c.top))}
        yield from hand.upright_strings(tuple(sorted(levels)), x)
        yield Stroke(layers.OTHERS, ((x, floor), (end, floor)))
    right = end + 2.5 * hand.text
    names = ("BED", "HEARTH'S BRICK")
    yield from hand.fan("y", (-drop, -thick, ZERO), right, names)
    middle = floor + 0.6 * (-float(drop) - floor)
    rows: list[tuple[Point, str]] = [
        ((end - hand.text, middle), "SLAB OR CORE BY OTHERS"),
    ]
    if hearth.riser is not None:
        bed = format_length(ground.build_out - thick, hand.lengths)
        behind = (front + float(thick) + inner) / 2
        rows.append(((behind, 0.6 * floor), f"SETTING BED, {bed} MEAN"))
        rows += _named_courses(hearth.riser, front + float(thick) / 2)
    yield from hand.leaders(tuple(rows), right + hand.width("X" * 18))


def _named_courses(riser: Riser, x: float) -> Iterator[tuple[Point, str]]:
    """Yield a point in the riser's first course, and one in its last, named."""
    first, last = riser.coursing.courses[0], riser.coursing.courses[-1]
    low = float((first.bottom + first.top) / 2 - riser.height)
    high = float((last.bottom + last.top) / 2 - riser.height)
    yield (x, low), "RISER"
    if riser.has_nosing:
        yield (x, high), "NOSING OF ROWLOCKS"
