"""Each figure that the page lists is drawn there, or its row says where it is drawn."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from shopdraw.drawing.ink import Drawing, Measure, Words
from shopdraw.review.findings import Key
from shopdraw.solution import Solution
from shopdraw.views.every import every_view
from tests.demos import set_of, solution_of
from tests.findings import Name, name_of
from tests.views.review.jobs import edited, every, ink_of, sheet_of, solved
from tests.views.review.lines import apart, lines_on
from tests.views.review.rows import rows_on

TYPED: tuple[Key, ...] = (
    "beside", "plane", "brick-in-joint", "brick-tolerance", "laid-levelled",
    "corner-angle",
)  # fmt: skip
"""What somebody measured on the site, or on a sample, and no view can show."""
SAYS = re.compile(r"\((VIEW (\d+), SHEETS? ([^)]+)|NOT DRAWN)\)")


def unsaid(drawing: Drawing, solution: Solution) -> list[Name]:
    """Return the rules whose figure the page neither draws nor says where it is."""
    lines, wrong = lines_on(drawing), list[Name]()
    count = len(every_view(solution))
    pairs = zip(rows_on(drawing), solution.findings, strict=True)
    for number, (row, finding) in enumerate(pairs, start=1):
        if row.measured == "-" or number in lines:
            continue
        said = SAYS.search(row.says)
        if said is None:
            wrong.append(name_of(finding.rule))
        elif said[2] is None:
            # Under a hearth of brick nothing shows how thick what carries it is.
            is_hidden = finding.rule.key == "hearth-thickness" and solution.hearth
            if finding.rule.key not in TYPED and not is_hidden:
                wrong.append(name_of(finding.rule))
        elif not 1 <= int(said[2]) <= count:
            wrong.append(name_of(finding.rule))
    return wrong


@every
def test_every_figure_is_drawn_or_said_where(name: str) -> None:
    assert unsaid(ink_of(sheet_of(name)), solved(name)) == []


def test_a_row_that_no_longer_says_it_is_noticed() -> None:
    solution, drawing = solved("library-hearth"), ink_of(sheet_of("library-hearth"))
    said = [x for x in drawing.ink if isinstance(x, Words) and SAYS.search(x.text)]
    assert len(said) > 4
    for words in said:
        less = replace(words, text=SAYS.sub("", words.text))
        assert len(unsaid(edited(drawing, words, less), solution)) == 1


def test_a_measured_line_that_is_taken_away_is_noticed() -> None:
    solution, drawing = solved("library-hearth"), ink_of(sheet_of("library-hearth"))
    measures = [x for x in drawing.ink if isinstance(x, Measure)]
    assert measures
    for measure in measures:
        assert len(unsaid(edited(drawing, measure), solution)) == 1


@pytest.mark.parametrize("demo", ["library-hearth", "metric-slips"])
def test_a_view_that_is_named_has_that_number_on_its_sheet(demo: str) -> None:
    """The sheet's number is read in its title block."""
    names = {"throat": "upright-section", "least-lap": "elevation",
             "bottom-joint": "hearth-edge", "hearth-thickness": "upright-section",
             "least-piece": "elevation"}  # fmt: skip
    solution, drawn = solution_of(demo), set_of(demo)
    pages = dict(drawn.papers)
    rows, seen = rows_on(ink_of(pages["review"][0])), 0
    for row, finding in zip(rows, solution.findings, strict=True):
        view, said = names.get(finding.rule.key), SAYS.search(row.says)
        if view is None or finding.measured is None:
            continue
        assert said is not None
        sheet, drawing = next(
            (sheet, x.drawing)
            for sheet in drawn.sheets
            for x in sheet.drawings
            if x.drawing.name == view
        )
        assert said[2] == number_of(drawing)
        title = [x.text for x in sheet.paper_ink if isinstance(x, Words)]
        assert said[3] in title
        seen += 1
    assert seen > 1


def number_of(drawing: Drawing) -> str:
    """Return the number in the bubble beside a view's title."""
    words = [x for x in drawing.ink if isinstance(x, Words)]
    title = next(x for x in words if x.text == drawing.title)
    numbers = [x for x in words if x.text.isdigit()]
    return min(numbers, key=lambda x: apart(x.at, title.at)).text


@pytest.mark.parametrize("demo", ["library-hearth", "metric-slips"])
def test_the_sheets_table_says_the_same_view_as_the_page(demo: str) -> None:
    """In its last column, where the page has no measured line of its own."""
    solution, drawn = solution_of(demo), set_of(demo)
    rows = rows_on(ink_of(dict(drawn.papers)["review"][0]))
    tables = [
        placed.drawing
        for sheet in drawn.sheets
        for placed in sheet.drawings
        if placed.drawing.name.startswith("findings")
    ]
    lines: list[str] = []
    for table in tables:
        words = [x for x in table.ink if isinstance(x, Words)]
        last = max(x.at[0] for x in words if x.align == "left")
        lines += [x.text for x in words if x.at[0] == last]
    told = re.findall(r"\((VIEW \d+|NOT DRAWN)\)", " ".join(lines))
    wanted = [
        SAYS.search(row.says)
        for row, finding in zip(rows, solution.findings, strict=True)
        if finding.measured is not None
    ]
    assert len(told) == len(wanted)
    pairs = [(x, y) for x, y in zip(told, wanted, strict=True) if y is not None]
    assert len(pairs) > 2
    assert all(x == (f"VIEW {y[2]}" if y[2] else "NOT DRAWN") for x, y in pairs)
