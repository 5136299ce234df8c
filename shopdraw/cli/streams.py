"""Keep standard output and standard error such that a command ends as it should.

In:  the process's streams.   Out: streams in their place.
Frame: none.

A reader that goes away, as `head` does, has read what it wanted: the rest is dropped,
and the exit code is the command's own. Where what is printed can't be kept (the disc is
full, the stream is closed) that is a fault, once. Of standard error all that can't be
written is dropped: nobody could be told.
"""

from __future__ import annotations

import io
import os
import sys
from contextlib import suppress
from typing import Any, TextIO

from shopdraw.errors import NotPrinted


class _Printed(io.FileIO):
    """Takes what is printed to a descriptor, and drops it once it can't be written."""

    def __init__(self, number: int, *, is_told: bool) -> None:
        super().__init__(number, "wb", closefd=False)
        self._is_told, self._is_lost = is_told, False

    def write(self, data: Any) -> int:
        """Write bytes; what is lost counts as written.

        Raises:
            NotPrinted: they can't be written, and this is the first time.
        """
        length = memoryview(data).nbytes
        if self._is_lost:
            return length
        try:
            written = super().write(data)
        except OSError as error:
            self._is_lost = True
            if self._is_told and not isinstance(error, BrokenPipeError):
                reason = error.strerror or "it is closed"
                message = f"standard output: can't be written: {reason}"
                raise NotPrinted(message) from None
            return length
        return length if written is None else written


def keep_streams() -> None:
    """Put streams in place that take what can't be written, as said above."""
    for number in range(3):
        # A file opened later would take the number of a closed stream, and be printed
        # into. Reading alone, this one can't be printed into.
        with suppress(OSError):
            os.fstat(number)
            continue
        os.open(os.devnull, os.O_WRONLY if number == 2 else os.O_RDONLY)
    sys.stdout = _stream(sys.stdout, 1, is_told=True)
    sys.stderr = _stream(sys.stderr, 2, is_told=False)


def _stream(before: TextIO | None, number: int, *, is_told: bool) -> TextIO:
    """Return a stream that letters as the one before it."""
    kept = _Printed(number, is_told=is_told)
    encoding, errors = (
        ("utf-8", "replace") if before is None else (before.encoding, before.errors)
    )
    return io.TextIOWrapper(
        io.BufferedWriter(kept), encoding, errors, line_buffering=True
    )
