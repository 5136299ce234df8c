"""Five hundred old houses, solved, proved and composed; twenty drawn and read."""

from __future__ import annotations

import os
import tempfile
import time
from functools import partial
from multiprocessing import Pool
from pathlib import Path

from tests.bench.timing import Row
from tests.old_houses_held import DRAWN, JOBS, SHARES, wrong_in
from tests.output.readers import install_npm, npm_folder


def attempt(share: int, npm: Path | None) -> list[str]:
    """Return what is wrong with a share, in words even where it breaks off."""
    try:
        return wrong_in(share, npm)
    except Exception as error:
        return [f"broken off: {type(error).__name__}: {error}"]


def measure(shares: int = SHARES) -> list[Row]:
    """Hold so many shares; print what is wrong, and return the count."""
    start, wrong = time.perf_counter(), 0
    with tempfile.TemporaryDirectory() as kept:
        folder = npm_folder(None, Path(kept))
        why_not = install_npm(folder)
        task = partial(attempt, npm=None if why_not else folder)
        # A process is not kept for long: what is kept of its jobs would add up.
        with Pool(len(os.sched_getaffinity(0)), maxtasksperchild=1) as pool:
            for share, said in enumerate(pool.imap(task, range(shares))):
                wrong += len(said)
                for line in said:
                    print(f"share {share}: {line}", flush=True)
    jobs, drawn = JOBS // SHARES * shares, min(shares, DRAWN)
    took = time.perf_counter() - start
    readers = "every reader" if not why_not else f"every reader but npm's: {why_not}"
    return [
        Row(f"{jobs} old houses, {drawn} drawn for {readers}", f"{took:.0f} s"),
        Row("  not reported, not clear, not counted alike", str(wrong), asked="0"),
    ]
