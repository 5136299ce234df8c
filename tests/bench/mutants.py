"""Modules of the pure rooms changed in one place: do the tests beside them notice?

A change that the tests beside its room let pass is held against the goldens of every
demo too. What passes both has survived: the whole suite may still notice it.
"""

from __future__ import annotations

import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

from tests.bench.mutating_source import Mutant, mutants_of
from tests.bench.timing import ROOT, Row
from tests.test_architecture import ROWS, modules, name_of, place_of

SEED = 20
COUNT = 200
OF_EACH = 10
"""How many of each module that is asked for by name."""
NAMED = (
    *("review.listed", "review.over_brick", "review.trim", "masonry.heads.shares"),
    *("masonry.coursing.levers", "quantities.cutting"),
)
"""Where a slip costs most and shows least."""
FEW = 8
"""How many tests may name a module and still be run for it alone."""
GOLDENS = ("tests/goldens",)
SECONDS = 420
MEMORY = 4 << 30
COPIED = ("shopdraw", "tests", "configs", "out", "pyproject.toml", "README.md")


def measure(count: int = COUNT) -> list[Row]:
    """Try a sample of changes; print those that survive, and count."""
    return rows(tried(sample(count)))


def rows(seen: Sequence[tuple[Mutant, str]]) -> list[Row]:
    """Return the counts of changes by what became of them, the rooms' too."""
    out = []
    rooms = sorted({place_of(mutant.module).partition(".")[0] for mutant, _ in seen})
    for room in ("", *rooms):
        some = [how for mutant, how in seen if f"{mutant.module}.".startswith(room)]
        killed = sum(how != "survived" for how in some)
        what = f"  of {room}" if room else f"{len(seen)} changes to pure rooms"
        out.append(Row(what, f"{killed} of {len(some)} noticed"))
    slow = sum(how == "no end" for _, how in seen)
    out.append(Row("  noticed in that a test came to no end", str(slow)))
    out.append(Row("  survived", str(sum(how == "survived" for _, how in seen))))
    return out


def sample(count: int = COUNT) -> list[Mutant]:
    """Return some changes, always the same: first those of the modules named.

    Of the others each module is as likely as its file is long.
    """
    pure = {name_of(x): x for x in modules() if ROWS[place_of(name_of(x))].is_pure}
    pick = random.Random(SEED)
    chosen: dict[Mutant, None] = {}
    for name in NAMED:
        found = mutants_of(name, pure[name].read_text("utf-8"))
        some = random.Random(f"{SEED} {name}").sample(found, OF_EACH)
        chosen |= dict.fromkeys(some)
    rest = [name for name in pure if name not in NAMED]
    sizes = [pure[name].stat().st_size for name in rest]
    while len(chosen) < count:
        (name,) = pick.choices(rest, sizes)
        if found := mutants_of(name, pure[name].read_text("utf-8")):
            chosen[pick.choice(found)] = None
    return [*chosen][:count]


def tried(mutants: Sequence[Mutant]) -> list[tuple[Mutant, str]]:
    """Make each change in a copy of the package, and say what became of it."""
    with tempfile.TemporaryDirectory() as work:
        copy = Path(work)
        for name in COPIED:
            whole = ROOT / name
            (shutil.copytree if whole.is_dir() else shutil.copy)(whole, copy / name)
        return [*_tried(mutants, copy)]


def _tried(mutants: Sequence[Mutant], copy: Path) -> Iterator[tuple[Mutant, str]]:
    sound: set[str] = set()
    for mutant in mutants:
        how = "survived"
        for tests in (beside(mutant.module), GOLDENS):
            if new := tuple(each for each in tests if each not in sound):
                if (amiss := run(new, copy)) != "survived":
                    message = f"with nothing changed: {amiss}: {' '.join(new)}"
                    raise RuntimeError(message)
                sound.update(new)
            how = changed(mutant, copy, tests)
            if how != "survived":
                break
        print(described(mutant, how), flush=True)
        yield mutant, how


def changed(mutant: Mutant, copy: Path, tests: tuple[str, ...]) -> str:
    """Run tests in a copy of the package in which one change is made, then undone."""
    file = copy / "shopdraw" / f"{mutant.module.replace('.', '/')}.py"
    source = file.read_text("utf-8")
    file.write_text(mutant.applied(source), "utf-8")
    try:
        return run(tests, copy)
    finally:
        file.write_text(source, "utf-8")


def run(tests: tuple[str, ...], copy: Path) -> str:
    """Return "killed" where a test fails, "no end" past the time, else "survived"."""
    words = (sys.executable, "-B", "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider")
    process = subprocess.Popen(
        (*words, *tests),
        cwd=copy,
        env={**os.environ, "PYTHONPATH": str(copy)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY)),
    )
    try:
        return "killed" if process.wait(SECONDS) else "survived"
    except subprocess.TimeoutExpired:
        return "no end"
    finally:
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()


@cache
def beside(module: str) -> tuple[str, ...]:
    """Return the tests beside a module: its own, the few that name it, its room's.

    A room without a folder of tests has those of the room that it is in.
    """
    tests, own = ROOT / "tests", module.rpartition(".")[2]
    files = sorted(tests.rglob("test_*.py"))
    files = [file for file in files if file.parent.name not in ("bench", "browser")]
    called = [file for file in files if file.stem == f"test_{own}"]
    naming = [x for x in files if f"shopdraw.{module} " in x.read_text("utf-8")]
    folder = tests / place_of(module).replace(".", "/")
    while folder != tests and not [*folder.glob("test_*.py")]:
        folder = folder.parent
    near = [x for x in files if x.parent == folder != tests]
    found = dict.fromkeys((*called, *(naming if len(naming) <= FEW else ()), *near))
    return tuple(str(file.relative_to(ROOT)) for file in found)


def described(mutant: Mutant, how: str) -> str:
    """Return one line on a change: where, what it was, what it became."""
    old, new = (" ".join(text.split())[:120] for text in (mutant.old, mutant.new))
    return f"{how}: {mutant.module}:{mutant.line}: {old}  ->  {new}"
