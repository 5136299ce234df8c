"""Share work among processes: the files of one set, or many jobs.

In:  tasks by name.   Out: what each made, by name.
Frame: none.

What a task makes depends on the task alone, so it does not matter who does it.
For one set, a second process takes tasks from the first on and this one takes them from
the last back; what the second one can't do is done here. Of many jobs this process does
none, so that a job which crashes its process harms no other job.
"""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from multiprocessing import resource_tracker
from multiprocessing.connection import Connection
from queue import SimpleQueue
from threading import Lock, RLock, Thread
from typing import Generic, TypeVar

from shopdraw.output.libraries import as_they_come

Task = Callable[[], bytes]
"""Only module functions and plain records: it may be sent to another process."""
Made = TypeVar("Made")


def _cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def second_process(workers: int | None = None) -> Iterator[Connection | None]:
    """Start a second process, and yield the connection to it.

    It is None if there is only one core, or only one process is asked for.
    """
    if (workers or _cores()) < 2:
        yield None
        return
    with another_process(is_ready=True) as line:
        yield line


@contextmanager
def another_process(*, is_ready: bool = False) -> Iterator[Connection]:
    """Start another process, and yield the connection to it; it ends with this block.

    Args:
        is_ready: it loads what draws pictures before it is given a task, while this
            process goes on; else each task loads what it needs.
    """
    # Spawned, not forked: this process may have threads already.
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe()
    process = context.Process(target=_serve, args=(there, is_ready), daemon=True)
    with _starting, _undisturbed():
        process.start()
    there.close()
    try:
        yield here
    finally:
        # First it ends: whoever still waits for what it makes is told so.
        process.kill()
        process.join()
        here.close()


_starting = RLock()
"""Held while a process is started, and for good once they are all ended."""


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Start processes in this block that a Ctrl-C does not reach, from the first on.

    It goes to all processes of a terminal at once; only the one that was called ends
    the others. Where a system can't hold signals back they are ignored by `_serve`.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    # Started by itself, it would let signals through again.
    resource_tracker.ensure_running()
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def end_all() -> None:
    """End every process that was started, at once; there will be no others."""
    _starting.acquire()
    for process in multiprocessing.active_children():
        process.kill()


def _serve(line: Connection, is_ready: bool) -> None:
    """Do each task that comes, until the other end closes or its process ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if is_ready:
        # It ends with its set: cycles are not looked for.
        gc.disable()
        # What most tasks need is loaded now, while there is nothing else to do.
        with as_they_come():
            import shopdraw.output.dxf
            import shopdraw.output.image
            import shopdraw.output.pdf  # noqa: F401

    with suppress(EOFError, OSError):
        while True:
            task = line.recv()
            try:
                made = task()
            except Exception:
                made = None
            line.send(made)


class Shared(Generic[Made]):
    """Tasks of one set that two processes do, by the names of the files."""

    def __init__(self, second: Connection | None) -> None:
        """Share with the process at the other end; without one, all is done here."""
        self._second, self._one_at_a_time = second, Lock()
        self._tasks: dict[str, Callable[[], Made]] = {}
        self._waiting, self._made = deque[str](), dict[str, Made]()
        self._handing: list[Thread] = []

    def begin(self, tasks: Mapping[str, Callable[[], Made]]) -> None:
        """Have the second process begin these, but for those that it has already.

        Args:
            tasks: by the names of the files; put the longest first.
        """
        new = {name: task for name, task in tasks.items() if name not in self._tasks}
        self._tasks |= new
        self._waiting.extend(new)
        if self._second is not None:
            self._handing.append(Thread(target=self._hand_over, args=(self._second,)))
            self._handing[-1].start()

    @property
    def is_waiting(self) -> bool:
        """Whether the second process still does what was begun."""
        return any(handing.is_alive() for handing in self._handing)

    def _hand_over(self, second: Connection) -> None:
        """Have the second process do tasks; if it ends, this one does the rest."""
        with self._one_at_a_time, suppress(IndexError, EOFError, OSError):
            while True:
                name = self._waiting.popleft()
                second.send(self._tasks[name])
                answer = second.recv()
                if answer is not None:
                    self._made[name] = answer

    def finish(self) -> dict[str, Made]:
        """Do what is not begun yet, and return what each task made."""
        with suppress(IndexError):
            while True:
                name = self._waiting.pop()
                self._made[name] = self._tasks[name]()
        for handing in self._handing:
            handing.join()
        return {
            name: self._made[name] if name in self._made else task()
            for name, task in self._tasks.items()
        }


def make_all(
    tasks: Mapping[str, Callable[[], Made]], second: Connection | None
) -> dict[str, Made]:
    """Do all tasks, and return what each made.

    Args:
        tasks: by the names of the files; put the longest first.
        second: the connection to the second process, or None.
    """
    shared = Shared[Made](second)
    shared.begin(tasks)
    return shared.finish()


def make_each(
    tasks: Mapping[str, Callable[[], Made]], workers: int | None
) -> Iterator[tuple[str, Made | None]]:
    """Do many tasks in several processes, and yield what each made when it is made.

    Args:
        tasks: by any names.
        workers: how many processes; None for one per core.

    Yields:
        The name and what was made: None if the task failed or crashed its process.
        Another process goes on with the rest.
    """
    waiting = deque(tasks)
    done: SimpleQueue[tuple[str, Made | None]] = SimpleQueue()

    def work() -> None:
        with suppress(IndexError):
            while waiting:
                with another_process() as line, suppress(EOFError, OSError):
                    while True:
                        name, made = waiting.popleft(), None
                        try:
                            line.send(tasks[name])
                            made = line.recv()
                        finally:
                            done.put((name, made))

    for _ in range(min(workers or _cores(), len(tasks))):
        Thread(target=work, daemon=True).start()
    for _ in tasks:
        yield done.get()
