"""Two hundred random walls with bands and corbels, solved, proved and counted."""

from __future__ import annotations

import os
import time
from multiprocessing import Pool

from tests.banded_houses import wrong_with
from tests.bench.timing import Row

JOBS = 200


def attempt(number: int) -> tuple[int, str, list[str]]:
    """Return what is wrong with a wall, in words even where it breaks off."""
    try:
        refused, wrong = wrong_with(number)
    except Exception as error:
        return number, "", [f"broken off: {type(error).__name__}: {error}"]
    return number, refused, wrong


def measure(jobs: int = JOBS) -> list[Row]:
    """Hold so many walls; print what is wrong, and return the counts."""
    start, wrong, refused = time.perf_counter(), 0, 0
    with Pool(len(os.sched_getaffinity(0)), maxtasksperchild=10) as pool:
        for number, no_way, said in pool.imap(attempt, range(jobs)):
            wrong, refused = wrong + len(said), refused + bool(no_way)
            for line in said:
                print(f"wall {number}: {line}", flush=True)
    took = time.perf_counter() - start
    return [
        Row(f"{jobs} walls with bands and corbels", f"{took:.0f} s"),
        Row("  of these refused in words, because a band can't be there", str(refused)),
        Row(
            "  refused by the proof, slivers passed, not counted alike",
            str(wrong),
            asked="0",
        ),
    ]
