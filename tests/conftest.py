"""What several rooms' tests share: each demo, solved and built once a session."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from shopdraw.drawing.set import DrawingSet
from shopdraw.job.reading import read_job
from shopdraw.output.write import make_files
from shopdraw.pipeline import Solution, build, solve

CONFIGS = Path(__file__).resolve().parent.parent / "configs"
DEMOS = tuple(sorted(path.stem for path in CONFIGS.glob("*.toml")))


@cache
def _solution(name: str) -> Solution:
    return solve(read_job(CONFIGS / f"{name}.toml"))


@cache
def _built(name: str) -> DrawingSet:
    return build(_solution(name))


@cache
def _files(name: str) -> dict[str, bytes]:
    return make_files(_built(name))


@pytest.fixture(params=DEMOS)
def demo(request: pytest.FixtureRequest) -> str:
    """Return the name of each demo in turn."""
    name: str = request.param
    return name


@pytest.fixture
def solution(demo: str) -> Solution:
    """Return a demo solved."""
    return _solution(demo)


@pytest.fixture
def drawing_set(demo: str) -> DrawingSet:
    """Return a demo's set, drawn but not written."""
    return _built(demo)


@pytest.fixture
def files(demo: str) -> dict[str, bytes]:
    """Return every file of a demo's set."""
    return dict(_files(demo))
