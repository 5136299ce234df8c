"""Run the command that solves a job again above the courses laid.

In:  a job file and courses measured.   Out: text, a new revision where one is asked.
Frame: none.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from shopdraw.cli.colouring import print_report
from shopdraw.cli.door import (
    JOB,
    having_written,
    photo_of,
    refuse_unprintable,
    says_faults,
    set_name,
)
from shopdraw.errors import NotMeasured, NotPublished

if TYPE_CHECKING:
    from shopdraw.job.model import Job
    from shopdraw.job.revising import LaidEntry
    from shopdraw.solution import Solution


@click.command()
@JOB
@click.option(
    "--course", "courses", type=int, multiple=True, help="The number of a course laid."
)
@click.option("--top", "tops", multiple=True, help="The course's top, from the datum.")
@click.option("--left", "lefts", multiple=True, help="Its top at its left end.")
@click.option("--right", "rights", multiple=True, help="Its top at its right end.")
@click.option(
    "--anyway", is_flag=True, help="Take a top that no joint allowed comes to."
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON instead.")
@click.option(
    "--out",
    "folder",
    type=click.Path(path_type=Path),
    help="Where to write the new revision and its drawings, in a new folder.",
)
@says_faults
def remeasure(
    job_file: Path,
    *,
    courses: tuple[int, ...],
    tops: tuple[str, ...],
    lefts: tuple[str, ...],
    rights: tuple[str, ...],
    anyway: bool,
    as_json: bool,
    folder: Path | None,
) -> int:
    """Solve again above the courses laid; write only with --out.

    JOB.toml is the job file. Give each --course its --top, or its --left and --right
    where the course is out of level. Measure up from the datum, and type the unit.
    Repeat the options for further courses. The command prints the new marks, and how
    far each has moved from the plan. A top that no bed joint of the job comes to is
    more likely a slip of the tape: measure again, or take it with --anyway, and it is
    stamped as doubted. Once the last course is measured the set is the record: as
    laid, how far off the plan, and brick used against ordered.

    Example: shopdraw remeasure den.toml --course 7 --top '18 11/16 in'

    Files: it reads JOB.toml and leaves it as it is. With --out it writes the next
    revision of the job and its drawings into FOLDER/JOB-REVISION, and never over a
    folder that exists. Give it that job file the next time: what was measured stands
    in it.

    Exit codes: 0, nothing failed; 1, a finding failed or a target was missed; 2, not
    drawn or not written, and a line for every fault says why.
    """
    from shopdraw.job.file import job_text
    from shopdraw.job.reading import parse_job
    from shopdraw.job.revising import with_laid, with_revision

    refuse_unprintable(folder)
    entries = _entries(courses, tops, lefts, rights)
    typed, name = job_text(job_file), str(job_file)
    before = parse_job(typed, name)
    name = f"{name}, with the courses given"
    job = parse_job(with_laid(typed, entries), name)
    from shopdraw.pipeline import build, doubt, solve
    from shopdraw.views.words.record import remeasured_text
    from shopdraw.views.words.report import write_doubts, write_remeasured

    plan = solve(before)
    doubts = doubt(job, plan, {each.course for each in entries})
    if doubts and not anyway:
        raise NotMeasured(write_doubts(job, doubts))
    wrong = {each.course for each in doubts}
    entries = tuple(replace(each, doubted=each.course in wrong) for each in entries)
    text = with_laid(typed, entries)
    job = parse_job(text, name)
    revised = with_revision(text, before)
    if folder is not None:
        job = parse_job(revised, name)
        _refuse_unrevised(job_file, before.job.revision, job.job.revision)
    after = solve(job)
    said = remeasured_text(plan, after) if as_json else write_remeasured(plan, after)
    if folder is None:
        print_report(said, plain=as_json)
    else:
        target = folder / f"{set_name(job_file)}-{job.job.revision}"
        revised, after = _noted(revised, name, plan, after, sorted(set(courses)))
        _refuse_existing(target)
        from shopdraw.output.write import write_set

        own = f"{target.name}.toml"
        drawn = build(after, photo_of(job_file, job))
        written = write_set(drawn, target, _beside(job_file, job, own, revised))
        with having_written(f"{target} is"):
            click.echo(
                f"Wrote {len(written.names)} files to {target}.\n"
                f"{_next(target / own, after)}",
                nl=False,
                err=as_json,
            )
            print_report(said, plain=as_json)
    return 0 if after.is_clear else 1


def _next(revised: Path, after: Solution) -> str:
    """Say what goes on from a revision; nothing once all courses are laid."""
    done = after.coursing.is_as_built
    return "" if done else f"Next: shopdraw remeasure {revised}\n"


def _noted(
    revised: str, name: str, plan: Solution, after: Solution, laid: list[int]
) -> tuple[str, Solution]:
    """Note in the job file what the revision changes, and solve from that text."""
    from shopdraw.job.reading import parse_job
    from shopdraw.job.revising import with_change

    changed = after.coursing.changed_from(plan.coursing)
    says = f"measured again at course {', '.join(str(each) for each in laid)}"
    if after.coursing.is_as_built:
        # What is laid is no change to draw a cloud round.
        says, changed = "record, as built: every course is laid", ()
    revised = with_change(revised, after.job.job.revision, says, changed)
    return revised, replace(after, job=parse_job(revised, name))


def _beside(job_file: Path, job: Job, name: str, text: str) -> dict[str, bytes]:
    """Return the revision's own files: what it is drawn again from."""
    files, photo = {name: text.encode("utf-8")}, job.appearance.photo
    if photo:
        from shopdraw.output.photo import stripped

        files[photo] = stripped(job_file.with_name(photo), str(job_file))
    return files


def _entries(
    courses: tuple[int, ...],
    tops: tuple[str, ...],
    lefts: tuple[str, ...],
    rights: tuple[str, ...],
) -> tuple[LaidEntry, ...]:
    """Pair each course with its top, or with its tops at the left and right end."""
    from shopdraw.job.revising import LaidEntry

    count = len(courses)
    if not courses:
        message = "remeasure: name a course that is laid, with --course and its --top"
        raise NotPublished(message)
    if wrong := [course for course in courses if course < 1]:
        message = f"--course: {wrong[0]} is no course; courses are counted from 1"
        raise NotPublished(message)
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
            "remeasure: give each --course a --top, or each a --left and a --right; to "
            "mix the two, write [[laid]] tables into the job file"
        )
        raise NotPublished(message)
    pairs = zip(courses, levels, strict=True)
    return tuple(LaidEntry(course, ends) for course, ends in pairs)


def _refuse_unrevised(job_file: Path, before: str, after: str) -> None:
    from shopdraw.job.revising import next_revision

    wanted = next_revision(before)
    if after != wanted:
        message = (
            f"{job_file}: job.revision: there is no line to write the next one, "
            f'"{wanted}", on; put [job] on a line of its own, and revision below it'
        )
        raise NotPublished(message)


def _refuse_existing(target: Path) -> None:
    if target.exists():
        message = f"{target}: exists already; a revision is never written over"
        raise NotPublished(message)
