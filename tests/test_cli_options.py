"""`options` at the door: what it writes, whole or not at all, and what it refuses."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from PIL import Image
from pypdf import PdfReader

from shopdraw.cli import main
from shopdraw.drawing.choices import Choices
from shopdraw.errors import NotProved
from shopdraw.job.reading import read_job
from shopdraw.output.choices import differences, make_files, write_choices
from shopdraw.pipeline import offer, solve
from tests.output.test_photo import marks_in, save, view
from tests.views.papers.test_options import BARE, LONG, OWN, PRICED, STACK, TIGHT

pytestmark = pytest.mark.usefixtures("coarse")


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def write(folder: Path, options: str, *, photo: bool = False, tables: str = "") -> Path:
    path = folder / "snug.toml"
    text = BARE.format(lengths="in", tables=tables)
    if not photo:
        text = text.replace('photo = "a.jpg"', "").replace(
            "photo_corners = [[20, 10], [180, 14], [176, 140], [24, 150]]", ""
        )
    path.write_text(text + options, encoding="utf-8")
    return path


def take(folder: Path, turn: int = 6) -> Path:
    """Save a photograph of 200 by 160 dots, on its side, that says where it was."""
    return save(folder / "a.jpg", view(200, 160), turn, "JPEG")


def drawn(job: Path) -> Result:
    return run("options", job, "--out", job.parent / "out")


def test_it_writes_pages_for_paper_and_screen_and_says_what_is_on_them(
    tmp_path: Path,
) -> None:
    job = write(tmp_path, OWN + LONG, tables=PRICED)
    done = drawn(job)
    assert done.exit_code == 0, done.output
    folder = tmp_path / "out" / "snug-options"
    names = {path.name for path in folder.iterdir()}
    assert names == {"options.pdf", "options.html", "set.json"}
    assert "As it is:" in done.stdout
    assert "PARTIAL: this is no price yet. Not reckoned: flat units" in done.stdout
    paper = " ".join(
        page.extract_text() for page in PdfReader(folder / "options.pdf").pages
    )
    screen = (folder / "options.html").read_text("utf-8")
    for words in ("As it is", "Long", "Not reckoned: flat units"):
        assert words in " ".join(paper.split())
        assert words in screen
    assert list(tmp_path.glob("out/*")) == [folder]


def test_the_manifest_names_job_file_and_photograph_and_every_file(
    tmp_path: Path,
) -> None:
    job, photo = write(tmp_path, OWN + STACK, photo=True), take(tmp_path)
    assert drawn(job).exit_code == 0
    folder = tmp_path / "out" / "snug-options"
    manifest = json.loads((folder / "set.json").read_text("utf-8"))
    assert manifest["drawn_from"]["job_file"] == sha256(job.read_bytes()).hexdigest()
    assert manifest["drawn_from"]["photo"] == sha256(photo.read_bytes()).hexdigest()
    assert manifest["files"] == {
        path.name: sha256(path.read_bytes()).hexdigest()
        for path in folder.iterdir()
        if path.name != "set.json"
    }
    assert {"room-1.jpg", "room-2.jpg"} < set(manifest["files"])


def test_another_photograph_is_another_set(tmp_path: Path) -> None:
    job, photo = write(tmp_path, OWN, photo=True), take(tmp_path)
    drawn(job)
    manifest = tmp_path / "out" / "snug-options" / "set.json"
    before = json.loads(manifest.read_text("utf-8"))
    save(photo, view(200, 160).rotate(180), 6, "JPEG")
    assert drawn(job).exit_code == 0
    after = json.loads(manifest.read_text("utf-8"))
    assert after["drawn_from"]["photo"] != before["drawn_from"]["photo"]
    assert after["drawn_from"]["job_file"] == before["drawn_from"]["job_file"]
    assert all(after["files"][name] != was for name, was in before["files"].items())


def test_nothing_that_is_written_says_where_the_photograph_was_taken(
    tmp_path: Path,
) -> None:
    job, photo = write(tmp_path, OWN, photo=True), take(tmp_path)
    assert marks_in(photo.read_bytes())
    drawn(job)
    for path in (tmp_path / "out" / "snug-options").iterdir():
        data = path.read_bytes()
        assert marks_in(data) == set(), path.name
    shown = Image.open(
        io.BytesIO((tmp_path / "out" / "snug-options" / "room-1.jpg").read_bytes())
    )
    assert shown.size == (200, 160)


def test_the_same_files_give_the_same_bytes(tmp_path: Path) -> None:
    job = write(tmp_path, OWN + STACK, photo=True)
    take(tmp_path)
    sets = []
    for name in ("one", "two"):
        run("options", job, "--out", tmp_path / name)
        folder = tmp_path / name / "snug-options"
        sets.append({path.name: path.read_bytes() for path in folder.iterdir()})
    assert sets[0] == sets[1]


def test_what_an_earlier_run_wrote_goes_and_what_was_changed_is_kept(
    tmp_path: Path,
) -> None:
    job = write(tmp_path, OWN, photo=True)
    take(tmp_path)
    drawn(job)
    folder = tmp_path / "out" / "snug-options"
    (folder / "options.pdf").write_bytes(b"with a note")
    (folder / "mine.txt").write_text("mine", encoding="utf-8")
    write(tmp_path, OWN)
    assert drawn(job).exit_code == 0
    names = {path.name for path in folder.iterdir()}
    assert "room-1.jpg" not in names
    assert {"mine.txt", "options.changed.pdf", "options.pdf"} <= names


# ------------------------------------------------------------------- exit codes


def test_an_option_that_misses_gives_exit_code_1_and_is_drawn(tmp_path: Path) -> None:
    done = drawn(write(tmp_path, OWN + TIGHT))
    assert done.exit_code == 1
    assert "MISSES the top by 1/2 in" in done.stdout
    assert (tmp_path / "out" / "snug-options" / "options.pdf").exists()


def refused(job: Path) -> list[str]:
    done = drawn(job)
    assert done.exit_code == 2, done.output
    assert not (job.parent / "out").exists()
    return done.stderr.splitlines()


def test_a_job_without_options_is_told_how_to_write_one(tmp_path: Path) -> None:
    job = write(tmp_path, "")
    assert refused(job) == [
        f"{job}: option: is not in the job file; write [[option]], a name, and below "
        "it what differs"
    ]


def test_once_a_course_is_laid_it_is_too_late(tmp_path: Path) -> None:
    job = write(tmp_path, f'{OWN}[[laid]]\ncourse = 1\ntop = "2 11/16 in"\n')
    assert refused(job) == [f"{job}: option: is too late: courses are laid already"]


def test_an_option_that_cant_be_laid_is_told_by_name(tmp_path: Path) -> None:
    soldiers = (
        '[[option]]\nname = "Soldiers"\n[option.opening]\nhead = "soldier"\n'
        'head_bears = "9 in"\n'
    )
    for line in refused(write(tmp_path, OWN + soldiers)):
        assert "option[2]" in line
        assert '"Soldiers"' in line


def test_each_fault_of_the_photograph_is_one_line_with_its_place(
    tmp_path: Path,
) -> None:
    job = write(tmp_path, OWN, photo=True)
    lines = job.read_text("utf-8").splitlines()
    photo = lines.index('photo = "a.jpg"') + 1
    where = f'{job}, line {photo}: appearance.photo: "a.jpg"'
    assert refused(job) == [
        f"{where} is not there; lay the photograph beside the job file"
    ]
    (tmp_path / "a.jpg").write_bytes(b"no picture")
    for command in ("options", "draw"):
        done = run(command, job, "--out", tmp_path / "out")
        assert done.exit_code == 2
        assert done.stderr.splitlines() == [
            f"{where} is no photograph that can be read; write the name of a JPEG or "
            "PNG file"
        ]
    save(tmp_path / "a.jpg", view(150, 160), 6, "JPEG")
    assert refused(job) == [
        f"{job}, line {photo + 1}: appearance.photo_corners: corner 2, [180, 14], lies "
        "outside the photograph, which is 150 by 160 dots"
    ]


# -------------------------------------------------------------- read back, damaged


@pytest.fixture(scope="module")
def choices(tmp_path_factory: pytest.TempPathFactory) -> Choices:
    job = write(tmp_path_factory.mktemp("job"), OWN + STACK)
    read = read_job(job)
    return offer(tuple((name, solve(each)) for name, each in read.options))


@pytest.fixture(scope="module")
def written(choices: Choices) -> dict[str, bytes]:
    return make_files(choices)


def test_what_is_written_holds_what_was_solved(
    choices: Choices, written: dict[str, bytes]
) -> None:
    assert list(differences(choices, written)) == []


@pytest.mark.parametrize(
    ("damage", "said"),
    [
        ((b"7 5/8", b"8 5/8"), "As it is: does not say"),
        ((b"pieces are sawn", b"pieces"), "does not say"),
        ((b">As it is<", b">As it was<"), "does not say 'As it is'"),
        ((b"<article", b"<section"), "options, not 2"),
        ((b"NO APPROVAL IS IMPLIED", b""), "NO APPROVAL IS IMPLIED"),
        ((b'data-digest="', b'data-digest="0'), "the digest is"),
    ],
)
def test_a_page_that_says_something_else_is_noticed(
    choices: Choices,
    written: dict[str, bytes],
    damage: tuple[bytes, bytes],
    said: str,
) -> None:
    files = dict(written)
    page = files["options.html"].replace("\u00a0".encode(), b" ")
    old, new = damage
    assert old in page
    files["options.html"] = page.replace(old, new)
    assert said in " ".join(differences(choices, files))


def test_a_photograph_that_still_says_where_it_was_taken_is_noticed(
    choices: Choices, tmp_path: Path
) -> None:
    files = {**make_files(choices), "room-1.jpg": take(tmp_path).read_bytes()}
    assert list(differences(choices, files)) == ["room-1.jpg: still says APP1"]


def test_what_does_not_prove_itself_is_not_published(
    choices: Choices, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    wrong = replace(choices.choices[0], facts=(("price", "nothing at all"),))
    damaged = replace(choices, choices=(wrong, *choices.choices[1:]))
    made = make_files(choices)
    monkeypatch.setattr("shopdraw.output.choices.make_files", lambda _: made)
    with pytest.raises(NotProved):
        write_choices(damaged, tmp_path / "x")
    assert not (tmp_path / "x").exists()


# ------------------------------------------------------- the photograph in a set


def test_a_set_has_the_photograph_and_its_digest(tmp_path: Path) -> None:
    job, photo = write(tmp_path, "", photo=True), take(tmp_path)
    done = run("draw", job, "--out", tmp_path / "out", "--workers", "1")
    assert done.exit_code == 0, done.output
    folder = tmp_path / "out" / "snug"
    manifest = json.loads((folder / "set.json").read_text("utf-8"))
    assert manifest["drawn_from"]["photo"] == sha256(photo.read_bytes()).hexdigest()
    room = Image.open(io.BytesIO((folder / "room.jpg").read_bytes()))
    assert room.size == (200, 160)
    assert dict(room.getexif()) == {}
    digest = sha256(photo.read_bytes()).hexdigest()[:12]
    assert room.info["comment"].decode().endswith(f"/ photo {digest}")
    assert 'href="room.jpg"' in (folder / "page.html").read_text("utf-8")
    # A part joins what was drawn from the same photograph, and from no other.
    part = ("draw", job, "--out", tmp_path / "out", "--sheets", "appearance")
    run(*part, "--workers", "1")
    assert (folder / "set.pdf").exists()
    save(photo, view(200, 160).rotate(180), 6, "JPEG")
    run(*part, "--workers", "1")
    assert not (folder / "set.pdf").exists()
    assert (folder / "room.jpg").exists()


def test_a_revision_takes_the_photograph_along_without_what_it_says(
    tmp_path: Path,
) -> None:
    job = write(tmp_path, OWN, photo=True)
    text = job.read_text("utf-8").replace("[job]", '[job]\nrevision = "A"')
    job.write_text(text, encoding="utf-8")
    take(tmp_path)
    top = ("--course", "1", "--top", "2 11/16 in")
    done = run("remeasure", job, *top, "--out", tmp_path / "out")
    assert done.exit_code == 0, done.output
    folder = tmp_path / "out" / "snug-B"
    copy = folder / "a.jpg"
    assert marks_in(copy.read_bytes()) == set()
    assert Image.open(io.BytesIO(copy.read_bytes())).size == (200, 160)
    words = ("draw", folder / "snug-B.toml", "--out", tmp_path / "again")
    again = run(*words, "--sheets", "appearance", "--workers", "1")
    assert again.exit_code == 0, again.output


def test_a_check_does_not_open_the_photograph(tmp_path: Path) -> None:
    job = write(tmp_path, OWN + LONG, photo=True)
    (tmp_path / "a.jpg").write_bytes(b"no picture")
    code = (
        "import sys\nfrom shopdraw.cli import main\n"
        f"try:\n    main(['check', {str(job)!r}])\n"
        "except SystemExit as end:\n"
        "    print('PIL' in sys.modules, 'matplotlib' in sys.modules, end.code)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False
    )
    assert done.stdout.splitlines()[-1] == "False False 0", done.stderr
