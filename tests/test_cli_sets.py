"""`draw` over a set that is there: what goes, what stays, and what is said of it."""

from __future__ import annotations

import json
import re
import shutil
from hashlib import sha256
from pathlib import Path

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from shopdraw.cli import main
from tests.whole_sets import held, write_job

pytestmark = pytest.mark.usefixtures("coarse")
CUT = r"(?ms)^\[{}\].*?(?=^\[)"
"""A table of the job file, to its end."""
AWAY = "Taken away, of the set before:"
ASIDE = "Set aside, changed since they were drawn:"
LEFT = "Left, perhaps of a set from another job file:"


@pytest.fixture(scope="module")
def monday(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Path:
    """Return a place with a job file and its set, drawn whole."""
    request.getfixturevalue("coarse")
    place = tmp_path_factory.mktemp("monday")
    said = draw(write_job(place, "7"))
    assert not any(line in said for line in (AWAY, ASIDE, LEFT))
    return place


@pytest.fixture
def job(monday: Path, tmp_path: Path) -> Path:
    """Return the job file of a copy of that."""
    return Path(shutil.copytree(monday, tmp_path / "here")) / "den.toml"


def draw(*jobs: Path, sheets: str = "") -> str:
    """Draw, in this process alone; return what is said."""
    out = ("--out", str(jobs[0].parent / "out"), "--workers", "1")
    picked = ("--sheets", sheets) if sheets else ()
    done = CliRunner().invoke(main, ["draw", *map(str, jobs), *out, *picked])
    assert done.exit_code == 0, done.output
    return done.stdout


def told(said: str, heading: str) -> list[str]:
    """Return the names that stand below a heading."""
    lines = said.partition(f"{heading}\n")[2].splitlines()
    last = next((n for n, x in enumerate(lines) if not x.startswith("  ")), len(lines))
    return [line.strip() for line in lines[:last]]


def set_of(job: Path) -> Path:
    return job.parent / "out" / job.stem


def cut(job: Path, *tables: str) -> None:
    """Take tables out of a job file."""
    text = job.read_text("utf-8")
    for table in tables:
        text, count = re.subn(CUT.format(table), "", text)
        assert count == 1
    job.write_text(text, "utf-8")


def unlike_manifest(folder: Path, job: Path) -> list[str]:
    """Name the files that are not as the manifest has them, or not in it."""
    record = json.loads((folder / "set.json").read_text("utf-8"))
    digest = sha256(job.read_bytes()).hexdigest()
    wrong = [] if record["drawn_from"]["job_file"] == digest else ["drawn_from"]
    found = {name: sha256(data).hexdigest() for name, data in held(folder).items()}
    wrong += [x for x in found if found[x] != record["files"].get(x)]
    return [*wrong, *(record["files"].keys() - found.keys())]


def test_a_set_s_manifest_is_of_its_files_and_its_job_file(job: Path) -> None:
    """Damage: a file more, one less, another one, another job file."""
    folder = set_of(job)
    assert unlike_manifest(folder, job) == []
    (folder / "mine.txt").write_bytes(b"")
    (folder / "labels.pdf").unlink()
    (folder / "takeoff.csv").write_bytes(b"")
    job.write_text(job.read_text("utf-8") + "# later\n", "utf-8")
    wrong = ["drawn_from", "mine.txt", "takeoff.csv", "labels.pdf"]
    assert unlike_manifest(folder, job) == wrong


def test_a_paper_whose_table_left_the_job_goes(job: Path) -> None:
    there = held(set_of(job)).keys()
    cut(job, "labels", "schedule")
    said = draw(job)
    gone = ["labels.pdf", "schedule.ics"]
    assert there - held(set_of(job)).keys() == set(gone)
    assert told(said, AWAY) == gone
    assert unlike_manifest(set_of(job), job) == []


def test_sheets_drawn_alone_leave_none_of_another_job_file(job: Path) -> None:
    there = held(set_of(job)).keys()
    job.write_text(job.read_text("utf-8") + "# later\n", "utf-8")
    said = draw(job, sheets="ticket")
    now = held(set_of(job)).keys()
    assert "ticket.pdf" in now
    assert not {"story-pole.pdf", "set.pdf", "sheets/A-201-elevation.dxf"} & now
    assert told(said, AWAY) == sorted(there - now)
    assert unlike_manifest(set_of(job), job) == []


def test_sheets_drawn_alone_join_those_of_the_same_job_file(job: Path) -> None:
    there = held(set_of(job))
    said = draw(job, sheets="ticket")
    assert held(set_of(job)) == there
    assert told(said, AWAY) == []
    assert unlike_manifest(set_of(job), job) == []


def test_sheets_drawn_alone_have_a_pdf_of_their_own(job: Path) -> None:
    """The whole set's stays as it is, until the job file changes."""
    there = held(set_of(job))
    said = draw(job, sheets="elevation")
    now = held(set_of(job))
    assert {name for name in now if now[name] != there.get(name)} == {"part.pdf"}
    assert told(said, AWAY) == []
    assert len(PdfReader(set_of(job) / "part.pdf").pages) == 1
    assert unlike_manifest(set_of(job), job) == []
    draw(job)
    assert held(set_of(job)) == there


def test_what_was_changed_and_what_is_somebody_s_own_is_kept(job: Path) -> None:
    folder = set_of(job)
    (folder / "ticket.pdf").write_bytes(b"marked")
    (folder / "sheets" / "photo.png").write_bytes(b"photo")
    said = draw(job, sheets="ticket")
    assert told(said, ASIDE) == ["ticket.pdf, now ticket.changed.pdf"]
    assert (folder / "ticket.changed.pdf").read_bytes() == b"marked"
    assert (folder / "sheets" / "photo.png").read_bytes() == b"photo"
    assert unlike_manifest(folder, job) == ["sheets/photo.png", "ticket.changed.pdf"]


def test_over_a_set_without_a_manifest_it_is_said_what_is_left(job: Path) -> None:
    """The picture of a sheet said nothing of itself in those days."""
    folder = set_of(job)
    (folder / "set.json").unlink()
    (folder / "sheets" / "A-301-returns.png").write_bytes(b"no word")
    said = draw(job, sheets="ticket")
    assert told(said, LEFT) == ["sheets/A-301-returns.png"]
    assert {"labels.pdf", "story-pole.pdf"} < set(told(said, AWAY))


def test_of_many_jobs_the_summary_counts_it(job: Path) -> None:
    other = Path(shutil.copy(job, job.with_name("study.toml")))
    cut(job, "labels")
    (set_of(job) / "ticket.pdf").write_bytes(b"marked")
    said = draw(job, other, sheets="ticket").splitlines()
    assert re.fullmatch(r".*den.toml: \d+ files, \d+ taken away, 1 set aside", said[0])
    assert re.fullmatch(r".*study.toml: \d+ files", said[1])
