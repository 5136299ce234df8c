"""Time commands, and lay what was measured out as rows of one table."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

ROOT = Path(__file__).resolve().parent.parent.parent
JOBS = tuple(sorted((ROOT / "configs").glob("*.toml")))
RUNS = 5


@dataclass(frozen=True)
class Row:
    """One measurement: ours, what it is held against, and what is asked of them."""

    what: str
    ours: str
    against: str = ""
    ratio: str = ""
    asked: str = ""


HEADINGS = Row("what", "ours", "against", "ratio", "asked")


def table(rows: list[Row]) -> str:
    """Return rows as a table in Markdown."""
    lines = [tuple(vars(row).values()) for row in (HEADINGS, *rows)]
    widths = [max(len(cell) for cell in column) for column in zip(*lines, strict=True)]
    lines.insert(1, tuple("-" * width for width in widths))
    return "\n".join(
        "| "
        + " | ".join(cell.ljust(w) for cell, w in zip(line, widths, strict=True))
        + " |"
        for line in lines
    )


def seconds(*words: str) -> float:
    """Return how long one run of Python takes, from start to exit."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *words], capture_output=True, check=False, cwd=ROOT)
    return time.perf_counter() - start


def median_seconds(*words: str, runs: int = RUNS) -> float:
    """Return the median of several runs, after one that is not counted."""
    seconds(*words)
    return statistics.median(seconds(*words) for _ in range(runs))


@contextmanager
def on_cores(count: int) -> Iterator[None]:
    """Keep this process, and those it starts, on so many cores."""
    before = os.sched_getaffinity(0)
    os.sched_setaffinity(0, sorted(before)[:count])
    try:
        yield
    finally:
        os.sched_setaffinity(0, before)


@contextmanager
def compiled_once(folder: Path) -> Iterator[None]:
    """Keep compiled modules, as an installed program has them, whatever is set here."""
    with patch.dict(os.environ, PYTHONPYCACHEPREFIX=str(folder)):
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        yield
