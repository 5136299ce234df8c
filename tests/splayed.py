"""One wall with splayed jambs, for the tests that reckon it by hand.

The jambs splay by 30 degrees, so that corner units turn by 60: its cosine is 1/2, its
sine 0.8660254, and the tangent of half of it 0.5773503. Brick and bed are 1 in.
"""

from __future__ import annotations

from functools import cache

from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution

COS, SIN, HALF_TAN = 0.5, 0.8660254, 0.5773503
JOB = """
[job]
name = "Splayed"
lengths = "in"
[face]
width = "54 1/8 in"
height = "43 in"
measured_to = "substrate"
{face}
[opening]
width = "34 in"
height = "27 in"
{opening}
[brick]
size = "modular"
thickness = "5/8 in"
corner = {{ long_leg = "7 5/8 in", short_leg = "3 5/8 in"{turns} }}
[setting_bed]
thickness = "3/8 in"
{more}
"""
SPLAY = 'jamb_return = "7 5/8 in"\nsplay = 30'
RETURNS = 'left_return = "11 in"\nright_return = "11 in"'


def text_of(
    opening: str = SPLAY, face: str = RETURNS, more: str = "", turns: str = ""
) -> str:
    return JOB.format(opening=opening, face=face, more=more, turns=turns)


@cache
def splayed(
    opening: str = SPLAY, face: str = RETURNS, more: str = "", turns: str = ""
) -> Solution:
    """Return the wall solved, once a session."""
    return solve(parse_job(text_of(opening, face, more, turns), "splayed.toml"))
