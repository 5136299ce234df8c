"""Old houses whose jambs splay, each made of picks, and what is held of them.

In:  a pick, as `old_houses` has it.   Out: TOML, `Job`; what is wrong, in words.
Frame: as `old_houses`.
"""

from __future__ import annotations

from typing import Any

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.pipeline import build, solve
from tests.old_houses import Pick, first_built, length, seeded, tables_of, write_toml
from tests.old_houses_held import (
    miscounted,
    misread,
    redlined,
    unreported,
    without_papers,
)


def make_splayed(pick: Pick) -> tuple[str, Job]:
    """Make a job with splayed jambs that can be built; what can't be is left out.

    The splay is given by its angle, or by how far the jamb reaches along and back.

    Returns:
        The job file's text, and the job.
    """

    def text_of() -> str:
        tables = tables_of(pick)
        tables["opening"] |= _splayed(pick)
        return write_toml(tables)

    return first_built(text_of, lambda job: bool(job.opening.splayed), picks=2000)


def _splayed(pick: Pick) -> dict[str, Any]:
    along = pick(30, 200)
    firebox: dict[str, Any] = {"firebox": length(along + pick(-20, 20))}
    if not pick(0, 2):
        firebox = {}
    if pick(0, 1):
        return {"jamb_return": length(along), "splay": pick(1, 45), **firebox}
    deep = length(along - pick(1, along // 4))
    return {"jamb_return": length(along), "jamb_depth": deep, **firebox}


def wrong_in(number: int, *, to_draw: bool = False) -> list[str]:
    """Return what is wrong with one job, each with its job file.

    The proof raises by itself. What is drawn is read back too, papers included.
    """
    text, job = make_splayed(seeded(number))
    try:
        solution = solve(job)
    except NotLaid as refused:
        # What can't be laid is refused in words, by the key. What is drawn is laid.
        is_told = not to_draw and "its corner unit takes" in str(refused)
        return [] if is_told else [str(refused)]
    drawn = build(solution) if to_draw else without_papers(solution)
    said = unreported(solution) + redlined(solution, drawn)
    said += miscounted(solution, drawn)
    said += misread(solution, drawn, None) if to_draw else []
    return [f"{what}:\n{text}" for what in said]
