"""Measure a hearth of brick and its riser, for mortar.

In:  `BrickHearth`.   Out: `HearthAreas`; areas in the takeoff's own measures.
Frame: the job's lengths and their square.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.wall.layout import area_within
from shopdraw.quantities.joints import WallAreas, measure_wall

_NONE = Fraction(0)


@dataclass(frozen=True)
class HearthAreas:
    """How much there is of a hearth of brick.

    Attributes:
        top: the area that its brick lie on, joints included.
        brick: of that, the brick.
        riser: its faces; None where it is not raised.
    """

    top: Fraction
    brick: Fraction
    riser: WallAreas | None

    @property
    def pointed(self) -> Fraction:
        """The area of its joints from above."""
        return self.top - self.brick


def measure_hearth(hearth: BrickHearth) -> HearthAreas:
    """Measure a hearth of brick, and its riser as a wall of its own."""
    ground = hearth.ground
    boxes = [ground.main, *([ground.between] if ground.between else [])]
    top = sum(((c - a) * (d - b) for a, b, c, d in boxes), _NONE)
    on_top = [piece for piece in hearth.layout.pieces if piece.place == "hearth"]
    brick = sum((area_within(x.outlines[0].points) for x in on_top), _NONE)
    riser = None
    if hearth.riser is not None:
        rest = tuple(x for x in hearth.layout.pieces if x.place != "hearth")
        riser = measure_wall(
            hearth.riser.job,
            hearth.riser.surround,
            hearth.riser.coursing,
            replace(hearth.layout, pieces=rest),
        )
        # It has no opening but the one that the solvers are given.
        wide = sum((face.width for face in hearth.riser.surround.faces), _NONE)
        face = wide * hearth.riser.coursing.top
        pointed = riser.pointed + face - riser.face
        riser = replace(riser, face=face, pointed=pointed)
    return HearthAreas(top, brick, riser)


def with_hearth(wall: WallAreas, hearth: HearthAreas) -> WallAreas:
    """Return the areas of the wall with those of a hearth of brick and its riser."""
    parts = [wall, WallAreas(hearth.top, hearth.brick, hearth.pointed, _NONE, _NONE)]
    if hearth.riser is not None:
        parts.append(hearth.riser)
    return WallAreas(
        sum((x.face for x in parts), _NONE),
        sum((x.brick for x in parts), _NONE),
        sum((x.pointed for x in parts), _NONE),
        sum((x.soft_length for x in parts), _NONE),
        sum((x.open_length for x in parts), _NONE),
        tuple(joint for x in parts for joint in x.soft),
    )


def named_areas(hearth: HearthAreas | None) -> Iterator[tuple[str, Fraction, str]]:
    """Yield the item, the area and the note of each area that the takeoff lists."""
    if hearth is None:
        return
    words = "the hearth's brick from above, joints included"
    yield "hearth area", hearth.top, words
    if hearth.riser is not None:
        yield "riser area", hearth.riser.face, "its front and ends"
