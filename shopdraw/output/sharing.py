"""Share the making of files with a second process, where there is a second core.

In:  tasks by the name of the file that each makes.   Out: the files' bytes by name.
Frame: none.

A file is made of its task alone, so that it is the same whoever makes it. The second
process takes tasks from the first on, this one from the last back; what the second one
can't do is done here.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from multiprocessing.connection import Connection
from threading import Thread

Task = Callable[[], bytes]
"""Made of functions of modules and plain records: it is sent to another process."""


@contextmanager
def second_process() -> Iterator[Connection | None]:
    """Start a second process, and give the line to it; None where there is one core.

    Start it early: it makes itself ready while this one goes on.
    """
    if _cores() < 2:
        yield None
        return
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


def _cores() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _serve(line: Connection) -> None:
    """Do what comes, until the other end closes or its process is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # What most tasks need is loaded while there is nothing else to do.
    import shopdraw.output.image
    import shopdraw.output.pdf  # noqa: F401

    with suppress(EOFError, OSError):
        while True:
            task: Task = line.recv()
            try:
                made: bytes | None = task()
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
