"""Run the command that writes sets of drawings: one, or many at once.

In:  job files, and where sets go.   Out: sets, text, and 0, 1 or 2.
Frame: none.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from shopdraw.cli.colouring import print_report
from shopdraw.cli.door import (
    having_written,
    known,
    photo_of,
    refuse_unprintable,
    says_faults,
    set_name,
    spare_the_collector,
)
from shopdraw.errors import NotPublished, ShopdrawError, printable

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

    from shopdraw.cli.drawn import Drawn
    from shopdraw.drawing.photo import Photo
    from shopdraw.job.model import Job
    from shopdraw.job.model_labour import Paper
    from shopdraw.output.settling import Settled


@click.command()
@click.argument(
    "job_files",
    metavar="JOB.toml ...",
    nargs=-1,
    required=True,
    type=click.Path(path_type=Path),
)
@click.option(
    "--out",
    "folder",
    default=Path("out"),
    show_default=True,
    type=click.Path(path_type=Path),
    help="Where to write each set, in a folder named after its job file.",
)
@click.option(
    "--sheets",
    "picked",
    help="Draw these only, with commas: elevation,story-pole, or by number: A-201. "
    "Their pages are in part.pdf. What was drawn earlier, set.pdf among it, stays "
    "only if the job file and the program have not changed since.",
)
@click.option(
    "--papers",
    "papers",
    help="Print these too, with commas: quote,costs. The job file asks for them with "
    "sheet.papers, or with the tables that they are made from.",
)
@click.option(
    "--workers",
    type=click.IntRange(1, 64),
    show_default="one for each processor core",
    help="How many processes may draw at once.",
)
@says_faults
def draw(
    job_files: tuple[Path, ...],
    folder: Path,
    picked: str | None,
    papers: str | None,
    workers: int | None,
) -> int:
    """Solve and review jobs, and write a set of drawings for each.

    For one job the command prints the whole report. For several it prints what became
    of each, and writes an index of the sets, FOLDER/index.html; a job that can't be
    drawn does not stop the others.

    Example: shopdraw draw den.toml --out drawings

    Example: shopdraw draw den.toml --sheets elevation,story-pole

    Example: shopdraw draw den.toml --papers quote,costs

    Example: shopdraw draw jobs/*.toml --workers 4

    Files: it reads each JOB.toml, and writes its set into FOLDER/JOB, whole or not at
    all. It takes away what the set before had and this one has not. A file of the set
    that you have changed is set aside: ticket.pdf as ticket.changed.pdf. Files of your
    own stay; set.json lists those of the set.

    Exit codes: 0, drawn, and nothing failed; 1, drawn, but a finding failed or a target
    was missed; 2, not drawn, and the set that was there before still is. For several
    jobs it is the highest of their codes.
    """
    refuse_unprintable(folder)
    wanted = _papers(papers)
    if len(job_files) > 1:
        return _draw_many(job_files, folder, picked, wanted, workers)
    from shopdraw.job.reading import read_job

    job, target = read_job(job_files[0]), folder / set_name(job_files[0])
    job = job.asking_for(wanted)
    photo = photo_of(job_files[0], job)
    from shopdraw.output.sharing import second_process

    with second_process(workers) as second:
        drawn = _draw_one(job, photo, target, picked, second)
    with having_written(f"{target} is"):
        print_report(f"{drawn.says}\n")
        click.echo(f"Wrote {len(drawn.names)} files to {target}:")
        for name in drawn.names:
            click.echo(f"  {name}")
        for what, names in drawn.before:
            click.echo(f"{what.capitalize()}:")
            for name in names:
                click.echo(f"  {printable(name)}")
    return drawn.code


def _papers(names: str | None) -> tuple[Paper, ...]:
    """Return the papers that are named; a name that there is not is told."""
    if names is None:
        return ()
    from shopdraw.job.model_labour import PAPERS

    wanted = tuple(name.strip() for name in names.split(","))
    known("--papers", wanted, PAPERS)
    return tuple(name for name in PAPERS if name in wanted)


def _draw_one(
    job: Job,
    photo: Photo | None,
    target: Path,
    picked: str | None,
    second: Connection | None = None,
) -> Drawn:
    from shopdraw.cli.drawn import Drawn
    from shopdraw.output.sharing import Shared
    from shopdraw.output.write import begin_pictures, picture_name, write_set
    from shopdraw.pipeline import build, solve
    from shopdraw.views.page.lists import make_glance
    from shopdraw.views.words.report import write_report

    solution = solve(job)
    shared = Shared[bytes](second)
    begin = partial(begin_pictures, shared) if picked is None else None
    drawn = build(solution, photo, begin)
    if picked is not None:
        wanted = tuple(name.strip() for name in picked.split(","))
        every = (*drawn.names, *drawn.numbers)
        known("--sheets", wanted, list(dict.fromkeys(every)))
        drawn = drawn.picked(wanted)
    written = write_set(drawn, target, second=second, begun=shared)
    return Drawn(
        0 if solution.is_clear else 1,
        written.names,
        write_report(solution),
        failed=sum(finding.status == "failed" for finding in solution.findings),
        missed=sum(not target.lands for target in solution.coursing.targets),
        before=_told(written.settled),
        glance=make_glance(solution),
        picture=picture_name(drawn),
    )


def _told(settled: Settled) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return what became of files that were there, where it is worth a line."""
    aside = tuple(f"{name}, now {other}" for name, other in settled.aside)
    every = (
        ("taken away, of the set before", settled.away),
        ("set aside, changed since they were drawn", aside),
        ("left, perhaps of a set from another job file", settled.doubted),
    )
    return tuple((what, names) for what, names in every if names)


def _tried(
    job_file: Path, folder: Path, picked: str | None, papers: tuple[Paper, ...]
) -> Drawn:
    """Draw one job of many; its faults are told in the summary."""
    from shopdraw.cli.drawn import Drawn
    from shopdraw.job.reading import read_job

    spare_the_collector()
    try:
        job = read_job(job_file).asking_for(papers)
        photo = photo_of(job_file, job)
        return _draw_one(job, photo, folder / set_name(job_file), picked)
    except ShopdrawError as error:
        return Drawn(2, (), "\n".join(error.lines()))


def _draw_many(
    job_files: tuple[Path, ...],
    folder: Path,
    picked: str | None,
    papers: tuple[Paper, ...],
    workers: int | None,
) -> int:
    """Draw each job in one of several processes, and say what became of it."""
    from shopdraw.cli.drawn import Drawn
    from shopdraw.output.sharing import make_each

    _refuse_shared_folders(job_files, folder)
    tasks: dict[str, Callable[[], Drawn]]
    tasks = {
        str(path): partial(_tried, path, folder, picked, papers) for path in job_files
    }
    became: dict[str, Drawn] = {}
    with click.progressbar(
        make_each(tasks, workers),
        len(tasks),
        label="Drawing",
        file=sys.stderr,
    ) as done:
        for name, drawn in done:
            broke = Drawn(
                2,
                (),
                f"{printable(name)}: not drawn: its process stopped early",
            )
            became[name] = drawn or broke
    for name in tasks:
        if became[name].code == 2:
            click.echo(became[name].says, err=True)
    aside = _index(job_files, folder, became)
    counts = Counter(drawn.code for drawn in became.values())
    with having_written(f"{counts[0] + counts[1]} sets are"):
        for name in tasks:
            click.echo(f"{printable(name)}: {_summed_up(became[name])}")
        if aside:
            click.echo(f"The index was changed since it was drawn: it is now {aside}.")
        click.echo(
            f"{len(tasks)} jobs, sets in {folder}: {counts[0]} drawn, {counts[1]} "
            f"drawn with failed findings or missed targets, {counts[2]} not drawn."
        )
    return max(counts)


def _index(job_files: tuple[Path, ...], folder: Path, became: dict[str, Drawn]) -> str:
    """Write the index of the sets, if there are any; say what was set aside for it."""
    from shopdraw.output.index import NAME, Listing, is_unchanged, write_index
    from shopdraw.output.publish import publish_file
    from shopdraw.output.write import PAGE

    listings = []
    for path in job_files:
        drawn = became[str(path)]
        page = PAGE if PAGE in drawn.names else ""
        says = tuple(drawn.says.splitlines()) if drawn.code == 2 else ()
        name = printable(path.name)
        listings.append(
            Listing(name, path.stem, drawn.glance, page, drawn.picture, says)
        )
    if all(each.glance is None for each in listings):
        return ""
    return publish_file(NAME, write_index(tuple(listings)), folder, is_unchanged)


def _refuse_shared_folders(job_files: tuple[Path, ...], folder: Path) -> None:
    """Refuse two jobs whose sets would share a folder, before any is drawn."""
    from shopdraw.output.index import NAME

    first: dict[str, Path] = {}
    for path in job_files:
        if path.stem.casefold() == NAME:
            message = f"{path}: its set would have the name of the index, {NAME}"
            raise NotPublished(message)
        # Some discs do not tell capitals apart.
        other = first.setdefault(path.stem.casefold(), path)
        if other is not path:
            message = f"{other} and {path}: both sets would go to {folder / path.stem}"
            raise NotPublished(message)


def _summed_up(drawn: Drawn) -> str:
    if drawn.code == 2:
        return "not drawn"
    parts = [f"{len(drawn.names)} files"]
    if drawn.failed:
        parts.append(f"findings failed: {drawn.failed}")
    if drawn.missed:
        parts.append(f"targets missed: {drawn.missed}")
    for what, names in drawn.before:
        parts.append(f"{len(names)} {what.partition(',')[0]}")
    return ", ".join(parts)
