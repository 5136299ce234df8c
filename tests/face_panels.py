"""Random panels in the face: any pattern, border and bond, inches and millimetres.

And in old houses: jambs and edges that lean, brick that turns into the jambs, arches,
bands and corbels.
"""

from __future__ import annotations

import random
from typing import get_args

from shopdraw.errors import BadJob
from shopdraw.job.model import Job
from shopdraw.job.model_panel import FaceBorder, FacePattern
from shopdraw.job.reading import parse_job
from tests.banded_houses import sixteenths
from tests.hearths import BRICKS
from tests.old_houses import BRICK, Pick, length, seeded, tables_of, write_toml

BONDS = ("half", "half", "third", "stack", "Flemish", "English", "common")
HEADS = ("running", "running", "soldier", "rowlock", "segmental arch", "jack arch")


def panel_text(seed: int) -> str:
    """Return the text of a job with a panel or two, drawn by chance from a seed."""
    draw = random.Random(f"panel {seed}")
    lengths = draw.choice(("in", "in", "mm"))
    mm = lengths == "mm"
    long, high = draw.choice(BRICKS[lengths])
    gauge = (
        (float(high.split()[0]) + 10) if mm else (2.25 if "2 1/4" in high else 3.625)
    )
    gauge += 0 if mm else 0.375
    unit = 25.0 if mm else 1.0

    def length(value: float) -> str:
        return f"{round(value)} mm" if mm else f"{round(value * 16)}/16 in"

    opening, leg = draw.randint(26, 40) * unit, draw.randint(12, 38) * unit
    head = draw.randint(24, 30) * unit
    returned = draw.random() < 0.5
    over = draw.choice(HEADS)
    tall = round(draw.uniform(40, 66) * unit / gauge)
    lines = [
        "[job]", f'name = "Panel {seed}"', f'lengths = "{lengths}"',
        "[face]", 'measured_to = "finish"', f'width = "{length(opening + 2 * leg)}"',
        f'height = "{length(head + tall * gauge)}"',
        *([f'{x}_return = "{length(12 * unit)}"' for x in ("left", "right")]
          if returned else []),
        "[opening]", f'width = "{length(opening)}"', f'height = "{length(head)}"',
        f'head = "{over}"',
        f'[arch]\nrise = "{length(4 * unit)}"' if over == "segmental arch" else "",
        "[brick]", f'length = "{long}"', f'height = "{high}"',
        "corner = { long_leg = \"" + long + "\", short_leg = \""
        + ("100 mm" if mm else "3 5/8 in") + "\" }" if returned else "",
        "[bond]", f'pattern = "{draw.choice(BONDS)}"',
    ]  # fmt: skip
    free = tall * gauge / unit
    first = round((draw.choice((4, 10)) if over in HEADS[:2] else 16) * unit / gauge)
    courses = round(draw.uniform(17, max(18, free - 16)) * unit / gauge)
    wide = draw.uniform(18, max(19, (opening + 2 * leg) / unit - 26)) * unit
    across = (
        (opening + 2 * leg - wide) / 2 * draw.choice((1, 1, draw.uniform(0.7, 1.3)))
    )
    off = draw.choice((0, 0, 0.2 * gauge))
    patterns, borders = get_args(FacePattern), get_args(FaceBorder)
    kinds = [(draw.choice(patterns), draw.choice(borders))]
    panels = [(across, head + first * gauge + off, wide, courses * gauge)]
    if draw.random() < 0.25:
        # Right on top of the first.
        panels.append((across, panels[0][1] + courses * gauge, wide, 3 * gauge))
        kinds.append(("stack", "none"))
    if leg > 28 * unit:
        panels.append((12 * unit, 3 * gauge, leg - 16 * unit, 6 * gauge))
        kinds.append((draw.choice(patterns[:2]), "none"))
    for number, (left, bottom, width, height) in enumerate(panels, start=1):
        pattern, border = kinds[number - 1]
        joint = 10 if mm else 0.375
        lines += [
            "[[panel]]", f'name = "panel {number}"', f'left = "{length(left)}"',
            f'bottom = "{length(bottom)}"', f'width = "{length(width)}"',
            f'height = "{length(height - joint)}"',
            f'pattern = "{pattern}"', f'border = "{border}"',
        ]  # fmt: skip
    return "\n".join(line for line in lines if line) + "\n"


def panel_job(seed: int) -> Job:
    """Return a job with panels in its face.

    Raises:
        BadJob: this one can't be built.
    """
    return parse_job(panel_text(seed), f"panel-{seed}.toml")


def house_text(pick: Pick) -> str:
    """Return an old house, often with a band or a corbel, and a panel somewhere."""
    tables = tables_of(pick)
    _, high = BRICK[tables["brick"]["size"]]
    gauge = high + 6
    face, opening = tables["face"], tables["opening"]
    tall = sixteenths(face["height"]) + pick(6, 12) * gauge
    face["height"] = length(tall)
    across = sixteenths(face["width"])
    head = sixteenths(opening.get("height") or opening["corners"]["top_left"][1])
    wide = pick(14 * 16, max(15 * 16, across - 22 * 16))
    courses = pick(4, 9)
    lowest = 0 if pick(0, 3) == 0 else (head // gauge) + pick(1, 4)
    bottom = (lowest + pick(0, 3)) * gauge + 6
    left = (across - wide) // 2 + (pick(-64, 64) if pick(0, 1) else 0)
    if lowest == 0:
        left, wide = pick(0, across // 2), pick(8 * 16, 14 * 16)
    text = write_toml(tables)
    if pick(0, 2) == 0:
        text += f'[[band]]\nkind = "header"\ncourse = {pick(1, tall // gauge)}\n'
    elif pick(0, 3) == 0:
        text += (
            f'[[band]]\nkind = "soldier"\ncourse = {pick(1, tall // gauge)}\n'
            f'from_left = "{length(pick(0, across // 2))}"\n'
            f'width = "{length(pick(100, 200))}"\n'
        )
    if pick(0, 4) == 0:
        text += f"[[corbel]]\ncourses = {pick(1, 3)}\nstep = '{pick(2, 5)}/16 in'\n"
    pattern = get_args(FacePattern)[pick(0, 4)]
    border = get_args(FaceBorder)[pick(0, 2)]
    return text + (
        f'[[panel]]\nname = "the panel"\nleft = "{length(left)}"\n'
        f'bottom = "{length(bottom)}"\nwidth = "{length(wide)}"\n'
        f'height = "{length(courses * gauge - 6)}"\n'
        f'pattern = "{pattern}"\nborder = "{border}"\n'
    )


def house_job(seed: int) -> Job:
    """Return an old house with a panel: the first of its picks that can be read."""
    pick = seeded(seed)
    for _ in range(500):
        try:
            return parse_job(house_text(pick), f"house-{seed}.toml")
        except BadJob:
            continue
    message = "no house that can be read in 500 picks"
    raise AssertionError(message)
