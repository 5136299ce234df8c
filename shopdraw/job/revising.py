"""Write a job's next revision: the person's own text with the courses laid added.

In:  a job file's text, the courses laid since.   Out: the new text and its revision.
Frame: none; levels as they were typed.

Nothing that the person wrote is changed but the revision itself.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass

from shopdraw.job.model import Job

_REVISION = re.compile(
    r"""^([ \t]*(["']?)revision\2[ \t]*=[ \t]*)(["'])(.*?)\3""", re.MULTILINE
)
_ABOUT = re.compile(r"""^[ \t]*\[[ \t]*(["']?)job\1[ \t]*\][^\n]*$""", re.MULTILINE)


@dataclass(frozen=True)
class LaidEntry:
    """A course laid, with its tops as they were typed.

    Attributes:
        levels: keys of `[[laid]]` and the lengths as typed: top, or left and right.
        doubted: it is taken although no joint that the job allows comes to it.
    """

    course: int
    levels: tuple[tuple[str, str], ...]
    doubted: bool = False

    def toml(self) -> str:
        """Write it as the job file takes it."""
        lines = [f"{key} = {_quoted(value)}" for key, value in self.levels]
        lines += ["doubted = true"] * self.doubted
        return "\n".join(["[[laid]]", f"course = {self.course}", *lines, ""])


def _quoted(text: str) -> str:
    # TOML writes a text as JSON does, except that it escapes this one sign too.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007F")


def with_laid(text: str, entries: tuple[LaidEntry, ...]) -> str:
    """Add courses laid to the end of a job file's text."""
    apart = "\n" if text.endswith("\n") or not text else "\n\n"
    return text + apart + "\n".join(entry.toml() for entry in entries)


def with_change(text: str, mark: str, says: str, courses: tuple[int, ...]) -> str:
    """Add a `[[revision]]` to the end of a job file's text.

    Args:
        text: the job file.
        mark: the revision's.
        says: what changed.
        courses: the numbers of the courses that moved.
    """
    lines = ["[[revision]]", f"mark = {_quoted(mark)}", f"says = {_quoted(says)}"]
    if courses:
        lines.append(f"courses = [{', '.join(str(course) for course in courses)}]")
    return "\n".join([text.rstrip("\n"), "", *lines, ""])


def next_revision(revision: str) -> str:
    """Return the revision after one: B after A, R3 after R2, 1 after none."""
    match = re.fullmatch(r"(.*?)(\d+)", revision)
    if match is not None:
        return f"{match[1]}{int(match[2]) + 1}"
    if revision and revision[-1].isascii() and revision[-1].isalpha():
        last = revision[-1]
        if last not in "zZ":
            return f"{revision[:-1]}{chr(ord(last) + 1)}"
        return f"{revision[:-1]}{chr(ord(last) - 25)}{chr(ord(last) - 25)}"
    return f"{revision}1"


def with_revision(text: str, job: Job) -> str:
    """Put the next revision into the text in place of the job's own.

    Args:
        text: the job file.
        job: what was read from it.

    Where `[job]` has no line of its own there is no place for the revision, and the
    text comes back as it was.
    """
    revision = next_revision(job.job.revision)
    about = _ABOUT.search(text)
    if about is None:
        return text
    end = re.compile(r"^[ \t]*\[", re.MULTILINE).search(text, about.end())
    table = slice(about.end(), end.start() if end else len(text))
    inside = text[table]
    if _REVISION.search(inside):
        inside = _REVISION.sub(lambda m: f'{m[1]}"{revision}"', inside, count=1)
    else:
        inside = f'\nrevision = "{revision}"{inside}'
    return text[: table.start] + inside + text[table.stop :]
