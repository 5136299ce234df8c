"""Run the commands to start with: a job file, a page for the site, explanations.

In:  the name of a file to write, or of what is asked.   Out: the file, or text.
Frame: none.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from shopdraw.cli.door import (
    JOB,
    having_written,
    refuse_other_kind,
    says_faults,
    set_name,
    write_new,
)
from shopdraw.errors import printable

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem


@click.command()
@JOB
@says_faults
def new(job_file: Path) -> int:
    """Write a commented job file, which can be drawn as it stands.

    JOB.toml is the file to write. Change its values to what you measured; a key that
    you take out gets its default.

    Example: shopdraw new den.toml

    Files: it writes JOB.toml, and never over a file that exists.

    Exit codes: 0, written; 2, not written, and a line says why.
    """
    from importlib import resources

    refuse_other_kind(job_file, ".toml")
    set_name(job_file)
    starter = resources.files("shopdraw.job").joinpath("starter.toml").read_bytes()
    write_new(job_file, starter)
    name = printable(str(job_file))
    with having_written(f"{name} is"):
        click.echo(f"Wrote {name}. Next: shopdraw check {name}")
    return 0


@click.command()
@click.argument("form_file", metavar="FORM.pdf", type=click.Path(path_type=Path))
@click.option(
    "--lengths",
    type=click.Choice(["in", "mm"]),
    default="in",
    show_default=True,
    help="What you measure in; the page is letter size for in, A4 for mm.",
)
@says_faults
def form(form_file: Path, lengths: Literal["in", "mm"]) -> int:
    """Write a page, and its back, to take to site and fill in.

    The page shows what to measure, and from where to where. It has a box for each
    figure, and names the key of the job file that takes it. FORM.pdf is the file to
    write: a page and its back, to print at 100 %.

    Example: shopdraw form survey.pdf --lengths mm

    Files: it writes FORM.pdf, and never over a file that exists.

    Exit codes: 0, written; 2, not written, and a line says why.
    """
    refuse_other_kind(form_file, ".pdf")
    from shopdraw.output.libraries import as_they_come

    with as_they_come():
        from shopdraw.output.pdf import write_pdf
    from shopdraw.views.survey_form import draw_form
    from shopdraw.views.survey_overleaf import draw_overleaf

    pages = draw_form(lengths), draw_overleaf(lengths)
    write_new(form_file, write_pdf(pages, "Survey form"))
    name = printable(str(form_file))
    with having_written(f"{name} is"):
        click.echo(f"Wrote {name}. Print it at 100 %.")
    return 0


def _keys(
    _context: click.Context, _parameter: click.Parameter, start: str
) -> list[CompletionItem]:
    """Complete a key of the job file, for the shell."""
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
    """Explain a key of the job file, and where it shows.

    KEY is the name of a table and of a key in it, with a dot between: joints.bed.most,
    or target.level (target[1].level will do). The command says what the key means, what
    values it takes, what its default is, and where on the drawings it is seen. Type the
    name of a table, such as joints or opening.corners, to list its keys; type no KEY to
    list the tables.

    Example: shopdraw explain joints.bed.most

    Files: it reads none and writes none.

    Exit codes: 0, explained; 2, there is no such key, and a line names the nearest.
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
    """Print the JSON Schema of the job file, or of solution.json.

    job is the default. With it an editor can complete the keys of a job file, explain
    each, and mark what is misspelled or has no unit; only `shopdraw check` can say
    whether the job can be built. solution is for programs that read solution.json, or
    what check --json and remeasure --json print. Both schemas are of draft 2020-12.

    Example: shopdraw schema > job.schema.json

    Files: it reads none and writes none.

    Exit codes: 0, printed; 2, you asked for something else.
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
    """List the catalog: brick sizes, rule sets, sheets, layer names.

    Each row says where its figures come from, and how that text was read. The names in
    the first column are what brick.size, rules.set, sheet.size, sheet.page and
    layers.names take.

    Example: shopdraw sizes

    Files: it reads none and writes none.

    Exit codes: 0, listed.
    """
    from shopdraw.catalog.listing import list_catalog

    click.echo(list_catalog(), nl=False)
    return 0
