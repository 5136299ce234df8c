"""Small walls of every bond against the brute force: runs and fronts of every sort.

The suite holds the first few of each. A part is some walls of one sort and bond.
"""

from __future__ import annotations

import os
import random
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from multiprocessing import Pool

from tests.bench.timing import Row
from tests.masonry.bonding.brute_force import BONDS
from tests.masonry.bonding.test_against_brute_force import (
    compare_fronts,
    compare_runs,
    inside_of,
    narrow_return_of,
    wall_of,
)
from tests.masonry.bonding.test_unlike import SMALL_ENOUGH, compare, front_of
from tests.masonry.ends import compared

COUNTS = {
    "runs": 20,
    "inside": 20,
    "narrow": 20,
    "fronts": 3,
    "unlike": 3,
    **dict.fromkeys(compared.MAKERS, 4),
    "turned_unlike": 0,
}
"""How many walls a bond, of each sort: about seven minutes on one core in all.

Unlike fronts whose jambs turn in are the suite's alone, picked for it: others take the
brute force minutes each.
"""
RUN_MAKERS = {"runs": wall_of, "inside": inside_of, "narrow": narrow_return_of}
TOO_MANY = {"inside": {"stack"}, "unlike": {*BONDS} - {*SMALL_ENOUGH}}
TOO_MANY |= compared.TOO_MANY
"""The bonds in which a sort has too many ways to go through, or makes no sense."""


@dataclass(frozen=True)
class Task:
    """What is held at once: some walls of one sort and bond, from a number on."""

    sort: str
    bond: str
    first: int
    walls: int


def tasks(counts: Mapping[str, int]) -> Iterator[Task]:
    """Yield what is held, sort by sort; each wall by itself where it has a number."""
    for sort, walls in counts.items():
        for name in BONDS:
            if name in TOO_MANY.get(sort, ()) or not walls:
                continue
            if sort in RUN_MAKERS or sort == "fronts":
                yield Task(sort, name, 0, walls)
            else:
                yield from (Task(sort, name, at, 1) for at in range(1, walls + 1))


def attempt(task: Task) -> tuple[Task, str, float]:
    """Hold some walls; return what is wrong, and the processor time in seconds."""
    start, name, said = time.process_time(), task.bond, ""
    try:
        if task.sort in RUN_MAKERS:
            compare_runs(name, task.walls, RUN_MAKERS[task.sort])
        elif task.sort == "fronts":
            compare_fronts(name, task.walls)
        elif task.sort == "unlike":
            compare(front_of(random.Random(f"{name} {task.first}"), name), name)
        else:
            compared.compare(task.sort, name, task.first)
    except Exception as wrong:
        said = f"{type(wrong).__name__}: {wrong}"
    return task, said, time.process_time() - start


def measure(counts: Mapping[str, int] = COUNTS) -> list[Row]:
    """Hold so many of each bond; print each part as it ends, and what is wrong."""
    walls, wrong, took = Counter[str](), Counter[str](), Counter[str]()
    with Pool(len(os.sched_getaffinity(0))) as pool:
        for task, said, seconds in pool.imap(attempt, tasks(counts)):
            walls[task.sort] += task.walls
            wrong[task.sort] += bool(said)
            took[task.sort] += seconds
            which = f"{task.sort}, {task.bond}, {task.walls} from {task.first}"
            print(f"{which}: {said or 'the same'}, {seconds:.1f} s", flush=True)
    return [
        Row(
            f"{sort.replace('_', ' ')}: {walls[sort]} walls, processor time "
            f"{took[sort]:.0f} s; parts with one answered otherwise",
            str(wrong[sort]),
            asked="0",
        )
        for sort in walls
    ]
