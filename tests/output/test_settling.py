"""A set is one set: what was there before goes, stays, or is set aside."""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path

import pytest

from shopdraw.drawing.set import DrawnFrom
from shopdraw.output.manifest import list_files, read_manifest, write_manifest
from shopdraw.output.publish import publish
from shopdraw.output.settling import Settled
from shopdraw.output.write import PAGE, sheet_stem
from shopdraw.output.write import PART as PART_PDF
from shopdraw.views.papers.asked import DRAWN
from tests.demos import set_of
from tests.whole_sets import MANIFEST, MONDAY, held, listed, put

TUESDAY = DrawnFrom(MONDAY.program, "2" * 64)
LATER = DrawnFrom("shopdraw 2", MONDAY.job_file)
NO_FILE = DrawnFrom(MONDAY.program, "")

WHOLE = {
    "labels.pdf": b"labels",
    "sheets/01-front.dxf": b"front",
    "sheets/02-plans.dxf": b"plans",
    "ticket.pdf": b"ticket",
}
PART = {"sheets/01-front.dxf": b"front", "takeoff.csv": b"takeoff"}
FEWER = {"sheets/01-front.dxf": b"front, higher", "ticket.pdf": b"ticket, longer"}
OTHERS = ("labels.pdf", "sheets/02-plans.dxf", "ticket.pdf")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a folder that holds Monday's whole set."""
    put(WHOLE, tmp_path / "den")
    return tmp_path / "den"


def digests(files: dict[str, bytes]) -> dict[str, str]:
    return {name: sha256(data).hexdigest() for name, data in files.items()}


def test_a_set_carries_a_manifest_of_its_files_and_what_it_is_drawn_from(
    folder: Path,
) -> None:
    assert json.loads((folder / MANIFEST).read_bytes()) == {
        "drawn_from": {"program": "shopdraw 1", "job_file": "1" * 64},
        "files": digests(WHOLE),
    }
    again = write_manifest(list_files(dict(reversed(WHOLE.items())), MONDAY))
    assert (folder / MANIFEST).read_bytes() == again


# The set before.


@pytest.mark.parametrize("of", [MONDAY, TUESDAY], ids=["same", "other"])
def test_what_the_set_before_had_and_this_one_has_not_is_taken_away(
    folder: Path, of: DrawnFrom
) -> None:
    settled = put(FEWER, folder, of=of)
    assert held(folder) == FEWER
    assert listed(folder) == digests(FEWER)
    assert settled == Settled(away=("labels.pdf", "sheets/02-plans.dxf"))


@pytest.mark.parametrize("of", [TUESDAY, LATER], ids=["job file", "program"])
def test_part_of_a_set_never_stands_beside_drawings_of_another(
    folder: Path, of: DrawnFrom
) -> None:
    settled = put(PART, folder, of=of, is_whole=False)
    assert held(folder) == PART
    assert settled == Settled(away=OTHERS)


def test_part_of_a_set_joins_what_is_of_the_same_job_file_and_program(
    folder: Path,
) -> None:
    settled = put(PART, folder, is_whole=False)
    assert held(folder) == {**WHOLE, **PART}
    assert listed(folder) == digests({**WHOLE, **PART})
    assert settled.joined == tuple((name, digests(WHOLE)[name]) for name in OTHERS)
    # They are of that set from then on, and go with it.
    settled = put(PART, folder, of=TUESDAY, is_whole=False)
    assert held(folder) == PART
    assert settled.away == OTHERS


def test_sets_from_no_file_are_not_of_the_same_one(tmp_path: Path) -> None:
    put(WHOLE, tmp_path / "den", of=NO_FILE)
    put(PART, tmp_path / "den", of=NO_FILE, is_whole=False)
    assert held(tmp_path / "den") == PART


# What a person changed.


@pytest.mark.parametrize("is_whole", [True, False])
@pytest.mark.parametrize("of", [MONDAY, TUESDAY], ids=["same", "other"])
def test_what_was_changed_since_is_set_aside_under_a_name_that_says_so(
    folder: Path, of: DrawnFrom, is_whole: bool
) -> None:
    """One that is written again, and one that is not."""
    (folder / "ticket.pdf").write_bytes(b"ticket, marked")
    (folder / "labels.pdf").write_bytes(b"labels, marked")
    settled = put(FEWER, folder, of=of, is_whole=is_whole)
    files = held(folder)
    assert settled.aside == (
        ("labels.pdf", "labels.changed.pdf"),
        ("ticket.pdf", "ticket.changed.pdf"),
    )
    assert files["ticket.changed.pdf"] == b"ticket, marked"
    assert files["labels.changed.pdf"] == b"labels, marked"
    assert files["ticket.pdf"] == FEWER["ticket.pdf"]
    assert "labels.pdf" not in files
    # It is somebody's own now: in no manifest, and never touched again.
    assert not {"ticket.changed.pdf", "labels.changed.pdf"} & set(listed(folder))
    assert put(WHOLE, folder, of=of).aside == ()
    assert held(folder)["ticket.changed.pdf"] == b"ticket, marked"


def test_a_second_change_is_numbered(folder: Path) -> None:
    (folder / "Ticket.CHANGED.pdf").write_bytes(b"somebody's own")
    for mark in (b"one", b"two"):
        (folder / "ticket.pdf").write_bytes(mark)
        put(WHOLE, folder)
    mine = {
        "Ticket.CHANGED.pdf": b"somebody's own",
        "ticket.changed-2.pdf": b"one",
        "ticket.changed-3.pdf": b"two",
    }
    assert held(folder) == {**WHOLE, **mine}


def test_a_change_to_just_what_is_written_is_none(folder: Path) -> None:
    (folder / "ticket.pdf").write_bytes(FEWER["ticket.pdf"])
    assert put(FEWER, folder).aside == ()
    assert held(folder) == FEWER


# What is a person's own.


def test_somebody_s_own_file_stays_wherever_it_lies(folder: Path) -> None:
    mine = {
        "sheets/99-photo.dxf": b"of the same kind as the sheets",
        "sheets/old/02-plans.dxf": b"plans",
        "letter.txt": b"letter",
        "labels (copy).pdf": WHOLE["labels.pdf"],
    }
    for name, data in mine.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_bytes(data)
    for is_whole in (True, False):
        settled = put(FEWER, folder, of=TUESDAY, is_whole=is_whole)
        assert held(folder) == {**FEWER, **mine}
        assert set(settled.own) == set(mine)
        assert listed(folder) == digests(FEWER)


def test_somebody_s_own_file_under_a_name_of_the_set_is_set_aside(
    folder: Path,
) -> None:
    (folder / "takeoff.csv").write_bytes(b"my own")
    settled = put(PART, folder, of=TUESDAY)
    assert held(folder) == {**PART, "takeoff.changed.csv": b"my own"}
    assert settled.aside == (("takeoff.csv", "takeoff.changed.csv"),)


def test_what_is_not_in_the_manifest_is_somebody_s_from_then_on(tmp_path: Path) -> None:
    """So is a job file that is written beside its set."""
    folder, job = tmp_path / "den-B", {"den-B.toml": b"revision B"}
    publish({**WHOLE, **job}, folder, list_files(WHOLE, MONDAY))
    (folder / "den-B.toml").write_bytes(b"revision B, wider")
    put(FEWER, folder, of=TUESDAY)
    assert held(folder) == {**FEWER, "den-B.toml": b"revision B, wider"}


def test_a_file_that_was_deleted_is_not_missed(folder: Path) -> None:
    (folder / "labels.pdf").unlink()
    assert put(PART, folder, is_whole=False).away == ()
    assert "labels.pdf" not in listed(folder)


@pytest.mark.parametrize("is_there", [True, False])
def test_a_link_by_a_name_of_a_set_is_looked_through_by_nobody(
    tmp_path: Path, is_there: bool
) -> None:
    """It may lead nowhere. It gives way where the set writes; else it stays."""
    folder, elsewhere = tmp_path / "den", tmp_path / "elsewhere"
    if is_there:
        elsewhere.write_bytes(write_manifest(list_files(WHOLE, MONDAY)))
    folder.mkdir()
    for name in (MANIFEST, "takeoff.csv", "labels.pdf"):
        (folder / name).symlink_to(elsewhere)
    settled = put(PART, folder)
    assert settled == Settled(own=("labels.pdf",))
    assert (folder / "labels.pdf").is_symlink()
    (folder / "labels.pdf").unlink()
    assert held(folder) == PART
    assert listed(folder) == digests(PART)
    assert elsewhere.exists() == is_there


# Without a manifest.

SAYS = b"shopdraw 0.1.0 / 8e488e4c391f"
UNLISTED = {
    "labels.pdf": b"%PDF-1.4 /Producer (shopdraw 0.1.0)",
    "schedule.ics": b"BEGIN:VCALENDAR\r\nPRODID:-//shopdraw//0.1.0//EN\r\n",
    "sheets/01-front.dxf": b"  1\n" + SAYS + b"\n",
    "sheets/01-front.png": b"no word",
    # In a picture a checksum follows at once, which may begin with a letter.
    "sheets/02-plans.dxf": b"  1\n" + SAYS + b"K",
    "sheets/02-plans.png": b"no word",
    "solution.json": b'{\n "drawn_from": {\n  "program": "shopdraw 0.1.0",\n',
    "takeoff.csv": b"ITEM\r\n",
}
MINE = {"sheets/photo.png": b"no word", "letter.txt": SAYS, "copy/set.pdf": SAYS}


def lay(files: dict[str, bytes], folder: Path) -> None:
    """Have files lie in a folder, without a manifest."""
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)


@pytest.mark.parametrize("is_whole", [True, False])
def test_a_set_without_a_manifest_is_known_by_what_its_files_say(
    tmp_path: Path, is_whole: bool
) -> None:
    """What says nothing is written over, or left, and that is told."""
    folder = tmp_path / "den"
    lay({**UNLISTED, **MINE}, folder)
    settled = put(PART, folder, is_whole=is_whole)
    left = dict.fromkeys(("sheets/01-front.png", "sheets/02-plans.png"), b"no word")
    assert held(folder) == {**PART, **MINE, **left}
    assert settled.doubted == tuple(left)
    assert settled.away == (
        *("labels.pdf", "schedule.ics", "sheets/02-plans.dxf", "solution.json"),
    )
    assert settled.aside == ()


def test_every_file_that_a_set_may_have_is_known_by_its_name(tmp_path: Path) -> None:
    """One that no set writes any more would stay beside the drawings of another day."""
    folder = tmp_path / "den"
    drawn = set_of("semicircular-dining-room")
    papers = {f"{name}.pdf" for name in (*DRAWN, "labels", *dict(drawn.papers))}
    tables = {f"{table.name}.csv" for table in drawn.tables}
    sheets = {f"{sheet_stem(x)}.{end}" for x in drawn.sheets for end in ("dxf", "png")}
    names = papers | tables | sheets | {"set.pdf", PART_PDF, PAGE, "schedule.ics"}
    lay(dict.fromkeys(names, SAYS), folder)
    settled = put({"solution.json": b"{}"}, folder)
    assert set(settled.away) == names
    assert held(folder) == {"solution.json": b"{}"}


def test_where_no_set_was_nothing_is_written_over(tmp_path: Path) -> None:
    folder = tmp_path / "den"
    lay({"takeoff.csv": b"my own", "ticket.pdf": b"my own"}, folder)
    settled = put(PART, folder)
    assert settled == Settled(
        own=("ticket.pdf",), aside=(("takeoff.csv", "takeoff.changed.csv"),)
    )
    mine = {"takeoff.changed.csv": b"my own", "ticket.pdf": b"my own"}
    assert held(folder) == {**PART, **mine}


NO_MANIFESTS = (
    b"",
    b"{}",
    b"[]",
    b"\xff",
    b"[" * 100_000,
    b'{"drawn_from": {"program": "p"}, "files": {}}',
    b'{"drawn_from": {"program": "p", "job_file": 1}, "files": {}}',
    b'{"drawn_from": {"program": "p", "job_file": "1"}, "files": []}',
    b'{"drawn_from": {"program": "p", "job_file": "1"}, "files": {"a": 1}}',
)


@pytest.mark.parametrize("data", NO_MANIFESTS, ids=lambda data: str(data[:12]))
def test_what_is_no_manifest_is_taken_for_none_and_set_aside(
    tmp_path: Path, data: bytes
) -> None:
    assert read_manifest(data) is None
    folder = tmp_path / "den"
    lay({**UNLISTED, MANIFEST: data}, folder)
    settled = put(PART, folder)
    assert settled.aside == ((MANIFEST, "set.changed.json"),)
    assert (folder / "set.changed.json").read_bytes() == data
    assert listed(folder) == digests(PART)


def test_a_manifest_is_read_as_it_was_written() -> None:
    manifest = list_files(WHOLE, MONDAY)
    assert read_manifest(write_manifest(manifest)) == manifest
