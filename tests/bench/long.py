"""Tests that the suite leaves out for their time: more cases of what it holds."""

from __future__ import annotations

import os
import subprocess
import sys
import time

from tests.bench.timing import ROOT, Row


def measure() -> list[Row]:
    """Run them all, and say how pytest ends."""
    cores = len(os.sched_getaffinity(0))
    words = ("-m", "pytest", "-q", "-m", "long", "-n", str(cores))
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, *words], capture_output=True, check=False, cwd=ROOT, text=True
    )
    if done.returncode:
        print(done.stdout, flush=True)
    said = done.stdout.strip().splitlines()[-1].strip("= ")
    took = time.perf_counter() - start
    return [Row(f"{said} ({took:.0f} s)", str(done.returncode), asked="0")]
