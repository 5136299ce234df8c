"""What several rooms' tests share: each demo, solved and drawn once a session."""

from __future__ import annotations

import gc
import os
from pathlib import Path

import pytest
from hypothesis import settings

from shopdraw.drawing.set import DrawingSet
from shopdraw.solution import Solution
from tests.demos import CONFIGS, files_of, set_of, solution_of

# As in a run of the command: few cycles are left, and looking for them takes time.
gc.set_threshold(100_000, 20, 20)

# A slow machine is no fault of the program: no test fails for its time.
settings.register_profile("suite", deadline=None)
settings.load_profile("suite")

DEMOS = tuple(sorted(path.stem for path in CONFIGS.glob("*.toml")))


@pytest.fixture(params=DEMOS)
def demo(request: pytest.FixtureRequest) -> str:
    """Return the name of each demo in turn."""
    name: str = request.param
    return name


@pytest.fixture
def solution(demo: str) -> Solution:
    """Return a demo solved."""
    return solution_of(demo)


@pytest.fixture
def drawing_set(demo: str) -> DrawingSet:
    """Return a demo's set, drawn but not written."""
    return set_of(demo)


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Path | None:
    """Return a folder that the processes of this run share; None where it has one."""
    several = "PYTEST_XDIST_WORKER" in os.environ
    return tmp_path_factory.getbasetemp().parent if several else None


@pytest.fixture
def files(demo: str, shared: Path | None) -> dict[str, bytes]:
    """Return every file of a demo's set."""
    return dict(files_of(demo, shared))


@pytest.fixture
def library(shared: Path | None) -> dict[str, bytes]:
    """Return every file of the first demo's set."""
    return dict(files_of("library-hearth", shared))


@pytest.fixture
def library_set() -> DrawingSet:
    """Return the first demo's set."""
    return set_of("library-hearth")
