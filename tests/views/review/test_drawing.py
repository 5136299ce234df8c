"""The review's drawing: every measured line, from where to where, keyed to its row."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import partial
from math import isclose

import pytest
import shapely

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Fill, Hatch, Measure, Stroke, Words
from shopdraw.drawing.sheets import SCALES
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.review import drawing as drawing_of_review
from shopdraw.views.review.drawing import Reviewed, draw_reviewed
from shopdraw.views.section.upright import draw_upright_section
from tests.demos import solution_of
from tests.findings import Name, by_key
from tests.views.jobs import text_of
from tests.views.lettering import collisions, crossings
from tests.views.review.jobs import (
    ALL,
    PLAIN,
    edited,
    every,
    ink_of,
    lettered,
    page_of,
    piece,
    sheet_of,
    solved,
)
from tests.views.review.lines import (
    apart,
    ends_of,
    keys_on,
    lines_on,
    missing_lines,
    names_in,
    wanted_lines,
)
from tests.views.review.rows import told_wrongly


@every
def test_every_measured_line_is_drawn_as_long_as_the_job_has_it(name: str) -> None:
    assert missing_lines(ink_of(sheet_of(name)), solved(name)) == []


@pytest.mark.parametrize("lost_unnamed", [(), (1,), (1, 2, 3)])
def test_woodwork_keeps_its_name_unless_a_line_is_won_by_leaving_it_out(
    lost_unnamed: tuple[int, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    empty = Drawing("reviewed", "", 8.0, ())
    named, unnamed = Reviewed(empty, (1, 2)), Reviewed(empty, lost_unnamed)

    def drawn(_: object, *, named: bool, both: tuple[Reviewed, ...]) -> Reviewed:
        return both[named]

    both = partial(drawn, both=(unnamed, named))
    monkeypatch.setattr(drawing_of_review, "_drawn", both)
    got = draw_reviewed(solution_of("library-hearth"), 8.0)
    assert got is (unnamed if len(lost_unnamed) < 2 else named)


def test_the_lines_are_those_that_the_review_measured() -> None:
    for name in ALL:
        found = by_key(solved(name).findings)
        for rule, length in wanted_lines(solved(name)).items():
            measured = found[rule].measured
            assert measured is not None
            assert isclose(float(measured), length, abs_tol=1e-5)
    lengths = {len(wanted_lines(solved(name))) for name in ALL}
    assert {0, 1, 3, 5} <= lengths
    assert max(lengths) > 10


@pytest.mark.parametrize("name", ["metric-slips", "woodwork all round"])
def test_a_line_of_another_length_or_row_and_a_lost_one_are_noticed(name: str) -> None:
    solution, drawing = solved(name), ink_of(sheet_of(name))
    measures = [x for x in drawing.ink if isinstance(x, Measure)]
    for measure in measures:
        x, y = measure.end
        moved = replace(measure, end=(x + 0.1, y + 0.1))
        assert missing_lines(edited(drawing, measure, moved), solution)
        assert missing_lines(edited(drawing, measure), solution)
        figure = replace(measure, words="0 in")
        assert missing_lines(edited(drawing, measure, figure), solution)
    key = next(key for key in keys_on(drawing) if key.row == 2)
    number = next(
        x for x in drawing.ink if isinstance(x, Words) and apart(x.at, key.at) < 1e-6
    )
    assert missing_lines(edited(drawing, number, replace(number, text="3")), solution)


def test_a_slanting_line_and_a_dot_that_are_moved_or_lost_are_noticed() -> None:
    name = "woodwork all round"
    solution, drawing = solved(name), ink_of(sheet_of(name))
    rules = names_in(solution)
    names = [trim.name for trim in solution.job.trim]
    for trim, is_dot in (("block", False), ("bead", True)):
        rule = ("trim-distance", names.index(trim) + 1)
        ends = lines_on(drawing)[rules.index(rule) + 1].ends
        assert (ends[0] == ends[1]) == is_dot
        middle = shapely.LineString(ends).centroid
        stroke = next(
            x
            for x in drawing.ink
            if isinstance(x, Stroke) and x.layer == "A-ANNO-DIMS"
            if len(x.points) == (4 if is_dot else 2)
            if shapely.LineString(x.points).envelope.centroid.distance(middle) < 1e-6
        )
        (x, y), *rest = stroke.points
        moved = replace(stroke, points=((x + 2.0, y), *rest))
        assert missing_lines(edited(drawing, stroke, moved), solution) == [rule]
        assert missing_lines(edited(drawing, stroke), solution) == [rule]


def boxes_on(drawing: Drawing) -> list[shapely.Polygon]:
    """Return what is drawn as a rectangle of others."""
    return [
        shapely.Polygon(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.layer == "A-ELEV-OTHR-E"
        and x.closed
        and len(x.points) == 4
    ]


def astray(drawing: Drawing, solution: Solution) -> list[Name]:
    """Return the distances that do not run from the opening to their woodwork."""
    lines, wrong = lines_on(drawing), list[Name]()
    rules = names_in(solution)
    (outline,) = (
        shapely.Polygon(x.points).exterior
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ELEV-OTLN"
    )
    (outer,) = (
        shapely.LineString(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ELEV-HIDD"
    )
    opening = shapely.union(outline, outer)
    for place, trim in enumerate(solution.job.trim, start=1):
        rule = ("trim-distance", place)
        if trim.material == "marble":
            continue
        wide, high = float(trim.width), float(trim.height)
        boxes = [
            box
            for box in boxes_on(drawing)
            if isclose(box.bounds[2] - box.bounds[0], wide, abs_tol=1e-6)
            and isclose(box.bounds[3] - box.bounds[1], high, abs_tol=1e-6)
        ]
        near, far = (shapely.Point(x) for x in lines[rules.index(rule) + 1].ends)
        ways = ((near, far), (far, near))
        if not any(
            a.distance(opening) < 1e-6 and b.distance(box.exterior) < 1e-6
            for a, b in ways
            for box in boxes
        ):
            wrong.append(rule)
    return wrong


def test_a_profile_over_the_opening_steps_up_in_section() -> None:
    found = {
        tuple(round(x, 6) for x in (b[2] - b[0], b[3] - b[1]))
        for b in (
            box.bounds for box in boxes_on(ink_of(sheet_of("woodwork all round")))
        )
    }
    # 2 in of it stand out 1 in, the 6 in above them 4 in.
    assert {(1.0, 2.0), (4.0, 6.0)} <= found
    assert not {(1.0, 8.0), (4.0, 8.0)} & found


WOODED = (
    *("library-hearth", "chimney-breast-gas", "metric-slips", "low shelf"),
    *("woodwork all round", "no manual"),
)


@pytest.mark.parametrize("name", WOODED)
def test_every_distance_runs_from_the_opening_to_its_woodwork(name: str) -> None:
    assert astray(ink_of(sheet_of(name)), solved(name)) == []


def test_a_distance_that_ends_elsewhere_is_noticed() -> None:
    solution, drawing = solved("low shelf"), ink_of(sheet_of("low shelf"))
    line = lines_on(drawing)[4]
    measure = next(
        x for x in drawing.ink if isinstance(x, Measure) and ends_of(x) == line.ends
    )
    up = replace(
        measure,
        start=(measure.start[0], measure.start[1] + 9.0),
        end=(measure.end[0], measure.end[1] + 9.0),
    )
    assert astray(edited(drawing, measure, up), solution) == [("trim-distance", 1)]


def unkeyed(drawing: Drawing, solution: Solution) -> list[str]:
    """Return the fittings whose row does not stand in them, or point to them."""
    rules = names_in(solution)
    feet = {key.row: key.foot for key in keys_on(drawing)}
    wrong = []
    for place, each in enumerate(solution.job.fitting, start=1):
        row = rules.index(("fitting", place)) + 1
        size = (float(each.width), float(each.height))
        boxes = [
            box
            for box in boxes_on(drawing)
            if isclose(box.bounds[2] - box.bounds[0], size[0], abs_tol=1e-6)
            and isclose(box.bounds[3] - box.bounds[1], size[1], abs_tol=1e-6)
        ]
        foot = feet.get(row)
        if foot is None or not any(box.contains(shapely.Point(foot)) for box in boxes):
            wrong.append(each.name)
    return wrong


def test_every_fitting_is_drawn_and_keyed_to_its_row() -> None:
    name = "woodwork all round"
    solution, drawing = solved(name), ink_of(sheet_of(name))
    assert len(solution.job.fitting) == 3
    assert unkeyed(drawing, solution) == []
    rings = [
        x
        for x in drawing.ink
        if isinstance(x, Stroke) and x.closed and len(x.points) == 4
        if shapely.Polygon(x.points).area == pytest.approx(6.0)
    ]
    assert len(rings) == 3
    for ring in rings:
        assert len(unkeyed(edited(drawing, ring), solution)) == 1


def test_what_the_drawing_has_no_room_for_is_said_and_stays_in_the_table() -> None:
    pieces = (
        piece(
            f"slat {n}",
            (f"{11 + n} in", f"{40 + 2 * n} in", "1/2 in", "1/2 in"),
            'projection = "1 in"',
        )
        for n in range(14)
    )
    changes = (*PLAIN, ("[sheet]", f"{''.join(pieces)}[sheet]"))
    solution = solve(parse_job(text_of("cannot-land", *changes), "slats.toml"))
    drawing = ink_of(page_of(solution))
    assert told_wrongly(drawing, solution.findings) == []
    assert collisions(drawing) == []
    assert crossings(drawing) == []
    rules = names_in(solution)
    gone = {rules.index(rule) + 1 for rule in missing_lines(drawing, solution)}
    said = re.search(r"measured in rows ([\d, ]+)\.", lettered(drawing))
    assert gone
    assert said is not None
    assert {int(x) for x in said[1].split(", ")} == gone


@every
def test_the_scale_is_said_and_its_bar_is_as_long_as_it_says(name: str) -> None:
    drawing, job = ink_of(sheet_of(name)), solved(name).job
    named = dict(SCALES[job.scales])[drawing.scale]
    words = [x for x in drawing.ink if isinstance(x, Words)]
    caption = next(x for x in words if x.text.endswith(f"SCALE {named}"))
    end = max((x for x in words if x.at[1] == caption.at[1]), key=lambda x: x.at[0])
    parts = [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.closed
        and x.layer == "A-ANNO-NOTE"
        and 0 < x.points[0][1] - caption.at[1] < end.height_on_paper * drawing.scale
    ]
    assert len(parts) == 4
    places = [x for points in parts for x, _ in points]
    unit = job.lengths if job.lengths == "mm" else '"'
    said = float(end.text.removesuffix(unit))
    assert max(places) - min(places) == pytest.approx(said)


@pytest.mark.parametrize(
    ("name", "long"), [("library-hearth", 62), ("metric-slips", 1275)]
)
def test_the_extension_has_an_underside_from_end_to_end(name: str, long: int) -> None:
    """34 in of opening as found and 14 in at each side; 675 and 300 mm."""
    lines = [
        x.points
        for x in ink_of(sheet_of(name)).ink
        if isinstance(x, Stroke) and x.layer == layers.OTHERS and len(x.points) == 2
    ]
    ((left, right),) = (
        (a, b) for a, b in lines if a[1] == b[1] and isclose(b[0] - a[0], long)
    )
    # Each end comes down to it.
    assert {left, right} <= {x for a, b in lines if a[0] == b[0] for x in (a, b)}


def behind_the_face(drawing: Drawing) -> float:
    """Return how far behind the face the wall is drawn in section, hatched."""
    brick = [x for x in drawing.ink if isinstance(x, Fill) and x.layer == "A-SECT-MCUT"]
    walls = [x for x in drawing.ink if isinstance(x, Hatch)]
    face = min(x for fill in brick for x, _ in fill.points)
    top = max(walls, key=lambda x: max(y for _, y in x.points))
    return min(x for x, _ in top.points) - face


@pytest.mark.parametrize("name", ["library-hearth", "metric-slips"])
def test_its_section_has_the_bed_of_the_set_s_own(name: str) -> None:
    """Brick and thickest bed: 5/8 + 1/2 in; 22 + 12 mm."""
    solution = solution_of(name)
    scale = 8.0 if solution.lengths == "in" else 10.0
    wanted = 1.125 if solution.lengths == "in" else 34.0
    for drawing in (
        draw_upright_section(solution, scale), draw_reviewed(solution, scale).drawing
    ):  # fmt: skip
        assert isclose(behind_the_face(drawing), wanted)
