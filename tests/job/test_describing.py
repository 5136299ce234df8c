"""The job file explains itself: its keys' rows, their defaults, what a key takes."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from functools import reduce
from pathlib import Path
from typing import Any

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.describing import describe_key, list_tables
from shopdraw.job.faults import known_keys
from shopdraw.job.keys import KeyRow, key_rows, keys_in
from shopdraw.job.reading import parse_job
from shopdraw.job.scale import parse_scale
from shopdraw.job.schema import default_of, typed_fields
from shopdraw.lengths import Lengths, parse_length
from tests.job.files import STARTER

VIEWS = Path(__file__).resolve().parents[2] / "shopdraw" / "views"
READ_AHEAD = {"setting_bed.thickness"}
"""What the reader takes and makes other keys of: the model has no such key."""


def unlike(rows: Iterable[str]) -> set[str]:
    """Return the rows without a key, and the keys without a row."""
    return set(rows) ^ {*known_keys(), *READ_AHEAD}


def test_every_key_has_a_row_and_every_row_a_key() -> None:
    assert unlike(key_rows()) == set()
    assert list(typed_fields()) == sorted(typed_fields(), key=list(key_rows()).index)


@pytest.mark.parametrize(
    "damage",
    [
        lambda rows: rows - {"joints.bed.most"},
        lambda rows: rows | {"joints.bed.mots"},
        lambda rows: rows - {"brick"},
    ],
)
def test_a_row_that_is_missing_or_of_no_key_is_noticed(damage: Any) -> None:
    assert unlike(damage(set(key_rows())))


def test_what_the_reader_takes_ahead_is_taken() -> None:
    job = parse_job(f'{STARTER_LESS_BED}\n[setting_bed]\nthickness = "1/2 in"', "den")
    assert job.setting_bed.least == job.setting_bed.most == Fraction(1, 2)


STARTER_LESS_BED = re.sub(r"(?ms)^\[setting_bed\].*?(?=^\[)", "", STARTER)


def unsaid(row: KeyRow) -> bool:
    """Whether a row is no short phrase, or says nothing."""
    return any(
        not text.strip() or len(text) > 150 or text.endswith(".")
        for text in (row.says, row.shows)
    )


def test_every_row_says_what_it_is_and_where_it_shows_in_short() -> None:
    assert [key for key, row in key_rows().items() if unsaid(row)] == []
    assert unsaid(KeyRow("a width", ""))


def unlettered(shows: str, lettered: str) -> list[str]:
    """Return the titles and files that are named as places and that there are not."""
    titles = re.findall(r"\b[A-Z]{2}[A-Z',: ]*[A-Z]\b", shows)
    files = re.findall(r"\b[\w-]+\.(?:pdf|ics|csv|json)\b", shows)
    return [
        *(title for title in titles if title not in lettered and title != "DXF"),
        *(file for file in files if file not in FILES),
    ]


FILES = (
    *("set.pdf", "story-pole.pdf", "review.pdf", "ticket.pdf", "labels.pdf"),
    "schedule.ics",
    *("arch-templates.pdf", "quote.pdf", "costs.pdf", "bring.pdf"),
    *("stripping.pdf", "options.pdf"),
)


def test_the_places_named_are_titles_on_the_sheets() -> None:
    lettered = "".join(path.read_text("utf-8") for path in VIEWS.rglob("*.py"))
    wrong = {key: unlettered(row.shows, lettered) for key, row in key_rows().items()}
    assert {key: names for key, names in wrong.items() if names} == {}
    assert unlettered("NOTES; THE ATTIC; roof.pdf", lettered) == [
        "THE ATTIC",
        "roof.pdf",
    ]


# ---------------------------------------------------------------------------- defaults


PLAIN_JOB = """
[job]
name = "Old"
lengths = "{lengths}"
[face]
width = "1500 mm"
height = "1000 mm"
[opening]
width = "700 mm"
height = "700 mm"
[brick]
size = "{size}"
"""
GIVEN = {
    *("job.name", "job.lengths", "face.width", "face.height"),
    *("opening.width", "opening.height", "opening.from_left"),
    *("brick.size", "brick.length", "brick.height", "brick.header"),
}


@pytest.mark.parametrize(("lengths", "size"), [("in", "modular"), ("mm", "uk-65")])
def test_what_is_said_to_be_the_default_is_what_a_job_gets(
    lengths: Lengths, size: str
) -> None:
    job = parse_job(PLAIN_JOB.format(lengths=lengths, size=size), "old")
    held = 0
    for key in typed_fields().keys() - GIVEN - READ_AHEAD:
        *tables, name = key.split(".")
        table = reduce(lambda each, inner: getattr(each, inner, None), tables, job)
        if not hasattr(table, name) or keys_in(key):
            continue
        got, said = getattr(table, name), default_of(key, lengths)
        if isinstance(got, Fraction):
            assert parse_length(said, lengths) == got, key
        elif key == "sheet.scale":
            assert parse_scale(said) == got
        else:
            assert said == (None if got in ("", (), {}) else got), key
        held += 1
    # Edges, joints, bond, courses, waste, paper: what every job has.
    assert held > 80


def test_a_key_is_explained_with_both_defaults_and_where_it_shows() -> None:
    assert describe_key("joints.bed.most") == (
        "joints.bed.most\n"
        "  the widest that a bed joint may be\n"
        '  takes    a length with its unit, more than zero, such as "26 1/4 in", '
        '"667 mm"; at most "2 in"\n'
        '  default  "1/2 in"; "12 mm" where job.lengths is "mm"\n'
        "  shows    NOTES\n"
    )


@pytest.mark.parametrize(
    ("key", "line"),
    [
        ("job.number", "  takes    text in quotes, up to 60 characters"),
        ("job.lengths", '  default  "in"'),
        ("job.name", "  default  none; it must be given"),
        ("edges.left.kind", '  takes    one of "bare", "mortar", "soft", "gap"'),
        ("bond.header_every", "  takes    one of 5, 6"),
        ("bond.header_every", "  default  6"),
        (
            "brick.header",
            '  takes    a length with its unit, more than zero, such as "26 1/4 in", '
            '"667 mm"; at least "1/2 in"; at most "48 in"',
        ),
        ("opening.head_courses", "  takes    one of 1, 2"),
        (
            "job.notes",
            "  takes    a list; each item is text in quotes, up to 500 characters",
        ),
        ("packs.flats", "  takes    a whole number, more than 0 to 100000"),
        ("waste.flats.percent", "  takes    a number, 0 to 100"),
        ("house.smoke_stains", "  takes    true or false"),
        ("edges.left.lean", '  default  "0 in"; "0 mm" where job.lengths is "mm"'),
        ("rules.own[2].reason", "  takes    text in quotes, 3 to 120 characters"),
        ("layers.own.A-ELEV-OTLN", "  shows    DXF files"),
        ("labels", "  default  none; no labels are made"),
    ],
)
def test_what_a_key_takes_is_said_in_words(key: str, line: str) -> None:
    assert line in describe_key(key).splitlines()


def test_a_key_may_be_typed_as_it_stands_in_the_file() -> None:
    assert describe_key("target[1].level") == describe_key("target.level")
    assert describe_key("[opening.corners]") == describe_key("opening.corners")
    assert describe_key("[[target]]") == describe_key("target")


def test_a_table_lists_its_keys_one_a_line() -> None:
    lines = describe_key("joints").splitlines()
    assert lines[0] == "[joints]"
    assert [line.split("  ")[1] for line in lines[4:]] == [
        *("[joints.bed]", "[joints.bottom]", "[joints.head]"),
        *("joints.step", "joints.depth", "joints.profile"),
    ]


def test_every_key_can_be_explained() -> None:
    for key in key_rows():
        words = describe_key(key)
        assert key in words.splitlines()[0]
        assert keys_in(key) or "\n  takes    " in words


def test_the_tables_are_listed_one_a_line() -> None:
    lines = list_tables().splitlines()
    assert len(lines) == len(keys_in())
    assert lines[0].split()[:5] == ["[job]", "what", "the", "title", "block"]
    assert any(line.startswith("  [[target]] ") for line in lines)


@pytest.mark.parametrize(
    ("key", "nearest"),
    [
        ("joints.bed.mots", "joints.bed.most"),
        ("target[1].levl", "target.level"),
        ("jonts", "joints"),
        ("opening.width.inside", "opening.width"),
    ],
)
def test_an_unknown_key_names_the_nearest(key: str, nearest: str) -> None:
    with pytest.raises(BadJob) as told:
        describe_key(key)
    plain = key.replace("[1]", "")
    assert told.value.lines() == (
        f"explain: {plain}: is not a key of a job file (nearest known key: {nearest})",
    )
