"""Which whole set a folder holds, and runs that are killed or fail on their way.

As a command, `python -m tests.whole_sets WHAT FOLDER ...` does one of `DONE_APART` in a
process of its own and prints what came of it as JSON.
"""

from __future__ import annotations

import ctypes
import errno
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import cache
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from shopdraw.drawing.set import DrawnFrom
from shopdraw.errors import NotPublished
from shopdraw.output import publish as publishing
from shopdraw.output.manifest import NAME as MANIFEST
from shopdraw.output.manifest import (
    digest_of,
    list_files,
    read_manifest,
    write_manifest,
)
from shopdraw.output.publish import OLD, Proof, publish
from shopdraw.output.settling import Settled
from tests.bench.timing import on_cores

ROOT = Path(__file__).resolve().parent.parent
MONDAY = DrawnFrom("shopdraw 1", "1" * 64)
"""What a set of a test is drawn from, where it does not matter."""
NO_FOLDER, NO_WHOLE_SET = "no folder", "no whole set"
Sets = Mapping[str, Mapping[str, bytes]]


def put(
    files: Mapping[str, bytes],
    folder: Path,
    prove: Proof | None = None,
    *,
    of: DrawnFrom = MONDAY,
    is_whole: bool = True,
) -> Settled:
    """Publish files as a set whose manifest has them all."""
    to_list = list_files(files, of)
    return publish(files, folder, to_list, is_whole=is_whole, prove=prove)


def held(folder: Path) -> dict[str, bytes]:
    """Return the files of a folder by name, but for the manifest."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path != folder / MANIFEST
    }


def listed(folder: Path) -> dict[str, str]:
    """Return the digests in a set's manifest, by name; without one there are none."""
    path = folder / MANIFEST
    manifest = read_manifest(path.read_bytes()) if path.is_file() else None
    return {} if manifest is None else dict(manifest.files)


def which(folder: Path, sets: Sets) -> str:
    """Return the name of the set that a folder holds whole, byte for byte.

    Its manifest has to name all but somebody's own file, and nothing else.
    """
    if not folder.exists():
        return NO_FOLDER
    files = held(folder)
    of_the_set = {name: digest_of(x) for name, x in files.items() if name not in MINE}
    if listed(folder) != of_the_set:
        return NO_WHOLE_SET
    return next((name for name, each in sets.items() if each == files), NO_WHOLE_SET)


def beside(folder: Path) -> list[str]:
    """Return what else is where a folder is."""
    return sorted(path.name for path in folder.parent.iterdir() if path != folder)


# Jobs that differ in every sheet, and runs of the command.


def write_job(folder: Path, number: str) -> Path:
    """Write the first demo's job, with a number of its own."""
    text = (ROOT / "configs" / "library-hearth.toml").read_text("utf-8")
    before, found, after = text.partition('number = "LH-01"')
    assert found
    folder.mkdir(parents=True, exist_ok=True)
    job = folder / "den.toml"
    job.write_text(f'{before}number = "{number}"{after}', "utf-8")
    return job


def start_drawing(
    job: Path, out: Path, *options: str, environment: Mapping[str, str] | None = None
) -> subprocess.Popen[str]:
    """Start the command, it and whatever it starts in a group of their own."""
    words = ("-m", "shopdraw", "draw", str(job), "--out", str(out), *options)
    return subprocess.Popen(
        [sys.executable, *words],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env=environment,
        start_new_session=True,
    )


def members(group: int) -> list[int]:
    """Return the processes of a group that still run."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, _, its_group = path.read_text().rpartition(")")[2].split()[:3]
        except (FileNotFoundError, ProcessLookupError):
            continue
        if int(its_group) == group and state not in "ZX":
            found.append(int(path.parent.name))
    return found


def kill(
    run: subprocess.Popen[str],
    *,
    seen: Callable[[], bool] = lambda: True,
    delay: float = 0.0,
    alone: bool = False,
) -> bool:
    """Kill a run once something is seen, and a moment later; False if it had ended.

    What it started may still be there: `outlives` is to be asked next.

    Args:
        run: of `start_drawing`.
        seen: what is waited for.
        delay: how long to wait then, in seconds.
        alone: kill the first process and not what it started.
    """
    while run.poll() is None and not seen():
        time.sleep(0.0005)
    time.sleep(delay)
    in_time = run.poll() is None
    if in_time and alone:
        run.kill()
    elif in_time:
        os.killpg(run.pid, signal.SIGKILL)
    run.wait()
    return in_time


def outlives(run: subprocess.Popen[str], seconds: float = 20.0) -> bool:
    """Return whether a run, or what it started, is still there in the end; it goes."""
    end = time.monotonic() + seconds
    while (left := members(run.pid)) and time.monotonic() < end:
        time.sleep(0.02)
    for each in left:
        os.kill(each, signal.SIGKILL)
    run.communicate()
    return bool(left)


# What is done apart: it needs a process, or a disk, of its own.

MINE = {"marked.pdf": b"somebody's own"}
EARLIER = {"a.txt": b"old a", "sheets/b.txt": b"old b", "sheets/c.txt": b"old c"}
NEW = {"a.txt": b"new a", "sheets/c.txt": b"new c", "sheets/d.txt": b"new d" * 4000}
SETS: Sets = {"earlier": {**EARLIER, **MINE}, "new": {**NEW, **MINE}}


def put_earlier(folder: Path) -> None:
    """Have a folder hold the earlier set and somebody's own file, and nothing else."""
    shutil.rmtree(folder, ignore_errors=True)
    put(EARLIER, folder)
    (folder / "marked.pdf").write_bytes(MINE["marked.pdf"])


def said(folder: Path) -> str:
    """Publish the new set; return what is said, or nothing."""
    try:
        put(NEW, folder)
    except NotPublished as refused:
        return "\n".join(refused.lines())
    return ""


def _killed_at(step: int, folder: Path) -> bool:
    """Publish in a copy of this process that is killed at a step of the interpreter's.

    It tells of each before it is done: a file opened, a folder made, a name changed.
    """
    child = os.fork()
    if child == 0:
        steps = count(1)

        def die(*_: object) -> None:
            if next(steps) == step:
                os.kill(os.getpid(), signal.SIGKILL)

        code = 1
        try:
            sys.addaudithook(die)
            put(NEW, folder)
            code = 0
        finally:
            os._exit(code)
    status = os.waitpid(child, 0)[1]
    assert os.WIFSIGNALED(status) or os.WEXITSTATUS(status) == 0
    return os.WIFSIGNALED(status)


def _in_place(new: Path, folder: Path) -> None:
    """Put a set in place as it must not be done."""
    shutil.rmtree(folder, ignore_errors=True)
    new.rename(folder)


def _at_once(_: int) -> None:
    """Stand in for the wait for the disk: what is killed does not take that along."""


def _full(_: int) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def kill_at_every_step(folder: Path, way: str) -> list[list[str]]:
    """Kill a run at each of its steps, the next one too, fill the disk, draw again.

    Args:
        folder: the set's.
        way: "one step", "two renames", or "in place", which is wrong.

    Returns:
        What the folder holds after each of the four; what waited beside it to be put
        back after the first; what is beside it at the end.
    """
    if way == "two renames":
        publishing._exchanged = lambda *_: False
    elif way == "in place":
        publishing._swap = _in_place
    os.fsync = _at_once
    put_earlier(folder)
    said(folder)  # Loads what is loaded late: it is no step of the runs to come.
    found: list[list[str]] = []
    for step in count(1):
        put_earlier(folder)
        if not _killed_at(step, folder):
            break
        row = [which(folder, SETS)]
        if way == "in place" and row == [NO_WHOLE_SET]:
            # That is what it is to show.
            return [row]
        olds = (folder.parent / x / OLD for x in beside(folder))
        waiting = [which(old, SETS) for old in olds if old.exists()]
        _killed_at(7 * step % 32 + 1, folder)
        row.append(which(folder, SETS))
        os.fsync = _full
        assert "No space left" in said(folder)
        os.fsync = _at_once
        row.append(which(folder, SETS))
        assert not said(folder)
        row.append(which(folder, SETS))
        found.append([*row, " ".join(waiting), " ".join(beside(folder))])
    return found


def _fill(disk: Path) -> Path:
    """Leave no room on a disk; return the file that takes it."""
    filler = disk / "filler"
    with suppress(OSError), filler.open("wb", buffering=0) as file:
        while True:
            file.write(bytes(4096))
    return filler


def publish_on_a_full_disk(folder: Path) -> list[list[str]]:
    """Publish where there is no room, then a page more each time, till it is enough.

    Returns:
        Each time what was said, what the folder holds, and what is beside it.
    """
    put_earlier(folder)
    filler = _fill(folder.parent)
    found: list[list[str]] = []
    while not found or found[-1][0]:
        found.append([said(folder), which(folder, SETS), " ".join(beside(folder))])
        os.truncate(filler, filler.stat().st_size - 4096)
    return found


def draw_on_a_full_disk(folder: Path, job: str) -> list[str]:
    """Draw where there is no room; return the code, what was said, and so on."""
    put_earlier(folder)
    _fill(folder.parent)
    with on_cores(1):
        run = start_drawing(Path(job), folder.parent, "--sheets", "ticket")
    lines = run.communicate()[1]
    where = which(folder, SETS), " ".join(beside(folder))
    return [str(run.returncode), lines, *where]


def publish_on_a_locked_disk(folder: Path) -> list[str]:
    """Publish where nothing may be written; return what was said, and so on."""
    put_earlier(folder)
    subprocess.run(["mount", "-o", "remount,bind,ro", folder.parent], check=True)
    return [said(folder), which(folder, SETS), " ".join(beside(folder))]


def publish_onto_a_disk(folder: Path) -> list[str]:
    """Publish to a folder that is itself where a disk begins."""
    before = write_manifest(list_files(EARLIER, MONDAY))
    for name, data in {**SETS["earlier"], MANIFEST: before}.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_bytes(data)
    return [said(folder), which(folder, SETS), " ".join(beside(folder))]


DONE_APART: Mapping[str, Callable[..., object]] = {
    each.__name__: each
    for each in (
        said,
        kill_at_every_step,
        publish_on_a_full_disk,
        draw_on_a_full_disk,
        publish_on_a_locked_disk,
        publish_onto_a_disk,
    )
}


def apart(what: Callable[..., object], *words: object, disk: Path | None = None) -> Any:
    """Do something in a process of its own, for which the modes of files count.

    Args:
        what: one of `DONE_APART`.
        words: what it is given.
        disk: an empty folder, to be a small disk of its own for as long as it lasts.
    """
    mount = 'mount -t tmpfs -o size=1m none "$0" && exec "$@"'
    first = () if disk is None else ("unshare", "-rm", "sh", "-c", mount, str(disk))
    run = subprocess.run(
        [*first, sys.executable, "-m", __name__, what.__name__, *map(str, words)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        preexec_fn=None if disk else _give_up_passing_over_modes,
    )
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


def _give_up_passing_over_modes() -> None:
    """Have modes count for root too, in what this process becomes."""
    drop, overrides, searches = 24, 1, 2
    for right in (overrides, searches):
        ctypes.CDLL(None).prctl(drop, right, 0, 0, 0)


@cache
def disk_can_be_made() -> bool:
    """Return whether this machine lets a small disk be made for a test."""
    with TemporaryDirectory() as disk:
        try:
            apart(said, Path(disk) / "den", disk=Path(disk))
        except (AssertionError, OSError):
            return False
    return True


if __name__ == "__main__":
    print(json.dumps(DONE_APART[sys.argv[1]](Path(sys.argv[2]), *sys.argv[3:])))
