"""Runs killed while they draw over another set: what is there, and what is left."""

from __future__ import annotations

import random
import subprocess
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from shopdraw.output.publish import NEW
from tests.bench.timing import Row
from tests.whole_sets import (
    NO_FOLDER,
    NO_WHOLE_SET,
    Sets,
    beside,
    held,
    kill,
    outlives,
    start_drawing,
    which,
    write_job,
)

MOMENTS = 300
SOME = ("--sheets", "elevation")
WHEN = ("anywhere in the run", "while the new set is written", "once it is in place")


def measure(moments: int = MOMENTS) -> list[Row]:
    """Kill runs over another set; print each that goes wrong, and return the counts."""
    with tempfile.TemporaryDirectory() as work:
        seen = kill_runs(Path(work), moments)
    kills = ", ".join(f"{seen[when]} {when}" for when in WHEN)
    found = f"{seen['earlier']} the earlier set, {seen['new']} the new one"
    every = str(moments)
    return [
        Row(f"{moments} runs killed over another set", kills),
        Row("  of these the first process alone", str(seen["alone"])),
        Row("  whole sets afterwards", found, asked=every),
        Row("  half sets", str(seen[NO_WHOLE_SET]), asked="0"),
        Row("  no folder", str(seen[NO_FOLDER]), asked="0"),
        Row("  kills that left something beside it", str(seen["left"])),
        Row("  second processes still there", str(seen["outlived"]), asked="0"),
        Row("  next runs that put the new set there", str(seen["next"]), asked=every),
        Row("  next runs that left something beside it", str(seen["kept"]), asked="0"),
    ]


def kill_runs(work: Path, moments: int) -> Counter[str]:
    """Kill runs, each followed by one that is left to end; count how it went."""
    folder = work / "out" / "den"
    jobs = {number: write_job(work / number, number) for number in ("A-1", "B-2")}
    sets: dict[str, dict[str, bytes]] = {}
    for number, job in jobs.items():
        whole, written = paces(start_drawing(job, folder.parent, *SOME), folder)
        sets[number] = held(folder)
    new, earlier = sets
    differing(sets[new], sets[earlier])
    seen, chance = Counter[str](), random.Random(1)
    while sum(seen[when] for when in WHEN) < moments:
        place = folder.stat().st_ino
        when, alone = WHEN[seen["tries"] % 3], seen["tries"] % 2 == 1
        waits: dict[str, tuple[Callable[[], bool], float]] = {
            WHEN[0]: (lambda: True, whole),
            WHEN[1]: (lambda: is_written(folder), written),
            WHEN[2]: (lambda place=place: place_of(folder) != place, 0.004),
        }
        sees, longest = waits[when]
        seen["tries"] += 1
        run = start_drawing(jobs[new], folder.parent, *SOME)
        delay = chance.uniform(0, longest)
        in_time = kill(run, seen=sees, delay=delay, alone=alone)
        seen["outlived"] += outlives(run)
        if in_time:
            seen.update([when, *["alone"] * alone])
            named = {"earlier": sets[earlier], "new": sets[new]}
            look(folder, named, seen, f"{when}, {delay:.4f} s")
            draw_again(jobs[new], folder, named, seen)
        earlier, new = new, earlier
    return seen


def look(folder: Path, sets: Sets, seen: Counter[str], when: str) -> None:
    """Count what is there after a kill."""
    there = which(folder, sets)
    seen.update([there, *["left"] * bool(beside(folder))])
    if there not in sets:
        print(f"{when}: {there}; beside it: {beside(folder)}", flush=True)


def draw_again(job: Path, folder: Path, sets: Sets, seen: Counter[str]) -> None:
    """Have the next run end, and count what is there then."""
    run = start_drawing(job, folder.parent, *SOME)
    said = run.communicate()[1]
    there, left = which(folder, sets), beside(folder)
    seen["next"] += run.returncode == 0 and there == "new"
    seen["kept"] += bool(left)
    if run.returncode or there != "new" or left:
        print(f"next run: {run.returncode}, {there}, {left}: {said}", flush=True)


def is_written(folder: Path) -> bool:
    """Return whether a new set is being written beside a folder."""
    return any(NEW in name for name in beside(folder))


def place_of(folder: Path) -> int:
    """Return what the file system knows a folder by; 0 for none."""
    return folder.stat().st_ino if folder.exists() else 0


def paces(run: subprocess.Popen[str], folder: Path) -> tuple[float, float]:
    """Return how long a run took, and how long from writing the new set on."""
    began = time.monotonic()
    written = began
    folder.parent.mkdir(exist_ok=True)
    while run.poll() is None:
        if written == began and is_written(folder):
            written = time.monotonic()
        time.sleep(0.0005)
    run.communicate()
    ended = time.monotonic()
    return ended - began, ended - written


def differing(one: dict[str, bytes], other: dict[str, bytes]) -> None:
    """Raise unless two sets have the same names, and differ in every sheet."""
    sheets = [name for name in one if name.startswith("sheets/")]
    if one.keys() != other.keys() or any(one[x] == other[x] for x in sheets):
        message = "the two sets don't differ in every sheet"
        raise ValueError(message)
