"""Level lines run across a row of views, and each is named once at its edge."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.extents import extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import PlacedDrawing, Sheet
from shopdraw.lengths import format_length
from shopdraw.solution import Solution
from shopdraw.views.levels import with_levels
from shopdraw.views.parts.heights import levels_of, running_heights
from shopdraw.views.wall.returns import draw_return
from tests.demos import set_of, solution_of

UPRIGHT = ("elevation", "return", "chamfer", "alcove", "upright-section", "reveal")


def rows_of(sheet: Sheet) -> list[list[PlacedDrawing]]:
    """Return the upright views of a sheet that have their datum at one height."""
    rows: dict[float, list[PlacedDrawing]] = defaultdict(list)
    for each in sheet.drawings:
        if each.drawing.name.startswith(UPRIGHT):
            rows[round(each.placement.to_paper((0, 0))[1], 6)].append(each)
    return list(rows.values())


def drawn(drawing: Drawing, at: float) -> list[Stroke]:
    return [
        ink
        for ink in drawing.ink
        if isinstance(ink, Stroke)
        and ink.layer == layers.LEVELS
        and len(ink.points) == 2
        and all(abs(y - at) < 1e-9 for _, y in ink.points)
    ]


def test_a_level_that_is_missed_says_where_it_comes_out_and_what_was_wanted() -> None:
    # Nine courses of 2 1/4, joints of 7/16 and 5/8 at the bottom, and one joint more:
    # 20 1/4 + 5/8 + 9 x 7/16 = 24 13/16 of 25.
    ink = running_heights(solution_of("cannot-land"), 8.0)
    said = [x.text for x in ink if isinstance(x, Words)]
    at = said.index("OPENING HEAD")
    assert said[at + 1 : at + 3] == [
        "UNDERSIDE AT 2'-0 13/16\"",
        "MISSED: WANTED 2'-1\"",
    ]


def missing(solution: Solution, row: list[PlacedDrawing]) -> set[str]:
    """Name what a row lacks: a line through a view, or its name just once."""
    lacks = set()
    text = [w.text for each in row for w, _ in lettering_of(each.drawing)]
    jambs = all(each.drawing.name.startswith("reveal") for each in row)
    has_front = any(each.drawing.name == "elevation" for each in row)
    for level in levels_of(solution):
        if jambs and level.at > solution.coursing.head:
            # Nothing stands there: a line would hang in the air.
            hung = any(drawn(each.drawing, float(level.at)) for each in row)
            lacks |= {f"{level.names[0]} over a jamb"} if hung else set()
            continue
        for each in row:
            left, _, right, _ = extent_of(each.drawing)
            beyond = {
                x for s in drawn(each.drawing, float(level.at)) for x, _ in s.points
            }
            if not {left, right} & {*beyond} and len(row) > 1:
                lacks.add(f"{level.names[0]} through {each.drawing.name}")
        at = format_length(level.at, solution.lengths)
        named = text.count(f"{', '.join(level.names)} {at}")
        if not has_front and named != 1:
            lacks.add(f"{level.names[0]} named {named} times")
    return lacks


def test_every_row_has_every_level_through_every_view_and_names_it_once(
    solution: Solution, drawing_set: DrawingSet
) -> None:
    rows = [row for sheet in drawing_set.sheets for row in rows_of(sheet)]
    assert rows
    for row in rows:
        assert missing(solution, row) == set()


@pytest.mark.parametrize("taken", ["line", "name"])
def test_a_level_that_is_taken_away_is_missed(taken: str) -> None:
    solution = solution_of("morning-room")
    row = next(
        row
        for sheet in set_of("morning-room").sheets
        for row in rows_of(sheet)
        if len(row) > 1
    )
    last = row[-1]
    head = float(levels_of(solution)[1].at)
    gone = drawn(last.drawing, head) if taken == "line" else []
    kept = [
        ink
        for ink in last.drawing.ink
        if ink not in gone
        and not (taken == "name" and isinstance(ink, Words) and "HEAD" in ink.text)
    ]
    wrong = replace(last, drawing=replace(last.drawing, ink=tuple(kept)))
    assert missing(solution, [*row[:-1], wrong])


def test_a_line_breaks_off_at_lettering_and_at_brick() -> None:
    solution = solution_of("morning-room")
    bare = draw_return(solution, "left", 8.0)
    found = with_levels(solution, bare, 0.1, 100.0, is_named=True)
    assert extent_of(found)[0] < extent_of(bare)[0]
    front = solution.surround.face("left")
    for level in levels_of(solution):
        for stroke in drawn(found, float(level.at)):
            (a, _), (b, _) = stroke.points
            assert b <= 1e-6 or a >= float(front.width) - 1e-6
            for _, (left, bottom, right, top) in lettering_of(bare):
                across = min(b, right) - max(a, left)
                assert across <= 1e-6 or not bottom < float(level.at) < top


def test_a_course_beside_soldiers_is_named_for_what_it_is() -> None:
    solution = solution_of("splayed-parlour")
    names = {level.at: level.names for level in levels_of(solution)}
    course = solution.coursing.courses[13]
    assert course.top != solution.coursing.soldier_top
    assert names[course.top] == ("COURSE 14",)
    level = solution_of("common-sitting-room")
    assert ("SOLDIER TOP",) in [x.names for x in levels_of(level)]
