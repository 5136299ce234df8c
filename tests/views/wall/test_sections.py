"""Sections: what the cut meets, where it stands, and what is said of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopdraw.drawing.ink import Drawing, Fill, Measure, Stroke, Words
from shopdraw.solution import Solution
from shopdraw.views.wall.sections import draw_head_section, draw_jamb_plan
from tests.demos import solution_of
from tests.views.jobs import solved
from tests.views.lettering import collisions
from tests.views.strings import figures_of, unclosed

JOBS = (
    "two hands", "trimmed", "no returns", "right return", "mitre", "butt",
    "metric corners",
)  # fmt: skip
SCALES = {"in": (4.0, 8.0), "mm": (5.0, 10.0)}


def head(solution: Solution, scale: float = 4.0) -> Drawing:
    return draw_head_section(solution, scale)


def jamb(solution: Solution, scale: float = 4.0) -> Drawing:
    return draw_jamb_plan(solution, scale)


def texts(drawing: Drawing) -> set[str]:
    return {ink.text for ink in drawing.ink if isinstance(ink, Words)}


def brick(drawing: Drawing) -> list[tuple[float, float, float, float]]:
    boxes = []
    for ink in drawing.ink:
        if isinstance(ink, Fill):
            xs, ys = zip(*ink.points, strict=True)
            boxes.append((min(xs), min(ys), max(xs), max(ys)))
    return boxes


def both(solution: Solution) -> list[Drawing]:
    scales = SCALES[solution.job.lengths]
    return [draw(solution, scale) for scale in scales for draw in (head, jamb)]


@pytest.mark.parametrize("name", JOBS)
def test_nothing_collides_and_every_string_closes(name: str) -> None:
    for drawing in both(solved(name)):
        assert collisions(drawing) == []
        assert unclosed(drawing, solved(name).job.lengths) == []


def test_nothing_collides_in_a_demo(solution: Solution) -> None:
    for drawing in both(solution):
        assert collisions(drawing) == []
        assert unclosed(drawing, solution.job.lengths) == []


@pytest.mark.parametrize("draw", [head, jamb])
def test_lettering_on_lettering_is_noticed(draw: object) -> None:
    assert callable(draw)
    drawing = draw(solution_of("library-hearth"))
    first = next(x for x in drawing.ink if isinstance(x, Words))
    twice = replace(drawing, ink=(*drawing.ink, replace(first, text="SECOND")))
    assert collisions(twice) != []


@pytest.mark.parametrize("draw", [head, jamb])
def test_a_string_that_does_not_close_is_noticed(draw: object) -> None:
    assert callable(draw)
    drawing = draw(solution_of("library-hearth"))
    first = next(x for x in drawing.ink if isinstance(x, Measure))
    ink = tuple(replace(x, words='9"') if x is first else x for x in drawing.ink)
    assert len(unclosed(replace(drawing, ink=ink), "in")) == 1


def test_the_head_section_cuts_the_soldier_on_the_centre_line() -> None:
    # A unit is on the centre line; it stands on 27 in and is 7 5/8 tall, 5/8 thick.
    assert brick(head(solution_of("library-hearth"))) == [(0.0, 27.0, 0.625, 34.625)]


def test_the_head_section_cuts_every_course_of_a_running_head_that_it_shows() -> None:
    solution = solution_of("chimney-breast-gas")
    above = [
        (float(course.bottom), float(course.top))
        for course in solution.coursing.courses
        if course.bottom >= solution.coursing.head
    ]
    shown = [(low, high) for _, low, _, high in brick(head(solution))]
    assert shown == above[: len(shown)]
    assert len(shown) == 6


def test_the_head_section_says_what_it_cuts_and_where() -> None:
    drawing = head(solution_of("library-hearth"))
    assert {
        "HEAD 2'-3\"",
        "ABOVE DATUM",
        "LINTEL AND SUBSTRATE BY OTHERS, VERIFY",
        "TEMPORARY LEDGER",
        'SETTING BED, 3/8" MEAN',
        "FRIEZE BOARD, BY OTHERS",
    } <= texts(drawing)
    # Soldier; brick and bed; build-out; how far the frieze stands out.
    strings = figures_of(drawing)
    for figures in (['7 5/8"'], ['5/8"', '3/8"'], ['1"'], ['3/4"']):
        assert figures in strings


def test_woodwork_stands_out_from_the_face_by_its_projection() -> None:
    # 3/4 in out, from 34 7/8 in up.
    drawing = head(solution_of("library-hearth"))
    others = [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ELEV-OTHR-E"
    ]
    assert any((-0.75, 34.875) in points for points in others)


def test_the_ledger_s_top_is_at_the_head() -> None:
    drawing = head(solution_of("library-hearth"))
    (ledger,) = (
        x for x in drawing.ink if isinstance(x, Stroke) and x.layer == "A-ELEV-HIDD"
    )
    assert max(y for _, y in ledger.points) == 27.0


def test_the_jamb_shows_the_end_and_its_joint() -> None:
    drawing = jamb(solved("right return"))
    assert 'JAMB: SOFT JOINT 1/4", EDGE SAWN' in texts(drawing)
    # The brick stops 1/4 in short of the opening's edge, which is at 0.
    assert max(right for _, _, right, _ in brick(drawing)) == -0.25
    assert any('1/4"' in figures for figures in figures_of(drawing))


def test_a_bare_jamb_ends_at_the_opening() -> None:
    drawing = jamb(solution_of("library-hearth"))
    assert "JAMB: BARE, EDGE POINTED" in texts(drawing)
    assert max(right for _, _, right, _ in brick(drawing)) == 0.0
    assert ['5/8"', '3/8"'] in figures_of(drawing)
    assert ['1"'] in figures_of(drawing)


def test_where_no_brick_is_left_of_the_opening_the_right_jamb_is_drawn() -> None:
    solution = solution_of("library-hearth")
    opening = solution.surround.opening
    layout = replace(
        solution.layout,
        pieces=tuple(
            piece
            for piece in solution.layout.pieces
            if piece.outlines[0].left >= opening.centre
        ),
    )
    drawing = draw_jamb_plan(replace(solution, layout=layout), 4.0)
    assert drawing.title.startswith("PLAN OF THE RIGHT JAMB")
    assert max(right for _, _, right, _ in brick(drawing)) == 0.0


def test_the_foot_of_a_key_is_not_called_the_crown() -> None:
    assert "FOOT OF THE KEY 2'-6 5/8\"" in texts(
        head(solution_of("semicircular-dining-room"))
    )
    assert "CROWN 2'-9\"" in texts(head(solution_of("segmental-kitchen")))


@pytest.mark.parametrize(
    ("demo", "goes_on"), [("chimney-breast-gas", True), ("crooked-study", False)]
)
def test_brick_that_goes_on_above_is_broken_off(demo: str, goes_on: bool) -> None:
    """The breast's face is 25 courses high; the study's ends two above its soldiers."""
    drawing = head(solution_of(demo))
    highest = max(top for _, _, _, top in brick(drawing))
    across = [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke) and len(x.points) == 6 and x.points[0][1] > highest
    ]
    (line,) = across
    assert (line[0][0] < 0) == goes_on
