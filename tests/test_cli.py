"""The door: commands, what they print, what they write, and their exit codes."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from shopdraw.cli import main

CONFIGS = Path(__file__).resolve().parent.parent / "configs"
LIBRARY = CONFIGS / "library-hearth.toml"


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def test_new_writes_a_starter_that_lands_and_is_clear(tmp_path: Path) -> None:
    job = tmp_path / "den.toml"
    assert run("new", str(job)).exit_code == 0
    result = run("check", str(job))
    assert result.exit_code == 0
    assert "MISSED" not in result.stdout
    assert "FAILED" not in result.stdout


def test_new_never_overwrites(tmp_path: Path) -> None:
    job = tmp_path / "den.toml"
    job.write_text("mine")
    result = run("new", str(job))
    assert result.exit_code == 2
    assert result.stderr == f"{job}: exists already; name another file\n"
    assert job.read_text() == "mine"


def test_new_in_a_folder_that_is_not_there_is_one_line(tmp_path: Path) -> None:
    result = run("new", str(tmp_path / "no" / "den.toml"))
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1


def test_check_prints_the_coursing_and_writes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run("check", str(LIBRARY))
    assert result.exit_code == 0
    # By hand: 27 in less ten bricks of 2 1/4 leaves 4 1/2 for eleven joints.
    assert re.search(r"11 +stretcher +7/16\" +2'-3\" +2'-5 1/4\"", result.stdout)
    assert re.search(r"opening head +underside +2'-3\" +2'-3\"  lands", result.stdout)
    assert not list(tmp_path.iterdir())


def test_check_json_holds_what_was_solved() -> None:
    result = run("check", str(LIBRARY), "--json")
    record = json.loads(result.stdout)
    assert [x["name"] for x in record["coursing"]["targets"]] == [
        "opening head",
        "top",
        "soldier top",
    ]
    assert all(target["miss"] == 0 for target in record["coursing"]["targets"])
    assert record["coursing"]["order_of_merit"]["misses"] == [0, 0, 0]
    pieces = record["layout"]["pieces"]
    assert len({piece["id"] for piece in pieces}) == len(pieces)
    takeoff = {row["item"]: row for row in record["takeoff"]}
    assert takeoff["all units"]["laid"] == len(pieces)
    assert sum(row["count"] for row in record["cut_list"]) == len(pieces)


def test_a_job_that_cannot_land_exits_1_with_three_ways_out() -> None:
    result = run("check", str(CONFIGS / "cannot-land.toml"))
    assert result.exit_code == 1
    assert "MISSED by 3/16 in" in result.stdout
    assert (
        "  3. "
        in result.stdout.split("Ways out; with any one of them the courses land:")[1]
    )


def test_every_way_out_lands_when_it_is_put_into_the_job_file() -> None:
    from shopdraw.job.reading import read_job
    from shopdraw.pipeline import solve

    job = read_job(CONFIGS / "cannot-land.toml")
    ways = solve(job).ways_out
    assert len(ways) >= 3
    for way in ways:
        edited = job
        for key, value in way.edits:
            edited = edited.edited(key, value)
        assert solve(edited).coursing.lands, way.says


def test_three_mistakes_are_three_lines_and_nothing_is_written(tmp_path: Path) -> None:
    text = LIBRARY.read_text().replace('width = "34 in"', "width = 34")
    text = text.replace("step   =", "stepp =").replace('scale = "fit"', 'scale = "big"')
    job = tmp_path / "den.toml"
    job.write_text(text)
    out = tmp_path / "out"
    result = run("draw", str(job), "--out", str(out))
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 3
    assert all(line.startswith(f"{job}, line ") for line in result.stderr.splitlines())
    assert result.stdout == ""
    assert not out.exists()


@pytest.mark.usefixtures("coarse")
def test_draw_writes_the_set_and_says_what_it_wrote(tmp_path: Path) -> None:
    out = tmp_path / "the drawings"
    result = run("draw", str(LIBRARY), "--out", str(out), "--workers", "1")
    assert result.exit_code == 0
    names = [
        str(path.relative_to(out / "library-hearth"))
        for path in (out / "library-hearth").rglob("*")
        if path.is_file()
    ]
    assert {"set.pdf", "surround.dxf", "solution.json", "cut-list.csv"} <= set(names)
    assert f"Wrote {len(names)} files to {out / 'library-hearth'}:" in result.stdout
    record = json.loads((out / "library-hearth" / "solution.json").read_text())
    assert record == json.loads(run("check", str(LIBRARY), "--json").stdout)


def test_a_set_that_cannot_be_written_is_one_line_and_changes_nothing(
    tmp_path: Path,
) -> None:
    (tmp_path / "out").write_text("a file, not a folder")
    words = ("draw", str(LIBRARY), "--sheets", "story-pole")
    result = run(*words, "--out", str(tmp_path / "out"))
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert (tmp_path / "out").read_text() == "a file, not a folder"


def test_a_scale_at_which_no_division_fits_is_refused(tmp_path: Path) -> None:
    job = tmp_path / "den.toml"
    text = LIBRARY.read_text().replace('size = "ARCH C"', 'size = "ANSI A"')
    job.write_text(text.replace('scale = "fit"', 'scale = "1:2"'))
    result = run("draw", str(job), "--out", str(tmp_path / "out"))
    assert result.exit_code == 2
    assert result.stderr == (
        'sheet.scale: the elevation does not fit at HALF SIZE; write "fit"\n'
    )
    assert not (tmp_path / "out").exists()


LONG_BRICK = """
[job]
name = "Long brick"
lengths = "in"
[face]
width = "80 in"
height = "40 in"
[opening]
width = "30 in"
height = "24 in"
[brick]
length = "40 in"
height = "12 in"
thickness = "1 in"
[sheet]
size = "ARCH A"
"""


def test_a_piece_too_large_for_a_sheet_is_told_in_one_line(tmp_path: Path) -> None:
    job = tmp_path / "den.toml"
    job.write_text(LONG_BRICK)
    result = run("draw", str(job), "--out", str(tmp_path / "out"))
    assert result.exit_code == 2
    assert result.stderr == (
        "sheet.size: a part of the cut pieces is larger than a sheet; "
        "give larger paper\n"
    )
    assert not (tmp_path / "out").exists()


def test_sizes_lists_every_row_with_its_source() -> None:
    result = run("sizes")
    assert result.exit_code == 0
    for name in ("modular", "uk-65", "irc-2015", "canada-nbc", "ARCH C", "A2"):
        assert f"  {name} " in result.stdout
    assert "read in the source" in result.stdout
    assert "second-hand" in result.stdout


@pytest.mark.parametrize("words", [["--help"], ["sizes", "--help"], ["--version"]])
def test_help_answers_without_loading_what_is_heavy(words: list[str]) -> None:
    code = (
        "import sys\n"
        "from shopdraw.cli import main\n"
        f"try: main({words!r})\n"
        "except SystemExit: pass\n"
        "heavy = {'pydantic', 'ezdxf', 'matplotlib', 'shapely', 'pint', 'numpy'}\n"
        "print(sorted(heavy & set(sys.modules)))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "[]"


def test_a_bad_job_is_refused_without_loading_what_draws(tmp_path: Path) -> None:
    job = tmp_path / "den.toml"
    job.write_text("[job]\n")
    code = (
        "import sys\n"
        "from shopdraw.cli import main\n"
        f"try: main(['draw', {str(job)!r}])\n"
        "except SystemExit as end: print(end.code)\n"
        "print(sorted({'ezdxf', 'matplotlib', 'shapely'} & set(sys.modules)))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines() == ["2", "[]"]
