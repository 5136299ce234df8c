"""Random soldier jobs laid and proved, and random widths filled by every row there is.

The suite holds the first few of each.
"""

from __future__ import annotations

import os
from multiprocessing import Pool

from tests.bench.timing import Row
from tests.masonry.heads.test_shares import kind_held
from tests.masonry.heads.test_soldier_jobs import hold_jobs

JOBS, WIDTHS, AT_ONCE = 400, 4000, 10


def attempt(task: tuple[str, int]) -> str:
    """Hold some jobs or widths from a seed on; return what is wrong."""
    what, first = task
    try:
        if what == "jobs":
            hold_jobs(first * 100, AT_ONCE)
        else:
            for seed in range(first, first + AT_ONCE):
                kind_held(seed)
    except Exception as wrong:
        return f"{what} from {first} on: {type(wrong).__name__}: {wrong}"
    return ""


def measure(jobs: int = JOBS, widths: int = WIDTHS) -> list[Row]:
    """Hold so many jobs and widths; print what is wrong, and return the count."""
    tasks = [("jobs", first) for first in range(0, jobs, AT_ONCE)]
    tasks += [("widths", first) for first in range(0, widths, AT_ONCE)]
    with Pool(len(os.sched_getaffinity(0)), maxtasksperchild=4) as pool:
        wrong = [said for said in pool.imap(attempt, tasks) if said]
    for said in wrong:
        print(said, flush=True)
    return [
        Row(f"{jobs} soldier jobs proved, {widths:,} widths filled by hand", ""),
        Row("  tens of them with something wrong", str(len(wrong)), asked="0"),
    ]
