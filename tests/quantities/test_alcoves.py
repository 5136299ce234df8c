"""Areas where brick runs past inside corners: against geometry, and by hand."""

from __future__ import annotations

import pytest
from shapely import Polygon, box

from shopdraw.quantities.joints import measure_wall
from tests.alcoves import beside_alcoves


def test_what_lies_behind_another_face_is_no_area_and_no_joint() -> None:
    solution = beside_alcoves()
    surround, top = solution.surround, float(solution.coursing.top)
    areas = measure_wall(solution.job, surround, solution.coursing, solution.layout)
    # 23 + 11 + 56 1/8 + 11 + 15 wide, less the opening of 34.
    opening = 34 * float(solution.coursing.head)
    assert float(areas.face) == pytest.approx(116.125 * top - opening)
    seen = {
        face.name: box(float(face.seen[0]), 0, float(face.seen[1]), top)
        for face in surround.faces
    }
    brick = sum(
        Polygon([(float(x), float(y)) for x, y in outline.points])
        .intersection(seen[outline.face])
        .area
        for piece in solution.layout.pieces
        for outline in piece.outlines
    )
    assert float(areas.brick) == pytest.approx(brick)
    # Only the joint at the left alcove's wall is soft; the right end is free.
    assert float(areas.soft_length) == pytest.approx(top)
    assert float(areas.pointed) == pytest.approx(116.125 * top - opening - brick
                                                - 0.375 * top)  # fmt: skip
