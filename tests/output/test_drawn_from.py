"""Every file of a set says which program and which job file it is drawn from."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable
from dataclasses import replace

import ezdxf
import pytest
from icalendar import Calendar
from PIL import Image
from pypdf import PdfReader

from shopdraw.drawing.set import DrawingSet, DrawnFrom
from shopdraw.output.manifest import list_files
from shopdraw.output.write import make_files
from shopdraw.views.papers.asked import DRAWN
from tests.demos import set_of

OTHER = DrawnFrom("shopdraw 0.1.0", "0" * 64)


def in_table(data: bytes) -> set[str]:
    """Return what the rows say; a set with nothing in it where one says nothing."""
    rows = csv.DictReader(io.StringIO(data.decode("utf-8"), newline=""), strict=True)
    return {row.get("DRAWN FROM", "") for row in rows}


def in_calendar(data: bytes) -> set[str]:
    events = Calendar.from_ical(data).walk("VEVENT")
    return {str(event["description"]).rpartition("Drawn from ")[2] for event in events}


def in_record(data: bytes) -> set[str]:
    return {DrawnFrom(**json.loads(data)["drawn_from"]).words}


def in_picture(data: bytes) -> set[str]:
    return {Image.open(io.BytesIO(data)).text.get("Software", "")}  # type: ignore[attr-defined]


def in_pdf(data: bytes) -> set[str]:
    about = PdfReader(io.BytesIO(data)).metadata
    assert about is not None
    return {about.keywords or ""}


def in_dxf(data: bytes) -> set[str]:
    """Return the lettering on the sheet; of a file without one, its first comment."""
    lines = data.decode("ascii").split("\n")
    if lines[0] == "999":
        return {lines[1]}
    layouts = ezdxf.read(io.StringIO(data.decode("ascii"))).layouts
    texts = [x.dxf.text for each in layouts for x in each.query("TEXT")]
    return {text for text in texts if text.startswith("shopdraw ")}


def in_page(data: bytes) -> set[str]:
    return {*re.findall(r'<meta name="generator" content="([^"]*)">', data.decode())}


READ: dict[str, Callable[[bytes], set[str]]] = {
    "csv": in_table,
    "ics": in_calendar,
    "json": in_record,
    "png": in_picture,
    "pdf": in_pdf,
    "dxf": in_dxf,
    "html": in_page,
}


def silent(files: dict[str, bytes], words: str) -> list[str]:
    """Name the files that do not say it."""
    return [
        name
        for name, data in files.items()
        if {said.rstrip(".") for said in READ[name.rpartition(".")[2]](data)} != {words}
    ]


def test_every_file_of_a_set_says_what_it_is_drawn_from(
    library: dict[str, bytes], library_set: DrawingSet
) -> None:
    words = library_set.drawn_from.words
    assert {name.rpartition(".")[2] for name in library} == set(READ)
    assert silent(library, words) == []
    assert words.endswith(library_set.drawn_from.job_file[:12])


def test_every_later_paper_is_listed_and_says_what_it_is_drawn_from() -> None:
    drawn = set_of("semicircular-dining-room")
    names = tuple(name for name, _ in drawn.papers)
    assert set(DRAWN) <= set(names)
    files = make_files(drawn.picked((*names, "page")))
    listed = dict(list_files(files, drawn.drawn_from).files)
    assert {f"{name}.pdf" for name in names} | {"page.html"} <= set(listed)
    assert silent(files, drawn.drawn_from.words) == []


def test_a_file_that_says_another_or_nothing_is_noticed(
    library_set: DrawingSet,
) -> None:
    """What is lettered and recorded is of the views; the rest is put in by writers."""
    words = library_set.drawn_from.words
    files = make_files(replace(library_set.picked(("labels",)), drawn_from=OTHER))
    assert silent(files, words) == [name for name in files if name != "solution.json"]
    assert silent(files, OTHER.words) == ["solution.json"]


@pytest.mark.parametrize(
    ("digest", "mark"), [("abcdef0123456789", "abcdef012345"), ("", "no file")]
)
def test_a_digest_is_shown_as_far_as_it_takes(digest: str, mark: str) -> None:
    assert DrawnFrom("shopdraw 1", digest).words == f"shopdraw 1 / {mark}"
