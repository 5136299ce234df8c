"""The door under bad weather: signals, streams, pipes, settings that lie about, modes.

Each command runs in a process of its own, as a person starts it.
"""

from __future__ import annotations

import os
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner

from shopdraw.cli import main
from shopdraw.drawing.set import DrawnFrom
from shopdraw.output.manifest import list_files
from shopdraw.output.publish import publish, publish_file
from tests.demos import CONFIGS

LIBRARY, METRIC = CONFIGS / "library-hearth.toml", CONFIGS / "metric-slips.toml"
ROOT = CONFIGS.parent
MANIFEST = list_files({}, DrawnFrom("", ""))
COMMAND = (sys.executable, "-m", "shopdraw")
SOME = ("--sheets", "story-pole", "--workers", "1")
pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals and modes of POSIX")


def run(
    folder: Path, *words: object, stdout: object = subprocess.PIPE, **more: object
) -> subprocess.CompletedProcess[str]:
    env = {**os.environ, "PYTHONPATH": str(ROOT)} | more.pop("env", {})
    return subprocess.run(
        [*COMMAND, *map(str, words)],
        stdout=stdout, stderr=subprocess.PIPE, text=True, cwd=folder, env=env,
        timeout=60, check=False, **more,
    )  # fmt: skip


# ------------------------------------------------------------------------- Ctrl-C


@pytest.mark.parametrize(
    "words",
    [
        ("draw", LIBRARY),
        ("draw", LIBRARY, METRIC, "--workers", "2"),
    ],
    ids=["one job", "two jobs"],
)
def test_ctrl_c_ends_a_command_at_once_in_one_line(
    tmp_path: Path, words: tuple[object, ...]
) -> None:
    """As a terminal does it: the signal goes to every process of the group."""
    begun = subprocess.Popen(
        [*COMMAND, *map(str, words)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)}, start_new_session=True,
    )  # fmt: skip
    time.sleep(0.9)
    if begun.poll() is not None:
        begun.communicate()
        pytest.skip("it was done sooner")
    sent = time.monotonic()
    os.killpg(begun.pid, signal.SIGINT)
    _, said = begun.communicate(timeout=30)
    assert begun.returncode == 130
    assert time.monotonic() - sent < 2
    lines = [line for line in said.splitlines() if line != "Drawing"]
    assert lines == ["Ended; what is not whole was not put in place."]


# ------------------------------------------------------------------------ streams


@pytest.mark.parametrize(
    ("words", "written"),
    [
        (("--help",), ""),
        (("check", LIBRARY), ""),
        (("new", "den.toml"), "den.toml is written all the same"),
        (("draw", LIBRARY, *SOME), "out/library-hearth is written all the same"),
    ],
    ids=["help", "check", "new", "draw"],
)
def test_a_full_disc_behind_standard_output_is_one_line(
    tmp_path: Path, words: tuple[object, ...], written: str
) -> None:
    with Path("/dev/full").open("w") as full:
        ended = run(tmp_path, *words, stdout=full)
    assert ended.returncode == 2
    (line,) = ended.stderr.splitlines()
    assert line.startswith("standard output: can't be written: ")
    assert line.endswith(written)


def test_a_closed_standard_output_is_one_line(tmp_path: Path) -> None:
    words = " ".join(map(str, (*COMMAND, "check", LIBRARY)))
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    ended = subprocess.run(
        ["sh", "-c", f"{words} >&-"],
        capture_output=True, text=True, cwd=tmp_path, env=env, check=False,
    )  # fmt: skip
    assert ended.returncode == 2
    assert len(ended.stderr.splitlines()) == 1


@pytest.mark.parametrize(("job", "code"), [("library-hearth", 0), ("cannot-land", 1)])
def test_a_reader_that_goes_away_leaves_the_exit_code_alone(
    tmp_path: Path, job: str, code: int
) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    with os.fdopen(writer, "w") as gone:
        ended = run(tmp_path, "check", CONFIGS / f"{job}.toml", stdout=gone)
    assert (ended.returncode, ended.stderr) == (code, "")


def test_where_no_fault_can_be_told_the_exit_code_tells_it(tmp_path: Path) -> None:
    with Path("/dev/full").open("w") as full:
        ended = subprocess.run(
            [*COMMAND, "check", "no.toml"],
            stdout=subprocess.PIPE, stderr=full, cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": str(ROOT)}, check=False,
        )  # fmt: skip
    assert (ended.returncode, ended.stdout) == (2, b"")


# -------------------------------------------------------------------- what is read


def test_a_pipe_and_a_device_are_refused_and_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "den.toml")
    for name in ("den.toml", "/dev/zero"):
        ended = run(tmp_path, "check", name)
        assert ended.returncode == 2
        assert ended.stderr == f"{name}: is a pipe or a device; name a file\n"


def test_a_file_is_refused_by_what_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that grows is longer when it is read than when it was looked at."""
    from shopdraw.errors import BadJob
    from shopdraw.job.file import MOST_BYTES, job_text

    path = tmp_path / "den.toml"
    path.write_bytes(b"#\n" * MOST_BYTES)
    listed = os.stat_result((stat.S_IFREG | 0o644, 0, 0, 1, 0, 0, 2, 0, 0, 0))
    monkeypatch.setattr(Path, "stat", lambda *_, **__: listed)
    with pytest.raises(BadJob, match="is larger than 1 MB"):
        job_text(path)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("a" * 400_000 + " = 1", "has a line of more than 4,000 letters"),
        ("a." * 200_000 + "b = 1", "has a line of more than 4,000 letters"),
        ("\n".join(f"k{n} = 1" for n in range(60_000)), "has more than 5,000 lines"),
    ],
    ids=["one word", "many words", "many keys"],
)
def test_a_key_without_end_is_answered_at_once(
    tmp_path: Path, text: str, wanted: str
) -> None:
    job = tmp_path / "den.toml"
    job.write_text(text)
    begun = time.process_time()
    ended = CliRunner().invoke(main, ["check", str(job)])
    assert ended.exit_code == 2
    assert ended.stderr == f"{job}: {wanted}; a job file is a page or two\n"
    assert time.process_time() - begun < 2


def test_a_hundred_faults_are_told_and_the_rest_counted(tmp_path: Path) -> None:
    text = LIBRARY.read_text("utf-8")
    for number in range(150):
        text = text.replace("[face] ", f"key{number} = 1\n[face] ", 1)
    (tmp_path / "den.toml").write_text(text)
    words = ["check", str(tmp_path / "den.toml")]
    lines = CliRunner().invoke(main, words).stderr.splitlines()
    assert len(lines) == 101
    assert f"{words[1]}: has 50 faults more; these are the first 100" in lines


# ------------------------------------------------------------------------ settings

BROKEN = b"garbage [[ : \n\xff\xfe"
SET = b"font.size: 40\nlines.linewidth: 9\n"
NAMES = ("matplotlibrc", "ezdxf.ini", "reportlab_settings.py", "reportlab_mods.py")


def files_in(folder: Path) -> dict[str, bytes]:
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {str(path.relative_to(folder)): path.read_bytes() for path in files}


def test_settings_of_libraries_that_lie_about_are_not_read(tmp_path: Path) -> None:
    """Broken ones would end the command, others would change the drawings.

    Where there is no home to read them from they are nobody's concern.
    """
    sheets = ("draw", LIBRARY, "--sheets", "elevation", "--workers", "1")
    none = {"HOME": "/dev/null", "XDG_CACHE_HOME": "", "XDG_CONFIG_HOME": ""}
    clean, messy, home = (tmp_path / name for name in ("clean", "messy", "home"))
    for folder in (clean, messy, home / ".config" / "matplotlib"):
        folder.mkdir(parents=True)
    for name in NAMES:
        (messy / name).write_bytes(BROKEN)
    (home / ".config" / "matplotlib" / "matplotlibrc").write_bytes(SET)
    (home / ".reportlab_settings").write_bytes(b"raise SystemExit(7)")
    lying_about = {"HOME": str(home), "XDG_CONFIG_HOME": ""}
    for folder, env in ((clean, none), (messy, lying_about)):
        ended = run(folder, *sheets, env=env)
        assert (ended.returncode, ended.stderr) == (0, "")
    assert files_in(messy / "out") == files_in(clean / "out")


# --------------------------------------------------------------------- what is typed


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (
            ("remeasure", LIBRARY),
            "remeasure: name a course that is laid, with --course and its --top",
        ),
        (
            ("remeasure", LIBRARY, "--course", "0", "--top", "3 in"),
            "--course: 0 is no course; courses are counted from 1",
        ),
        (("new", ""), "the empty name: does not end in .toml; name a file like "
         "den.toml"),
        (("new", "x.pdf"), "x.pdf: does not end in .toml; name a file like den.toml"),
        (("form", "x.toml"), "x.toml: does not end in .pdf; name a file like den.pdf"),
        (("draw", LIBRARY, "--papers", ""), "--papers: names nothing; write one of "
         "quote, costs, bring, stripping, handover"),
        (("draw", LIBRARY, "--out", "a\tb\x1b[31m"), "--out: a?b?[31m has signs in it "
         "that no name should have"),
        (("remeasure", LIBRARY, "--course", "1", "--top", "2 5/8 in", "--out", "a\nb"),
         "--out: a?b has signs in it that no name should have"),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_a_sentence(
    tmp_path: Path, words: tuple[object, ...], line: str
) -> None:
    before = Path.cwd()
    os.chdir(tmp_path)
    try:
        ended = CliRunner().invoke(main, [*map(str, words)])
    finally:
        os.chdir(before)
    assert (ended.exit_code, ended.stderr, ended.stdout) == (2, f"{line}\n", "")
    assert not [*tmp_path.iterdir()]


def test_no_sheets_named_is_a_sentence(tmp_path: Path) -> None:
    words = ["draw", str(LIBRARY), "--sheets", "", "--out", str(tmp_path)]
    ended = CliRunner().invoke(main, words)
    assert ended.exit_code == 2
    assert ended.stderr.startswith("--sheets: names nothing; write one of general, ")
    assert len(ended.stderr.splitlines()) == 1


# --------------------------------------------------------------------------- modes


@pytest.mark.parametrize("mask", [0o077, 0o002, 0o022])
def test_files_and_folders_have_the_modes_that_the_umask_leaves(
    tmp_path: Path, mask: int
) -> None:
    old = os.umask(mask)
    try:
        publish({"a.txt": b"", "sheets/b.txt": b""}, tmp_path / "den", MANIFEST)
        publish_file("index.html", b"", tmp_path, bool)
        CliRunner().invoke(main, ["new", str(tmp_path / "den.toml")])
    finally:
        os.umask(old)
    made = [*tmp_path.rglob("*")]
    assert len(made) == 7
    for path in made:
        usual = 0o777 if path.is_dir() else 0o666
        assert stat.S_IMODE(path.stat().st_mode) == usual & ~mask, path
