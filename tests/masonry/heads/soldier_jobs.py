"""Random jobs with soldiers or rowlocks over the opening, or round the face.

In:  a seed.   Out: the text of a job file that can be read.
Frame: inches and sixteenths; one in three is drawn in millimetres.
"""

from __future__ import annotations

import random

from shopdraw.catalog.rows import brick_sizes
from shopdraw.errors import BadJob
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job

FOLDS = ("mitre", "butt", "stop short")


def sixteenths(pick: random.Random, least: int, most: int) -> str:
    return f"{pick.randint(least * 16, most * 16)}/16 in"


def job_text(seed: int) -> str:
    """Return the text of a job: openings of 20 to 60 in, every size of brick."""
    pick = random.Random(seed)
    row = pick.choice(brick_sizes("in"))
    legs = [pick.randint(6 * 16, 30 * 16) for _ in range(2)]
    if pick.random() < 0.6:
        legs[1] = legs[0]
    width = pick.randint(20 * 16, 60 * 16)
    head = pick.choice(("soldier", "soldier", "rowlock"))
    over = pick.choice(("opening", "opening", "opening", "face"))
    bears = pick.choice(("best", "best", "no", sixteenths(pick, 1, 4)))
    lines = [
        "[job]",
        'name = "Soldiers"',
        f'lengths = "{pick.choice(("in", "in", "mm"))}"',
        "[face]",
        f'width = "{sum(legs) + width}/16 in"',
        f'height = "{27 + row.length + pick.randint(1, 9)} in"',
        f'measured_to = "{pick.choice(("finish", "substrate"))}"',
    ]
    for side in ("left", "right"):
        if pick.random() < 0.4:
            lines.append(f'{side}_return = "{sixteenths(pick, 3, 20)}"')
    lines += [
        "[opening]",
        f'width = "{width}/16 in"',
        f'height = "{sixteenths(pick, 24, 28)}"',
        f'from_left = "{legs[0]}/16 in"',
        f'head = "{head}"',
        f'head_over = "{over}"',
        f'head_centre = "{pick.choice(("best", "best", "unit", "joint"))}"',
        f'head_ends = "joint in the {pick.choice(("opening width", "leg"))}"',
    ]
    if over == "opening":
        lines.append(f'head_bears = "{bears}"')
    lines += [
        "[brick]",
        f'size = "{row.name}"',
        f'at_fold = "{pick.choice(FOLDS)}"',
    ]
    joint = pick.randint(4, 8)
    spread = pick.choice((0, 0, 1, 2))
    lines += [
        "[joints.head]",
        f'preferred = "{joint}/16 in"',
        f'least = "{joint - spread}/16 in"',
        f'most = "{joint + spread}/16 in"',
    ]
    return "\n".join(lines) + "\n"


def soldier_jobs(first: int, count: int) -> list[tuple[str, Job]]:
    """Return so many jobs that can be read, each with its text."""
    found: list[tuple[str, Job]] = []
    seed = first
    while len(found) < count:
        text = job_text(seed)
        seed += 1
        try:
            found.append((text, parse_job(text, "soldiers.toml")))
        except BadJob:
            continue
    return found
