"""Fittings and woodwork are drawn and named where they are; what fails is clouded."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from math import dist

import pytest
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Measure, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.brick.leaders import dimensioned
from shopdraw.views.wall.elevation import draw_elevation
from tests.demos import CONFIGS
from tests.odd_jobs import odd_solution
from tests.views.lettering import collisions, crossings
from tests.views.test_marks import on_view

IN_NOTES = "STAYS CLEAR"
VALVE = (4.0, 10.0, 7.0, 13.0)
BRACKET = (26.0, 28.0, 30.0, 34.0)
MORE = """
[[fitting]]
name = "key valve of the gas line, old"
wants = "clear"
left = "4 in"
bottom = "10 in"
width = "3 in"
height = "3 in"

[[fitting]]
name = "outlet"
wants = "cut round"
left = "50 in"
bottom = "20 in"
width = "2 3/4 in"
height = "4 1/2 in"

[[trim]]
name = "middle bracket"
left = "26 in"
bottom = "28 in"
width = "4 in"
height = "6 in"
projection = "4 in"
"""


@cache
def crowded() -> Solution:
    text = (CONFIGS / "library-hearth.toml").read_text()
    return solve(parse_job(text + MORE, "crowded.toml"))


def boxes(drawing: Drawing, layer: str) -> list[tuple[float, ...]]:
    """Return the boxes round the closed lines of a layer."""
    rings = [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == layer and x.closed
    ]
    return [
        (
            *(min(point[n] for point in ring) for n in (0, 1)),
            *(max(point[n] for point in ring) for n in (0, 1)),
        )
        for ring in rings
    ]


def unclouded(solution: Solution, drawing: Drawing) -> list[str]:
    """Return what fails on the front without a cloud close round it and its number."""
    clouds = boxes(drawing, layers.NOTES)
    near = 3 * 3 / 32 * drawing.scale
    lettered = " ".join(x.text for x in drawing.ink if isinstance(x, Words))
    said = " ".join(re.findall(r"FAILS: SEE FINDINGS? ((?:\d+|AND|[, ])+)", lettered))
    wrong = []
    for number, finding in enumerate(solution.findings, start=1):
        place = {"middle bracket": BRACKET, "key valve": VALVE}
        for name, box in place.items():
            if finding.status != "failed" or name not in finding.rule.words:
                continue
            is_round = any(
                0 < box[n] - cloud[n] < near and 0 < cloud[n + 2] - box[n + 2] < near
                for cloud in clouds
                for n in (0, 1)
            )
            if not is_round or str(number) not in said.replace(",", " ").split():
                wrong.append(finding.rule.words)
    return wrong


@pytest.mark.parametrize("scale", [4.0, 8.0])
def test_what_fails_is_clouded_and_nothing_is_struck(scale: float) -> None:
    solution = crowded()
    assert sum(x.status == "failed" for x in solution.findings) == 4
    drawing = draw_elevation(solution, scale)
    assert unclouded(solution, drawing) == []
    assert on_view(solution, drawing) == []
    assert collisions(drawing) == []
    assert crossings(drawing) == []


def test_every_fitting_is_drawn_where_it_is_and_says_what_it_wants() -> None:
    drawing = draw_elevation(crowded(), 4.0)
    drawn = boxes(drawing, layers.OTHERS)
    assert {VALVE, BRACKET, (50.0, 20.0, 52.75, 24.5), (27.0, 24.0, 29.0, 25.5)} <= {
        *drawn
    }
    lettered = " ".join(x.text for x in drawing.ink if isinstance(x, Words))
    for said in (
        "DAMPER HANDLE, BY OTHERS: STAYS CLEAR",
        "KEY VALVE OF THE GAS LINE, OLD, BY OTHERS: STAYS CLEAR",
        "OUTLET, BY OTHERS: CUT BRICK ROUND IT ON SITE",
        "MIDDLE BRACKET",
    ):
        assert said in lettered


def test_a_failure_without_its_cloud_or_its_number_is_noticed() -> None:
    solution = crowded()
    drawing = draw_elevation(solution, 4.0)
    no_cloud = tuple(
        x
        for x in drawing.ink
        if not (
            isinstance(x, Stroke) and x.layer == layers.NOTES and len(x.points) > 60
        )
    )
    no_number = tuple(
        x
        for x in drawing.ink
        if not (isinstance(x, Words) and x.text.startswith("FAILS"))
    )
    for ink in (no_cloud, no_number):
        assert len(unclouded(solution, replace(drawing, ink=ink))) == 4


@pytest.mark.parametrize("name", ["long wall", "long names"])
def test_no_note_stands_between_the_face_and_its_dimensions(name: str) -> None:
    """There it is read with them; what a cloud is about is led to the shortest way."""
    drawing = draw_elevation(odd_solution(name), 12.0)
    face = 0.0, 0.0, 144.0, 60.0
    strips = [shapely.box(*x) for x in dimensioned(drawing, face)]
    (outer,) = [
        x for x in drawing.ink if isinstance(x, Measure) and x.words == "5'-0\""
    ]
    assert strips[0].bounds[0] == outer.line_at < -10
    said = [x for x in drawing.ink if isinstance(x, Words) and IN_NOTES in x.text]
    assert len(said) == 2
    for words in said:
        near = shapely.box(*box_of(words, drawing.scale))
        assert not any(near.intersects(each) for each in strips), words.text
    text = said[0].height_on_paper * drawing.scale
    lettered = [x for x in drawing.ink if isinstance(x, Words)]
    (fails,) = [
        first
        for first, second in pairwise(lettered)
        if (first.text, second.text) == ("FAILS: SEE", "FINDINGS 6 AND 7")
    ]
    lengths = [
        dist(*x.points)
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.layer == layers.NOTES
        and len(x.points) == 2
        and dist(x.points[1], fails.at) < text
    ]
    # The opening begins half a course below the cloud.
    assert min(lengths) < 12 * text


def misled(solution: Solution, drawing: Drawing) -> list[str]:
    """Say which leaders of notes cross each other, or lie on edges of brick.

    Such a leader is read as an edge; where two cross, the eye follows the wrong one.
    """
    leaders = [
        shapely.LineString(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == layers.NOTES and len(x.points) == 2
    ]
    text = STYLES[solution.lengths].text * drawing.scale
    edges = [
        shapely.LineString(ends)
        for piece in solution.layout.pieces
        for outline in piece.outlines
        for ends in pairwise((*outline.points, outline.points[0]))
    ]
    flat = shapely.STRtree([x.buffer(0.25 * text, cap_style="flat") for x in edges])
    return [
        *("crossing" for one, other in combinations(leaders, 2) if one.crosses(other)),
        *(
            "lying"
            for leader in leaders
            for n in flat.query(leader, predicate="intersects")
            if leader.intersection(flat.geometries[n]).length > 4 * text
        ),
    ]


def test_leaders_of_notes_neither_cross_nor_lie_on_brick() -> None:
    solution = odd_solution("long wall")
    assert misled(solution, draw_elevation(solution, 12.0)) == []


def test_a_leader_on_a_brick_and_two_that_cross_are_noticed() -> None:
    solution = odd_solution("long wall")
    drawing = draw_elevation(solution, 12.0)
    low = float(solution.coursing.courses[0].top)
    level = Stroke(layers.NOTES, ((5.0, low), (30.0, low)))
    across = Stroke(layers.NOTES, ((20.0, low - 9), (25.0, low + 9)))
    assert "lying" in misled(solution, replace(drawing, ink=(level,)))
    assert misled(solution, replace(drawing, ink=(level, across)))[0] == "crossing"


@pytest.mark.parametrize("name", ["long wall", "long names"])
def test_a_note_is_led_into_the_opening_beside_it_rather_than_over_the_wall(
    name: str,
) -> None:
    """Marks of brick beside the opening are passed closely, not kept a line away from.

    The gas key lies 7 1/2 in from the opening, the socket 30; the top 50 above them.
    """
    drawing = draw_elevation(odd_solution(name), 12.0)
    opening = shapely.box(51.0, 0.0, 93.0, 30.0)
    ends = {}
    for stroke, words in zip(drawing.ink, drawing.ink[2:], strict=False):
        if isinstance(words, Words) and words.text.startswith(("SOCKET", "GAS KEY")):
            assert isinstance(stroke, Stroke)
            ends[words.text.split(",")[0]] = stroke.points[1]
            assert dist(*stroke.points) < 34.0
    assert set(ends) == {"SOCKET", "GAS KEY"}
    assert all(opening.contains(shapely.Point(end)) for end in ends.values())


def test_what_fails_and_has_its_name_at_a_leader_has_its_number_there() -> None:
    """Both fittings of this wall fail; each has one leader."""
    drawing = draw_elevation(odd_solution("long wall"), 12.0)
    lettered = [x for x in drawing.ink if isinstance(x, Words)]
    for name, number in (("SOCKET, BY", 38), ("GAS KEY, BY", 37)):
        (place,) = [n for n, x in enumerate(lettered) if x.text == name]
        below = lettered[place : place + 5]
        assert [x.text for x in below][-2:] == ["FAILS: SEE", f"FINDING {number}"]
        assert len({x.at[0] for x in below}) == 1
