"""The back of the survey form: the job file's own keys, boxes, no crowding."""

from __future__ import annotations

import re
from collections import Counter
from typing import get_args

import pytest
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.job.model_existing import Where
from shopdraw.lengths import Lengths
from shopdraw.views.survey_form import LEFT as FRONT_LEFT
from shopdraw.views.survey_form import RIGHT as FRONT_RIGHT
from shopdraw.views.survey_overleaf import (
    AROUND,
    BARE,
    LEFT,
    OLD,
    RIGHT,
    SEEN,
    draw_overleaf,
)
from tests.views.lettering import collisions, crossings
from tests.views.test_survey_form import (
    INCH,
    SIZES,
    edited,
    empty_boxes,
    ink_of,
    is_inside,
    keys_on,
    lettered,
    unknown,
)

both = pytest.mark.parametrize("lengths", SIZES)
ASKED = {
    *(
        f"face.{side}_{key}"
        for side in ("left", "right")
        for key in (
            "chamfer",
            "chamfer_depth",
            "return_depth",
            "return_splay",
            "alcove",
        )
    ),
    *("panel.left", "panel.bottom", "panel.width", "panel.height"),
    *("trim.left", "trim.bottom", "trim.width", "trim.height", "trim.projection"),
    *("stripping.old.kind", "stripping.old.area", "stripping.old.thickness"),
    *("substrate.plane", "setting_bed.uneven", "stripping.patching"),
    *("opening.throat", "opening.lintel_bearing", "hearth.thickness"),
    *("beside.to_masonry", "substrate.kind", "house.painted_sq_ft"),
    *(f"existing_brick.{key}" for key in ("first_top", "gauge", "height", "courses")),
}
"""What the front of the form has no room for."""


def back(lengths: Lengths) -> Drawing:
    return ink_of(draw_overleaf(lengths))


@both
def test_all_its_ink_is_inside_a_page_of_the_usual_size(lengths: Lengths) -> None:
    sheet = draw_overleaf(lengths)
    assert (sheet.width, sheet.height) == SIZES[lengths]
    assert is_inside(ink_of(sheet), lengths)


@both
def test_no_lettering_lies_on_lettering_or_on_a_line(lengths: Lengths) -> None:
    drawing = back(lengths)
    assert collisions(drawing) == []
    assert crossings(drawing) == []


@both
def test_it_asks_for_these_keys_and_each_is_one_of_the_job_file(
    lengths: Lengths,
) -> None:
    keys = keys_on(back(lengths))
    assert Counter(keys) == dict.fromkeys(ASKED, 1)
    assert unknown(keys) == []


def marks_on(drawing: Drawing) -> Counter[str]:
    return Counter(x for x in lettered(drawing) if re.fullmatch(r"\d+", x))


@both
def test_every_number_stands_once_in_the_figure_and_once_in_the_table(
    lengths: Lengths,
) -> None:
    numbers = [number for number, _, _ in (*LEFT, *RIGHT) if number]
    # Old work, a wall that is not seen yet, and what the review asks have no figure.
    listed = [number for number, _, _ in (*OLD, *BARE, *SEEN, *AROUND) if number]
    once = dict.fromkeys(listed, 1)
    assert marks_on(back(lengths)) == {**dict.fromkeys(numbers, 2), **once}
    # No mark is one of the front's.
    assert not {*numbers} & {letter for letter, _, _ in (*FRONT_LEFT, *FRONT_RIGHT)}


def test_a_number_without_its_row_is_noticed() -> None:
    numbers = [number for number, _, _ in (*LEFT, *RIGHT) if number]
    marks = marks_on(edited(back("in"), "7", "17"))
    assert any(marks[number] != 2 for number in numbers)


@both
def test_there_is_a_box_for_every_figure_large_enough_to_write_in(
    lengths: Lengths,
) -> None:
    inch = INCH[lengths]
    assert empty_boxes(back(lengths), 0.38 * inch, 0.19 * inch) == (
        20 + 4 * 3 + 3 * 2 + 3 + 6
    )


@both
def test_old_brick_is_asked_for_at_each_place_where_a_job_may_have_it(
    lengths: Lengths,
) -> None:
    heads = Counter(lettered(back(lengths)))
    for place in get_args(Where):
        assert heads[place.upper()] >= 2, place


def outlines(drawing: Drawing) -> list[shapely.LineString]:
    """Return what is drawn as the outline of a plan or of a face."""
    strokes = [x for x in drawing.ink if isinstance(x, Stroke)]
    rings = [x for x in strokes if x.layer == layers.OUTLINE]
    return [
        shapely.LineString([*x.points, *(x.points[:1] if x.closed else ())])
        for x in rings
    ]


@both
def test_no_line_of_a_dimension_runs_through_what_is_measured(lengths: Lengths) -> None:
    drawing = back(lengths)
    for stroke in drawing.ink:
        if isinstance(stroke, Stroke) and stroke.layer == layers.DIMENSIONS:
            line = shapely.LineString(stroke.points)
            if line.length < 0.6 * INCH[lengths]:
                # The strokes at a line's ends lie across what they end at.
                continue
            assert not any(line.crosses(each) for each in outlines(drawing))


@both
def test_woodwork_and_panel_are_named_over_the_middle_of_the_face(
    lengths: Lengths,
) -> None:
    drawing = back(lengths)
    named = [x for x in drawing.ink if isinstance(x, Words)]
    panel = next(x.at for x in named if x.text == "PANEL")
    (face,) = [
        box for x in outlines(drawing) if (box := shapely.box(*x.bounds)).contains(
            shapely.Point(panel)
        )
    ]  # fmt: skip
    wood = [x.at for x in named if x.text == "WOOD"]
    left, _, right, top = face.bounds
    # One is in the plan; the other, in the front, is on the wall over the face.
    (over,) = [at for at in wood if abs(at[0] - (left + right) / 2) < 1e-6
               and top < at[1] < top + 0.5 * INCH[lengths]]  # fmt: skip
    assert over
