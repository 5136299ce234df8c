"""Publishing: a set is put in place whole, or nothing changes."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from shopdraw.errors import NotProved, NotPublished
from shopdraw.output import publish as publishing
from tests.whole_sets import held, put

OLD = {"a.txt": b"old a", "sheets/b.txt": b"old b"}


NEW = {"a.txt": b"new a", "sheets/c.txt": b"new c"}


def test_a_set_replaces_the_earlier_one_whole(tmp_path: Path) -> None:
    folder = tmp_path / "out" / "den"
    put(OLD, folder)
    assert held(folder) == OLD
    put(NEW, folder)
    assert held(folder) == NEW
    assert [path.name for path in folder.parent.iterdir()] == ["den"]


@pytest.mark.parametrize("failing", ["write", "rename"])
def test_a_failure_leaves_the_earlier_set_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    folder = tmp_path / "den"
    put(OLD, folder)
    calls = {"count": 0}

    def fail_second(*_: object) -> None:
        calls["count"] += 1
        if calls["count"] == 2:
            raise OSError(28, "No space left on device")

    if failing == "write":
        monkeypatch.setattr(publishing.os, "fsync", fail_second)
    else:
        rename = Path.rename

        def failing_rename(self: Path, target: Path) -> Path:
            fail_second()
            return rename(self, target)

        monkeypatch.setattr(publishing, "_exchanged", lambda *_: False)
        monkeypatch.setattr(Path, "rename", failing_rename)
    with pytest.raises(NotPublished, match="No space left"):
        put(NEW, folder)
    monkeypatch.undo()
    assert held(folder) == OLD
    put(NEW, folder)
    assert held(folder) == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["den"]


def test_what_a_killed_run_left_is_put_right(tmp_path: Path) -> None:
    folder = tmp_path / "den"
    put(OLD, folder)
    folder.rename(work(folder) / publishing.OLD)
    (work(folder, "abc") / publishing.NEW).mkdir()
    put(NEW, folder)
    assert held(folder) == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["den"]


@pytest.mark.parametrize("name", ["../x", "/x", "a/../../x", "", "a\\b"])
def test_no_file_goes_outside_its_folder(tmp_path: Path, name: str) -> None:
    with pytest.raises(NotPublished, match="lies outside"):
        put({name: b""}, tmp_path / "den")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("lacking", ["the library", "the function", "the file system"])
def test_where_two_folders_can_t_change_places_they_are_renamed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, lacking: str
) -> None:
    class System:
        if lacking == "the file system":
            renameat2 = staticmethod(lambda *_: -1)

    def load(*_: object, **__: object) -> System:
        if lacking == "the library":
            raise OSError(2, "No such file or directory")
        return System()

    put(OLD, tmp_path / "den")
    monkeypatch.setattr("ctypes.CDLL", load)
    put(NEW, tmp_path / "den")
    assert held(tmp_path / "den") == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["den"]


def test_a_killed_run_loses_nothing_though_the_next_one_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "den"
    put(OLD, folder)
    folder.rename(work(folder) / publishing.OLD)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(publishing.os, "fsync", full)
    with pytest.raises(NotPublished, match="No space left"):
        put(NEW, folder)
    assert held(folder) == OLD


def work(folder: Path, name: str = "xyz") -> Path:
    """Make the folder beside a set's that a killed run left."""
    left = folder.parent / f".{folder.name}.new-{name}"
    left.mkdir()
    (left / publishing.MARK).write_bytes(publishing.SAYS)
    return left


@pytest.mark.parametrize(
    "name", [".den.new-draft", ".den.old-draft", ".den.new-12345678"]
)
def test_somebody_s_own_folder_called_like_what_a_run_leaves_is_left_alone(
    tmp_path: Path, name: str
) -> None:
    mine = tmp_path / name
    mine.mkdir()
    (mine / "letter.txt").write_bytes(b"mine")
    (tmp_path / f"{name}.txt").write_bytes(b"mine too")
    put(OLD, tmp_path / "den")
    put(NEW, tmp_path / "den")
    assert held(tmp_path / "den") == NEW
    assert held(mine) == {"letter.txt": b"mine"}
    assert sorted(x.name for x in tmp_path.iterdir()) == [name, f"{name}.txt", "den"]


def test_somebody_s_own_file_called_like_a_lock_is_left_alone(tmp_path: Path) -> None:
    lock = tmp_path / ".den.lock"
    lock.write_bytes(b"mine")
    put(OLD, tmp_path / "den")
    put(NEW, tmp_path / "den")
    assert held(tmp_path / "den") == NEW
    assert lock.read_bytes() == b"mine"
    # One that is empty may be what a killed run left, and holds nothing to lose.
    lock.write_bytes(b"")
    put(OLD, tmp_path / "den")
    assert not lock.exists()


@pytest.mark.parametrize("kind", ["folder", "link", "queue"])
def test_what_is_called_like_a_lock_and_is_no_file_is_refused(
    tmp_path: Path, kind: str
) -> None:
    folder, lock = tmp_path / "den", tmp_path / ".den.lock"
    put(OLD, folder)
    (tmp_path / "letter.txt").write_bytes(b"mine")
    if kind == "folder":
        lock.mkdir()
    elif kind == "link":
        lock.symlink_to("letter.txt")
    else:
        os.mkfifo(lock)
    with pytest.raises(NotPublished, match=r"\.den\.lock: is no plain file"):
        put(NEW, folder)
    assert held(folder) == OLD
    assert (tmp_path / "letter.txt").read_bytes() == b"mine"
    assert lock.is_symlink() or lock.exists()


def test_somebody_s_own_file_called_like_what_a_run_leaves_is_left_alone(
    tmp_path: Path,
) -> None:
    for name in (".index.html.new-draft", ".den.new-draft"):
        (tmp_path / name).write_bytes(b"mine")
    publishing.publish_file("index.html", b"page", tmp_path, lambda _: True)
    put(NEW, tmp_path / "den")
    assert (tmp_path / ".index.html.new-draft").read_bytes() == b"mine"
    assert (tmp_path / ".den.new-draft").read_bytes() == b"mine"


@pytest.mark.parametrize("lost", ["the mark", "all but a part of the mark"])
def test_of_what_a_killed_run_left_nothing_stays(tmp_path: Path, lost: str) -> None:
    """It may be killed before the mark is there, and after all else is gone."""
    left = work(tmp_path / "den")
    (left / publishing.MARK).write_bytes(publishing.SAYS[:7])
    if lost == "the mark":
        (left / publishing.MARK).unlink()
    put(NEW, tmp_path / "den")
    assert [path.name for path in tmp_path.iterdir()] == ["den"]


@pytest.mark.parametrize("step", range(1, 9))
@pytest.mark.parametrize("failing", ["rename", "rmtree", "unlink", "rmdir", "release"])
def test_what_is_said_of_a_failure_is_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: str, step: int
) -> None:
    """Refused: the earlier set is there. Once the new one is, nothing is refused."""
    folder = tmp_path / "den"
    put(OLD, folder)
    where: dict[str, tuple[object, str]] = {
        "rename": (Path, "rename"),
        "rmtree": (publishing.shutil, "rmtree"),
        "unlink": (Path, "unlink"),
        "rmdir": (Path, "rmdir"),
        "release": (publishing.FileLock, "release"),
    }
    there, name = where[failing]
    real, calls = getattr(there, name), {"count": 0}

    def fail(*words: object, **more: object) -> object:
        calls["count"] += 1
        if calls["count"] == step:
            raise OSError(5, "Input/output error")
        return real(*words, **more)

    with monkeypatch.context() as patch:
        patch.setattr(publishing, "_exchanged", lambda *_: False)
        patch.setattr(there, name, fail)
        try:
            put(NEW, folder)
        except NotPublished:
            assert held(folder) == OLD
        else:
            assert held(folder) == NEW
    put(NEW, folder)
    assert held(folder) == NEW


def test_what_can_not_be_put_back_waits_for_the_next_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "den"
    put(OLD, folder)
    real, calls = Path.rename, {"count": 0}

    def fail(self: Path, target: Path) -> Path:
        calls["count"] += 1
        if calls["count"] > 1:
            raise OSError(5, "Input/output error")
        return real(self, target)

    with monkeypatch.context() as patch:
        patch.setattr(publishing, "_exchanged", lambda *_: False)
        patch.setattr(Path, "rename", fail)
        with pytest.raises(NotPublished, match="Input/output"):
            put(NEW, folder)
        assert not folder.exists()
        (left,) = tmp_path.iterdir()
        assert held(left / publishing.OLD) == OLD
    put(NEW, folder)
    assert held(folder) == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["den"]


def test_a_folder_may_have_any_name(tmp_path: Path) -> None:
    """Brackets and stars in it match nothing but themselves."""
    (tmp_path / ".d.new-x").mkdir()
    for name in ("[draft] d*", "d?n"):
        put(OLD, tmp_path / name)
        (tmp_path / name).rename(work(tmp_path / name) / publishing.OLD)
        put(NEW, tmp_path / name)
        assert held(tmp_path / name) == NEW
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names == [".d.new-x", "[draft] d*", "d?n"]


def test_a_file_that_no_set_writes_stays(tmp_path: Path) -> None:
    folder = tmp_path / "den"
    put(OLD, folder)
    (folder / "photos").mkdir()
    (folder / "photos" / "before.jpg").write_bytes(b"mine")
    (folder / "sheets" / "marked.pdf").write_bytes(b"mine too")
    (folder / "link").symlink_to("nowhere")
    put(NEW, folder)
    mine = {"photos/before.jpg": b"mine", "sheets/marked.pdf": b"mine too"}
    assert held(folder) == NEW | mine
    assert (folder / "link").is_symlink()


def test_a_folder_that_is_a_file_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "den").write_bytes(b"a file")
    with pytest.raises(NotPublished, match="is a file") as caught:
        put(NEW, tmp_path / "den")
    assert "\n" not in str(caught.value)
    assert held(tmp_path) == {"den": b"a file"}


def test_a_parent_that_is_a_file_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"a file")
    with pytest.raises(NotPublished, match="cannot be written") as caught:
        put(NEW, tmp_path / "out" / "den")
    assert "\n" not in str(caught.value)
    assert held(tmp_path) == {"out": b"a file"}


def test_two_runs_at_once_leave_one_whole_set(tmp_path: Path) -> None:
    folder = tmp_path / "den"
    sets = [
        {f"sheets/{row}.txt": bytes([65 + run]) * 2000 for row in range(20)}
        for run in range(6)
    ]
    with ThreadPoolExecutor(6) as pool:
        list(pool.map(lambda files: put(files, folder), sets))
    assert held(folder) in sets
    assert [path.name for path in tmp_path.iterdir()] == ["den"]


def test_what_is_proved_is_what_is_on_the_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "den"
    put(OLD, folder)
    read = Path.read_bytes
    spoil: Callable[[Path], bytes] = lambda path: read(path)[:-1]  # noqa: E731

    def prove(written: Mapping[str, bytes]) -> None:
        if dict(written) != NEW:
            raise NotProved(("not what was to be written",))

    with monkeypatch.context() as patch:
        patch.setattr(Path, "read_bytes", spoil)
        with pytest.raises(NotProved):
            put(NEW, folder, prove)
    assert held(folder) == OLD
    put(NEW, folder, prove)
    assert held(folder) == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["den"]
