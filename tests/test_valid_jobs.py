"""Valid jobs with tables left out, ordinary and extreme: solved, and some drawn whole.

Of some that take three seconds each the suite draws twelve whole, with every optional
table in one of them at least; the benchmark draws two thousand (`tests.bench.valid`).
"""

from __future__ import annotations

import tomllib

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.reading import parse_job
from tests.bench.valid import attempt
from tests.valid_jobs import OFTEN, SELDOM, tables_missing, valid_job, valid_tables

DRAWN = (20, 36, 98, 104, 111, 114, 119, 124, 125, 127, 135, 141)


@pytest.mark.usefixtures("coarse")
@pytest.mark.parametrize("seed", DRAWN)
def test_a_valid_job_is_drawn_and_read_back(seed: int) -> None:
    ended, said, _ = attempt(seed, is_small=True)
    assert ended == "drawn", said


def test_every_table_is_drawn() -> None:
    # As it is written: what makes no sense beside other tables was left out of it.
    texts = [valid_job(seed, is_small=True) for seed in DRAWN]
    drawn = {name for text in texts for name in tomllib.loads(text)}
    assert {*OFTEN, *SELDOM} - drawn == set()


def test_a_refusal_is_in_words_on_a_key() -> None:
    for seed in range(40):
        text = valid_job(seed)
        try:
            parse_job(text, "job.toml")
        except BadJob as error:
            for fault in error.faults:
                assert fault.key, fault
                assert fault.wanted, fault


def test_every_table_is_there_in_some_jobs_and_left_out_in_others() -> None:
    assert tables_missing() == set()
    jobs = [valid_tables(seed) for seed in range(200)]
    for name in {**OFTEN, **SELDOM}:
        assert 0 < sum(name in tables for tables in jobs) < len(jobs), name


def test_a_job_is_the_same_each_time_it_is_made() -> None:
    assert valid_job(7) == valid_job(7) != valid_job(8)


def test_an_end_that_is_no_refusal_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("tests.bench.valid.solve", broken)
    ended, said, _ = attempt(0, is_small=True)
    assert ended == "broke"
    assert "ZeroDivisionError" in said
