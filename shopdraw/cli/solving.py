"""The commands that solve and write nothing: check and compare.

In:  a job file.   Out: text, and 0, 1 or 2.
Frame: none.
"""

from __future__ import annotations

from pathlib import Path

import click

from shopdraw.cli.door import JOB, known, says_faults


@click.command()
@JOB
@click.option("--json", "as_json", is_flag=True, help="Print what solution.json holds.")
@says_faults
def check(job_file: Path, *, as_json: bool) -> int:
    """Solve and review a job, print it all, and write nothing.

    Example: shopdraw check den.toml
    """
    from shopdraw.job.reading import read_job

    job = read_job(job_file)
    from shopdraw.pipeline import record_text, report, solve

    solution = solve(job)
    text = record_text(solution) if as_json else report(solution)
    click.echo(text, nl=False)
    return 0 if solution.is_clear else 1


@click.command("compare")
@JOB
@click.option("--size", "sizes", multiple=True, help="A size of the catalog to try.")
@click.option("--bond", "bonds", multiple=True, help="A bond to try.")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@says_faults
def compare_sizes(
    job_file: Path, *, sizes: tuple[str, ...], bonds: tuple[str, ...], as_json: bool
) -> int:
    """Solve a job over brick sizes and bonds, and rank them; write nothing.

    Example: shopdraw compare den.toml --size modular --size roman
    """
    from shopdraw.catalog.rows import brick_sizes
    from shopdraw.job.reading import read_job

    job = read_job(job_file)
    from shopdraw.pipeline import compare, compared, compared_text

    known("--size", sizes, [row.name for row in brick_sizes()])
    known("--bond", bonds, ["half", "third", "stack"])
    found = compare(job, sizes, bonds)
    click.echo(compared_text(found) if as_json else compared(job, found), nl=False)
    return 0 if any(one.lands for one in found) else 1
