"""The mortar before an arch's back, where a whole brick ends short of it: by hand."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import sqrt

import pytest

from shopdraw.errors import NotProved
from shopdraw.job.reading import parse_job
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from tests.random_arches import PLAIN

WEDGED = PLAIN.replace('width = "36 in"', 'width = "35 in"')
"""In course 11 the bond has a whole brick end just short of the back."""


@cache
def wedged() -> Solution:
    return solve(parse_job(WEDGED, "arch.toml"))


def test_a_wedge_wider_than_a_joint_is_told_with_the_fillets() -> None:
    """The arch's back is 17 1/2 + 7 5/8 = 25 1/8 in round (38, 16 1/2).

    Course 11 ends with a whole brick at x = 15 5/8, its top is 29 1/4. Mortar is told
    less the joint along the back, which is 3/8 to 1/2.
    """
    solution = wedged()
    top, end = 29.25, 15.625
    most, least = (
        38 - sqrt((25.125 + joint) ** 2 - (top - 16.5) ** 2) - end
        for joint in (0.375, 0.5)
    )
    wedges = [x for x in solution.layout.fillets if x.course == 11]
    assert len(wedges) == 2
    said = " ".join(solution.layout.reasons)
    assert "the wedge between them is mortar" in said
    # Higher up courses do run out on the arch: that is said by itself.
    assert "its tip is cut off square" in said
    for wedge in wedges:
        # The back is sawn straight, a voussoir each: so it may be a little off.
        assert least - 0.04 <= float(wedge.length) <= most + 0.04
        xs = sorted(float(x) for x, _ in wedge.points)
        assert end in (xs[0], 76 - xs[-1])


def test_without_it_the_proof_finds_no_brick_there() -> None:
    solution = wedged()
    layout = replace(solution.layout, fillets=())
    with pytest.raises(NotProved, match="has no brick"):
        prove_layout(solution.job, solution.surround, solution.coursing, layout)
