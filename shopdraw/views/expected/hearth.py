"""Trace what is built of a hearth of brick on each of its views.

In:  `Solution`, the view.   Out: `Trace`s, `Cut`s.
Frame: the drawing's own.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.expected import Trace
from shopdraw.drawing.ink import Point
from shopdraw.masonry.hearth.cuts import cut_hearth, riser_from_above
from shopdraw.masonry.hearth.form import RISER_FACES, BrickHearth
from shopdraw.masonry.laying.form import Cut
from shopdraw.solution import Solution
from shopdraw.views.expected.units import trace_units
from shopdraw.views.hearth.edge import shown_to
from shopdraw.views.wall.edges import before_the_face

Traces = Iterator[Trace]
ZERO = Fraction(0)


def trace_hearth(solution: Solution, view: str) -> Traces:
    """Yield what a view of the hearth, or of a face of its riser, must show."""
    hearth = solution.hearth
    if hearth is None:
        return
    if view == "hearth-plan":
        yield from trace_units(hearth.layout, "hearth", ZERO)
        for cut in riser_from_above(hearth):
            yield Trace(layers.UNITS, "closed", _floats(cut))
        yield Trace(
            layers.OUTLINE, "closed", _box(hearth.ground.width, hearth.ground.main[3])
        )
        return
    riser = hearth.riser
    if riser is None:
        return
    face = riser.surround.face(view.removeprefix("riser-"))
    yield from trace_units(hearth.layout, RISER_FACES[face.name], -face.left)
    yield Trace(layers.OUTLINE, "closed", _box(face.width, riser.coursing.top))


def _box(wide: Fraction, high: Fraction) -> tuple[Point, ...]:
    right, top = float(wide), float(high)
    return ((0.0, 0.0), (right, 0.0), (right, top), (0.0, top))


def _floats(cut: Cut) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in cut.ring)


def hearth_at_centre(solution: Solution) -> tuple[Cut, ...]:
    """Return what a section on the opening's centre line cuts of the hearth."""
    hearth = solution.hearth
    return () if hearth is None else _at_centre(hearth)


def _at_centre(hearth: BrickHearth) -> tuple[Cut, ...]:
    left, right = hearth.ground.opening
    return cut_hearth(hearth, (left + right) / 2)


def trace_hearth_edge(solution: Solution, _: float) -> Traces:
    """Yield the section at the front edge: what is cut, broken off at its back."""
    hearth = solution.hearth
    if hearth is None:
        return
    end = shown_to(solution, hearth)
    for cut in _at_centre(hearth):
        part = shapely.Polygon(_floats(cut)).intersection(
            shapely.box(-1e6, -1e6, end, 1e6)
        )
        if part.area <= 0:
            continue
        left, low, right, high = part.bounds
        ring = ((left, low), (right, low), (right, high), (left, high))
        yield Trace(layers.SECTION, "fill", ring)
        if max(float(x) for x, _ in cut.ring) > end:
            yield Trace(layers.SECTION, "open", (*ring[2:], *ring[:2]))
        else:
            yield Trace(layers.SECTION, "closed", ring)


def trace_hearth_below(solution: Solution, scale: float) -> Traces:
    """Yield the hearth's brick below the wall's, broken off before the face."""
    hearth = solution.hearth
    if hearth is None:
        return
    near = -before_the_face(solution, scale)
    far, low = float(solution.surround.build_out), -float(hearth.ground.thickness)
    ring = ((near, 0.0), (far, 0.0), (far, low), (near, low))
    yield Trace(layers.SECTION, "fill", ring)
    yield Trace(layers.SECTION, "open", ring)
