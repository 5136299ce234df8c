"""Time `check` and `draw` of each demo as whole processes: `python -m tests.bench`.

Prints a table of medians; nothing passes or fails here. `--full` draws all five hundred
old houses instead, reads them back, and says how many did and how long it took.
`--mutate` damages job files, and says what is neither drawn nor refused in words.
`--render` draws each demo's set and has ezdxf's own drawing add-on render the same
sheets to PNG, and prints both and their ratio: on one core, and the set on two.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

CONFIGS = Path(__file__).resolve().parent.parent / "configs"
RUNS = 5
OLD_HOUSES = 500
TRIES, SLOW = 20_000, 5.0


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


def draw_old_houses(count: int) -> None:
    """Draw so many jobs from the whole space of old houses, each read back."""
    from shopdraw.errors import ShopdrawError
    from shopdraw.output.write import make_files, prove_files
    from shopdraw.pipeline import build, solve
    from tests.old_houses import make_job, seeded

    start, drawn, times = time.perf_counter(), 0, []
    for number in range(count):
        _, job = make_job(seeded(number))
        began = time.perf_counter()
        try:
            drawing_set = build(solve(job))
            prove_files(drawing_set, make_files(drawing_set))
        except ShopdrawError as error:
            print(f"job {number}: {error.lines()[0]}")
            continue
        drawn += 1
        times.append(time.perf_counter() - began)
    whole = time.perf_counter() - start
    print(f"{drawn} of {count} drawn and read back in {whole:.0f} s;", end=" ")
    print(f"median {statistics.median(times):.2f} s, most {max(times):.2f} s")


def compare_with_renderer() -> None:
    """Time whole sets, on one core and on two, against a general renderer on one."""
    cores = sorted(os.sched_getaffinity(0))[:2]
    print(
        f"{'demo':24} {'sheets':>6} {'set':>6} {'on two':>7} {'add-on':>7} "
        f"{'ratio':>6} {'on two':>7}   seconds"
    )
    with tempfile.TemporaryDirectory() as out:
        for job in sorted(CONFIGS.glob("*.toml")):
            draw = ("-m", "shopdraw", "draw", str(job), "--out", out)
            os.sched_setaffinity(0, cores)
            two = medians(*draw)[1]
            os.sched_setaffinity(0, cores[:1])
            one = medians(*draw)[1]
            sheets = sorted((Path(out) / job.stem / "sheets").glob("*.dxf"))
            add_on = seconds("-m", "tests.render", *(str(sheet) for sheet in sheets))
            print(
                f"{job.stem:24} {len(sheets):6} {one:6.2f} {two:7.2f} {add_on:7.2f} "
                f"{one / add_on:6.2f} {two / add_on:7.2f}"
            )


def damage_job_files(tries: int) -> None:
    """Damage job files, and read, solve and compose whatever still can be."""
    import random
    from collections import Counter

    from shopdraw.errors import ShopdrawError
    from shopdraw.job.reading import parse_job
    from shopdraw.pipeline import build, solve
    from tests.mutating import damaged

    texts = [path.read_text("utf-8") for path in sorted(CONFIGS.glob("*.toml"))]
    ended: Counter[str] = Counter()
    for number in range(tries):
        data = damaged(texts[number % len(texts)], random.Random(number))
        began = time.perf_counter()
        try:
            build(solve(parse_job(data.decode(), "job.toml")))
            ended["drawn"] += 1
        except (ShopdrawError, UnicodeDecodeError):
            ended["refused"] += 1
        except Exception as error:
            ended["broken"] += 1
            print(f"try {number}: {type(error).__name__}: {error}")
        if time.perf_counter() - began > SLOW:
            ended["slow"] += 1
            print(f"try {number}: {time.perf_counter() - began:.1f} s")
    print(", ".join(f"{count} {how}" for how, count in ended.items()))


def main() -> None:
    """Print the table."""
    if "--mutate" in sys.argv[1:]:
        damage_job_files(TRIES)
        return
    if "--full" in sys.argv[1:]:
        draw_old_houses(OLD_HOUSES)
        return
    if "--render" in sys.argv[1:]:
        compare_with_renderer()
        return
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
