"""Each demo's page, written once a run; drawn anew under another seed of the hash."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterable
from functools import cache
from hashlib import sha256

from shopdraw.output.page import write_page
from shopdraw.solution import Solution
from shopdraw.views.page.make import make_page
from shopdraw.views.picture.appearance import compose_appearance
from shopdraw.views.set import compose_sheets
from tests.demos import CONFIGS, kept, set_of

FILES = ("set.pdf", "surround.dxf")
"""What a page of a demo links to."""
DRAW = """
import sys
from hashlib import sha256
from pathlib import Path
from shopdraw.job.reading import read_job
from shopdraw.output.page import write_page
from shopdraw.pipeline import solve
from shopdraw.views.page import make
from shopdraw.views.picture.appearance import compose_appearance
from shopdraw.views.set import compose_sheets
{first}
for path in map(Path, sys.argv[1:]):
    solution = solve(read_job(path))
    sheets = compose_sheets(solution)
    picture = compose_appearance(solution, len(sheets) + 1)
    page = make.make_page(solution, sheets)
    data = write_page(page, (*sheets, picture), {files})
    print(path.stem, sha256(data).hexdigest())
"""
"""Draws the pages of jobs, and nothing else of their sets."""


def page_alone(solution: Solution) -> bytes:
    """Return the page of a solution with its picture, and nothing else of its set."""
    sheets = compose_sheets(solution)
    picture = compose_appearance(solution, len(sheets) + 1)
    return write_page(make_page(solution, sheets), (*sheets, picture), FILES)


@cache
def page_of(name: str) -> bytes:
    """Return the page of a demo with its picture, and links to two files."""

    def make() -> bytes:
        drawn = set_of(name)
        assert drawn.page is not None
        assert drawn.picture is not None
        return write_page(drawn.page, (*drawn.sheets, drawn.picture), FILES)

    data: bytes = kept(f"{name}-page", make)
    return data


def digest_of(name: str) -> str:
    """Return the digest of a demo's page."""
    return sha256(page_of(name)).hexdigest()


def drawn_under(seed: str, names: Iterable[str], first: str = "") -> dict[str, str]:
    """Return the digests of pages that one process draws under a seed of the hash.

    Args:
        seed: what the hash of text begins with.
        names: the demos'.
        first: what the process does before it draws.
    """
    paths = [str(CONFIGS / f"{name}.toml") for name in names]
    said = subprocess.run(
        [sys.executable, "-P", "-c", DRAW.format(first=first, files=FILES), *paths],
        capture_output=True, check=True, text=True, cwd=CONFIGS.parent.parent,
        env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(CONFIGS.parent), "PATH": ""},
    ).stdout  # fmt: skip
    return dict(line.rsplit(" ", 1) for line in said.splitlines())


def other_seed() -> str:
    """Return a seed that this process does not have."""
    return "2" if os.environ.get("PYTHONHASHSEED") == "1" else "1"
