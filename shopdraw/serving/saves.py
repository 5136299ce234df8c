"""Notice each time that a file is saved.

In:  a path.   Out: what the file holds, each time that it has changed.
Frame: none; times in seconds.

The folder is watched, not the file: many editors save by putting another file in its
place. Whatever stirs there, the file is read and held against what it held before, so
that nothing hangs on how a system tells its events. Where a system tells none (a disc
on the network, a link) it is looked at once a second.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event
from time import monotonic, sleep

from watchdog.events import (
    EVENT_TYPE_CLOSED_NO_WRITE,
    EVENT_TYPE_OPENED,
    FileSystemEvent,
    FileSystemEventHandler,
)
from watchdog.observers import Observer

LOOK = 1.0
"""So often the file is looked at though nothing stirs."""
STILL = 0.02
"""For so long a file must hold the same before it is taken to be saved."""
GRACE = 0.3
"""For so long a file may be empty or away while it is saved."""
OUR_OWN = {EVENT_TYPE_OPENED, EVENT_TYPE_CLOSED_NO_WRITE}
"""What reading a file stirs."""


def saves(path: Path, most: int) -> Iterator[bytes | None]:
    """Yield what a file holds, at once and whenever it has changed; never ends.

    Args:
        path: of the file.
        most: so many bytes are read, and one more where there are more.

    Yields:
        Its bytes; None where there is no such file. Of saves that follow one another
        before the next is asked for, only the last.
    """
    stirred = Event()
    with _told(path, stirred):
        held = _settled(path, most)
        yield held
        while True:
            stirred.wait(LOOK)
            stirred.clear()
            now = _settled(path, most)
            if now != held:
                held = now
                yield held


def _settled(path: Path, most: int) -> bytes | None:
    """Read a file once it holds still; one that is empty or away gets some time."""
    begun, held = monotonic(), _read(path, most)
    while True:
        sleep(STILL)
        before, held = held, _read(path, most)
        if held == before and (held or monotonic() - begun > GRACE):
            return held


def _read(path: Path, most: int) -> bytes | None:
    try:
        # A pipe would be waited for.
        if not path.is_file():
            return None
        with path.open("rb") as file:
            return file.read(most + 1)
    except OSError:
        return None


class _Stirs(FileSystemEventHandler):
    """Tells that something in the folder was written, moved, made or taken away."""

    def __init__(self, stirred: Event) -> None:
        self._stirred = stirred

    def on_any_event(self, event: FileSystemEvent) -> None:
        """Pass on what may be a save."""
        if event.event_type not in OUR_OWN:
            self._stirred.set()


@contextmanager
def _told(path: Path, stirred: Event) -> Iterator[None]:
    """Be told of what happens in a file's folder, where the system tells it."""
    observer = Observer()
    try:
        observer.schedule(_Stirs(stirred), str(path.resolve().parent))
        observer.start()
    except OSError:
        # Too many are watched already, or the folder can't be: it is looked at then.
        yield
        return
    try:
        yield
    finally:
        observer.stop()
