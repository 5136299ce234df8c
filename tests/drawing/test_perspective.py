"""A box in perspective: its corners where they are asked for, straight lines straight.

Held against the map of planes solved anew, as eight equations, by another library.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdraw.drawing.perspective import Corners, onto

BOX = (1.0, 0.0, 63.0, 47.25)
SEEN: Corners = ((482.0, 409.0), (1149.0, 404.0), (1134.0, 885.0), (497.0, 930.0))
ends = st.floats(-40, 40)
QUADS = st.tuples(*[st.tuples(ends, ends)] * 4)
"""How far each corner of a large square is off: it stays convex."""


def in_box(box: tuple[float, float, float, float]) -> list[tuple[float, float]]:
    left, low, right, high = box
    return [(left, high), (right, high), (right, low), (left, low)]


def solved(box: tuple[float, float, float, float], seen: Corners) -> np.ndarray:
    """Return the map as a matrix, its last entry 1, from eight equations."""
    rows, wanted = [], []
    for (x, y), (u, v) in zip(in_box(box), seen, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        wanted += [u, v]
    found = np.linalg.solve(np.array(rows), np.array(wanted))
    return np.append(found, 1.0).reshape(3, 3)


def test_the_corners_come_to_lie_where_they_are_asked_for() -> None:
    move = onto(BOX, SEEN)
    for corner, wanted in zip(in_box(BOX), SEEN, strict=True):
        assert move(corner) == pytest.approx(wanted, abs=1e-9)


@given(QUADS, st.floats(-0.2, 1.2), st.floats(-0.2, 1.2))
def test_every_point_comes_to_lie_where_the_equations_have_it(
    off: Corners, across: float, up: float
) -> None:
    square = ((0, 0), (300, 0), (300, 300), (0, 300))
    seen = tuple((x + a, y + b) for (x, y), (a, b) in zip(square, off, strict=True))
    point = BOX[0] + across * (BOX[2] - BOX[0]), up * BOX[3]
    x, y, near = solved(BOX, seen) @ np.array([*point, 1.0])
    assert onto(BOX, seen)(point) == pytest.approx((x / near, y / near), abs=1e-6)


def test_a_straight_line_stays_straight() -> None:
    move = onto(BOX, SEEN)
    (ax, ay), (bx, by), (cx, cy) = (move(x) for x in ((5, 5), (20, 17), (45, 37)))
    assert (bx - ax) * (cy - ay) == pytest.approx((by - ay) * (cx - ax))


def test_a_corner_that_lies_elsewhere_is_seen_to() -> None:
    damaged = (SEEN[0], SEEN[1], (SEEN[2][0] + 3, SEEN[2][1]), SEEN[3])
    assert onto(BOX, damaged)(in_box(BOX)[2]) != pytest.approx(SEEN[2], abs=1)
