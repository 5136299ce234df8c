"""Jobs with hostile text in every field: refused, or the sets drawn of them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import cycle, islice
from typing import Any

import pytest

from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import BadJob
from shopdraw.job.reading import parse_job
from shopdraw.output.plot import Plot
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from tests.hostile import (
    CHOICES,
    KEPT,
    free_text,
    job_text,
    put,
    tables_of,
)

FIELDS = tuple(field for field in free_text() if field.key not in CHOICES)
REVISIONS = {"job.revision", "revision.mark"}
"""A folder is named for these: letters and digits alone."""
NOT_IN_A_SET = {"option.name"}
"""Lettered on the pages of the options alone."""


def refusals(tables: dict[str, Any]) -> tuple[str, ...]:
    with pytest.raises(BadJob) as caught:
        parse_job(job_text(tables), "den.toml")
    lines = caught.value.lines()
    for line in lines:
        assert line.isprintable()
        assert len(line) < 1_000
    return lines


def squeezed(text: str) -> str:
    """Leave out what lettering changes: capitals, and where lines are broken."""
    return re.sub(r"\s", "", text).casefold()


def sheets_of(drawn: DrawingSet) -> Iterator[Sheet]:
    yield from drawn.sheets
    for _, pages in drawn.papers:
        yield from pages


def lettered(drawn: DrawingSet) -> str:
    lines = (line.text for x in sheets_of(drawn) for line in Plot(x).letters)
    return squeezed("".join(lines))


def filled(texts: Iterable[str], *, gas: bool = False) -> dict[str, Any]:
    """Return tables with a text in each field, cut to fit, and a sign of its own."""
    tables = tables_of(gas=gas)
    for place, (field, text) in enumerate(zip(FIELDS, texts, strict=False)):
        sign = f"{chr(ord('a') + place // 10)}{place % 10}"
        cut = "R-" if field.key in REVISIONS else text[: field.most - 2]
        put(tables, field, f"{cut}{sign}")
    return tables


def typed(tables: dict[str, Any]) -> dict[str, str]:
    """Return what is typed in each field of a job's tables."""
    there = {}
    for field in FIELDS:
        place: Any = tables
        for name in field.keys:
            place = place.get(name, {}) if isinstance(place, dict) else place
            place = place[0] if isinstance(place, list) else place
        if isinstance(place, str) and field.key not in NOT_IN_A_SET:
            there[field.key] = place
    return there


def solved(tables: dict[str, Any]) -> Solution:
    return solve(parse_job(job_text(tables), "den.toml"))


def not_lettered(drawn: DrawingSet, texts: dict[str, str]) -> list[str]:
    """Return the fields whose text is on no sheet and no paper as it is typed."""
    there = lettered(drawn)
    return [key for key, text in texts.items() if squeezed(text) not in there]


@cache
def mixed() -> DrawingSet:
    """Return a set in which every field has another of the texts."""
    return build(solved(filled(islice(cycle(KEPT), len(FIELDS)))))
