"""`shopdraw watch` as a person runs it: its own process, its address, its end."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path
from time import monotonic, sleep

from tests.demos import CONFIGS

LONG = 20.0


def job_text(name: str = "metric-slips") -> str:
    """Return a demo that is solved in no time."""
    return (CONFIGS / f"{name}.toml").read_text()


@dataclass
class Watched:
    """A run of the command."""

    process: subprocess.Popen[str]
    address: str
    said: str

    def page(self, path: str = "/") -> str:
        line = HTTPConnection(self.address.split("/")[2], timeout=LONG)
        try:
            line.request("GET", path)
            return line.getresponse().read().decode()
        finally:
            line.close()

    def until(self, *words: str) -> str:
        """Return the page once it says all these words."""
        begun, page = monotonic(), ""
        while monotonic() - begun < LONG:
            page = self.page()
            if all(each in page for each in words):
                return page
            sleep(0.02)
        raise AssertionError((words, page[page.find("<body") :][:3000]))

    def end(self) -> tuple[int, str, str]:
        """Press Ctrl-C; return the exit code and what was printed since the address."""
        self.process.send_signal(signal.SIGINT)
        out, err = self.process.communicate(timeout=LONG)
        return self.process.returncode, out, err


@contextmanager
def watching(job: Path, *words: str) -> Iterator[Watched]:
    """Run the command on a job file, and see that it has ended."""
    with subprocess.Popen(
        [sys.executable, "-m", "shopdraw", "watch", str(job), *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=CONFIGS.parent,
    ) as process:
        try:
            assert process.stdout is not None
            said = process.stdout.readline()
            found = re.search(r"http://127\.0\.0\.1:\d+/", said)
            if found is None:
                raise AssertionError(said, process.communicate(timeout=LONG))
            yield Watched(process, found[0], said)
        finally:
            process.kill()
