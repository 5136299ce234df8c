"""A sheet's files go by its number and by what its title says."""

from __future__ import annotations

import re

import pytest

from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import file_name
from tests.demos import set_of

FORM = re.compile(r"(A-\d{3}|\d\d)(-[a-z0-9]+)+")
LONGEST = len("A-000-") + 40


def wrong_names(drawn: DrawingSet) -> list[str]:
    """Return the names that are not as they are told in the reader's guide."""
    assert drawn.picture is not None
    sheets = (*drawn.sheets, drawn.picture)
    names = [sheet.name for sheet in sheets]
    wrong = [x for x in names if not FORM.fullmatch(x) or len(x) > LONGEST]
    wrong += [x for x in names if names.count(x) > 1]
    wrong += [a for a, b in zip(names, sorted(names), strict=True) if a != b]
    for sheet in sheets:
        number = sheet.name.removesuffix("".join(f"-{x}" for x in said(sheet.title)))
        told = re.sub(r"^0", "", re.match(r"A-\d+|\d+", sheet.name)[0])  # type: ignore[index]
        words = sheet.name.removeprefix(number).split("-")
        if told != sheet.identity or not set(words[1:]) <= set(said(sheet.title)):
            wrong.append(sheet.name)
    return wrong


def said(title: str) -> list[str]:
    return re.findall(r"[a-z0-9]+", title.lower().replace("'", ""))


def test_a_sheets_files_go_by_its_number_and_its_title(demo: str) -> None:
    assert wrong_names(set_of(demo)) == []


@pytest.mark.parametrize(
    ("identity", "title", "name"),
    [
        ("A-201", "FRONT ELEVATION", "A-201-front-elevation"),
        ("A-302", "SECTION AND PLAN (2)", "A-302-section-and-plan-2"),
        ("3", "RETURNS, SECTION AND PLAN", "03-returns-section-and-plan"),
        ("12", "DETAIL", "12-detail"),
        (
            "A-501",
            "DETAILS, CUT PIECES, CUT LIST AND CLEARANCE REVIEW",
            "A-501-details-cut-pieces-cut-list",
        ),
        (
            "A-503",
            "CUT PIECES AND SAWYER'S LISTS",
            "A-503-cut-pieces-and-sawyers-lists",
        ),
    ],
)
def test_names_by_hand(identity: str, title: str, name: str) -> None:
    assert file_name(identity, title) == name


def test_a_sheet_is_asked_for_by_number_by_name_or_by_what_it_is_for() -> None:
    drawn = set_of("library-hearth")
    sheet = next(x for x in drawn.sheets if "elevation" in x.shows)
    for name in (sheet.identity, sheet.name, "elevation"):
        assert sheet in drawn.picked((name,)).sheets
    assert drawn.picked((sheet.identity,)).sheets == (sheet,)
    assert drawn.picked(("A-901",)).picture == drawn.picture
    assert drawn.picked((sheet.identity,)).picture is None
    assert drawn.picked(("nothing",)).sheets == ()
