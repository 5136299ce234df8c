"""Jobs that no demo is: a long wall full of woodwork, a small one, jambs, long names.

The houses are made up; what they hold is there to crowd the sheets.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from shopdraw.drawing.set import DrawingSet
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from tests.demos import kept

BRACKETS = 8
_LONG = "as long as a name may be in a job file"

WALL = """
[job]
name = "Assembly room, long wall"
lengths = "in"
[face]
width = "144 in"
height = "60 in"
[opening]
width = "42 in"
height = "30 in"
[brick]
size = "modular"
[hearth]
front = "20 in"
left = "12 in"
right = "12 in"
thickness = "2 in"
material = "noncombustible"
[appliance]
kind = "masonry"
[rules]
set = "irc-2015"
[[trim]]
name = "shelf"
material = "wood"
left = "0 in"
bottom = "60 1/4 in"
width = "144 in"
height = "2 in"
projection = "6 in"
[[trim]]
name = "plate rack too near the fire"
material = "wood"
left = "50 in"
bottom = "33 in"
width = "20 in"
height = "1 in"
projection = "3 in"
covers_brick = true
[[fitting]]
name = "gas key"
wants = "clear"
left = "100 in"
bottom = "6 in"
width = "1 in"
height = "1 in"
[[fitting]]
name = "socket"
wants = "clear"
left = "20 in"
bottom = "10 in"
width = "3 in"
height = "4 1/2 in"
"""
SMALL = """
[job]
name = "Bedroom grate"
lengths = "in"
[face]
width = "28 in"
height = "36 in"
[opening]
width = "14 in"
height = "24 in"
[brick]
size = "modular"
[sheet]
size = "ANSI A"
"""
SMALL_METRIC = """
[job]
name = "Bedroom grate"
lengths = "mm"
[face]
width = "711 mm"
height = "900 mm"
[opening]
width = "356 mm"
height = "600 mm"
[brick]
size = "uk-65"
[sheet]
size = "A4"
profile = "iso"
"""

JAMBS = """
[job]
name = "Back parlour, brick turned into the jambs"
lengths = "in"
[face]
width = "62 in"
height = "48 3/4 in"
[opening]
width = "33 in"
height = "29 in"
jamb_return = "8 in"
[brick]
size = "modular"
[hearth]
front = "18 in"
left = "12 in"
right = "12 in"
thickness = "2 in"
material = "noncombustible"
[appliance]
kind = "masonry"
[rules]
set = "irc-2015"
"""


def long_wall() -> str:
    """Return a wall of twelve feet with brackets all along under its shelf."""
    brackets = (
        f'[[trim]]\nname = "bracket {number}"\nmaterial = "wood"\n'
        f'left = "{4 + 18 * number} in"\nbottom = "54 in"\nwidth = "3 in"\n'
        'height = "6 in"\nprojection = "5 in"\ncovers_brick = true\n'
        for number in range(BRACKETS)
    )
    return WALL + "".join(brackets)


def long_names() -> str:
    """Return the long wall with long names wherever a name is typed."""
    text = long_wall()
    for name in ("shelf", "gas key", "socket", "bracket 3"):
        text = text.replace(f'name = "{name}"', f'name = "{name}, {_LONG}"')
    return text


TEXTS = {
    "long wall": long_wall,
    "long names": long_names,
    "jambs turned in": lambda: JAMBS,
    "small on letter": lambda: SMALL,
    "small on A4": lambda: SMALL_METRIC,
}


@cache
def odd_solution(name: str) -> Solution:
    """Return an odd job, solved, once a run."""
    solution: Solution = kept(
        f"{name}-odd-solved", lambda: solve(parse_job(TEXTS[name](), Path("odd.toml")))
    )
    return solution


@cache
def odd_set(name: str) -> DrawingSet:
    """Return an odd job's set, drawn but not written, once a run."""
    drawn: DrawingSet = kept(f"{name}-odd", lambda: build(odd_solution(name)))
    return drawn
