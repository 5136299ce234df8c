"""Damaged job files: solved, or refused in our own words; never a traceback.

A hundred and twenty here; twenty thousand, drawn too: `python -m tests.bench damage`.
"""

from __future__ import annotations

import random

import click
import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from shopdraw.cli import main
from shopdraw.job.reading import parse_job
from tests.demos import CONFIGS
from tests.hostile import JOB
from tests.mutating import broken, damaged

TEXTS = [path.read_text("utf-8") for path in sorted(CONFIGS.glob("*.toml"))]
TRIES, SHARES = 120, 2
DRAWN = 1
"""So many of a share are drawn: all of a set is composed, one paper of it written."""


@pytest.mark.parametrize("share", range(SHARES))
def test_a_damaged_job_file_is_solved_or_refused_in_words(share: int) -> None:
    """One in sixteen is a demo's, the others a small job's with every table."""
    codes = []
    to_draw = DRAWN

    @seed(share)
    @settings(
        max_examples=TRIES // SHARES,
        deadline=None,
        database=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(st.integers(0, 10**9))
    def holds(number: int) -> None:
        nonlocal to_draw
        text = TEXTS[number // 16 % len(TEXTS)] if number % 16 == 0 else JOB
        data = damaged(text, random.Random(number))
        code, wrong = broken(data, "check")
        assert wrong == "", data
        codes.append(code)
        if code < 2 and to_draw:
            picked = ("--workers", "1", "--sheets", "story-pole")
            drawn, wrong = broken(data, "draw", *picked)
            # Paper may be too small for what is found: that is refused in words.
            assert (drawn in (code, 2), wrong) == (True, ""), data
            to_draw -= drawn == code

    holds()
    assert codes.count(2) > len(codes) // 2
    assert to_draw < DRAWN


@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda x: x.encode()))
@settings(max_examples=200, deadline=None, database=None)
def test_any_bytes_are_refused_in_words(data: bytes) -> None:
    assert broken(data, "check") == (2, "")


def test_what_is_not_damaged_is_read() -> None:
    for text in (*TEXTS, JOB):
        assert parse_job(text, "job.toml").job.name


@pytest.mark.parametrize(
    ("ends", "said"),
    [
        (ValueError("no such"), "ValueError: no such"),
        (SystemExit(3), "exit code 3"),
        (SystemExit(2), "exit code 2, faults []"),
    ],
)
def test_a_command_that_ends_badly_is_noticed(
    monkeypatch: pytest.MonkeyPatch, ends: BaseException, said: str
) -> None:
    @click.command(context_settings={"ignore_unknown_options": True})
    @click.argument("_words", nargs=-1)
    def check(_words: tuple[str, ...]) -> None:
        raise ends

    monkeypatch.setitem(main.commands, "check", check)
    assert said in broken(TEXTS[0].encode(), "check")[1]


def test_a_stray_file_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    @click.command()
    @click.argument("job", type=click.Path())
    def check(job: str) -> None:
        with open(f"{job}.bak", "w") as file:  # noqa: PTH123
            file.write("stray")

    monkeypatch.setitem(main.commands, "check", check)
    assert "job.toml.bak" in broken(TEXTS[0].encode(), "check")[1]
