"""Colour: on the few words that say how it went, at a terminal, and nowhere else."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from contextlib import redirect_stdout, suppress
from functools import cache
from pathlib import Path
from threading import Thread
from unittest.mock import patch

import pytest
from click.testing import CliRunner

from shopdraw.cli import main
from shopdraw.cli.colouring import coloured
from tests.demos import CONFIGS

pty = pytest.importorskip("pty", reason="not checked: needs a pseudo-terminal")

MISSES = str(CONFIGS / "cannot-land.toml")
LAID = ("--course", "3", "--top", "8 1/8 in")
SIGN = re.compile(r"\x1b\[[0-9;]*m")
COLOURED = re.compile(r"\x1b\[3[0-9]m(.*?)\x1b\[0m", re.DOTALL)


def run_at_a_terminal(*words: str, **environment: str) -> str:
    """Run the command in this process, its standard output a terminal's.

    Returns:
        What the terminal shows. The environment is as given, but for NO_COLOR.
    """
    here, there = pty.openpty()
    shown = bytearray()
    reader = Thread(target=_read, args=(here, shown))
    reader.start()
    try:
        with (
            os.fdopen(there, "w", encoding="utf-8") as terminal,
            patch.dict(os.environ, {**_environment(), **environment}, clear=True),
            redirect_stdout(terminal),
            suppress(SystemExit),
        ):
            main([*words])
    finally:
        reader.join()
        os.close(here)
    return shown.decode().replace("\r\n", "\n")


def _read(here: int, shown: bytearray) -> None:
    """Read what a terminal shows, till nobody writes to it any more.

    That is an error to read, or the end.
    """
    with suppress(OSError):
        while part := os.read(here, 65536):
            shown += part


@cache
def run_into_a_pipe(*words: str) -> str:
    """Run the command in this process, its standard output none of a terminal's."""
    with patch.dict(os.environ, _environment(), clear=True):
        return CliRunner().invoke(main, words, color=True).stdout


def run_apart(*words: str) -> tuple[str, str]:
    """Run the command in a process of its own, once at a terminal and once into a pipe.

    Returns:
        What the terminal shows, and what the pipe is given.
    """
    here, there = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "shopdraw", *words],
        stdin=subprocess.DEVNULL,
        stdout=there,
        stderr=subprocess.PIPE,
        cwd=CONFIGS.parent,
        env=_environment(),
    ):
        os.close(there)
        shown = bytearray()
        _read(here, shown)
    os.close(here)
    piped = subprocess.run(
        [sys.executable, "-m", "shopdraw", *words],
        stdout=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        check=False,
        cwd=CONFIGS.parent,
        env=_environment(),
    ).stdout
    return shown.decode().replace("\r\n", "\n"), piped


def _environment() -> dict[str, str]:
    return {name: value for name, value in os.environ.items() if name != "NO_COLOR"}


@pytest.mark.parametrize(
    "words",
    [("check", MISSES), ("remeasure", MISSES, *LAID)],
    ids=["check", "remeasure"],
)
def test_a_terminal_shows_the_same_report_with_its_few_words_in_colour(
    words: tuple[str, ...],
) -> None:
    shown, piped = run_at_a_terminal(*words), run_into_a_pipe(*words)
    assert SIGN.search(piped) is None
    assert SIGN.sub("", shown) == piped
    few = re.findall(r"\b(?:PASSED|FAILED|NOT CHECKED|MISSED)\b", piped)
    assert {"MISSED", "NOT CHECKED"} <= set(few)
    assert COLOURED.findall(shown) == few


def test_a_process_of_its_own_does_the_same() -> None:
    words = ("check", MISSES)
    assert run_apart(*words) == (run_at_a_terminal(*words), run_into_a_pipe(*words))


def test_draw_colours_its_report_too(tmp_path: Path) -> None:
    words = ("draw", MISSES, "--sheets", "ticket", "--out", str(tmp_path))
    assert {"PASSED", "MISSED"} <= set(COLOURED.findall(run_at_a_terminal(*words)))


def test_whoever_wants_no_colour_gets_none() -> None:
    shown = run_at_a_terminal("check", MISSES, NO_COLOR="1")
    assert shown == run_into_a_pipe("check", MISSES)
    # The wish is one only where it says something.
    assert SIGN.search(run_at_a_terminal("check", MISSES, NO_COLOR=""))


@pytest.mark.parametrize(
    "words", [("check",), ("remeasure", *LAID)], ids=["check", "remeasure"]
)
def test_json_is_never_coloured(words: tuple[str, ...], tmp_path: Path) -> None:
    """Not though a word of the report is in it: here, as the job's name."""
    job = tmp_path / "den.toml"
    text = Path(MISSES).read_text("utf-8")
    job.write_text(re.sub(r"(?m)^name .*", 'name = "FAILED"', text, count=1), "utf-8")
    shown = run_at_a_terminal(*words, str(job), "--json")
    assert '"FAILED"' in shown


def test_only_whole_words_in_capitals_are_coloured() -> None:
    plain = "passed, Failed, not checked, UNCHECKED, MISSEDLY, CHECKED"
    assert coloured(plain) == plain
    assert coloured("1 FAILED: SEE") == "1 \x1b[31mFAILED\x1b[0m: SEE"
