"""Measure, and print what was measured: `python -m tests.bench [NAME ...]`.

Without a name, all of it, which takes hours; nothing passes or fails here.
"""

from __future__ import annotations

import os
import sys
from datetime import UTC, datetime
from importlib import import_module

from tests.bench.timing import table

NAMES = (
    *("floor", "renderer", "solvers", "walls", "many", "damage", "killed", "readers"),
    *("old_houses", "bonds", "brute", "soldiers", "checks", "bands", "hearths"),
    *("arches", "splays", "corners", "panels", "fills", "papers", "watching"),
    *("seeds", "damages", "valid", "mutants", "coverage", "long"),
)
"""Modules of this folder; each has `measure`, which returns its rows."""


def main() -> int:
    """Print a table of every name asked for."""
    asked = sys.argv[1:] or list(NAMES)
    wrong = [name for name in asked if name not in NAMES]
    if wrong:
        print(f"{', '.join(wrong)}: none of {', '.join(NAMES)}", file=sys.stderr)
        return 2
    cores = len(os.sched_getaffinity(0))
    today, python = datetime.now(UTC).date(), sys.version.split()[0]
    print(f"{today}, {cores} cores, Python {python}")
    for name in asked:
        module = import_module(f"tests.bench.{name}")
        print(f"\n## {name}: {(module.__doc__ or '').splitlines()[0]}\n", flush=True)
        print(table(module.measure()), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
