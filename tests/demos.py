"""Each demo solved, drawn and written, once a run, for tests that need just one.

Where several processes share a run, what one has made is kept in the run's own folder
for the others. The next run begins with an empty one.
"""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.reading import read_job
from shopdraw.output import write
from shopdraw.output.write import make_files
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from shopdraw.views.wall.elevation import draw_elevation

CONFIGS = Path(__file__).resolve().parent.parent / "configs"
PICTURED = write._png
_folders: list[Path] = []


def share(folder: Path) -> None:
    """Keep what is made from now on in a folder that all processes of a run share."""
    _folders[:] = [folder]


def kept(what: str, make: Callable[[], Any]) -> Any:
    """Return what a process of this run has made already, or make it for them all."""
    if not _folders:
        return make()
    path = _folders[0] / f"demo-{what}"
    if not path.exists():
        own = path.with_name(f"{path.name}-{os.getpid()}")
        own.write_bytes(pickle.dumps(make()))
        own.replace(path)
    return pickle.loads(path.read_bytes())


@cache
def solution_of(name: str) -> Solution:
    """Return a demo solved, once a run."""
    job = CONFIGS / f"{name}.toml"
    solution: Solution = kept(f"{name}-solved", lambda: solve(read_job(job)))
    return solution


@cache
def set_of(name: str) -> DrawingSet:
    """Return a demo's set, drawn but not written, once a run."""
    drawn: DrawingSet = kept(f"{name}-drawn", lambda: build(solution_of(name)))
    return drawn


@cache
def elevation_of(name: str, scale: float) -> Drawing:
    """Return a demo's elevation at a scale, drawn once a run."""
    what = f"{name}-elevation-{scale:g}"
    drawn: Drawing = kept(what, lambda: draw_elevation(solution_of(name), scale))
    return drawn


def sheet_of(name: str, shows: str = "elevation") -> Sheet:
    """Return the first sheet of a demo's set that shows something."""
    return next(sheet for sheet in set_of(name).sheets if shows in sheet.shows)


@cache
def files_of(name: str, *, pictured: bool = False) -> dict[str, bytes]:
    """Return every file of a demo's set, once a run.

    Args:
        name: the demo's.
        pictured: whether its pictures are drawn too; else they are there, and empty.
    """
    write_all = pictured_whole if pictured else unpictured
    what = f"{name}-written{'-pictured' if pictured else ''}"
    files: dict[str, bytes] = kept(what, lambda: write_all(set_of(name)))
    return files


def pictured_whole(drawn: DrawingSet) -> dict[str, bytes]:
    """Return every file of a set, whatever the test that asks draws its own with."""
    with patch.object(write, "_png", PICTURED):
        return make_files(drawn)


def coarse_png(sheet: Sheet, drawn_from: str) -> bytes:
    """Draw a picture with few dots: all of it is there, at a tenth of the time."""
    from shopdraw.output.image import write_png

    return write_png(sheet, 15, drawn_from)


def unpictured(drawn: DrawingSet) -> dict[str, bytes]:
    """Return every file of a set; its pictures, which take longest, are empty."""
    with patch.object(write, "_png", return_value=b""):
        return make_files(drawn)
