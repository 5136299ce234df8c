"""The form of a panel in the face, as it is laid.

In:  nothing.   Out: `FacePanel`.
Frame: as `Surround`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.job.model_panel import FaceBorder, FacePattern
from shopdraw.masonry.wall.form import Point

Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, bottom, right and top of a rectangle."""


@dataclass(frozen=True)
class FacePanel:
    """A rectangle of the front that is laid in a pattern of its own.

    Attributes:
        name, pattern, border: as the job gives them.
        box: of its brick, border included: it begins and ends level with courses.
        courses: the first and the last course that stop beside it.
        field: what is filled with the pattern.
        joint: between the pieces of the pattern.
        edge_joint: the widest along the field's edge.
        left_out: places at the pattern's edge too narrow for a piece: mortar takes
            them.
        phase: where the middle of the pattern lies, from the middle of the field.
        is_symmetric: whether a half turn, or the middle line, leaves it as it is.
        phases_tried: how many phases it was chosen from.
        narrowest: how narrow its narrowest piece is, or place that mortar takes.
    """

    name: str
    pattern: FacePattern
    border: FaceBorder
    box: Box
    courses: tuple[int, int]
    field: Box
    joint: Fraction
    edge_joint: Fraction
    left_out: tuple[tuple[Point, ...], ...]
    phase: Point
    is_symmetric: bool
    phases_tried: int
    narrowest: float

    @property
    def size(self) -> tuple[Fraction, Fraction]:
        """Its width and its height."""
        left, bottom, right, top = self.box
        return right - left, top - bottom

    @property
    def ring(self) -> tuple[Point, ...]:
        """The corners of its brick, anticlockwise from the lower left one."""
        left, bottom, right, top = self.box
        return ((left, bottom), (right, bottom), (right, top), (left, top))
