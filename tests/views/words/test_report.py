"""The report in the terminal: what it counts, and what it says only of some jobs."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction as F
from functools import cache

import pytest

from shopdraw.quantities.comparing import Alternative
from shopdraw.solution import Solution
from shopdraw.views.words.compared import write_compared
from shopdraw.views.words.notes import bottom_words
from shopdraw.views.words.report import write_report
from tests.demos import solution_of
from tests.views.jobs import with_job

COUNTED = r"Findings \((\d+) passed, (\d+) failed, (\d+) not checked; "
STATUSES = "PASSED", "FAILED", "NOT CHECKED"
RISER = "Course list of the riser, from the floor:"


@cache
def report_of(name: str) -> str:
    return write_report(solution_of(name))


def under(report: str, title: str) -> list[str]:
    """Return the lines of a section, its title left out."""
    lines = report.splitlines()
    start = next(n for n, line in enumerate(lines) if line.startswith(title)) + 1
    return lines[start : start + lines[start:].index("")]


def test_a_hearth_says_what_was_decided_and_its_riser_has_a_course_list() -> None:
    solution = solution_of("raised-hearth")
    hearth = solution.hearth
    assert hearth is not None
    assert hearth.riser is not None
    said = under(report_of("raised-hearth"), "Hearth of brick:")
    assert said == [f"  - {x}" for x in hearth.layout.reasons]
    head, *rows = under(report_of("raised-hearth"), RISER)
    assert head.split()[0] == "course"
    assert [int(row.split()[0]) for row in rows] == [
        course.number for course in hearth.riser.coursing.courses
    ]
    flat = replace(solution, hearth=replace(hearth, riser=None))
    assert RISER not in write_report(flat)
    assert under(write_report(flat), "Hearth of brick:") == said
    assert "Hearth of brick:" not in report_of("library-hearth")


def given_up(solution: Solution) -> list[str]:
    """Return what follows the title of what the bond gives up, to the next title."""
    lines = write_report(solution).splitlines()
    start = next(n for n, x in enumerate(lines) if x.startswith("What the bond gives"))
    rest = lines[start + 1 :]
    return rest[: next(n for n, x in enumerate(rest) if not x.startswith("  "))]


def test_a_bond_that_gives_nothing_up_says_so() -> None:
    solution = solution_of("library-hearth")
    none = replace(solution, layout=replace(solution.layout, given_up=()))
    assert given_up(none) == ["  - Nothing."]
    assert "  - Nothing." not in given_up(solution)


@pytest.mark.parametrize("known", ["all", "first", "not searched"])
def test_what_less_would_cost_is_said_where_it_is_known(known: str) -> None:
    """Nothing counts more than the first line; what was not searched is not known."""
    solution = solution_of("library-hearth")
    layout = solution.layout
    assert layout.searched_all
    if known == "first":
        worst = tuple(replace(x, before="") for x in layout.given_up)
        layout = replace(layout, given_up=worst)
    if known == "not searched":
        layout = replace(layout, searched_all=False)
    said = [x for x in given_up(replace(solution, layout=layout)) if "To have" in x]
    faces = list(dict.fromkeys(x.face for x in layout.given_up))
    assert len(faces) > 1
    if known == "all":
        assert [any(face in x for x in said) for face in faces] == [True] * len(faces)
        assert len(said) == len(faces)
    else:
        assert said == []


def test_the_cut_list_tells_what_is_sawn_from_what_is_made_to_a_mitre() -> None:
    solution = solution_of("library-hearth")
    row = next(x for x in solution.cut_list if x.is_cut)
    # A corner unit of two flat brick goes round a corner that is not square.
    for turn, state in ((row.turn, "cut "), (F(135), "mitred ")):
        listed = (replace(row, turn=turn),)
        (_, line) = under(write_report(replace(solution, cut_list=listed)), "Cut list:")
        assert f"{row.mark}  " in line
        assert f"  {state}{row.kind}  " in line


def test_a_job_that_saws_nothing_has_no_cut_plan() -> None:
    solution = solution_of("library-hearth")
    assert "Cut plan (" in report_of("library-hearth")
    none = replace(solution, cut_plan=replace(solution.cut_plan, units=()))
    assert "Cut plan (" not in write_report(none)


def test_without_a_bottom_joint_nothing_is_said_to_fill_it() -> None:
    job = solution_of("library-hearth").job
    (said,) = bottom_words(job)
    assert said.startswith("Bottom joint, between hearth and course 1: mortar")
    bottom = job.joints.bottom.model_copy(update={"kind": "none"})
    solution = with_job(solution_of("library-hearth"), joints={"bottom": bottom})
    assert list(bottom_words(solution.job)) == []


def test_a_bond_in_which_no_size_can_be_built_is_compared_in_words_alone() -> None:
    job = solution_of("library-hearth").job
    why = "its courses are laid already"
    tried = (
        Alternative("modular", job.bond.pattern, F(61, 8), F(9, 4), lands=True),
        Alternative("modular", "Flemish", F(61, 8), F(9, 4), why_not=why),
        Alternative("roman", "Flemish", F(93, 8), F(13, 8), why_not=why),
    )
    said = write_compared(job, tried)
    assert said.count("the best first:") == 1
    assert f"In {job.bond.pattern} bond, the job's own, the best first:" in said
    assert under(f"{said}\n", "Cannot be built:") == [
        f"  - modular, Flemish bond: {why}", f"  - roman, Flemish bond: {why}"
    ]  # fmt: skip


def test_as_many_findings_are_counted_as_are_listed(solution: Solution) -> None:
    report = write_report(solution)
    counted = re.search(COUNTED, report)
    assert counted is not None
    listed = report[counted.end() :].partition("\n\n")[0].splitlines()[1:]
    begun = [line.strip() for line in listed if re.match("  [A-Z]", line)]
    assert begun
    for count, status in zip(counted.groups(), STATUSES, strict=True):
        assert int(count) == sum(line.startswith(f"{status}  ") for line in begun)
    assert sum(map(int, counted.groups())) == len(begun)


def test_a_finding_says_its_limit_and_what_would_pass_only_where_it_has_them() -> None:
    solution = solution_of("library-hearth")
    found = solution.finding("trim-distance", 1)
    assert found is not None
    assert (found.status, found.mends) == ("passed", ())
    failed = replace(found, status="failed", limit=None, mends=("raise it", "cut it"))
    for each, limit in ((found, ", limit 6 in"), (failed, "")):
        said = under(write_report(replace(solution, findings=(each,))), "Findings (")
        assert said[0].endswith(f"{each.rule.words}: 7 7/8 in{limit}")
        mends = [line.strip() for line in said if "to pass: " in line]
        assert mends == [f"to pass: {x}" for x in each.mends]
