"""Hostile text in every field of free text is refused in words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

import pytest

from shopdraw.drawing.lettering import plain
from shopdraw.job.model import About, Job
from shopdraw.job.reading import parse_job
from shopdraw.job.table import Table
from shopdraw.job.values import Line
from tests.hostile import (
    CHOICES,
    DOOR,
    KEPT,
    REFUSED,
    TextField,
    free_text,
    job_text,
    put,
    tables_of,
    unguarded,
)
from tests.hostile_sets import FIELDS, refusals


def uncovered(fields: Iterable[TextField]) -> list[str]:
    """Return the fields that neither job of these tests has a table for."""
    return [
        field.key
        for field in fields
        if not any(put(tables_of(gas=gas), field, "x") for gas in (False, True))
    ]


def test_every_field_of_free_text_is_found_and_has_a_table_here() -> None:
    found = {field.key: field.most for field in free_text()}
    # Counted by hand in the model: 20 of the job, 25 elsewhere.
    assert len(found) >= 44
    assert found["job.name"] == 80
    assert found["job.notes"] == 500
    assert found["rules.own.reason"] == 120
    assert found["appliance.manual.document"] == 200
    assert all(found.values())
    assert uncovered(free_text()) == []
    assert unguarded() == []


def test_a_new_field_is_found_and_one_without_a_table_is_noticed() -> None:
    class Signed(About):
        signed_by: tuple[Line | None, ...] = ()
        stamp: str = ""

    class Shelf(Table):
        label: Line = ""

    class Wider(Job):
        job: Signed
        shelf: Shelf | None = None

    assert uncovered(free_text(Wider)) == ["shelf.label"]
    assert TextField(("job", "signed_by"), 200) in free_text(Wider)
    assert unguarded(Wider) == ["job.stamp"]


def key_of(field: TextField, tables: dict[str, Any]) -> str:
    """Return the key as a complaint says it: each list's first."""
    place, said = tables, []
    for name in field.keys:
        place = place[name]
        said.append(f"{name}[1]" if isinstance(place, list) else name)
        place = place[0] if isinstance(place, list) else place
    return ".".join(said)


def with_everywhere(text: str) -> dict[str, Any]:
    """Return tables with a text at every key, those of a gas unit's manual too."""
    tables = tables_of()
    tables["appliance"]["manual"] = {}
    for field in free_text():
        assert put(tables, field, text)
    return tables


@pytest.mark.parametrize("text", REFUSED, ids=ascii)
def test_what_cant_be_lettered_is_refused_in_every_field(text: str) -> None:
    tables = with_everywhere(text)
    lines = refusals(tables)
    for field in free_text():
        start = re.escape(f'den.toml: {key_of(field, tables)}: "')
        said = re.compile(
            f"{start}.*(can't be lettered; write plain text|not be empty)"
        )
        assert any(map(said.fullmatch, lines)), field


@pytest.mark.parametrize("text", KEPT, ids=ascii)
def test_a_key_that_takes_what_the_catalog_has_takes_nothing_else(text: str) -> None:
    tables = tables_of()
    for field in free_text():
        if field.key in CHOICES:
            put(tables, field, text)
    lines = refusals(tables)
    for key in CHOICES:
        assert any(line.startswith(f"den.toml: {key}: ") for line in lines), key


@pytest.mark.parametrize(
    "text", ["../x", "/etc/x", "a/b", "..", ".", "-x", 'A"', "A'", "C:", "A\u0301"]
)
def test_a_revision_that_would_name_no_folder_is_refused(text: str) -> None:
    tables = tables_of()
    tables["job"]["revision"] = text
    tables["revision"][0]["mark"] = text
    lines = refusals(tables)
    assert [line.split(": ")[1] for line in lines] == [
        "job.revision",
        "revision[1].mark",
    ]


def test_every_sign_that_is_taken_is_lettered() -> None:
    taken = []
    for sign in map(chr, range(0x3100)):
        try:
            DOOR.func(f".{sign}")
        except ValueError:
            continue
        taken.append(sign)
        assert re.fullmatch("[ -~]+", plain(sign)), sign
        assert plain(sign) == sign or not sign.isascii()
        assert "?" not in plain(sign) or sign == "?"
    assert {*"aZ09 !~\"'&<>(){}[]|;,:=+@#$%?"} < {*taken}
    assert not {*"\\^\u2260\u00bd\u00b2\u00b0"} & {*taken}


def test_a_text_is_as_long_as_it_may_be_and_no_longer() -> None:
    tables = tables_of()
    tables["appliance"]["manual"] = {}
    for field in FIELDS:
        put(tables, field, "x" * (field.most + 1))
    lines = refusals(tables)
    assert len(lines) == len(FIELDS)
    for field, line in zip(FIELDS, sorted(lines), strict=False):
        assert "is too long; write at most" in line, field
    for field in FIELDS:
        put(tables, field, "x" * field.most)
    assert parse_job(job_text(tables), "den.toml").job.name == "x" * 80
