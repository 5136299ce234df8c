"""Read the text of a job file, as far as a job file can be one.

In:  a path.   Out: text.
Frame: none.
"""

from __future__ import annotations

from pathlib import Path

from shopdraw.errors import BadJob, Fault
from shopdraw.job.lines import MOST_LINES

MOST_BYTES = 1_000_000
LONGEST_LINE = 4_000
"""A parser takes minutes for what is far longer, and it is no job file."""


def job_text(path: Path) -> str:
    """Return a job file's text.

    Raises:
        BadJob: it can't be read.
    """
    try:
        if path.is_dir():
            raise _unreadable(path, "is a folder; name the job file inside it")
        if path.exists() and not path.is_file():
            # A pipe would be waited for, and a device has no end.
            raise _unreadable(path, "is a pipe or a device; name a file")
        with path.open("rb") as file:
            # What is read counts: a file may grow, or have no size of its own.
            data = file.read(MOST_BYTES + 1)
        return _short_enough(path, data).decode("utf-8-sig")
    except FileNotFoundError:
        raise _unreadable(
            path, "does not exist; `shopdraw new` writes a job file to start from"
        ) from None
    except UnicodeDecodeError as error:
        raise _unreadable(
            path, f"is not UTF-8 text (byte {error.start + 1}); save the file as UTF-8"
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no file can have that name"
        raise _unreadable(path, f"can't be read: {reason}") from None


def _short_enough(path: Path, data: bytes) -> bytes:
    """Return what was read, if it is no longer than a job file can be."""
    lines = data.splitlines()
    for is_more, wanted in (
        (len(data) > MOST_BYTES, "is larger than 1 MB"),
        (len(lines) > MOST_LINES, f"has more than {MOST_LINES:,} lines"),
        (
            any(len(line) > LONGEST_LINE for line in lines),
            f"has a line of more than {LONGEST_LINE:,} letters",
        ),
    ):
        if is_more:
            raise _unreadable(path, f"{wanted}; a job file is a page or two")
    return data


def _unreadable(path: Path, wanted: str) -> BadJob:
    return BadJob((Fault(str(path), "", "", wanted),))
