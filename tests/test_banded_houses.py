"""Walls with bands and corbels out of the whole space of old houses; the rest is
measured: `python -m tests.bench bands`.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.banded_houses import bands_amiss, make_job, slivers, wrong_with
from tests.demos import solution_of
from tests.longer import mostly_long
from tests.old_houses import seeded

HERE = (15, 43, 59, 76, 167, 209)
"""Quick to lay; with every kind of band and four bonds."""
DRAWN = (15, 59, 76)
"""Of those, the ones that are drawn whole, all but the pictures."""


@pytest.mark.parametrize("number", mostly_long(HERE, 15))
def test_any_wall_with_bands_is_solved_proved_and_composed(number: int) -> None:
    refused, wrong = wrong_with(number, composed=True, drawn=number in DRAWN)
    assert not refused
    assert wrong == []


def test_bands_and_corbels_of_every_kind_are_among_those_here() -> None:
    jobs = [make_job(seeded(number))[1] for number in HERE]
    assert {band.kind for job in jobs for band in job.band} == {
        "soldier", "rowlock", "header",
    }  # fmt: skip
    assert len({job.bond.pattern for job in jobs}) == 4
    assert any(job.corbel for job in jobs)
    assert any(band.every for job in jobs for band in job.band)
    assert any(band.level for job in jobs for band in job.band)
    assert any(band.is_part for job in jobs for band in job.band)


def test_a_band_or_a_corbel_that_is_not_there_is_noticed() -> None:
    solution = solution_of("banded-breast")
    assert bands_amiss(solution) == []
    flat = tuple(replace(x, band=0) for x in solution.coursing.courses)
    coursing = replace(solution.coursing, courses=flat)
    amiss = bands_amiss(replace(solution, coursing=coursing))
    assert {said.split(" is ")[0] for said in amiss} == {"band 1", "band 2", "band 3"}
    out = tuple(replace(x, projection=0) for x in solution.coursing.courses)
    coursing = replace(solution.coursing, courses=out)
    assert bands_amiss(replace(solution, coursing=coursing)) == [
        "the corbel does not step out as asked"
    ]


def test_a_soldier_under_half_is_noticed() -> None:
    solution = solution_of("banded-breast")
    assert slivers(solution) == []
    at = next(i for i, x in enumerate(solution.layout.pieces) if x.kind == "soldier")
    pieces = list(solution.layout.pieces)
    pieces[at] = replace(pieces[at], length=solution.job.brick.height / 3)
    layout = replace(solution.layout, pieces=tuple(pieces))
    assert slivers(replace(solution, layout=layout)) != []
