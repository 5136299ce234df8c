"""The sheets: nothing collides, strings close, every piece once, tables agree."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

import pytest

from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Measure, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from shopdraw.views import projection
from shopdraw.views.every import SheetView, every_view
from shopdraw.views.set import compose_sheets
from shopdraw.views.sights import with_sights
from shopdraw.views.wall.elevation import draw_elevation
from shopdraw.views.words.tables import cut_list_table, findings_table, takeoff_table
from tests.demos import CONFIGS, set_of, sheet_of, solution_of
from tests.views.lettering import collisions, collisions_on, crossings
from tests.views.strings import ids_of, unclosed, unequal, unlike


def test_nothing_collides_on_any_sheet_of_a_demo(drawing_set: DrawingSet) -> None:
    for sheet in drawing_set.sheets:
        assert collisions_on(sheet) == []


def test_no_line_runs_through_lettering_on_any_sheet_of_a_demo(
    drawing_set: DrawingSet,
) -> None:
    for sheet in drawing_set.sheets:
        for placed in sheet.drawings:
            assert crossings(placed.drawing) == []


def test_a_line_through_words_is_noticed() -> None:
    drawing = sheet_of("library-hearth").drawings[0].drawing
    words = next(x for x in drawing.ink if isinstance(x, Words) and len(x.text) > 3)
    left, low, right, high = box_of(words, drawing.scale)
    y = (low + high) / 2
    line = Stroke("A-ANNO-NOTE", ((left - 9, y), (right + 9, y)))
    assert (words.text, "A-ANNO-NOTE") in crossings(
        replace(drawing, ink=(*drawing.ink, line))
    )


def test_words_on_words_are_noticed() -> None:
    drawing = sheet_of("library-hearth").drawings[0].drawing
    words = next(x for x in drawing.ink if isinstance(x, Words))
    twice = replace(drawing, ink=(*drawing.ink, replace(words, text="SECOND")))
    assert collisions(twice) != []


def test_every_string_closes_on_any_sheet_of_a_demo(drawing_set: DrawingSet) -> None:
    for sheet in drawing_set.sheets:
        for placed in sheet.drawings:
            assert unclosed(placed.drawing, drawing_set.lengths) == []


def test_equal_gaps_of_a_string_are_printed_alike(drawing_set: DrawingSet) -> None:
    """Where rounding would print them unlike they are EQ, counted and summed up."""
    for sheet in drawing_set.sheets:
        for placed in sheet.drawings:
            assert unlike(placed.drawing) == []
            assert unequal(placed.drawing, drawing_set.lengths) == []


@pytest.mark.parametrize(
    ("old", "new"), [("8 EQ", "7 EQ"), ('2 7/8"', '3"'), ("EQ", '3/8"')]
)
def test_equal_joints_counted_summed_or_printed_wrong_are_noticed(
    old: str, new: str
) -> None:
    """The first EQ joint is one of eight, 2 7/8 in together, in course 18."""
    drawing = sheet_of("banded-breast").drawings[0].drawing
    said = next(x for x in drawing.ink if isinstance(x, Words) and " EQ = " in x.text)
    joint = next(x for x in drawing.ink if isinstance(x, Measure) and x.words == "EQ")
    assert said.text == '8 EQ = 2 7/8"'
    wrong: dict[int, Measure | Words] = {
        id(said): replace(said, text=said.text.replace(old, new)),
    }
    if old == "EQ":
        wrong = {id(joint): replace(joint, words=new)}
    damaged = replace(drawing, ink=tuple(wrong.get(id(x), x) for x in drawing.ink))
    assert [*unlike(damaged), *unequal(damaged, "in")] != []


def test_a_string_that_does_not_close_is_noticed() -> None:
    drawing = sheet_of("library-hearth").drawings[0].drawing
    first = next(x for x in drawing.ink if isinstance(x, Measure))
    wrong = replace(first, words='9 1/2"')
    ink = tuple(wrong if x is first else x for x in drawing.ink)
    assert unclosed(replace(drawing, ink=ink), "in") != []


def test_every_piece_is_inserted_once_in_the_set_and_once_in_the_bare_drawing(
    solution: Solution, drawing_set: DrawingSet
) -> None:
    wanted = Counter(piece.id for piece in solution.pieces)
    on_sheets = Counter(
        name
        for sheet in drawing_set.sheets
        for placed in sheet.drawings
        for name in ids_of(placed.drawing)
    )
    assert on_sheets == wanted
    on_faces = Counter(piece.id for piece in solution.layout.pieces)
    assert Counter(ids_of(drawing_set.bare)) == on_faces


def test_counts_agree_everywhere(solution: Solution) -> None:
    pieces = solution.pieces
    takeoff = {row.item: row for row in solution.takeoff.rows}
    # A keystone is listed with the pieces, and is no brick to lay or to saw.
    stones = sum(piece.kind == "keystone" for piece in pieces)
    assert ("keystone" in takeoff) == bool(stones)
    assert takeoff["all units"].laid == len(pieces) - stones
    assert sum(row.count for row in solution.cut_list) == len(pieces)
    table = cut_list_table(solution)
    count = [column.head for column in table.columns].index("COUNT")
    rows = [row[count] for row in table.rows if row[count]]
    assert sum(int(x) for x in rows) == len(pieces)
    made = sum(piece.is_made for piece in pieces)
    corners = sum("corner" in piece.kind for piece in pieces) - made
    # Where all of them are made there are none to order.
    if corners or not made:
        assert takeoff["corner units"].laid == takeoff["corner units"].net == corners
    cut = sum(piece.is_cut for piece in pieces if "corner" not in piece.kind)
    assert takeoff["cut units"].laid == cut
    whole = len(pieces) - corners - made - cut - stones
    assert takeoff["whole units"].laid == whole


def test_tables_say_what_was_found(solution: Solution) -> None:
    assert [row[0] for row in takeoff_table(solution).rows] == [
        row.item for row in solution.takeoff.on_paper
    ]
    statuses = [row[2].lower() for row in findings_table(solution).rows]
    assert statuses == [finding.status for finding in solution.findings]


def words_of(sheets: tuple[Sheet, ...]) -> set[str]:
    found = set()
    for sheet in sheets:
        for placed in sheet.drawings:
            found |= {words.text for words, _ in lettering_of(placed.drawing)}
        found |= {x.text for x in sheet.paper_ink if isinstance(x, Words)}
    return found


@pytest.mark.parametrize(
    ("bond", "corner", "count"),
    [("half", True, 2), ("third", True, 2), ("third", False, 2), ("stack", False, 1)],
)
def test_the_elevation_has_a_string_for_each_course_of_the_cycle(
    bond: str, corner: bool, count: int
) -> None:
    demo = "library-hearth" if corner else "metric-slips"
    job = solution_of(demo).job
    as_asked = job.bond.model_copy(update={"pattern": bond})
    drawing = draw_elevation(solve(job.model_copy(update={"bond": as_asked})), 8.0)
    words = [ink.text for ink in drawing.ink if isinstance(ink, Words)]
    named = re.findall(r"COURSES (\d+)[^A-Z]+TO \d+, FINISH", " ".join(words))
    assert named == [str(number) for number in range(1, count + 1)]


def test_what_nobody_may_overlook_is_stamped() -> None:
    stamped = words_of(set_of("cannot-land").sheets)
    assert {"COURSES DO NOT LAND ON:", "OPENING HEAD, TOP"} <= stamped
    gas = words_of(set_of("chimney-breast-gas").sheets)
    assert {"EXAMPLE FIGURES:", "NOT FOR CONSTRUCTION"} <= gas
    findings = solution_of("chimney-breast-gas").findings
    assert any("EXAMPLE FIGURES" in f"{x.source} {x.says}" for x in findings)
    count = sum(x.status == "not checked" for x in findings)
    assert {f"{count} ITEMS NOT CHECKED:", "NO APPROVAL IS IMPLIED"} <= gas


def test_an_accented_name_is_lettered_plainly() -> None:
    text = (CONFIGS / "library-hearth.toml").read_text("utf-8")
    text = text.replace('"Library hearth"', '"Bibliothe\u0300que \u2013 2"')
    text = text.replace('"frieze board"', '"fris\u00e9 \u00d7 2"')
    words = words_of(build(solve(parse_job(text, "x.toml"))).sheets)
    assert "Bibliotheque - 2" in words
    assert "FRISE X 2, BY OTHERS" in words


def test_no_view_is_drawn_or_marked_twice_at_one_scale(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: Counter[tuple[str, str, float]] = Counter()

    def counted(view: SheetView) -> SheetView:
        def draw(scale: float) -> Drawing:
            asked["drawn", view.name, scale] += 1
            return view.draw(scale)

        return replace(view, draw=draw)

    def counted_views(solution: Solution) -> tuple[SheetView, ...]:
        return tuple(map(counted, every_view(solution)))

    def marked(
        solution: Solution, drawing: Drawing, numbers: Mapping[str, int]
    ) -> Drawing:
        asked["marked", drawing.name, drawing.scale] += 1
        return with_sights(solution, drawing, numbers)

    monkeypatch.setattr(projection, "every_view", counted_views)
    monkeypatch.setattr(projection, "with_sights", marked)
    compose_sheets(solution_of("metric-slips"))
    assert {kind for kind, _, _ in asked} == {"drawn", "marked"}
    assert {each: times for each, times in asked.items() if times > 1} == {}
