"""Where the system has no `fcntl` and no `fork`: all is imported, a set is drawn."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

from tests.demos import CONFIGS

ROOT = CONFIGS.parent

IMPORT_ALL = """
import importlib, json, pkgutil, sys
room, *missing = sys.argv[1:]
for name in missing:
    sys.modules[name] = None
found, failed = 0, []
import shopdraw
for module in pkgutil.walk_packages(shopdraw.__path__, "shopdraw.", failed.append):
    if module.name != "shopdraw.__main__" and room in module.name:
        try:
            importlib.import_module(module.name)
        except ImportError:
            failed.append(module.name)
        found += 1
print(json.dumps([found, sorted(set(failed))]))
"""

DRAW = """
import os, sys
sys.modules["fcntl"] = None
for name in ("fork", "sched_getaffinity"):
    if hasattr(os, name):
        delattr(os, name)
os.cpu_count = lambda: 2
import ctypes
def library(name, **_):
    raise TypeError("not a name")
ctypes.CDLL = library
def link(*_, **__):
    raise NotImplementedError("follow_symlinks")
os.link = link
from shopdraw.cli import main
main(sys.argv[1:])
"""


def unimportable(*missing: str, room: str = "") -> list[str]:
    """Return the modules of the package, or of a room, that need what is missing."""
    done = subprocess.run(
        [sys.executable, "-c", IMPORT_ALL, room, *missing],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
    )
    found, failed = json.loads(done.stdout)
    assert found >= (5 if room else 100)
    return [str(name) for name in failed]


def test_every_module_is_imported_where_the_system_has_less() -> None:
    assert unimportable("fcntl", "resource", "termios", "pwd") == []


def test_a_module_that_needs_what_is_missing_is_noticed() -> None:
    reading = "listing", "rows", "rules", "weights"
    needing = [f"shopdraw.catalog.{name}" for name in reading]
    assert unimportable("tomllib", room="catalog") == needing


def test_a_set_is_drawn_twice_where_the_system_has_less(tmp_path: Path) -> None:
    """By two processes; over the set before, with somebody's own file in it, by one."""
    folder = tmp_path / "library-hearth"
    words = ("draw", str(CONFIGS / "library-hearth.toml"), "--out", str(tmp_path))
    for workers in ("2", "1"):
        picked = ("--sheets", "elevation", "--workers", workers)
        done = subprocess.run(
            [sys.executable, "-c", DRAW, *words, *picked],
            capture_output=True,
            text=True,
            check=False,
            cwd=ROOT,
        )
        assert done.returncode == 0, done.stderr
        (folder / "letter.txt").write_bytes(b"mine")
    assert (folder / "letter.txt").read_bytes() == b"mine"
    assert (folder / "sheets" / "A-201-elevation.dxf").stat().st_size > 10_000
    assert [path.name for path in tmp_path.iterdir()] == ["library-hearth"]
