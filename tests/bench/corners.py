"""Two hundred old houses with corners that are not square, a hundred with inside ones.

All are held; one in twenty is drawn.
"""

from __future__ import annotations

import os
import time
from multiprocessing import Pool

from tests.aslant_corners import make_aslant, make_inside, wrong_in
from tests.bench.timing import Row

JOBS, INSIDE, DRAW_EVERY = 200, 100, 20


def attempt(which: tuple[str, int]) -> list[str]:
    """Return what is wrong with a job, in words even where it breaks off."""
    kind, number = which
    make = make_inside if kind == "inside" else make_aslant
    try:
        return wrong_in(number, to_draw=not number % DRAW_EVERY, make=make)
    except Exception as error:
        return [f"broken off: {type(error).__name__}: {error}"]


def measure(jobs: int = JOBS, inside: int = INSIDE) -> list[Row]:
    """Hold so many jobs; print what is wrong, and return the count."""
    rows = _held("aslant", "corners that are not square", jobs)
    return [*rows, *_held("inside", "inside corners", inside)]


def _held(kind: str, what: str, jobs: int) -> list[Row]:
    start, wrong, refused = time.perf_counter(), 0, 0
    asked = [(kind, number) for number in range(jobs)]
    with Pool(len(os.sched_getaffinity(0)), maxtasksperchild=20) as pool:
        for (_, number), said in zip(asked, pool.imap(attempt, asked), strict=True):
            wrong += len(said)
            refused += any("NotProved" in line for line in said)
            for line in said:
                print(f"job {number}, {kind}: {line}", flush=True)
    took = time.perf_counter() - start
    drawn = len(range(0, jobs, DRAW_EVERY))
    return [
        Row(f"{jobs} old houses with {what}, {drawn} drawn", f"{took:.0f} s"),
        Row("  refused by the proof", str(refused), asked="0"),
        Row("  not reported, not clear, not counted alike", str(wrong), asked="0"),
    ]
