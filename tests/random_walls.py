"""Random walls for the bond: legs, returns, openings, brick, joints, head and lengths.

In:  a kind of wall, a seed.   Out: `Job`.
Frame: made in sixteenths of an inch; some are typed, and solved, in whole millimetres.
"""

from __future__ import annotations

import random
import tomllib
from dataclasses import dataclass
from pathlib import Path

from shopdraw import catalog
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from tests.old_houses import length

SIZES = tomllib.loads(
    (Path(catalog.__file__).parent / "bricks.toml").read_text("utf-8")
)
"""Every size of the catalog, as its lengths are typed there."""
METRIC = tuple(name for name, size in SIZES.items() if size["length"].endswith("mm"))
JOINTS = {
    "in": ("3/8 in", "1/4 in", "1/2 in"),
    "mm": ("10 mm", "8 mm", "12 mm"),
}
"""The head joint preferred, the least and the most."""
MM = 25.4 / 16


@dataclass(frozen=True)
class WallKind:
    """A kind of random wall.

    Attributes:
        pattern: the bond.
        is_mirrored: whether its legs and its ends are alike.
        header_every: in common bond, every which course shows headers.
    """

    pattern: str
    is_mirrored: bool = True
    header_every: int = 6


def job_of(kind: WallKind, seed: int) -> Job:
    """Return a random wall.

    Legs are 6 to 30 in, openings 20 to 60 in, returns 3 to 20 in or none; three in ten
    have one fixed joint, one head in three is of soldiers, about one job in three is
    metric.
    """
    every = "" if kind.header_every == 6 else kind.header_every
    pick = random.Random(f"{kind.pattern}{every} {seed} {kind.is_mirrored}")
    size = pick.choice(sorted(SIZES))
    lengths = "mm" if pick.random() < (0.85 if size in METRIC else 0.25) else "in"

    def typed(sixteenths: int) -> str:
        return length(sixteenths) if lengths == "in" else f"{round(sixteenths * MM)} mm"

    leg = pick.randint(96, 480)
    other = leg if kind.is_mirrored else pick.randint(96, 480)
    opening, high = pick.randint(320, 960), pick.randint(320, 544)
    back = pick.randint(48, 320)
    sides = pick.choice(((), ("left", "right")))
    if not kind.is_mirrored:
        sides = pick.choice(((), ("left",), ("right",), ("left", "right")))
    head = pick.choice(("running", "running", "soldier"))
    preferred, least, most = JOINTS[lengths]
    if pick.random() < 0.3:
        least = most = preferred
    if lengths == "mm":
        # Whole millimetres, and legs alike stay alike.
        leg, opening, other = (round(x * MM) for x in (leg, opening, other))
        width, at = f"{leg + opening + other} mm", f"{leg} mm"
        wide = f"{opening} mm"
    else:
        width, at, wide = length(leg + opening + other), length(leg), length(opening)
    lines = [
        f'[job]\nname = "Wall {seed}"\nlengths = "{lengths}"',
        f'[face]\nwidth = "{width}"\nmeasured_to = "finish"',
        f'height = "{typed(high + pick.randint(160, 384))}"',
        *(f'{side}_return = "{typed(back)}"' for side in sides),
        f'[opening]\nwidth = "{wide}"\nheight = "{typed(high)}"',
        f'from_left = "{at}"\nhead = "{head}"',
        f'[brick]\nsize = "{size}"\nthickness = "5/8 in"',
    ]
    if sides:
        legs = SIZES[size]["length"], SIZES[size]["thickness"]
        lines.append('corner = {{ long_leg = "{}", short_leg = "{}" }}'.format(*legs))
    joint = f'preferred = "{preferred}", least = "{least}", most = "{most}"'
    lines += [
        f"[joints]\nhead = {{ {joint} }}",
        f'[bond]\npattern = "{kind.pattern}"',
    ]
    if kind.pattern == "common":
        lines.append(f"header_every = {kind.header_every}")
    return parse_job("\n".join(lines), "wall.toml")
