"""Whole sets, read back, against ezdxf's own drawing add-on on the same sheets.

Both run from compiled modules, as an installed program does.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.bench.timing import (
    JOBS,
    Row,
    compiled_once,
    median_seconds,
    on_cores,
    seconds,
)


def measure() -> list[Row]:
    """Draw each demo's set on one core and on two, and have the add-on render it."""
    with tempfile.TemporaryDirectory() as made, compiled_once(Path(made) / "compiled"):
        return [row for job in JOBS for row in measure_job(job, Path(made))]


def measure_job(job: Path, out: Path) -> Iterator[Row]:
    """Time one demo's set, on one core and on two."""
    draw = ("-m", "shopdraw", "draw", str(job), "--out", str(out))
    with on_cores(2):
        two = median_seconds(*draw)
    with on_cores(1):
        one = median_seconds(*draw)
        sheets = sorted((out / job.stem / "sheets").glob("*.dxf"))
        add_on = seconds("-m", "tests.render", *(str(each) for each in sheets))
    for cores, took, asked in (("one core", one, "0.22"), ("two", two, "0.17")):
        yield Row(
            f"{job.stem}, {len(sheets)} sheets, {cores}",
            f"{took:.2f} s",
            f"{add_on:.2f} s",
            f"{took / add_on:.2f}",
            asked,
        )
