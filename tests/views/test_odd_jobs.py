"""Jobs that crowd their sheets are read as well as demos: nothing struck or lost."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from itertools import groupby

import pytest
import shapely

from shopdraw.drawing.bubbles import bubbles_on
from shopdraw.drawing.extents import about, every_line, lettering_of
from shopdraw.drawing.ink import Drawing, Insert, Stroke, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.output.comparing import compare
from shopdraw.output.dxf import write_dxf
from shopdraw.output.readback import read_back
from shopdraw.solution import Solution
from shopdraw.views.expected.built import FACE_OF_VIEW
from tests.odd_jobs import TEXTS, odd_set, odd_solution
from tests.views.lettering import collisions_on, crossings
from tests.views.marks_read import without_mark
from tests.views.on_papers import over_match_lines

TINY = 1e-6
odd_jobs = pytest.mark.parametrize("name", TEXTS)


@odd_jobs
def test_no_lettering_lies_on_lettering(name: str) -> None:
    for sheet in odd_set(name).sheets:
        assert collisions_on(sheet) == []


@odd_jobs
def test_no_line_runs_through_lettering(name: str) -> None:
    for sheet in odd_set(name).sheets:
        for placed in sheet.drawings:
            assert crossings(placed.drawing) == []


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_every_file_of_a_divided_set_is_read_back_as_it_should_be(name: str) -> None:
    """A string of dimensions that begins beyond a match line is rounded from there."""
    drawn = odd_set(name)
    divided = 0
    for sheet, expected in zip(drawn.sheets, drawn.expected, strict=True):
        if any(placed.drawing.part for placed in sheet.drawings):
            there = read_back(write_dxf(sheet, drawn.form))
            assert compare(there, expected, drawn.lengths, drawn.form) == ()
            divided += 1
    assert divided


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_the_name_of_a_match_line_is_clear_of_what_juts_over_it(name: str) -> None:
    named = 0
    for sheet in odd_set(name).sheets:
        for drawing in (x.drawing for x in sheet.drawings if x.drawing.part):
            lines = shapely.linestrings(list(every_line(drawing)))
            for words, box in lettering_of(drawing):
                if words.text.startswith("MATCH LINE"):
                    near = 0.4 * words.height_on_paper * drawing.scale
                    around = shapely.box(*box).buffer(near, join_style="mitre")
                    assert not shapely.intersects(lines, around).any()
                    # And no further off it than lettering stands off its line.
                    assert drawing.part is not None
                    sides = drawing.part.window[0], drawing.part.window[2]
                    off = min(abs(words.at[0] - side) for side in sides)
                    assert off < 2 * words.height_on_paper * drawing.scale
                    named += 1
    assert named > 1


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_no_words_stand_across_a_match_line(name: str) -> None:
    """What an opening is measured between is said where there is room for it."""
    said = []
    for sheet in odd_set(name).sheets:
        for drawing in (x.drawing for x in sheet.drawings):
            assert over_match_lines(drawing) == []
            said += [x.text for x in drawing.ink if isinstance(x, Words)]
    assert {"CLEAR OPENING,", "BRICK TO BRICK"} <= set(said)


def elevations(name: str) -> list[Drawing]:
    """Return the parts of the front."""
    placed = (x.drawing for sheet in odd_set(name).sheets for x in sheet.drawings)
    return [drawing for drawing in placed if drawing.name == "elevation"]


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_a_mark_stands_near_in_a_narrow_opening_rather_than_far_below_all(
    name: str,
) -> None:
    """Of the section at the head: from below the strings its leader crosses them."""
    words = (x for part in elevations(name) for x in part.ink if isinstance(x, Words))
    (spot,) = (x.at for x in words if x.text == "5")
    opening = odd_solution(name).surround.opening
    assert opening.left < spot[0] < opening.right
    assert 0 < spot[1] < opening.height


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_a_narrow_opening_is_lettered_across_its_centre_line(name: str) -> None:
    """At the end of a leader its words stood beside a leg, the leader across that."""
    opening = odd_solution(name).surround.opening
    boxes = {
        words.text: box
        for part in elevations(name)
        for words, box in lettering_of(part)
        if words.text in {"LEDGER TOP", "OPENING", "TEMPORARY LEDGER"}
    }
    assert boxes.keys() == {"LEDGER TOP", "OPENING"}
    for left, low, right, high in boxes.values():
        assert opening.left < left
        assert right < opening.right
        assert low > 0
        assert high < opening.height


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_a_match_line_cuts_no_mark(name: str) -> None:
    """Neither its ring nor its arrow, which is as wide again on one side."""
    arrows = 0
    for part in elevations(name):
        assert part.part is not None
        left, _, right, _ = part.part.window
        for ring in bubbles_on(part):
            for ink in part.ink:
                if isinstance(ink, Stroke) and len(ink.points) == 3:
                    a, low, b, _ = about(ink.points)
                    if ring[0] <= a and b <= ring[2] and ring[1] <= low <= ring[3]:
                        assert left <= a
                        assert b <= right
                        arrows += 1
    assert arrows


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_a_small_front_has_two_parts_and_its_section_is_whole(name: str) -> None:
    """A part of a section is without the brick, or without what its notes say."""
    placed = [each.drawing for sheet in odd_set(name).sheets for each in sheet.drawings]
    counted = Counter(x.name for x in placed if x.part is not None)
    assert counted == {"elevation": 2}
    assert "upright-section" in {x.name for x in placed}


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_nothing_stands_right_beside_the_border_of_an_upright_sheet(name: str) -> None:
    for sheet in odd_set(name).sheets:
        height = STYLES[odd_solution(name).lengths].text
        border = next(x for x in sheet.paper_ink if isinstance(x, Stroke) and x.closed)
        left, low, right, top = about(border.points)
        head = low + STYLES[odd_solution(name).lengths].foot
        for placed in sheet.drawings:
            a, b, c, d = placed.placement.window
            assert min(a - left, b - head, right - c, top - d) > height


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_the_heads_of_revisions_stand_over_a_row_to_fill_in(name: str) -> None:
    """In columns at the foot of a sheet that stands upright."""
    for sheet in odd_set(name).sheets:
        (head,) = [
            x
            for x in sheet.paper_ink
            if isinstance(x, Words) and x.text == "WHAT CHANGED"
        ]
        ruled = [
            x.points
            for x in sheet.paper_ink
            if isinstance(x, Stroke) and len(x.points) == 2 and not x.closed
        ]
        assert any(
            a[1] == b[1] < head.at[1] and min(a[0], b[0]) < head.at[0] < max(a[0], b[0])
            for a, b in ruled
        )


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_the_legend_of_a_sheet_of_one_column_is_not_alone_on_it(name: str) -> None:
    """With the index, or else with the notes, which begin below it."""
    names = [
        {placed.drawing.name for placed in sheet.drawings}
        for sheet in odd_set(name).sheets
    ]
    (with_legend,) = [there for there in names if "legend" in there]
    assert with_legend & {"index", "notes"}
    general = {"index", "legend", "notes", "notes-on", "cautions"}
    assert sum(bool(there & general) for there in names) <= 4


def numbers_clouded(drawing: Drawing) -> list[str]:
    """Return the numbers after FAILS: what is lettered goes on in lines below it."""
    lettered = [x for x in drawing.ink if isinstance(x, Words)]
    found: list[str] = []
    for n, first in enumerate(lettered):
        if first.text.startswith("FAILS"):
            _, lines = next(groupby(lettered[n:], key=lambda x: x.at[0]))
            found += re.findall(r"\d+", " ".join(line.text for line in lines))
    return found


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_a_table_that_goes_on_has_columns_as_wide_as_before(name: str) -> None:
    placed = [each.drawing for sheet in odd_set(name).sheets for each in sheet.drawings]
    parts = [x for x in placed if x.name.startswith("findings")]
    columns = [
        {
            round(x.points[0][0], 6)
            for x in part.ink
            if isinstance(x, Stroke) and x.points[0][0] == x.points[-1][0]
        }
        for part in parts
    ]
    assert len(parts) > 1
    assert all(each == columns[0] for each in columns)


@odd_jobs
def test_what_a_cloud_calls_a_finding_is_the_number_of_its_row(name: str) -> None:
    """On the sheets alone: in the table of findings, in a column of its own."""
    placed = [each.drawing for sheet in odd_set(name).sheets for each in sheet.drawings]
    clouded = [int(number) for x in placed for number in numbers_clouded(x)]
    assert bool(clouded) == any(
        x.status == "failed" for x in odd_solution(name).findings
    )
    numbers: dict[int, str] = {}
    for drawing in placed:
        if drawing.name.startswith("findings"):
            cells = [x for x in drawing.ink if isinstance(x, Words)]
            (head,) = [x for x in cells if x.text == "NO."]
            (status,) = [x for x in cells if x.text == "STATUS"]
            for ink in cells:
                if ink.text.isdigit() and abs(ink.at[0] - head.at[0]) < TINY:
                    (numbers[int(ink.text)],) = [
                        x.text
                        for x in cells
                        if abs(x.at[0] - status.at[0]) < TINY and x.at[1] == ink.at[1]
                    ]
    assert list(numbers) == list(range(1, len(odd_solution(name).findings) + 1))
    assert {numbers[x] for x in clouded} <= {"FAILED"}


def brick_shown(name: str) -> dict[str, list[Drawing]]:
    """Return the views of brick by their names, a divided one as its parts."""
    found: dict[str, list[Drawing]] = {}
    for sheet in odd_set(name).sheets:
        for placed in sheet.drawings:
            if placed.drawing.name in FACE_OF_VIEW:
                found.setdefault(placed.drawing.name, []).append(placed.drawing)
    return found


def unmarked(solution: Solution, parts: list[Drawing]) -> set[str]:
    """Return the pieces that none of a view's parts marks."""
    face, least = FACE_OF_VIEW[parts[0].name], STYLES[solution.lengths].text
    dx = -float(solution.surround.face(face).left)
    pieces = solution.layout.pieces
    missing = (without_mark(part, pieces, face, dx, least) for part in parts)
    return set.intersection(*map(set, missing))


@odd_jobs
def test_every_piece_is_marked_by_the_rules_of_the_legend(name: str) -> None:
    views = brick_shown(name)
    assert "elevation" in views
    for parts in views.values():
        assert unmarked(odd_solution(name), parts) == set()


def with_marks_hidden(drawing: Drawing) -> Drawing:
    """Return a view without any mark on its units."""
    ink = (
        replace(x, tags=tuple(replace(tag, words=None) for tag in x.tags))
        if isinstance(x, Insert)
        else x
        for x in drawing.ink
    )
    return replace(drawing, ink=tuple(ink))


@odd_jobs
def test_marks_taken_away_from_all_parts_are_missed(name: str) -> None:
    parts = brick_shown(name)["elevation"]
    assert unmarked(odd_solution(name), [with_marks_hidden(x) for x in parts])


@odd_jobs
def test_a_figure_moved_onto_another_is_seen(name: str) -> None:
    """So is one that a line strikes: both are read off the ink alone."""
    sheet = next(
        sheet
        for sheet in odd_set(name).sheets
        if sheet.drawings[0].drawing.name == "elevation"
    )
    first, *others = sheet.drawings
    drawing = first.drawing
    words = [x for x in drawing.ink if isinstance(x, Words) and len(x.text) > 3]
    moved = replace(words[0], at=words[1].at, align=words[1].align)
    unit = next(x for x in drawing.ink if isinstance(x, Insert))
    struck = replace(words[0], at=unit.at, align="centre", seat="middle")
    ink = tuple(x for x in drawing.ink if x is not words[0])
    crowded = replace(drawing, ink=(*ink, moved))
    placed = replace(first, drawing=crowded)
    assert collisions_on(replace(sheet, drawings=(placed, *others)))
    assert crossings(replace(drawing, ink=(*ink, struck)))


def test_no_findings_stand_between_pieces_and_their_lists() -> None:
    for sheet in odd_set("long wall").sheets:
        names = [each.drawing.name for each in sheet.drawings]
        lists = [n for n, name in enumerate(names) if name.startswith("cut-list")]
        found = [n for n, name in enumerate(names) if name.startswith("findings")]
        assert not (lists and found and min(found) < max(lists)), sheet.identity


@pytest.mark.parametrize("name", ["small on letter", "small on A4"])
def test_the_findings_of_a_small_job_take_two_sheets_of_a_narrow_paper(
    name: str,
) -> None:
    """Its columns go by the words they hold; four sheets they took by even shares."""
    drawn = odd_set(name)
    titled = [x for x in drawn.sheets if x.title.startswith("CLEARANCE REVIEW")]
    assert len(titled) <= 2
