"""Mark on one view where another is cut, or from where it is seen.

In:  `Solution`, a `Drawing`, the views' numbers.   Out: the drawing with its marks.
Frame: the drawing's own.

A mark is a bubble with the view's number over its sheet's, an arrow in the direction of
sight, and a leader to the place. It stands clear of all lines and lettering, as near to
its place as can be.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import atan2, cos, dist, inf, radians, sin
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import arrow_of, bubble
from shopdraw.drawing.in_the_way import InTheWay
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.sheets import STYLES
from shopdraw.solution import Solution
from shopdraw.views.seen_from import Sight, sights_on

ROOM = 1.75
"""How far from its middle a bubble with its arrow reaches, in its radii."""
TIGHT = 1.1
"""The same of a bubble without an arrow, where there is no more room, or only beyond
brick."""
STEP, FURTHEST = 0.5, 80
"""How far apart places are tried, in radii of a bubble, and how many."""
SHELL = 8
"""At so many distances places are tried together."""
LONG = 7.0
"""A leader longer than so many radii is hard to follow: what is more counts twice."""
CROSSED = 2.0
"""A leader may go so much further, in radii, rather than cross one more line."""
ELSEWHERE = 1.0
"""The same, rather than lead to another place than the first."""
Found = tuple[Point, Point, Point]
"""A bubble's middle, and its leader's end there and at the place."""
ANYWHERE: Box = (-inf, -inf, inf, inf)
"""The extent of a drawing that no bubble makes larger."""
ASIDE = (180.0, *(180.0 + way * turn for turn in range(15, 90, 15) for way in (1, -1)))
"""The directions of a bubble at the left of all strings."""
STUB = 0.6
"""How much of the line of its cut is drawn there, in radii of a bubble."""
THROUGH = 10.0
"""The same, rather than go through brick, a fitting or woodwork."""
GROWN = 2.0
"""A leader may go so much further for each length by which the view grows less."""
Spots = npt.NDArray[np.float64]
Costs = npt.NDArray[np.float64]
Numbers = npt.NDArray[np.int64]


def with_sights(
    solution: Solution, drawing: Drawing, numbers: Mapping[str, int]
) -> Drawing:
    """Add to a drawing the marks of the views that are cut on it."""
    sights = [x for x in sights_on(solution, drawing.name) if x.view in numbers]
    if not sights:
        return drawing
    text = STYLES[solution.lengths].text
    drawn, amiss = _with_all(drawing, sights, numbers, text)
    for order in _other_orders(sights):
        if not amiss:
            break
        other, still_amiss = _with_all(drawing, order, numbers, text)
        if still_amiss < amiss:
            drawn, amiss = other, still_amiss
    return drawn


def _other_orders(sights: list[Sight]) -> Iterator[list[Sight]]:
    """Yield marks as they are placed where in the usual order one was amiss.

    At a jamb's foot a mark may shut in those of the courses above it: these go first.
    Or those that may stand at the left make room for those that may not.
    """
    if any(sight.instead is not None for sight in sights):
        yield sorted(sights, key=lambda x: x.instead is None)
        yield [replace(x, is_left=x.instead is not None) for x in sights]


def _with_all(
    drawing: Drawing, sights: list[Sight], numbers: Mapping[str, int], text: float
) -> tuple[Drawing, int]:
    """Draw marks one after another, and count what is amiss."""
    there, ink, amiss = InTheWay(drawing, text), list(drawing.ink), 0
    for sight in sights:
        marked, off = _marked(there, sight, numbers[sight.view])
        there.add(replace(drawing, ink=marked))
        ink += marked
        amiss += off
    return replace(drawing, ink=tuple(ink)), amiss


def _marked(there: InTheWay, sight: Sight, number: int) -> tuple[tuple[Ink, ...], int]:
    """Draw a mark at the nearest clear place, and count what is amiss.

    That is a leader that has no usual way clear of lettering, and each mark or other
    leader that it runs through.

    Raises:
        ValueError: there is no place.
    """
    radius, extent, trees = there.radius, there.extent, there.trees()
    found = None
    if not sight.is_left:
        found = _round_brick(sight, radius, trees, extent)
    stub: tuple[Point, ...] = ()
    too_long = found is None or dist(found[2], found[0]) > LONG * radius
    if sight.instead is not None and too_long:
        start = there.left_of_strings(), sight.instead
        stub, turn = (start,), (start[0] - STUB * radius, start[1])
        sight, extent = replace(sight, at=turn, ways=ASIDE, others=()), ANYWHERE
        found = _place(sight, radius, trees, extent)
    if found is None and sight.looks is None:
        found = _place(sight, radius, trees, extent, TIGHT)
    amiss = int(found is None and sight.is_led)
    if amiss and sight.looks is None:
        found = _place(sight.closely, radius, trees, extent, TIGHT)
    if found is None:
        # Rather than none, a leader through lettering.
        lines, words, _, solid = trees
        through = lines, words, shapely.STRtree([]), solid
        found = _place(sight, radius, through, extent)
    if found is None:
        message = f"{sight.view} finds no place for its mark on {there.name}"
        raise ValueError(message)
    at, end, start = found
    ink = [*bubble(number, "drawn", at, there.text, there.scale, sight.looks)]
    if sight.is_led:
        if sight.looks is not None:
            end = _off_arrow(start, end, arrow_of(at, radius, sight.looks))
        ink.append(Stroke(layers.NOTES, (*stub, start, end)))
        amiss += there.marks_across(shapely.LineString((start, end)))
    elif not _points_there(sight, at):
        (x, y), (a, b) = at, end
        stroke = (end, (a + 0.6 * (a - x), b + 0.6 * (b - y)))
        ink.append(Stroke(layers.NOTES, stroke))
    return tuple(ink), amiss


def _off_arrow(start: Point, end: Point, arrow: tuple[Point, Point, Point]) -> Point:
    """Return where a leader ends: at its bubble's arrow, where it would run over it."""
    over = shapely.LineString((start, end)).intersection(shapely.Polygon(arrow))
    x, y = min(over.coords, default=end, key=lambda spot: dist(start, spot))
    return x, y


def _round_brick(
    sight: Sight, radius: float, there: tuple[shapely.STRtree, ...], extent: Box
) -> Found | None:
    """Return what `_place` does; with less room about it rather than through brick.

    So it is rather than at the end of a long leader, too, if it is near then.
    """
    found = _place(sight, radius, there, extent)
    if found is None or sight.looks is not None:
        return found
    far = 2 * LONG * radius
    if dist(found[2], found[0]) <= far and not _through(found, there[3]):
        return found
    tight = _place(sight, radius, there, extent, TIGHT)
    if tight is None or _through(tight, there[3]):
        return found
    is_near = dist(tight[2], tight[0]) <= far or _through(found, there[3])
    return tight if is_near else found


def _through(found: Found, solid: shapely.STRtree) -> bool:
    """Whether a leader runs through something solid."""
    _, end, start = found
    return len(solid.query(shapely.LineString((start, end)), "crosses")) > 0


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
) -> Found | None:
    """Return a bubble's middle, its leader's end there and at the place; None for none.

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
    ways = [(cos(radians(way)), sin(radians(way))) for way in sight.tried]
    starts = np.repeat(np.array(sight.places), len(ways), axis=0)
    toward = np.tile(np.array(ways), (len(sight.places), 1))
    elsewhere = ELSEWHERE * radius * (np.arange(len(starts)) >= len(ways))
    # What is crossed on the way to a place is crossed on the way beyond it too.
    crossed = np.zeros(len(starts))
    best, chosen = inf, None
    every = (ROOM + STEP * np.arange(FURTHEST)) * radius
    for some in np.split(every, range(SHELL, FURTHEST, SHELL)):
        if some[0] >= best:
            break
        if sight.is_led:
            # What stops a leader stops each longer one that goes the same way.
            shut = _stopped(unled, starts, starts + (some[0] - radius) * toward)
            starts, toward = (np.delete(x, shut, axis=0) for x in (starts, toward))
            crossed, elsewhere = (np.delete(x, shut) for x in (crossed, elsewhere))
        turns = np.arange(len(starts))
        far, way = (x.ravel() for x in np.meshgrid(some, turns, indexing="ij"))
        spots = starts[way] + far[:, None] * toward[way]
        ends = starts[way] + (far - radius)[:, None] * toward[way]
        costs = far + np.maximum(0.0, far - LONG * radius)
        costs += GROWN * _beyond(spots, radius, extent) + elsewhere[way]
        left = np.flatnonzero(costs + crossed[way] < best)
        for tree in (words, lines):
            near = tree.query(shapely.points(spots[left]), "dwithin", room * radius)
            left = np.delete(left, near[0])
        if sight.is_led:
            left = np.delete(left, _stopped(unled, starts[way[left]], ends[left]))
        # What is crossed takes longest to count: only of those that may yet be chosen.
        for here in np.split(left, np.searchsorted(far[left], some[1:])):
            these = here[costs[here] + crossed[way[here]] < best]
            if sight.is_led and len(these):
                leaders = _lines(starts[way[these]], ends[these])
                crossed[way[these]] = _crossed(leaders, lines, solid, radius)
                costs[these] += crossed[way[these]]
            if costs[these].min(initial=inf) < best:
                one = these[costs[these].argmin()]
                best = float(costs[one])
                chosen = _point(spots[one]), _point(ends[one]), _point(starts[way[one]])
    return chosen


def _lines(starts: Spots, ends: Spots) -> Any:
    """Return a line from each of some points to the other at its place."""
    return shapely.linestrings(np.stack((starts, ends), axis=1))


def _stopped(tree: shapely.STRtree, starts: Spots, ends: Spots) -> Numbers:
    """Return which of some lines meet anything, by their numbers."""
    met: Numbers = tree.query(_lines(starts, ends), "intersects")[0]
    return met


def _crossed(
    leaders: Any, lines: shapely.STRtree, solid: shapely.STRtree, radius: float
) -> Costs:
    """Return what each of some leaders costs more for what it crosses."""
    cost = np.zeros(len(leaders))
    for each, tree in ((CROSSED, lines), (THROUGH, solid)):
        met = tree.query(leaders, "crosses")[0]
        cost += each * radius * np.bincount(met, minlength=len(leaders))
    return cost


def _point(spot: Spots) -> Point:
    x, y = spot
    return float(x), float(y)


def _beyond(spots: Spots, radius: float, extent: Box) -> Costs:
    """Return how much a bubble at each spot widens and heightens a drawing."""
    left, bottom, right, top = extent
    x, y = spots.T
    wider: Costs = np.maximum(0.0, np.maximum(left - x + radius, x + radius - right))
    higher: Costs = np.maximum(0.0, np.maximum(bottom - y + radius, y + radius - top))
    return wider + higher
