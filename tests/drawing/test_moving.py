"""Ink put in its place: each point by the same step, larger by the same factor."""

from __future__ import annotations

import pytest

from shopdraw.drawing.ink import Hatch, Insert, Measure, Stroke, Words
from shopdraw.drawing.moving import moved

# (3, 4) twice as large is (6, 8); put down at (100, 10) it lies at (106, 18).
AT, TWICE = (100.0, 10.0), 2.0


def test_a_stroke_is_moved_point_by_point() -> None:
    stroke = Stroke("L", ((3.0, 4.0), (0.0, -4.0)), closed=True)
    assert moved(stroke, AT).points == ((103.0, 14.0), (100.0, 6.0))
    larger = moved(stroke, AT, TWICE)
    assert larger.points == ((106.0, 18.0), (100.0, 2.0))
    assert larger.closed


def test_an_area_s_pattern_moves_and_grows_with_it() -> None:
    hatch = Hatch("L", ((3.0, 4.0),), "DIAGONAL", 1.5, (1.0, 2.0))
    larger = moved(hatch, AT, TWICE)
    assert (larger.points, larger.origin) == (((106.0, 18.0),), (102.0, 14.0))
    assert larger.inch == 3.0


@pytest.mark.parametrize(("lettering", "height"), [(None, 0.2), (1.0, 0.1), (3.0, 0.3)])
def test_lettering_may_grow_otherwise_than_its_place(
    lettering: float | None, height: float
) -> None:
    words = Words("L", (3.0, 4.0), "one", 0.1, column=5.0)
    larger = moved(words, AT, TWICE, lettering)
    assert larger.at == (106.0, 18.0)
    assert larger.height_on_paper == pytest.approx(height)
    assert larger.column == pytest.approx(50 * height)


def test_a_symbol_is_moved_and_stays_as_large_as_it_is() -> None:
    insert = Insert("L", "U-B2", (3.0, 4.0))
    assert moved(insert, AT).at == (103.0, 14.0)


@pytest.mark.parametrize(("axis", "line_at"), [("x", 18.0), ("y", 108.0)])
def test_a_dimension_s_line_is_moved_across_its_axis(axis: str, line_at: float) -> None:
    measure = Measure("L", (0.0, 1.0), (3.0, 4.0), axis, 4.0, "3", 0.1)
    larger = moved(measure, AT, TWICE)
    assert (larger.start, larger.end) == ((100.0, 12.0), (106.0, 18.0))
    assert (larger.line_at, larger.letter) == (line_at, None)
    aside = moved(Measure(**{**vars(measure), "letter": (3.0, 4.0)}), AT, TWICE)
    assert aside.letter == (106.0, 18.0)
    assert aside.height_on_paper == pytest.approx(0.2)
