"""A riser's nosing is set out: how many rowlocks, how wide, on which joints."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from re import findall

import pytest
import shapely
import shapely.affinity
from matplotlib.textpath import TextPath

from shopdraw.drawing.ink import Drawing, Insert, Measure, Stroke, Words
from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.lettering import box_of
from shopdraw.lengths import format_length, parse_length
from shopdraw.views.hearth.edge import draw_hearth_edge
from shopdraw.views.hearth.plan import draw_hearth_plan
from shopdraw.views.hearth.riser import draw_riser
from shopdraw.views.parts.heights import running_heights
from tests.demos import set_of, solution_of
from tests.views.lettering import collisions
from tests.views.strings import unclosed


@pytest.mark.parametrize("name", ["left", "front", "right"])
@pytest.mark.parametrize("scale", [4.0, 8.0])
def test_the_nosing_is_said_and_adds_up_to_the_face(name: str, scale: float) -> None:
    solution = solution_of("raised-hearth")
    hearth = solution.hearth
    assert hearth is not None
    assert hearth.riser is not None
    riser = hearth.riser
    drawing = draw_riser(solution, hearth, riser, name, scale)
    lettered = [ink for ink in drawing.ink if isinstance(ink, Words)]
    (first,) = (n for n, x in enumerate(lettered) if " ROWLOCKS AT " in x.text)
    lines = lettered[first : first + 1 + lettered[first].text.endswith(";")]
    said = " ".join(line.text for line in lines)
    face, last = riser.surround.face(name), riser.coursing.courses[-1].number
    standing = [
        outline
        for piece in riser.layout.in_courses
        for outline in piece.outlines
        if outline.face == face.name and piece.course == last
    ]
    counts = [int(x) for x in findall(r"(\d+) ROWLOCK", said)]
    assert sum(counts) == len(standing)
    sums = [parse_length(f"{x} in", "in") for x in findall(r' = ([^";]+)"', said)]
    assert sum(sums, Fraction(0)) == face.width
    assert collisions(drawing) == []
    assert unclosed(drawing, "in") == []
    if scale == 4.0:
        # At the scale of the sheet it stands below its own string.
        for line in lines:
            left, _, right, _ = box_of(line, scale)
            assert left >= 0
            assert right <= face.width


@pytest.mark.parametrize("name", ["left", "front", "right"])
def test_no_mark_touches_the_heavy_outline(name: str) -> None:
    """As the letters are shaped: brackets are higher than capitals, and go lower."""
    solution = solution_of("raised-hearth")
    hearth = solution.hearth
    assert hearth is not None
    assert hearth.riser is not None
    drawing = draw_riser(solution, hearth, hearth.riser, name, 4.0)
    heavy = {x.name: x.pen_mm for x in LAYERS}["A-ELEV-OTLN"] / 25.4 * 4.0
    rings = [
        shapely.LinearRing(x.points).buffer(heavy / 2)
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ELEV-OTLN"
    ]
    assert len(rings) == 1
    tags = (tag for x in drawing.ink if isinstance(x, Insert) for tag in x.tags)
    on_other_faces = [
        x for x in drawing.ink if isinstance(x, Words) and x.layer == "A-ELEV-MSNR-IDEN"
    ]
    marks = [*on_other_faces, *(x.words for x in tags if x.words is not None)]
    assert len(marks) > 5
    for words in marks:
        assert (words.align, words.seat) == ("centre", "middle")
        shape = TextPath((0, 0), words.text, size=100)
        capital = TextPath((0, 0), "H", size=100).get_extents()
        box, part = shape.get_extents(), words.height_on_paper * 4.0 / capital.height
        wide, low, high = (
            each * part
            for each in (
                box.width / 2,
                box.y0 - capital.height / 2,
                box.y1 - capital.height / 2,
            )
        )
        turned = shapely.affinity.rotate(
            shapely.box(-wide, low, wide, high), words.angle_deg, origin=(0, 0)
        )
        there = shapely.affinity.translate(turned, *words.at)
        clear = words.height_on_paper * 4.0 / 10
        assert rings[0].distance(there) > clear, words.text


def test_the_front_of_a_riser_is_drawn_at_the_scale_of_its_ends() -> None:
    """Its joints are read beside theirs, at the corners that they share."""
    scales = {
        placed.drawing.name: placed.drawing.scale
        for sheet in set_of("raised-hearth").sheets
        for placed in sheet.drawings
        if placed.drawing.title.startswith("RISER, ")
    }
    assert set(scales) == {"riser-front", "riser-left", "riser-right"}
    assert len(set(scales.values())) == 1


@pytest.mark.parametrize("name", ["raised-hearth", "library-hearth"])
def test_the_front_says_where_the_floor_is_below_a_raised_hearth(name: str) -> None:
    solution = solution_of(name)
    lettered = {x.text for x in running_heights(solution, 4.0) if isinstance(x, Words)}
    hearth = solution.hearth
    if hearth is None or hearth.riser is None:
        assert not any("FLOOR" in text for text in lettered)
        return
    high = format_length(hearth.riser.coursing.top, solution.lengths)
    assert f"FLOOR {high} BELOW IT," in lettered


def lettered(drawing: Drawing) -> list[str]:
    return [x.text for x in drawing.ink if isinstance(x, Words)]


def test_a_riser_without_a_nosing_is_said_to_have_none() -> None:
    solution = solution_of("raised-hearth")
    hearth = solution.hearth
    assert hearth is not None
    assert hearth.riser is not None
    low = hearth.riser.coursing
    for nosed in (True, False):
        # As laid; and its two first courses alone.
        riser = replace(hearth.riser, has_nosing=nosed)
        if not nosed:
            riser = replace(riser, coursing=replace(low, courses=low.courses[:2]))
        front = " | ".join(
            lettered(draw_riser(solution, hearth, riser, "front", 4.0))
        ).replace("NOSING AND | OVERALL", "NOSING AND OVERALL")
        assert ("| NOSING AND OVERALL, FINISH" in front) == nosed
        assert ("| OVERALL, FINISH" in front) == (not nosed)
        assert "COURSE 1, FINISH | COURSE 2, FINISH" in front
        assert (" ROWLOCKS AT " in front) == nosed
        edge = draw_hearth_edge(solution, replace(hearth, riser=riser), 4.0)
        assert ("NOSING OF ROWLOCKS" in lettered(edge)) == nosed
        assert "RISER" in lettered(edge)


def test_a_firebox_whose_line_was_not_given_is_said_and_not_dimensioned() -> None:
    solution = solution_of("raised-hearth")
    hearth = solution.hearth
    assert hearth is not None
    fire = hearth.ground.firebox
    assert fire is not None
    for line in (fire, None):
        ground = replace(hearth.ground, firebox=line)
        drawing = draw_hearth_plan(solution, replace(hearth, ground=ground), 8.0)
        said = "FIREBOX: ITS LINE WAS NOT GIVEN"
        assert (said in lettered(drawing)) == (line is None)
        deep = {
            x.end[1]
            for x in drawing.ink
            if isinstance(x, Measure) and x.axis == "y" and x.line_at < 0
        }
        assert (float(fire) in {float(y) for y in deep}) == (line is not None)


def test_the_depth_of_the_risers_brick_is_led_near_by_past_the_names_below() -> None:
    # Two columns of figures from its line, not out past the name of the string below.
    solution = solution_of("raised-hearth")
    assert solution.hearth is not None
    drawing = draw_hearth_plan(solution, solution.hearth, 8.0)
    led = [
        (x.line_at - x.letter[0]) / drawing.scale / x.height_on_paper
        for x in drawing.ink
        if isinstance(x, Measure) and x.axis == "y" and x.has_leader and x.letter
    ]
    assert len(led) == 1
    assert max(led) < 12
    assert collisions(drawing) == []
