"""The review of old work that comes off: what nobody looked at passes nothing."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from shopdraw.catalog.rules import load_rules
from shopdraw.job.model import Job
from shopdraw.review.stripping import review_stripping
from tests.findings import Name, by_key

MakeJob = Callable[..., Job]
Old = dict[str, Any]
BEHIND, PAINT, BOARD = "stripping-behind", "stripping-paint", "stripping-board"
TOLD = {"painted_sq_ft": 4, "asbestos": "looked at, none found"}


@pytest.fixture
def found(make_job: MakeJob) -> Callable[..., dict[Name, Any]]:
    """Review a job that has this old work, and that says this of its house."""

    def run(*old: Old, **house: Any) -> dict[Name, Any]:
        job = make_job(stripping={"old": list(old)}, house=house)
        return by_key(review_stripping(job, load_rules("in")))

    return run


def test_where_nothing_comes_off_there_is_nothing_to_look_for(
    found: Callable[..., dict[Name, Any]], make_job: MakeJob
) -> None:
    assert list(review_stripping(make_job(), load_rules("in"))) == []
    assert found() == {}


def test_what_is_behind_old_work_is_looked_for_first(
    found: Callable[..., dict[Name, Any]],
) -> None:
    seen = found({"kind": "tile", "name": "green tile"}, {"kind": "brick"})
    assert list(seen) == [BEHIND]
    behind = seen[BEHIND]
    assert behind.status == "not checked"
    assert "(green tile, brick)" in behind.says
    for word in ("gas and electric lines", "qualified person", "the throat"):
        assert word in behind.says


@pytest.mark.parametrize(
    ("kind", "key", "asks"),
    [
        ("paint", PAINT, "house.painted_sq_ft"),
        ("board", BOARD, "house.asbestos"),
        ("other", BOARD, "house.asbestos"),
    ],
)
def test_paint_and_board_are_asked_about_until_it_is_told(
    found: Callable[..., dict[Name, Any]], kind: str, key: str, asks: str
) -> None:
    old = {"kind": kind, "name": "what is there"}
    seen = found(old)
    assert list(seen) == [BEHIND, key]
    assert (seen[key].status, seen[key].keys) == ("not checked", (asks,))
    # Told, it is asked no more, and what is behind it still is.
    assert list(found(old, **TOLD)) == [BEHIND]


def test_every_board_that_is_not_known_is_named(
    found: Callable[..., dict[Name, Any]],
) -> None:
    seen = found(
        {"kind": "board", "name": "grey board"}, {"kind": "other", "name": "felt"}
    )
    assert seen[BOARD].says.startswith("grey board and felt: ")
    assert "leave it alone" in seen[BOARD].says
