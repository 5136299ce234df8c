"""The commands for a start: a job file, a page for the site, what is known.

In:  a name of a file to write, or of what is asked.   Out: the file, or text.
Frame: none.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from shopdraw.cli.door import JOB, says_faults, set_name, write_new
from shopdraw.errors import printable

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem


@click.command()
@JOB
@says_faults
def new(job_file: Path) -> int:
    """Write a commented job file that draws as it stands.

    JOB.toml is the file to write. Change its values to what you measured; what you
    take out gets a usual value.

    Example: shopdraw new den.toml

    Files: writes JOB.toml, and never over a file that is there.

    Exit codes: 0, written; 2, not written, one line says why.
    """
    from importlib import resources

    set_name(job_file)
    starter = resources.files("shopdraw.job").joinpath("starter.toml").read_bytes()
    write_new(job_file, starter)
    name = printable(str(job_file))
    click.echo(f"Wrote {name}. Next: shopdraw check {name}")
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
    """Write a page to take to site, keyed to the job file.

    It shows what to measure and from where to where, with a box for each figure and
    the key that takes it. FORM.pdf is the file to write: one page, to print at 100 %.

    Example: shopdraw form survey.pdf --lengths mm

    Files: writes FORM.pdf, and never over a file that is there.

    Exit codes: 0, written; 2, not written, one line says why.
    """
    from shopdraw.output.pdf import write_pdf
    from shopdraw.views.survey_form import draw_form

    write_new(form_file, write_pdf((draw_form(lengths),), "Survey form"))
    click.echo(f"Wrote {printable(str(form_file))}. Print it at 100 %.")
    return 0


def _keys(
    _context: click.Context, _parameter: click.Parameter, start: str
) -> list[CompletionItem]:
    """Complete a key of the job file."""
    from click.shell_completion import CompletionItem

    from shopdraw.job.keys import key_rows

    return [
        CompletionItem(key, help=row.says)
        for key, row in key_rows().items()
        if key.startswith(start)
    ]


@click.command()
@click.argument("key", required=False, shell_complete=_keys)
@says_faults
def explain(key: str | None) -> int:
    """Say what a key of the job file is, and where it shows.

    KEY is dotted, as in the job file: joints.bed.most, target.level (target[1].level
    will do). It is told what the key means, what it takes, what a job has that leaves
    it out, and where it is seen on the sheets. The name of a table, joints or
    opening.corners, lists its keys; without KEY the tables are listed.

    Example: shopdraw explain joints.bed.most

    Files: reads none and writes none.

    Exit codes: 0, explained; 2, no such key: one line names the nearest.
    """
    from shopdraw.job.describing import describe_key, list_tables

    if key is None:
        click.echo(list_tables())
        click.echo("Next: shopdraw explain TABLE, or TABLE.KEY")
    else:
        click.echo(describe_key(key), nl=False)
    return 0


@click.command()
@click.argument(
    "of",
    metavar="[job|solution]",
    type=click.Choice(["job", "solution"]),
    default="job",
)
@says_faults
def schema(of: Literal["job", "solution"]) -> int:
    """Print a JSON Schema: of the job file, or of solution.json.

    job, the usual one, lets an editor complete the keys of a job file, say what each
    is, and mark what is misspelled or has no unit. Whether it can be built only check
    can say. solution is for programs that read solution.json, or what check --json
    and remeasure --json print. Both are draft 2020-12.

    Example: shopdraw schema > job.schema.json

    Files: reads none and writes none.

    Exit codes: 0, printed; 2, neither of the two was asked for.
    """
    if of == "solution":
        from shopdraw.views.words.record_form import schema_text
    else:
        from shopdraw.job.schema import schema_text
    click.echo(schema_text(), nl=False)
    return 0


@click.command()
@says_faults
def sizes() -> int:
    """List the catalog: brick and sheet sizes, rule sets, sources.

    Each row has where its figures come from and how that text was read. The names are
    what brick.size, rules.set, sheet.size, sheet.page and layers.names take.

    Example: shopdraw sizes

    Files: reads none and writes none.

    Exit codes: 0, listed.
    """
    from shopdraw.catalog.listing import list_catalog

    click.echo(list_catalog(), nl=False)
    return 0
