"""README shows what the program prints today, and names only what is there.

Proves: each command that README shows with its output prints that output; each command,
option, key and file that README names exists; README stays short.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

import click
import pytest
from click.testing import CliRunner
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from shopdraw.cli import main
from shopdraw.job.keys import key_rows
from tests import bonds_picture, panel_picture, phone_picture
from tests.bonds_picture import PICTURE, digest

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text("utf-8")
WORDS = 1600
"""README is read first: about 1,500 words, with its examples and tables."""


def examples(text: str) -> dict[str, list[str]]:
    """Return the lines that are shown under each command that is shown with output."""
    blocks = re.findall(r"^```\n\$ (.*?)\n(.*?)^```$", text, re.DOTALL | re.MULTILINE)
    return {command: shown.splitlines() for command, shown in blocks}


def stale(shown: list[str], printed: list[str]) -> str:
    """Return the first line shown that is not printed where it should be, or nothing.

    A line `...` stands for any lines, and `...` at the end of a line for its rest. All
    other lines follow one another as they are printed.
    """
    at, anywhere = 0, False
    for line in shown:
        if line == "...":
            anywhere = True
            continue
        fits = _fits(line)
        rest = printed[at:] if anywhere else printed[at : at + 1]
        found = next((n for n, each in enumerate(rest) if fits(each)), None)
        if found is None:
            return line
        at, anywhere = at + found + 1, False
    return ""


def _fits(line: str) -> Callable[[str], object]:
    start = re.escape(line.removesuffix("..."))
    return re.compile(start + (".*" if line.endswith("...") else "")).fullmatch


def printed_by(command: str) -> list[str]:
    words = shlex.split(command)
    assert words[0] == "shopdraw"
    result = CliRunner().invoke(main, words[1:])
    assert result.exit_code in (0, 1), result.output
    return result.stdout.splitlines()


@pytest.mark.parametrize("command", examples(README))
def test_an_example_is_what_is_printed_today(
    command: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    shown = examples(README)[command]
    assert shown
    assert not stale(shown, printed_by(command))


def test_there_are_examples() -> None:
    assert len(examples(README)) == 2


@pytest.mark.parametrize(
    "shown",
    [
        ["one", "three"],
        ["two"],
        ["one", "...", "four"],
        ["...", "on ..."],
        ["...", "two", "one"],
    ],
)
def test_a_stale_example_is_found(shown: list[str]) -> None:
    assert stale(shown, ["one", "two", "three"])


@pytest.mark.parametrize(
    "shown",
    [["one", "two"], ["one", "...", "three"], ["...", "t..."], ["...", "thr..."]],
)
def test_an_example_that_is_printed_is_not_stale(shown: list[str]) -> None:
    assert not stale(shown, ["one", "two", "three"])


def commands(text: str) -> Iterator[list[str]]:
    """Yield the words of every command that is named, shown or not."""
    for said in re.findall(r"`shopdraw ([^`]+)`|\$ shopdraw (.+)", text):
        yield shlex.split("".join(said))


def unknown(words: list[str]) -> list[str]:
    """Return what of a command's words the program does not take."""
    if words[0].startswith("-"):
        return [x for x in words if x not in options(main)]
    command = main.get_command(click.Context(main), words[0])
    if command is None:
        return words[:1]
    return [x for x in words if x.startswith("--") and x not in options(command)]


def options(command: click.Command) -> set[str]:
    context = click.Context(command)
    return {name for each in command.get_params(context) for name in each.opts}


def test_every_command_that_is_named_is_there() -> None:
    named = list(commands(README))
    assert len(named) > 10
    assert not [x for words in named for x in unknown(words)]


def test_a_command_or_an_option_that_is_not_there_is_found() -> None:
    assert list(commands("`shopdraw paint den.toml`")) == [["paint", "den.toml"]]
    assert unknown(["paint", "den.toml"]) == ["paint"]
    assert unknown(["draw", "den.toml", "--loudly"]) == ["--loudly"]
    assert unknown(["--loudly"]) == ["--loudly"]


def test_every_file_that_is_linked_is_there() -> None:
    links = re.findall(r"\]\(([^)#]+)\)", README)
    assert len(links) > 5
    assert not [x for x in links if not (ROOT / x).exists()]


def test_the_eight_keys_are_keys() -> None:
    table = README.partition("| key | what it says |")[2].partition("\n\n")[0]
    named = re.findall(r"`(\w+\.\w+)`", table)
    assert len(named) == 8
    assert set(named) <= set(key_rows())


def test_readme_is_short() -> None:
    assert len(re.findall(r"\S*\w\S*", README)) <= WORDS


@pytest.mark.parametrize("module", [bonds_picture, panel_picture, phone_picture])
def test_each_picture_shows_what_is_laid_today(module: ModuleType) -> None:
    with Image.open(module.PICTURE) as picture:
        shows = picture.info["Layouts"]
    assert shows == module.digest(), f"if that is meant: python -m {module.__name__}"


def test_a_picture_of_other_bonds_is_noticed(tmp_path: Path) -> None:
    other = tmp_path / "other.png"
    with Image.open(PICTURE) as picture:
        told = PngInfo()
        told.add_text("Layouts", "0" * 64)
        picture.save(other, pnginfo=told)
    with Image.open(other) as picture:
        assert picture.info["Layouts"] != digest()
