"""The mortar before an arch's back, where a whole brick ends short of it: by hand."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import pytest

from shopdraw.errors import NotProved
from shopdraw.job.reading import parse_job
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.pipeline import solve
from tests.random_arches import PLAIN


def test_a_wedge_wider_than_a_joint_is_told_with_the_fillets() -> None:
    """The arch's back is 18 + 7 5/8 = 25 5/8 in round (38, 16 1/2).

    Course 8 ends with a whole brick at x = 12, its top is 21 3/8. Mortar is told less
    the joint along the back, which is 3/8 to 1/2.
    """
    solution = solve(parse_job(PLAIN, "arch.toml"))
    top, end = 21.375, 12.0
    mortar = 38 - sqrt(25.625**2 - (top - 16.5) ** 2) - end
    wedges = [x for x in solution.layout.fillets if x.course == 8]
    assert len(wedges) == 2
    said = " ".join(solution.layout.reasons)
    assert "the wedge between them is mortar" in said
    # Higher up courses do run out on the arch: that is said by itself.
    assert "its tip is cut off square" in said
    for wedge in wedges:
        # The back is sawn straight, a voussoir each: so it may be a little nearer.
        assert mortar - 0.5 - 0.04 <= float(wedge.length) <= mortar - 0.375
        xs = sorted(float(x) for x, _ in wedge.points)
        assert end in (xs[0], 76 - xs[-1])


def test_without_it_the_proof_finds_no_brick_there() -> None:
    solution = solve(parse_job(PLAIN, "arch.toml"))
    layout = replace(solution.layout, fillets=())
    with pytest.raises(NotProved, match="has no brick"):
        prove_layout(solution.job, solution.surround, solution.coursing, layout)
