"""Share work with further processes: the files of one set, or many jobs.

In:  tasks by name.   Out: what each made, by name.
Frame: none.

What is made is made of its task alone, so that it is the same whoever makes it. For
one set a second process takes tasks from the first on, this one from the last back;
what the second one can't do is done here. Of many jobs this process does none: a job
that brings its process down takes no other with it.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from multiprocessing.connection import Connection
from queue import SimpleQueue
from threading import Thread
from typing import TypeVar

Task = Callable[[], bytes]
"""Made of functions of modules and plain records: it is sent to another process."""
Made = TypeVar("Made")


def _cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def second_process(workers: int | None = None) -> Iterator[Connection | None]:
    """Start a second process, and give the line to it.

    None where there is one core, or one process is asked for.
    """
    if (workers or _cores()) < 2:
        yield None
        return
    with another_process() as line:
        yield line


@contextmanager
def another_process() -> Iterator[Connection]:
    """Start another process, and give the line to it; it ends with this block.

    Start it early: it makes itself ready while this one goes on.
    """
    # Started afresh, not split off: this process may have threads already.
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe()
    process = context.Process(target=_serve, args=(there,), daemon=True)
    process.start()
    there.close()
    try:
        yield here
    finally:
        here.close()
        process.kill()
        process.join()


def _serve(line: Connection) -> None:
    """Do what comes, until the other end closes or its process is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # What most tasks need is loaded while there is nothing else to do.
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


def make_all(tasks: Mapping[str, Task], second: Connection | None) -> dict[str, bytes]:
    """Do all tasks.

    Args:
        tasks: by the files' names; the longest first is best.
        second: the line to the second process, or None.
    """
    waiting, made = deque(tasks), dict[str, bytes]()

    def hand_over() -> None:
        """Have the second process do tasks; its end leaves the rest to this one."""
        with suppress(IndexError, EOFError, OSError):
            while second is not None:
                name = waiting.popleft()
                second.send(tasks[name])
                answer = second.recv()
                if answer is not None:
                    made[name] = answer

    handing = Thread(target=hand_over)
    handing.start()
    with suppress(IndexError):
        while True:
            name = waiting.pop()
            made[name] = tasks[name]()
    handing.join()
    return {name: made[name] if name in made else tasks[name]() for name in tasks}


def make_each(
    tasks: Mapping[str, Callable[[], Made]], workers: int | None
) -> Iterator[tuple[str, Made | None]]:
    """Do many tasks in so many processes, and yield what each made as it is made.

    Args:
        tasks: by any names.
        workers: how many processes; None for one a core.

    Yields:
        The name and what was made: None where the task failed, or brought its process
        down; another process goes on with the rest.
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
