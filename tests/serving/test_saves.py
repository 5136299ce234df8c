"""Every save is noticed, however it is made; half a save, and none, are not."""

from __future__ import annotations

import os
import queue
from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Thread
from time import monotonic, sleep
from typing import Any

import pytest

from shopdraw.serving import saves as module
from shopdraw.serving.saves import saves

LONG = 10.0
"""So long a save is waited for; it takes far less."""


class Seen:
    """What was yielded, gathered by a thread."""

    def __init__(self, path: Path) -> None:
        self._queue: queue.Queue[bytes | None] = queue.Queue()
        Thread(target=self._gather, args=(path,), daemon=True).start()

    def _gather(self, path: Path) -> None:
        for held in saves(path, 100):
            self._queue.put(held)

    def next(self) -> bytes | None:
        return self._queue.get(timeout=LONG)

    def nothing(self, seconds: float) -> bool:
        sleep(seconds)
        return self._queue.empty()


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "den.toml"
    path.write_bytes(b"first")
    return path


def written(path: Path, data: bytes) -> None:
    path.write_bytes(data)


def renamed(path: Path, data: bytes) -> None:
    other = path.with_name("other")
    other.write_bytes(data)
    other.replace(path)


def moved_away_first(path: Path, data: bytes) -> None:
    path.rename(path.with_name("den.toml~"))
    path.write_bytes(data)


def in_two_halves(path: Path, data: bytes) -> None:
    with path.open("wb") as file:
        file.flush()
        sleep(0.1)
        file.write(data)


WAYS = [written, renamed, moved_away_first, in_two_halves]


@pytest.mark.parametrize("save", WAYS)
def test_a_save_is_noticed(job: Path, save: Callable[[Path, bytes], None]) -> None:
    """Also one whose length and time of writing are as before."""
    seen = Seen(job)
    assert seen.next() == b"first"
    times = job.stat().st_mtime_ns, job.stat().st_mtime_ns
    save(job, b"other")
    os.utime(job, ns=times)
    assert seen.next() == b"other"
    assert seen.nothing(0.1)


def test_what_is_saved_as_it_was_is_no_save(job: Path) -> None:
    seen = Seen(job)
    assert seen.next() == b"first"
    job.write_bytes(b"first")
    (job.parent / "letter.txt").write_bytes(b"mine")
    assert seen.nothing(0.2)


def test_a_file_that_goes_and_comes_back(job: Path) -> None:
    seen = Seen(job)
    assert seen.next() == b"first"
    job.unlink()
    assert seen.next() is None
    job.mkdir()
    job.rmdir()
    job.write_bytes(b"again")
    assert seen.next() == b"again"
    job.write_bytes(b"")
    assert seen.next() == b""


def test_a_file_that_is_too_large_is_not_read_whole(job: Path) -> None:
    job.write_bytes(b"x" * 1000)
    assert Seen(job).next() == b"x" * 101


class Deaf:
    """An observer on a system that tells nothing."""

    def schedule(self, *_: Any) -> None:
        raise OSError(28, "no watches left")


def test_where_nothing_is_told_it_is_looked_at(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "Observer", Deaf)
    monkeypatch.setattr(module, "LOOK", 0.05)
    seen = Seen(job)
    assert seen.next() == b"first"
    job.write_bytes(b"other")
    assert seen.next() == b"other"


def test_where_something_is_told_nobody_waits_for_the_next_look(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With `Deaf` in its place this would take the whole hour."""
    monkeypatch.setattr(module, "LOOK", 3600.0)
    seen = Seen(job)
    assert seen.next() == b"first"
    begun = monotonic()
    job.write_bytes(b"other")
    assert seen.next() == b"other"
    assert monotonic() - begun < LONG


def test_reading_stirs_nothing_by_itself(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The system tells of our own reading too, which must not lead to another."""
    read = [0]
    plain = module._read

    def counted(path: Path, most: int) -> bytes | None:
        # Of the tests before this one some still look.
        read[0] += path == job
        return plain(path, most)

    monkeypatch.setattr(module, "_read", counted)
    monkeypatch.setattr(module, "LOOK", 3600.0)
    seen = Seen(job)
    seen.next()
    sleep(0.3)
    before = read[0]
    sleep(0.3)
    assert read[0] == before
    monkeypatch.setattr(module, "OUR_OWN", set[str]())
    job.write_bytes(b"other")
    seen.next()
    sleep(0.3)
    assert read[0] > before + 6


def test_it_ends_when_it_is_closed(job: Path) -> None:
    each: Iterator[bytes | None] = saves(job, 100)
    assert next(each) == b"first"
    each.close()  # type: ignore[attr-defined]
