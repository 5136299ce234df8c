"""Mark on one view where another is cut, or from where it is seen.

In:  `Solution`, a `Drawing`, the views' numbers.   Out: the drawing with its marks.
Frame: the drawing's own.

A mark is a bubble with the view's number over its sheet's, an arrow in the direction of
sight, and a leader to the place. It stands clear of all lines and lettering, as near to
its place as can be.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from math import atan2, cos, degrees, dist, inf, radians, sin

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import bubble
from shopdraw.drawing.in_the_way import InTheWay
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model_face import SIDES
from shopdraw.solution import Solution
from shopdraw.views.parts.found import head_at_centre
from shopdraw.views.parts.ground import Ground, ground_of
from shopdraw.views.parts.phrases import FACES

ROOM = 1.75
"""How far from its middle a bubble with its arrow reaches, in its radii."""
TIGHT = 1.1
"""The same of a bubble without an arrow, where there is no more room."""
STEP, FURTHEST = 0.5, 80
"""How far apart places are tried, in radii of a bubble, and how many."""
LONG = 6.0
"""A leader longer than so many radii is no longer followed by the eye."""
CROSSED = 2.0
"""A leader may go so much further, in radii, rather than cross one more line."""
ANYWHERE: Box = (-inf, -inf, inf, inf)
"""The extent of a drawing that no bubble makes larger."""
UP, DOWN, LEFT, RIGHT = 90.0, 270.0, 180.0, 0.0
ASIDE = (180.0, *(180.0 + way * turn for turn in range(15, 90, 15) for way in (1, -1)))
"""The directions of a bubble at the left of all strings."""
STUB = 0.6
"""How much of the line of its cut is drawn there, in radii of a bubble."""
AROUND = tuple(5.0 * turn for turn in range(72) if turn % 18)
"""Any direction but level and upright: a leader is told from the lines by its slant."""
THROUGH = 10.0
"""The same, rather than go through brick, a fitting or woodwork."""
GROWN = 2.0
"""A leader may go so much further for each length by which the view grows less."""


@dataclass(frozen=True)
class Sight:
    """Where a view is cut, or from where it is seen.

    Attributes:
        view: the name of its drawing.
        at: the place.
        ways: the directions from there in which its bubble may stand, in degrees.
        looks: the direction of sight in degrees; None for a detail.
        is_led: a leader goes from the bubble to the place; else the bubble stands on
            the line of the cut, or of sight.
        instead: the level of the cut, for a bubble that would have too long a leader:
            it stands at the left of all strings.
    """

    view: str
    at: Point
    ways: tuple[float, ...]
    looks: float | None = None
    is_led: bool = False
    instead: float | None = None

    @property
    def tried(self) -> tuple[float, ...]:
        """The directions; where there is a leader any other after them."""
        return (*self.ways, *AROUND) if self.is_led else self.ways


def with_sights(
    solution: Solution, drawing: Drawing, numbers: Mapping[str, int]
) -> Drawing:
    """Add to a drawing the marks of the views that are cut on it."""
    sights = [x for x in sights_on(solution, drawing.name) if x.view in numbers]
    if not sights:
        return drawing
    there = InTheWay(drawing, STYLES[solution.lengths].text)
    ink = list(drawing.ink)
    for sight in sights:
        marked = tuple(_marked(there, sight, numbers))
        there.add(replace(drawing, ink=marked))
        ink += marked
    return replace(drawing, ink=tuple(ink))


def sights_on(solution: Solution, name: str) -> Iterator[Sight]:
    """Yield what may be marked on a view; nothing for most."""
    if name == "elevation":
        yield from _on_the_front(solution)
    elif name == f"plan-{solution.coursing.courses[0].number}":
        yield from _on_the_plan(solution)
    elif name == "upright-section":
        yield from _on_the_section(solution)
    elif name == "hearth-plan":
        yield from _on_the_hearth(solution)


def _on_the_front(solution: Solution) -> Iterator[Sight]:
    front, opening = solution.surround.front, solution.surround.opening
    jambs = solution.surround.jamb_folds or (opening.left, opening.right)
    middle, right = (float(x - front.left) for x in (opening.centre, jambs[1]))
    top, wide = float(solution.coursing.top), float(front.width)
    highest = max(
        (
            float(trim.bottom + trim.height)
            for trim in solution.job.trim
            if trim.left <= middle <= trim.left + trim.width
        ),
        default=top,
    )
    yield Sight("upright-section", (middle, max(top, highest)), (UP,), LEFT)
    for course in solution.coursing.courses:
        level = float(course.bottom + course.top) / 2
        # The opening is free, where the course stands beside it.
        name = f"plan-{course.number}"
        if course.top <= solution.coursing.head:
            ways = tuple(range(180, 90, -15))
            yield Sight(name, (right, level), ways, DOWN, True, level)
        else:
            yield Sight(name, (0.0, level), (LEFT,), DOWN)
    inward = tuple(range(280, 360, 10))
    yield Sight(
        "head-section", (middle, float(head_at_centre(solution))), inward, is_led=True
    )
    inside = tuple(range(10, 80, 10))
    left = float(jambs[0] - front.left)
    yield Sight("extension", (left, 0.0), inside, DOWN, True, 0.0)
    yield Sight("hearth-edge", (right, 0.0), tuple(range(170, 90, -10)), is_led=True)
    upward = (60.0, 75.0, 45.0, UP, 105.0, 30.0)
    # The detail shows courses: where soldiers reach the top it is cut beside them.
    has_soldiers = solution.coursing.soldier_top == solution.coursing.top
    beside = (right + wide) / 2 if has_soldiers else 0.75 * wide
    yield Sight("top-edge", (beside, top), upward, is_led=True)
    yield Sight("corbel", (0.25 * wide, top), upward, is_led=True)


def _on_the_plan(solution: Solution) -> Iterator[Sight]:
    ground = ground_of(solution)
    left, right = ground.opening
    inside = (60.0, 45.0, 30.0, 75.0, 15.0)
    surround = solution.surround
    flanks = (ground.left, 1), (ground.right, -1)
    for side, (flank, out) in zip(SIDES, flanks, strict=True):
        corners = zip(surround.flank(side), pairwise(flank.face), strict=True)
        for face, (near, far) in corners:
            spot = (
                near[0] + 0.6 * (far[0] - near[0]),
                near[1] + 0.6 * (far[1] - near[1]),
            )
            along = degrees(atan2(far[1] - near[1], far[0] - near[0]))
            way = along + out * 90
            turns = (way, way - 15, way + 15)
            yield Sight(f"{FACES[face.name]}-{side}", spot, turns, way + 180)
            place = surround.folds.index(surround.fold_of(face)) + 1
            yield Sight(f"corner-{place}", near, (way, way + 30, way - 30), is_led=True)
    yield from _on_the_alcoves(ground)
    beside = max(0.0, ground.build_out)
    for name, x, way, looks in (
        ("reveal-left", left, RIGHT, LEFT),
        ("reveal-right", right, LEFT, RIGHT),
    ):
        turned = 1 if way == RIGHT else -1
        ways = tuple(way + turned * turn for turn in (30.0, 15.0, 45.0, 60.0))
        yield Sight(name, (x, beside), ways, looks)
    yield Sight("jamb-plan", (left, 0.0), inside, is_led=True)
    if surround.jamb_folds:
        corner = float(surround.jamb_folds[0] - surround.front.left), 0.0
        yield Sight("jamb", corner, inside, is_led=True)
    below = (225.0, 240.0, 210.0, 255.0, 200.0, DOWN)
    yield Sight("interlock", (0.0, 0.0), below, is_led=True)
    end = ground.left.alcove or (*ground.left.face[-1:], (0.0, 0.0))[0]
    yield Sight("side-edge", end, (150.0, 135.0, 165.0, LEFT, 120.0, UP), is_led=True)


def _on_the_alcoves(ground: Ground) -> Iterator[Sight]:
    """Yield the alcoves, seen from the room, and their inside corners."""
    for side, flank in zip(SIDES, (ground.left, ground.right), strict=True):
        if flank.alcove is None:
            continue
        corner, (far, back) = flank.face[-1], flank.alcove
        spot = (corner[0] + 0.6 * (far - corner[0]), back)
        yield Sight(f"alcove-{side}", spot, (DOWN, 255.0, 285.0), UP)
        ways = (240.0, 225.0, 210.0) if side == "left" else (300.0, 315.0, 330.0)
        yield Sight(f"inside-{side}", corner, ways, is_led=True)


def _on_the_section(solution: Solution) -> Iterator[Sight]:
    hearth = solution.hearth
    if hearth is None:
        return
    before = -float(hearth.ground.face) / 2
    yield Sight("hearth-plan", (before, 0.0), (UP, 105.0, 75.0), DOWN)


def _on_the_hearth(solution: Solution) -> Iterator[Sight]:
    hearth = solution.hearth
    if hearth is None:
        return
    wide, deep = float(hearth.ground.width), float(hearth.ground.main[3])
    yield Sight("hearth-front-section", (wide / 2, 0.0), (DOWN, 260.0, 280.0), LEFT)
    yield Sight("riser-front", (wide / 4, 0.0), (DOWN, 260.0, 280.0), UP)
    yield Sight("riser-left", (0.0, deep / 2), (LEFT, 170.0, 190.0), RIGHT)
    yield Sight("riser-right", (wide, deep / 2), (RIGHT, 10.0, -10.0), LEFT)


def _marked(there: InTheWay, sight: Sight, numbers: Mapping[str, int]) -> Iterator[Ink]:
    """Draw a mark at the nearest clear place.

    Raises:
        ValueError: there is none.
    """
    text, scale, radius = there.text, there.scale, there.radius
    number, extent = numbers[sight.view], there.extent
    lines, words, near, solid = there.trees()
    none = shapely.STRtree([])
    # Rather than none, a leader through lettering.
    found = _place(sight, radius, (lines, words, near, solid), extent)
    stub: tuple[Point, ...] = ()
    too_long = found is None or dist(sight.at, found[0]) > LONG * radius
    if sight.instead is not None and too_long:
        start = there.left_of_strings(), sight.instead
        stub, turn = (start,), (start[0] - STUB * radius, start[1])
        sight, extent = replace(sight, at=turn, ways=ASIDE), ANYWHERE
        found = _place(sight, radius, (lines, words, near, solid), extent)
    if found is None and sight.looks is None:
        found = _place(sight, radius, (lines, words, near, solid), extent, TIGHT)
    found = found or _place(sight, radius, (lines, words, none, solid), extent)
    if found is None:
        message = f"{sight.view} finds no place for its mark on {there.name}"
        raise ValueError(message)
    at, end = found
    yield from bubble(number, "drawn", at, text, scale, sight.looks)
    if sight.is_led:
        yield Stroke(layers.NOTES, (*stub, sight.at, end))
    elif not _points_there(sight, at):
        (x, y), (a, b) = at, end
        yield Stroke(layers.NOTES, (end, (a + 0.6 * (a - x), b + 0.6 * (b - y))))


def _points_there(sight: Sight, at: Point) -> bool:
    """Whether a bubble's arrow points to the place: a line beside it says no more."""
    way = atan2(sight.at[1] - at[1], sight.at[0] - at[0])
    return sight.looks is not None and cos(way - radians(sight.looks)) > 0.5


def _place(
    sight: Sight,
    radius: float,
    there: tuple[shapely.STRtree, ...],
    extent: Box,
    room: float = ROOM,
) -> tuple[Point, Point] | None:
    """Return where a bubble stands, and the end of its leader; None for nowhere.

    Args:
        sight: what is marked.
        radius: of the bubble.
        there: the lines of the drawing, of which a leader crosses few; the lettering
            that a bubble keeps clear of; that which a leader keeps clear of; what it
            had better not go through.
        extent: of the drawing, which had better not grow.
        room: that a bubble needs about its middle, in its radii.
    """
    lines, words, unled, solid = there
    best: tuple[float, Point, Point] | None = None
    # What a leader runs through, a longer one the same way runs through too.
    closed: set[float] = set()
    for step in range(FURTHEST):
        far = (ROOM + STEP * step) * radius
        if best is not None and far >= best[0]:
            break
        spots = [_along(sight.at, way, far) for way in sight.tried]
        for place in _clear(spots, room * radius, (lines, words)):
            way, at = sight.tried[place], spots[place]
            if way in closed:
                continue
            near = _along(sight.at, way, far - radius)
            cost = far + GROWN * _beyond(at, radius, extent)
            if best is not None and cost >= best[0]:
                continue
            if sight.is_led:
                leader = shapely.LineString([sight.at, near])
                if len(unled.query(leader, "intersects")):
                    closed.add(way)
                    continue
                cost += CROSSED * radius * len(lines.query(leader, "crosses"))
                cost += THROUGH * radius * len(solid.query(leader, "crosses"))
            if best is None or cost < best[0]:
                best = cost, at, near
    return None if best is None else best[1:]


def _along(at: Point, way: float, far: float) -> Point:
    turn = radians(way)
    return at[0] + far * cos(turn), at[1] + far * sin(turn)


def _beyond(at: Point, radius: float, extent: Box) -> float:
    """Return how much a bubble widens and heightens a drawing."""
    left, bottom, right, top = extent
    x, y = at
    wider = max(0.0, left - x + radius, x + radius - right)
    return wider + max(0.0, bottom - y + radius, y + radius - top)


def _clear(
    spots: list[Point], room: float, there: tuple[shapely.STRtree, ...]
) -> Iterator[int]:
    """Yield the numbers of the spots that have so much room around them, in order."""
    points = shapely.points(spots)
    taken = {
        int(place)
        for tree in there
        for place in tree.query(points, "dwithin", distance=room)[0]
    }
    yield from (place for place in range(len(spots)) if place not in taken)
