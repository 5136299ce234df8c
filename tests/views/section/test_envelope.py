"""What a rule set allows of woodwork, drawn in section: the very figures of its row."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from fractions import Fraction
from math import inf
from pathlib import Path
from typing import Any

import pytest

import shopdraw.catalog
from shopdraw.catalog.rules import Rules, load_rules
from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.job.reading import parse_job
from shopdraw.lengths import Lengths, parse_length
from shopdraw.pipeline import solve
from shopdraw.review import envelope
from shopdraw.solution import Solution
from shopdraw.views.parts.heights import levels_of
from shopdraw.views.section.upright import draw_upright_section
from tests.demos import set_of, solution_of
from tests.longer import mostly_long
from tests.views.jobs import text_of, with_job

ROWS: dict[str, dict[str, Any]] = {
    name: row["trim"]
    for name, row in tomllib.loads(
        (Path(shopdraw.catalog.__file__).parent / "rules.toml").read_text("utf-8")
    )["set"].items()
    if "trim" in row
}
"""The rows as they stand in the catalog, not as the program reads them."""
NEAR = 1e-9


def drawn(solution: Solution) -> Drawing:
    return draw_upright_section(solution, 8.0 if solution.lengths == "in" else 10.0)


def under(name: str) -> Solution:
    """Return a demo, reviewed by a rule set."""
    return with_job(solution_of("library-hearth"), rules={"set": name})


def line_on(drawing: Drawing) -> tuple[tuple[float, float], ...]:
    """Return the line that woodwork is to stay within; nothing where there is none."""
    lines = [
        ink.points
        for ink in drawing.ink
        if isinstance(ink, Stroke)
        and ink.layer == "A-ELEV-HIDD"
        and len(ink.points) == 3
        and ink.points[0][0] == 0.0
    ]
    assert len(lines) <= 1
    return lines[0] if lines else ()


def corners_of(row: dict[str, Any], lengths: Lengths) -> list[tuple[float, float]]:
    """Return distances and projections by a row of the catalog."""
    rule = row["projection"]
    ends = [parse_length(x, lengths) for x in (row["least_distance"], rule["within"])]
    if "most" in rule:
        out = [parse_length(rule["most"], lengths)] * 2
    else:
        out = [Fraction(rule["per_distance"]) * end for end in ends]
    return [(float(end), float(far)) for end, far in zip(ends, out, strict=True)]


def wrong_corners(solution: Solution, row: dict[str, Any]) -> list[tuple[float, float]]:
    """Return the corners of the drawn line that the row does not have."""
    over = float(solution.openings.outer.top)
    wanted = corners_of(row, solution.lengths)
    line = line_on(drawn(solution))
    if not line or abs(line[0][1] - over - wanted[0][0]) > NEAR:
        return [(0.0, 0.0)]
    found = [(y - over, -x) for x, y in line[1:]]
    return [
        here
        for here, there in zip(found, wanted, strict=True)
        if max(abs(a - b) for a, b in zip(here, there, strict=True)) > NEAR
    ]


@pytest.mark.parametrize("name", ROWS)
def test_its_corners_are_those_of_the_rules_row(name: str) -> None:
    assert wrong_corners(under(name), ROWS[name]) == []


def test_a_metric_job_has_its_own() -> None:
    solution = solution_of("metric-slips")
    assert wrong_corners(solution, ROWS[solution.job.rules.set]) == []


CHANGED: list[dict[str, Any]] = [
    {"least_distance": "7 in"},
    {"projection": {"within": "11 in", "per_distance": "1/8"}},
    {"projection": {"within": "12 in", "per_distance": "1/4"}},
]


@pytest.mark.parametrize("change", CHANGED)
def test_another_figure_in_the_row_is_noticed(change: dict[str, Any]) -> None:
    assert wrong_corners(under("irc-2015"), {**ROWS["irc-2015"], **change}) != []


def with_figure(**figures: Fraction) -> Rules:
    """Return the rules with a figure of one set's projection altered."""
    rules = load_rules("in")
    named = rules.set_named("irc-2015")
    assert named is not None
    assert named.trim is not None
    rule = replace(named.trim.projection, **figures)  # type: ignore[arg-type]
    other = replace(named, trim=replace(named.trim, projection=rule))
    sets = tuple(other if x is named else x for x in rules.sets)
    return replace(rules, sets=sets)


@pytest.mark.parametrize("name", ["within", "per_distance"])
def test_a_figure_that_the_review_has_otherwise_is_noticed(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    solution = under("irc-2015")
    altered = with_figure(**{name: Fraction(1, 4) if "per" in name else Fraction(10)})
    monkeypatch.setattr(envelope, "load_rules", lambda _: altered)
    assert wrong_corners(solution, ROWS["irc-2015"]) != []


@pytest.mark.parametrize(
    "up", mostly_long(("6", "7 1/2", "9", "11", "12"), "7 1/2", "12")
)
def test_the_review_passes_up_to_the_line_and_not_beyond(up: str) -> None:
    # The opening's top is 27 in above the datum.
    height = parse_length(f"{up} in", "in")
    (_, low), (near, _), (far, high) = line_on(drawn(under("irc-2015")))
    part = (float(height) + 27.0 - low) / (high - low)
    allowed = Fraction(-(near + part * (far - near))).limit_denominator(64)
    for more, status in ((Fraction(0), "passed"), (Fraction(1, 64), "failed")):
        text = text_of(
            "library-hearth",
            ('bottom = "34 7/8 in"', f'bottom = "{height + 27} in"'),
            ('height = "6 in"\nprojection = "3/4 in"',
             f'height = "1 in"\nprojection = "{allowed + more} in"'),
            ('height = "34 5/8 in" ', 'height = "32 in" '),
        )  # fmt: skip
        solution = solve(parse_job(text, "x.toml"))
        finding = solution.finding("trim-projection", 1)
        assert finding is not None
        assert finding.status == status


def test_without_a_rule_set_there_is_none() -> None:
    for solution in (
        under(""),
        under("england-adj"),
        solution_of("chimney-breast-gas"),
    ):
        assert line_on(drawn(solution)) == ()


def test_where_it_ends_other_rules_may_limit() -> None:
    words = [x.text for x in drawn(under("irc-2015")).ink if isinstance(x, Words)]
    said = " ".join(words)
    assert "PAST 1'-0\" NOT LIMITED BY THIS RULE; OTHER RULES MAY LIMIT IT." in said


def test_ones_own_figure_goes_on_without_an_end() -> None:
    text = text_of(
        "library-hearth",
        (
            '[rules]\nset = "irc-2015"\n',
            '[rules]\nset = "irc-2015"\n\n[[rules.own]]\nfigure = "trim projection"\n'
            'value = "1 in"\nreason = "local amendment"\n',
        ),
    )
    solution = solve(parse_job(text, "x.toml"))
    line = line_on(drawn(solution))
    assert [x for x, _ in line] == [0.0, -1.0, -1.0]
    words = [x.text for x in drawn(solution).ink if isinstance(x, Words)]
    assert not any("NOT LIMITED" in x for x in words)


def text_on(drawing: Drawing) -> float:
    """Return the height of the notes on paper."""
    return next(x.height_on_paper for x in drawing.ink if isinstance(x, Words))


def leader_of(drawing: Drawing) -> tuple[tuple[float, float], ...]:
    """Return the leader of what is allowed: it ends on the rising part of its line."""
    (x1, y1), (x2, y2) = line_on(drawing)[1:]
    # The dot at its end is a stroke too, that ends where it begins.
    (leader,) = [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.layer == "A-ANNO-DIMS"
        and x.points[0][0] < x.points[-1][0] - drawing.scale * text_on(drawing)
        and x.points[-1][0] < 0
        and y1 < x.points[-1][1] < y2
        and abs((x.points[-1][0] - x1) * (y2 - y1) - (x.points[-1][1] - y1) * (x2 - x1))
        < NEAR * (y2 - y1)
    ]
    return leader


LED = [
    "metric-slips", "splayed-parlour", "library-hearth", "chamfered-breast",
    "flemish-breast", "crooked-study",
]  # fmt: skip


def section_of(name: str) -> Drawing:
    placed = (x for sheet in set_of(name).sheets for x in sheet.drawings)
    return next(x.drawing for x in placed if x.drawing.name == "upright-section")


@pytest.mark.parametrize("name", mostly_long(LED, "library-hearth", "flemish-breast"))
def test_its_notes_leader_crosses_no_level_line(name: str) -> None:
    """But where the note is higher than what level lines leave beside its point."""
    drawing = section_of(name)
    leader = leader_of(drawing)
    low, high = sorted((leader[0][1], leader[-1][1]))
    levels = [float(x.at) for x in levels_of(solution_of(name))]
    words = [x for x in drawing.ink if isinstance(x, Words)]
    column = next(x.at[0] for x in words if x.text.startswith("PAST "))
    lines = [x.at[1] for x in words if x.at[0] == column]
    below = max(x for x in levels if x <= leader[-1][1])
    above = min((x for x in levels if x > leader[-1][1]), default=inf)
    high_enough = max(lines) - min(lines) + 2 * drawing.scale * text_on(drawing)
    assert sum(low < x < high for x in levels) <= (above - below <= high_enough)


@pytest.mark.parametrize("name", mostly_long(LED, "library-hearth", "flemish-breast"))
def test_its_notes_leader_is_taken_for_no_extension_line(name: str) -> None:
    """It comes aslant, between level lines: they are level, as extension lines are."""
    drawing = section_of(name)
    *_, (x1, y1), (x2, y2) = leader_of(drawing)
    assert abs(y2 - y1) >= 0.5 * abs(x2 - x1) > 0
    apart = 2.0 if solution_of(name).lengths == "mm" else 1 / 12
    lines = [
        x.points[0][1]
        for x in drawing.ink
        if isinstance(x, Stroke)
        and x.layer == "A-ELEV-CNTR"
        and x.points[0][1] == x.points[-1][1]
    ]
    assert lines
    assert all(abs(y2 - y) > apart * drawing.scale for y in lines)
