"""A job file's name names its set's folder: inside the folder asked for, or refused."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from shopdraw.cli import main
from tests.longer import mostly_long

TEXT = b"""
[job]
name = "Den"
lengths = "in"

[face]
width = "39 5/8 in"
height = "21 in"

[opening]
width = "23 5/8 in"
height = "13 1/2 in"

[brick]
size = "modular"
"""
"""A small wall: what it is called is what is held."""
REFUSED = ("..toml", "...toml", ".hidden.toml", ".x.old-1.toml", "a\x1b[2J.toml")
QUICKLY = ("--sheets", "story-pole", "--workers", "1")
TAKEN = ("=1+1.toml", "two words.toml", 'it\'s "so".toml', "CON.toml", "é火.toml", "-a")


@pytest.mark.parametrize("name", REFUSED)
@pytest.mark.parametrize("command", ["draw", "new", "remeasure"])
def test_a_name_that_names_no_folder_is_refused_in_one_line(
    command: str, name: str, tmp_path: Path
) -> None:
    jobs, out = tmp_path / "jobs", tmp_path / "out" / "inner"
    jobs.mkdir()
    out.mkdir(parents=True)
    job = jobs / name
    words = [command, str(job)]
    if command != "new":
        job.write_bytes(TEXT)
        words += ["--out", str(out)]
    if command == "remeasure":
        words += ["--course", "7", "--top", "18 11/16 in"]
    before = sorted(tmp_path.rglob("*"))
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 2
    (line,) = done.stderr.splitlines()
    assert line.endswith("can't have this name; begin it with a letter")
    assert line.isprintable()
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("name", mostly_long(TAKEN, *TAKEN[2:5]))
def test_any_other_name_is_the_set_s_folder(name: str, tmp_path: Path) -> None:
    job, out = tmp_path / name, tmp_path / "out"
    job.write_bytes(TEXT)
    words = ["draw", "--out", str(out), *QUICKLY, "--", str(job)]
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 0, done.output
    assert [path.name for path in out.iterdir()] == [job.stem]


def test_a_name_longer_than_a_folder_s_may_be_is_refused(tmp_path: Path) -> None:
    """A file's name may have 255 bytes, and the folder written first a few more."""
    job, out = tmp_path / f"{'n' * 250}.toml", tmp_path / "out"
    job.write_bytes(TEXT)
    words = ["draw", str(job), "--out", str(out), *QUICKLY]
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 2
    assert len(done.stderr.splitlines()) == 1
    assert not out.exists() or not list(out.iterdir())
