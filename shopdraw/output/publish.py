"""Put a whole set of files in place of an earlier one, or change nothing.

In:  file names and bytes, and the folder they are to be in.   Out: the folder.
Frame: none.

The new set is written beside the folder, then swapped for it by renaming. Whatever
goes wrong, the earlier set or the new one is there, whole.
"""

from __future__ import annotations

import fcntl
import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath

from shopdraw.errors import NotPublished

NEW, OLD = ".new-", ".old-"


def publish(files: Mapping[str, bytes], folder: Path) -> None:
    """Write a set of files as one.

    Args:
        files: relative names, with forward slashes, and their bytes.
        folder: holds the set and nothing else; an earlier one is replaced.

    Raises:
        NotPublished: it can't be written; what was there before is still there.
    """
    for name in files:
        _refuse_outside(name)
    try:
        folder = folder.resolve()
        folder.parent.mkdir(parents=True, exist_ok=True)
        if folder.exists() and not folder.is_dir():
            message = f"{folder.name}: is a file; the set needs a folder of that name"
            raise NotPublished(message)
        with _alone(folder):
            _recover(folder)
            _swap(_written(files, folder), folder)
    except OSError as error:
        message = f"{folder}: can't be written: {error.strerror or error}"
        raise NotPublished(message) from None


def _refuse_outside(name: str) -> None:
    path = PurePosixPath(name)
    if path.is_absolute() or ".." in path.parts or not path.parts or "\\" in name:
        message = f"{name}: lies outside the set's folder"
        raise NotPublished(message)


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Let one process at a time replace a folder; the lock goes with the process."""
    lock = folder.parent / f".{folder.name}.lock"
    handle = os.open(lock, os.O_CREAT | os.O_RDWR, 0o644)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        with suppress(OSError):
            lock.unlink()
        os.close(handle)


def _recover(folder: Path) -> None:
    """Clear away what a killed run left, and put back an earlier set it moved."""
    leftovers = sorted(folder.parent.glob(f".{folder.name}{OLD}*"))
    if leftovers and not folder.exists():
        leftovers[-1].rename(folder)
    for prefix in (NEW, OLD):
        for stale in folder.parent.glob(f".{folder.name}{prefix}*"):
            shutil.rmtree(stale, ignore_errors=True)


def _written(files: Mapping[str, bytes], folder: Path) -> Path:
    """Write the files to a folder beside the one they are for."""
    new = Path(tempfile.mkdtemp(prefix=f".{folder.name}{NEW}", dir=folder.parent))
    try:
        new.chmod(0o755)
        for name, data in files.items():
            path = new / name
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("xb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
    except BaseException:
        shutil.rmtree(new, ignore_errors=True)
        raise
    return new


def _swap(new: Path, folder: Path) -> None:
    """Rename the earlier set away and the new one into its place, or put it back."""
    old = new.with_name(new.name.replace(NEW, OLD, 1))
    had_one = folder.exists()
    try:
        if had_one:
            folder.rename(old)
        new.rename(folder)
    except BaseException:
        if had_one and old.exists() and not folder.exists():
            old.rename(folder)
        shutil.rmtree(new, ignore_errors=True)
        raise
    if had_one:
        shutil.rmtree(old, ignore_errors=True)
