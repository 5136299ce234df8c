"""`watch` in a warm process: from a save to the new elevation, beyond solving the job.

CPU time of what is done at a save but solving, the least of several; and, by the wall
clock of this machine, from the save until somebody who waits is answered.
"""

from __future__ import annotations

import statistics
import tempfile
from http.client import HTTPConnection
from pathlib import Path
from threading import Thread
from time import perf_counter, process_time, sleep

from shopdraw.cli.watching import follow, pages_of
from shopdraw.job.reading import read_job
from shopdraw.output.follow import DRAWN, Followed, write_follow
from shopdraw.pipeline import look, solve
from shopdraw.serving.server import HERE, Shown, served
from tests.bench.timing import JOBS, Row

ASKED = 0.25
TURNS = 3
SAVES = 5


def measure(jobs: tuple[Path, ...] = JOBS, turns: int = TURNS) -> list[Row]:
    """Take the time of each job's elevation and of what is told beside it."""
    rows = [_row(job, turns) for job in jobs]
    return [*rows, *(_followed(job) for job in jobs[:: len(jobs) // 2])]


def _row(job: Path, turns: int) -> Row:
    took = [_once(job) for _ in range(turns)]
    solving, rest = (min(each) for each in zip(*took, strict=True))
    return Row(
        f"{job.stem}: a save's elevation beyond solving, CPU time; solving",
        f"{rest:.3f} s",
        f"{solving:.3f} s",
        f"{rest / solving:.2f}",
        f"{ASKED:.2f} s",
    )


def _once(path: Path) -> tuple[float, float]:
    """Return the CPU time of solving, and of all else that is done at a save."""
    begun = process_time()
    job = read_job(path)
    read = process_time()
    solution = solve(job)
    solved = process_time()
    write_follow(Followed(path.name, look(solution)), "1")
    return solved - read, process_time() - solved + read - begun


def _followed(job: Path) -> Row:
    """Save a copy several times, and wait as a browser does until it is answered."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "den.toml"
        text = job.read_text()
        copy.write_text(text)
        shown = Shown()
        shown.put(lambda number: {"/": number.encode()})

        def go_on() -> None:
            for state in follow(copy):
                shown.put(pages_of(*state))

        with served(shown) as address:
            Thread(target=go_on, daemon=True).start()
            port = int(address.rpartition(":")[2].strip("/"))
            while DRAWN.encode() not in (page := _ask(port, "/")):
                sleep(0.05)
            took = []
            for number in range(SAVES):
                before = page.partition(b'data-number="')[2].partition(b'"')[0].decode()
                copy.write_text(f"{text}\n# {number}\n")
                begun = perf_counter()
                page = _ask(port, f"/next?after={before}")
                took.append(perf_counter() - begun)
    begun = perf_counter()
    solve(read_job(job))
    solving = perf_counter() - begun
    middle = statistics.median(took)
    return Row(
        f"{job.stem}: from save to answer, wall clock, median of {SAVES}; solving once",
        f"{middle:.2f} s",
        f"{solving:.2f} s",
        "",
        f"{solving + ASKED:.2f} s",
    )


def _ask(port: int, path: str) -> bytes:
    line = HTTPConnection(HERE, port, timeout=60)
    try:
        line.request("GET", path)
        return line.getresponse().read()
    finally:
        line.close()
