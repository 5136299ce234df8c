"""Two breasts whose corners are not square, for the tests that reckon them by hand.

Brick and bed are 1 in. One has returns that splay by 30 degrees: its corners turn by
60, and the tangent of half of that is 0.5773503. The other has chamfers of 45 degrees:
the tangent of 22.5 is 0.4142136.
"""

from __future__ import annotations

from shopdraw.solution import Solution
from tests.splayed import RETURNS, splayed

SPLAYED = f"{RETURNS}\nleft_return_splay = 30\nright_return_splay = 30"
CHAMFERS = (
    f"{RETURNS}\n"
    'left_chamfer = "10 3/4 in"\nleft_chamfer_splay = 45\n'
    'right_chamfer = "10 3/4 in"\nright_chamfer_splay = 45'
)


def breast(face: str, opening: str = "", more: str = "", turns: str = "") -> Solution:
    """Return a breast solved, once a session; its jambs are bare."""
    return splayed(opening, face, more, turns)
