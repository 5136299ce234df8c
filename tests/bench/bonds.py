"""The bond alone on random walls, 300 a kind: how fast, how many to the end."""

from __future__ import annotations

import random
import time
from collections.abc import Iterator
from typing import Any

from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from shopdraw.masonry.bond.plan import plan_bond
from shopdraw.masonry.bond.solve import solve_bond
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.heads.soldiers import lay_soldiers
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.rows.merit import FAILS, NOT_MIRRORED
from shopdraw.masonry.wall.surround import trace_surround
from tests.bench.timing import Row
from tests.old_houses import length

WALLS = 300
KINDS: dict[str, tuple[str, bool, float, float]] = {
    "half, mirrored": ("half", True, 0.05, 0.5),
    "half, unlike legs": ("half", False, 0.3, 1.5),
    "third": ("third", True, 0.08, 0.5),
    "quarter": ("quarter", True, 0.08, 0.5),
    "English": ("English", True, 0.08, 0.5),
    "Flemish": ("Flemish", True, 0.25, 2.0),
    "common": ("common", True, 0.25, 2.0),
}
"""By name: the bond, whether the legs are alike, the median and the worst asked for."""
SIZES = {
    "modular": (122, 58), "standard": (128, 58), "roman": (186, 58),
    "norman": (186, 58), "king": (154, 48), "queen": (122, 48),
    "old-us-standard": (128, 60),
}  # fmt: skip
"""Length, and what a corner unit's short leg is, in sixteenths."""


def wall_of(bond: str, seed: int, *, is_mirrored: bool) -> Job:
    """Return a random wall: legs of 6 to 30 in, openings of 20 to 60 in."""
    pick = random.Random(f"{bond} {seed} {is_mirrored}")
    size = pick.choice(sorted(SIZES))
    long, short = SIZES[size]
    leg = pick.randint(96, 480)
    other = leg if is_mirrored else pick.randint(96, 480)
    opening, high = pick.randint(320, 960), pick.randint(320, 544)
    back = pick.randint(48, 320) if pick.random() < 0.5 else None
    head = pick.choice(("running", "running", "soldier"))
    joint = ("3/8 in",) * 3 if pick.random() < 0.3 else ("3/8 in", "1/4 in", "1/2 in")
    lines = [
        f'[job]\nname = "Wall {seed}"\nlengths = "in"',
        f'[face]\nwidth = "{length(leg + opening + other)}"\nmeasured_to = "finish"',
        f'height = "{length(high + pick.randint(160, 384))}"',
    ]
    if back is not None:
        lines += [f'{x}_return = "{length(back)}"' for x in ("left", "right")]
    lines += [
        f'[opening]\nwidth = "{length(opening)}"\nheight = "{length(high)}"',
        f'from_left = "{length(leg)}"\nhead = "{head}"',
        f'[brick]\nsize = "{size}"\nthickness = "5/8 in"',
    ]
    if back is not None:
        legs = f'long_leg = "{length(long)}", short_leg = "{length(short)}"'
        lines.append(f"corner = {{ {legs} }}")
    lines += [
        '[joints]\nhead = {{ preferred = "{}", least = "{}", most = "{}" }}'.format(
            *joint
        ),
        f'[bond]\npattern = "{bond}"',
    ]
    return parse_job("\n".join(lines), "wall.toml")


def held(job: Job) -> tuple[float, Any]:
    """Return how long the bond took, and how it is laid; None where no soldiers fit."""
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    try:
        soldiers = lay_soldiers(job, surround, coursing)
    except NotLaid:
        return 0.0, None
    plan = plan_bond(job, surround, coursing, soldiers.brick_stops)
    start = time.process_time()
    solved = solve_bond(plan)
    took = time.process_time() - start
    prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))
    return took, solved


def measure(walls: int = WALLS) -> list[Row]:
    """Solve and prove so many walls a kind."""
    return [row for kind in KINDS for row in _rows(kind, walls)]


def _rows(kind: str, walls: int) -> Iterator[Row]:
    bond, is_mirrored, median, worst = KINDS[kind]
    took, cut_short, failing, unlike = list[float](), 0, 0, 0
    for seed in range(walls):
        seconds, solved = held(wall_of(bond, seed, is_mirrored=is_mirrored))
        if solved is None:
            continue
        took.append(seconds)
        front = solved.faces["front"].merit
        cut_short += not solved.searched_all
        failing += any(front[:FAILS])
        unlike += bool(front[NOT_MIRRORED - 1])
    took.sort()
    yield Row(
        f"{kind}: {len(took)} walls, CPU time of the bond alone, median and worst",
        f"{1000 * took[len(took) // 2]:.0f} ms, {took[-1]:.2f} s",
        asked=f"{1000 * median:.0f} ms, {worst} s",
    )
    yield Row("  not searched to the end", str(cut_short))
    yield Row("  fronts that fail merit 1 to 6", str(failing))
    yield Row("  mirror fronts laid unmirrored", str(unlike))
