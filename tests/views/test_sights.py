"""A mark's leader goes through no fitting and no brick that the view cuts.

A mark with no place in the opening stands right beside the strings at the left.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction as F
from math import dist, hypot

import pytest
import shapely
from shapely import affinity

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import RADIUS, bubble, with_sheets
from shopdraw.drawing.extents import extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Fill, Measure, Stroke
from shopdraw.drawing.sheets import STYLES
from shopdraw.solution import Solution
from shopdraw.views.every import every_view
from shopdraw.views.parts.found import is_cut_as_at_centre
from shopdraw.views.seen_from import sights_on
from shopdraw.views.sights import with_sights
from tests.demos import solution_of
from tests.odd_jobs import odd_solution


def marked(solution: Solution, name: str, scale: float) -> tuple[Drawing, Drawing]:
    """Return a view as it is, and with its marks."""
    views = every_view(solution)
    numbers = {view.name: number for number, view in enumerate(views, start=1)}
    bare = next(view for view in views if view.name == name).draw(scale)
    return bare, with_sights(solution, bare, numbers)


def added(bare: Drawing, drawing: Drawing) -> list[Stroke]:
    ink = drawing.ink[len(bare.ink) :]
    return [x for x in ink if isinstance(x, Stroke)]


def gone_through(solution: Solution, bare: Drawing, drawing: Drawing) -> list[str]:
    """Name what a line of a mark goes through: fittings, and brick cut by the view."""
    solids = [
        ("brick", shapely.Polygon(x.points))
        for x in bare.ink
        if isinstance(x, Fill) and x.layer == layers.SECTION
    ]
    if drawing.name == "elevation":
        solids += [
            (x.name, shapely.box(*(float(y) for y in
                (x.left, x.bottom, x.left + x.width, x.bottom + x.height))))
            for x in solution.job.fitting
        ]  # fmt: skip
    lines = [shapely.LineString(x.points) for x in added(bare, drawing)]
    return [
        name
        for name, solid in solids
        for line in lines
        if line.intersection(solid).length > 0.1
    ]


VIEWS = [
    (demo, view, scale)
    for demo, scale in (
        ("splayed-parlour", 4.0), ("semicircular-dining-room", 8.0),
        ("chamfered-breast", 8.0), ("library-hearth", 4.0),
    )
    for view in ("elevation", "plan-1")
]  # fmt: skip


@pytest.mark.parametrize(("demo", "view", "scale"), VIEWS)
def test_no_mark_goes_through_a_fitting_or_cut_brick(
    demo: str, view: str, scale: float
) -> None:
    solution = solution_of(demo)
    assert gone_through(solution, *marked(solution, view, scale)) == []


def test_a_leader_through_a_fitting_is_noticed() -> None:
    solution = solution_of("splayed-parlour")
    bare, drawing = marked(solution, "elevation", 4.0)
    (fitting,) = solution.job.fitting
    x, y = float(fitting.left), float(fitting.bottom)
    line = Stroke(layers.NOTES, ((x - 1, y - 1), (x + 1, y + 1)))
    wrong = replace(drawing, ink=(*drawing.ink, line))
    assert gone_through(solution, bare, wrong) == [fitting.name]


def test_the_section_s_mark_stands_above_a_fitting_that_rises_over_the_top() -> None:
    solution = solution_of("splayed-parlour")
    (fitting,), top = solution.job.fitting, solution.coursing.top
    middle = solution.surround.opening.centre - solution.surround.front.left
    sides = {"left": middle - 1, "bottom": top - 1, "width": F(2), "height": F(60)}
    high = fitting.model_copy(update=sides)
    job = solution.job.model_copy(update={"fitting": (high,)})
    raised = replace(solution, job=job)
    bare, drawing = marked(raised, "elevation", 4.0)
    assert gone_through(raised, bare, drawing) == []
    assert max(y for _, y in bubbles(bare, drawing)) > top + 59


def test_a_mark_without_any_place_is_told_with_both_views() -> None:
    solution = solution_of("library-hearth")
    bare, _ = marked(solution, "elevation", 8.0)
    lines = (
        Stroke(layers.NOTES, ((-300.0, float(y)), (300.0, float(y))))
        for y in range(-300, 300)
    )
    full = replace(bare, ink=(*bare.ink, *lines))
    seen = [*sights_on(solution, bare.name)]
    said = f"^{seen[0].view} finds no place for its mark on elevation$"
    with pytest.raises(ValueError, match=said):
        with_sights(solution, full, {sight.view: 1 for sight in seen})


def bubbles(bare: Drawing, drawing: Drawing) -> Iterator[tuple[float, float]]:
    """Yield the middles of the bubbles of a drawing's marks."""
    for stroke in added(bare, drawing):
        if stroke.closed and len(stroke.points) > 8:
            ring = shapely.Polygon(stroke.points)
            yield ring.centroid.x, ring.centroid.y


def test_a_mark_with_no_place_in_the_opening_stands_beside_the_strings() -> None:
    """No further off than two bubbles' width; and no bubble lies on another."""
    solution = solution_of("semicircular-dining-room")
    bare, drawing = marked(solution, "elevation", 8.0)
    strings = tuple(x for x in bare.ink if isinstance(x, Measure))
    end = extent_of(replace(bare, ink=strings))[0]
    radius = RADIUS * STYLES["in"].text * 8.0
    left = [x for x, _ in bubbles(bare, drawing) if x < end]
    assert len(left) == 4
    assert min(left) > end - 5 * radius


@pytest.mark.parametrize("demo", ["chimney-breast-gas", "chamfered-breast"])
def test_no_line_stands_beside_an_arrow_that_points_to_its_place(demo: str) -> None:
    """A return's and a chamfer's mark is a ring, a line across it and an arrow."""
    solution = solution_of(demo)
    bare, drawing = marked(solution, "plan-1", 8.0)
    ends = [x.points for x in added(bare, drawing)]
    radius = RADIUS * STYLES["in"].text * 8.0
    assert any(len(points) == 3 for points in ends)
    # A detail's leader may be short: it begins where the detail is.
    led = [x.at for x in sights_on(solution, "plan-1") if x.is_led]
    lines = [x for x in ends if len(x) == 2 and x[0] not in led]
    assert lines
    assert [x for x in lines if dist(x[0], x[1]) < 0.9 * radius] == []


def through_brick(solution: Solution, bare: Drawing, drawing: Drawing) -> int:
    """Count the leaders of marks that run through brick of the front."""
    dx = -float(solution.surround.front.left)
    brick = [
        shapely.Polygon([(float(x) + dx, float(y)) for x, y in outline.points])
        for piece in solution.layout.pieces
        for outline in piece.outlines
        if outline.face == "front"
    ]
    lines = [x.points for x in added(bare, drawing) if len(x.points) == 2]
    return sum(
        any(shapely.LineString(line).crosses(each) for each in brick) for line in lines
    )


def test_in_a_narrow_opening_a_bubble_has_less_room_rather_than_a_leader_out() -> None:
    """Between centre line and jamb are 7 in: a bubble with its room is as wide."""
    solution = odd_solution("small on letter")
    bare, drawing = marked(solution, "elevation", 8.0)
    assert through_brick(solution, bare, drawing) == 0
    right = float(solution.surround.front.width)
    line = Stroke(layers.NOTES, ((right / 2, 24.0), (right + 4.0, 0.0)))
    wrong = replace(drawing, ink=(*drawing.ink, line))
    assert through_brick(solution, bare, wrong) == 1


def places_of_the_head(demo: str) -> tuple[tuple[float, float], ...]:
    sights = sights_on(solution_of(demo), "elevation")
    return next(x for x in sights if x.view == "head-section").places


def test_the_head_is_marked_near_it_where_a_fitting_hangs_in_its_middle() -> None:
    solution = solution_of("library-hearth")
    bare, drawing = marked(solution, "elevation", 4.0)
    heads = [
        dist(*x.points)
        for x in added(bare, drawing)
        if len(x.points) == 2 and x.points[0] in places_of_the_head("library-hearth")
    ]
    assert heads
    assert max(heads) < 4 * RADIUS * STYLES["in"].text * 4.0


def test_elsewhere_the_head_is_marked_only_where_the_cut_is_the_same() -> None:
    # One slants, and over the other the voussoirs of an arch lie on the middle alone.
    for demo in ("crooked-study", "semicircular-dining-room"):
        assert len(places_of_the_head(demo)) == 1
    solution = solution_of("library-hearth")
    centre = solution.surround.opening.centre
    assert is_cut_as_at_centre(solution, centre + 5)
    (board,) = solution.job.trim
    # Woodwork before the middle alone is drawn in the detail.
    short = board.model_copy(update={"left": F(28), "width": F(2)})
    job = solution.job.model_copy(update={"trim": (short,)})
    assert not is_cut_as_at_centre(replace(solution, job=job), centre + 5)


def test_a_sheet_s_number_in_a_bubble_keeps_clear_of_the_ring() -> None:
    text = STYLES["in"].text
    drawing = Drawing("b", "", 1.0, tuple(bubble(1, "drawn", (0.0, 0.0), text, 1.0)))
    drawing = with_sheets(drawing, {"drawn": {1: "A-302"}})
    for _, (left, bottom, right, top) in lettering_of(drawing):
        corners = [hypot(x, y) for x in (left, right) for y in (bottom, top)]
        assert max(corners) < (RADIUS - 0.1) * text


def test_the_top_is_cut_where_courses_reach_it() -> None:
    # The detail shows two courses, and over this opening soldiers reach the top.
    solution = solution_of("raised-hearth")
    top = next(x for x in sights_on(solution, "elevation") if x.view == "top-edge")
    front, opening = solution.surround.front, solution.surround.opening
    left, right = (float(x - front.left) for x in (opening.left, opening.right))
    assert top.at[0] > right
    elsewhere = [x for x, _ in top.others]
    assert {x < left for x in elsewhere} == {True, False}
    assert all(x < left or x > right for x in elsewhere)


@pytest.mark.parametrize("demo", ["morning-room", "raised-hearth", "segmental-kitchen"])
def test_no_leader_runs_through_the_arrow_of_another_mark(demo: str) -> None:
    scale = 8.0 if demo != "raised-hearth" else 4.0
    bare, full = marked(solution_of(demo), "elevation", scale)
    fresh = added(bare, full)
    arrows = [shapely.Polygon(x.points) for x in fresh if len(x.points) == 3]
    leaders = [shapely.LineString(x.points) for x in fresh if len(x.points) == 2]
    assert len(arrows) > 2
    # The line across its own bubble reaches a quarter of a radius into its arrow.
    own = 0.26 * RADIUS * STYLES["in"].text * scale
    met = [(a, b) for a in arrows for b in leaders if a.intersection(b).length > own]
    assert met == []


def crossings(bare: Drawing, drawing: Drawing) -> int:
    """Count where marks' leaders cross other leaders, a mark, or strings below all.

    The span of an arch is dimensioned in its opening, where they may cross it.
    """
    strokes = added(bare, drawing)
    # The line across a bubble is level; no leader is.
    ends = [x.points for x in strokes if len(x.points) == 2]
    leaders = [shapely.LineString(x) for x in ends if abs(x[0][1] - x[1][1]) > 1e-6]
    rings = [
        affinity.scale(shapely.LinearRing(x.points), 0.98, 0.98)
        for x in strokes
        if x.closed and len(x.points) > 8
    ]  # fmt: skip
    strings = [
        shapely.LineString(((x.start[0], x.line_at), (x.end[0], x.line_at)))
        for x in bare.ink
        if isinstance(x, Measure) and x.axis == "x" and x.line_at < 0
    ]
    led = [
        shapely.LineString(x.points)
        for x in bare.ink
        if isinstance(x, Stroke) and x.layer == layers.NOTES and len(x.points) == 2
    ]
    others = [*leaders, *rings, *strings, *led]
    return sum(a.crosses(b) for a in leaders for b in others)


CROWDED = (
    "chamfered-breast",
    "metric-slips",
    "chimney-breast-gas",
    "common-sitting-room",
    "jack-arch-parlour",
    "segmental-kitchen",
)


@pytest.mark.parametrize("demo", CROWDED)
def test_no_mark_s_leader_crosses_another_or_a_string(demo: str) -> None:
    scale = 5.0 if demo == "metric-slips" else 8.0
    assert crossings(*marked(solution_of(demo), "elevation", scale)) == 0


@pytest.mark.parametrize(
    "demo", ["chimney-breast-gas", "common-sitting-room", "jack-arch-parlour"]
)
def test_no_mark_s_leader_runs_between_the_substrate_and_its_name(demo: str) -> None:
    bare, drawing = marked(solution_of(demo), "plan-1", 8.0)
    (name,) = (box for x, box in lettering_of(bare) if x.text.startswith("SUBSTRATE"))
    leaders = [x.points for x in added(bare, drawing) if len(x.points) == 2]
    assert leaders
    near = STYLES["in"].text * 8.0
    beside = [shapely.LineString(x).distance(shapely.box(*name)) for x in leaders]
    assert min(beside) > near


def across_depths(bare: Drawing, drawing: Drawing) -> int:
    """Count the marks' lines that meet a string of how deep the returns are."""
    strings = [
        shapely.LineString(((x.line_at, x.start[1]), (x.line_at, x.end[1])))
        for x in bare.ink
        if isinstance(x, Measure) and x.axis == "y"
    ]
    lines = [shapely.LineString(x.points) for x in added(bare, drawing)]
    return sum(a.intersects(b) for a in strings for b in lines)


WITH_RETURNS = ("banded-breast", "cannot-land", "semicircular-dining-room")


@pytest.mark.parametrize("demo", WITH_RETURNS)
def test_no_mark_s_leader_crosses_the_depth_of_a_return(demo: str) -> None:
    for scale in (4.0, 8.0, 12.0):
        assert across_depths(*marked(solution_of(demo), "plan-1", scale)) == 0


def test_a_leader_across_another_or_a_string_is_counted() -> None:
    bare, drawing = marked(solution_of("metric-slips"), "elevation", 5.0)
    lowest = min(
        x.line_at for x in bare.ink if isinstance(x, Measure) and x.axis == "x"
    )
    down = Stroke(layers.NOTES, ((400.0, 100.0), (410.0, lowest - 1)))
    level = Stroke(layers.NOTES, ((390.0, 50.0), (430.0, 60.0)))
    wrong = replace(drawing, ink=(*drawing.ink, down, level))
    assert crossings(bare, wrong) > 4


def over_own_arrow(bare: Drawing, drawing: Drawing) -> int:
    """Count the leaders that run over an arrow, outside of its bubble's ring."""
    strokes = added(bare, drawing)
    rings = shapely.union_all([shapely.Polygon(x.points) for x in strokes if x.closed])
    lines = [x.points for x in strokes if not x.closed]
    arrows = [shapely.Polygon(x).buffer(-1e-6) for x in lines if len(x) == 3]
    leaders = [shapely.LineString(x) for x in lines if len(x) == 2]
    return sum(
        arrow.difference(rings).intersection(leader).length > 1e-6
        for arrow in arrows
        for leader in leaders
    )


@pytest.mark.parametrize("demo", ["banded-breast", "chimney-breast-gas"])
def test_no_leader_runs_over_its_bubble_s_own_arrow(demo: str) -> None:
    assert over_own_arrow(*marked(solution_of(demo), "elevation", 8.0)) == 0


def test_a_leader_over_an_arrow_is_counted() -> None:
    bare = Drawing("elevation", "", 1.0, ())
    ring, across, _, _, arrow = bubble(1, "drawn", (0.0, 0.0), 1.0, 1.0, sight_deg=0.0)
    leader = Stroke(layers.NOTES, ((0.7 * RADIUS, 0.7 * RADIUS), (4.2, -1.0)))
    for ends, count in ((leader, 1), (replace(leader, points=((0, 2.7), (0, 9))), 0)):
        drawing = replace(bare, ink=(ring, across, arrow, ends))
        assert over_own_arrow(bare, drawing) == count


@pytest.mark.parametrize("demo", ["raised-hearth", "morning-room"])
def test_the_bubble_of_a_section_stands_on_the_line_of_its_cut(demo: str) -> None:
    """A line from it to the cut that slants is no cutting line."""
    solution = solution_of(demo)
    cuts = [
        sight
        for view in ("elevation", "hearth-plan")
        for sight in sights_on(solution, view)
        if sight.view.endswith("section") and not sight.is_led
    ]
    assert len(cuts) == (2 if demo == "raised-hearth" else 1)
    for sight in cuts:
        assert sight.looks is not None
        assert {(way - sight.looks) % 180 for way in sight.ways} == {90.0}
