"""Two hundred old houses with corners that are not square: held; ten drawn."""

from __future__ import annotations

import os
import time
from multiprocessing import Pool

from tests.aslant_corners import wrong_in
from tests.bench.timing import Row

JOBS, DRAW_EVERY = 200, 20


def attempt(number: int) -> list[str]:
    """Return what is wrong with a job, in words even where it breaks off."""
    try:
        return wrong_in(number, to_draw=not number % DRAW_EVERY)
    except Exception as error:
        return [f"broken off: {type(error).__name__}: {error}"]


def measure(jobs: int = JOBS) -> list[Row]:
    """Hold so many jobs; print what is wrong, and return the count."""
    start, wrong, refused = time.perf_counter(), 0, 0
    with Pool(len(os.sched_getaffinity(0)), maxtasksperchild=20) as pool:
        for number, said in enumerate(pool.imap(attempt, range(jobs))):
            wrong += len(said)
            refused += any("NotProved" in line for line in said)
            for line in said:
                print(f"job {number}: {line}", flush=True)
    took = time.perf_counter() - start
    drawn = len(range(0, jobs, DRAW_EVERY))
    return [
        Row(
            f"{jobs} old houses with corners that are not square, {drawn} drawn",
            f"{took:.0f} s",
        ),
        Row("  refused by the proof", str(refused), asked="0"),
        Row("  not reported, not clear, not counted alike", str(wrong), asked="0"),
    ]
