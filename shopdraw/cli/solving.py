"""Run the commands that solve and write nothing: check and compare.

In:  a job file.   Out: text, and 0, 1 or 2.
Frame: none.
"""

from __future__ import annotations

from pathlib import Path

import click

from shopdraw.cli.colouring import print_report
from shopdraw.cli.door import JOB, known, says_faults


@click.command()
@JOB
@click.option(
    "--json", "as_json", is_flag=True, help="Print JSON instead, as in solution.json."
)
@says_faults
def check(job_file: Path, *, as_json: bool) -> int:
    """Solve and review a job, and print the result; write nothing.

    JOB.toml is the job file. The command prints the courses and the targets they land
    on; what it decided, and why; ways out where a target is missed; the cut list and
    the cut plan; every finding of the review; and what to order.

    Example: shopdraw check den.toml

    Files: it reads JOB.toml and writes none.

    Exit codes: 0, nothing failed; 1, a finding failed or a target was missed; 2, the
    job can't be drawn, and a line for every fault says why.
    """
    from shopdraw.job.reading import read_job

    job = read_job(job_file)
    from shopdraw.pipeline import solve
    from shopdraw.views.words.record import record_text
    from shopdraw.views.words.report import write_report

    solution = solve(job)
    text = record_text(solution) if as_json else write_report(solution)
    print_report(text, plain=as_json)
    return 0 if solution.is_clear else 1


@click.command("compare")
@JOB
@click.option(
    "--size",
    "sizes",
    multiple=True,
    help="Try this size of the catalog; may be repeated.",
)
@click.option("--bond", "bonds", multiple=True, help="Try this bond; may be repeated.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON instead.")
@says_faults
def compare_sizes(
    job_file: Path, *, sizes: tuple[str, ...], bonds: tuple[str, ...], as_json: bool
) -> int:
    """Rank brick sizes and bonds for a job; write nothing.

    JOB.toml is the job file. The command solves it with its own brick and with each
    size of the catalog, in each bond, or only in those that you name. Bond by bond it
    lists the best first: those whose courses land, then those that keep the rules, then
    those with fewer cuts and less waste; and it says what is worse about each.
    `shopdraw sizes` lists the sizes; the bonds are half, third, quarter, stack,
    Flemish, English and common.

    Example: shopdraw compare den.toml --size modular --size roman

    Files: it reads JOB.toml and writes none.

    Exit codes: 0, at least one of them lands; 1, none of them lands; 2, the job can't
    be drawn, and a line for every fault says why.
    """
    from shopdraw.catalog.rows import brick_names
    from shopdraw.job.model_brick import PATTERNS
    from shopdraw.job.reading import read_job

    job = read_job(job_file)
    from shopdraw.quantities.comparing import compare_jobs
    from shopdraw.views.words.compared import write_compared
    from shopdraw.views.words.record import compared_text

    known("--size", sizes, brick_names())
    known("--bond", bonds, PATTERNS)
    found = compare_jobs(job, sizes, bonds)
    said = compared_text(found) if as_json else write_compared(job, found)
    click.echo(said, nl=False)
    return 0 if any(one.lands for one in found) else 1
