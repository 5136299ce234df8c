"""Tables and notes say what the solution holds, in words and in printed figures."""

from __future__ import annotations

import re
from fractions import Fraction as F
from itertools import pairwise

import pytest

from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Words
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.tables import Column, Table, draw_notes, draw_table, least_width
from shopdraw.job.reading import parse_job
from shopdraw.lengths import format_length, parse_length
from shopdraw.pipeline import solve
from shopdraw.review.cautions import choose_cautions
from shopdraw.solution import Solution
from shopdraw.views.making.poles import draw_poles
from shopdraw.views.words.notes import caution_notes, general_notes
from shopdraw.views.words.tables import (
    coursing_table,
    cut_list_table,
    findings_table,
    takeoff_table,
    targets_table,
)
from tests.demos import set_of, solution_of
from tests.views.jobs import CHANGES, solved, text_of
from tests.views.lettering import collisions
from tests.views.strings import printed


def column(table: Table, head: str) -> list[str]:
    at = [each.head for each in table.columns].index(head)
    return [row[at] for row in table.rows]


def tables_of(solution: Solution) -> tuple[Table, ...]:
    return (
        coursing_table(solution),
        targets_table(solution),
        cut_list_table(solution),
        takeoff_table(solution),
        findings_table(solution),
    )


def wrong_levels(table: Table, solution: Solution) -> list[str]:
    """Return the courses whose printed levels are not those of the coursing.

    What nobody measured has a dash for a joint and a bottom, and is about where it is.
    """
    lengths = solution.job.lengths
    half = F(1, 32) if lengths == "in" else F(1, 2)
    wrong = []
    for course, row in zip(solution.coursing.courses, table.rows, strict=True):
        joint, bottom, top = row[2:5]
        about = "about " if course.is_reckoned else ""
        known = (
            (joint, course.bed_joint, not course.is_joint_reckoned),
            (bottom, course.bottom, not course.is_joint_reckoned),
            (top.removeprefix(about), course.top, True),
        )
        right = all(
            abs(printed(shown, lengths) - exact) <= half if is_known else shown == "-"
            for shown, exact, is_known in known
        )
        if row[0] != str(course.number) or not top.startswith(about) or not right:
            wrong.append(row[0])
    return wrong


def test_the_coursing_table_prints_every_course_at_its_level(
    solution: Solution,
) -> None:
    assert wrong_levels(coursing_table(solution), solution) == []


def test_a_wrong_level_in_a_coursing_table_is_noticed() -> None:
    solution = solution_of("library-hearth")
    table = coursing_table(solution)
    rows = (*table.rows[:-1], (*table.rows[-1][:4], "2'-10 3/4\""))
    damaged = Table(table.name, table.title, table.columns, rows)
    assert wrong_levels(damaged, solution) == ["13"]


def test_a_joint_printed_that_nobody_measured_is_noticed() -> None:
    solution = solution_of("morning-room")
    table = coursing_table(solution)
    assert solution.coursing.courses[0].is_reckoned
    row = (*table.rows[0][:2], '3/8"', *table.rows[0][3:])
    damaged = Table(table.name, table.title, table.columns, (row, *table.rows[1:]))
    assert wrong_levels(damaged, solution) == ["1"]


def test_a_missed_target_is_printed_with_its_miss(solution: Solution) -> None:
    table = targets_table(solution)
    for row, target in zip(table.rows, solution.coursing.targets, strict=True):
        assert (row[-1] == "lands") == target.lands
        if target.miss == 0:
            assert row[4].split()[0] == "0"
        else:
            # Printed up: never smaller than it is.
            assert parse_length(row[4], solution.job.lengths) >= target.miss


def test_the_job_that_cannot_land_says_so_in_its_table() -> None:
    solution = solution_of("cannot-land")
    table = targets_table(solution)
    # 2'-1" wanted, 2'-0 13/16" got: 3/16 short.
    assert table.rows[0][2:5] == ("2'-1\"", "2'-0 13/16\"", "3/16 in")
    assert column(table, "RESULT").count("MISSED") == 2


def test_the_cut_list_counts_what_stands_on_the_wall(solution: Solution) -> None:
    pieces = solution.pieces
    table = cut_list_table(solution)
    assert sum(map(int, column(table, "COUNT"))) == len(pieces)
    assert table.title == f"CUT LIST: {len(pieces)} PIECES"
    for mark, count, sawn in zip(
        column(table, "MARK"),
        column(table, "COUNT"),
        column(table, "CUT?"),
        strict=True,
    ):
        like = [piece for piece in pieces if piece.mark == mark]
        assert len(like) == int(count)
        assert {x.is_cut or x.is_trimmed or x.is_made for x in like} == {
            sawn != "whole"
        }


@pytest.mark.parametrize("name", ["two hands", "trimmed", "metric corners"])
def test_a_corner_unit_has_both_legs_in_the_cut_list(name: str) -> None:
    solution = solved(name)
    table = cut_list_table(solution)
    legs = dict(zip(column(table, "MARK"), column(table, "LEGS, OUTSIDE"), strict=True))
    corners = [row for row in solution.cut_list if row.kind == "corner unit"]
    assert corners
    for row in corners:
        shown = [printed(x, solution.job.lengths) for x in legs[row.mark].split(" x ")]
        step = F(1, 16) if solution.job.lengths == "in" else F(1)
        assert all(abs(a - b) <= step / 2 for a, b in zip(shown, row.legs, strict=True))


def test_a_butted_soldier_has_no_legs_to_saw() -> None:
    solution = solved("butt")
    table = cut_list_table(solution)
    for kind, legs in zip(
        column(table, "KIND"), column(table, "LEGS, OUTSIDE"), strict=True
    ):
        assert bool(legs) == (kind == "corner unit")


def test_the_takeoff_table_prints_what_is_laid_and_ordered(solution: Solution) -> None:
    table = takeoff_table(solution)
    for row, item in zip(table.rows, solution.takeoff.on_paper, strict=True):
        assert row[0] == item.item
        assert row[1] == ("" if item.laid is None else str(item.laid))
        assert abs(F(row[2]) - item.net) <= F(1, 200)
        assert (row[3] == "") == (item.order is None)
        if item.order is not None:
            assert float(row[3]) == float(item.order)


def test_no_order_is_below_its_net(solution: Solution) -> None:
    for item in solution.takeoff.rows:
        assert item.order is None or item.order >= item.net, item.item


def test_every_finding_shows_its_status_and_how_its_source_was_read(
    solution: Solution,
) -> None:
    table = findings_table(solution)
    for row, finding in zip(table.rows, solution.findings, strict=True):
        assert row[2] == finding.status.upper()
        assert finding.source_status in row[6]
        assert (row[3] == "") == (finding.measured is None)
        assert (row[4] == "") == (finding.limit is None)


def test_every_caution_says_how_it_was_read(solution: Solution) -> None:
    read = (
        *("read in the source).", "second-hand).", "from memory)."),
        "Common practice, no published source.",
    )
    paragraphs = caution_notes(solution.job).paragraphs
    assert paragraphs
    assert all(paragraph.endswith(read) for paragraph in paragraphs)


def test_the_gas_caution_stands_where_there_is_gas() -> None:
    def topics(demo: str) -> list[str]:
        notes = caution_notes(solution_of(demo).job)
        return [paragraph.split(".")[0] for paragraph in notes.paragraphs]

    assert "GAS" in topics("chimney-breast-gas")
    assert "GAS" not in topics("library-hearth")
    assert {"SILICA", "LEAD", "ASBESTOS"} <= set(topics("library-hearth"))


def notes_of(solution: Solution) -> tuple[str, ...]:
    return general_notes(solution).paragraphs


def test_the_notes_say_ledger_order_and_what_was_decided(solution: Solution) -> None:
    notes = notes_of(solution)
    head = format_length(solution.coursing.head, solution.job.lengths)
    order = next(note for note in notes if note.startswith("Order of work:"))
    support, at = "ledger", "its top"
    if solution.layout.arch is not None:
        support, at = "centre", "its spring line"
    assert f"temporary {support} with {at} at {head}, " in order
    steps = [
        "out dry",
        "Set the legs",
        support,
        "set the head",
        "Point the joints",
        "away",
    ]
    places = [order.index(step) for step in steps]
    assert places == sorted(places)
    assert set(solution.coursing.reasons) <= set(notes)
    assert set(solution.layout.reasons) <= set(notes)
    assert any(note.startswith("Work by others:") for note in notes)


def test_an_arch_is_on_a_centre_and_any_other_head_on_a_ledger(
    solution: Solution,
) -> None:
    """In each place that a mason reads: order of work, waiting, findings, pole."""
    prop, other = "ledger", "centre"
    if solution.layout.arch is not None:
        prop, other = other, prop
    order = next(x for x in notes_of(solution) if x.startswith("Order of work:"))
    (head,) = (x.says for x in solution.findings if x.rule.key == "head-support")
    pole = " ".join(
        ink.text
        for page in draw_poles(solution)
        for placed in page.drawings
        for ink in placed.drawing.ink
        if isinstance(ink, Words)
    )
    for words in (order, solution.schedule[1].what, head):
        assert prop in words
        assert other not in words
    # On the pole they may stand on two lines, the upper one first or last.
    marks = {"ledger": "LEDGER", "centre": "SPRING"}
    assert marks[prop] in pole
    assert marks[other] not in pole


def test_a_metric_job_says_that_its_bare_numbers_are_millimetres() -> None:
    assert "Lengths are in millimetres." in notes_of(solution_of("metric-slips"))
    assert not any(
        "millimetres" in note for note in notes_of(solution_of("library-hearth"))
    )


def test_each_kind_of_edge_is_said_with_its_width() -> None:
    edges = (
        'left = { kind = "soft", width = "1/4 in" }\n'
        'right = { kind = "mortar", width = "3/8 in" }\n'
    )
    job = parse_job(text_of("library-hearth", ("[edges]\n", f"[edges]\n{edges}")), "x")
    note = next(x for x in notes_of(solve(job)) if x.startswith("Edges of the brick."))
    assert 'Left: soft joint 1/4", filled with sealant, no mortar; ' in note
    assert 'Right: mortar joint 3/8"' in note
    assert 'Top: gap 1/4", left open; brick edges covered.' in note


def test_what_a_person_wrote_is_lettered_in_plain_signs() -> None:
    text = text_of(
        "library-hearth",
        ('lengths = "in" ', 'units_lot = "Lot \u2013 5"\nnotes = ["\u00e9t\u00e9"]\n'
         'lengths = "in" '),
    )  # fmt: skip
    text += '\n[[target]]\nname = "tablette \u00e0 droite"\nlevel = "2\'-3 in"\n'
    solution = solve(parse_job(text, "x.toml"))
    notes = notes_of(solution)
    assert "ete" in notes
    for table in tables_of(solution):
        assert all(cell.isascii() for row in table.rows for cell in row)
    assert all(note.isascii() for note in notes)


@pytest.mark.parametrize("name", sorted(CHANGES))
def test_the_lettering_of_tables_and_notes_does_not_collide(name: str) -> None:
    solution = solved(name)
    height = 0.09375 if solution.job.lengths == "in" else 2.5
    for table in tables_of(solution):
        assert all(len(row) == len(table.columns) for row in table.rows)
        assert collisions(draw_table(table, height, 8.0, 200 * height)) == []
    notes = general_notes(solution)
    assert collisions(draw_notes(notes, height, 8.0, 56 * height)) == []


def test_the_notes_say_when_the_carpenter_may_begin() -> None:
    """Set on 9 March, pointed two days on, four weeks from there: 8 April."""
    solution = solution_of("library-hearth")
    notes = general_notes(solution)
    waiting = next(x for x in notes.paragraphs if "Waiting" in x)
    assert "woodwork over the brick 4 weeks after pointing, from 2026-04-08" in waiting
    usual = solution_of("crooked-study")
    notes = general_notes(usual)
    waiting = next(x for x in notes.paragraphs if "Waiting" in x)
    assert "take the ledger away 7 days after setting; " in waiting
    # All three are usual ones: that is said once.
    assert waiting.endswith("after pointing (common practice, no published source).")
    assert waiting.count("common practice") == 1


def test_a_title_goes_on_in_lines_where_it_is_wider_than_a_sheet() -> None:
    title = "TAKEOFF: A ROOM IN A HOUSE WITH A NAME THAT GOES ON AND ON"
    table = Table("takeoff", title, (Column("ITEM"), Column("NET")), (("flats", "9"),))
    narrow, free = draw_table(table, 2.5, 1.0, 60.0), draw_table(table, 2.5, 1.0)
    left, _, right, _ = extent_of(narrow)
    assert right - left <= 60.0
    said = [x.text for x in narrow.ink if isinstance(x, Words)]
    assert " ".join(said) == f"{title} ITEM NET flats 9"
    # What is below the title is as it was.
    lower = extent_of(free)[1] - extent_of(narrow)[1]
    assert lower == pytest.approx(1.7 * 2.5 * (len(said) - 5))
    assert collisions(narrow) == []


@pytest.mark.parametrize("most", [6.3, 7.0])
def test_no_word_of_a_table_is_broken_where_all_words_find_room(most: float) -> None:
    table = coursing_table(solution_of("morning-room"))
    drawn = draw_table(table, 3 / 32, 1.0, most)
    lettered = {w for x in drawn.ink if isinstance(x, Words) for w in x.text.split()}
    cells = [column.head for column in table.columns]
    cells += [cell for row in table.rows for cell in row]
    assert {word for cell in cells for word in cell.split()} <= lettered
    assert extent_of(drawn)[2] <= most + 1e-9


@pytest.mark.parametrize("most", [6.3, 7.0, 9.0])
def test_a_table_whose_cells_are_broken_takes_all_the_room(most: float) -> None:
    """One word longer than a column's share does not keep the column at that word."""
    table = takeoff_table(solution_of("banded-breast"))
    drawn = draw_table(table, 3 / 32, 1.0, most)
    assert extent_of(drawn)[2] == pytest.approx(most)


@pytest.mark.parametrize("name", ["morning-room", "library-hearth"])
def test_a_length_is_lettered_in_one_line_where_a_table_has_room(name: str) -> None:
    height = 3 / 32
    table = coursing_table(solution_of(name))
    drawn = draw_table(table, height, 1.0, least_width(table, height))
    assert broken_lengths(drawn) == []


def test_a_length_in_two_lines_is_noticed() -> None:
    table = coursing_table(solution_of("morning-room"))
    narrow = draw_table(table, 3 / 32, 1.0, 0.9 * least_width(table, 3 / 32))
    assert broken_lengths(narrow)


def test_the_course_list_of_a_sheet_has_its_lengths_whole() -> None:
    placed = [
        x.drawing for sheet in set_of("morning-room").sheets for x in sheet.drawings
    ]
    listed = [
        x for x in placed if x.name == coursing_table(solution_of("morning-room")).name
    ]
    assert listed
    assert [broken_lengths(x) for x in listed] == [[]]


def test_a_length_of_a_note_is_lettered_in_one_line() -> None:
    notes = general_notes(solution_of("morning-room"))
    for wide in range(40, 60):
        assert broken_lengths(draw_notes(notes, 3 / 32, 1.0, wide * 3 / 32)) == []


def broken_lengths(drawing: Drawing) -> list[str]:
    """Return the lines that begin with a fraction, below one that ends in a figure."""
    lines = [x for x in drawing.ink if isinstance(x, Words)]
    return [
        f"{above.text} / {line.text}"
        for above, line in pairwise(lines)
        if above.text[-1:].isdigit() and re.match(r"\d+/\d", line.text)
    ]


def test_a_figure_under_a_limit_is_rounded_toward_it() -> None:
    # The fillet is between 1 59/64 and 1 15/16 in, and 2 in are allowed.
    table = findings_table(solution_of("segmental-kitchen"))
    row = next(x for x in table.rows if x[1].startswith("mortar where a course"))
    assert row[3:6] == ("1 15/16 in", "2 in", "1/16 in")


def test_a_table_with_no_limit_has_no_line_that_a_file_can_t_hold() -> None:
    found = "no perpend beside it that was tried mends it; " * 8
    table = Table("t", "T", (Column("FOUND"),), ((found,), ("x" * 300,)))
    drawn = draw_table(table, 3 / 32, 1.0)
    lines = [x.text for x in drawn.ink if isinstance(x, Words)]
    assert max(map(len, lines)) <= 256
    assert len(lines) > 4


def test_how_far_a_course_projects_stands_like_other_figures() -> None:
    table = coursing_table(solution_of("banded-breast"))
    (align,) = [x.align for x in table.columns if x.head == "PROJECTS"]
    assert align == "right"


def test_the_ends_of_a_band_are_said_to_be_on_the_returns() -> None:
    """Left and right alone might be the ends of the front."""
    said = [x for x in notes_of(solution_of("banded-breast")) if "at both ends" in x]
    assert len(said) == 2
    assert all("on the left return and the right return are sawn" in x for x in said)


def test_every_caution_that_a_job_needs_is_on_its_paper_in_whole_words() -> None:
    for name in ("library-hearth", "metric-slips"):
        job = solution_of(name).job
        said, needed = caution_notes(job).paragraphs, choose_cautions(job)
        assert needed
        for paragraph, each in zip(said, needed, strict=True):
            assert paragraph.startswith(plain(f"{each.topic.upper()}. {each.words} "))
