"""What is drawn speaks in words: no key of the job file, no catalog name of a rule set.

The terminal may name them, and so does the form that is taken to site; both say what to
type. `solution.json` is for programs.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from shopdraw.catalog.rules import rule_set_names
from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.keys import key_rows
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import build, solve
from shopdraw.review.clearances import review_clearances
from shopdraw.review.findings import Finding
from shopdraw.solution import Solution
from shopdraw.views.words.report import write_report
from tests.demos import set_of, solution_of
from tests.longer import mostly_long
from tests.old_houses import make_job, seeded

DRAWN = (9, 749, 3082, 1524644)
"""Random jobs, quick to lay, whose whole sets are read."""
DOTTED = {key for key in key_rows() if "." in key}
JOINED = {name for key in key_rows() if "_" in (name := key.rpartition(".")[2])}
"""Names that only a file has: `ledger_days`."""
CODED = {*DOTTED, *JOINED, *rule_set_names()}
TOKEN = re.compile(r"[a-z][a-z0-9_.-]*[a-z0-9]")
ASKED_FOR = (
    *("hearth", "appliance", "rules", "substrate", "house", "schedule"),
    *("trim", "beside", "fitting", "data_sheet"),
)
"""The tables that findings ask for where they are left out."""
BARE = """
[job]
name = "Bare"
[face]
width = "56 in"
height = "40 in"
[opening]
width = "30 in"
height = "27 in"
[brick]
size = "modular"
thickness = "5/8 in"
"""


def coded(text: str) -> list[str]:
    """Name what in a text only a job file or the catalog would spell so."""
    words = TOKEN.findall(re.sub(r"\[\d+\]", "", text.lower()))
    return [word for word in words if word in CODED] + re.findall(r"\[\[", text)


def lettered(sheet: Sheet) -> Iterator[str]:
    """Yield every line that is lettered on a sheet."""
    paper = Drawing("paper", "", 1.0, sheet.paper_ink)
    for drawing in (paper, *(placed.drawing for placed in sheet.drawings)):
        yield from (words.text for words, _ in lettering_of(drawing))


def words_of(drawn: DrawingSet) -> Iterator[str]:
    """Yield all that a set letters for people: sheets, papers, tables, calendar."""
    pages = [page for _, pages in drawn.papers for page in pages]
    picture = () if drawn.picture is None else (drawn.picture,)
    for sheet in (*drawn.sheets, *picture, *pages):
        yield from lettered(sheet)
    for table in drawn.tables:
        yield from (table.title, *(column.head for column in table.columns))
        yield from (cell for row in table.rows for cell in row)
    yield from (event.says for event in drawn.events)


def said(finding: Finding) -> tuple[str, ...]:
    """Return all that the sheets show of a finding in words."""
    return finding.rule.words, finding.source, finding.says, *finding.mends


def spelled(drawn: DrawingSet) -> set[str]:
    """Return what a set spells as a job file or the catalog does."""
    return {each for words in words_of(drawn) for each in coded(words)}


def without(solution: Solution, table: str) -> tuple[Finding, ...]:
    """Review a job again with one of its tables left out."""
    bare = getattr(parse_job(BARE, "bare.toml"), table)
    job: Job = solution.job.model_copy(update={table: bare})
    return review_clearances(
        job,
        solution.surround,
        solution.coursing,
        solution.layout,
        solution.openings,
        solution.variation,
    )


def test_no_demo_letters_a_key_of_the_job_file(demo: str) -> None:
    assert spelled(set_of(demo)) == set()


@pytest.mark.parametrize("number", mostly_long(DRAWN, 749, 1524644))
def test_no_random_job_s_set_letters_a_key(number: int) -> None:
    text, job = make_job(seeded(number))
    assert spelled(build(solve(job))) == set(), text


@pytest.mark.parametrize("table", ASKED_FOR)
def test_a_finding_asks_in_words_and_names_its_keys_apart(
    demo: str, table: str
) -> None:
    for finding in without(solution_of(demo), table):
        assert [x for words in said(finding) for x in coded(words)] == []
        for key in finding.keys:
            assert re.sub(r"\[\d+\]", "", key).strip("[]") in key_rows()


def test_the_terminal_says_which_key_to_fill_in() -> None:
    report = write_report(solution_of("cannot-land"))
    assert "fill in: hearth.thickness\n" in report
    assert "fill in: [[trim]]\n" in report


def test_a_key_in_a_text_is_noticed() -> None:
    assert coded("trim[2].projection is not given") == ["trim.projection"]
    assert coded("no [[beside]] is given") == ["[["]
    assert coded("give rules.set, one of irc-2015.") == ["rules.set", "irc-2015"]
    assert coded("its maker's time: ledger_days") == ["ledger_days"]
    assert coded("The hearth. Front and sides of IRC 2015.") == []


@pytest.mark.parametrize("words", ["hearth.front is not given", "by irc-2015"])
def test_a_set_that_letters_a_key_is_noticed(words: str) -> None:
    solution = solution_of("library-hearth")
    first, *others = solution.findings
    damaged = replace(solution, findings=(replace(first, says=words), *others))
    assert spelled(build(damaged)) != set()
