"""How many branches of each pure room the tests take, both ways of each counted."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from tests.bench.timing import ROOT, Row
from tests.test_architecture import ROWS, name_of, place_of

ASKED = "95 %"


def measure() -> list[Row]:
    """Run the whole suite, in one process, and return what it takes of every room."""
    return covered(["tests"])


def covered(tests: Sequence[str], rooms: Sequence[str] = ()) -> list[Row]:
    """Run tests, and return the share of branches taken, and of lines run, by room.

    What a process that a test starts runs is not counted.

    Args:
        tests: their files and folders.
        rooms: as `tests.test_architecture` lists them; every pure one where none is.
    """
    seen: dict[str, Counter[str]] = {}
    for file, counts in _counted(tests).items():
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
    return Row(room, ours, "", f"{100 * taken / max(1, branches):.1f} %", ASKED)


def _counted(tests: Sequence[str]) -> dict[str, dict[str, int]]:
    """Return what coverage counts of each file of the package."""
    with tempfile.TemporaryDirectory() as work:
        kept, told = Path(work) / "kept", Path(work) / "told.json"
        call = (sys.executable, "-m", "coverage")
        pytest = ("-m", "pytest", "-q", "-p", "no:cacheprovider", "-n", "0")
        command = (*call, "run", f"--data-file={kept}", *pytest, *tests)
        subprocess.run(command, cwd=ROOT, check=True, stdout=sys.stderr)
        command = (*call, "json", f"--data-file={kept}", "-q", "-o", str(told))
        subprocess.run(command, cwd=ROOT, check=True)
        files = json.loads(told.read_text("utf-8"))["files"]
    return {
        name: {k: v for k, v in each["summary"].items() if isinstance(v, int)}
        for name, each in files.items()
    }
