"""Goldens are written when that is asked for, by nothing else, and never under CI."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest_plugins = ("pytester",)

CONFTEST = """
from pathlib import Path
import pytest
from tests.conftest import (
    golden, pytest_addoption, pytest_configure, pytest_terminal_summary,
)

@pytest.fixture
def goldens() -> Path:
    return Path("kept").absolute()
"""
DRAWN = "def test_drawn(golden):\n    golden('den', {})\n"


@pytest.fixture
def runs(pytester: pytest.Pytester, monkeypatch: pytest.MonkeyPatch) -> pytest.Pytester:
    """Return a suite of one test, whose goldens are kept in a folder of its own."""
    monkeypatch.delenv("CI", raising=False)
    pytester.makeconftest(CONFTEST)
    pytester.mkdir("kept")
    draw(pytester, elevation=["A  open", "B  open"])
    return pytester


def draw(pytester: pytest.Pytester, **views: list[str]) -> None:
    """Have the one test draw these views."""
    pytester.makepyfile(test_den=DRAWN.format(views))


def run(pytester: pytest.Pytester, *words: str) -> tuple[int, str]:
    result = pytester.runpytest_inprocess("-p", "no:cacheprovider", *words)
    return result.ret, result.stdout.str() + result.stderr.str()


def kept(pytester: pytest.Pytester) -> dict[str, str]:
    found = Path(pytester.path, "kept").rglob("*.txt")
    return {path.name: path.read_text("utf-8") for path in found}


def test_a_golden_that_is_not_there_fails_and_says_how_to_write_it(
    runs: pytest.Pytester,
) -> None:
    code, said = run(runs)
    assert code == pytest.ExitCode.TESTS_FAILED
    (line,) = [x for x in said.splitlines() if x.endswith("writes it")]
    assert line.endswith("elevation.txt is missing: pytest --update-goldens writes it")
    assert kept(runs) == {}


def test_goldens_are_written_and_listed_then_held(runs: pytest.Pytester) -> None:
    code, said = run(runs, "--update-goldens")
    assert code == pytest.ExitCode.OK
    assert said.partition(" goldens written ")[2].split()[1] == "den/elevation.txt"
    assert kept(runs) == {"elevation.txt": "A  open\nB  open\n"}
    code, said = run(runs)
    assert code == pytest.ExitCode.OK
    assert "goldens written" not in said


def test_one_that_differs_fails_and_stays_as_it_is(runs: pytest.Pytester) -> None:
    run(runs, "--update-goldens")
    draw(runs, elevation=["A  open"])
    code, said = run(runs)
    assert code == pytest.ExitCode.TESTS_FAILED
    assert "den/elevation: B  open: expected, not found" in said
    assert kept(runs) == {"elevation.txt": "A  open\nB  open\n"}


def test_one_of_a_view_that_is_gone_fails_till_it_is_taken_away(
    runs: pytest.Pytester,
) -> None:
    run(runs, "--update-goldens")
    draw(runs, plan=["C  open"])
    code, said = run(runs)
    assert code == pytest.ExitCode.TESTS_FAILED
    assert "elevation.txt: nothing is drawn for it" in said
    _, said = run(runs, "--update-goldens")
    assert "den/elevation.txt, taken away" in said
    assert kept(runs) == {"plan.txt": "C  open\n"}


@pytest.mark.parametrize("value", ["true", "1", ""])
def test_nothing_is_written_under_ci(
    runs: pytest.Pytester, monkeypatch: pytest.MonkeyPatch, value: str
) -> None:
    monkeypatch.setenv("CI", value)
    code, said = run(runs, "--update-goldens")
    assert code == pytest.ExitCode.USAGE_ERROR
    assert "no golden is written under CI" in said
    assert kept(runs) == {}
