"""What is clipped is neither lost nor left as a hair where floating point ends."""

from __future__ import annotations

from fractions import Fraction as F

import shapely

from shopdraw.job.reading import parse_job
from shopdraw.masonry.sawing.clipping import clip_piece
from shopdraw.masonry.wall.layout import flat_piece, rectangle
from shopdraw.pipeline import solve

CROOKED = """
[job]
name = "Crooked"
lengths = "in"
[face]
width = "33 5/8 in"
height = "45 7/8 in"
measured_to = "finish"
top_meets = "underside"
left_return = "16 9/16 in"
right_return = "11 7/16 in"
[opening]
head = "segmental arch"
[opening.corners]
bottom_left = ["8 13/16 in", "0 in"]
bottom_right = ["25 1/8 in", "1/8 in"]
top_left = ["8 3/8 in", "24 in"]
top_right = ["25 3/8 in", "23 3/4 in"]
[brick]
size = "closure-modular"
thickness = "5/8 in"
[bond]
pattern = "third"
[edges]
left = { kind = "soft", width = "3/8 in" }
right = { kind = "soft", width = "1/16 in", lean = "-9/16 in" }
jambs = { kind = "mortar", width = "3/16 in" }
[hearth]
points = [
  ["0 in", "3/8 in"], ["8 3/8 in", "1/16 in"], ["16 13/16 in", "-7/16 in"],
  ["25 3/16 in", "1/16 in"], ["33 5/8 in", "-5/16 in"],
]
[arch]
rise = "2 5/16 in"
depth = "7 3/4 in"
voussoirs = "cut"
"""


def test_a_corner_unit_scribed_to_the_hearth_is_still_there() -> None:
    # Sawn along the hearth before, its leg has nothing to lose when it is clipped once
    # more; the areas' far corners once made floating point lose all of it.
    solution = solve(parse_job(CROOKED, "crooked.toml"))
    units = [
        {x.face for x in piece.outlines}
        for piece in solution.layout.pieces
        if piece.course == 1 and piece.kind == "corner unit"
    ]
    assert units == [{"left", "front"}, {"front", "right"}]


HAIR = 4e-13
"""How far under the top of its course a cut may end, where areas are put on a grid."""


def test_a_brick_under_a_cut_that_ends_a_hair_too_low_has_no_point_left() -> None:
    # The cut goes up to the bed and along it, so the brick ends square where it begins.
    whole = rectangle("front", F(0), F(0), F(8), F(2))
    brick = flat_piece("stretcher", 14, whole, ())
    top = 2 - HAIR
    cut = shapely.Polygon([(5, -1), (5, top), (7, top), (7, 3), (9, 3), (9, -1)])
    (left,) = clip_piece(brick, {"front": cut})
    assert set(left.outlines[0].points) == {(0, 0), (5, 0), (5, 2), (0, 2)}
    assert left.outlines[0].is_rectangle
