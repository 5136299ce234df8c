"""The ticket's sequence: stops and units as the cut plan has them, a box to tick."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import ceil

import pytest

from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.tables import MANY_ROWS
from shopdraw.lengths import format_made
from shopdraw.masonry.wall.layout import CORNER_KINDS
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.solution import Solution
from tests.views.making.tickets import (
    FULLEST,
    TABLE,
    both_pages,
    box_about,
    damaged,
    drawings,
    drawn,
    every_job,
    holds,
    job_of,
    length,
    rows_of,
    rows_under,
    with_text,
    words_on,
)

Stop = tuple[str, str, int, int, tuple[str, ...]]
"""A stop as lettered: length, what is against it, cuts, spares, marks."""
HELD = {"edge": "a long edge", "corner": "the corner", "end": "an end"}
"""What is held at the stop, in words that need no legend; the last is sawn first."""
ORDER = tuple(HELD.values())


def stops_read(pages: list[Drawing]) -> list[Stop]:
    """Return the stops as lettered; marks may go on in a second line."""
    stops: list[Stop] = []
    for row in (row for page in pages for row in rows_under(page, "SAW STOPS")):
        marks = tuple(row[-1].text.split())
        if len(row) == 1:
            stops[-1] = (*stops[-1][:4], (*stops[-1][4], *marks))
            continue
        length, against, cuts, spares = (cell.text for cell in row[:4])
        stops.append((length, against, int(cuts), int(spares), marks))
    return stops


def plan_read(pages: list[Drawing]) -> list[tuple[int, tuple[str, ...], str]]:
    """Return the cut plan as lettered: units, what each gives, what is left."""
    return [
        (int(row[0].text), tuple(row[1].text.split(" + ")), row[2].text)
        for page in pages
        for row in rows_under(page, "CUT PLAN")
    ]


def mitred(degrees: Fraction) -> list[str]:
    """Return the words that are lettered behind the marks of a mitred cut."""
    return f"mitred at {float(degrees):g} degrees".split()


def wrong_sequence(
    pages: list[Drawing], solution: Solution, rows: tuple[FabricationRow, ...]
) -> list[str]:
    """Return what is wrong with stops and plan: order, sums, and the plan itself."""
    job, plan = solution.job, solution.cut_plan
    # Of a mitred corner unit both legs are sawn, a and b.
    spares = {
        f"{each.row.mark}{leg}": each.spares for each in rows for leg in ("", *"ab")
    }
    wanted = [
        (
            format_made(stop.length, job.lengths),
            HELD[stop.against],
            stop.cuts,
            sum(spares[mark] for mark in stop.marks),
            (*stop.marks[:-1], f"{stop.marks[-1]},", *mitred(stop.mitre))
            if stop.mitre is not None
            else stop.marks,
        )
        for stop in plan.stops
    ]
    stops, units = stops_read(pages), plan_read(pages)
    lengths = [
        (
            ORDER.index(stop[1]) if stop[1] in ORDER else -1,
            # A strip is sawn before an edge of it is mitred.
            stop[1] == HELD["edge"] and "mitred" not in stop[4],
            length(job, stop[0]),
            "mitred" in stop[4],
        )
        for stop in stops
    ]
    given: Counter[str] = Counter()
    for count, marks, _ in units:
        for mark in marks:
            given[mark] += count
    flat = {
        each.row.mark: each.row.count
        for each in rows
        if each.row.kind not in CORNER_KINDS
    }
    flat |= {
        f"{each.row.mark}{leg}": each.row.count
        for each in rows
        if each.row.is_made
        for leg in "ab"
    }
    left = [
        (unit.count, unit.marks, format_made(unit.left, job.lengths))
        for unit in plan.units
    ]
    return [
        what
        for what, right in (
            ("stops", stops == wanted),
            ("order", all(a > b for a, b in pairwise(lengths))),
            ("plan", units == left),
            ("counts", given == flat),
            ("ticks", all(has_tick(page) for page in pages)),
        )
        if not right
    ]


def has_tick(drawing: Drawing) -> bool:
    """Whether an empty ruled box stands before every stop."""
    boxes = [box_of(words) for words in words_on(drawing)]
    lines = [
        box_about(ink)
        for ink in drawing.ink
        if isinstance(ink, Stroke) and ink.layer == TABLE and not ink.closed
    ]
    for stop, *rest in rows_under(drawing, "SAW STOPS"):
        if not rest:
            continue
        x, y = box_of(stop)[0], stop.at[1]
        sides = sorted(
            a[0] for a in lines if a[0] == a[2] and a[1] < y < a[3] and a[0] < x
        )
        if len(sides) < 2:
            return False
        left, right = sides[-2:]
        level = [a[1] for a in lines if a[1] == a[3] and a[0] <= left and right <= a[2]]
        low = max((a for a in level if a < y), default=None)
        high = min((a for a in level if a > y), default=None)
        if low is None or high is None or high - low > 5 * stop.height_on_paper:
            return False
        tick = (left, low, right, high)
        if any(holds(tick, box) for box in boxes):
            return False
    return True


@both_pages
@every_job
def test_the_sequence_is_the_cut_plans(name: str, page: str) -> None:
    solution = job_of(name)
    assert wrong_sequence(drawings(name, page), solution, rows_of(name)) == []


@pytest.mark.parametrize(("name", "page"), FULLEST)
def test_a_wrong_sequence_is_noticed(name: str, page: str) -> None:
    pages, solution, rows = drawings(name, page), job_of(name), rows_of(name)

    def wrong(target: Words, new: Callable[[Ink], Ink | None]) -> list[str]:
        changed = damaged(pages, lambda ink: ink == target, new)
        return wrong_sequence(changed, solution, rows)

    first, second = next(found for x in pages if (found := rows_under(x, "SAW STOPS")))[
        :2
    ]
    swapped = wrong(first[0], with_text(lambda _: second[0].text))
    assert swapped == ["stops", "order"]
    assert "stops" in wrong(first[1], with_text(lambda x: f"{x}1"))
    assert wrong(first[2], with_text(lambda x: f"{x}1")) == ["stops"]
    assert wrong(first[4], with_text(lambda x: f"{x} Z9")) == ["stops"]
    (units, gives, left), *_ = next(
        found for x in pages if (found := rows_under(x, "CUT PLAN"))
    )
    assert wrong(units, with_text(lambda x: f"{x}0")) == ["plan", "counts"]
    assert wrong(gives, with_text(lambda x: f"{x} + B1")) == ["plan", "counts"]
    assert wrong(left, with_text(lambda _: '1 7/16"')) == ["plan"]


def test_a_stop_without_a_box_to_tick_is_noticed() -> None:
    (page,) = drawings("library-hearth", "letter")
    assert has_tick(page)
    stop = rows_under(page, "SAW STOPS")[0][0]
    ticked = replace(stop, text="X", at=(stop.at[0] - 0.7, stop.at[1]))
    assert not has_tick(replace(page, ink=(*page.ink, ticked)))
    uprights = tuple(
        ink
        for ink in page.ink
        if not (
            isinstance(ink, Stroke)
            and ink.layer == TABLE
            and not ink.closed
            and ink.points[0][0] == ink.points[1][0]
        )
    )
    assert not has_tick(replace(page, ink=uprights))


@both_pages
@pytest.mark.parametrize("name", ["banded-breast", "jack-arch-parlour"])
def test_a_table_is_divided_only_where_it_has_too_many_rows(
    name: str, page: str
) -> None:
    pages, plan = drawings(name, page), job_of(name).cut_plan
    said = [words.text for each in pages for words in words_on(each)]
    for title, rows in ("SAW STOPS", plan.stops), ("CUT PLAN", plan.units):
        parts = sum(text.startswith(title) for text in said)
        assert parts == ceil(len(rows) / (3 * MANY_ROWS)), title


@both_pages
def test_stops_of_more_rows_are_divided_and_continued(page: str) -> None:
    """Made-up stops, each an eighth shorter, of one mark: no demo has so many."""
    solution = job_of("library-hearth")
    plan, most = solution.cut_plan, 3 * MANY_ROWS
    some = next(x for x in plan.stops if x.against == "end" and not x.is_mitred)
    for count in (most, most + 1):
        stops = tuple(replace(some, length=Fraction(50 - n, 8)) for n in range(count))
        many = replace(solution, cut_plan=replace(plan, stops=stops))
        pages = drawn(many, page)
        titles = [
            words.text
            for each in pages
            for words in words_on(each)
            if words.text.startswith("SAW STOPS")
        ]
        again = ["SAW STOPS (CONTINUED)"] if count > most else []
        assert titles == ["SAW STOPS, IN THIS ORDER", *again]
        assert wrong_sequence(pages, many, many.fabrication) == []
