"""Damaged job files: a job, or our own words; never a traceback.

The benchmark goes on to solve what can be read: `python -m tests.bench --mutate`.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from shopdraw.errors import ShopdrawError
from shopdraw.job.reading import parse_job, read_job
from tests.demos import CONFIGS
from tests.mutating import damaged

TEXTS = [path.read_text("utf-8") for path in sorted(CONFIGS.glob("*.toml"))]
TRIES, SHARES = 2000, 8


@pytest.mark.parametrize("share", range(SHARES))
def test_a_damaged_job_file_is_read_or_refused_in_words(
    share: int, tmp_path: Path
) -> None:
    path = tmp_path / "job.toml"
    refused = 0
    for number in range(share, TRIES, SHARES):
        data = damaged(TEXTS[number % len(TEXTS)], random.Random(number))
        path.write_bytes(data)
        try:
            read_job(path)
        except ShopdrawError as error:
            refused += 1
            assert error.lines()
            for line in error.lines():
                assert "\n" not in line
                assert len(line) < 1_000
    assert refused > TRIES // SHARES // 2


def test_what_is_not_damaged_is_read() -> None:
    for text in TEXTS:
        assert parse_job(text, "job.toml").job.name
