"""The commands for a start: a job file, a page for the site, what is known.

In:  a name of a file to write.   Out: the file, or text.
Frame: none.
"""

from __future__ import annotations

from importlib import resources
from pathlib import Path
from typing import Literal

import click

from shopdraw.cli.door import JOB, says_faults, write_new


@click.command()
@JOB
@says_faults
def new(job_file: Path) -> int:
    """Write a commented job file that draws as it stands.

    Never overwrites. Example: shopdraw new den.toml
    """
    starter = resources.files("shopdraw.job").joinpath("starter.toml").read_bytes()
    write_new(job_file, starter)
    click.echo(f"Wrote {job_file}. Next: shopdraw check {job_file}")
    return 0


@click.command()
@click.argument("form_file", metavar="FORM.pdf", type=click.Path(path_type=Path))
@click.option(
    "--lengths",
    type=click.Choice(["in", "mm"]),
    default="in",
    show_default=True,
    help="What is measured in, and so the page: letter, or A4.",
)
@says_faults
def form(form_file: Path, lengths: Literal["in", "mm"]) -> int:
    """Write a page to take to site: what to measure, keyed to the job file.

    Never overwrites. Example: shopdraw form survey.pdf
    """
    from shopdraw.output.pdf import write_pdf
    from shopdraw.pipeline import survey_form

    write_new(form_file, write_pdf((survey_form(lengths),), "Survey form"))
    click.echo(f"Wrote {form_file}. Print it as large as it is.")
    return 0


@click.command()
@says_faults
def schema() -> int:
    """Print the JSON Schema of what `check --json` and solution.json hold.

    Example: shopdraw schema > solution.schema.json
    """
    file = resources.files("shopdraw.catalog").joinpath("solution.schema.json")
    click.echo(file.read_text("utf-8"), nl=False)
    return 0


@click.command()
@says_faults
def sizes() -> int:
    """List the catalog: brick and sheet sizes, rule sets, each with its source."""
    from shopdraw.catalog.listing import list_catalog

    click.echo(list_catalog(), nl=False)
    return 0
