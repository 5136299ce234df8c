"""Trace what is built on every view, from the solution alone.

In:  `Solution`, a `Drawing` for its name and its scale.   Out: `Trace`s.
Frame: the drawing's own.

The ink of a drawing is not looked at, so a wrong outline, a missing piece or a line on
the wrong layer is found: the solution says otherwise.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from math import cos, radians

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.expected import Trace
from shopdraw.drawing.ink import Drawing, Point
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.laying.outlines import face_ring, front_ring, whole_ring
from shopdraw.solution import Solution
from shopdraw.views.expected.aslant import layer_of, trace_aslant, trace_turned
from shopdraw.views.expected.details import trace_details
from shopdraw.views.expected.hearth import (
    hearth_at_centre,
    trace_hearth,
    trace_hearth_below,
    trace_hearth_edge,
)
from shopdraw.views.expected.units import trace_units
from shopdraw.views.parts.found import cut_at_centre, head_at_centre
from shopdraw.views.wall import corner, edges, inside, plans, sections, turned

BUILT = frozenset(
    (layers.OUTLINE, layers.UNITS, layers.CORNERS, layers.CUTS, layers.SECTION)
)
"""The layers of what is built: outlines, units, cut lines, what a section cuts."""
APART = BUILT | frozenset(layers.OF_RETURNS.values())
"""The same where the returns have layers of their own."""
FACE_OF_VIEW = {
    "elevation": "front",
    "return-left": "left",
    "return-right": "right",
    "chamfer-left": "left chamfer",
    "chamfer-right": "right chamfer",
    "alcove-left": "left alcove",
    "alcove-right": "right alcove",
    "reveal-left": "left reveal",
    "reveal-right": "right reveal",
}
"""The views that insert pieces, and the face that each shows."""
HEARTH_VIEWS = {
    "hearth-plan": "hearth",
    "riser-front": "riser",
    "riser-left": "left riser",
    "riser-right": "right riser",
}
"""The views that insert the pieces of a hearth of brick, and the face of each."""
NOTHING = 1e-9
Exact = Iterable[tuple[Fraction, Fraction]]
Traces = Iterator[Trace]


def trace_built(solution: Solution, drawing: Drawing) -> Traces:
    """Yield what a drawing must show of what is built; nothing for tables and notes."""
    name, _, number = drawing.name.rpartition("-")
    if drawing.name in FACE_OF_VIEW:
        yield from _face(solution, FACE_OF_VIEW[drawing.name])
    elif drawing.name in HEARTH_VIEWS:
        yield from trace_hearth(solution, drawing.name)
    elif name == "plan":
        yield from _plan(solution, solution.coursing.courses[int(number) - 1])
    elif name == "corner":
        surround = solution.surround
        shown = turned.turned_at(
            solution, surround.folds[int(number) - 1], drawing.scale
        )
        yield from trace_turned(solution, shown, turned.COURSES)
    elif name == "inside":
        yield from _inside(solution, inside.inside_of(solution, number, drawing.scale))
    elif name == "details":
        yield from trace_details(solution, drawing.scale, int(number) - 1)
    elif drawing.name in VIEWS:
        yield from VIEWS[drawing.name](solution, drawing.scale)


def trace_bare(solution: Solution) -> Traces:
    """Yield what the bare drawing must show, its origin under the opening's centre."""
    surround, coursing = solution.surround, solution.coursing
    middle = surround.opening.centre
    yield from _units(solution, "front", -middle)
    dx = float(surround.front.left - middle)
    for trace in trace_aslant(solution):
        yield replace(trace, points=tuple((x + dx, y) for x, y in trace.points))
    ring = front_ring(surround, coursing, solution.layout)
    yield Trace(layers.OUTLINE, "closed", _floats((x - middle, y) for x, y in ring))
    for face in (*surround.faces, *surround.reveals):
        if face.name == "front":
            continue
        place = bare_place(solution, face.name)
        shape: Exact = whole_ring(surround, coursing, face)
        if face in surround.reveals:
            shape = face_ring(surround, face, coursing.head)
        outline = _floats((x + place, y) for x, y in shape)
        for trace in (
            *_units(solution, face.name, place),
            Trace(layers.OUTLINE, "closed", outline),
        ):
            yield replace(trace, layer=layers.OF_RETURNS[trace.layer])


def bare_place(solution: Solution, face: str) -> Fraction:
    """Return what is added to x on a face of the bare drawing.

    The front stays. All that turns back at one side stands off by a foot or 300 mm,
    by what courses project, and by what splays; a jamb as far beyond that.
    """
    surround = solution.surround
    middle = surround.opening.centre
    if face == "front":
        return -middle
    left, right = surround.faces[0].left, surround.faces[-1].right
    is_left = face.startswith("left")
    foot = Fraction(12) if solution.lengths == "in" else Fraction(300)
    off = foot + 2 * solution.coursing.projection
    side = "left" if is_left else "right"
    splays = [
        x.width for x in surround.faces if x.name.startswith(side) and x.turn < 90
    ]
    place = off + sum(splays, Fraction(0))
    if face.endswith("reveal"):
        jamb = next(x for x in surround.reveals if x.name == face)
        place += off + (jamb.right - left if is_left else right - jamb.left)
    return -middle - place if is_left else place - middle


def _floats(points: Exact) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in points)


def _face(solution: Solution, name: str) -> Traces:
    """Yield a face from the front: its outline, its pieces, their cut lines."""
    surround, coursing = solution.surround, solution.coursing
    face = surround.face(name)
    yield from _units(solution, name, -face.left)
    if name == "front":
        yield from trace_aslant(solution)
        ring: Exact = front_ring(surround, coursing, solution.layout)
    else:
        is_reveal = face in surround.reveals
        ring = whole_ring(surround, coursing, face)
        if is_reveal:
            ring = face_ring(surround, face, coursing.head)
    outline = _floats((x - face.left, y) for x, y in ring)
    yield Trace(layers.OUTLINE, "closed", outline)


def _units(solution: Solution, face: str, dx: Fraction) -> Traces:
    yield from trace_units(solution.layout, face, dx)


def _jamb_in_section(solution: Solution) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """Yield what a section sees of the left jamb that brick turns into."""
    fold, deep = solution.surround.jamb_folds[0], cos(radians(solution.surround.splay))
    for piece in solution.layout.pieces:
        for outline in piece.outlines:
            if outline.face == "left reveal":
                points = ((float(x - fold) * deep, float(y)) for x, y in outline.points)
                yield layer_of(piece), tuple(points)


def _cut(ring: tuple[Point, ...]) -> Traces:
    """Yield material that is cut through: its tint and its outline."""
    yield Trace(layers.SECTION, "fill", ring)
    yield Trace(layers.SECTION, "closed", ring)


def _plan(solution: Solution, course: Course) -> Traces:
    for cut in plans.cuts_of(solution, course):
        yield from _cut(_floats(cut.ring))


def _first_course(solution: Solution, _: float) -> Traces:
    yield from _plan(solution, solution.coursing.courses[0])


def _beside_the_centre(
    solution: Solution, head: Fraction
) -> Iterator[tuple[Fraction, Fraction]]:
    """Yield the jamb's courses, and an arch's soffit over its spring line as one."""
    spring = head if solution.layout.arch is None else solution.coursing.head
    for course in solution.coursing.courses:
        if course.bottom < spring:
            yield course.bottom, min(course.top, spring)
    if spring < head:
        yield spring, head


def _through_the_opening(solution: Solution, _: float) -> Traces:
    """Yield the section through the opening: what is cut, and the jamb beyond."""
    for cut in cut_at_centre(solution):
        yield from _cut(_floats(cut.ring))
    # The wall is further back from the face, where the bed is thickest.
    back = float(solution.surround.build_out_most - solution.surround.build_out)
    for cut in hearth_at_centre(solution):
        yield from _cut(tuple((x + back, y) for x, y in _floats(cut.ring)))
    if solution.surround.reveals:
        for layer, ring in _jamb_in_section(solution):
            yield Trace(layer, "closed", ring)
        return
    thick, head = solution.job.brick.thickness, head_at_centre(solution)
    floor = solution.surround.as_built.hearth.at(solution.surround.opening.centre)
    for bottom, top in _beside_the_centre(solution, head):
        low, high = max(bottom, floor), min(top, head)
        if high > low:
            box = ((0, low), (thick, low), (thick, high), (0, high))
            yield Trace(
                layers.UNITS, "closed", tuple((float(x), float(y)) for x, y in box)
            )


def _at_the_head(solution: Solution, scale: float) -> Traces:
    """Yield the section at the head: what is cut, and the jamb beyond the ledger."""
    for cut in sections.over_the_opening(solution):
        yield from _cut(_floats(cut.ring))
    thick = float(solution.job.brick.thickness)
    low, high = sections.jamb_shown(solution, scale)
    if solution.surround.reveals:
        yield from _jamb_below_the_head(solution, low, high)
        return
    for bottom, top in _beside_the_centre(solution, head_at_centre(solution)):
        a, b = max(float(bottom), low), min(float(top), high)
        if b <= a:
            continue
        for x in (0.0, thick):
            yield Trace(layers.UNITS, "open", ((x, a), (x, b)))
        for y in (float(bottom), float(top)):
            if low < y < high:
                yield Trace(layers.UNITS, "open", ((0.0, y), (thick, y)))


def _jamb_below_the_head(solution: Solution, low: float, high: float) -> Traces:
    """Yield the edges of the brick in the jamb, as far as wall and level go."""
    thick = float(solution.job.brick.thickness)
    wall = float(solution.surround.build_out) + sections.WALL_SHOWN * thick
    for _, ring in _jamb_in_section(solution):
        near, far = min(x for x, _ in ring), max(x for x, _ in ring)
        foot, top = min(y for _, y in ring), max(y for _, y in ring)
        a, b = max(foot, low), min(top, high)
        for x in (near, far):
            if x <= wall and b > a:
                yield Trace(layers.UNITS, "open", ((x, a), (x, b)))
        for y in (foot, top):
            if low < y < high and near < wall:
                yield Trace(layers.UNITS, "open", ((near, y), (min(far, wall), y)))


def _shown(
    ring: tuple[Point, ...],
    far: tuple[float, float],
    goes_on: tuple[bool, bool],
    near: float = 0.0,
) -> Traces:
    """Yield cut material that is broken off so far from the axes, on their plus side.

    Where it is broken off it has no outline. It begins at the axes, or at `near`.
    """
    part = shapely.Polygon(ring).intersection(shapely.box(near, near, *far))
    if part.area < NOTHING:
        return
    corners = shapely.get_coordinates(shapely.simplify(part, NOTHING))[:-1]
    points = tuple((float(x), float(y)) for x, y in corners)
    yield Trace(layers.SECTION, "fill", points)
    for place, (a, b) in enumerate(zip(points, (*points[1:], points[0]), strict=True)):
        ends = ((a[i], b[i], far[i], goes_on[i]) for i in (0, 1))
        if any(on and abs(p - at) < NOTHING > abs(q - at) for p, q, at, on in ends):
            chain = (*points[place + 1 :], *points[: place + 1])
            yield Trace(layers.SECTION, "open", chain)
            return
    yield Trace(layers.SECTION, "closed", points)


def _jamb_courses(solution: Solution, scale: float) -> Traces:
    """Yield courses 1 and 2 at a splayed jamb, broken off in the leg."""
    shown = turned.turned_at(solution, solution.surround.jamb_folds[0], scale)
    below = solution.coursing.courses_below_head
    yield from trace_turned(solution, shown, min(turned.COURSES, below))


def _interlock(solution: Solution, scale: float) -> Traces:
    shown = corner.corner_of(solution, scale)
    for place, course in enumerate(solution.coursing.courses[: corner.COURSES]):
        for cut in plans.cuts_of(solution, course):
            ring = tuple(
                (shown.side * (x - shown.fold), y) for x, y in _floats(cut.ring)
            )
            for trace in _shown(ring, shown.far, shown.goes_on):
                points = tuple(
                    (shown.side * x + place * shown.apart, y) for x, y in trace.points
                )
                yield Trace(trace.layer, trace.kind, points)


def _inside(solution: Solution, shown: inside.Inside) -> Traces:
    """Yield courses 1 and 2 at an inside corner, broken off on both faces."""
    alcove, beside = shown.alcove.name, shown.beside.name
    for place, course in enumerate(solution.coursing.courses[: inside.COURSES]):
        for cut in plans.cuts_of(solution, course):
            if not {x.face for x in cut.piece.outlines} & {alcove, beside}:
                continue
            ring = tuple(
                (shown.side * (x - shown.corner[0]), shown.corner[1] - y)
                for x, y in _floats(cut.ring)
            )
            for trace in _shown(ring, shown.far, (True, True), -shown.far[0]):
                points = tuple(
                    (shown.side * x + place * shown.apart, -y) for x, y in trace.points
                )
                yield Trace(trace.layer, trace.kind, points)


def _at_the_jamb(solution: Solution, scale: float) -> Traces:
    """Yield course 1 beside the opening, mirrored while it is broken off."""
    _, row = sections.beside_the_opening(solution)
    far = sections.leg_shown(solution, scale)
    goes_on = any(float(left) < -far for left, _ in row)
    for left, right in row:
        ends = -float(right), -float(left)
        for trace in _box(solution, ends, far, goes_on=goes_on):
            points = tuple((-x, y) for x, y in trace.points)
            yield Trace(trace.layer, trace.kind, points)


def _box(
    solution: Solution, ends: tuple[float, float], far: float, *, goes_on: bool
) -> Traces:
    """Yield a brick in plan, between two ends along the face, broken off beyond it."""
    left, right = ends[0], min(ends[1], far)
    if left >= far:
        return
    high = float(solution.job.brick.thickness)
    ring = ((left, 0.0), (right, 0.0), (right, high), (left, high))
    yield Trace(layers.SECTION, "fill", ring)
    if goes_on and right == far:
        yield Trace(layers.SECTION, "open", (*ring[2:], *ring[:2]))
    else:
        yield Trace(layers.SECTION, "closed", ring)


def _courses(courses: list[Course], solution: Solution) -> Traces:
    for course in courses:
        low, high = course.bottom, course.top
        near = -course.projection
        far = near + solution.job.brick.thickness
        yield from _cut(_floats(((near, low), (far, low), (far, high), (near, high))))


def _upright(solution: Solution) -> list[Course]:
    """Return the courses that a detail shows: no soldiers over the opening."""
    every = solution.coursing.courses
    return [x for x in every if x.band or x.kind == "running"]


def _at_the_hearth(solution: Solution, scale: float) -> Traces:
    yield from trace_hearth_below(solution, scale)
    yield from _courses(_upright(solution)[: edges.COURSES], solution)


def _at_the_top(solution: Solution, _: float) -> Traces:
    yield from _courses(_upright(solution)[-edges.COURSES :], solution)


def _at_the_corbel(solution: Solution, _: float) -> Traces:
    numbers = {n + by for n in solution.coursing.projections for by in (-1, 0, 1)}
    every = solution.coursing.courses
    yield from _courses([x for x in every if x.number in numbers], solution)


def _at_the_side(solution: Solution, scale: float) -> Traces:
    edge, far = solution.surround.left_edge, edges.side_shown(solution, scale)
    ends = float(edge.brick_x - edge.x), far
    yield from _box(solution, ends, far, goes_on=True)


VIEWS: dict[str, Callable[[Solution, float], Traces]] = {
    "extension": _first_course,
    "interlock": _interlock,
    "jamb": _jamb_courses,
    "upright-section": _through_the_opening,
    "head-section": _at_the_head,
    "jamb-plan": _at_the_jamb,
    "hearth-edge": _at_the_hearth,
    "top-edge": _at_the_top,
    "corbel": _at_the_corbel,
    "side-edge": _at_the_side,
    "hearth-front-section": trace_hearth_edge,
}
