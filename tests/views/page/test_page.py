"""What the page says, held against the solution's own record."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction as F
from typing import Any

import pytest

from shopdraw.drawing.ink import Measure
from shopdraw.drawing.page import Card, Page
from shopdraw.job.reading import parse_job
from shopdraw.lengths import Lengths, format_length
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.page.make import make_page
from shopdraw.views.words.record import solution_record
from shopdraw.views.words.schedules import schedule_table
from shopdraw.views.words.tables import takeoff_table
from tests.demos import set_of, solution_of
from tests.test_plain_words import coded
from tests.views.jobs import text_of

FLAT = ("hearth",)
HELD = ("library-hearth", "crooked-study", "metric-slips", "raised-hearth")
"""Square and out of true, in inches and millimetres, with a hearth of brick."""


def page_of(demo: str) -> Page:
    page = set_of(demo).page
    assert page is not None
    return page


def records_of(solution: Solution) -> dict[str, Any]:
    """Return every piece's record, by its ID."""
    record: Any = solution_record(solution)
    hearth = record["hearth"] or {"pieces": []}
    return {x["id"]: x for x in (*record["layout"]["pieces"], *hearth["pieces"])}


def fact(card: Card, name: str) -> str:
    return dict(card.facts).get(name, "")


def printed(value: float, lengths: Lengths) -> str:
    return format_length(F(value).limit_denominator(100_000), lengths)


def wrong_cards(page: Page, solution: Solution) -> list[str]:
    """Name the cards that say something else than the record, or are not there."""
    records, lengths = records_of(solution), solution.lengths
    cards = {card.id: card for card in page.cards}
    wrong = [f"{name}: no card" for name in records.keys() - cards.keys()]
    for name, card in cards.items():
        record = records[name]
        first = record["outlines"][0]
        top = printed(max(y for _, y in first["points"]), lengths)
        levels = [words for key, words in card.facts if key.startswith("top from")]
        if card.mark != record["mark"] or record["kind"] not in card.kind:
            wrong.append(f"{name}: {card.mark} {card.kind}")
        if levels and levels != [top]:
            wrong.append(f"{name}: top {levels}")
        if levels and not fact(card, "course").startswith(f"{record['course']} of "):
            wrong.append(f"{name}: course {fact(card, 'course')}")
    return sorted(wrong)


def wrong_joints(page: Page, solution: Solution) -> list[str]:
    """Name the cards whose joints are not the gaps between the record's outlines.

    Only rectangles on one face are held: of them two corners say all.
    """
    records, lengths = records_of(solution), solution.lengths
    wrong = []
    for card in page.cards:
        for way, other in card.beside:
            there = dict(next(x for x in page.cards if x.id == other).beside)
            back = {"left": "right", "right": "left"}[way]
            mine, theirs = records[card.id]["outlines"], records[other]["outlines"]
            shared = [
                (a["points"], b["points"])
                for a in mine
                for b in theirs
                if a["face"] == b["face"]
            ]
            if len(shared) != 1 or any(len(x) != 4 for x in shared[0]):
                continue
            one, two = shared[0] if way == "right" else shared[0][::-1]
            gap = min(x for x, _ in two) - max(x for x, _ in one)
            said = fact(card, f"joint at its {way}")
            if gap > 0 and printed(gap, lengths) not in said:
                wrong.append(f"{card.id}, {way}: {said}, not {printed(gap, lengths)}")
            if records[other]["course"] == records[card.id]["course"]:
                wrong += [f"{other}: not back"] * (there.get(back) != card.id)
    return wrong


@pytest.mark.parametrize("demo", HELD)
def test_each_piece_has_a_card_that_says_what_the_record_says(demo: str) -> None:
    page, solution = page_of(demo), solution_of(demo)
    assert wrong_cards(page, solution) == []
    assert len(page.cards) == len({card.id for card in page.cards})
    assert [card.id for card in page.cards if not card.facts] == []


def test_joints_are_the_gaps_between_the_pieces() -> None:
    page, solution = page_of("library-hearth"), solution_of("library-hearth")
    assert wrong_joints(page, solution) == []


def changed(page: Page, name: str, **parts: Any) -> Page:
    """Return a page with one card that says something else."""
    steps = tuple(
        replace(
            step,
            cards=tuple(
                replace(card, **parts) if card.id == name else card
                for card in step.cards
            ),
        )
        for step in page.steps
    )
    return replace(page, steps=steps)


def test_a_card_that_says_something_else_is_noticed() -> None:
    page, solution = page_of("library-hearth"), solution_of("library-hearth")
    (card,) = (x for x in page.cards if x.id == "F-07-02")
    for name, words in (("top from the datum", "1'-6 7/16\""), ("course", "6 of 13")):
        facts = tuple((key, words if key == name else x) for key, x in card.facts)
        assert wrong_cards(changed(page, card.id, facts=facts), solution)
    assert wrong_cards(changed(page, card.id, mark="B1"), solution)
    assert wrong_cards(replace(page, steps=page.steps[1:]), solution)
    facts = tuple((key, words.replace("3/8", "7/16")) for key, words in card.facts)
    assert wrong_joints(changed(page, card.id, facts=facts), solution)
    beside = (("right", "F-07-04"),)
    assert wrong_joints(changed(page, card.id, beside=beside), solution)


# ------------------------------------------------------------------ course by course


def test_courses_are_in_the_order_that_they_are_laid(
    demo: str, solution: Solution
) -> None:
    page = page_of(demo)
    numbers = [str(course.number) for course in solution.coursing.courses]
    names = [step.name for step in page.steps]
    assert names[: len(numbers)] == numbers
    assert len({*names}) == len(names)
    for step, course in zip(page.steps, solution.coursing.courses, strict=False):
        if not course.is_reckoned:
            top = format_length(course.top, solution.lengths)
            assert ("top", top) in step.facts


def test_each_piece_stands_in_a_run_of_its_course(
    demo: str, solution: Solution
) -> None:
    page = page_of(demo)
    for step in page.steps:
        places = Counter(place.card for run in step.runs for place in run.places)
        if step.name not in FLAT:
            assert places.keys() == {card.id for card in step.cards}
    outlines = {piece.id: len(piece.outlines) for piece in solution.layout.pieces}
    shown = Counter(
        place.card
        for step in page.steps
        for run in step.runs
        for place in run.places
        if place.card in outlines
    )
    assert shown == outlines


def test_course_7_of_the_library_hearth() -> None:
    """As a mason reads it: by hand from the setting-out rod and the pole."""
    (step,) = (x for x in page_of("library-hearth").steps if x.name == "7")
    assert dict(step.facts) == {
        "top": "1'-6 1/2\"",
        "joint under it": '7/16"',
        "bottom": "1'-4 1/4\"",
        "kind": "stretcher",
    }
    front = next(run for run in step.runs if run.title.startswith("front"))
    assert [(x.card, x.name, x.reach) for x in front.places] == [
        ("F-07-01", "C", '0" to 7 5/8"'),
        ("F-07-02", "B2", '8" to 11 5/8"'),
        ("F-07-03", "B2", "3'-9 5/8\" to 4'-1 1/4\""),
        ("F-07-04", "C", "4'-1 5/8\" to 4'-9 1/4\""),
    ]
    assert [x.then for x in front.places] == [
        'joint 3/8"',
        "the opening, edge bare: 2'-10\", then B2",
        'joint 3/8"',
        "the corner",
    ]


def test_half_a_brick_ends_where_the_saw_s_stop_says() -> None:
    # Sawn to 102.5, it can't end at 103.
    (step,) = (x for x in page_of("metric-slips").steps if x.name == "2")
    reaches = [place.reach for run in step.runs for place in run.places]
    assert reaches[:3] == ["0 to 102.5", "112.5 to 327.5", "337.5 to 440"]


def dues_of(page: Page) -> dict[str, list[str]]:
    return {step.name: [due.words for due in step.due] for step in page.steps}


def test_what_falls_due_comes_at_its_course() -> None:
    dues = dues_of(page_of("library-hearth"))
    assert any("ledger with its top at 2'-3\"" in words for words in dues["11"])
    assert any("soldiers stand over the opening" in words for words in dues["11"])
    assert (
        "Take the ledger away: not before 2026-03-16, 7 days after setting."
        in (dues["11"])
    )
    assert any(words.startswith("Point the joints:") for words in dues["13"])
    assert any(words.startswith("Fasten woodwork") for words in dues["13"])
    assert any("Bottom joint" in words for words in dues["1"])
    assert dues["7"] == []


def test_every_wait_and_every_target_comes_once(demo: str, solution: Solution) -> None:
    said = [words for each in dues_of(page_of(demo)).values() for words in each]
    for wait in solution.schedule:
        what = wait.what.capitalize()
        assert sum(words.startswith(f"{what}:") for words in said) == 1
    by_course = {y for x in solution.coursing.courses for y in (x.bottom, x.top)}
    for target in solution.coursing.targets:
        if target.got in by_course and target.meets == "top":
            assert any(target.name in words for words in said)


def test_measuring_again_comes_with_its_command(demo: str, solution: Solution) -> None:
    variation = solution.variation
    wanted = [str(n) for n in variation.remeasure_at] if variation else []
    found = [
        (step.name, due.command)
        for step in page_of(demo).steps
        for due in step.due
        if due.command
    ]
    assert [name for name, _ in found] == wanted
    for name, command in found:
        assert f"--course {name} --top" in command


def test_a_laid_course_is_told_as_laid() -> None:
    laid = '\n[[laid]]\ncourse = 1\ntop = "2 5/8 in"\n\n[hearth]'
    text = text_of("library-hearth", ("\n[hearth]", laid))
    page = make_page(solve(parse_job(text, "den.toml")), ())
    assert "This course is measured." in dues_of(page)["1"]


# ------------------------------------------------------------------ lists and marks


def cells_missing(page: Page, solution: Solution) -> list[str]:
    """Name what the tables say and no list of the page does."""
    said = {
        words
        for each in page.lists
        for item in each.items
        for words in (item.title, item.says, item.source, *(x for _, x in item.facts))
    }
    rows = (*takeoff_table(solution).rows, *schedule_table(solution.schedule).rows)
    missing = [cell for row in rows for cell in row if cell and cell not in said]
    missing += [x.rule.words for x in solution.findings if x.rule.words not in said]
    return missing


def test_the_lists_say_what_the_tables_say(demo: str, solution: Solution) -> None:
    page = page_of(demo)
    assert cells_missing(page, solution) == []
    assert cells_missing(replace(page, lists=page.lists[1:]), solution)
    counts = Counter(finding.status for finding in solution.findings)
    lists = {each.name: each for each in page.lists}
    for name, status in (
        ("find-out", "not checked"), ("failed", "failed"), ("passed", "passed")
    ):  # fmt: skip
        assert counts[status] == (len(lists[name].items) if name in lists else 0)
    if "find-out" in lists:
        assert all(item.source for item in lists["find-out"].items)


def test_every_mark_is_told_with_its_sketch(demo: str, solution: Solution) -> None:
    makes = {make.mark: make for make in page_of(demo).makes}
    assert makes.keys() == {row.mark for row in solution.cut_list}
    for row in solution.cut_list:
        make = makes[row.mark]
        assert make.count == row.count
        assert bool(make.sketches) == (
            row.is_cut or bool(row.legs) or row.kind == "keystone"
        )
        figures = [
            each.words
            for sketch in make.sketches
            for each in sketch.ink
            if isinstance(each, Measure)
        ]
        if row.is_cut and not row.legs and not row.shapes:
            length, height = re.findall(r"^(\S.*?) x (\S.*?) (?:mm )?high$", make.size)[
                0
            ]
            assert {length, height} <= {*figures}
            assert any("as delivered" in words.lower() for words in make.says)


def test_the_page_speaks_in_words(demo: str) -> None:
    page = page_of(demo)
    said = [
        *page.notes,
        page.steps_say,
        *(due.words for step in page.steps for due in step.due),
        *(words for make in page.makes for words in make.says),
        *(item.says for each in page.lists for item in each.items),
    ]
    assert [(words, coded(words)) for words in said if coded(words)] == []


# -------------------------------------------------------------------------- drawings


def test_every_piece_can_be_tapped(demo: str, solution: Solution) -> None:
    views = page_of(demo).views
    tapped = {spot.card for view in views for spot in view.spots}
    assert tapped == {piece.id for piece in solution.pieces}
    for view in views:
        left, low, right, top = view.placed.placement.window
        if view.placed.drawing.part is not None:
            continue
        for spot in view.spots:
            for x, y in map(view.placed.placement.to_paper, spot.points):
                assert left - 0.01 <= x <= right + 0.01
                assert low - 0.01 <= y <= top + 0.01
