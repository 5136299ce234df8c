"""Many jobs drawn at once: the same bytes, a summary, and the worst exit code."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from functools import partial
from pathlib import Path

import pytest
from click.testing import CliRunner

from shopdraw.cli import main
from shopdraw.output.sharing import make_each
from tests.demos import CONFIGS

ROOT = CONFIGS.parent


def held(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_many_jobs_are_each_drawn_and_summed_up(tmp_path: Path) -> None:
    """Two that draw, one that misses, one with a fault, one not there."""
    bad = tmp_path / "bad.toml"
    bad.write_text("[job]\nnam = 'x'\n")
    good, misses = CONFIGS / "library-hearth.toml", CONFIGS / "cannot-land.toml"
    words = [good, misses, bad, tmp_path / "nowhere.toml"]
    picked = ["--sheets", "ticket", "--workers"]
    out = tmp_path / "out"
    done = subprocess.run(
        [sys.executable, "-m", "shopdraw", "draw", *words, *picked, "2", "--out", out],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
    )
    assert done.returncode == 2
    assert f"{bad}, line 2: job.nam" in done.stderr
    assert f"{tmp_path / 'nowhere.toml'}: does not exist" in done.stderr
    assert f"{misses}: " in done.stdout
    assert "targets missed: 2" in done.stdout
    assert "4 jobs" in done.stdout
    assert (
        "1 drawn, 1 drawn with failed findings or missed targets, 2 not drawn."
        in done.stdout
    )
    drawn = [misses.stem, "index.html", good.stem]
    assert sorted(path.name for path in out.iterdir()) == drawn
    index = (out / "index.html").read_text()
    for words in ("bad.toml: not drawn", "nowhere.toml: not drawn", "job.nam"):
        assert words in index
    assert "<b>opening head</b>" in index

    alone = tmp_path / "alone"
    words = ["draw", str(good), "--out", str(alone), *picked, "1"]
    assert CliRunner().invoke(main, words).exit_code == 0
    assert held(out / good.stem) == held(alone / good.stem)
    assert [path.name for path in alone.iterdir()] == [good.stem]


def test_two_jobs_for_one_folder_are_refused_before_any_is_drawn(
    tmp_path: Path,
) -> None:
    for name in ("a", "b"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "den.toml").write_bytes(
            (CONFIGS / "library-hearth.toml").read_bytes()
        )
    words = [str(tmp_path / name / "den.toml") for name in ("a", "b")]
    out = tmp_path / "out"
    done = CliRunner().invoke(main, ["draw", *words, "--out", str(out)])
    assert done.exit_code == 2
    assert done.stderr.splitlines() == [
        f"{words[0]} and {words[1]}: both sets would go to {out / 'den'}"
    ]
    assert not out.exists()


def test_a_set_may_not_have_the_name_of_the_index(tmp_path: Path) -> None:
    (tmp_path / "Index.html.toml").write_text("")
    words = [str(tmp_path / "Index.html.toml"), "b.toml"]
    done = CliRunner().invoke(main, ["draw", *words, "--out", str(tmp_path / "out")])
    assert done.exit_code == 2
    assert "its set would have the name of the index" in done.stderr
    assert not (tmp_path / "out").exists()


def numbered(number: int) -> int:
    return number


def stopped() -> int:
    os.kill(os.getpid(), signal.SIGKILL)
    return 0


def failing() -> int:
    message = "broken"
    raise ValueError(message)


@pytest.mark.parametrize("workers", [1, 2])
def test_what_brings_its_process_down_takes_no_other_with_it(workers: int) -> None:
    tasks = {str(n): partial(numbered, n) for n in range(4)}
    tasks["stopped"] = partial(stopped)
    tasks["failing"] = partial(failing)
    tasks |= {str(n): partial(numbered, n) for n in range(4, 6)}
    made = dict(make_each(tasks, workers))
    expected = {str(n): n for n in range(6)}
    assert made == {**expected, "stopped": None, "failing": None}


def test_a_job_whose_process_breaks_off_is_not_drawn(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The summary says so, and the command's exit code is the worst."""
    monkeypatch.setattr("shopdraw.cli.drawing._tried", broken_off)
    done = CliRunner().invoke(
        main, ["draw", "a.toml", "b.toml", "--out", str(tmp_path)]
    )
    assert done.exit_code == 2
    assert "a.toml: not drawn: its process stopped early" in done.stderr
    assert (
        "0 drawn, 0 drawn with failed findings or missed targets, 2 not drawn."
        in done.stdout
    )


def broken_off(*_words: object) -> None:
    os.kill(os.getpid(), signal.SIGKILL)
