"""Jobs from the whole space of old houses, each made of picks between two numbers.

In:  a pick, which returns a whole number from a least to a most.   Out: TOML, `Job`.
Frame: typed in inches and sixteenths; one in three is drawn in millimetres.

The pick may be a seeded generator's or hypothesis's, so that the suite and the
benchmark draw the same kind of job.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

from shopdraw.errors import BadJob
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job

Pick = Callable[[int, int], int]
BRICK = {
    "modular": (122, 36),
    "roman": (186, 26),
    "norman": (186, 36),
    "standard": (128, 36),
    "closure-modular": (122, 58),
}
"""Length and height in sixteenths."""
PATTERNS = (
    *("half", "half", "half", "third", "quarter", "stack"),
    *("Flemish", "English", "common"),
)
SHEETS = ("ARCH C", "ARCH D", "ANSI C", "A2", "A1")
HEADS = (
    *("running", "soldier", "soldier", "jack arch", "jack arch", "segmental arch"),
    *("segmental arch", "rowlock"),
)


def seeded(seed: int) -> Pick:
    """Return a pick that gives the same numbers for the same seed."""
    return random.Random(seed).randint


def length(sixteenths: int) -> str:
    """Write a length in inches as a person types it."""
    sign = "-" if sixteenths < 0 else ""
    whole, part = divmod(abs(sixteenths), 16)
    return f"{sign}{whole} {part}/16 in" if part else f"{sign}{whole} in"


def first_built(
    text_of: Callable[[], str],
    is_wanted: Callable[[Job], bool] = lambda _: True,
    picks: int = 300,
) -> tuple[str, Job]:
    """Return the first job file that can be built and is wanted, and its job.

    Args:
        text_of: makes a job file, another each time.
        is_wanted: whether a job will do.
        picks: how many are made at the most.
    """
    for _ in range(picks):
        text = text_of()
        try:
            job = parse_job(text, "picked.toml")
        except BadJob:
            continue
        if is_wanted(job):
            return text, job
    message = f"no job that can be built in {picks} picks"
    raise AssertionError(message)


def make_job(pick: Pick) -> tuple[str, Job]:
    """Make a job that can be built: what can't be is left out and picked again.

    Returns:
        The job file's text, and the job.
    """
    return first_built(lambda: write_toml(tables_of(pick)))


def tables_of(pick: Pick) -> dict[str, Any]:
    """Return the tables of one job; most of them can be built."""
    names = sorted(BRICK)
    size = names[pick(0, len(names) - 1)]
    unit, course = BRICK[size]
    legs = pick(30, 180), pick(30, 180)
    if pick(0, 2):
        legs = legs[0], legs[0]
    width = pick(220, 440)
    high = pick(3, 8) * (course + 6) + pick(-2, 2)
    head = HEADS[pick(0, len(HEADS) - 1)]
    over = pick(1, 3) * (course + 6) + (unit if head != "running" else 0)
    rise = width // pick(5, 12)
    if head == "segmental arch":
        over += rise
    top = high + over + pick(-2, 2)
    tables: dict[str, Any] = {
        "job": {"name": "Old house", "lengths": ("in", "in", "mm")[pick(0, 2)]},
        "face": {
            "width": length(sum(legs) + width),
            "height": length(top),
            "measured_to": ("substrate", "finish")[pick(0, 1)],
            "top_meets": ("top", "top", "underside")[pick(0, 2)],
        },
        "opening": {"head": head},
        "brick": {"size": size, "thickness": "5/8 in"},
        "bond": {"pattern": PATTERNS[pick(0, len(PATTERNS) - 1)]},
        "edges": {},
        "hearth": {},
        "sheet": {"size": SHEETS[pick(0, len(SHEETS) - 1)]},
    }
    _returns(tables, pick)
    _opening(tables, pick, legs[0], width, high, is_arch=head.endswith("arch"))
    _over(tables, pick, head, unit, rise)
    _hearth(tables, pick, sum(legs) + width)
    _edges(tables, pick)
    return {name: table for name, table in tables.items() if table}


def _returns(tables: dict[str, Any], pick: Pick) -> None:
    sides = pick(0, 3)
    for bit, side in ((1, "left"), (2, "right")):
        if sides & bit:
            tables["face"][f"{side}_return"] = length(pick(90, 300))
    if sides:
        tables["brick"]["at_fold"] = ("mitre", "butt", "stop short")[pick(0, 2)]


def _opening(
    tables: dict[str, Any],
    pick: Pick,
    left: int,
    width: int,
    high: int,
    *,
    is_arch: bool,
) -> None:
    """Give the opening by its sizes, or by corners that are out of true."""
    opening = tables["opening"]
    if pick(0, 1):
        opening |= {
            "width": length(width),
            "height": length(high),
            "from_left": length(left),
        }
        return
    off = [pick(-8, 8) for _ in range(6)]
    corners = {
        "bottom_left": [length(left + off[0]), length(0)],
        "bottom_right": [length(left + width + off[1]), length(off[2] // 2)],
        "top_left": [length(left + off[3]), length(high)],
        "top_right": [length(left + width + off[4]), length(high + off[5])],
    }
    if not is_arch and pick(0, 1):
        corners["sag"] = length(pick(1, 6))  # type: ignore[assignment]
    opening["corners"] = corners


def _over(tables: dict[str, Any], pick: Pick, head: str, unit: int, rise: int) -> None:
    opening = tables["opening"]
    if head in ("soldier", "rowlock"):
        bears, reach = length(pick(8, 64)), pick(0, 3)
        opening["head_over"] = "face" if reach == 2 else "opening"
        opening["head_bears"] = ("best", "no", "best", bears)[reach]
        opening["head_ends"] = f"joint in the {('opening width', 'leg')[pick(0, 1)]}"
        opening["head_centre"] = ("best", "unit", "joint")[pick(0, 2)]
        if not pick(0, 3):
            opening["head_courses"] = 2
    elif head == "jack arch":
        tables["arch"] = {"depth": length(pick(unit // 2, unit * 5 // 4))}
        if pick(0, 1):
            tables["arch"]["camber"] = length(pick(0, 8))
    elif head == "segmental arch":
        tables["arch"] = {
            "rise": length(rise),
            "depth": length(pick(unit // 2, unit * 5 // 4)),
            "voussoirs": ("best", "whole", "cut")[pick(0, 2)],
        }
    if not pick(0, 5):
        opening["jamb_return"] = length(pick(30, 140))


def _hearth(tables: dict[str, Any], pick: Pick, width: int) -> None:
    kind = pick(0, 2)
    if kind == 1:
        tables["hearth"] = {
            "fall": length(pick(0, 24)),
            "falls_to": ("left", "right")[pick(0, 1)],
        }
    elif kind == 2:
        count = pick(2, 5)
        tables["hearth"] = {
            "points": [
                [length(width * place // (count - 1)), length(pick(-12, 8))]
                for place in range(count)
            ]
        }


def _edges(tables: dict[str, Any], pick: Pick) -> None:
    for side in ("left", "right"):
        edge: dict[str, Any] = {}
        if pick(0, 1):
            edge = {"kind": "soft", "width": length(pick(0, 6))}
        if not pick(0, 2):
            edge["lean"] = length(pick(-10, 10))
        if edge:
            tables["edges"][side] = edge
    if not pick(0, 2):
        tables["edges"]["jambs"] = {"kind": "mortar", "width": length(pick(0, 6))}


def write_toml(tables: dict[str, Any]) -> str:
    """Write tables as a job file, inner tables inline."""
    lines = []
    for name, table in tables.items():
        lines.append(f"[{name}]")
        lines += [f"{key} = {_value(value)}" for key, value in table.items()]
    return "\n".join(lines) + "\n"


def _value(value: Any) -> str:
    if isinstance(value, dict):
        inside = ", ".join(f"{key} = {_value(each)}" for key, each in value.items())
        return f"{{ {inside} }}"
    if isinstance(value, list):
        return f"[{', '.join(_value(each) for each in value)}]"
    if isinstance(value, bool):
        return str(value).lower()
    return str(value) if isinstance(value, int) else f'"{value}"'
