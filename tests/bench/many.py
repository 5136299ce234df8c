"""Two hundred jobs drawn at once: one process against one a core, the same bytes."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.timing import ROOT, Row
from tests.old_houses import make_job, seeded

JOBS = 200


def digests(folder: Path) -> dict[str, str]:
    """Return the SHA-256 of every file by its place in a folder."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(
            path.read_bytes()
        ).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def draw(jobs: list[Path], out: Path, workers: int) -> tuple[float, int, str]:
    """Draw jobs; return the seconds, the exit code and the last line of the summary."""
    words = ["-m", "shopdraw", "draw", *jobs, "--out", out, "--workers", str(workers)]
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, *words], capture_output=True, text=True, check=False, cwd=ROOT
    )
    return time.perf_counter() - start, done.returncode, done.stdout.splitlines()[-1]


def measure() -> list[Row]:
    """Draw two hundred random jobs and one that can't be, twice."""
    cores = len(os.sched_getaffinity(0))
    with tempfile.TemporaryDirectory() as folder:
        jobs = []
        for number in range(JOBS):
            jobs.append(Path(folder) / f"job-{number:03d}.toml")
            jobs[-1].write_text(make_job(seeded(number))[0], encoding="utf-8")
        broken = Path(folder) / "broken.toml"
        broken.write_text("[job]\n", encoding="utf-8")
        jobs.insert(JOBS // 2, broken)
        one, code, said = draw(jobs, Path(folder) / "one", 1)
        more, code_too, said_too = draw(jobs, Path(folder) / "more", cores)
        alike = digests(Path(folder) / "one") == digests(Path(folder) / "more")
    summary = said.partition(": ")[2]
    same = code == code_too and summary == said_too.partition(": ")[2] and alike
    return [
        Row(
            f"{JOBS} jobs and a broken one, {cores} workers against 1",
            f"{more:.0f} s",
            f"{one:.0f} s",
            f"{more / one:.2f}",
            f"near {1 / cores:.2f}",
        ),
        Row(
            "  the same bytes, summary and exit code",
            "yes" if same else "NO",
            asked="yes",
        ),
        Row(f"  exit code {code}: {summary}", "", asked="exit code 2"),
    ]
