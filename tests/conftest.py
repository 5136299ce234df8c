"""What several rooms' tests share: each demo, solved and drawn once a session."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path

import pytest
from hypothesis import settings

from shopdraw.drawing.set import DrawingSet
from shopdraw.output import write
from shopdraw.solution import Solution
from tests.demos import coarse_png, files_of, set_of, share, solution_of
from tests.goldens import keeping
from tests.longer import DEMOS

# As in a run of the command: few cycles are left, and looking for them takes time.
gc.set_threshold(100_000, 20, 20)

# A slow machine is no fault of the program: no test fails for its time.
settings.register_profile("suite", deadline=None)
settings.load_profile("suite")

WROTE = "golden written"


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the one way to write a golden."""
    parser.addoption(
        "--update-goldens",
        action="store_true",
        help="write the goldens as they are drawn now, and list them",
    )


def pytest_configure(config: pytest.Config) -> None:
    """Refuse to write a golden where nobody reads what was written."""
    if config.getoption("update_goldens") and "CI" in os.environ:
        message = "--update-goldens: no golden is written under CI"
        raise pytest.UsageError(message)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """List what was written, by whichever process."""
    reports = [x for found in terminalreporter.stats.values() for x in found]
    named = [pair for x in reports for pair in getattr(x, "user_properties", ())]
    written = sorted({file for name, file in named if name == WROTE})
    if written:
        terminalreporter.section("goldens written")
        terminalreporter.write_line("\n".join(written))


@pytest.fixture(scope="session", autouse=True)
def _alone() -> Iterator[None]:
    """Have a command that a test runs in its own process start no second one.

    Two are started where two are what is held.
    """
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("shopdraw.output.sharing._cores", lambda: 1)
        yield


@pytest.fixture(scope="module")
def coarse() -> Iterator[None]:
    """Draw pictures with few dots, where it is held that they are there, and alike."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(write, "_png", coarse_png)
        yield


@pytest.fixture
def goldens() -> Path:
    """Return where the goldens are kept."""
    return keeping.FOLDER


@pytest.fixture
def golden(
    request: pytest.FixtureRequest, goldens: Path
) -> Callable[[str, Mapping[str, Sequence[str]]], None]:
    """Return what holds lines against a folder's goldens, or writes them if asked."""

    def hold(folder: str, made: Mapping[str, Sequence[str]]) -> None:
        if request.config.getoption("update_goldens"):
            done = keeping.write(goldens / folder, made)
            request.node.user_properties += [(WROTE, file) for file in done]
        elif wrong := keeping.complaints(goldens / folder, made):
            pytest.fail("\n".join(wrong), pytrace=False)

    return hold


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


@pytest.fixture(scope="session", autouse=True)
def _together(shared: Path | None) -> None:
    """Have the processes of this run share what one of them has drawn of a demo."""
    if shared is not None:
        share(shared)


@pytest.fixture
def files(demo: str) -> dict[str, bytes]:
    """Return every file of a demo's set, its pictures empty."""
    return dict(files_of(demo))


@pytest.fixture
def library() -> dict[str, bytes]:
    """Return every file of the first demo's set, its pictures too."""
    return dict(files_of("library-hearth", pictured=True))


@pytest.fixture
def library_set() -> DrawingSet:
    """Return the first demo's set."""
    return set_of("library-hearth")
