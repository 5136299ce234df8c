"""Jobs with bands and corbels, out of the whole space of old houses.

In:  a pick, as `old_houses` has it.   Out: TOML, `Job`; what is wrong with one.
Frame: as `old_houses`.
"""

from __future__ import annotations

from typing import Any

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from tests.demos import unpictured
from tests.old_houses import (
    BRICK,
    Pick,
    first_built,
    length,
    seeded,
    tables_of,
    write_toml,
)
from tests.old_houses_held import miscounted, redlined, unreported, without_papers

KINDS = ("soldier", "soldier", "rowlock", "header", "header")


def make_job(pick: Pick) -> tuple[str, Job]:
    """Make a job with bands or a corbel that the reader takes.

    Returns:
        The job file's text, and the job.
    """
    return first_built(lambda: banded_text(pick))


def banded_text(pick: Pick) -> str:
    """Return a job file with bands, a corbel, or both."""
    tables = tables_of(pick)
    unit, course = BRICK[tables["brick"]["size"]]
    high = sixteenths(tables["face"]["height"]) + pick(1, 6) * (course + 6)
    tables["face"]["height"] = length(high)
    wide = sixteenths(tables["face"]["width"])
    if tables["brick"].get("at_fold") == "stop short":
        tables["brick"]["at_fold"] = "butt"
    if "jamb_return" in tables["opening"]:
        tables["brick"].setdefault("at_fold", ("mitre", "butt")[pick(0, 1)])
    what = pick(0, 3)
    bands = [] if what == 3 else list(_bands(pick, high, unit, wide))
    text = write_toml(tables)
    for band in bands:
        text += "[[band]]\n" + "".join(
            f"{key} = {value if isinstance(value, int) else repr(value)}\n"
            for key, value in band.items()
        )
    if what >= 2:
        text += f"[[corbel]]\ncourses = {pick(1, 3)}\nstep = '{pick(2, 5)}/16 in'\n"
        if pick(0, 1):
            text += f"top = '{length(high - pick(0, 2 * (course + 6)))}'\n"
    return text


def _bands(pick: Pick, high: int, unit: int, wide: int) -> Any:
    """Yield a band or two, one in two of them by its level."""
    low = 0
    for _ in range(pick(1, 2)):
        band: dict[str, Any] = {"kind": KINDS[pick(0, len(KINDS) - 1)]}
        if pick(0, 1):
            level = low + pick(unit, 2 * unit)
            band["level"] = length(level)
            if pick(0, 1):
                band["meets"] = "top"
                band["level"] = length(level + unit)
            low = level + 2 * unit
            if low > high:
                return
        else:
            band["course"] = pick(1, max(1, high // 58))
            if not pick(0, 3):
                band["every"] = pick(2, 5)
                band["times"] = pick(1, 3)
        if band["kind"] != "header" and not pick(0, 2):
            for name in ("every", "times", "meets"):
                band.pop(name, None)
            band["from_left"] = length(pick(0, wide // 2))
            band["width"] = length(pick(60, wide // 2))
        yield band


def sixteenths(typed: str) -> int:
    """Return a length that `length` wrote."""
    whole, _, part = typed.removesuffix(" in").partition(" ")
    return 16 * int(whole) + int(part.partition("/")[0] or 0)


def wrong_with(
    number: int, *, composed: bool = False, drawn: bool = False
) -> tuple[str, list[str]]:
    """Solve and prove a wall, and hold what came out.

    Args:
        number: of the wall; the same number gives the same wall.
        composed: whether its sheets are composed and looked over too.
        drawn: whether it is drawn whole besides, all but the pictures.

    Returns:
        Why it is refused, in words, where a band or a corbel can't be where it is
        asked for; and what is wrong, each with its job file.
    """
    text, job = make_job(seeded(number))
    try:
        solution = solve(job)
    except NotLaid as refusal:
        return str(refusal), []
    said = [*unreported(solution), *slivers(solution), *bands_amiss(solution)]
    if composed:
        sheets = build(solution) if drawn else without_papers(solution)
        said += redlined(solution, sheets) + miscounted(solution, sheets)
        files = unpictured(sheets) if drawn else {}
        missing = {"set.pdf", "ticket.pdf"} - {*files} if drawn else ()
        said += [f"{name} is missing" for name in missing]
    return "", [f"{what}:\n{text}" for what in said]


def slivers(solution: Solution) -> list[str]:
    """Name what stands in a band narrower than half a brick's face, as laid."""
    job, at_ends = solution.job, solution.surround.as_built
    if not at_ends.is_true:
        # What leans is sawn to suit, and is held by what is drawn.
        return []
    bands = {course.number for course in solution.coursing.bands()}
    return [
        f"{piece.id} is {piece.length} wide"
        for piece in solution.layout.pieces
        if piece.kind in ("soldier", "rowlock")
        and piece.course in bands
        and piece.length < job.brick.height / 2
    ]


def bands_amiss(solution: Solution) -> list[str]:
    """Name the bands and the corbels that are not what was asked for."""
    job, coursing = solution.job, solution.coursing
    wrong = []
    for place, band in enumerate(job.band, start=1):
        mine = [x for x in coursing.courses if x.band == place]
        if band.is_part:
            wrong += [f"band {place} is a course"] if mine else []
            continue
        if {x.kind for x in mine} != {band.kind}:
            wrong.append(f"band {place} is none, or not of {band.kind}s")
        numbers = [x.number for x in mine]
        asked = [*band.courses(numbers[0] if numbers else 1, len(coursing.courses))]
        if numbers != asked or band.course not in (None, *numbers[:1]):
            wrong.append(f"band {place} is courses {numbers}")
    steps = [x.step * n for x in job.corbel for n in range(1, x.courses + 1)]
    if sorted(steps) != sorted(x.projection for x in coursing.corbelled):
        wrong.append("the corbel does not step out as asked")
    return wrong
