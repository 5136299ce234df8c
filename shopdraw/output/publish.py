"""Replace a whole set of files by a new one, or change nothing.

In:  file names and bytes, the folder they are to be in.   Out: the folder; `Settled`.
Frame: none.

The new set is written beside the folder, read again from there, then swapped for it
in one step. Whatever goes wrong, the earlier set or the new one is there, whole; what a
killed run left beside it is cleared away by the next one, which knows it by a mark.
What becomes of the files that were there before is for `settling` to say.

Where the system or its file system can't swap two folders in one step they are renamed
one after the other: killed in between, the earlier set waits beside the folder, hidden
and whole, until the next run puts it back. A loss of power has not been tried.
"""

from __future__ import annotations

import errno
import os
import shutil
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath

from filelock import FileLock

from shopdraw.errors import NotPublished
from shopdraw.output.manifest import NAME, Manifest, digest_of, write_manifest
from shopdraw.output.settling import Settled, renamed, settle

WORK = ".new-"
"""How the name of a folder goes on that is made beside another, to work in."""
NEW, OLD = "new", "old"
"""In there: what is of no use, and where an earlier set waits, always whole."""
MARK = ".shopdraw"
SAYS = b"shopdraw makes a set here. What is left of it may be deleted.\n"
"""The file by which such a folder is known as ours, and what it says."""
AT_CWD, EXCHANGE = -100, 2
"""Of the system's renameat2: paths as they stand, and that they change places."""
Proof = Callable[[Mapping[str, bytes]], None]


def publish(
    files: Mapping[str, bytes],
    folder: Path,
    manifest: Manifest,
    *,
    is_whole: bool = True,
    prove: Proof | None = None,
) -> Settled:
    """Write a set of files as one.

    A folder that is a link stays one: the set goes where it leads, which is made if it
    is not there. A link where the set has a folder of its own is refused, one where it
    has a file gives way to the file, and what it leads to is left alone.

    Args:
        files: relative names, with forward slashes, and their bytes.
        folder: where the set goes; an earlier one is replaced.
        manifest: of the set; a file that is not in it is somebody's own from now on.
        is_whole: whether this is a whole set; otherwise files of the same job file and
            program stay, and are added to the manifest.
        prove: is given the files as read again from the disk, before they are put in
            place; whatever it raises leaves the earlier set there.

    Returns:
        What became of the files that were there.

    Raises:
        NotPublished: it can't be written; what was there before is still there.
    """
    for name in files:
        _refuse_outside(name)
    try:
        with suppress(FileNotFoundError):
            folder.stat()  # Here a loop of links is noticed.
        folder = folder.resolve()
        folder.parent.mkdir(parents=True, exist_ok=True)
        with _alone(folder):
            _recover(folder)
            _refuse_taken(files, folder)
            with _beside(folder) as work:
                new = work / NEW
                new.mkdir()
                _write(files, new)
                if prove is not None:
                    prove({name: (new / name).read_bytes() for name in files})
                settled = _settle(files, folder, manifest, is_whole=is_whole)
                _take_along(settled, folder, new)
                whole = manifest.joined(settled.joined)
                _write({NAME: write_manifest(whole)}, new)
                _swap(new, folder)
    except OSError as error:
        message = f"{folder}: cannot be written: {error.strerror or error}"
        raise NotPublished(message) from None
    return settled


def publish_file(
    name: str, data: bytes, folder: Path, is_ours: Callable[[bytes], bool]
) -> str:
    """Write one file beside the sets of a folder, whole or not at all.

    Args:
        name: of the file.
        data: its bytes.
        folder: where it goes; it is there already.
        is_ours: whether bytes that are there are as an earlier run wrote them;
            otherwise they are somebody's own, and are set aside.

    Returns:
        The name that a file of somebody's own now has; empty where there was none.

    Raises:
        NotPublished: it can't be written; what was there before is still there.
    """
    path = folder / name
    if path.is_dir() and not path.is_symlink():
        message = f"{path}: is a folder; a file of that name can't be written"
        raise NotPublished(message)
    aside = ""
    try:
        with _alone(path):
            _recover(path)
            with _beside(path) as work:
                new = _written(work / NEW, data)
                if path.is_file() and not path.is_symlink():
                    there = path.read_bytes()
                    if there != data and not is_ours(there):
                        taken = {x.name.casefold() for x in folder.iterdir()}
                        aside = renamed(name, taken)
                        path.rename(folder / aside)
                new.replace(path)
    except OSError as error:
        message = f"{path}: cannot be written: {error.strerror or error}"
        raise NotPublished(message) from None
    return aside


def _written(new: Path, data: bytes) -> Path:
    """Write a file, and read it again from the disk."""
    with new.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    if new.read_bytes() != data:
        raise OSError(errno.EIO, os.strerror(errno.EIO))
    return new


def _refuse_outside(name: str) -> None:
    path = PurePosixPath(name)
    if path.is_absolute() or ".." in path.parts or not path.parts or "\\" in name:
        message = f"{name}: lies outside the set's folder"
        raise NotPublished(message)


def _refuse_taken(names: Iterable[str], folder: Path) -> None:
    """Refuse to put a folder where something else is."""
    inner = {parent for name in names for parent in PurePosixPath(name).parents}
    for path in (folder / each for each in sorted(inner)):
        is_link = path.is_symlink()
        if is_link or (path.exists() and not path.is_dir()):
            kind = "link" if is_link else "file"
            message = f"{path.name}: is a {kind}; the set needs a folder of that name"
            raise NotPublished(message)


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Let one process at a time replace a folder; the lock goes with the process.

    A file of that name that is not empty is somebody's own: it is locked as it stands.
    """
    path = folder.parent / f".{folder.name}.lock"
    if path.is_symlink() or (path.exists() and not path.is_file()):
        message = f"{path}: is no plain file; it stands where a lock is needed"
        raise NotPublished(message)
    lock = FileLock(path)
    lock.acquire()
    try:
        yield
    finally:
        # Whoever waits for this file is told that it is gone, and asks anew. Nothing
        # that fails here undoes what was done.
        with suppress(OSError):
            if not path.stat().st_size:
                path.unlink()
        with suppress(OSError):
            lock.release()


def _leftovers(path: Path) -> list[Path]:
    """Return the folders beside a path that a killed run worked in."""
    start = f".{path.name}{WORK}"
    return sorted(
        x
        for x in path.parent.iterdir()
        # What goes on after a dot belongs to a folder with a longer name.
        if x.name.startswith(start)
        and "." not in x.name.removeprefix(start)
        and _is_ours(x)
    )


def _is_ours(work: Path) -> bool:
    """Whether a folder is one to work in: it says so, or nothing else is in it yet."""
    with suppress(OSError):
        if work.is_symlink() or not work.is_dir():
            return False
        names = {x.name for x in work.iterdir()}
        said = (work / MARK).read_bytes() if MARK in names else b""
        return said == SAYS or (names <= {MARK} and SAYS.startswith(said))
    return False


def _recover(path: Path) -> None:
    """Clear away what a killed run left, and put back an earlier set it moved."""
    for work in _leftovers(path):
        if (work / OLD).exists() and not path.exists():
            (work / OLD).rename(path)
        _clear(work, path)


def _clear(work: Path, path: Path) -> None:
    """Take a folder to work in away, its mark last; what can't go is left to the next.

    An earlier set that waits there while nothing is in its place is not touched.
    """
    with suppress(OSError):
        if (work / OLD).exists() and not path.exists():
            return
        for each in work.iterdir():
            if each.name != MARK:
                _remove(each)
        (work / MARK).unlink(missing_ok=True)
        work.rmdir()


def _remove(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path, ignore_errors=True)
    else:
        path.unlink()


@contextmanager
def _beside(path: Path) -> Iterator[Path]:
    """Make a folder to work in beside a path; it goes in the end, with all in it.

    That is the earlier set by then, or a new one that could not be put in place.
    """
    work = Path(tempfile.mkdtemp(prefix=f".{path.name}{WORK}", dir=path.parent))
    try:
        (work / MARK).write_bytes(SAYS)
        yield work
    finally:
        _clear(work, path)


def _write(files: Mapping[str, bytes], new: Path) -> None:
    """Write files into a folder, and wait until the disk has them."""
    for name, data in files.items():
        path = new / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())


def _settle(
    files: Mapping[str, bytes], folder: Path, manifest: Manifest, *, is_whole: bool
) -> Settled:
    """Settle what becomes of the files that are in a folder, where there is one."""
    if not folder.exists():
        return Settled()
    names = [path.relative_to(folder).as_posix() for path in _within(folder)]
    # The manifest itself is always written anew.
    written = {NAME: "", **{name: digest_of(data) for name, data in files.items()}}
    return settle(folder, names, written, None if is_whole else manifest.drawn_from)


def _take_along(settled: Settled, folder: Path, new: Path) -> None:
    """Have what stays in the new folder too, under the name that it gets."""
    for name, other in settled.taken_along:
        path, target = folder / name, new / other
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            os.link(path, target, follow_symlinks=False)
        except (OSError, NotImplementedError):
            shutil.copy2(path, target, follow_symlinks=False)


def _within(folder: Path) -> Iterator[Path]:
    """Yield all files, at any depth; a folder that may not be changed is refused.

    The set would take the place of what somebody has locked.
    """
    if not os.access(folder, os.R_OK | os.W_OK | os.X_OK):
        message = f"{folder}: cannot be written: {os.strerror(errno.EACCES)}"
        raise NotPublished(message)
    for path in sorted(folder.iterdir()):
        if path.is_dir() and not path.is_symlink():
            yield from _within(path)
        else:
            yield path


def _swap(new: Path, folder: Path) -> None:
    """Put the new set into its place; an earlier one is where it was made then."""
    if not folder.exists():
        new.rename(folder)
    elif not _exchanged(new, folder):
        _rename_both(new, folder)


def _exchanged(one: Path, other: Path) -> bool:
    """Let two folders change places in one step; False where that can't be done."""
    import ctypes

    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError, TypeError):
        return False
    paths = os.fsencode(one), os.fsencode(other)
    done: int = rename(AT_CWD, paths[0], AT_CWD, paths[1], EXCHANGE)
    return done == 0


def _rename_both(new: Path, folder: Path) -> None:
    """Let the new folder take the other's place by renaming; what fails is undone."""
    old = new.with_name(OLD)
    try:
        folder.rename(old)
        new.rename(folder)
    except BaseException:
        if old.exists() and not folder.exists():
            old.rename(folder)
        raise
    # It is of no use from now on, whole or not.
    with suppress(OSError):
        old.rename(new)
