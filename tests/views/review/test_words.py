"""The review's words: it counts, names what governs, and approves nothing."""

from __future__ import annotations

from math import floor

import pytest

from shopdraw.catalog.rules import load_rules
from shopdraw.drawing.lettering import plain
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from tests.findings import Name
from tests.views.jobs import text_of
from tests.views.review.jobs import every, ink_of, lettered, page_of, sheet_of, solved
from tests.views.review.lines import names_in, opening_of
from tests.views.review.rows import Row, counts_on, rows_on


@every
def test_it_counts_and_says_that_not_checked_is_no_approval(name: str) -> None:
    drawing, findings = ink_of(sheet_of(name)), solved(name).findings
    status = [finding.status for finding in findings]
    kinds = ("passed", "failed", "not checked")
    assert counts_on(drawing) == [len(status), *(status.count(x) for x in kinds)]
    text = lettered(drawing)
    assert "NOT CHECKED IS NOT AN APPROVAL" in text
    for part in (
        "The local code, the listing of the appliance and a licensed person decide",
        "this page approves nothing",
    ):
        assert part in text


@every
def test_its_heading_is_the_jobs(name: str) -> None:
    text, job = lettered(ink_of(sheet_of(name))), solved(name).job
    assert "CLEARANCE REVIEW" in text
    for value in (job.job.name, job.job.number, str(job.job.date), job.job.revision):
        assert plain(value) in text
    assert f"APPLIANCE {job.appliance.kind}" in text
    manual = job.appliance.manual
    is_example = manual is not None and manual.example
    assert ("EXAMPLE FIGURES: NOT FOR CONSTRUCTION" in text) == is_example
    if job.appliance.kind == "masonry":
        named = load_rules(job.lengths).set_named(job.rules.set)
        assert named is not None
        assert f"RULE SET {named.title} " in text
        assert job.rules.set not in text
    elif manual is not None:
        assert f"MANUAL {manual.document}, page {manual.page}" in text


@pytest.mark.parametrize(
    ("name", "area"),
    [
        # 34 x 25, as found; 36 x 32, finished alike.
        ("cannot-land", "5.90 sq ft"),
        ("chimney-breast-gas", "8.00 sq ft"),
    ],
)
def test_the_area_that_governs_is_said_rounded_down(name: str, area: str) -> None:
    left, right, foot, head = opening_of(solved(name))
    assert f"{floor((right - left) * (head - foot) / 1.44) / 100:.2f} sq ft" == area
    assert f"OPENING AREA {area}" in lettered(ink_of(sheet_of(name)))


def test_a_metric_area_is_written_as_on_the_other_papers() -> None:
    """675 x 610 mm is 0.411 m2, and 4.43 sq ft."""
    said = lettered(ink_of(sheet_of("metric-slips")))
    assert "OPENING AREA 0.411 m2 (4.43 sq ft)" in said


def test_an_area_that_was_agreed_says_by_whom() -> None:
    change = (
        'set = "irc-2015"',
        'set = "irc-2015"\narea = "finished"\narea_agreed = "the office, by letter"',
    )
    solution = solve(parse_job(text_of("cannot-land", change), "agreed.toml"))
    text = lettered(ink_of(page_of(solution)))
    assert "the opening as finished; agreed: the office, by letter" in text


def row_of(name: str, rule: Name) -> Row:
    return rows_on(ink_of(sheet_of(name)))[names_in(solved(name)).index(rule)]


def test_a_shelf_too_near_and_too_far_out_is_failed_with_what_would_pass() -> None:
    row = row_of("low shelf", ("trim-distance", 1))
    assert row.says.startswith("combustible trim, distance: pine shelf ")
    assert (row.measured, row.limit, row.margin) == ("140 mm", "150 mm", "-10 mm")
    assert row.status == "FAILED"
    assert "TO PASS: move the pine shelf 16 mm further from the opening" in row.says
    assert counts_on(ink_of(sheet_of("low shelf")))[2] >= 1


def test_a_gas_unit_without_its_manual_has_nothing_passed_of_it() -> None:
    drawing = ink_of(sheet_of("no manual"))
    text = lettered(drawing)
    assert "APPLIANCE gas" in text
    assert "MANUAL not given; a code's figures do not replace it" in text
    rules: dict[Name, str] = {
        "hearth-front": "hearth extension, front",
        ("hearth-side", "left"): "hearth extension, left",
        ("trim-distance", 1): "combustible trim, distance: mantel shelf",
        ("trim-projection", 1): "combustible trim, projection: mantel shelf",
        "facing-thickness": "facing thickness",
    }
    for rule, words in rules.items():
        row = row_of("no manual", rule)
        assert row.says.startswith(f"{words} ")
        assert (row.limit, row.margin, row.status) == ("-", "-", "[NOT CHECKED]")
        assert "TO FIND OUT: " in row.says
        assert "copy what the manual asks, with its document and page" in row.says
        assert row.source == "the manual of the appliance (not read)"


def test_a_hearth_eaten_by_the_build_out_fails_by_what_it_took() -> None:
    row = row_of("eaten hearth", "hearth-front")
    # 17 in before the wall as found, less 5/8 in of brick and 1/2 in of bed.
    assert (row.measured, row.limit, row.margin) == ("15 7/8 in", "16 in", "-1/8 in")
    assert row.status == "FAILED"
    assert "17 in from the wall as found, less 1 1/8 in" in row.says
    assert (
        "TO PASS: extend the noncombustible hearth by 3/8 in to the front" in row.says
    )


def test_a_hearth_that_may_burn_has_failed_and_measures_nothing() -> None:
    for rule in ("hearth-front", ("hearth-side", "left"), ("hearth-side", "right")):
        row = row_of("combustible hearth", rule)
        assert (row.measured, row.margin, row.status) == ("-", "-", "FAILED")
        assert "the hearth was given as combustible" in row.says
