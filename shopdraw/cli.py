"""The door: read the words, call the pipeline, print, choose the exit code.

In:  the command line.   Out: text, files, and 0, 1 or 2.
Frame: none.

0: done, nothing failed. 1: done, but a finding failed or a target was missed. 2: not
drawable, nothing written. Only this module catches the program's own errors.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import wraps
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, ParamSpec

import click

from shopdraw import __version__
from shopdraw.errors import NotPublished, ShopdrawError

if TYPE_CHECKING:
    from shopdraw.pipeline import Solution

Params = ParamSpec("Params")
JOB = click.argument("job_file", metavar="JOB.toml", type=click.Path(path_type=Path))


def says_faults(command: Callable[Params, int]) -> Callable[Params, None]:
    """Turn the program's errors into lines on standard error and exit code 2."""

    @wraps(command)
    def said(*words: Params.args, **named: Params.kwargs) -> None:
        try:
            code = command(*words, **named)
        except ShopdrawError as error:
            for line in error.lines():
                click.echo(line, err=True)
            code = 2
        sys.exit(code)

    return said


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="shopdraw")
def main() -> None:
    """Shop drawings for a brick fireplace surround, from one job file.

    Start with `shopdraw new den.toml`, change it to what you measured, then
    `shopdraw check den.toml` and `shopdraw draw den.toml`.
    """


@main.command()
@JOB
@says_faults
def new(job_file: Path) -> int:
    """Write a commented job file that draws as it stands.

    Never overwrites. Example: shopdraw new den.toml
    """
    starter = resources.files("shopdraw.job").joinpath("starter.toml").read_bytes()
    try:
        with job_file.open("xb") as file:
            file.write(starter)
    except FileExistsError:
        message = f"{job_file}: is there already; name another file"
        raise NotPublished(message) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no such name"
        message = f"{job_file}: can't be written: {reason}"
        raise NotPublished(message) from None
    click.echo(f"Wrote {job_file}. Next: shopdraw check {job_file}")
    return 0


def _solved(job_file: Path) -> Solution:
    from shopdraw.job.reading import read_job

    job = read_job(job_file)
    from shopdraw.pipeline import solve

    return solve(job)


@main.command()
@JOB
@click.option("--json", "as_json", is_flag=True, help="Print what solution.json holds.")
@says_faults
def check(job_file: Path, *, as_json: bool) -> int:
    """Solve and review a job, print it all, and write nothing.

    Example: shopdraw check den.toml
    """
    solution = _solved(job_file)
    from shopdraw.pipeline import record_text, report

    text = record_text(solution) if as_json else report(solution)
    click.echo(text, nl=False)
    return 0 if solution.is_clear else 1


@main.command()
@JOB
@click.option(
    "--out",
    "folder",
    default=Path("out"),
    show_default=True,
    type=click.Path(path_type=Path),
    help="Where the set goes, in a folder named for the job file.",
)
@says_faults
def draw(job_file: Path, folder: Path) -> int:
    """Solve and review a job, and write its set of drawings.

    Example: shopdraw draw den.toml --out drawings
    """
    solution = _solved(job_file)
    from shopdraw.output.write import write_set
    from shopdraw.pipeline import build, report

    target = folder / job_file.stem
    names = write_set(build(solution), target)
    click.echo(report(solution))
    click.echo(f"Wrote {len(names)} files to {target}:")
    for name in names:
        click.echo(f"  {name}")
    return 0 if solution.is_clear else 1


@main.command()
@says_faults
def sizes() -> int:
    """List the catalog: brick and sheet sizes, rule sets, each with its source."""
    from shopdraw.catalog.listing import list_catalog

    click.echo(list_catalog(), nl=False)
    return 0
