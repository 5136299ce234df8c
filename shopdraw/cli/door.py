"""Do what every command shares: say faults, write a new file, check names.

In:  a command's words.   Out: lines on standard error, the exit code.
Frame: none.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, ParamSpec

import click

from shopdraw.errors import BadJob, NotPrinted, NotPublished, ShopdrawError

if TYPE_CHECKING:
    from shopdraw.drawing.photo import Photo
    from shopdraw.job.model import Job

Params = ParamSpec("Params")
JOB = click.argument("job_file", metavar="JOB.toml", type=click.Path(path_type=Path))


def spare_the_collector() -> None:
    """Let Python look for reference cycles seldom: looking costs a run a tenth."""
    gc.set_threshold(1_000_000, 50, 100)


def says_faults(command: Callable[Params, int]) -> Callable[Params, None]:
    """Turn the program's errors into lines on standard error and exit code 2."""

    @wraps(command)
    def said(*words: Params.args, **named: Params.kwargs) -> None:
        spare_the_collector()
        try:
            code = command(*words, **named)
        except ShopdrawError as error:
            say(error)
            code = 2
        # At the end the process goes anyway, so cycles are not looked for then either.
        gc.freeze()
        sys.exit(code)

    return said


def say(error: ShopdrawError) -> None:
    """Print an error's lines on standard error."""
    for line in error.lines():
        click.echo(line, err=True)


@contextmanager
def having_written(what: str) -> Iterator[None]:
    """Print in this block; should that fail, say what is written all the same.

    Raises:
        NotPrinted: it failed.
    """
    try:
        yield
    except NotPrinted as error:
        message = f"{error}; {what} written all the same"
        raise NotPrinted(message) from None


def write_new(path: Path, data: bytes) -> None:
    """Write a file that does not exist yet.

    Raises:
        NotPublished: it exists, or can't be written.
    """
    try:
        with path.open("xb") as file:
            file.write(data)
    except FileExistsError:
        message = f"{path}: exists already; name another file"
        raise NotPublished(message) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no file can have that name"
        message = f"{path}: can't be written: {reason}"
        raise NotPublished(message) from None


def refuse_other_kind(path: Path, ending: str) -> None:
    """Refuse a file to write that has no name, or not the ending of its kind.

    Raises:
        NotPublished: it is so.
    """
    if path.suffix.lower() != ending:
        named = str(path) if path.name else "the empty name"
        message = f"{named}: does not end in {ending}; name a file like den{ending}"
        raise NotPublished(message)


def refuse_unprintable(folder: Path | None) -> None:
    """Refuse a folder to write into whose name can't be printed.

    Raises:
        NotPublished: it has such a name.
    """
    if folder is not None and not str(folder).isprintable():
        message = f"--out: {folder} has signs in it that no name should have"
        raise NotPublished(message)


def photo_of(job_file: Path, job: Job) -> Photo | None:
    """Read the photograph that a job names, beside its file; None where it names none.

    Raises:
        BadJob: it can't be used, and a line says why.
    """
    asked = job.appearance
    if not asked.photo:
        return None
    from shopdraw.job.file import job_text
    from shopdraw.job.lines import placed
    from shopdraw.output.photo import read_photo

    path = job_file.with_name(asked.photo)
    try:
        return read_photo(path, str(job_file), asked.photo_corners)
    except BadJob as error:
        raise BadJob(placed(error.faults, job_text(job_file))) from None


def set_name(job_file: Path) -> str:
    """Return the name of the folder that a job's set goes to.

    Raises:
        NotPublished: the folder would be hidden, or its name can't be printed.
    """
    name = job_file.stem
    if name.startswith(".") or not name.isprintable():
        message = (
            f"{job_file}: the set's folder is named after the job file, and can't have "
            "this name; begin it with a letter"
        )
        raise NotPublished(message)
    return name


def known(option: str, names: tuple[str, ...], choices: Sequence[str]) -> None:
    """Refuse what is typed for an option and is not among its choices.

    Raises:
        NotPublished: one of the names is not a choice.
    """
    wrong = [name for name in names if name not in choices]
    if wrong:
        said = ", ".join(wrong).strip(", ")
        what = f"can't be {said}" if said else "names nothing"
        message = f"{option}: {what}; write one of {', '.join(choices)}"
        raise NotPublished(message)
