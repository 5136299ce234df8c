"""The command that writes sets of drawings.

In:  job files, and where sets go.   Out: sets, text, and 0, 1 or 2.
Frame: none.
"""

from __future__ import annotations

from pathlib import Path

import click

from shopdraw.cli.door import JOB, known, says_faults


@click.command()
@JOB
@click.option(
    "--out",
    "folder",
    default=Path("out"),
    show_default=True,
    type=click.Path(path_type=Path),
    help="Where the set goes, in a folder named for the job file.",
)
@click.option(
    "--sheets", "picked", help="Only these sheets, with commas: elevation,story-pole."
)
@says_faults
def draw(job_file: Path, folder: Path, picked: str | None) -> int:
    """Solve and review a job, and write its set of drawings.

    Example: shopdraw draw den.toml --out drawings
    """
    from shopdraw.job.reading import read_job

    job = read_job(job_file)
    from shopdraw.output.sharing import second_process

    with second_process() as second:
        from shopdraw.pipeline import build, report, solve

        solution = solve(job)
        target = folder / job_file.stem
        drawn = build(solution)
        if picked is not None:
            wanted = tuple(name.strip() for name in picked.split(","))
            known(
                "--sheets",
                wanted,
                list(dict.fromkeys((*drawn.names, *(s.name for s in drawn.sheets)))),
            )
            drawn = drawn.picked(wanted)
        from shopdraw.output.write import write_set

        names = write_set(drawn, target, second=second)
    click.echo(report(solution))
    click.echo(f"Wrote {len(names)} files to {target}:")
    for name in names:
        click.echo(f"  {name}")
    return 0 if solution.is_clear else 1
