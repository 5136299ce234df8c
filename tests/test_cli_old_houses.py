"""`remeasure` and `compare` at the door: what is printed and written, exit codes."""

from __future__ import annotations

import json
from pathlib import Path
from statistics import stdev

import pytest
from click.testing import CliRunner

from shopdraw.catalog.rows import brick_sizes
from shopdraw.cli import main
from shopdraw.job.reading import read_job
from shopdraw.pipeline import solve
from shopdraw.quantities.comparing import PATTERNS, compare_jobs
from shopdraw.views.parts.stamps import stamps
from tests.demos import CONFIGS, solution_of
from tests.test_cli_sets import unlike_manifest
from tests.whole_sets import held, put

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
    assert '1\'-6 11/16"  +3/16"  measured' in result.output
    assert sorted(path.name for path in tmp_path.iterdir()) == ["den.toml"]


@pytest.mark.usefixtures("coarse")
def test_remeasure_writes_a_new_revision_and_leaves_the_old_set(
    tmp_path: Path, library: dict[str, bytes]
) -> None:
    """The revision's job file lies in its set, and is somebody's own."""
    job, out = tmp_path / "den.toml", tmp_path / "out"
    job.write_bytes(LIBRARY.read_bytes())
    words = ("remeasure", str(job), "--course", "7", "--left", "18 5/8 in", "--right",
             "18 11/16 in", "--out", str(out))  # fmt: skip
    put(library, out / "den")
    before = {p: p.read_bytes() for p in (out / "den").rglob("*") if p.is_file()}
    first = run(*words)
    assert first.exit_code == 0
    # The next reading goes on from it.
    next_job = out / "den-1" / "den-1.toml"
    assert f"Next: shopdraw remeasure {next_job}" in first.output.splitlines()
    assert {p: p.read_bytes() for p in before} == before
    assert job.read_bytes() == LIBRARY.read_bytes()
    revised = read_job(next_job)
    assert (revised.job.revision, revised.laid[0].course) == ("1", 7)
    assert (out / "den-1" / "set.pdf").exists()
    # A cloud is drawn about the courses that lie otherwise than they were planned.
    (entry,) = revised.revision
    plan, after = solution_of("library-hearth"), solve(revised)
    planned = {course.number: course for course in plan.coursing.courses}
    moved = [
        c.number
        for c in after.coursing.courses
        if c.number >= 7
        and (c.top, c.bed_joint) != (planned[c.number].top, planned[c.number].bed_joint)
    ]
    # The joint that takes the last of it back is among them, its course on plan again.
    last = after.coursing.courses[moved[-1] - 1]
    assert last.top == planned[last.number].top
    assert (entry.mark, entry.says) == ("1", "measured again at course 7")
    assert list(entry.courses) == moved
    again = run(*words)
    assert again.exit_code == 2
    assert "never written over" in again.output
    # It is a set. Drawn again where it lies, its job file is not taken for the set's.
    folder, file = out / "den-1", out / "den-1" / "den-1.toml"
    assert f"Wrote {len(held(folder)) + 1} files to {folder}." in first.output
    assert unlike_manifest(folder, file) == [file.name]
    text = file.read_text("utf-8") + "# later\n"
    file.write_text(text, "utf-8")
    ticket = ("draw", str(file), "--out", str(out), "--sheets", "ticket")
    assert run(*ticket, "--workers", "1").exit_code in (0, 1)
    assert file.read_text("utf-8") == text
    assert unlike_manifest(folder, file) == [file.name]


def test_remeasure_as_json_holds_the_changes() -> None:
    result = run("remeasure", str(LIBRARY), "--course", "7", "--top", "18 11/16 in",
                 "--json")  # fmt: skip
    record = json.loads(result.output)
    # Nobody measured the courses below it: its joint is no figure of anyone's.
    assert record["changes"][6] == {"course": 7, "joint": None, "top": 0.1875}
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


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("7", "--top", "16 in"), "1'-4\" from the datum"),
        (("7", "--top", "30 11/16 in"), "2'-6 11/16\" from the datum"),
        (("7", "--left", "18 1/2 in", "--right", "17 1/8 in"), "1'-5 1/8\" from"),
    ],
)
def test_a_slip_of_the_tape_is_told_and_nothing_is_written(
    tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    out = tmp_path / "out"
    asked = ("remeasure", str(LIBRARY), "--course", *words)
    result = run(*asked, "--out", str(out))
    assert result.exit_code == 2
    assert result.stderr.startswith(f"course 7: {said}")
    # Brick of 2 1/4, six joints of 1/4 to 1/2, the bottom one, a step of 1/16 to spare.
    low, high = "1'-5 7/16\" at the least", "1'-7 9/16\" at the most"
    for told in (low, high, "1'-6 1/2\" was"):
        assert told in result.stderr
    assert not out.exists()
    # It may be so all the same: then it is failed.
    taken = run(*asked, "--anyway")
    assert taken.exit_code == 1
    assert "FAILED       reading of course 7, taken although doubted" in taken.output


@pytest.mark.usefixtures("coarse")
def test_a_reading_that_is_taken_although_doubted_is_kept_and_stamped(
    tmp_path: Path,
) -> None:
    out = tmp_path / "out"
    words = ("remeasure", str(LIBRARY), "--course", "7", "--top", "16 in")
    assert run(*words, "--anyway", "--out", str(out)).exit_code == 1
    revised = out / "library-hearth-1" / "library-hearth-1.toml"
    assert read_job(revised).laid[0].doubted
    assert "READING DOUBTED: COURSE 7" in stamps(solve(read_job(revised)))


def test_a_reading_in_doubt_is_reckoned_from_the_course_measured_below() -> None:
    words = ("remeasure", str(LIBRARY), "--course", "6", "--top", "16 in")
    assert run(*words).exit_code != 2
    result = run(*words, "--course", "7", "--top", "19 1/2 in")
    assert result.exit_code == 2
    assert "above course 6 the joints that the job allows" in result.stderr


SAMPLE = """
[brick.sample]
heights = ["2 1/8 in", "2 3/8 in", "2 1/8 in", "2 3/8 in", "2 1/8 in",
           "2 3/8 in", "2 1/8 in", "2 3/8 in", "2 1/8 in", "2 3/8 in"]
lengths = ["7 5/8 in", "7 5/8 in", "7 5/8 in", "7 5/8 in", "7 5/8 in",
           "7 5/8 in", "7 5/8 in", "7 5/8 in", "7 5/8 in", "7 5/8 in"]
"""
"""Brick of 2 1/4 on the mean, whose heights deviate by 0.132: statistics.stdev."""


def in_doubt(job: Path, top: str) -> str:
    """Return what is told of a top of course 3, from the course 2 below it on."""
    words = ("--course", "2", "--top", "5 1/4 in", "--course", "3", "--top", top)
    result = run("remeasure", str(job), *words)
    return result.stderr if result.exit_code == 2 else ""


def test_a_course_a_joint_step_too_high_is_no_slip_of_the_tape() -> None:
    # 5 1/4, brick of 2 1/4, the widest joint of 1/2: 8, and a step of 1/16 past it.
    assert not in_doubt(LIBRARY, "8 1/16 in")
    assert '8 1/16" at the most, with 1/16" each way' in in_doubt(LIBRARY, "8 1/8 in")


def test_brick_that_vary_are_no_slip_of_the_tape(tmp_path: Path) -> None:
    job = tmp_path / "varied.toml"
    text = LIBRARY.read_text("utf-8")
    job.write_text(text.replace("[setting_bed]", f"{SAMPLE}[setting_bed]", 1), "utf-8")
    # One course wanders by 2 x 0.132 x sqrt(1 + 1/10) = 0.277: to 8.339 in all.
    heights = [2.125, 2.375] * 5
    far = 8 + 1 / 16 + 2 * stdev(heights) * 1.1**0.5
    assert 8 + 5 / 16 < far < 8 + 3 / 8
    assert not in_doubt(job, "8 5/16 in")
    assert in_doubt(job, "8 3/8 in")


def test_what_can_not_land_any_more_lists_the_ways_out() -> None:
    result = run("remeasure", str(LIBRARY), "--course", "9", "--top", "24 5/8 in")
    assert result.exit_code == 1
    assert "MISSED" in result.output
    assert "Ways out; with any one of them the courses land" in result.output


def test_compare_ranks_what_lands_first_and_is_the_same_twice() -> None:
    words = ("compare", str(LIBRARY), "--size", "roman", "--json")
    first = run(*words)
    assert first.exit_code == 0
    rows = json.loads(first.output)
    for bond in PATTERNS:
        some = [row for row in rows if row["bond"] == bond]
        lands = [row["lands"] for row in some if not row["why_not"]]
        assert some
        assert lands == sorted(lands, reverse=True)
    # Where no size is asked for, all are there.
    all_sizes = ("compare", str(LIBRARY), "--bond", "stack", "--json")
    every = json.loads(run(*all_sizes).output)
    assert {row["size"] for row in every} == {row.name for row in brick_sizes("in")}
    few = ("compare", str(LIBRARY), "--size", "roman", "--bond", "half")
    table = run(*few)
    assert table.output == run(*few).output
    assert "In half bond, the job's own, the best first:" in table.output
    assert table.output.count("as the job is") == 1
    assert "In stack" not in table.output


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
    assert own.smallest == solution.layout.least_piece.measured
    cut = [p for p in solution.layout.pieces if p.is_cut or p.is_trimmed]
    assert own.cuts == len(cut)
    assert own.different_cuts == len({piece.mark for piece in cut})
    assert own.units == solution.takeoff.row("all units").order


def test_compare_of_an_unknown_size_is_a_line_and_exit_2() -> None:
    result = run("compare", str(LIBRARY), "--size", "colossal")
    assert result.exit_code == 2
    assert "can't be colossal; write one of modular" in result.output


def test_what_nobody_measured_is_not_told_as_measured(tmp_path: Path) -> None:
    laid = (
        '\n[[laid]]\ncourse = 3\ntop = "8 in"\nmeasured_on = 2026-05-04\n'
        '\n[[laid]]\ncourse = 4\ntop = "10 5/8 in"\n'
    )
    job = tmp_path / "den.toml"
    job.write_text(LIBRARY.read_text("utf-8") + laid, "utf-8")
    table = run("check", str(job)).output.splitlines()
    coursing = table[: table.index("Targets:")]
    rows = {line.split()[0]: line for line in coursing if line[:7].isspace()}
    # Courses 1 and 2 lie where the plan had them, as near as anybody knows.
    assert rows["2"].split()[2:6] == ["-", "-", "about", "5"]
    assert rows["2"].endswith("laid, not measured")
    # The third was measured, but not what lies below it; below the fourth all was.
    assert rows["3"].split()[2:5] == ["-", "-", '8"']
    assert rows["3"].endswith("measured 2026-05-04")
    assert rows["4"].split()[2] == '3/8"'
    assert rows["4"].endswith("measured")
    said = " ".join(table)
    assert "nobody measured courses 1 to 2." in said
    assert 'Bed joints from the bottom up: 3/8" under courses 4 to ' in said
    assert "The bottom joint is" not in said


def test_remeasure_gives_no_change_of_what_nobody_measured() -> None:
    result = run("remeasure", str(LIBRARY), "--course", "4", "--top", "10 3/4 in")
    rows = [line.split() for line in result.output.splitlines()[2:7]]
    assert [row[:2] for row in rows] == [
        *[["1", "-"], ["2", "-"], ["3", "-"], ["4", "-"]],
        ["5", '3/8"'],
    ]
    assert rows[2][-3:] == ["laid,", "not", "measured"]
    assert rows[3][-2:] == ['+1/4"', "measured"]


def test_a_job_file_with_no_place_for_a_revision_is_a_line(tmp_path: Path) -> None:
    text = LIBRARY.read_text("utf-8")
    start, end = text.index("[job]"), text.index("[face]")
    about = [line for line in text[start:end].splitlines() if "=" in line]
    lines = [f"job.{line}" for line in about if not line.startswith("#")]
    job, out = tmp_path / "den.toml", tmp_path / "out"
    job.write_text("\n".join(lines) + "\n" + text[:start] + text[end:], "utf-8")
    words = ("remeasure", str(job), "--course", "7", "--top", "18 11/16 in")
    assert run(*words).exit_code == 0
    result = run(*words, "--out", str(out))
    assert result.exit_code == 2
    assert 'there is no line to write the next one, "1", on' in result.output
    assert not out.exists()


def test_a_wrong_level_is_not_laid_at_the_files_door() -> None:
    result = run("remeasure", str(LIBRARY), "--course", "7", "--top", "18\n[x]")
    assert result.exit_code == 2
    assert result.output.count("\n") == 1
    assert "library-hearth.toml, with the courses given: laid[1].top" in result.output


def test_compare_says_that_each_is_laid_as_drawn() -> None:
    words = ("compare", str(LIBRARY), "--size", "modular", "--bond", "third")
    assert "Each is solved as the job would be drawn with it" in run(*words).output


def test_remeasure_lists_what_fails_and_what_is_not_checked(tmp_path: Path) -> None:
    text = LIBRARY.read_text("utf-8")
    job = tmp_path / "den.toml"
    low = text.replace('bottom = "34 7/8 in"', 'bottom = "29 in"')
    assert low != text
    job.write_text(low, "utf-8")
    result = run("remeasure", str(job), "--course", "7", "--top", "18 11/16 in")
    assert result.exit_code == 1
    assert "  FAILED       combustible trim, distance" in result.output
    assert "  NOT CHECKED  " in result.output
    assert "  PASSED  " not in result.output


def test_the_starters_figures_pass_nothing_that_was_not_measured(
    tmp_path: Path,
) -> None:
    job = tmp_path / "den.toml"
    assert run("new", str(job)).exit_code == 0
    said = run("check", str(job)).output
    for rule in ("hearth extension, front", "combustible trim", "hearth fall"):
        lines = [line for line in said.splitlines() if rule in line]
        assert any("NOT CHECKED" in line for line in lines), rule
        assert not any("PASSED" in line for line in lines), rule
