"""Random hearths in brick: any pattern, border and riser, inches and millimetres."""

from __future__ import annotations

import random
from typing import get_args

from shopdraw.job.model import Job
from shopdraw.job.model_hearth import HearthPattern
from shopdraw.job.reading import parse_job

BRICKS = {
    "in": (("7 5/8 in", "2 1/4 in"), ("7 5/8 in", "3 5/8 in"), ("8 in", "2 1/4 in")),
    "mm": (("215 mm", "65 mm"), ("240 mm", "71 mm"), ("210 mm", "50 mm")),
}


def hearth_text(seed: int) -> str:
    """Return the text of a job with a hearth of brick, drawn by chance from a seed."""
    draw = random.Random(f"hearth {seed}")
    lengths = draw.choice(("in", "in", "mm"))
    unit = 1.0 if lengths == "in" else 25.0

    def length(least: float, most: float, parts: int = 8) -> str:
        value = draw.randint(int(least * parts), int(most * parts))
        if lengths == "mm":
            return f"{round(value * 25 / parts)} mm"
        return f"{value // parts} {value % parts}/{parts} in"

    long, wide = draw.choice(BRICKS[lengths])
    riser = draw.random() < 0.5
    returned = not riser and draw.random() < 0.4
    opening, leg = draw.randint(26, 40), draw.choice((8, 12, 16))
    side = draw.randint(leg, leg + 10) if riser else draw.randint(4, 22)
    mm = lengths == "mm"
    lines = [
        "[job]", f'name = "Hearth {seed}"', f'lengths = "{lengths}"',
        "[face]", f'width = "{round((opening + 2 * leg) * unit)} {lengths}"',
        f'height = "{950 if mm else 38} {lengths}"',
        f'left_return = "{round(12 * unit)} {lengths}"' if returned else "",
        "[opening]", f'width = "{round(opening * unit)} {lengths}"',
        f'height = "{680 if mm else 27} {lengths}"',
        f'firebox = "{length(1, 9)}"' if draw.random() < 0.6 else "",
        "[brick]", f'length = "{long}"', f'height = "{wide}"',
        "corner = { long_leg = \"" + long + "\", short_leg = \""
        + ("100 mm" if mm else "3 5/8 in") + "\" }" if draw.random() < 0.6 else "",
        "[hearth]", f'front = "{length(19, 34)}"',
        f'left = "{round(side * unit)} {lengths}"',
        f'right = "{length(side, side + 4)}"',
        'material = "noncombustible"',
        "[hearth.brick]",
        f'pattern = "{draw.choice(get_args(HearthPattern))}"',
        f'border = "{draw.choice(("rowlock", "rowlock", "header", "none"))}"',
        f'corners = "{draw.choice(("butted", "butted", "mitred"))}"',
        f'riser = "{length(7, 18)}"' if riser else "",
        f'nosing = "{draw.choice(("rowlock", "rowlock", "none"))}"',
    ]  # fmt: skip
    return "\n".join(line for line in lines if line) + "\n"


def hearth_job(seed: int) -> Job:
    """Return a job with a hearth of brick.

    Raises:
        BadJob: this one can't be built.
    """
    return parse_job(hearth_text(seed), f"hearth-{seed}.toml")
