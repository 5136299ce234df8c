"""The section through the opening: cut brick, and clearances as they were reviewed."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import dist

import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Fill, Hatch, Measure, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.measures import cross, ends_of
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import STYLES
from shopdraw.review.findings import in_words
from shopdraw.solution import Solution
from shopdraw.views.parts.aslant import seen_in_section
from shopdraw.views.parts.figures import Hand
from shopdraw.views.parts.heights import HeightColumn, levels_of, stand_clear
from shopdraw.views.parts.phrases import in_lines
from shopdraw.views.section.through import through_of
from shopdraw.views.section.upright import draw_upright_section
from tests.demos import solution_of
from tests.odd_jobs import odd_solution
from tests.views.lettering import collisions
from tests.views.strings import figures_of, unclosed


def section(solution: Solution, scale: float = 8.0) -> Drawing:
    return draw_upright_section(solution, scale)


def words(drawing: Drawing) -> str:
    return " | ".join(ink.text for ink in drawing.ink if isinstance(ink, Words))


def test_it_is_in_every_set(drawing_set: DrawingSet) -> None:
    names = [p.drawing.name for sheet in drawing_set.sheets for p in sheet.drawings]
    assert names.count("upright-section") == 1


def test_nothing_collides_and_strings_close(solution: Solution) -> None:
    drawing = section(solution, 12.0 if solution.job.lengths == "in" else 10.0)
    assert collisions(drawing) == []
    assert unclosed(drawing, solution.job.lengths) == []


def is_on(level: float, words: Words, scale: float) -> bool:
    _, low, _, high = box_of(words, scale)
    return low < level < high


def test_no_note_stands_on_a_level_line(solution: Solution) -> None:
    # The line breaks off at lettering, so that a note on it reads as the level's name.
    for scale in (4.0, 8.0, 10.0):
        drawing = section(solution, scale)
        for level in levels_of(solution):
            on = [
                ink.text
                for ink in drawing.ink
                if isinstance(ink, Words) and is_on(float(level.at), ink, scale)
            ]
            assert on == [], (scale, level.names)


def test_notes_move_off_a_level_no_further_than_they_must() -> None:
    column = HeightColumn((10.0,), 1.0, 2.0)
    assert stand_clear([(14.0, 0.0), (7.0, 0.0)], column) == (14.0, 7.0)
    assert stand_clear([(14.0, 0.0), (10.5, 0.0)], column) == (14.0, 11.25)
    # The upper one gives way where the lower can go nowhere else.
    low = replace(column, lowest=9.5)
    assert stand_clear([(12.5, 0.0), (10.0, 0.0)], low) == (13.25, 11.25)
    # A note of three lines has no line above a level and another below it.
    first, second = stand_clear([(13.5, 0.0), (10.5, 3.6)], column)
    assert (first, second) == (13.5, 8.75)


def test_the_extension_found_and_asked_are_those_of_the_review() -> None:
    # 22 in from the wall, less 1 1/8 in of brick and its thickest bed; 20 in asked.
    solution = solution_of("library-hearth")
    drawing = section(solution)
    assert figures_of(drawing)[:2] == [["1'-8 7/8\""], ["1'-8\""]]
    assert "HEARTH EXTENSION: PASSED" in words(drawing)


def test_each_piece_of_woodwork_has_its_figures_and_what_they_are_held_to() -> None:
    drawing = section(solution_of("library-hearth"))
    assert "FRIEZE BOARD" in words(drawing)
    assert "DISTANCE 7 7/8 IN (MIN 6 IN): PASSED" in words(drawing)
    assert "PROJECTION 3/4 IN (MAX 63/64 IN): PASSED" in words(drawing)
    assert ['7 7/8"'] in figures_of(drawing)


def test_what_was_not_checked_is_not_said_to_pass() -> None:
    solution = solution_of("library-hearth")
    findings = tuple(
        replace(f, status="not checked", limit=None)
        if f.rule.key.startswith(("trim", "hearth"))
        else f
        for f in solution.findings
    )
    drawing = section(replace(solution, findings=findings))
    assert "PASSED" not in words(drawing)
    assert words(drawing).count("NOT CHECKED") == 3


def test_the_cut_meets_one_unit_a_course_over_the_opening(solution: Solution) -> None:
    # The hearth's own brick lie below the datum.
    cut = [
        ink
        for ink in section(solution).ink
        if isinstance(ink, Fill) and max(y for _, y in ink.points) > 1e-9
    ]
    spans = sorted(
        (min(y for _, y in x.points), max(y for _, y in x.points)) for x in cut
    )
    assert spans
    for (_, top), (bottom, _) in pairwise(spans):
        assert bottom >= top - 1e-9


def test_every_figure_is_a_measure_between_two_true_points() -> None:
    solution = solution_of("library-hearth")
    for ink in section(solution).ink:
        if isinstance(ink, Measure):
            at = 0 if ink.axis == "x" else 1
            assert ink.end[at] > ink.start[at]
    trim = solution.job.trim[0]
    gap = trim.bottom - solution.coursing.head
    finding = solution.finding("trim-distance", 1)
    assert finding is not None
    assert finding.measured is not None
    assert in_words(finding.measured, "in") == in_words(gap, "in")


def test_what_was_not_measured_is_said() -> None:
    said = words(section(solution_of("metric-slips"))).replace(" | ", " ")
    for what in (
        "THROAT: NOT MEASURED",
        "LINTEL BY OTHERS, BEARING AND SIZE NOT MEASURED",
        "FIREBOX: WHERE IT BEGINS AND ITS DEPTH NOT MEASURED",
        "HEARTH: THICKNESS NOT MEASURED",
    ):
        assert what in said
    known = words(section(solution_of("library-hearth"))).replace(" | ", " ")
    assert 'THROAT OR DAMPER, 9" ABOVE THE OPENING' in known
    assert 'BEARS 4 1/2" AT ITS SHORTER END' in known
    assert "THICKNESS NOT MEASURED" in known  # The wall's.
    assert "HEARTH: THICKNESS" not in known


def test_no_line_says_the_opposite_of_its_note(solution: Solution) -> None:
    said = words(section(solution)).split(" | ")
    assert [line for line in said if line.endswith(" NOT")] == []


def test_figures_and_what_is_denied_stay_whole_at_every_width() -> None:
    for pad in range(40):
        note = f"{'X' * (pad % 20 + 1)} {'X' * (pad // 2 + 1)} NOT MEASURED 3 1/2 IN"
        said = in_lines(note, 26.0)
        assert " ".join(said) == note
        assert not any(line.endswith("NOT") for line in said)
        assert not any(line.startswith("1/2") for line in said)


def test_it_is_drawn_where_the_bed_is_thickest() -> None:
    solution = solution_of("library-hearth")
    drawing = section(solution)
    # 5/8 in of brick and 1/2 in of bed; the hearth's edge is 22 in before the wall.
    wall = {
        x
        for ink in drawing.ink
        if isinstance(ink, Hatch) and ink.pattern == "DIAGONAL"
        for x, _ in ink.points
    }
    assert min(wall) == 1.125
    edge = min(
        x
        for ink in drawing.ink
        if isinstance(ink, Hatch) and ink.pattern == "BROKEN"
        for x, _ in ink.points
    )
    assert edge == 1.125 - 22


def test_what_goes_on_behind_a_hearth_of_brick_is_broken_off_from_top_to_foot() -> None:
    drawing = section(solution_of("raised-hearth"))
    slabs = [
        {*ink.points}
        for ink in drawing.ink
        if isinstance(ink, Hatch) and ink.pattern == "BROKEN"
    ]
    broken = [
        {ink.points[0], ink.points[-1]}
        for ink in drawing.ink
        if isinstance(ink, Stroke) and len(ink.points) == 6
    ]
    assert slabs
    for slab in slabs:
        behind = max(x for x, _ in slab)
        assert {(x, y) for x, y in slab if x == behind} in broken


def boards(drawing: Drawing) -> list[Stroke]:
    """Return the lines of boards: what is plain on the floor's layer."""
    return [
        ink
        for ink in drawing.ink
        if isinstance(ink, Stroke) and ink.layer == "A-FLOR-OTHR-E"
    ]


def test_the_floor_beyond_the_hearth_is_drawn_and_named() -> None:
    """Boards where the job lists them, before the hearth's edge; else broken off."""
    known = section(solution_of("library-hearth"))
    edge = 1.125 - 22
    assert max(x for line in boards(known) for x, _ in line.points) == edge
    assert len(boards(known)) == 5
    assert "FLOOR BEYOND: FLOOR BOARDS, COMBUSTIBLE;" in words(known)
    assert "ITS LEVEL AND THICKNESS NOT MEASURED" in words(known)
    lost = section(solution_of("splayed-parlour"))
    assert len(boards(lost)) == 3
    assert "FLOOR BEYOND: NOT LISTED, NOT MEASURED:" in words(lost)
    assert "TAKE IT AS COMBUSTIBLE" in words(lost)


def test_a_floor_that_does_not_burn_has_no_boards() -> None:
    solution = solution_of("library-hearth")
    floor = solution.job.beside[1]
    assert floor.kind == "flooring"
    tiled = floor.model_copy(update={"combustible": False})
    job = solution.job.model_copy(update={"beside": (tiled,)})
    drawing = section(replace(solution, job=job))
    assert len(boards(drawing)) == 3
    assert "NONCOMBUSTIBLE, AS TYPED" in words(drawing)


def test_the_depth_of_a_jamb_that_turns_in_is_dimensioned() -> None:
    """As the job gives it, square to the face: 7 1/4 in, not the 7 5/8 in along it."""
    drawing = section(solution_of("splayed-parlour"))
    depth = next(x for x in drawing.ink if isinstance(x, Words) and x.text == "REVEAL")
    (measure,) = (
        x
        for x in drawing.ink
        if isinstance(x, Measure) and x.axis == "x" and x.line_at == depth.at[1]
    )
    seen = [y for x in seen_in_section(solution_of("splayed-parlour")) for y, _ in x[2]]
    assert (measure.start[0], measure.words) == (0, '7 1/4"')
    assert abs(measure.end[0] - max(seen)) < 1e-6
    assert "REVEAL" not in words(section(solution_of("library-hearth")))


def test_strings_below_the_hearth_are_one_as_far_below_the_other_as_the_next() -> None:
    names = ["REVEAL", "MEASURED", "REQUIRED"]
    for scale in (4.0, 8.0):
        drawing = section(solution_of("splayed-parlour"), scale)
        at = {x.text: x.at[1] for x in drawing.ink if isinstance(x, Words)}
        first, second, third = (at[name] for name in names)
        assert first - second == pytest.approx(second - third)
        assert first - second > 2 * STYLES["in"].text * scale


def test_props_are_as_long_as_from_the_hearth_to_the_ledger() -> None:
    # 27 in to the head, 1 1/2 in of timber, and a hearth 1/16 in lower at the middle.
    figures = figures_of(section(solution_of("library-hearth")))
    assert ["2'-1 9/16\""] in figures


def test_an_arch_is_measured_to_the_crown_that_its_level_line_names() -> None:
    # The key's foot is straight and lies 1/8 in lower: a string that began there would
    # print one figure, the review and the level line another.
    solution = solution_of("semicircular-dining-room")
    drawing = section(solution)
    assert "DISTANCE 17 1/4 IN (MIN 6 IN): PASSED" in words(drawing)
    assert ["1'-5 1/4\""] in figures_of(drawing)
    assert ["2'-6 3/4\"", "1'-4 1/2\""] in figures_of(drawing)


def test_what_a_hearth_of_brick_lies_on_is_named() -> None:
    solution = solution_of("raised-hearth")
    drawing = section(solution, 4.0)
    assert "SLAB OR CORE BY OTHERS" in words(drawing)
    assert collisions(drawing) == []


def leaders_of(drawing: Drawing) -> list[Stroke]:
    """Return the lines from notes at the left to what they are about."""
    return [
        ink
        for ink in drawing.ink
        if isinstance(ink, Stroke)
        and ink.layer == layers.DIMENSIONS
        and len(ink.points) > 1
        and not ink.closed
    ]


@pytest.mark.parametrize("scale", [4.0, 8.0, 16.0])
def test_the_firebox_is_not_led_to_on_brick_that_turns_into_the_jambs(
    scale: float,
) -> None:
    """What is to be kept out of the firebox would be said of brick that belongs there.

    The leader ends beside the words, level with them or bent there.
    """
    drawing = section(odd_solution("jambs turned in"), scale)
    (said,) = [
        x
        for x in drawing.ink
        if isinstance(x, Words) and x.text.startswith("FIREBOX: ADHERE")
    ]
    text = said.height_on_paper * scale
    (leader,) = [
        x.points
        for x in leaders_of(drawing)
        if any(abs(y - said.at[1]) < text and 0 < said.at[0] - a < 2 * text
               for a, y in x.points)
    ]  # fmt: skip
    tip = min(leader)
    bricks = [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.closed
        and x.layer in (layers.UNITS, layers.CORNERS)
    ]
    assert len(bricks) > 10
    assert tip[0] > max(x for ring in bricks for x, _ in ring)


def test_no_leader_crosses_a_string_of_heights(solution: Solution) -> None:
    for scale in (4.0, 8.0, 10.0):
        drawing = section(solution, scale)
        uprights = [x for x in drawing.ink if isinstance(x, Measure) and x.axis == "y"]
        # Woodwork that is near the opening lies beyond the string of what is allowed.
        nearest = max(x.line_at for x in uprights)
        struck = [
            (line, ends_of(each))
            for leader in leaders_of(drawing)
            for line in pairwise(leader.points)
            for each in uprights
            if each.line_at < nearest - 1e-9 and cross(line, ends_of(each))
        ]
        assert struck == []


def test_a_note_of_woodwork_leads_to_it(solution: Solution) -> None:
    drawing = section(solution)
    ends = [leader.points[-1] for leader in leaders_of(drawing)]
    for trim in through_of(solution, Hand(solution.lengths, drawing.scale)).trims:
        low, high = float(trim.bottom), float(trim.bottom + trim.height)
        out = -float(trim.furthest)
        assert [1 for x, y in ends if out < x < 0 and low < y < high], trim.name


def test_woodwork_that_rises_past_what_is_allowed_is_led_to_above_its_string() -> None:
    """The frieze board begins below that string's end, and goes on above it."""
    drawing = section(solution_of("library-hearth"), 4.0)
    through = through_of(solution_of("library-hearth"), Hand("in", drawing.scale))
    (board,), envelope = through.trims, through.envelope
    assert envelope is not None
    top = float(through.over + max(up for up, _ in envelope.corners))
    assert float(board.bottom) < top < float(board.bottom + board.height)
    (leader,) = [
        x.points
        for x in leaders_of(drawing)
        if -float(board.furthest) < x.points[-1][0] < 0
        and float(board.bottom) < x.points[-1][1]
    ]
    strings = [x for x in drawing.ink if isinstance(x, Measure) and x.axis == "y"]
    for line in pairwise(leader):
        assert not any(cross(line, ends_of(each)) for each in strings)


def test_a_riser_is_as_high_as_from_the_floor_to_the_datum() -> None:
    # The raised hearth: 12 in above the floor.
    drawing = section(solution_of("raised-hearth"), 4.0)
    assert "RISER" in words(drawing)
    heights = [
        (x.start[1], x.end[1], x.words)
        for x in drawing.ink
        if isinstance(x, Measure) and x.axis == "y"
    ]
    assert (-12.0, 0.0, "1'-0\"") in heights
    assert collisions(drawing) == []
    assert "RISER" not in words(section(solution_of("library-hearth"), 4.0))


@pytest.mark.parametrize("demo", ["semicircular-dining-room", "segmental-kitchen"])
def test_the_jamb_is_led_to_below_an_arch_not_on_its_soffit(demo: str) -> None:
    solution = solution_of(demo)
    drawing = section(solution)
    arch = solution.layout.arch
    assert arch is not None
    text = STYLES["in"].text * drawing.scale
    (name,) = (
        x for x in drawing.ink if isinstance(x, Words) and x.text == "JAMB BEYOND"
    )
    (leader,) = (
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke)
        and len(x.points) == 3
        and not x.closed
        and dist(x.points[-1], name.at) < 1.5 * text
    )
    assert leader[0][1] < arch.spring
