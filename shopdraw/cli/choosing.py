"""Run the command that lays options before the owner.

In:  a job file.   Out: pages of its options; text; 0, 1 or 2.
Frame: none.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from shopdraw.cli.door import JOB, photo_of, says_faults, set_name
from shopdraw.errors import BadJob, Fault, NotLaid, ShopdrawError, printable

if TYPE_CHECKING:
    from shopdraw.job.model import Job
    from shopdraw.solution import Solution

NONE = "is not in the job file; write [[option]], a name, and below it what differs"
LAID = "is too late: courses are laid already"


@click.command("options")
@JOB
@click.option(
    "--out",
    "folder",
    default=Path("out"),
    show_default=True,
    type=click.Path(path_type=Path),
    help="Where to write them, in a folder named after the job file.",
)
@says_faults
def draw_options(job_file: Path, *, folder: Path) -> int:
    """Draw what the owner may choose from, side by side.

    JOB.toml is the job file. Each of its [[option]] tables is the job with the keys
    that differ. Each is solved and drawn: up to three on a page, their pictures at one
    scale, and under them where the courses land, how many pieces are sawn, the price
    and the dates. With [appearance] photo each is laid into the photograph too.

    Example: shopdraw options den.toml --out drawings

    Files: it reads JOB.toml and its photograph, and writes into FOLDER/JOB-options,
    whole or not at all: options.pdf, options.html for a phone, room-1.jpg and so on.

    Exit codes: 0, nothing failed; 1, of some option a finding failed or a target was
    missed; 2, not drawn, and a line for every fault says why.
    """
    from shopdraw.job.reading import read_job

    job, name = read_job(job_file), set_name(job_file)
    if not job.options:
        wanted = LAID if job.laid else NONE
        raise BadJob((Fault(str(job_file), "option", "", wanted),))
    photo = photo_of(job_file, job)
    offered = tuple(
        (called, _solved(number, called, option))
        for number, (called, option) in enumerate(job.options, start=1)
    )
    from shopdraw.output.choices import write_choices
    from shopdraw.pipeline import offer

    choices = offer(offered, photo)
    target = folder / f"{name}-options"
    written = write_choices(choices, target)
    for choice in choices.choices:
        click.echo(f"{choice.name}:")
        for fact, words in choice.facts:
            click.echo(f"  {fact:<7}{words}")
        for words in choice.warns:
            click.echo(f"  {words}")
    click.echo(f"Wrote {len(written.names)} files to {printable(str(target))}.")
    return 0 if all(solution.is_clear for _, solution in offered) else 1


def _solved(number: int, name: str, option: Job) -> Solution:
    """Solve an option; what is in its way is told with its name.

    Raises:
        NotLaid: it can't be laid, or is no wall that proves itself.
    """
    from shopdraw.pipeline import solve

    try:
        return solve(option)
    except ShopdrawError as error:
        lines = (f'option[{number}] "{name}": {line}' for line in error.lines())
        raise NotLaid("\n".join(lines)) from None
