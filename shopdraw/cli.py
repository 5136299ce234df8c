"""The door: read the words, call the pipeline, print, choose the exit code.

In:  the command line.   Out: text, files, and 0, 1 or 2.
Frame: none.

0: done, nothing failed. 1: done, but a finding failed or a target was missed. 2: not
drawable, nothing written. Only this module catches the program's own errors.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable
from dataclasses import replace
from functools import wraps
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Literal, ParamSpec

import click

from shopdraw import __version__
from shopdraw.errors import NotPublished, ShopdrawError

if TYPE_CHECKING:
    from shopdraw.job.revising import LaidEntry
    from shopdraw.pipeline import Solution

Params = ParamSpec("Params")
JOB = click.argument("job_file", metavar="JOB.toml", type=click.Path(path_type=Path))


def says_faults(command: Callable[Params, int]) -> Callable[Params, None]:
    """Turn the program's errors into lines on standard error and exit code 2."""

    @wraps(command)
    def said(*words: Params.args, **named: Params.kwargs) -> None:
        # A run is short and leaves few cycles: looking for them costs it a tenth.
        gc.set_threshold(100_000, 50, 100)
        try:
            code = command(*words, **named)
        except ShopdrawError as error:
            for line in error.lines():
                click.echo(line, err=True)
            code = 2
        # Nor are they looked for at the end, when all goes anyway.
        gc.freeze()
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
    _write_new(job_file, starter)
    click.echo(f"Wrote {job_file}. Next: shopdraw check {job_file}")
    return 0


def _write_new(path: Path, data: bytes) -> None:
    """Write a file that is not there yet."""
    try:
        with path.open("xb") as file:
            file.write(data)
    except FileExistsError:
        message = f"{path}: is there already; name another file"
        raise NotPublished(message) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no such name"
        message = f"{path}: can't be written: {reason}"
        raise NotPublished(message) from None


@main.command()
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

    _write_new(form_file, write_pdf((survey_form(lengths),), "Survey form"))
    click.echo(f"Wrote {form_file}. Print it as large as it is.")
    return 0


@main.command()
@says_faults
def schema() -> int:
    """Print the JSON Schema of what `check --json` and solution.json hold.

    Example: shopdraw schema > solution.schema.json
    """
    file = resources.files("shopdraw.catalog").joinpath("solution.schema.json")
    click.echo(file.read_text("utf-8"), nl=False)
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
            _known(
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


@main.command("compare")
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

    _known("--size", sizes, [row.name for row in brick_sizes()])
    _known("--bond", bonds, ["half", "third", "stack"])
    found = compare(job, sizes, bonds)
    click.echo(compared_text(found) if as_json else compared(job, found), nl=False)
    return 0 if any(one.lands for one in found) else 1


def _known(option: str, names: tuple[str, ...], known: list[str]) -> None:
    wrong = [name for name in names if name not in known]
    if wrong:
        message = f"{option}: {', '.join(wrong)} is none of {', '.join(known)}"
        raise NotPublished(message)


@main.command()
@JOB
@click.option("--course", "courses", type=int, multiple=True, help="A course laid.")
@click.option("--top", "tops", multiple=True, help="Its top, from the datum.")
@click.option("--left", "lefts", multiple=True, help="Its top at the left end.")
@click.option("--right", "rights", multiple=True, help="Its top at the right end.")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
@click.option(
    "--out",
    "folder",
    type=click.Path(path_type=Path),
    help="Write the new revision and its drawings in a new folder here.",
)
@says_faults
def remeasure(
    job_file: Path,
    *,
    courses: tuple[int, ...],
    tops: tuple[str, ...],
    lefts: tuple[str, ...],
    rights: tuple[str, ...],
    as_json: bool,
    folder: Path | None,
) -> int:
    """Solve the rest again above what is laid; write only when asked.

    Example: shopdraw remeasure den.toml --course 7 --top '18 11/16 in'
    """
    from shopdraw.job.reading import job_text, parse_job
    from shopdraw.job.revising import with_change, with_laid, with_revision

    entries = _entries(courses, tops, lefts, rights)
    text, name = job_text(job_file), str(job_file)
    before = parse_job(text, name)
    text = with_laid(text, entries)
    job = parse_job(text, name)
    from shopdraw.pipeline import (
        build,
        changed_courses,
        remeasured,
        remeasured_text,
        solve,
    )

    revised = with_revision(text, before)
    if folder is not None:
        job = parse_job(revised, name)
    plan, after = solve(before), solve(job)
    said = remeasured_text(plan, after) if as_json else remeasured(plan, after)
    if folder is not None:
        mark, laid = job.job.revision, sorted({entry.course for entry in entries})
        says = f"measured again at course {', '.join(str(each) for each in laid)}"
        revised = with_change(revised, mark, says, changed_courses(plan, after))
        after = replace(after, job=parse_job(revised, name))
        target = folder / f"{job_file.stem}-{mark}"
        _refuse_existing(target)
        from shopdraw.output.write import write_set

        beside = {f"{target.name}.toml": revised.encode("utf-8")}
        names = write_set(build(after), target, beside)
        click.echo(f"Wrote {len(names)} files to {target}.", err=as_json)
    click.echo(said, nl=False)
    return 0 if after.is_clear else 1


def _entries(
    courses: tuple[int, ...],
    tops: tuple[str, ...],
    lefts: tuple[str, ...],
    rights: tuple[str, ...],
) -> tuple[LaidEntry, ...]:
    """Pair courses with where they were measured: tops, or left and right ends."""
    from shopdraw.job.revising import LaidEntry

    count = len(courses)
    levels: list[tuple[tuple[str, str], ...]]
    if len(tops) == count and not lefts and not rights:
        levels = [(("top", top),) for top in tops]
    elif len(lefts) == len(rights) == count and not tops:
        levels = [
            (("left", left), ("right", right))
            for left, right in zip(lefts, rights, strict=True)
        ]
    else:
        message = (
            "remeasure: give each --course its --top, or each its --left and --right; "
            "courses of both kinds go into the job file as [[laid]]"
        )
        raise NotPublished(message)
    pairs = zip(courses, levels, strict=True)
    return tuple(LaidEntry(course, ends) for course, ends in pairs)


def _refuse_existing(target: Path) -> None:
    if target.exists():
        message = f"{target}: is there already; a revision is never written over"
        raise NotPublished(message)


@main.command()
@says_faults
def sizes() -> int:
    """List the catalog: brick and sheet sizes, rule sets, each with its source."""
    from shopdraw.catalog.listing import list_catalog

    click.echo(list_catalog(), nl=False)
    return 0
