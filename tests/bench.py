"""Time `check` and `draw` of each demo as whole processes: `python -m tests.bench`.

Prints a table of medians; nothing passes or fails here.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

CONFIGS = Path(__file__).resolve().parent.parent / "configs"
RUNS = 5


def seconds(*words: str) -> float:
    """Return how long one command takes, from start to exit."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *words], capture_output=True, check=False)
    return time.perf_counter() - start


def medians(*words: str) -> tuple[float, float, float]:
    """Return the least, the median and the most of several runs."""
    seconds(*words)
    runs = [seconds(*words) for _ in range(RUNS)]
    return min(runs), statistics.median(runs), max(runs)


def main() -> None:
    """Print the table."""
    print(f"{'command':44} {'least':>7} {'median':>7} {'most':>7}   seconds")
    rows = [
        ("python, nothing", ("-c", "pass")),
        ("--help", ("-m", "shopdraw", "--help")),
    ]
    with tempfile.TemporaryDirectory() as out:
        for job in sorted(CONFIGS.glob("*.toml")):
            rows.append((f"check {job.name}", ("-m", "shopdraw", "check", str(job))))
            draw = ("-m", "shopdraw", "draw", str(job), "--out", out)
            rows.append((f"draw {job.name}", draw))
        for name, words in rows:
            least, median, most = medians(*words)
            print(f"{name:44} {least:7.2f} {median:7.2f} {most:7.2f}")


if __name__ == "__main__":
    main()
