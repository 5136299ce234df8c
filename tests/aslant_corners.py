"""Old houses with corners that are not square, or inside ones; what is held.

In:  a pick, as `old_houses` has it.   Out: TOML, `Job`; what is wrong, in words.
Frame: as `old_houses`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from shopdraw.errors import BadJob, NotLaid
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import build, solve
from tests.old_houses import Pick, length, seeded, tables_of, write_toml
from tests.old_houses_held import (
    miscounted,
    misread,
    redlined,
    unreported,
    without_papers,
)

IN_WORDS = (
    "its corner unit takes",
    "somewhere no course of it can be laid",
    "run into each other; make the leg wider",
)
"""What can't be laid is refused so: a leg that the mitre takes, no room at all, or a
return whose brick meets that of the jamb."""


def make_aslant(pick: Pick) -> tuple[str, Job]:
    """Make a job with a corner that is not square; what can't be built is left out.

    Each side has a return, or a chamfer and a return; its angles are given as such, or
    by how far the face reaches along and back.

    Returns:
        The job file's text, and the job.
    """
    for _ in range(2000):
        tables = tables_of(pick)
        for side in ("left", "right"):
            if pick(0, 3):
                tables["face"] |= _aslant(pick, side)
        try:
            text = write_toml(tables)
            job = parse_job(text, "aslant.toml")
        except BadJob:
            continue
        if not job.face.is_square:
            return text, job
    message = "no job that can be built in 2000 picks"
    raise AssertionError(message)


def make_inside(pick: Pick) -> tuple[str, Job]:
    """Make a job with an inside corner beside an alcove, behind a return or a chamfer.

    Returns:
        The job file's text, and the job.
    """
    for _ in range(2000):
        tables = tables_of(pick)
        for side in ("left", "right"):
            if pick(0, 2):
                tables["face"] |= _inside(pick, side)
        try:
            text = write_toml(tables)
            job = parse_job(text, "inside.toml")
        except BadJob:
            continue
        if job.face.left_alcove or job.face.right_alcove:
            return text, job
    message = "no job that can be built in 2000 picks"
    raise AssertionError(message)


def _inside(pick: Pick, side: str) -> dict[str, Any]:
    keys: dict[str, Any] = {f"{side}_return": length(pick(40, 330))}
    keys[f"{side}_alcove"] = length(pick(60, 700))
    if not pick(0, 4):
        keys |= _splayed(pick, f"{side}_chamfer", pick(80, 260), (20, 70))
    return keys


def _aslant(pick: Pick, side: str) -> dict[str, Any]:
    keys = _splayed(pick, f"{side}_return", pick(90, 300), (-30, 60))
    if pick(0, 1):
        keys |= _splayed(pick, f"{side}_chamfer", pick(50, 260), (20, 70))
        if pick(0, 1):
            # Behind most chamfers the return goes straight back.
            keys = {key: x for key, x in keys.items() if "return_" not in key}
    return keys


def _splayed(
    pick: Pick, key: str, along: int, within: tuple[int, int]
) -> dict[str, Any]:
    if pick(0, 2):
        return {key: length(along), f"{key}_splay": pick(*within)}
    return {key: length(along), f"{key}_depth": length(along - pick(1, along // 3))}


def wrong_in(
    number: int,
    *,
    to_draw: bool = False,
    make: Callable[[Pick], tuple[str, Job]] = make_aslant,
) -> list[str]:
    """Return what is wrong with one job, each with its job file.

    The proof raises by itself. What is drawn is read back too, papers included.
    """
    text, job = make(seeded(number))
    try:
        solution = solve(job)
    except NotLaid as refused:
        # What is to be drawn has to be there to be drawn.
        is_told = not to_draw and any(words in str(refused) for words in IN_WORDS)
        return [] if is_told else [f"{refused}:\n{text}"]
    drawn = build(solution) if to_draw else without_papers(solution)
    said = unreported(solution) + redlined(solution, drawn)
    said += miscounted(solution, drawn)
    said += misread(solution, drawn, None) if to_draw else []
    return [f"{what}:\n{text}" for what in said]
