"""`check` of each demo against a process that only imports its libraries, in CPU time.

Programs take turns, and the least of each is taken: what else the machine does can only
add to it.
"""

from __future__ import annotations

import resource
import tempfile
from pathlib import Path

from tests.bench.floor import Program, floor, loaded_by, prove_runs
from tests.bench.timing import JOBS, Row, compiled_once, on_cores, seconds

ASKED = 2.5
TURNS = 3


def measure(jobs: tuple[Path, ...] = JOBS, turns: int = TURNS) -> list[Row]:
    """Take the CPU time of `check` of each job, and of its imports alone."""
    with tempfile.TemporaryDirectory() as made, compiled_once(Path(made) / "compiled"):
        return [_row(job, Path(made), turns) for job in jobs]


def _row(job: Path, folder: Path, turns: int) -> Row:
    words = ("check", str(job))
    check = Program(("-m", "shopdraw", *words), exit_codes=(0, 1))
    imports = floor("imports", {"imports": loaded_by(words, folder)}, folder)
    prove_runs(check)
    prove_runs(imports)
    took = [(cpu_seconds(check), cpu_seconds(imports)) for _ in range(turns)]
    ours, theirs = map(min, zip(*took, strict=True))
    return Row(
        f"{job.stem}, check, CPU time; its imports alone",
        f"{ours:.2f} s",
        f"{theirs:.2f} s",
        f"{ours / theirs:.2f}",
        f"{ASKED:.2f}",
    )


def cpu_seconds(program: Program) -> float:
    """Return the CPU time of one run of a program on one core."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    with on_cores(program.cores):
        seconds(*program.words)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
