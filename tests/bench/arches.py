"""Two hundred random arches, solved and proved, each held by hand."""

from __future__ import annotations

import os
import time
from multiprocessing import Pool

from tests.bench.timing import Row
from tests.old_houses import seeded
from tests.random_arches import make_arch, wrong_with

JOBS = 200


def attempt(seed: int) -> list[str]:
    """Return what is wrong with one arch, in words even where it breaks off."""
    try:
        return wrong_with(make_arch(seeded(seed))[1])
    except Exception as error:
        return [f"broken off: {type(error).__name__}: {error}"]


def measure(jobs: int = JOBS) -> list[Row]:
    """Hold so many arches; print what is wrong, and return the counts."""
    start, wrong, refused = time.perf_counter(), 0, 0
    with Pool(len(os.sched_getaffinity(0)), maxtasksperchild=50) as pool:
        for seed, said in enumerate(pool.imap(attempt, range(jobs))):
            wrong += len(said)
            refused += any(line.startswith("refused") for line in said)
            for line in said:
                print(f"arch {seed}: {line}", flush=True)
    took = time.perf_counter() - start
    return [
        Row(f"{jobs} random arches", f"{took:.0f} s"),
        Row("  refused by the internal proof", str(refused), asked="0"),
        Row(
            "  not as asked, not as reckoned by hand, not reported",
            str(wrong),
            asked="0",
        ),
    ]
