"""`remeasure` and `compare` at the door: what is printed and written, exit codes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from shopdraw.cli import main
from shopdraw.job.reading import read_job
from shopdraw.pipeline import solve
from shopdraw.quantities.comparing import compare_jobs
from tests.demos import CONFIGS

LIBRARY = CONFIGS / "library-hearth.toml"


def run(*words: str):
    return CliRunner().invoke(main, words)


def test_remeasure_prints_the_corrected_marks_and_writes_nothing(
    tmp_path: Path,
) -> None:
    job = tmp_path / "den.toml"
    job.write_bytes(LIBRARY.read_bytes())
    result = run("remeasure", str(job), "--course", "7", "--top", "18 11/16 in")
    assert result.exit_code == 0, result.output
    assert "corrected above course 7" in result.output
    assert '1\'-6 11/16"  +3/16"  laid' in result.output
    assert sorted(path.name for path in tmp_path.iterdir()) == ["den.toml"]


def test_remeasure_writes_a_new_revision_and_leaves_the_old_set(tmp_path: Path) -> None:
    job, out = tmp_path / "den.toml", tmp_path / "out"
    job.write_bytes(LIBRARY.read_bytes())
    words = ("remeasure", str(job), "--course", "7", "--left", "18 5/8 in", "--right",
             "18 11/16 in", "--out", str(out))  # fmt: skip
    assert run("draw", str(job), "--out", str(out)).exit_code == 0
    before = {p: p.read_bytes() for p in (out / "den").rglob("*") if p.is_file()}
    assert run(*words).exit_code == 0
    assert {p: p.read_bytes() for p in before} == before
    assert job.read_bytes() == LIBRARY.read_bytes()
    revised = read_job(out / "den-1" / "den-1.toml")
    assert (revised.job.revision, revised.laid[0].course) == ("1", 7)
    assert (out / "den-1" / "set.pdf").exists()
    # A cloud is drawn about the courses that lie otherwise than they were planned.
    (entry,) = revised.revision
    plan, after = solve(read_job(job)), solve(revised)
    tops = {course.number: course.top for course in plan.coursing.courses}
    moved = [c.number for c in after.coursing.courses if c.top != tops[c.number]]
    assert (entry.mark, entry.says) == ("1", "measured again at course 7")
    assert list(entry.courses) == moved
    again = run(*words)
    assert again.exit_code == 2
    assert "never written over" in again.output


def test_remeasure_as_json_holds_the_changes() -> None:
    result = run("remeasure", str(LIBRARY), "--course", "7", "--top", "18 11/16 in",
                 "--json")  # fmt: skip
    record = json.loads(result.output)
    assert record["changes"][6] == {"course": 7, "joint": pytest.approx(3 / 112),
                                    "top": 0.1875}  # fmt: skip
    assert [c["is_laid"] for c in record["coursing"]["courses"][:8]] == [True] * 7 + [
        False
    ]


def test_remeasure_of_what_can_not_be_is_a_line_and_exit_2() -> None:
    for words in (
        ("--course", "7"),
        ("--course", "7", "--left", "18 in"),
        ("--course", "7", "--top", "1 in"),
        ("--course", "7", "--top", "eighteen"),
    ):
        result = run("remeasure", str(LIBRARY), *words)
        assert result.exit_code == 2
        assert result.output.count("\n") == 1, result.output


def test_what_can_not_land_any_more_lists_the_ways_out() -> None:
    result = run("remeasure", str(LIBRARY), "--course", "9", "--top", "24 5/8 in")
    assert result.exit_code == 1
    assert "MISSED" in result.output
    assert "Ways out, each of which lands" in result.output


def test_compare_ranks_what_lands_first_and_is_the_same_twice() -> None:
    first = run("compare", str(LIBRARY), "--json")
    assert first.exit_code == 0
    assert first.output == run("compare", str(LIBRARY), "--json").output
    rows = json.loads(first.output)
    lands = [row["lands"] for row in rows if not row["why_not"]]
    assert lands == sorted(lands, reverse=True)
    assert {row["bond"] for row in rows} == {"half", "third", "stack"}
    table = run("compare", str(LIBRARY), "--size", "roman", "--bond", "half")
    assert table.output.count("half") == 2


def test_compare_agrees_with_the_jobs_own_solution() -> None:
    job = read_job(LIBRARY)
    own = next(
        one
        for one in compare_jobs(job, ("modular",), ("half",))
        if one.size == "modular"
    )
    solution = solve(job)
    assert own.lands == solution.coursing.lands
    assert own.departure == solution.coursing.merit.departure
    assert own.smallest == solution.layout.least_piece
    cut = [p for p in solution.layout.pieces if p.is_cut or p.is_trimmed]
    assert own.cuts == len(cut)
    assert own.different_cuts == len({piece.mark for piece in cut})
    assert own.units == solution.takeoff.row("all units").order


def test_compare_of_an_unknown_size_is_a_line_and_exit_2() -> None:
    result = run("compare", str(LIBRARY), "--size", "colossal")
    assert result.exit_code == 2
    assert "colossal is none of modular" in result.output
