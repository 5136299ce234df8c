"""Whole sets, read back, against ezdxf's own drawing add-on on the same sheets."""

from __future__ import annotations

import tempfile
from pathlib import Path

from tests.bench.timing import JOBS, Row, median_seconds, on_cores, seconds


def measure() -> list[Row]:
    """Draw each demo's set on one core and on two, and have the add-on render it."""
    rows = []
    with tempfile.TemporaryDirectory() as out:
        for job in JOBS:
            draw = ("-m", "shopdraw", "draw", str(job), "--out", out)
            with on_cores(2):
                two = median_seconds(*draw)
            with on_cores(1):
                one = median_seconds(*draw)
                sheets = sorted((Path(out) / job.stem / "sheets").glob("*.dxf"))
                add_on = seconds("-m", "tests.render", *(str(each) for each in sheets))
            for cores, took, asked in (("one core", one, "0.22"), ("two", two, "0.17")):
                rows.append(
                    Row(
                        f"{job.stem}, {len(sheets)} sheets, {cores}",
                        f"{took:.2f} s",
                        f"{add_on:.2f} s",
                        f"{took / add_on:.2f}",
                        asked,
                    )
                )
    return rows
