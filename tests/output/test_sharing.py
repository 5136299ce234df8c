"""Files are the same whoever makes them, and a second process may go at any time."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from multiprocessing.connection import Connection
from pathlib import Path

import pytest

from shopdraw.errors import NotProved
from shopdraw.output.sharing import Shared, make_all, second_process
from shopdraw.output.write import begin_pictures, make_files, prove_files
from tests.demos import CONFIGS, set_of


@contextmanager
def one_more() -> Iterator[Connection]:
    """Start a second process as where there are two cores."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("shopdraw.output.sharing._cores", lambda: 2)
        with second_process() as line:
            assert line is not None
            yield line


@pytest.fixture(scope="module")
def second() -> Iterator[Connection]:
    """Return the connection to a second process, for tests that leave it as it is."""
    with one_more() as line:
        yield line


def whose(name: str, wait: float = 0.0) -> bytes:
    time.sleep(wait)
    return f"{name} {os.getpid()}".encode()


def test_two_processes_share_the_tasks(second: Connection) -> None:
    """Each does some, as this one waits for none of them long."""
    tasks = {str(n): partial(whose, str(n), 0.1) for n in range(12)}
    made = make_all(tasks, second)
    assert list(made) == list(tasks)
    assert all(data.startswith(name.encode()) for name, data in made.items())
    assert len({data.split()[1] for data in made.values()}) == 2


def test_a_set_is_the_same_made_by_two(
    second: Connection, library: dict[str, bytes]
) -> None:
    assert make_files(set_of("library-hearth"), second) == library


def test_a_damaged_file_is_found_whichever_process_reads_it(
    second: Connection, library: dict[str, bytes]
) -> None:
    """The second one begins with the first sheet, this one with the last file."""
    drawn = set_of("library-hearth")
    prove_files(drawn, library, second)
    first = next(name for name in library if name.endswith(".dxf"))
    for name in (first, "surround.dxf"):
        damaged = library[name].replace(b"\nLWPOLYLINE\n", b"\nNONE\n", 1)
        assert damaged != library[name]
        with pytest.raises(NotProved, match=f"^{name}: "):
            prove_files(drawn, {**library, name: damaged}, second)


def fails() -> bytes:
    message = "no such file"
    raise ValueError(message)


def test_what_fails_there_is_told_here(second: Connection) -> None:
    tasks = {"bad": fails, **{str(n): partial(whose, str(n), 0.1) for n in range(4)}}
    with pytest.raises(ValueError, match="no such file"):
        make_all(tasks, second)


def ends() -> bytes:
    """Kill the second process; here, it is only a task."""
    if os.environ.get("HOME_PROCESS") != str(os.getpid()):
        os.kill(os.getpid(), signal.SIGKILL)
    return b"done"


def test_a_second_process_that_is_killed_leaves_its_work_to_the_first(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("HOME_PROCESS", str(os.getpid()))
    tasks = {"a": ends, "b": partial(whose, "b", 0.3), "c": partial(whose, "c", 0.3)}
    with one_more() as line:
        made = make_all(tasks, line)
    assert made["a"] == b"done"
    assert {data.split()[1] for name, data in made.items() if name != "a"} == {
        str(os.getpid()).encode()
    }


def test_without_a_second_core_all_is_done_here(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("shopdraw.output.sharing._cores", lambda: 1)
    with second_process() as line:
        assert line is None
        assert make_all({"a": partial(whose, "a")}, line)["a"].endswith(
            str(os.getpid()).encode()
        )


def children_of(pid: int) -> list[int]:
    path = Path(f"/proc/{pid}/task/{pid}/children")
    return [int(each) for each in path.read_text().split()] if path.exists() else []


@pytest.mark.skipif(
    not Path("/proc/self/task").exists() or len(os.sched_getaffinity(0)) < 2,
    reason="not checked: needs /proc and two cores",
)
def test_a_second_process_does_not_outlive_the_first(tmp_path: Path) -> None:
    words = ("-m", "shopdraw", "draw", str(CONFIGS / "library-hearth.toml"))
    first = subprocess.Popen(
        [sys.executable, *words, "--out", str(tmp_path)], stdout=subprocess.DEVNULL
    )
    end, children = time.monotonic() + 20, []
    while not children and time.monotonic() < end:
        children = children_of(first.pid)
    first.kill()
    first.wait()
    assert children
    while any(Path(f"/proc/{child}").exists() for child in children):
        assert time.monotonic() < end
        time.sleep(0.02)


def test_what_is_begun_is_made_while_this_process_does_other_things(
    second: Connection,
) -> None:
    """Nothing waits for it but the end, and no task is done twice."""
    shared = Shared[bytes](second)
    shared.begin({name: partial(whose, name) for name in "ab"})
    end = time.monotonic() + 20
    while shared.is_waiting and time.monotonic() < end:
        time.sleep(0.01)
    shared.begin({name: partial(whose, name, 0.1) for name in "abcdef"})
    made = shared.finish()
    here = str(os.getpid()).encode()
    assert [*made] == [*"abcdef"]
    assert all(here not in made[name] for name in "ab")
    assert {here in made[name] for name in "cdef"} == {True, False}


def test_a_set_whose_pictures_were_begun_is_the_same(
    second: Connection, library: dict[str, bytes]
) -> None:
    drawn, shared = set_of("library-hearth"), Shared[bytes](second)
    begin_pictures(shared, drawn.sheets, drawn.drawn_from.words)
    assert make_files(drawn, second, shared) == library


def test_a_second_process_that_is_killed_early_leaves_what_was_begun(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("HOME_PROCESS", str(os.getpid()))
    with one_more() as line:
        shared = Shared[bytes](line)
        shared.begin({"a": ends, "b": partial(whose, "b")})
        shared.begin({"c": partial(whose, "c")})
        made = shared.finish()
    here = str(os.getpid()).encode()
    assert made == {"a": b"done", "b": b"b " + here, "c": b"c " + here}


def test_a_set_that_is_given_up_waits_for_nothing_that_it_began() -> None:
    with one_more() as line:
        shared = Shared[bytes](line)
        shared.begin({"a": partial(whose, "a", 60.0)})
    end = time.monotonic() + 20
    while shared.is_waiting and time.monotonic() < end:
        time.sleep(0.01)
    assert not shared.is_waiting
