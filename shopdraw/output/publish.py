"""Put a whole set of files in place of an earlier one, or change nothing.

In:  file names and bytes, and the folder they are to be in.   Out: the folder.
Frame: none.

The new set is written beside the folder, read again from there, then swapped for it
by renaming. Whatever goes wrong, the earlier set or the new one is there, whole. A file
that no set writes is somebody's own: it stays where it is.
"""

from __future__ import annotations

import fcntl
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath

from shopdraw.errors import NotPublished

NEW, OLD = ".new-", ".old-"
Proof = Callable[[Mapping[str, bytes]], None]


def publish(
    files: Mapping[str, bytes], folder: Path, prove: Proof | None = None
) -> None:
    """Write a set of files as one.

    Args:
        files: relative names, with forward slashes, and their bytes.
        folder: where the set goes; an earlier one is replaced.
        prove: is given the files as read again from the disk, before they are put in
            place; whatever it raises leaves the earlier set there.

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
            _swap(_written(files, folder, prove), folder)
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
    handle = _locked(lock)
    try:
        yield
    finally:
        with suppress(OSError):
            lock.unlink()
        os.close(handle)


def _locked(lock: Path) -> int:
    """Wait for a lock file; one that its last holder took away is asked for anew."""
    while True:
        handle = os.open(lock, os.O_CREAT | os.O_RDWR, 0o644)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX)
            with suppress(FileNotFoundError):
                if os.path.samestat(os.fstat(handle), lock.stat()):
                    return handle
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)


def _leftovers(folder: Path, kind: str) -> list[Path]:
    start = f".{folder.name}{kind}"
    return sorted(x for x in folder.parent.iterdir() if x.name.startswith(start))


def _recover(folder: Path) -> None:
    """Clear away what a killed run left, and put back an earlier set it moved."""
    moved = _leftovers(folder, OLD)
    if moved and not folder.exists():
        moved[-1].rename(folder)
    for stale in (*_leftovers(folder, NEW), *_leftovers(folder, OLD)):
        shutil.rmtree(stale, ignore_errors=True)


def _written(files: Mapping[str, bytes], folder: Path, prove: Proof | None) -> Path:
    """Write the files to a folder beside the one they are for, and prove them there."""
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
        if prove is not None:
            prove({name: (new / name).read_bytes() for name in files})
        if folder.exists():
            _keep_others(files, folder, new)
    except BaseException:
        shutil.rmtree(new, ignore_errors=True)
        raise
    return new


def _keep_others(files: Mapping[str, bytes], folder: Path, new: Path) -> None:
    """Take along what no set writes; in a set's own subfolders, by the file's kind."""
    kinds = {
        (str(path.parent), path.suffix)
        for path in map(PurePosixPath, files)
        if len(path.parts) > 1
    }
    for path in sorted(folder.rglob("*")):
        name = PurePosixPath(path.relative_to(folder).as_posix())
        if path.is_dir() and not path.is_symlink():
            continue
        if str(name) in files or (str(name.parent), name.suffix) in kinds:
            continue
        target = new / name
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            os.link(path, target, follow_symlinks=False)
        except OSError:
            shutil.copy2(path, target, follow_symlinks=False)


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
