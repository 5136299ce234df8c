"""Where the cut lines of a piece lie that was sawn along an arch."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import shapely

from shopdraw.masonry.laying.cut_lines import INSET, cut_lines
from shopdraw.masonry.wall.layout import Outline, flat_piece

# The back of an arch turns a little right under the bed above: its last side is short.
RING = (
    (F(0), F(0)),
    (F(203), F(0)),
    (F(867, 4), F(227, 4)),
    (F(217), F(2287, 40)),
    (F(0), F(2287, 40)),
)


def test_a_cut_line_ends_at_the_sides_of_the_piece() -> None:
    outline = Outline("front", RING, cuts=(1, 2))
    piece = replace(flat_piece("stretcher", 9, outline, ("right",)), is_cut=True)
    shape = shapely.Polygon([(float(x), float(y)) for x, y in RING]).buffer(1e-6)
    lines = list(cut_lines(piece, outline))
    assert all(shape.contains(shapely.LineString(line)) for line in lines)
    # The long side has its line from bed to bed; for the short one there is no room.
    (line,) = lines
    assert {y for _, y in line} == {0.0, 57.175}
    side = shapely.LineString([(float(x), float(y)) for x, y in RING[1:3]])
    middle = shapely.LineString(line).interpolate(0.5, normalized=True)
    assert abs(side.distance(middle) - 57.175 * INSET) < 1e-6
