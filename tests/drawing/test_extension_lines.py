"""Extension lines reach the work that is measured; they cross neither it nor words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache

import pytest
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.extension_lines import SOLID, tied
from shopdraw.drawing.extents import every_line
from shopdraw.drawing.ink import Drawing, Ink, Insert, Measure, Point, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.measures import CLEAR, GAP, Line, lines_of
from shopdraw.views.every import every_view
from tests.demos import solution_of
from tests.longer import mostly_long_demos

# Edges out of true, chamfers beside the front, an arch: there lines that go straight
# on meet brick soonest.
most_demos = mostly_long_demos(
    "chamfered-breast", "crooked-study", "semicircular-dining-room"
)
BY_EYE = 1e-3
"""Nothing nearer than this is told apart on a drawing, at full size."""


def measure(low: float, high: float, line_at: float = -3.0, **more: str) -> Measure:
    """Return a dimension below or left of the work, set out with short lines."""
    start, end = (low, line_at + 1.0), (high, line_at + 1.0)
    if more:
        start, end = start[::-1], end[::-1]
    axis = "y" if more else "x"
    return Measure(layers.DIMENSIONS, start, end, axis, line_at, "8", 0.1)


def ring(*points: Point, layer: str = layers.UNITS) -> Stroke:
    return Stroke(layer, points, closed=True)


def begins(*ink: Ink) -> tuple[Point, Point]:
    """Return where the first dimension of a drawing is tied to."""
    (found, *_) = (
        x for x in tied(Drawing("d", "", 1.0, ink)).ink if isinstance(x, Measure)
    )
    return found.start, found.end


BRICKS = ring((0.0, 0.0), (8.0, 0.0), (8.0, 2.0), (0.0, 2.0))
ABOVE = ring((2.0, 3.0), (10.0, 3.0), (10.0, 5.0), (2.0, 5.0))


def test_it_reaches_the_nearest_corner_that_is_measured() -> None:
    assert begins(measure(0.0, 8.0), BRICKS) == ((0.0, 0.0), (8.0, 0.0))
    assert begins(measure(0.0, 10.0), BRICKS, ABOVE) == ((0.0, 0.0), (10.0, 3.0))
    assert begins(measure(0.0, 2.0, axis="y"), BRICKS) == ((0.0, 0.0), (0.0, 2.0))
    above = replace(measure(0.0, 8.0, 6.0), start=(0.0, 5.0), end=(8.0, 5.0))
    assert begins(above, BRICKS) == ((0.0, 2.0), (8.0, 2.0))


def test_it_stays_short_where_brick_or_a_level_is_in_the_way() -> None:
    assert begins(measure(0.0, 2.0), measure(2.0, 8.0), BRICKS, ABOVE)[1] == (2.0, -2.0)
    assert begins(measure(0.0, 9.5), measure(9.5, 12.0), ABOVE)[1] == (9.5, -2.0)
    datum = Stroke(layers.LEVELS, ((8.0, 0.0), (12.0, 0.0)))
    more = measure(10.0, 12.0)
    assert begins(measure(8.0, 10.0), more, BRICKS, ABOVE)[1] == (10.0, 3.0)
    both = begins(measure(8.0, 10.0), more, BRICKS, ABOVE, datum)
    assert both == ((8.0, 0.0), (10.0, -2.0))


def test_the_end_of_a_string_goes_on_to_what_is_in_the_way() -> None:
    """So does what lies behind brick, or far up it: nothing else ties it."""
    assert begins(measure(1.0, 7.0), BRICKS) == ((1.0, 0.0), (7.0, 0.0))
    datum = Stroke(layers.LEVELS, ((8.0, 0.0), (12.0, 0.0)))
    assert begins(measure(8.0, 10.0), BRICKS, ABOVE, datum)[1] == (10.0, 0.0)
    # Nearer the work another string has its end there: the two would lie on each other.
    nearer = measure(1.0, 8.0, -2.0)
    assert begins(measure(1.0, 7.0), nearer, BRICKS) == ((1.0, -2.0), (7.0, 0.0))
    # What slants is measured to the nearest mark of a tape.
    assert begins(measure(-0.004, 8.0), BRICKS)[0] == (-0.004, 0.0)
    assert begins(measure(-0.1, 8.0), BRICKS)[0] == (-0.1, -2.0)


def test_the_end_of_a_string_goes_on_beyond_words() -> None:
    words = Words(layers.NOTES, (0.0, -1.0), "WALL", 0.2, "centre", "middle")
    mark = replace(words, at=(0.0, 1.0))
    drawing = tied(Drawing("d", "", 1.0, (measure(0.0, 8.0), words, mark, BRICKS)))
    (beyond,) = (x for x in drawing.ink if isinstance(x, Stroke) and not x.closed)
    (_, foot, _, top) = box_of(words, 1.0)
    assert begins(measure(0.0, 8.0), words, BRICKS)[0] == (0.0, foot)
    (low, high) = beyond.points
    assert low == (0.0, pytest.approx(top + CLEAR * 0.1))
    assert high == (0.0, pytest.approx(-GAP * 0.1))


def test_a_level_of_an_upright_string_goes_on_beyond_words() -> None:
    """A nearer string's figure lies on its way; a level is read at the work."""
    words = Words(layers.NOTES, (-1.0, 2.0), "8", 0.2, "centre", "middle")
    strings = measure(0.0, 2.0, axis="y"), measure(2.0, 5.0, axis="y")
    tower = ring((0.0, 0.0), (8.0, 0.0), (8.0, 2.0), (0.0, 2.0), (0.0, 5.0))
    drawing = tied(Drawing("d", "", 1.0, (*strings, words, tower)))
    beyond = [x for x in drawing.ink if isinstance(x, Stroke) and not x.closed]
    (left, _, right, _) = box_of(words, 1.0)
    first = next(x for x in drawing.ink if isinstance(x, Measure))
    assert (first.start, first.end) == ((0.0, 0.0), (pytest.approx(left), 2.0))
    # It is the end of one dimension and the start of the next: it is drawn once.
    (only,) = beyond
    (near, far) = only.points
    assert near == (pytest.approx(right + CLEAR * 0.1), 2.0)
    assert far == (pytest.approx(-GAP * 0.1), 2.0)
    # A nearer string has its end there: the two would lie on each other.
    nearer = replace(strings[0], line_at=-0.5, start=(-0.2, 0.0), end=(-0.2, 2.0))
    drawing = tied(Drawing("d", "", 1.0, (*strings, nearer, words, tower)))
    assert not [x for x in drawing.ink if isinstance(x, Stroke) and not x.closed]


def test_it_runs_across_what_others_make_unless_that_is_measured() -> None:
    shelf = ring(
        (-1.0, -1.5), (9.0, -1.5), (9.0, -1.0), (-1.0, -1.0), layer=layers.OTHERS
    )
    assert begins(measure(0.0, 8.0), BRICKS, shelf) == ((0.0, 0.0), (8.0, 0.0))
    assert begins(measure(0.0, 9.0), BRICKS, shelf) == ((0.0, 0.0), (9.0, -1.5))


def test_it_begins_short_of_words_in_its_way() -> None:
    words = Words(layers.NOTES, (8.0, -1.0), "WALL", 0.5, "centre", "middle")
    (_, foot, _, _) = box_of(words, 1.0)
    assert begins(measure(0.0, 8.0), BRICKS, words) == ((0.0, 0.0), (8.0, foot))
    words = replace(words, at=(8.0, -2.0))
    assert begins(measure(0.0, 8.0), BRICKS, words) == ((0.0, 0.0), (8.0, -2.0))


def test_it_stays_short_where_nothing_is_measured() -> None:
    assert begins(measure(0.0, 9.0), BRICKS) == ((0.0, 0.0), (9.0, -2.0))
    inner = measure(0.0, 3.0), measure(3.0, 8.0)
    assert begins(*inner, BRICKS) == ((0.0, 0.0), (3.0, -2.0))
    hatching = ring((0.0, 0.0), (8.0, 0.0), (8.0, 2.0), layer=layers.PATTERN)
    assert begins(measure(0.0, 8.0), hatching) == ((0.0, -2.0), (8.0, -2.0))


def test_it_ends_at_an_outline_that_a_corner_lies_just_inside_of() -> None:
    corners = (-1.0, -0.5), (9.0, -0.5), (9.0, 3.0), (-1.0, 3.0)
    face = ring(*corners, layer=layers.OUTLINE)
    assert begins(measure(0.0, 8.0), BRICKS, face) == ((0.0, -0.5), (8.0, -0.5))
    inner = measure(0.0, 4.0), measure(4.0, 8.0)
    assert begins(*inner, BRICKS, face) == ((0.0, -0.5), (4.0, -2.0))


def test_it_ends_where_an_outline_begins_that_it_would_run_beside() -> None:
    """What stands out higher up is measured; the outline below would look thick."""
    corbelled = (0.0, 0.0), (8.0, 0.0), (8.0, 4.0), (8.05, 4.0), (8.05, 5.0), (0.0, 5.0)
    face = ring(*corbelled, layer=layers.OUTLINE)
    assert begins(measure(0.0, 8.05), face) == ((0.0, 0.0), (8.05, 0.0))
    further = tuple((x + 0.2 if x > 8.0 else x, y) for x, y in corbelled)
    face = ring(*further, layer=layers.OUTLINE)
    assert begins(measure(0.0, 8.25), face) == ((0.0, 0.0), (8.25, 4.0))


@cache
def views_of(name: str) -> list[tuple[Drawing, Drawing]]:
    """Return every view of a demo but its cut pieces, as set out and as tied."""
    every = every_view(solution_of(name))
    bare = [view.draw(4.0 if view.is_large else 12.0) for view in every]
    return [(each, tied(each)) for each in bare]


def taken_on(bare: Drawing, drawing: Drawing) -> Iterator[Line]:
    """Yield by what the extension lines are longer than set out, less the usual gap."""
    before, now = (
        [x for x in each.ink if isinstance(x, Measure)] for each in (bare, drawing)
    )
    for short, ink in zip(before, now, strict=True):
        drawn = lines_of(ink, drawing.scale)[1:3]
        begun = (short.start, ink.start), (short.end, ink.end)
        for (first, _), (set_out, tied_to) in zip(drawn, begun, strict=True):
            if set_out != tied_to:
                yield first, set_out
    for beyond in drawing.ink:
        if isinstance(beyond, Stroke) and beyond not in bare.ink:
            first, last = beyond.points
            yield first, last


def over_work(drawing: Drawing, lines: Iterable[Line]) -> list[Line]:
    """Return which of some lines cross the outline of solid work."""
    solid = shapely.STRtree(
        [
            shapely.LineString(line)
            for line in every_line(replace(drawing, ink=_solid(drawing)))
        ]
    )
    return [
        line
        for line in lines
        if len(solid.query(shapely.LineString(line), predicate="crosses"))
    ]


def _solid(drawing: Drawing) -> tuple[Ink, ...]:
    return tuple(
        ink
        for ink in drawing.ink
        if isinstance(ink, Stroke | Insert) and ink.layer in SOLID
    )


@most_demos
def test_no_extension_line_of_a_demo_is_taken_on_across_brick(demo: str) -> None:
    for bare, drawing in views_of(demo):
        assert over_work(drawing, taken_on(bare, drawing)) == []


def test_one_that_crosses_brick_is_found() -> None:
    bare = Drawing("d", "", 1.0, (measure(4.0, 8.0), BRICKS))
    through = replace(measure(4.0, 8.0), start=(4.0, 1.0), end=(8.0, -0.5))
    drawing = replace(bare, ink=(through, BRICKS))
    assert len(over_work(drawing, taken_on(bare, drawing))) == 1
    assert over_work(tied(bare), taken_on(bare, tied(bare))) == []


@most_demos
def test_what_a_plan_measures_is_tied_to_its_brick(demo: str) -> None:
    """So are three in four along x where there is a corner; words keep others short."""
    reached, ends = 0, 0
    plans = (pair for pair in views_of(demo) if pair[1].name.startswith("plan-"))
    for bare, plan in plans:
        cut = [x.points for x in _solid(plan) if isinstance(x, Stroke)]
        corners = [corner for points in cut for corner in points]
        for ink in plan.ink:
            if isinstance(ink, Measure) and ink.axis == "x":
                for end in (ink.start, ink.end):
                    over = [y for x, y in corners if abs(x - end[0]) < BY_EYE]
                    ends += bool(over)
                    reached += any(abs(y - end[1]) < BY_EYE for y in over)
        assert bare.ink != plan.ink
    assert reached >= 0.75 * ends > 0


def test_a_spot_where_a_line_goes_straight_on_is_no_corner() -> None:
    face = ring((0.0, 0.0), (4.0, 0.0), (8.0, 0.0), (8.0, 2.0), (0.0, 2.0))
    assert begins(measure(0.0, 8.0), face) == ((0.0, 0.0), (8.0, 0.0))
    inner = measure(0.0, 4.0), measure(4.0, 8.0)
    assert begins(*inner, face) == ((0.0, 0.0), (4.0, -2.0))
    assert begins(measure(0.0, 4.0), face) == ((0.0, 0.0), (4.0, 0.0))
