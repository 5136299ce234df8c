"""Developed returns: every piece once, legs of the front plain, strings by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise

import pytest

from shopdraw.drawing.ink import Drawing, Insert, Measure, Stroke, Words
from shopdraw.solution import Solution
from shopdraw.views.wall.returns import _level_rows, draw_return, draw_reveal
from tests.demos import solution_of
from tests.views.jobs import solved
from tests.views.lettering import collisions
from tests.views.strings import figures_of, unclosed

JOBS = ("two hands", "trimmed", "right return", "metric corners", "mitre", "butt")
SCALES = {"in": (8.0, 24.0), "mm": (10.0, 20.0)}


def view(solution: Solution, face: str, scale: float = 8.0) -> Drawing:
    return draw_return(solution, face, scale)


def views(solution: Solution) -> list[Drawing]:
    faces = [x.name for x in solution.surround.faces if x.name != "front"]
    scales = SCALES[solution.job.lengths]
    return [view(solution, face, scale) for face in faces for scale in scales]


def ids(drawing: Drawing) -> list[str]:
    inserts = [ink for ink in drawing.ink if isinstance(ink, Insert)]
    return [tag.text for x in inserts for tag in x.tags if tag.name == "ID"]


@pytest.mark.parametrize("name", JOBS)
def test_nothing_collides_and_every_string_closes(name: str) -> None:
    drawings = views(solved(name))
    assert drawings
    for drawing in drawings:
        assert collisions(drawing) == []
        assert unclosed(drawing, solved(name).job.lengths) == []


@pytest.mark.parametrize("face", ["left", "right"])
def test_a_course_that_stands_out_has_a_string_of_its_own(face: str) -> None:
    """By hand: a return of 12 in, its corner unit out with the course; B2, B3 sawn.

    At the wall is a joint of 3/8, in course 19 of 3/4.
    """
    solution = solution_of("banded-breast")
    for scale in (8.0, 24.0):
        drawing = view(solution, face, scale)
        said = [x.text for x in drawing.ink if isinstance(x, Words)]
        for number, out in ((18, "3/16"), (19, "3/8"), (20, "9/16")):
            assert f'COURSE {number}, FINISH, OUT {out}"' in " ".join(said)
        assert collisions(drawing) == []
        assert unclosed(drawing, "in") == []
    strings = dict(_level_rows(solution, solution.surround.face(face)))
    for name, gaps in (
        ('COURSE 18, FINISH, OUT 3/16"', (F(3, 8), F(61, 16), F(3, 8), F(61, 8))),
        ('COURSE 19, FINISH, OUT 3/8"', (F(3, 4), F(61, 8), F(3, 8), F(29, 8))),
        ('COURSE 20, FINISH, OUT 9/16"', (F(3, 8), F(67, 16), F(3, 8), F(61, 8))),
    ):
        measured = tuple(b - a for a, b in pairwise(strings[name]))
        assert measured == (gaps if face == "left" else gaps[::-1])


def corner_words(drawing: Drawing) -> Words:
    (words,) = (
        ink
        for ink in drawing.ink
        if isinstance(ink, Words) and ink.text == "OUTSIDE CORNER"
    )
    return words


def test_lettering_on_lettering_is_noticed() -> None:
    drawing = view(solution_of("library-hearth"), "left")
    corner = corner_words(drawing)
    twice = replace(drawing, ink=(*drawing.ink, replace(corner, text="WALL")))
    assert ("OUTSIDE CORNER", "WALL") in collisions(twice)


def test_a_string_that_does_not_close_is_noticed() -> None:
    drawing = view(solution_of("library-hearth"), "left")
    first = next(x for x in drawing.ink if isinstance(x, Measure))
    ink = tuple(replace(x, words='9"') if x is first else x for x in drawing.ink)
    assert len(unclosed(replace(drawing, ink=ink), "in")) == 1


@pytest.mark.parametrize("name", JOBS)
def test_pieces_that_count_on_the_return_are_inserted_and_no_others(name: str) -> None:
    solution = solved(name)
    for drawing in views(solution):
        face = drawing.name.removeprefix("return-")
        wanted = [x.id for x in solution.layout.pieces if x.place == face]
        assert sorted(ids(drawing)) == sorted(wanted)


def test_the_front_corner_units_show_their_other_leg_without_tags() -> None:
    # Courses 1, 3 ... 13 have the long leg on the front: seven short legs here.
    drawing = view(solution_of("library-hearth"), "left")
    legs = [
        ink
        for ink in drawing.ink
        if isinstance(ink, Stroke) and ink.layer == "A-ELEV-MSNR-CORN"
    ]
    assert len(legs) == 7
    widths = {max(x for x, _ in s.points) - min(x for x, _ in s.points) for s in legs}
    assert widths == {3.625}


def test_the_strings_of_a_return_read_as_added_up_by_hand() -> None:
    # 13 3/8 in to the substrate and 3/8 + 5/8 of build-out: 14 3/8 in, less 3/8 of
    # sealant at the wall: 14 of brick. Course 1 has the short leg: 3 5/8 + 3/8 + 7 5/8
    # + 3/8 + 2; course 2 the long: 7 5/8 + 3/8 + 6.
    strings = figures_of(view(solution_of("library-hearth"), "right"))
    assert ['3 5/8"', '3/8"', '7 5/8"', '3/8"', '2"', '3/8"'] in strings
    assert ['7 5/8"', '3/8"', '6"', '3/8"'] in strings
    assert ["1'-2 3/8\""] in strings
    assert ["1'-1 3/8\""] in strings
    assert ["2'-3\"", '7 5/8"'] in strings


def test_each_string_says_finish_or_substrate() -> None:
    texts = {
        x.text
        for x in view(solution_of("library-hearth"), "left").ink
        if isinstance(x, Words)
    }
    assert {
        "1 TO 13, FINISH",
        "2 TO 12, FINISH",
        "OVERALL, FINISH",
        "SUBSTRATE,",
        "AS MEASURED",
    } <= texts
    finished = {
        x.text for d in views(solved("metric corners")) for x in d.ink
        if isinstance(x, Words)
    }  # fmt: skip
    assert "OVERALL, FINISH" in finished
    assert "SUBSTRATE," not in finished


def test_strings_of_two_returns_are_level_where_their_feet_are_not() -> None:
    # The hearth of the crooked study falls from the left to the right.
    solution = solution_of("crooked-study")
    feet, first = [], []
    for face in ("left", "right"):
        ink = view(solution, face).ink
        outline = next(x for x in ink if isinstance(x, Stroke) and x.closed)
        feet.append(min(y for _, y in outline.points))
        strings = (x.line_at for x in ink if isinstance(x, Measure) and x.axis == "x")
        first.append(max(strings))
    assert feet[0] > feet[1] + 0.5
    assert first[0] == first[1]


def test_the_outside_corner_is_at_the_front_s_side_of_each_return() -> None:
    solution = solution_of("library-hearth")
    width = float(F(115, 8))
    for face, at in (("left", width), ("right", 0.0)):
        drawing = view(solution, face)
        assert corner_words(drawing).at[0] == at


def test_a_return_that_the_job_has_not_is_refused() -> None:
    with pytest.raises(KeyError):
        view(solved("right return"), "left")


def test_a_jamb_s_depth_is_given_once() -> None:
    """One leg of 7 5/8 goes from the face to the firebox: it is the depth."""
    drawing = draw_reveal(solution_of("splayed-parlour"), "left reveal", 8.0)
    said = " ".join(x.text for x in drawing.ink if isinstance(x, Words))
    assert "ALTERNATE COURSES 1 TO 11 AND ALONG THE JAMB, FINISH" in said
    whole = [x for x in figures_of(drawing) if x == ['7 5/8"']]
    assert len(whole) == 1
