"""Small walls of every bond against the brute force: runs and fronts of every kind.

The suite holds the first few of each.
"""

from __future__ import annotations

import os
import random
from multiprocessing import Pool

from tests.bench.timing import Row
from tests.masonry.bonding.brute_force import BONDS
from tests.masonry.bonding.test_against_brute_force import (
    compare_fronts,
    compare_runs,
    inside_of,
)
from tests.masonry.bonding.test_unlike import SMALL_ENOUGH, compare, front_of
from tests.masonry.ends import compared

RUNS, FRONTS, UNLIKE, ENDS = 60, 12, 6, 10
"""How many a bond."""


def attempt(task: tuple[str, str, int]) -> str:
    """Hold one bond's runs or fronts, or one wall of others; return what is wrong."""
    what, name, number = task
    try:
        if what == "runs":
            compare_runs(name, number)
        elif what == "inside":
            compare_runs(name, number, inside_of)
        elif what == "fronts":
            compare_fronts(name, number)
        elif what in compared.MAKERS:
            compared.compare(what, name, number)
        else:
            compare(front_of(random.Random(f"{name} {number}"), name), name)
    except Exception as wrong:
        return f"{what}, {name}, {number}: {type(wrong).__name__}: {wrong}"
    return ""


def measure(
    runs: int = RUNS, fronts: int = FRONTS, unlike: int = UNLIKE, ends: int = ENDS
) -> list[Row]:
    """Hold so many of each bond; print what is wrong, and return the count."""
    tasks = [("runs", name, runs) for name in BONDS]
    tasks += [("inside", name, runs) for name in BONDS if name != "stack"]
    tasks += [("fronts", name, fronts) for name in BONDS]
    tasks += [
        ("unlike", name, seed) for name in SMALL_ENOUGH for seed in range(1, unlike + 1)
    ]
    tasks += [
        (what, name, seed)
        for what in compared.MAKERS
        for name in BONDS
        for seed in range(ends)
    ]
    with Pool(len(os.sched_getaffinity(0))) as pool:
        wrong = [said for said in pool.imap(attempt, tasks) if said]
    for said in wrong:
        print(said, flush=True)
    each = f"2 x {runs} runs, {fronts} mirrored and {unlike} unlike fronts"
    odd = f"{ends} each of {', '.join(compared.MAKERS).replace('_', ' ')}"
    return [
        Row(f"{len(BONDS)} bonds, {each} each, {odd}, against the brute force", ""),
        Row("  answered otherwise", str(len(wrong)), asked="0"),
    ]
