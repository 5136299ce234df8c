"""Plans: folded as built, bed behind the brick, strings by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from shopdraw.drawing.bubbles import RADIUS
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Fill, Measure, Stroke, Words
from shopdraw.drawing.layers import DIMENSIONS
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.measures import ticks_of
from shopdraw.drawing.sheets import STYLES
from shopdraw.lengths import format_length
from shopdraw.solution import Solution
from shopdraw.views.sights import ROOM
from shopdraw.views.wall.corner import draw_corner_interlock
from shopdraw.views.wall.elevation import draw_bare_elevation
from shopdraw.views.wall.plans import draw_plan
from shopdraw.views.wall.turned import draw_turned_corner
from tests.demos import solution_of
from tests.longer import mostly_long
from tests.odd_jobs import odd_solution
from tests.views.jobs import solved
from tests.views.lettering import collisions
from tests.views.strings import figures_of, measures_of, unclosed

JOBS = (
    "two hands", "trimmed", "no returns", "right return", "mitre", "butt",
    "metric corners",
)  # fmt: skip
PLAN_SCALES = {"in": (8.0, 24.0), "mm": (10.0, 20.0)}
LARGE = {"in": 4.0, "mm": 5.0}


def plan(solution: Solution, course: int, scale: float = 8.0) -> Drawing:
    return draw_plan(solution, course, scale)


def interlock(solution: Solution) -> Drawing:
    return draw_corner_interlock(solution, LARGE[solution.job.lengths])


def brick(drawing: Drawing) -> list[Polygon]:
    return [Polygon(ink.points) for ink in drawing.ink if isinstance(ink, Fill)]


def texts(drawing: Drawing) -> set[str]:
    return {ink.text for ink in drawing.ink if isinstance(ink, Words)}


def views(solution: Solution) -> list[Drawing]:
    """Return the plans through every course, at two scales, and the corner."""
    drawings = [
        plan(solution, course.number, scale)
        for course in solution.coursing.courses
        for scale in PLAN_SCALES[solution.job.lengths]
    ]
    return [*drawings, interlock(solution)] if solution.surround.folds else drawings


# Corners of both kinds, a free end beside one, and millimetres crowd a plan soonest.
@pytest.mark.parametrize(
    "name", mostly_long(JOBS, "trimmed", "right return", "mitre", "metric corners")
)
def test_nothing_collides_and_every_string_closes(name: str) -> None:
    for drawing in views(solved(name)):
        assert collisions(drawing) == []
        assert unclosed(drawing, solved(name).job.lengths) == []


@pytest.mark.parametrize("scale", [8.0, 16.0, 24.0])
def test_a_corbel_s_plan_keeps_its_figures_and_its_words_apart(scale: float) -> None:
    solution = solution_of("banded-breast")
    corbels = [x for x in solution.coursing.courses if x.projection]
    assert len(corbels) > 1
    for course in corbels:
        drawing = plan(solution, course.number, scale)
        assert "BUILD-OUT, CORBEL" in texts(drawing)
        assert collisions(drawing) == []


def test_lettering_on_lettering_is_noticed() -> None:
    drawing = plan(solution_of("library-hearth"), 1)
    name = next(x for x in drawing.ink if isinstance(x, Words) and x.text == "OPENING")
    twice = replace(drawing, ink=(*drawing.ink, replace(name, text="SUBSTRATE")))
    assert ("OPENING", "SUBSTRATE") in collisions(twice)


def test_a_string_that_does_not_close_is_noticed() -> None:
    drawing = plan(solution_of("library-hearth"), 1)
    first = next(x for x in drawing.ink if isinstance(x, Measure))
    ink = tuple(replace(x, words='9"') if x is first else x for x in drawing.ink)
    assert len(unclosed(replace(drawing, ink=ink), "in")) == 1


@pytest.mark.parametrize("name", JOBS)
def test_no_brick_in_plan_overlaps_another(name: str) -> None:
    solution = solved(name)
    for course in solution.coursing.courses:
        rings = brick(plan(solution, course.number))
        apart = sum(ring.area for ring in rings)
        assert all(ring.is_valid for ring in rings)
        assert unary_union(rings).area == pytest.approx(apart)


@pytest.mark.parametrize("name", JOBS)
def test_the_faces_of_the_brick_in_plan_add_up_to_the_pieces(name: str) -> None:
    """A plan's brick has the area of its faces less each corner counted once."""
    solution = solved(name)
    t = float(solution.job.brick.thickness)
    for course in solution.coursing.courses[:2]:
        pieces = [x for x in solution.layout.pieces if x.course == course.number]
        pieces = [x for x in pieces if x.kind in ("stretcher", "corner unit")]
        faces = sum(float(o.right - o.left) for x in pieces for o in x.outlines)
        corners = sum(len(x.outlines) == 2 for x in pieces)
        area = sum(ring.area for ring in brick(plan(solution, course.number)))
        assert area == pytest.approx(faces * t - corners * t * t)


def test_the_returns_go_back_from_the_ends_of_the_front() -> None:
    # Front 57 1/4 (55 1/4 and twice 1 of build-out), returns 14, brick 5/8.
    whole = unary_union(brick(plan(solution_of("library-hearth"), 1)))
    assert whole.bounds == pytest.approx((0, 0, 57.25, 14))
    assert whole.covers(Polygon(((0, 0), (0.625, 0), (0.625, 3), (0, 3))))
    assert whole.covers(Polygon(((56.625, 0), (57.25, 0), (57.25, 3), (56.625, 3))))
    assert not whole.intersects(Polygon(((0.7, 0.7), (56, 0.7), (56, 14), (0.7, 14))))


def test_the_long_leg_alternates_between_neighbouring_courses() -> None:
    solution = solution_of("library-hearth")
    for course, along, back in ((1, 7.625, 3.625), (2, 3.625, 7.625)):
        ells = [x for x in brick(plan(solution, course)) if len(x.exterior.coords) == 7]
        assert len(ells) == 2
        for ell in ells:
            left, front, right, far = ell.bounds
            assert (right - left, far - front) == pytest.approx((along, back))


def test_the_strings_of_a_plan_read_as_added_up_by_hand() -> None:
    strings = figures_of(plan(solution_of("library-hearth"), 1))
    leg = ['7 5/8"', '3/8"', '3 5/8"']
    assert [*leg, "2'-10\"", *reversed(leg)] in strings
    assert ["4'-9 1/4\""] in strings
    assert ['5/8"', '3/8"'] in strings
    assert ['1"'] in strings
    assert ["1'-2 3/8\""] in strings


def test_returns_of_different_depth_are_both_dimensioned() -> None:
    # 5 7/8 and 4 3/8 in to the substrate, and 1 in of build-out.
    strings = figures_of(plan(solved("trimmed"), 1))
    assert ['6 7/8"'] in strings
    assert ['5 3/8"'] in strings


def test_each_depth_stands_right_beside_its_return() -> None:
    for scale in PLAN_SCALES["in"]:
        drawing = plan(solved("trimmed"), 1, scale)
        ends = [x for piece in brick(drawing) for x in piece.bounds[::2]]
        depths = {x.words: x.line_at for x in drawing.ink if isinstance(x, Measure)}
        left, right = min(ends) - depths['6 7/8"'], depths['5 3/8"'] - max(ends)
        text = STYLES["in"].text * scale
        assert right == pytest.approx(5.0 * text)
        # At the left the corner's mark has room before it, and no more than that.
        bubble = 2 * ROOM * RADIUS * text
        assert bubble < left < 1.2 * bubble


def test_the_opening_is_closed_above_the_head() -> None:
    solution = solution_of("library-hearth")
    last = solution.coursing.courses[-1].number
    assert "OPENING" in texts(plan(solution, 1))
    assert "OPENING" not in texts(plan(solution, last))
    soldiers = [x for x in solution.layout.pieces if x.kind == "soldier"]
    beside = [x for x in solution.layout.pieces if x.course == last]
    beside = [x for x in beside if x.kind != "soldier"]
    assert len(brick(plan(solution, last))) == len(soldiers) + len(beside)


def test_a_plan_names_outside_corners_only_where_there_are_some() -> None:
    assert "OUTSIDE CORNER" not in texts(plan(solved("no returns"), 1))
    words = [x for x in plan(solved("right return"), 1).ink if isinstance(x, Words)]
    assert [x.text for x in words].count("OUTSIDE CORNER") == 1


@pytest.mark.parametrize("name", ["library-hearth", "splayed-parlour", "morning-room"])
def test_no_end_of_a_dimension_comes_near_a_corner_s_name(name: str) -> None:
    for scale in (4.0, 8.0):
        drawing = plan(solution_of(name), 1, scale)
        text = next(x.height_on_paper for x in drawing.ink if isinstance(x, Words))
        corners = [
            box(*box_of(x, scale))
            for x in drawing.ink
            if isinstance(x, Words) and x.text == "OUTSIDE CORNER"
        ]
        ticks = [
            LineString(tick)
            for x in drawing.ink
            if isinstance(x, Measure)
            for tick in ticks_of(x, scale)
        ]
        assert len(corners) == 2
        near = min(a.distance(b) for a in corners for b in ticks)
        assert near > 0.2 * text * scale


def test_the_corner_is_shown_in_two_courses_with_its_legs() -> None:
    for name, demo in (("library", solution_of("library-hearth")),
                       ("right", solved("right return"))):  # fmt: skip
        drawing = interlock(demo)
        assert figures_of(drawing) == [['7 5/8"'], ['3 5/8"'], ['3 5/8"'], ['7 5/8"']]
        assert {"LONG LEG ON THE FRONT", "LONG LEG ON THE RETURN"} <= texts(drawing)
        at_left = name == "library"
        first = next(x for x in brick(drawing) if len(x.exterior.coords) == 7)
        assert (first.bounds[0] == 0) == at_left


def test_brick_is_broken_off_only_where_it_goes_on() -> None:
    def open_ends(drawing: Drawing) -> int:
        cut = [x for x in drawing.ink if isinstance(x, Stroke)]
        return sum(not x.closed for x in cut if x.layer == "A-SECT-MCUT")

    # The leg goes on past the corner in both courses, and so does the return of 14 in;
    # the return of 160 mm ends within the view.
    assert open_ends(interlock(solution_of("library-hearth"))) == 4
    assert open_ends(interlock(solved("metric corners"))) == 2


def test_a_corner_without_a_fold_is_refused() -> None:
    with pytest.raises(ValueError, match="has no square corner"):
        interlock(solved("no returns"))


def test_corners_of_a_chamfer_stand_as_high_above_their_titles() -> None:
    solution = solution_of("chamfered-breast")
    drawn = [draw_turned_corner(solution, place, 4.0) for place in (1, 2)]
    first, second = (extent_of(drawing)[1] for drawing in drawn)
    assert first == pytest.approx(second)
    said = [f"THE {name} IS DRAWN LEVEL" for name in ("CHAMFER", "FRONT")]
    assert all(words in texts(x) for words, x in zip(said, drawn, strict=True))


def test_a_corbel_s_plan_measures_its_depth_to_the_brick_that_it_shows() -> None:
    """Course 20 stands out 9/16: a return of 1'-0" is 1'-0 9/16" deep there."""
    for number, words in ((1, "1'-0\""), (20, "1'-0 9/16\"")):
        drawing = plan(solution_of("banded-breast"), number)
        lowest = min(y for x in brick(drawing) for _, y in x.exterior.coords)
        upright = (x for x in drawing.ink if isinstance(x, Measure) and x.axis == "y")
        (depth,) = (x for x in upright if x.start[0] < 0)
        assert depth.words == words
        assert min(depth.start[1], depth.end[1]) == pytest.approx(lowest)


def given_again(drawing: Drawing, axis: str) -> list[str]:
    """Return the strings of one figure along an axis that another string gives too."""
    strings = [x for x in measures_of(drawing) if x[0].axis == axis]
    spans = [[(each.start, each.end) for each in string] for string in strings]
    at = 0 if axis == "x" else 1
    along = [{(a[at], b[at]) for a, b in string} for string in spans]
    return [
        string[0].words
        for n, string in enumerate(strings)
        if len(string) == 1
        and any(along[n] <= other for m, other in enumerate(along) if m != n)
    ]


def test_an_overall_length_is_given_once_a_view(demo: str) -> None:
    solution = solution_of(demo)
    assert given_again(plan(solution, 1), "x") == []
    front, rise = draw_bare_elevation(solution, 8.0), solution.layout.arch
    # In the opening an arch is set out once more.
    set_out = [] if rise is None else [format_length(rise.rise, solution.lengths)]
    assert [x for x in given_again(front, "y") if x not in set_out] == []


def test_an_overall_length_given_again_is_noticed() -> None:
    drawing = plan(solution_of("chamfered-breast"), 1)
    first, *_ = (x for x in measures_of(drawing) if len(x) == 3 and x[0].axis == "x")
    twice = replace(first[1], line_at=first[1].line_at - 1.0)
    assert given_again(drawing, "x") == []
    again = replace(drawing, ink=(*drawing.ink, twice))
    assert given_again(again, "x") == [first[1].words]


@pytest.mark.parametrize("job", ["jambs", "splayed-parlour"])
def test_the_substrate_is_named_across_no_brick(job: str) -> None:
    """Where brick turns into the jambs, a leader from the opening would cross it."""
    turned = job == "jambs"
    solution = odd_solution("jambs turned in") if turned else solution_of(job)
    drawing = plan(solution, 1, 8.0 if turned else 4.0)
    (name,) = [
        x
        for x in drawing.ink
        if isinstance(x, Words) and x.text == "SUBSTRATE BY OTHERS"
    ]
    brick = unary_union([Polygon(x.points) for x in drawing.ink if isinstance(x, Fill)])
    around = box(*box_of(name, drawing.scale))
    assert not brick.intersects(around)
    text = STYLES["in"].text * drawing.scale
    (leader,) = [
        LineString(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.layer == DIMENSIONS
        and len(x.points) == 2
        and LineString(x.points).distance(around) < text
    ]
    assert not leader.intersects(brick)


def test_in_a_narrow_opening_the_substrate_is_named_in_two_lines() -> None:
    """By hand: 2'-7 7/8" at 1 1/2" is 4 in of paper, of which it has half."""
    drawing = plan(solution_of("banded-breast"), 1, 8.0)
    said = [x.text for x in drawing.ink if isinstance(x, Words)]
    assert {"SUBSTRATE", "BY OTHERS"} <= {*said}
    assert collisions(drawing) == []
    wide = [x.text for x in plan(solution_of("chimney-breast-gas"), 1, 8.0).ink
            if isinstance(x, Words)]  # fmt: skip
    assert "SUBSTRATE BY OTHERS" in wide


@pytest.mark.parametrize(
    ("scale", "said"),
    [(8.0, ["CLEAR AT THE BACK; JAMBS SPLAY 18 DEG"]), (16.0, ["SPLAY 18 DEG"]),
     (32.0, [])],
)  # fmt: skip
def test_a_splay_is_lettered_as_far_as_the_opening_is_wide(
    scale: float, said: list[str]
) -> None:
    """In one too narrow for any of it the jamb's own drawing says it."""
    drawing = plan(solution_of("splayed-parlour"), 1, scale)
    found = [x.text for x in drawing.ink if isinstance(x, Words) and "SPLAY" in x.text]
    assert found == said
    assert collisions(drawing) == []


def test_the_name_of_a_further_corner_stands_above_its_extension_line() -> None:
    drawing = plan(solution_of("chamfered-breast"), 1)
    levels = {
        y
        for x in drawing.ink
        if isinstance(x, Measure) and x.axis == "y"
        for y in (x.start[1], x.end[1])
    }
    names = [
        box_of(x, drawing.scale)
        for x in drawing.ink
        if isinstance(x, Words) and "TURNS" in x.text
    ]
    assert len(names) == 4
    assert not any(low <= y <= high for _, low, _, high in names for y in levels)
