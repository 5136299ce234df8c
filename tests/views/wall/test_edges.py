"""The edges drawn large: at the hearth, at the top, at a wall."""

from __future__ import annotations

from collections.abc import Callable
from math import dist

import pytest
import shapely

from shopdraw.drawing.ink import Drawing, Fill, Stroke, Words
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import STYLES
from shopdraw.solution import Solution
from shopdraw.views.wall.edges import (
    draw_corbel,
    draw_hearth_edge,
    draw_side_edge,
    draw_top_edge,
)
from tests.demos import solution_of
from tests.views.jobs import with_job
from tests.views.lettering import collisions
from tests.views.strings import figures_of, unclosed

DRAWN: dict[str, Callable[[Solution, float], Drawing]] = {
    "hearth": lambda s, at: draw_hearth_edge(s, at),
    "top": lambda s, at: draw_top_edge(s, at),
    "side": lambda s, at: draw_side_edge(s, at),
}


def words(drawing: Drawing) -> list[str]:
    return [ink.text for ink in drawing.ink if isinstance(ink, Words)]


@pytest.mark.parametrize("edge", DRAWN)
def test_nothing_collides_and_strings_close(solution: Solution, edge: str) -> None:
    for scale in (4.0, 8.0) if solution.job.lengths == "in" else (5.0, 10.0):
        drawing = DRAWN[edge](solution, scale)
        assert collisions(drawing) == []
        assert unclosed(drawing, solution.job.lengths) == []


def test_each_is_once_in_every_set(drawing_set: DrawingSet) -> None:
    names = [p.drawing.name for sheet in drawing_set.sheets for p in sheet.drawings]
    for name in ("hearth-edge", "top-edge", "side-edge"):
        assert names.count(name) == 1


def test_the_foot_has_the_bottom_joint_and_two_courses() -> None:
    # The first demo: 3/8 under course 1, 3/8 between, brick of 2 1/4.
    drawing = draw_hearth_edge_of("library-hearth")
    assert figures_of(drawing) == [['3/8"', '2 1/4"', '3/8"', '2 1/4"']]
    assert "BOTTOM JOINT, MORTAR" in words(drawing)
    assert 'HEARTH BY OTHERS, FALLS 1/8"' in words(drawing)


def test_without_a_bottom_joint_the_foot_says_so() -> None:
    solution = solution_of("library-hearth")
    none = solution.job.joints.bottom.model_copy(update={"kind": "none"})
    drawing = DRAWN["hearth"](with_job(solution, joints={"bottom": none}), 4.0)
    assert "NO BOTTOM JOINT" in words(drawing)
    assert not any(x.startswith("BOTTOM JOINT") for x in words(drawing))


def test_a_corbel_is_drawn_only_where_a_course_projects() -> None:
    with pytest.raises(ValueError, match="no corbel"):
        draw_corbel(solution_of("library-hearth"), 4.0)


def draw_hearth_edge_of(demo: str) -> Drawing:
    return DRAWN["hearth"](solution_of(demo), 4.0)


def test_the_top_has_its_gap_to_the_woodwork_above() -> None:
    # The frieze board begins at 34 7/8, the brick ends at 34 5/8.
    drawing = DRAWN["top"](solution_of("library-hearth"), 4.0)
    assert figures_of(drawing) == [['2 1/4"', '7/16"', '2 1/4"', '1/4"']]
    assert 'TOP: GAP 1/4", EDGE COVERED' in words(drawing)
    assert "FRIEZE BOARD, BY OTHERS" in words(drawing)


def test_brick_that_stands_on_a_hearth_of_brick_is_drawn_on_brick() -> None:
    # 5/8 of brick on 1/2 of bed, from before the face to the substrate.
    drawing = draw_hearth_edge_of("raised-hearth")
    (hearth,) = (x for x in boxes(drawing) if x[1] < 0)
    assert (hearth[1], hearth[3]) == (-0.625, 0.0)
    assert hearth[0] < 0.0 < 1.0 == hearth[2]
    assert {"HEARTH'S BRICK, LEVEL", "SLAB OR CORE BY OTHERS"} <= {*words(drawing)}
    assert collisions(drawing) == []
    assert min(x[1] for x in boxes(draw_hearth_edge_of("library-hearth"))) > 0


def test_of_courses_that_were_not_measured_it_says_so() -> None:
    # The morning room's first six courses are laid; only the sixth was measured.
    drawing = draw_hearth_edge_of("morning-room")
    assert figures_of(drawing) == []
    assert {"AS LAID,", "NOT MEASURED"} <= {*words(drawing)}
    assert collisions(drawing) == []
    assert "NOT MEASURED" not in words(draw_hearth_edge_of("library-hearth"))


def test_a_gap_below_far_woodwork_is_dimensioned_as_wide_as_it_is() -> None:
    # The gap is 1/4, and the shelf is 4 above the brick.
    drawing = DRAWN["top"](solution_of("chamfered-breast"), 4.0)
    (row,) = figures_of(drawing)
    assert row[-2:] == ['1/4"', '3 3/4"']
    assert "ABOVE: BY OTHERS, NOT GIVEN" in words(drawing)


def test_a_return_ends_at_a_wall_and_a_front_alone_at_its_edge() -> None:
    # The chimney breast has a soft joint of 3/8 at the wall, filled with sealant.
    at_wall = DRAWN["side"](solution_of("chimney-breast-gas"), 4.0)
    # The return is square to the front: its end is seen a quarter turned.
    assert at_wall.title == "PLAN AT THE WALL, TURNED 90 DEGREES"
    assert figures_of(at_wall) == [['3/8"']]
    assert any(line.startswith('WALL: SOFT JOINT 3/8"') for line in words(at_wall))
    free = DRAWN["side"](solution_of("metric-slips"), 5.0)
    assert free.title == "PLAN AT THE FREE EDGE"


@pytest.mark.parametrize("demo", ["flemish-breast", "chimney-breast-gas"])
def test_the_leader_to_the_joint_runs_along_no_brick(demo: str) -> None:
    drawing = DRAWN["side"](solution_of(demo), 4.0)
    (brick,) = (shapely.box(*x) for x in boxes(drawing))
    (note,) = (
        x
        for x in drawing.ink
        if isinstance(x, Words) and x.text.startswith(("WALL:", "END:"))
    )
    text = STYLES["in"].text * drawing.scale
    (line,) = (
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke)
        and len(x.points) == 3
        and dist(x.points[-1], note.at) < text
    )
    assert shapely.LineString(line).distance(brick) > 0.2 * text
    # It is no longer than from the end to the first letter, a line below.
    assert line[0][0] < brick.bounds[0] + 1e-6
    assert shapely.LineString(line).length < 4 * text


def boxes(drawing: Drawing) -> list[tuple[float, float, float, float]]:
    return [
        shapely.Polygon(x.points).bounds for x in drawing.ink if isinstance(x, Fill)
    ]
