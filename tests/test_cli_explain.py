"""`explain`, `schema`, what `--help` says, and what a shell completes."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tomllib
from importlib import resources
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator

from shopdraw.cli import main


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def test_a_key_is_explained() -> None:
    result = run("explain", "target[1].level")
    assert result.exit_code == 0
    assert result.stdout.splitlines()[:2] == [
        "target.level",
        "  the level, measured up from the datum",
    ]


def test_without_a_key_the_tables_are_listed() -> None:
    result = run("explain")
    assert result.exit_code == 0
    assert "  [joints] " in result.stdout
    assert "  [[target]] " in result.stdout
    assert result.stdout.splitlines()[-1].startswith("Next: shopdraw explain ")


def test_an_unknown_key_is_one_line_with_the_nearest() -> None:
    result = run("explain", "joints.bed.mots")
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == (
        "explain: joints.bed.mots: is not a key of a job file "
        "(nearest known key: joints.bed.most)\n"
    )


@pytest.mark.parametrize("key", ["", ".", "a..b", "[[", "\x1b[31m", "x" * 5000])
def test_whatever_is_typed_for_a_key_is_one_line(key: str) -> None:
    result = run("explain", key)
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert "\x1b" not in result.stderr


def test_schema_is_that_of_the_job_file_unless_the_solution_s_is_asked_for() -> None:
    job = json.loads(run("schema").stdout)
    assert job == json.loads(run("schema", "job").stdout)
    Draft202012Validator.check_schema(job)
    starter = resources.files("shopdraw.job").joinpath("starter.toml").read_text()
    Draft202012Validator(job).validate(tomllib.loads(starter))
    solution = json.loads(run("schema", "solution").stdout)
    Draft202012Validator.check_schema(solution)
    assert solution["title"] == "shopdraw solution"


def test_no_other_schema_is_known() -> None:
    result = run("schema", "house")
    assert result.exit_code == 2
    assert "'job', 'solution'" in result.stderr


# -------------------------------------------------------------------------------- help


def unsaid(page: str) -> list[str]:
    """Return what a page of help leaves out."""
    wanted = ("Usage: shopdraw ", "Example: shopdraw ", "Files: ", "Exit codes: ")
    return [words for words in wanted if words not in page]


@pytest.mark.parametrize("name", sorted(main.commands.keys()))
def test_each_command_s_help_has_an_example_files_and_exit_codes(name: str) -> None:
    page = CliRunner().invoke(main, [name, "--help"], prog_name="shopdraw").stdout
    assert unsaid(page) == []
    for parameter in main.commands[name].params:
        assert parameter.human_readable_name in page or parameter.opts[0] in page


def backslashes(command: click.Command) -> list[str]:
    """Return the lines of help on which a sign for the program is printed."""
    page = CliRunner().invoke(command, ["--help"]).stdout
    return [line for line in page.splitlines() if "\\" in line]


@pytest.mark.parametrize(
    "command", [main, *main.commands.values()], ids=lambda command: command.name
)
def test_no_help_prints_a_backslash(command: click.Command) -> None:
    assert backslashes(command) == []


def test_a_backslash_in_help_is_noticed() -> None:
    raw = click.Command("raw", help=r"Draw it." "\n\n" r"\b" "\nExample: shopdraw raw")
    assert backslashes(raw) == [r"  \b Example: shopdraw raw"]


def test_help_that_leaves_something_out_is_noticed() -> None:
    assert unsaid("Usage: shopdraw new\n\n  Example: shopdraw new den.toml") == [
        "Files: ",
        "Exit codes: ",
    ]


def test_help_ends_with_exit_codes_and_where_things_go() -> None:
    page = run("--help").stdout
    after = page[page.index("Commands:") :]
    assert after.index("Exit codes:") < after.index("Where things go:")
    # No command's one line is cut short.
    assert "..." not in after
    assert max(len(line) for line in page.splitlines()) <= 88


# -------------------------------------------------------------------------- completion


def completed(shell: str, *words: str) -> list[str]:
    """Return what a shell is told that the last of the words may become."""
    asked = {
        "_SHOPDRAW_COMPLETE": f"{shell}_complete",
        "COMP_WORDS": " ".join(("shopdraw", *words)),
        "COMP_CWORD": str(len(words)),
    }
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "shopdraw"],
        env={**os.environ, **asked},
        cwd=Path(__file__).resolve().parent.parent,
        capture_output=True,
        text=True,
        check=True,
    )
    # A shell waits for it: what is heavy is not loaded.
    assert "pydantic" not in done.stderr
    return done.stdout.splitlines()


def test_a_shell_completes_a_command() -> None:
    assert completed("bash", "exp") == ["plain,explain"]


def test_a_shell_completes_a_key_and_says_what_it_is() -> None:
    assert completed("bash", "explain", "joints.bed.") == [
        "plain,joints.bed.preferred",
        "plain,joints.bed.least",
        "plain,joints.bed.most",
    ]
    assert completed("zsh", "explain", "joints.bed.m") == [
        "plain",
        "joints.bed.most",
        "the widest that a bed joint may be",
    ]


def test_explain_s_help_loads_nothing_heavy() -> None:
    code = (
        "import sys\n"
        "from shopdraw.cli import main\n"
        "try: main(['explain', '--help'])\n"
        "except SystemExit: pass\n"
        "print(sorted({'pydantic', 'tomllib', 'pint'} & set(sys.modules)))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "[]"
