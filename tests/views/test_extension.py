"""The hearth extension from above: drawn as the review found it and the rule asks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import combinations, product
from math import dist

import pytest
import shapely

from shopdraw.catalog.rules import load_rules
from shopdraw.drawing.extents import every_line
from shopdraw.drawing.ink import Drawing, Fill, Hatch, Measure, Stroke, Words
from shopdraw.drawing.layers import DIMENSIONS, FLOOR
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.measures import ticks_of
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.every import every_view
from shopdraw.views.hearth.asked import extension_of
from shopdraw.views.hearth.extension import draw_extension
from tests.demos import solution_of
from tests.odd_jobs import odd_solution
from tests.views.jobs import text_of, with_job
from tests.views.lettering import collisions, crossings
from tests.views.strings import unclosed

CHANGES = {
    "short in front": (('front = "22 in"', 'front = "18 in"'),),
    "short at the left": (('left = "14 in"', 'left = "9 in"'),),
    "short all round": (
        ('front = "22 in"', 'front = "15 in"'),
        ('left = "14 in"', 'left = "5 in"'),
        ('right = "14 in"', 'right = "0 in"'),
    ),
    "left not measured": (('left = "14 in"              # beyond the opening\n', ""),),
    "front not measured": (
        ('front = "22 in"             # from the wall as it is\n', ""),
    ),
    "combustible": (('material = "noncombustible"', 'material = "combustible"'),),
    "no rule": (('set = "irc-2015"', ""),),
    "under the brick": (('front = "22 in"', 'front = "1/2 in"'),),
}


@cache
def changed(name: str) -> Solution:
    return solve(parse_job(text_of("library-hearth", *CHANGES[name]), "x.toml"))


def drawn(solution: Solution, scale: float = 8.0) -> Drawing:
    return draw_extension(solution, scale)


def shaded(drawing: Drawing) -> shapely.Geometry:
    """Return what is shaded, as what is drawn has it."""
    fills = [
        shapely.Polygon(x.points)
        for x in drawing.ink
        if isinstance(x, Fill) and x.layer == "A-ELEV-MSNR-PATT"
    ]
    return shapely.union_all(fills)


def crossed(drawing: Drawing) -> shapely.Geometry:
    hatches = [
        shapely.Polygon(x.points)
        for x in drawing.ink
        if isinstance(x, Hatch) and x.pattern == "CROSSED"
    ]
    return shapely.union_all(hatches)


def said(drawing: Drawing) -> str:
    return " | ".join(x.text for x in drawing.ink if isinstance(x, Words))


def test_every_job_that_gives_a_hearth_has_it(solution: Solution) -> None:
    names = [view.name for view in every_view(solution)]
    assert ("extension" in names) == (solution.job.hearth is not None)
    none = with_job(solution_of("library-hearth"), hearth=None)
    assert "extension" not in [view.name for view in every_view(none)]
    with pytest.raises(ValueError, match="no hearth"):
        extension_of(none)


def test_it_is_as_large_as_the_review_found_it(solution: Solution) -> None:
    shown = extension_of(solution)
    left, front, right, face = shown.area
    lengths = {
        ("hearth-front", ""): face - front,
        ("hearth-side", "left"): shown.outer[0] - left,
        ("hearth-side", "right"): right - shown.outer[1],
    }
    for (key, about), length in lengths.items():
        finding = solution.finding(key, about)  # type: ignore[arg-type]
        assert finding is not None
        assert finding.measured in (length, None)


def asked_by_the_rule(solution: Solution) -> tuple[float, float, float, float]:
    """Reckon from the catalog's row and the job what is to be shaded."""
    named = load_rules(solution.lengths).set_named(solution.job.rules.set)
    assert named is not None
    assert named.hearth is not None
    size = named.hearth.size_for(solution.openings.governing_area)
    job, start = solution.job, solution.surround.front.left
    bed = (job.setting_bed.least + job.setting_bed.most) / 2
    face = bed - job.setting_bed.most
    outer = solution.openings.outer
    more = Fraction(0)
    if named.hearth.raised and job.hearth and job.hearth.raised:
        more = named.hearth.raised.more(job.hearth.raised)
    return (
        float(outer.left - start - size.sides),
        float(face - size.front - more),
        float(outer.right - start + size.sides),
        float(face),
    )


MASONRY = ("library-hearth", "metric-slips", "crooked-study", "raised-hearth")


@pytest.mark.parametrize("demo", MASONRY)
def test_what_is_shaded_is_what_the_rules_row_asks_for(demo: str) -> None:
    solution = solution_of(demo)
    assert shaded(drawn(solution)).bounds == pytest.approx(asked_by_the_rule(solution))


def test_another_figure_of_the_rule_is_noticed() -> None:
    solution = solution_of("library-hearth")
    findings = tuple(
        replace(x, limit=x.limit + 1)
        if x.limit is not None and x.rule.key == "hearth-front"
        else x
        for x in solution.findings
    )
    wrong = shaded(drawn(replace(solution, findings=findings))).bounds
    assert wrong != pytest.approx(asked_by_the_rule(solution))


def test_without_a_rule_nothing_is_shaded() -> None:
    drawing = drawn(changed("no rule"))
    assert shaded(drawing).is_empty
    assert crossed(drawing).is_empty
    assert "NO FIGURE TO HOLD IT AGAINST" in said(drawing)
    assert "PASSED" not in said(drawing)


def short_of(solution: Solution) -> shapely.Geometry:
    """Reckon what is asked for and not there, from the job's own words."""
    hearth = solution.job.hearth
    assert hearth is not None
    assert hearth.left is not None
    assert hearth.front is not None
    assert hearth.right is not None
    start, wall = solution.surround.front.left, solution.surround.build_out
    found = solution.openings.found
    there = shapely.box(
        float(found.left - start - hearth.left),
        float(wall - hearth.front),
        float(found.right - start + hearth.right),
        float(wall),
    )
    asked = shapely.box(*asked_by_the_rule(solution))
    return asked if hearth.material == "combustible" else asked.difference(there)


SHORT = ("short in front", "short at the left", "short all round", "combustible",
         "under the brick")  # fmt: skip


@pytest.mark.parametrize("name", SHORT)
def test_what_falls_short_is_crossed_and_nothing_else(name: str) -> None:
    solution = changed(name)
    drawing, short = drawn(solution), short_of(solution)
    assert short.area > 1
    assert crossed(drawing).symmetric_difference(short).area < 1e-6
    assert "CROSSED" in said(drawing)
    assert "FAILED" in said(drawing)


@pytest.mark.parametrize("name", SHORT)
def test_what_is_crossed_is_led_to_at_the_end_near_its_name(name: str) -> None:
    drawing = drawn(changed(name))
    text = STYLES[changed(name).lengths].text * drawing.scale
    ends = [
        shapely.Polygon(x.points).centroid
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == DIMENSIONS and x.closed
    ]
    parts = shapely.get_parts(crossed(drawing))
    led = [(x, part) for x in ends for part in parts if part.contains(x)]
    assert led
    assert any(part.bounds[2] - end.x < 3.5 * text for end, part in led)


def test_where_enough_is_there_nothing_is_crossed() -> None:
    solution = solution_of("library-hearth")
    assert short_of(solution).area == 0
    assert crossed(drawn(solution)).is_empty


def breaks(drawing: Drawing) -> Iterator[tuple[float, float]]:
    """Yield the middles of the hearth's break lines in the room, before the face."""
    for ink in drawing.ink:
        is_floor = isinstance(ink, Stroke) and ink.layer == FLOOR
        if isinstance(ink, Stroke) and len(ink.points) == 6 and not is_floor:
            (a, b), (c, d) = ink.points[0], ink.points[-1]
            if min(b, d) < -1:
                yield (a + c) / 2, (b + d) / 2


def test_boards_lie_before_the_hearth_and_are_broken_off() -> None:
    """Only where the job lists them; else the floor's edge is broken off alone."""
    floor = [
        x
        for x in drawn(solution_of("library-hearth")).ink
        if isinstance(x, Stroke) and x.layer == FLOOR
    ]
    assert sorted(len(x.points) for x in floor) == [2, 2, 6, 6, 6]
    # 22 in from the wall, of which 1 in is the brick's.
    assert max(y for x in floor for _, y in x.points) == -21
    other = drawn(solution_of("splayed-parlour"))
    lone = [x for x in other.ink if isinstance(x, Stroke) and x.layer == FLOOR]
    assert [len(x.points) for x in lone] == [6, 6, 6]
    assert "FLOOR BEYOND: NOT LISTED, NOT MEASURED:" in said(other)


@pytest.mark.parametrize(
    ("name", "words"),
    [("left not measured", "LEFT END"), ("front not measured", "FRONT EDGE")],
)
def test_what_was_not_measured_is_broken_off(name: str, words: str) -> None:
    drawing = drawn(changed(name))
    assert f"NOT MEASURED: {words}" in said(drawing)
    assert len(list(breaks(drawing))) == 1
    assert list(breaks(drawn(solution_of("library-hearth")))) == []


def test_nothing_collides_and_strings_close(solution: Solution) -> None:
    drawing = drawn(solution, 12.0 if solution.lengths == "in" else 10.0)
    assert collisions(drawing) == []
    assert crossings(drawing) == []
    assert unclosed(drawing, solution.lengths) == []


@pytest.mark.parametrize("name", CHANGES)
def test_nothing_collides_on_odd_ones(name: str) -> None:
    drawing = drawn(changed(name))
    assert collisions(drawing) == []
    assert crossings(drawing) == []


def unclouded(solution: Solution, drawing: Drawing) -> list[str]:
    """Return what is wrong with the clouds round what falls short.

    A cloud goes round all that is short, stands close to it, and every finding that
    failed is named by its number.
    """
    clouds = [
        shapely.Polygon(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ANNO-NOTE" and len(x.points) > 60
    ]
    around, short = shapely.union_all(clouds), short_of(solution)
    wrong = [] if short.is_empty or around.covers(short) else ["not round all of it"]
    if around.area and not short.buffer(3.0 * 3 / 32 * drawing.scale).covers(around):
        wrong.append("too far off")
    named = [x for x in said(drawing).split(" | ") if x.startswith("FAILS: ")]
    wanted = [
        str(number)
        for number, finding in enumerate(solution.findings, start=1)
        if finding.rule.key in ("hearth-front", "hearth-side")
        and finding.status == "failed"
    ]
    words = " ".join(named).replace(",", " ").split()
    if [word for word in words if word.isdigit()] != wanted:
        wrong.append(f"findings {wanted} are not named")
    return wrong


@pytest.mark.parametrize("name", SHORT)
def test_what_falls_short_is_clouded_with_its_findings_numbers(name: str) -> None:
    solution = changed(name)
    assert unclouded(solution, drawn(solution)) == []


def test_where_enough_is_there_nothing_is_clouded() -> None:
    solution = solution_of("library-hearth")
    assert unclouded(solution, drawn(solution)) == []
    assert "FAILS" not in said(drawn(solution))


def test_a_cloud_or_a_number_that_is_missing_is_noticed() -> None:
    solution = changed("short all round")
    drawing = drawn(solution)
    no_cloud = [x for x in drawing.ink if len(getattr(x, "points", ())) <= 60]
    no_words = [x for x in drawing.ink if not getattr(x, "text", "").startswith("FAIL")]
    for ink in (no_cloud, no_words):
        assert unclouded(solution, replace(drawing, ink=tuple(ink))) != []


def near_a_stroke(drawing: Drawing) -> list[str]:
    """Return the lettering that all but touches the end of a dimension line."""
    ends = shapely.STRtree(
        [
            shapely.LineString(line)
            for ink in drawing.ink
            if isinstance(ink, Measure)
            for line in ticks_of(ink, drawing.scale)
        ]
    )
    found = []
    for words in drawing.ink:
        if isinstance(words, Words):
            left, low, right, high = box_of(words, drawing.scale)
            room = 0.3 * words.height_on_paper * drawing.scale
            box = shapely.box(left, low - room, right, high + room)
            if len(ends.query(box, "intersects")):
                found.append(words.text)
    return found


def test_no_lettering_all_but_touches_the_strokes_of_a_dimension(
    solution: Solution,
) -> None:
    if solution.job.hearth is not None:
        assert near_a_stroke(draw_extension(solution, 8.0)) == []


@pytest.mark.parametrize("name", ["segmental-kitchen", "library-hearth"])
def test_no_line_lies_on_the_mark_of_a_level(name: str) -> None:
    """Of an upright cross on the hearth's end a stroke is left: it reads as a minus."""
    drawing = draw_extension(solution_of(name), 8.0)
    lines = [line for line in every_line(drawing) if dist(*line) > 0]
    text = STYLES["in"].text * drawing.scale
    marks = [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke) and len(x.points) == 2 and dist(*x.points) < 1.6 * text
    ]
    crosses = [
        (one, other)
        for one, other in combinations(marks, 2)
        if dist(middle(one), middle(other)) < 1e-9
    ]
    assert len(crosses) == 2
    for line in (x for pair in crosses for x in pair):
        along = shapely.LineString(line).buffer(0.02 * text)
        others = (shapely.LineString(x) for x in lines if x != line)
        assert all(x.intersection(along).length < 0.2 * text for x in others)


def middle(line: Sequence[tuple[float, float]]) -> tuple[float, float]:
    (a, b), (c, d) = line
    return (a + c) / 2, (b + d) / 2


def end_of_leader(drawing: Drawing, words: str) -> shapely.Geometry:
    """Return where the leader ends that begins at the line of some words."""
    (note,) = (
        x for x in drawing.ink if isinstance(x, Words) and x.text.startswith(words)
    )
    left, low, _, top = box_of(note, drawing.scale)
    leaders = [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.layer == DIMENSIONS
        and any(low <= y <= top and 0 < left - x < top - low for x, y in x.points)
    ]
    (line,) = leaders
    return shapely.Point(min(line))


@pytest.mark.parametrize("demo", ["library-hearth", "crooked-study"])
def test_the_floor_is_led_to_beside_the_kink_of_its_break(demo: str) -> None:
    drawing = drawn(solution_of(demo))
    text = STYLES["in"].text * drawing.scale
    kinks = [
        shapely.LineString(x.points[1:-1])
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == FLOOR and len(x.points) == 6
    ]
    end = end_of_leader(drawing, "FLOOR BEYOND")
    level = shapely.LineString([(end.x, end.y), (end.x + 9 * text, end.y)])
    assert min(level.distance(kink) for kink in kinks) > 0.3 * text


@pytest.mark.parametrize("name", ["short in front", "short all round"])
def test_what_is_shaded_is_led_to_clear_of_a_cloud(name: str) -> None:
    drawing = drawn(changed(name))
    text = STYLES["in"].text * drawing.scale
    clouds = [
        shapely.LineString(x.points)
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ANNO-NOTE" and len(x.points) > 60
    ]
    end = end_of_leader(drawing, "SHADED")
    assert shaded(drawing).covers(end)
    assert min(end.distance(cloud) for cloud in clouds) > text


@pytest.mark.parametrize("name", ["long wall", "long names"])
def test_no_two_leaders_end_so_close_that_they_read_as_one(name: str) -> None:
    """Nor does one run through what another ends in, as the cloud's did."""
    drawing = draw_extension(odd_solution(name), 12.0)
    text = STYLES["in"].text * drawing.scale
    strokes = [
        x for x in drawing.ink if isinstance(x, Stroke) and x.layer == DIMENSIONS
    ]
    ends = [x for x in strokes if x.closed and len(x.points) == 4]
    dots = [shapely.Polygon(x.points).centroid for x in ends]
    lines = [x.points for x in strokes if not x.closed and len(x.points) == 3]
    assert len(dots) == len(lines) == 7
    assert min(a.distance(b) for a, b in combinations(dots, 2)) > 0.75 * text
    for line, at in product(lines, dots):
        if dist(line[0], (at.x, at.y)) > 0.01:
            assert shapely.LineString(line).distance(at) > 0.35 * text
