"""Damaged job files: drawn, or refused in words; never a traceback or a hang."""

from __future__ import annotations

import os
import random
import time
from collections import Counter
from multiprocessing import Pool

from shopdraw.errors import ShopdrawError
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import build, solve
from tests.bench.timing import JOBS, Row
from tests.mutating import damaged

TRIES, SLOW = 20_000, 5.0
TEXTS = tuple(path.read_text("utf-8") for path in JOBS)


def attempt(number: int) -> tuple[str, float, str]:
    """Damage one job file and take it as far as it goes; say how it ended."""
    data = damaged(TEXTS[number % len(TEXTS)], random.Random(number))
    began, said = time.process_time(), ""
    try:
        build(solve(parse_job(data.decode(), "job.toml")))
        ended = "drawn"
    except (ShopdrawError, UnicodeDecodeError):
        ended = "refused"
    except Exception as error:
        ended, said = "broken", f"{type(error).__name__}: {error}"
    return ended, time.process_time() - began, said


def measure(tries: int = TRIES, first: int = 0) -> list[Row]:
    """Damage job files; print each that is broken or slow, and return the counts."""
    ended: Counter[str] = Counter()
    most = 0.0
    with Pool(len(os.sched_getaffinity(0))) as pool:
        found = pool.imap(attempt, range(first, first + tries), chunksize=20)
        for number, (how, took, said) in enumerate(found, first):
            ended[how] += 1
            most = max(most, took)
            if how == "broken" or took > SLOW:
                print(f"try {number}: {how} in {took:.1f} s: {said}", flush=True)
    counts = ", ".join(f"{ended[how]:,} {how}" for how in ("drawn", "refused"))
    return [
        Row(f"{tries:,} damaged job files", counts),
        Row("  tracebacks", str(ended["broken"]), asked="0"),
        Row("  the slowest", f"{most:.1f} s of work", asked="5 s"),
    ]
