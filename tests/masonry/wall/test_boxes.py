"""What of a line lies in a box: by hand, and against shapely on random lines."""

from __future__ import annotations

from random import Random

import pytest
import shapely

from shopdraw.masonry.wall.boxes import clip_line

BOX = (0.0, 0.0, 4.0, 2.0)


@pytest.mark.parametrize(
    ("line", "part"),
    [
        (((-1, 1), (5, 1)), ((0, 1), (4, 1))),
        (((1, 1), (2, 1)), ((1, 1), (2, 1))),
        (((-2, -1), (4, 2)), ((0, 0), (4, 2))),
        (((-1, 1), (1, 3)), ((0, 2), (0, 2))),  # it touches a corner
        (((0, -1), (0, 5)), ((0, 0), (0, 2))),  # along an edge
        (((5, -1), (5, 3)), None),
        (((-1, 1.5), (1, 3.5)), None),
    ],
)
def test_the_part_of_a_line_in_a_box(line, part):
    assert clip_line(*line, BOX) == part


def test_it_is_as_long_as_shapely_says():
    random, box = Random(1), shapely.box(*BOX)
    some = 0
    for _ in range(300):
        a, b = [(random.uniform(-3, 7), random.uniform(-3, 5)) for _ in range(2)]
        part, theirs = (
            clip_line(a, b, BOX),
            shapely.LineString([a, b]).intersection(box),
        )
        assert (part is None) == theirs.is_empty
        some += part is not None
        if part:
            assert shapely.LineString(part).length == pytest.approx(theirs.length)
    assert 50 < some < 250
