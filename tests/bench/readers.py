"""Random old houses drawn, and every sheet read back and by independent readers."""

from __future__ import annotations

import os
import tempfile
import time
from collections import Counter
from functools import partial
from multiprocessing import Pool
from pathlib import Path

from shopdraw.errors import ShopdrawError
from shopdraw.output.write import make_dxf_files
from shopdraw.pipeline import build, solve
from tests.bench.timing import Row
from tests.old_houses import make_job, seeded
from tests.output.readers import (
    READERS,
    differences,
    install_npm,
    npm_differences,
    npm_folder,
    records_differences,
)
from tests.output.records_read import build_reader

JOBS = 200
Read = tuple[int, int, list[tuple[str, str]]]
"""A job's seed, its sheets, and each difference: by whom, and where and what."""


def read(number: int, npm: Path | None, records: Path | None) -> Read:
    """Draw one job and give its files to every reader."""
    found, sheets = [], 0
    try:
        solution = solve(make_job(seeded(number))[1])
        drawn = build(solution)
        files = make_dxf_files(drawn)
        sheets = len(drawn.sheets)
        found += differences(solution, drawn, files)
        if npm is not None:
            found += npm_differences(npm, [(drawn, files)])[0]
        if records is not None:
            found += records_differences(records, [(drawn, files)])[0]
    except ShopdrawError as error:
        return number, sheets, [("not drawn", line) for line in error.lines()]
    except Exception as error:
        return number, sheets, [("broken off", f"{type(error).__name__}: {error}")]
    return number, sheets, [(each.reader, str(each)) for each in found]


def measure(jobs: int = JOBS) -> list[Row]:
    """Draw and read so many jobs; print each difference, and return the counts."""
    start, sheets, by = time.perf_counter(), 0, Counter[str]()
    with tempfile.TemporaryDirectory() as kept:
        folder = npm_folder(None, Path(kept))
        why_not, built = install_npm(folder), Path(kept) / "records"
        not_built = build_reader(built)
        task = partial(
            read,
            npm=None if why_not else folder,
            records=None if not_built else built,
        )
        with Pool(len(os.sched_getaffinity(0))) as pool:
            for number, count, found in pool.imap(task, range(jobs)):
                sheets += count
                for reader, what in found:
                    by[reader] += 1
                    print(f"job {number}: {what}", flush=True)
    counts = {reader: str(by[reader]) for reader in READERS}
    if why_not:
        counts["npm"] = f"not checked: {why_not}"
    if not_built:
        counts["libdime"] = f"not checked: {not_built}"
    took = time.perf_counter() - start
    return [
        Row(f"{jobs} random jobs drawn and read", f"{sheets:,} sheets, {took:.0f} s"),
        Row("  not drawn", str(by["not drawn"]), asked="0"),
        Row("  broken off on the way", str(by["broken off"]), asked="0"),
        *(
            Row(f"  differences, {who}", said, asked="0")
            for who, said in counts.items()
        ),
    ]
