"""Modules of the pure rooms changed in one place: do the tests beside them notice?

A change is held against the module's own tests, then the goldens of every demo, then
the other tests of its room. What passes has survived: the whole suite may notice it.
`python -m tests.bench.mutants FIRST [END]` tries those of the sample from one on, which
takes up again what was broken off.
"""

from __future__ import annotations

import os
import random
import resource
import shutil
import signal
import sys
import tempfile
import traceback
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path

import pytest

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
SECONDS = 240
"""Of processor time, so that a busy machine changes nothing."""
MEMORY = 4 << 30
LOADED = ("numpy", "shapely", "ezdxf", "pydantic", "hypothesis", "PIL.Image")
OURS = ("shopdraw", "tests")
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


def tried(mutants: Sequence[Mutant], first: int = 0) -> list[tuple[Mutant, str]]:
    """Make each change in a copy of the package, and say what became of it.

    The tests that noticed one are run at last with nothing changed.

    Raises:
        RuntimeError: one of them fails then too: what it noticed was no change.
    """
    for library in LOADED:
        import_module(library)
    with tempfile.TemporaryDirectory() as work:
        copy = Path(work)
        for name in COPIED:
            whole = ROOT / name
            (shutil.copytree if whole.is_dir() else shutil.copy)(whole, copy / name)
        out, noticed = [], {}
        for place, mutant in enumerate(mutants, first):
            how, test = "survived", ""
            own, near = beside(mutant.module)
            for tests in (own, GOLDENS, near):
                if how == "survived" and tests:
                    how, test = changed(mutant, copy, tests)
            print(f"{place} {described(mutant, how)}  {test}", flush=True)
            out.append((mutant, how))
            if test:
                noticed[test] = place
        if noticed and (test := run(tuple(noticed), copy)[1]):
            message = f"{noticed.get(test)}: with nothing changed fails {test}"
            raise RuntimeError(message)
    return out


def changed(mutant: Mutant, copy: Path, tests: tuple[str, ...]) -> tuple[str, str]:
    """Run tests in a copy of the package in which one change is made, then undone."""
    file = copy / "shopdraw" / f"{mutant.module.replace('.', '/')}.py"
    source = file.read_text("utf-8")
    file.write_text(mutant.applied(source), "utf-8")
    try:
        return run(tests, copy)
    finally:
        file.write_text(source, "utf-8")


def run(tests: tuple[str, ...], copy: Path) -> tuple[str, str]:
    """Return what became of tests, and the first that failed.

    "killed" where a test fails, "no end" past the time, else "survived". They are run
    in a fork of this process, which has loaded what takes long to load.
    """
    told = copy / "told"
    told.write_text("")
    child = os.fork()
    if not child:
        code = 1
        try:
            code = _run(tests, copy, told)
        except BaseException:
            told.write_text(traceback.format_exc())
        finally:
            os._exit(code)
    code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    how = "no end" if code == -signal.SIGXCPU else "killed" if code else "survived"
    return how, told.read_text("utf-8")


def _run(tests: tuple[str, ...], copy: Path, told: Path) -> int:
    """Run tests as a new process would, and keep which failed first."""
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS + 10))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    null = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(null, stream)
    os.chdir(copy)
    os.environ["PYTHONPATH"] = str(copy)
    sys.path[:] = [str(copy), *(x for x in sys.path if x not in ("", str(ROOT)))]
    for name in [x for x in sys.modules if x.partition(".")[0] in OURS]:
        del sys.modules[name]
    words = ("-q", "-x", "-n", "0", "-p", "no:cacheprovider")
    loaded = ("-W", "ignore::pytest.PytestAssertRewriteWarning")
    return int(pytest.main([*words, *loaded, *tests], plugins=[Noticing(told)]))


@dataclass(frozen=True)
class Noticing:
    """Keeps the first test, or file of tests, that fails."""

    told: Path

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self._keep(report)

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        self._keep(report)

    def _keep(self, report: pytest.TestReport | pytest.CollectReport) -> None:
        if report.failed and not self.told.read_text("utf-8"):
            self.told.write_text(report.nodeid, "utf-8")


@cache
def beside(module: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the tests beside a module: its own, and the few that name it; its room's.

    A room without a folder of tests has those of the room that it is in.
    """
    tests, (room, *_), own = ROOT / "tests", module.split("."), module.split(".")[-1]
    files = sorted(tests.rglob("test_*.py"))
    files = [file for file in files if file.parent.name not in ("bench", "browser")]
    called = [x for x in files if x.stem == f"test_{own}" and room in x.parts]
    naming = [x for x in files if f"shopdraw.{module} " in x.read_text("utf-8")]
    folder = tests / place_of(module).replace(".", "/")
    while folder != tests and not [*folder.glob("test_*.py")]:
        folder = folder.parent
    near = [x for x in files if x.parent == folder != tests]
    near.sort(key=lambda file: file.stat().st_size)
    own_first = dict.fromkeys((*called, *(naming if len(naming) <= FEW else ())))
    rest = [x for x in near if x not in own_first]
    first, then = (
        tuple(str(file.relative_to(ROOT)) for file in some)
        for some in (own_first, rest)
    )
    return first, then


def described(mutant: Mutant, how: str) -> str:
    """Return one line on a change: where, what it was, what it became."""
    old, new = (" ".join(text.split())[:120] for text in (mutant.old, mutant.new))
    return f"{how}: {mutant.module}:{mutant.line}: {old}  ->  {new}"


if __name__ == "__main__":
    first, *end = (int(word) for word in sys.argv[1:])
    for row in rows(tried(sample()[slice(first, *end or (COUNT,))], first)):
        print(row.what, row.ours)
