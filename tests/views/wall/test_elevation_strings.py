"""Strings of the front: what stands on end, which opening, checks of a crooked one."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise
from math import hypot

import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Measure, Words
from shopdraw.drawing.measures import letter_of
from shopdraw.masonry.wall.layout import Outline
from shopdraw.solution import Solution
from shopdraw.views.wall.elevation import draw_elevation
from shopdraw.views.wall.standing import made_of
from tests.demos import elevation_of, solution_of
from tests.odd_jobs import odd_solution
from tests.views.marks_read import courses_of
from tests.views.strings import figures_of, measures_of, printed

RUN = re.compile(
    r"(?:AT EITHER SIDE )?(.+) = (.+); (\d+) (EQ )?JOINTS(?: AT (.+?)|, .+?)? = (.+)"
)
DEMOS = ("library-hearth", "crooked-study", "banded-breast", "metric-slips")


def test_a_run_that_is_one_brick_from_end_to_end_has_no_joints() -> None:
    zero, wide = F(0), F(9, 4)
    ring = (zero, zero), (wide, zero), (wide, F(8)), (zero, F(8))
    said = made_of("soldier", (zero, wide), [Outline("front", ring)], "in")
    assert said == '1 SOLDIER AT 2 1/4" = 2 1/4"; 0 JOINTS = 0"'


def lettered(drawing: Drawing) -> list[str]:
    return [x.text for x in drawing.ink if isinstance(x, Words)]


def made_up(drawing: Drawing) -> list[str]:
    """Return what is said of soldiers and rowlocks, in one line or in two."""
    said = lettered(drawing)
    both = [f"{a} {b}" for a, b in pairwise(said) if a.endswith(";")]
    return [x for x in (*said, *both) if RUN.fullmatch(x)]


def not_adding_up(solution: Solution, drawing: Drawing) -> list[str]:
    """Return which of it does not add up to a figure of a string, as printed."""
    strings = [x for x in figures_of(drawing) if not any("EQ" in y for y in x)]
    sums = {
        sum(some, F(0))
        for figures in strings
        for n in range(len(figures))
        for m in range(n + 1, len(figures) + 1)
        for some in [[printed(x, solution.lengths) for x in figures[n:m]]]
    }
    assert strings
    wrong = []
    for words in made_up(drawing):
        read = RUN.fullmatch(words)
        assert read is not None
        brick = F(0)
        for part in read[1].split(" + "):
            count, width = re.fullmatch(r"(\d+) [A-Z]+ AT (.+)", part).groups()  # type: ignore[union-attr]
            brick += int(count) * printed(width, solution.lengths)
        joints = printed(read[6], solution.lengths)
        each = printed(read[5], solution.lengths) * int(read[3]) if read[5] else joints
        is_right = brick == printed(read[2], solution.lengths) and each == joints
        if not is_right or brick + joints not in sums:
            wrong.append(words)
    return wrong


@pytest.mark.parametrize("demo", DEMOS)
def test_soldiers_and_rowlocks_add_up_to_their_string(demo: str) -> None:
    solution = solution_of(demo)
    drawing = elevation_of(demo, 5.0 if demo == "metric-slips" else 8.0)
    assert made_up(drawing)
    assert not_adding_up(solution, drawing) == []


@pytest.mark.parametrize("demo", DEMOS)
def test_what_is_said_of_soldiers_stays_between_the_ends_of_their_gap(
    demo: str,
) -> None:
    """Past them it cut the extension lines of what stands beside them short."""
    scale = 5.0 if demo == "metric-slips" else 8.0
    drawing = elevation_of(demo, scale)
    opening = solution_of(demo).surround.opening
    left = solution_of(demo).surround.front.left
    for words, box in lettering_of(drawing):
        if words.align == "centre" and " SOLDIERS AT " in words.text:
            assert float(opening.left - left) < box[0]
            assert box[2] < float(opening.right - left)


def test_a_band_from_end_to_end_is_one_figure_with_its_words() -> None:
    """Within the opening's figure 24 rowlocks would be read as those over it."""
    drawing = elevation_of("banded-breast", 8.0)
    (said,) = (
        x for x in drawing.ink if isinstance(x, Words) and " ROWLOCKS AT" in x.text
    )
    above = [
        x for x in drawing.ink
        if isinstance(x, Measure) and x.axis == "x" and x.line_at > said.at[1]
    ]  # fmt: skip
    nearest = min(above, key=lambda x: x.line_at).line_at
    assert [x.words for x in above if x.line_at == nearest] == ["5'-3 1/8\""]


def set_out(drawing: Drawing) -> list[set[int]]:
    """Return which courses each string of courses is said to be true of."""
    named = re.findall(
        r"(ALTERNATE )?COURSES? (\d[\d, TO]*), FINISH", " ".join(lettered(drawing))
    )
    return [courses_of(said, 2 if alternate else 1) for alternate, said in named]


def unlike(solution: Solution, named: list[set[int]]) -> list[set[int]]:
    """Return which of these are not all courses up to the head that are laid alike."""
    ends: dict[int, set[F]] = {}
    courses = solution.coursing.courses[: solution.coursing.courses_below_head]
    for piece in solution.layout.pieces:
        if piece.course <= len(courses):
            course = courses[piece.course - 1]
            middle = (course.bottom + course.top) / 2
            for outline in (x for x in piece.outlines if x.face == "front"):
                ends.setdefault(piece.course, set()).update(outline.at_level(middle))
    wrong = []
    for some in named:
        first = ends.get(min(some))
        if first and some != {n for n, found in ends.items() if found == first}:
            wrong.append(some)
    return wrong


@pytest.mark.parametrize("demo", ["common-sitting-room", "crooked-study", *DEMOS[2:]])
def test_a_string_of_courses_names_all_that_it_is_true_of(demo: str) -> None:
    solution = solution_of(demo)
    named = set_out(elevation_of(demo, 8.0))
    assert unlike(solution, named) == []
    # One left out of its string, or named beside those that it is not like, is told.
    fewer = [x - {max(x)} if len(x) > 1 else x | {max(x) + 1} for x in named]
    assert len(unlike(solution, fewer)) >= 2


def test_a_bond_of_six_courses_says_where_it_begins_anew() -> None:
    named = set_out(elevation_of("common-sitting-room", 8.0))
    assert named == [{1, 7}, {2, 4, 6, 8, 10}, {3, 5, 9, 11}]


def test_thirteen_soldiers_and_their_joints_fill_the_library_s_opening() -> None:
    """13 x 2 1/4 = 29 1/4 in; of 34 in, 4 3/4 are left for 14 joints."""
    drawing = elevation_of("library-hearth", 4.0)
    said = '13 SOLDIERS AT 2 1/4" = 2\'-5 1/4"; 14 EQ JOINTS, ABOUT 5/16" EACH = 4 3/4"'
    assert made_up(drawing) == [said]
    kinds = {x.kind for x in solution_of("library-hearth").layout.pieces}
    assert "soldier" in kinds


@pytest.mark.parametrize(("old", "new"), [("13 SOL", "12 SOL"), ("4 3/4", "4 1/2")])
def test_a_soldier_string_that_does_not_add_up_is_noticed(old: str, new: str) -> None:
    solution = solution_of("library-hearth")
    drawing = elevation_of("library-hearth", 4.0)
    (said,) = made_up(drawing)
    ink = tuple(
        replace(x, text=x.text.replace(old, new))
        if isinstance(x, Words) and x.text == said
        else x
        for x in drawing.ink
    )
    assert len(not_adding_up(solution, replace(drawing, ink=ink))) == 1


@pytest.mark.parametrize(
    ("demo", "said"),
    [
        ("library-hearth", "CLEAR OPENING, BRICK TO BRICK"),
        ("splayed-parlour", "CLEAR BETWEEN FINISHED JAMBS"),
        ("crooked-study", "BRICK TO BRICK AT THE COURSE'S MIDDLE"),
        (
            "chimney-breast-gas",
            'BRICK TO BRICK, WITH SOFT JOINT 1/4" AT EACH JAMB',
        ),
    ],
)
def test_the_string_over_the_opening_says_what_it_measures(
    demo: str, said: str
) -> None:
    assert said in lettered(elevation_of(demo, 8.0))


def test_a_crooked_opening_is_checked_by_its_corners() -> None:
    """The job's corners: feet at 10 1/2 and 47 1/4, heads at 10 3/4 and 47 1/2 in.

    Up from the line at the left foot: 0, -1/2, 28 5/8, 28 3/4. Brick covers the jambs,
    so the finished opening is no other than that.
    """
    feet, heads = ((10.5, 0.0), (47.25, -0.5)), ((10.75, 28.625), (47.5, 28.75))
    drawing = elevation_of("crooked-study", 8.0)
    said = lettered(drawing)
    across = [hypot(heads[1][0] - 10.5, heads[1][1])]
    across += [hypot(feet[1][0] - heads[0][0], heads[0][1] + 0.5)]
    for wanted in across:
        found = [
            printed(x.removeprefix("DIAGONAL "), "in") for x in said if "DIAG" in x
        ]
        assert any(abs(float(x) - wanted) <= 1 / 32 + 1e-9 for x in found), wanted
    assert said.count('LEANS 1/4"') == 2
    assert said.count("TO THE RIGHT") == 2
    assert {"IN 2'-4 5/8\"", "IN 2'-5 1/4\""} <= set(said)
    assert "HEAD FROM LEFT TO RIGHT:" in said


def test_a_true_opening_has_no_such_checks() -> None:
    said = lettered(elevation_of("library-hearth", 4.0))
    assert not [x for x in said if "DIAGONAL" in x or "LEANS" in x]


def test_a_figure_that_stands_off_its_string_has_a_leader_beyond_the_first_row() -> (
    None
):
    drawing = elevation_of("flemish-breast", 8.0)
    off = [
        x
        for x in drawing.ink
        if isinstance(x, Measure)
        and x.axis == "x"
        and x.letter is not None
        and abs(x.letter[1] - x.line_at) > 2 * x.height_on_paper * 8.0
    ]
    assert off
    assert all(x.has_leader for x in off)


def test_woodwork_at_one_level_has_one_flag() -> None:
    """Eight brackets under a shelf are not flagged one above another into the sky."""
    drawing = draw_elevation(odd_solution("long wall"), 12.0)
    said = lettered(drawing)
    assert said.count("UNDERSIDE, BY OTHERS") == 2
    assert " ".join(said).count("BRACKET 7") == 1
    heights = {x.text: x.at[1] for x in drawing.ink if isinstance(x, Words)}
    assert heights["TOP AT 5'-0\": LANDS"] == pytest.approx(60.0, abs=3.0)


def test_the_string_of_a_course_that_projects_says_by_how_much() -> None:
    words = " ".join(lettered(elevation_of("banded-breast", 8.0)))
    for said in (
        "COURSE 8, FINISH",
        'COURSE 18, FINISH, OUT 3/16"',
        'COURSE 20, FINISH, OUT 9/16"',
    ):
        assert said in words


def test_a_shelf_s_name_is_lettered_in_black_like_other_notes() -> None:
    ink = elevation_of("banded-breast", 8.0).ink
    named = [
        x for x in ink if isinstance(x, Words) and x.text == "OAK SHELF, BY OTHERS"
    ]
    assert [x.layer for x in named] == [layers.NOTES]


def test_the_substrate_has_a_string_only_where_its_figures_are_its_own() -> None:
    """By hand: of the raised hearth no return is brick, so that nothing is added."""

    def said(demo: str) -> str:
        drawing = elevation_of(demo, 8.0)
        return " ".join(x.text for x in drawing.ink if isinstance(x, Words))

    # Both legs are 11 5/8 and the opening 2'-10", finished and before.
    both = "LEGS AND OPENING, FINISH, AND SUBSTRATE, AS MEASURED"
    assert both in said("raised-hearth")
    assert said("raised-hearth").count("SUBSTRATE, AS MEASURED") == 1
    # Build-out at both corners: the legs are an inch longer than the substrate.
    assert both not in said("library-hearth")
    assert "SUBSTRATE, AS MEASURED" in said("library-hearth")


def fanned_out(drawing: Drawing) -> list[list[str]]:
    """Return the figures of each level string of which several pass one of its ends."""
    found = []
    for string in measures_of(drawing):
        if string[0].axis != "x":
            continue
        at = [letter_of(x, drawing.scale).at[0] for x in string]
        first, last = string[0].start[0], string[-1].end[0]
        if sum(y < first for y in at) > 1 or sum(y > last for y in at) > 1:
            found.append([x.words for x in string])
    return found


@pytest.mark.parametrize("demo", ["banded-breast", "semicircular-dining-room"])
def test_no_figures_fan_out_past_an_end_of_their_string(demo: str) -> None:
    """Like joints are EQ there: course 8 of the first has eight among its closers."""
    drawing = elevation_of(demo, 8)
    assert fanned_out(drawing) == []
    if demo == "banded-breast":
        assert '8 EQ AT 3/8" = 3"' in lettered(drawing)


def test_figures_that_fan_out_are_noticed() -> None:
    drawing = elevation_of("banded-breast", 8)
    first = next(x for x in measures_of(drawing) if x[0].axis == "x")
    far = first[0].start[0] - 1, first[0].line_at - 1
    ink = tuple(replace(x, letter=far) if x in first else x for x in drawing.ink)
    assert len(fanned_out(replace(drawing, ink=ink))) == 1


def test_what_is_said_of_the_legs_does_not_stand_below_the_openings_figure() -> None:
    drawing = elevation_of("banded-breast", 8)
    (string,) = [
        x
        for x in measures_of(drawing)
        if [y.words for y in x] == ["1'-3 5/8\"", "2'-7 7/8\"", "1'-3 5/8\""]
    ]
    below = [
        x.text
        for x, (left, _, right, top) in lettering_of(drawing)
        if x.layer == layers.NOTES
        and string[0].start[0] < left
        and right < string[-1].end[0]
        and 0 < string[0].line_at - top < 3 * x.height_on_paper * drawing.scale
    ]
    assert below == []
    assert any(x.startswith("AT EITHER SIDE") for x in lettered(drawing))
