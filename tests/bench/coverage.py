"""How many branches of each pure room the tests take, both ways of each counted.

Run are the tests of the pure rooms' own folders, in two halves of one process each;
what else the suite takes (the command line, the output, the demos in a row) is left
out, and so is what a process that a test starts runs.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from tests.bench.timing import ROOT, Row
from tests.test_architecture import ROWS, name_of, place_of

ASKED = "95 %"
HALVES = (
    ("tests/masonry",),
    (
        "tests/views", "tests/quantities", "tests/review", "tests/catalog",
        "tests/drawing", "tests/job", "tests/test_lengths.py", "tests/test_solution.py",
    ),
)  # fmt: skip
"""The tests of the pure rooms. Both halves take about as long."""


def measure() -> list[Row]:
    """Run the tests of the pure rooms, and return what they take of each."""
    return covered(HALVES)


def covered(halves: Sequence[Sequence[str]], rooms: Sequence[str] = ()) -> list[Row]:
    """Run tests, and return the share of branches taken, and of lines run, by room.

    Args:
        halves: their files and folders, those of each process.
        rooms: as `tests.test_architecture` lists them; every pure one where none is.
    """
    seen: dict[str, Counter[str]] = {}
    for file, counts in _counted(halves).items():
        place = place_of(name_of(ROOT / file))
        if ROWS[place].is_pure and (not rooms or place in rooms):
            seen.setdefault(place, Counter()).update(counts)
    whole = sum(seen.values(), Counter())
    out = [_row(place or "shopdraw", seen[place]) for place in sorted(seen)]
    return [*out, _row(f"all {len(seen)} of these rooms", whole)]


def _row(room: str, counts: Counter[str]) -> Row:
    taken, branches = counts["covered_branches"], counts["num_branches"]
    run, lines = counts["covered_lines"], counts["num_statements"]
    ours = f"{taken} of {branches} branches, {run} of {lines} lines"
    share = f"{100 * taken / branches:.1f} %" if branches else "no branch"
    return Row(room, ours, "", share, ASKED)


def _counted(halves: Sequence[Sequence[str]]) -> dict[str, dict[str, int]]:
    """Return what coverage counts of each file of the package.

    Raises:
        CalledProcessError: a test failed, so that what was run says nothing.
    """
    with tempfile.TemporaryDirectory() as work:
        kept, told = Path(work) / "kept", Path(work) / "told.json"
        call = (sys.executable, "-m", "coverage")
        # `-p` gives each process a file of its own beside `kept`.
        pytest = ("-m", "pytest", "-q", "-p", "no:cacheprovider", "-n", "0")
        env = {**os.environ, "COVERAGE_FILE": str(kept)}
        runs = [
            subprocess.Popen(
                (*call, "run", "-p", *pytest, *tests), cwd=ROOT, env=env,
                stdout=sys.stderr,
            )
            for tests in halves
        ]  # fmt: skip
        for code, run in [(run.wait(), run) for run in runs]:
            if code:
                raise subprocess.CalledProcessError(code, run.args)
        for step in (("combine", "-q"), ("json", "-q", "-o", str(told))):
            subprocess.run((*call, *step), cwd=ROOT, env=env, check=True)
        files = json.loads(told.read_text("utf-8"))["files"]
    return {
        name: {k: v for k, v in each["summary"].items() if isinstance(v, int)}
        for name, each in files.items()
    }
