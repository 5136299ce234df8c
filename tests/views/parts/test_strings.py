"""Strings below a view: their names stand apart."""

from __future__ import annotations

from fractions import Fraction as F
from itertools import pairwise

import pytest

from shopdraw.drawing.ink import Measure, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.views.parts.strings import stacked_strings
from tests.demos import elevation_of, solution_of
from tests.views.lettering import collisions


def downs(words: list[Words], scale: float) -> list[float]:
    """Return how far each line is below the last, in heights of lettering."""
    ys = [x.at[1] / x.height_on_paper / scale for x in words]
    return [round(a - b, 3) for a, b in pairwise(ys)]


def test_two_names_of_two_lines_are_not_read_as_one() -> None:
    """Else the end of one is as near to the next as to its own beginning."""
    job = solution_of("crooked-study").job
    positions = (F(0), F(10), F(50), F(60))
    names = ["AT THE HEARTH, FINISH", "AT ITS FURTHER END, FINISH", "OVERALL, FINISH"]
    ink = stacked_strings(job, [(name, positions) for name in names], 8.0)
    words = [x for x in ink if isinstance(x, Words)]
    assert [x.text for x in words] == [
        "AT THE",
        "HEARTH, FINISH",
        "AT ITS FURTHER",
        "END, FINISH",
        "OVERALL, FINISH",
    ]
    within, between, _, below = downs(words, 8.0)
    assert between >= 1.5 * within
    assert below >= 1.5 * within


def test_a_name_keeps_off_the_extension_lines_of_strings_further_out() -> None:
    job = solution_of("chamfered-breast").job
    rows = [("COURSE 1, FINISH", (F(8), F(60))), ("OVERALL", (F(0), F(68)))]
    ink = stacked_strings(job, rows, 8.0)
    names = [x for x in ink if isinstance(x, Words)]
    assert [x.text for x in names] == ["COURSE 1, FINISH", "OVERALL"]
    assert all(box_of(x, 8.0)[2] < 0 for x in names)


def test_the_nearest_string_hangs_off_by_the_same_on_paper_at_every_scale() -> None:
    """Its figures are clear of what it hangs from, and it isn't far off."""
    job = solution_of("library-hearth").job
    off = set()
    for scale in (4.0, 8.0, 24.0):
        (string,) = stacked_strings(job, [("", (F(0), F(96)))], scale, foot=-2.0)
        assert isinstance(string, Measure)
        off.add(round((-2.0 - string.line_at) / scale / string.height_on_paper, 6))
    (heights,) = off
    assert 2.5 <= heights <= 4.5


def test_what_is_lettered_below_a_string_is_as_near_to_it_at_every_scale() -> None:
    job = solution_of("library-hearth").job
    below, row = set(), [("", (F(0), F(96)))]
    for scale in (1.0, 4.0, 24.0):
        string, words = stacked_strings(job, row, scale, says={0: (48.0, "SAID")})
        assert isinstance(string, Measure)
        assert isinstance(words, Words)
        assert (words.text, words.at[0]) == ("SAID", 48.0)
        unit = scale * words.height_on_paper
        below.add(round((string.line_at - words.at[1]) / unit, 6))
    (heights,) = below
    # Below the line, and nearer to it than to a string below it.
    assert 0.5 < heights < 3.0


@pytest.mark.parametrize(("gap", "is_below"), [(40, True), (14, False)])
def test_what_is_longer_than_its_figure_s_gap_is_said_with_the_name(
    gap: int, *, is_below: bool
) -> None:
    """Over its neighbours' figures it would be read as said of them."""
    job = solution_of("library-hearth").job
    positions = (F(0), F(30), F(30 + gap), F(60 + gap))
    middle, said = 30 + gap / 2, "CLEAR OPENING, BRICK TO BRICK"
    ink = stacked_strings(
        job, [("COURSE 1", positions)], 12.0, says={0: (middle, said)}
    )
    words = {x.text: x for x in ink if isinstance(x, Words)}
    if is_below:
        assert set(words) == {"COURSE 1", said}
        assert words[said].at[0] == middle
    else:
        assert list(words) == ["COURSE 1", "CLEAR OPENING,", "BRICK TO BRICK"]
        assert {x.align for x in words.values()} == {"right"}
        assert all(x.at[0] < 0 for x in words.values())


def test_a_string_s_name_keeps_off_the_figures_that_one_before_it_led_out() -> None:
    """Soldiers are counted in five lines; beside them a figure of course 2 hangs."""
    drawing = elevation_of("crooked-study", 16.0)
    assert any("SOLDIERS AT" in x.text for x in drawing.ink if isinstance(x, Words))
    assert collisions(drawing) == []


def test_it_is_so_where_both_jambs_lean() -> None:
    drawing = elevation_of("crooked-study", 8.0)
    at = [
        n
        for n, x in enumerate(drawing.ink)
        if isinstance(x, Words) and x.text.startswith("AT THE")
    ]
    first, second = (drawing.ink[n] for n in at)
    assert isinstance(first, Words)
    assert isinstance(second, Words)
    assert downs([first, second], 8.0)[0] >= 3.75


def test_names_are_one_column_though_a_string_begins_a_little_further_in() -> None:
    # The substrate begins a build-out in from the finish, by common practice no reason
    # for a ragged edge; a string far inside keeps its name beside it.
    job = solution_of("library-hearth").job
    rows = [
        ("OVERALL, FINISH", (F(0), F(60))),
        ("SUBSTRATE", (F(1), F(59))),
        ("REQUIRED", (F(20), F(40))),
    ]
    ink = stacked_strings(job, rows, 8.0)
    overall, substrate, required = (x.at[0] for x in ink if isinstance(x, Words))
    assert substrate == overall < 0
    assert overall + 15 < required < 20


def test_a_deep_name_of_the_nearest_string_stays_below_the_view() -> None:
    """With what is said of the opening it has five lines, about its string."""
    job = solution_of("library-hearth").job
    positions = (F(0), F(30), F(44), F(74))
    name = "COURSES 1, 3, 5, 9, 11, 15, 17, 21, 23, 27, 29, 33, 35, FINISH"
    said = {0: (37.0, "CLEAR OPENING, BRICK TO BRICK")}
    ink = [*stacked_strings(job, [(name, positions)], 12.0, foot=-2.0, says=said)]
    words = [x for x in ink if isinstance(x, Words)]
    assert len(words) == 5
    assert all(box_of(x, 12.0)[3] < -2.0 for x in words)
