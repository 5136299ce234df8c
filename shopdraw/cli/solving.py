"""The commands that solve and write nothing: check and compare.

In:  a job file.   Out: text, and 0, 1 or 2.
Frame: none.
"""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import click

from shopdraw.cli.colouring import print_report
from shopdraw.cli.door import JOB, known, says_faults


@click.command()
@JOB
@click.option("--json", "as_json", is_flag=True, help="Print what solution.json holds.")
@says_faults
def check(job_file: Path, *, as_json: bool) -> int:
    """Solve and review a job, print it all, and write nothing.

    JOB.toml is the job file. Printed are the courses and what they land on, what was
    decided and why, the ways out where something is missed, the cut list and the cut
    plan, every finding, and what to order.

    Example: shopdraw check den.toml

    Files: reads JOB.toml; writes none.

    Exit codes: 0, nothing failed; 1, a finding failed or a target was missed; 2, not
    drawable: a line for every fault.
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
@click.option("--size", "sizes", multiple=True, help="A size of the catalog to try.")
@click.option("--bond", "bonds", multiple=True, help="A bond to try.")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@says_faults
def compare_sizes(
    job_file: Path, *, sizes: tuple[str, ...], bonds: tuple[str, ...], as_json: bool
) -> int:
    """Rank brick sizes and bonds for a job; write nothing.

    JOB.toml is the job file. It is solved with each size of the catalog and each bond,
    or those named, its own among them; the best stand first: what lands, then by cuts
    and waste. `shopdraw sizes` lists the sizes; the bonds are half, third and stack.

    Example: shopdraw compare den.toml --size modular --size roman

    Files: reads JOB.toml; writes none.

    Exit codes: 0, one of them lands; 1, none does; 2, not drawable: a line for every
    fault.
    """
    from shopdraw.catalog.rows import brick_names
    from shopdraw.job.model import Pattern
    from shopdraw.job.reading import read_job

    job = read_job(job_file)
    from shopdraw.quantities.comparing import compare_jobs
    from shopdraw.views.words.record import compared_text
    from shopdraw.views.words.report import write_compared

    known("--size", sizes, brick_names())
    known("--bond", bonds, get_args(Pattern))
    found = compare_jobs(job, sizes, bonds)
    said = compared_text(found) if as_json else write_compared(job, found)
    click.echo(said, nl=False)
    return 0 if any(one.lands for one in found) else 1
