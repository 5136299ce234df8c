"""Publishing: a set is put in place whole, or nothing changes."""

from __future__ import annotations

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
    folder.rename(tmp_path / ".den.old-xyz")
    (tmp_path / ".den.new-xyz").mkdir()
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
    folder.rename(tmp_path / ".den.old-xyz")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(publishing.os, "fsync", full)
    with pytest.raises(NotPublished, match="No space left"):
        put(NEW, folder)
    assert held(folder) == OLD


def test_a_folder_may_have_any_name(tmp_path: Path) -> None:
    """Brackets and stars in it match nothing but themselves."""
    (tmp_path / ".d.old-x").mkdir()
    for name in ("[draft] d*", "d?n"):
        put(OLD, tmp_path / name)
        (tmp_path / name).rename(tmp_path / f".{name}.old-xyz")
        put(NEW, tmp_path / name)
        assert held(tmp_path / name) == NEW
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names == [".d.old-x", "[draft] d*", "d?n"]


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
