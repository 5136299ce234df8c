"""What is there already and has no place on the elevation is named, never left out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.wall.elevation import draw_elevation
from shopdraw.views.wall.existing import with_existing
from tests.demos import elevation_of, solution_of
from tests.views.jobs import text_of, with_job
from tests.views.lettering import collisions, crossings
from tests.views.test_marks import on_view

GAS = "chimney-breast-gas"
WIDE = ('kind = "gas"', 'kind = "gas"\nflange_width = "2 in"\nflange = "3/4 in"')
NEAR = ('to_masonry = "2 1/4 in"', 'to_masonry = "1 1/4 in"')
FAR = ('to_lining = "15 in"', 'to_lining = "5 in"')
OUTLINE = Stroke(layers.OUTLINE, ((0.0, 0.0), (60.0, 0.0), (60.0, 40.0)), closed=True)
BARE = Drawing("bare", "", 8.0, (OUTLINE,))
"""A view with nothing lettered yet."""
CHANGES = {
    "stud": ("library-hearth", NEAR),
    "both": ("library-hearth", NEAR, FAR),
    "flange": (GAS, WIDE),
    "none": (GAS, ('kind = "gas"', 'kind = "gas"\nflange = "0 in"')),
}


@cache
def changed(name: str) -> Solution:
    demo, *changes = CHANGES[name]
    return solve(parse_job(text_of(demo, *changes), f"{demo}.toml"))  # type: ignore[arg-type]


def lettered(drawing: Drawing) -> str:
    return " ".join(x.text for x in drawing.ink if isinstance(x, Words))


def unnamed(solution: Solution, drawing: Drawing) -> list[str]:
    """Return what the job says is beside the brick, and the elevation does not."""
    said = lettered(drawing)
    return [x.name for x in solution.job.beside if x.name.upper() not in said]


def unclouded(solution: Solution, drawing: Drawing) -> list[str]:
    """Return what fails beside the brick without a cloud round its name and number."""
    clouds = [
        shapely.Polygon(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == layers.NOTES and x.closed
    ]
    words = [
        (x.text, shapely.box(*box_of(x, drawing.scale)))
        for x in drawing.ink
        if isinstance(x, Words)
    ]
    wrong = []
    for number, finding in enumerate(solution.findings, start=1):
        if finding.rule.key != "beside" or finding.status != "failed":
            continue
        assert isinstance(finding.rule.about, int)
        name = solution.job.beside[finding.rule.about - 1].name.upper()
        inside = [
            " ".join(text for text, box in words if cloud.covers(box))
            for cloud in clouds
        ]
        if not any(name in x and f"FINDING {number}" in x for x in inside):
            wrong.append(name)
    return wrong


def test_every_demo_names_what_its_job_says_is_there(
    demo: str, solution: Solution
) -> None:
    drawing = elevation_of(demo, 8.0 if solution.lengths == "in" else 10.0)
    assert unnamed(solution, drawing) == []


@pytest.mark.parametrize(("name", "count"), [("stud", 1), ("both", 2)])
def test_what_fails_beside_the_brick_is_clouded(name: str, count: int) -> None:
    solution = changed(name)
    failed = [x for x in solution.findings if x.status == "failed"]
    assert [x.rule.key for x in failed] == ["beside"] * count
    for scale in (4.0, 8.0):
        drawing = draw_elevation(solution, scale)
        assert unnamed(solution, drawing) == unclouded(solution, drawing) == []
        assert collisions(drawing) == crossings(drawing) == []


def test_a_name_or_a_cloud_that_is_missing_is_noticed() -> None:
    solution = changed("stud")
    drawing = draw_elevation(solution, 8.0)
    no_name = [x for x in drawing.ink if "STUD" not in getattr(x, "text", "")]
    no_cloud = [x for x in drawing.ink if len(getattr(x, "points", ())) < 60]
    assert unnamed(solution, replace(drawing, ink=tuple(no_name))) == ["left stud"]
    assert unclouded(solution, replace(drawing, ink=tuple(no_cloud))) == ["LEFT STUD"]


def test_a_flange_is_drawn_where_it_is() -> None:
    """The opening as found is 36 in wide and 32 in high; the brick lies over 2 in."""
    solution = changed("flange")
    drawing = draw_elevation(solution, 8.0)
    found, left = solution.openings.found, solution.surround.front.left
    wanted = (
        float(found.left - left - 2), 0.0, float(found.right - left + 2), 34.0
    )  # fmt: skip
    rings = [
        shapely.Polygon(x.points).bounds
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == layers.HIDDEN and x.closed
    ]
    assert wanted in rings
    assert 'FLANGE OF THE GAS UNIT, BY OTHERS: 2" WIDE' in lettered(drawing)
    assert on_view(solution, drawing) == []
    assert collisions(drawing) == crossings(drawing) == []


def test_a_flange_without_its_width_is_named_in_a_note() -> None:
    said = lettered(elevation_of(GAS, 8.0))
    assert "FLANGE OF THE GAS UNIT: WIDTH NOT GIVEN" in said
    assert "FLANGE" not in lettered(draw_elevation(changed("none"), 8.0))
    assert "FLANGE" not in lettered(elevation_of("library-hearth", 8.0))


def test_what_is_not_drawn_is_told_apart_line_by_line() -> None:
    """One thing begins further below another than its own lines are apart."""
    drawing = elevation_of("library-hearth", 8.0)
    names = ("NOT DRAWN", "LEFT STUD", "2 1/4", "FLOOR BOARDS")
    heading, stud, far, floor = (
        next(
            x.at[1]
            for x in drawing.ink
            if isinstance(x, Words) and x.text.startswith(name) and x.align == "left"
        )
        for name in names
    )
    assert heading - stud == pytest.approx(far - floor)
    assert far - floor > 1.2 * (stud - far)


@pytest.mark.parametrize(
    ("combustible", "far", "said"),
    [
        (True, None, "FRAMING BESIDE THE BRICK: DISTANCE NOT GIVEN"),
        (False, None, "BRICK, NONCOMBUSTIBLE AS TYPED: DISTANCE NOT GIVEN"),
        (False, "3", "NONCOMBUSTIBLE AS TYPED: 3\" FROM THE FIREPLACE'S MASONRY"),
    ],
)
def test_what_is_beside_the_brick_is_said_as_far_as_it_was_typed(
    combustible: bool, far: str | None, said: str
) -> None:
    solution = solution_of("library-hearth")
    given = {"combustible": combustible, "to_masonry": far and Fraction(far)}
    stud = solution.job.beside[0].model_copy(update=given)
    assert stud.kind == "framing"
    sheet = with_existing(with_job(solution, beside=(stud,)), BARE)
    assert said in lettered(sheet)
    assert ("NONCOMBUSTIBLE" in lettered(sheet)) == (not combustible)


def test_brick_lies_over_a_flange_only_where_it_reaches_past_the_opening() -> None:
    """A quarter of an inch round what was found, and finished as wide or as it was."""
    solution = with_job(
        solution_of(GAS), appliance={"flange_width": Fraction(1, 4), "flange": None}
    )
    found = solution.openings.found
    for by, is_covered in ((Fraction(0), True), (Fraction(1, 4), False)):
        finished = replace(
            found, left=found.left - by, right=found.right + by, top=found.top + by
        )
        openings = replace(solution.openings, finished=finished)
        drawing = with_existing(replace(solution, openings=openings), BARE)
        assert 'FLANGE OF THE GAS UNIT, BY OTHERS: 1/4" WIDE' in lettered(drawing)
        assert ("BRICK LIES OVER IT" in lettered(drawing)) == is_covered
