"""One demo's set and files, for tests that need just one."""

from __future__ import annotations

import os
import pickle
from functools import cache
from pathlib import Path
from unittest.mock import patch

from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.reading import read_job
from shopdraw.output import write
from shopdraw.output.write import make_files
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution

CONFIGS = Path(__file__).resolve().parent.parent / "configs"


@cache
def solution_of(name: str) -> Solution:
    """Return a demo solved, once a session."""
    return solve(read_job(CONFIGS / f"{name}.toml"))


@cache
def set_of(name: str) -> DrawingSet:
    """Return a demo's set, drawn but not written."""
    return build(solution_of(name))


def sheet_of(name: str, shows: str = "elevation") -> Sheet:
    """Return the first sheet of a demo's set that shows something."""
    return next(sheet for sheet in set_of(name).sheets if shows in sheet.shows)


@cache
def files_of(
    name: str, shared: Path | None = None, *, pictured: bool = False
) -> dict[str, bytes]:
    """Return every file of a demo's set.

    Args:
        name: the demo's.
        shared: a folder that all processes of one run share, so that one draws it.
        pictured: whether its pictures are drawn too; else they are there, and empty.
    """
    if shared is None:
        return _files_of(name, pictured)
    kept = shared / f"demo-{name}{'-pictured' if pictured else ''}"
    if not kept.exists():
        own = shared / f"{kept.name}-{os.getpid()}"
        own.write_bytes(pickle.dumps(_files_of(name, pictured)))
        own.replace(kept)
    files: dict[str, bytes] = pickle.loads(kept.read_bytes())
    return files


def _files_of(name: str, pictured: bool) -> dict[str, bytes]:
    return make_files(set_of(name)) if pictured else unpictured(set_of(name))


def unpictured(drawn: DrawingSet) -> dict[str, bytes]:
    """Return every file of a set; its pictures, which take longest, are empty."""
    with patch.object(write, "_png", return_value=b""):
        return make_files(drawn)
