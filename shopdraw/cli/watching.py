"""Run the command that follows a job file as it is typed.

In:  a job file.   Out: a page that a browser on this machine follows; text; 2 or 130.
Frame: none.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from shopdraw.cli.door import JOB, says_faults

if TYPE_CHECKING:
    from shopdraw.drawing.sheets import Sheet
    from shopdraw.output.follow import Followed
    from shopdraw.serving.server import Served
    from shopdraw.solution import Solution

ENDED = 130
"""What a shell calls a command that was ended by Ctrl-C."""
BUSY = "is being solved for the first time."
AWAY = "is not there, or can't be read; save it again, and it is drawn."
EMPTY = "is empty; save it again, and it is drawn."


@click.command()
@JOB
@click.option("--open", "opens", is_flag=True, help="Open the address in a browser.")
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=0,
    help="Listen at this port. Default: one that is free.",
)
@says_faults
def watch(job_file: Path, *, opens: bool, port: int) -> int:
    """Draw a job's elevation anew at each save; write nothing.

    JOB.toml is the job file. The command prints an address on this machine. A browser
    opened there shows the elevation, what landed, what failed and what is not checked,
    and follows each save by itself. A mistake in the file is shown with its line and
    what would do, beside the last drawing, which turns grey. No other machine can
    reach it. Ctrl-C ends it.

    Example: shopdraw watch den.toml --open

    Files: it reads JOB.toml and writes none.

    Exit codes: 130, ended by Ctrl-C; 2, there is no such file, or it can't be served.
    """
    signal.signal(signal.SIGINT, _end)
    _watch(job_file, opens=opens, port=port)
    return ENDED


def _end(*_: object) -> None:
    """End the process where it stands.

    An exception would be swallowed here and there: libraries that are just being
    loaded turn it into one of their own. There is nothing to put away: nothing is
    written, and the address is given up with the process.
    """
    with suppress(OSError):
        os.write(1, b"Ended; nothing was written.\n")
    os._exit(ENDED)


def _watch(job_file: Path, *, opens: bool, port: int) -> None:
    from shopdraw.job.file import job_text
    from shopdraw.output.follow import Followed
    from shopdraw.serving.server import Shown, served

    job_text(job_file)
    shown = Shown()
    shown.put(pages_of(Followed(job_file.name, trouble=BUSY), None))
    with served(shown, port) as address:
        click.echo(f"Following {job_file} at {address}; Ctrl-C ends it.")
        if opens:
            import webbrowser

            if not webbrowser.open(address):
                click.echo("There is no browser that can be opened from here.")
        for followed, solution in follow(job_file):
            shown.put(pages_of(followed, solution))


def follow(job_file: Path) -> Iterator[tuple[Followed, Solution | None]]:
    """Yield what is to be shown, at once and after each save; never ends.

    Yields:
        What is known of the file, and the solution of what is drawn, if anything is.
    """
    from shopdraw.errors import ShopdrawError
    from shopdraw.job.file import MOST_BYTES, job_text
    from shopdraw.job.reading import parse_job
    from shopdraw.output.follow import Followed
    from shopdraw.pipeline import look, solve
    from shopdraw.serving.saves import saves
    from shopdraw.views.page.troubles import troubles_of

    name = job_file.name
    drawn, solution = None, None
    for held in saves(job_file, MOST_BYTES):
        if not held:
            trouble = AWAY if held is None else EMPTY
            yield Followed(name, drawn, trouble), solution
            continue
        text = ""
        try:
            text = job_text(job_file)
            job = parse_job(text, name)
            new = solve(job)
            drawn, solution = look(new), new
        except ShopdrawError as error:
            items = troubles_of(error, text)
            yield Followed(name, drawn, _counted(len(items)), items), solution
            continue
        yield Followed(name, drawn), solution


def _counted(count: int) -> str:
    return (
        "can't be drawn: one fault."
        if count == 1
        else f"can't be drawn: {count} faults."
    )


def pages_of(
    followed: Followed, solution: Solution | None
) -> Callable[[str], Mapping[str, Served]]:
    """Return what lays out what is shown, given its number.

    The page of what is drawn is made when somebody asks for it.
    """
    from shopdraw.output.follow import PAGE, write_follow

    def make(number: str) -> Mapping[str, Served]:
        pages: dict[str, Served] = {"/": write_follow(followed, number)}
        if followed.drawn is not None and solution is not None:
            pages[PAGE] = partial(_page, solution, followed.drawn[1])
        return pages

    return make


def _page(solution: Solution, front: Sheet) -> bytes:
    """Write the page of what is drawn, and hold it against the solution, as in a set.

    Raises:
        NotProved: it does not say what it must.
    """
    from shopdraw.errors import NotProved
    from shopdraw.output.page import write_page
    from shopdraw.output.page_reading import compare_page
    from shopdraw.pipeline import page_beside

    page = write_page(page_beside(solution, front), (), ())
    pieces = tuple((piece.id, piece.mark) for piece in solution.pieces)
    if differences := tuple(compare_page(page, solution.job.digest, pieces)):
        raise NotProved(differences)
    return page
