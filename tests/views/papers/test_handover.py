"""The carpenter's page: the rule drawn as it is published, sizes as they are known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction as F
from functools import cache
from pathlib import Path
from re import fullmatch

import pytest
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.papers.allowed import draw_allowed, trims_over
from shopdraw.views.papers.asked import DRAWN, papers_asked
from tests.demos import CONFIGS, solution_of
from tests.odd_jobs import odd_solution
from tests.views.lettering import collisions, crossings
from tests.views.papers.reading import dining, lines_on, lines_to_write_on, text_of

ROOM = (6.5, 2.6)
LIBRARY = (CONFIGS / "library-hearth.toml").read_text(encoding="utf-8")


@cache
def library(*changes: tuple[str, str], more: str = "") -> Solution:
    text = LIBRARY
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return solve(parse_job(text + more, Path("library.toml")))


def drawn(solution: Solution, room: tuple[float, float] = ROOM) -> Drawing:
    drawing = draw_allowed(solution, room)
    assert drawing is not None
    return drawing


def ring_on(drawing: Drawing, layer: str) -> tuple[tuple[float, float], ...]:
    (ring,) = [
        x.points for x in drawing.ink if isinstance(x, Stroke) and x.layer == layer
    ]
    return ring


# IRC R1001.11 Exception 4, second-hand: nothing within 6 in; within 12 in at most 1/8
# in out for each inch of distance.
EXCEPTION_4 = [(0.0, 6.0), (0.75, 6.0), (1.5, 12.0), (0.0, 12.0)]


def test_what_is_allowed_is_drawn_as_the_rule_has_it() -> None:
    assert list(ring_on(drawn(dining()), layers.DIMENSIONS)) == EXCEPTION_4
    said = text_of(DRAWN["handover"](dining()))
    assert "IRC 2015, R1001.11 Exception 4" in said
    assert "VERIFY LOCALLY" in said
    assert '1\'-0" UP: 1 1/2" OUT AT THE MOST' in said
    assert '6" UP: 3/4" OUT AT THE MOST' in said
    assert 'NOTHING THAT BURNS BELOW 6"' in said
    assert "PAST IT THE RULE SETS NO LIMIT" in said


def test_a_rule_damaged_is_noticed_in_the_drawing() -> None:
    own = (
        '[[rules.own]]\nfigure = "trim distance"\nvalue = "7 in"\n'
        'reason = "the inspector, 2 March"\n'
    )
    damaged = drawn(dining(more=own))
    assert list(ring_on(damaged, layers.DIMENSIONS)) != EXCEPTION_4
    assert ring_on(damaged, layers.DIMENSIONS)[0] == (0.0, 7.0)


def test_woodwork_is_drawn_where_the_job_states_it_to_scale() -> None:
    # The frieze: 34 7/8 up, 6 high, 3/4 out; the opening's top is at 27.
    solution = library()
    assert list(ring_on(drawn(solution), layers.OTHERS)) == [
        (0.0, 7.875), (0.75, 7.875), (0.75, 13.875), (0.0, 13.875),
    ]  # fmt: skip
    assert '1 1/2" = 1\'-0"' in text_of(DRAWN["handover"](solution))
    assert drawn(solution).scale == 8


def test_only_woodwork_above_the_opening_is_drawn_and_each_is_listed() -> None:
    beside = (
        '[[trim]]\nname = "pilaster"\nleft = "0 in"\nbottom = "0 in"\n'
        'width = "4 in"\nheight = "20 in"\nprojection = "1 in"\ncovers_brick = true\n'
    )
    solution = library(more=beside)
    assert [trim.name for trim in trims_over(solution)] == ["frieze board"]
    rows = [
        x for x in lines_on(DRAWN["handover"](solution)) if x[:4] in ("1 | ", "2 | ")
    ]
    assert rows[0].startswith('1 | frieze board | 0" | 2\'-10 7/8" | 4\'-9 1/4" | 6"')
    assert rows[1].startswith("2 | pilaster")
    # It stands 4 in from the opening, where nothing that burns may.
    assert rows[1].endswith("| failed")


def numbers_on(drawing: Drawing) -> list[str]:
    """Return the numbers of woodwork, as they are lettered."""
    said = (x.text for x in drawing.ink if isinstance(x, Words))
    return [text for text in said if fullmatch(r"\d+(, \d+)*", text)]


# Solved only where the test runs: every process collects them all.
NUMBERED: dict[str, Callable[[], Solution]] = {
    "dining": dining,
    "library": library,
    "metric": lambda: solution_of("metric-slips"),
    "long wall": lambda: odd_solution("long wall"),
}


@pytest.mark.parametrize("name", NUMBERED)
def test_numbers_lead_to_their_woodwork_and_cross_no_brick(name: str) -> None:
    solution = NUMBERED[name]()
    inch = 1.0 if solution.lengths == "in" else 25.4
    drawing = drawn(solution, (ROOM[0] * inch, ROOM[1] * inch))
    strokes = [x for x in drawing.ink if isinstance(x, Stroke)]
    leaders = [x.points for x in strokes if x.layer == layers.NOTES]
    work = [x.points for x in strokes if x.layer == layers.OTHERS]
    (brick,) = [x.points for x in strokes if x.layer == layers.OUTLINE]
    assert len(leaders) == len(work) == len(numbers_on(drawing))
    rings = [shapely.Polygon(ring).exterior for ring in work]
    for leader in leaders:
        line = shapely.LineString(leader)
        assert not line.crosses(shapely.Polygon(brick))
        assert min(ring.distance(shapely.Point(leader[0])) for ring in rings) < 1e-9
    assert crossings(drawing) == []


def test_woodwork_that_is_alike_is_drawn_once_and_named_together() -> None:
    solution = odd_solution("long wall")
    drawing = drawn(solution, (6.5, 2.6))
    numbers = numbers_on(drawing)
    said = ", ".join(numbers)
    over = {str(solution.job.trim.index(x) + 1) for x in trims_over(solution)}
    assert set(said.replace(" ", "").split(",")) == over
    assert len(numbers) < len(over)
    assert collisions(drawing) == []


def test_without_a_rule_there_is_a_place_to_write_one() -> None:
    solution = odd_solution("small on letter")
    assert draw_allowed(solution, ROOM) is None
    (page,) = DRAWN["handover"](solution)
    said = text_of((page,))
    assert "No rule with a figure for woodwork was named" in said
    assert "AT THE MOST" not in said
    assert lines_to_write_on(page) > 15


def test_a_listed_units_own_figures_are_told_and_no_code_is_drawn() -> None:
    """The manual of the gas demo: 6 in, and a mantel table of 12 and 18 in."""
    solution = solution_of("chimney-breast-gas")
    assert draw_allowed(solution, ROOM) is None
    said = text_of(DRAWN["handover"](solution))
    assert "nothing that burns within 6 in of the opening" in said
    assert "from 12 in above it at most 2 in out" in said
    assert "from 18 in above it at most 6 in out" in said
    assert "EXAMPLE FIGURES: installation manual of the gas unit, page 14" in said
    assert "No rule with a figure" not in said
    assert "R1001" not in said


def test_a_manuals_figures_without_their_page_count_for_nothing() -> None:
    text = (CONFIGS / "chimney-breast-gas.toml").read_text(encoding="utf-8")
    assert text.count('page = "14"\n') == 1
    job = parse_job(text.replace('page = "14"\n', ""), Path("gas.toml"))
    said = text_of(DRAWN["handover"](solve(job)))
    assert "No rule with a figure for woodwork was named" in said
    assert "at most 2 in out" not in said


def test_no_tolerance_is_printed_that_nobody_gave() -> None:
    """Half a joint step decides what lands; no mason lays brick to 1/32 in."""
    said = text_of(DRAWN["handover"](library()))
    assert "1/32" not in said
    assert "as mason and carpenter agree" in said


def test_no_size_is_minus_and_none_is_said_twice() -> None:
    # Its shelf begins 8 1/4 in left of the brick; its bed is as thick everywhere.
    solution = solution_of("chamfered-breast")
    rows = lines_on(DRAWN["handover"](solution))
    (shelf,) = [x for x in rows if x.startswith("1 | mantel shelf")]
    assert '8 1/4" beyond' in shelf
    assert not any(" | -" in row for row in rows)
    assert solution.surround.build_out == solution.surround.build_out_most
    assert not any("up to" in row for row in rows)


def test_what_was_measured_again_is_told_beside_what_is_planned() -> None:
    """In the morning room course 6 is laid: 16 1/16 in at the left, 16 at the right.

    A level between the two is what the courses above go on from.
    """
    solution = solution_of("morning-room")
    lines = lines_on(DRAWN["handover"](solution))
    row = next(x for x in lines if x.startswith("top of course 6, the last"))
    assert row.split(" | ")[1:] == ["1'-4 1/16\"", "above the datum"]
    (course,) = [x for x in solution.coursing.courses if x.number == 6]
    assert F(16) <= course.top <= F(257, 16)
    said = text_of(DRAWN["handover"](library()))
    assert "the last one measured" not in said


def test_the_day_is_the_schedules_or_is_left_to_fill_in() -> None:
    # Set on 9 March, two days to pointing, four weeks to woodwork.
    day = date(2026, 3, 9) + timedelta(days=2 + 28)
    said = text_of(DRAWN["handover"](library()))
    assert f"from {day.isoformat()} on: 4 weeks after pointing" in said
    said = text_of(DRAWN["handover"](dining()))
    assert "The joints were pointed on" in said
    assert "no fire" in said


def test_no_load_is_promised_and_nothing_is_passed() -> None:
    said = text_of(DRAWN["handover"](library()))
    assert "bears nothing: no load on it, no fixing into it" in said
    assert "Nothing is fixed within a flue or a firebox wall" in said
    assert "NOT CHECKED" in said


def test_it_is_asked_for_by_name_alone() -> None:
    bare = solution_of("library-hearth")
    assert "handover" not in papers_asked(bare.job)
    asking = replace(bare, job=bare.job.asking_for(("handover",)))
    assert papers_asked(asking.job) == {"handover"}


@pytest.mark.parametrize("room", [(6.5, 2.6), (6.5, 1.2), (3.0, 2.6)])
def test_the_drawing_fits_its_room_at_a_scale_of_the_practice(
    room: tuple[float, float],
) -> None:
    drawing = draw_allowed(dining(), room)
    if drawing is not None:
        assert drawing.scale in (1, 2, 4, 8, 12, 16, 24, 32, 48, 96)
