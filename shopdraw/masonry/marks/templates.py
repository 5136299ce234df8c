"""Reckon the full-size templates of an arch: turning piece, voussoirs, skewback.

In:  `Arch`, `CutListRow`s.   Out: `TurningPiece`, `StoneTemplate`s, `Skewback`.
Frame: of each its own, in the job's lengths and in floating point; y up.

Brick has straight feet, and rests on the turning piece at the middle of each foot: it
is turned to the radius that the feet touch, a little less than the soffit's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import asin, atan2, cos, degrees, hypot, pi, sin

from shopdraw.job.model import Job
from shopdraw.lengths import Lengths
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import OF_AN_ARCH, CutListRow, Outline
from shopdraw.masonry.wall.printing import SAME

Spot = tuple[float, float]
BOARD = {"in": Fraction(3), "mm": Fraction(75)}
"""How far the turning piece goes down below the spring line, where there is room."""
WEDGES = {"in": Fraction(3, 2), "mm": Fraction(38)}
"""What a pair of folding wedges takes between a prop and the turning piece."""
CLEAR = {"in": Fraction(1, 8), "mm": Fraction(3)}
"""How far the turning piece stays off each jamb."""
CHORDS = 96
"""How many chords stand for the curve of half a turning piece."""
CLOSE = 1e-6


@dataclass(frozen=True)
class TurningPiece:
    """Half of the piece that an arch is turned on; the other half mirrors it.

    The origin is where the centre line crosses the spring line; x goes to the right.

    Attributes:
        curve: its upper edge, from the centre line to its right end.
        marks: both edges of each joint at the soffit, on the curve, and which way the
            joint goes from there, as an angle from plumb.
        half: how far it reaches to the right.
        board: how far it goes down below the spring line.
        wedges: what the wedges under it take.
        props: how long the left and the right prop are, from the hearth to the wedges.
        radius: of the curve; 0 where it is straight.
        centre: how far the curve's centre is above the spring line (mostly negative).
    """

    curve: tuple[Spot, ...]
    marks: tuple[tuple[Spot, float], ...]
    half: float
    board: float
    wedges: float
    props: tuple[Fraction, Fraction]
    radius: float
    centre: float


@dataclass(frozen=True)
class StoneTemplate:
    """A voussoir or a keystone, upright on its axis; its foot is at y = 0.

    Attributes:
        row: its mark, and how many.
        shape: its outline.
        axis: x of the axis, which halves the angle between its sides.
        taper_deg: the angle between its sides.
        foot_deg, head_deg: how far foot and head are off square to the axis, positive
            where they rise to the right.
    """

    row: CutListRow
    shape: Outline
    axis: float
    taper_deg: float
    foot_deg: float
    head_deg: float

    @property
    def is_even(self) -> bool:
        """Whether the axis is in the middle, from foot to head."""
        return abs(2 * self.axis - float(self.shape.left + self.shape.right)) < SAME


@dataclass(frozen=True)
class Skewback:
    """The right skewback, which the brick of the leg is sawn to; the left mirrors it.

    The origin is the spring point; x goes into the leg.

    Attributes:
        length: along the slope, up to the joint over the arch's back.
        angle_deg: how far it leans from plumb.
        end: where it ends.
    """

    length: float
    angle_deg: float
    end: Spot


def turning_piece(job: Job, surround: Surround, arch: Arch) -> TurningPiece:
    """Reckon the piece that an arch is turned on."""
    lengths: Lengths = job.lengths
    middle, spring = float(arch.centre[0]), float(arch.spring)
    centre = float(arch.rise) - arch.radius if arch.radius else 0.0
    radius = 0.0
    if arch.radius:
        radius = min(
            hypot(float(x) - middle, float(y) - spring - centre)
            for x, y in _foot_middles(arch)
        )
    half = float(arch.span / 2 - CLEAR[lengths])
    wedges = WEDGES[lengths]
    board = min(BOARD[lengths], max(CLEAR[lengths], arch.spring / 3 - wedges))
    hearth = surround.as_built.hearth
    props = [
        arch.spring - board - wedges - hearth.at(x)
        for x in (arch.centre[0] - arch.span / 2, arch.centre[0] + arch.span / 2)
    ]
    return TurningPiece(
        curve=_curve(radius, centre, half),
        marks=tuple(_joint_marks(arch, radius, centre)),
        half=half,
        board=float(board),
        wedges=float(wedges),
        props=(props[0], props[1]),
        radius=radius,
        centre=centre,
    )


def _foot_middles(arch: Arch) -> Iterator[tuple[Fraction, Fraction]]:
    """Yield the middle of each foot at the soffit, but for the keystone's.

    A keystone's foot is wider, and the turning piece is cut down under it.
    """
    for place in arch.feet:
        (x1, y1), (x2, y2) = arch.voussoirs[place][:2]
        if place != arch.keystone:
            yield (x1 + x2) / 2, (y1 + y2) / 2


def _curve(radius: float, centre: float, half: float) -> tuple[Spot, ...]:
    """Return the upper edge from the centre line to the right end, or the spring."""
    if not radius:
        return (0.0, 0.0), (half, 0.0)
    reach = asin(min(1.0, half / radius))
    if centre + radius * cos(reach) < 0:
        # It comes down to the spring line before it reaches its end.
        reach = pi / 2 - asin(-centre / radius) if centre < 0 else pi / 2
    return tuple(
        (radius * sin(a), centre + radius * cos(a))
        for a in (reach * k / CHORDS for k in range(CHORDS + 1))
    )


def _joint_marks(
    arch: Arch, radius: float, centre: float
) -> Iterator[tuple[Spot, float]]:
    """Yield where each voussoir's two lower corners come, on the right-hand half."""
    middle, spring = float(arch.centre[0]), float(arch.spring)
    turned_to = float(arch.centre[1]) - spring
    for place in arch.feet:
        for corner in arch.voussoirs[place][:2]:
            x, y = float(corner[0]) - middle, float(corner[1]) - spring
            if x < -CLOSE:
                continue
            on = (x, 0.0)
            if radius:
                angle = atan2(x, y - centre)
                on = (radius * sin(angle), centre + radius * cos(angle))
            yield on, atan2(x, y - turned_to)


def stone_templates(rows: Iterable[CutListRow]) -> Iterator[StoneTemplate]:
    """Yield a template for each mark of an arch that is sawn or made to a shape."""
    for row in rows:
        is_shaped = row.is_cut or row.kind == "keystone"
        if row.kind in OF_AN_ARCH and row.shapes and is_shaped:
            yield _stone(row, row.shapes[0].at_origin())


def _stone(row: CutListRow, shape: Outline) -> StoneTemplate:
    corners = [(float(x), float(y)) for x, y in shape.points]
    a, b, c, d = corners
    left, right = _lean(a, d), _lean(b, c)
    level = sum(y for _, y in corners) / len(corners)
    sides = (_x_at(a, d, level), _x_at(b, c, level))
    return StoneTemplate(
        row=row,
        shape=shape,
        axis=sum(sides) / 2,
        taper_deg=right - left,
        foot_deg=degrees(atan2(b[1] - a[1], b[0] - a[0])),
        head_deg=degrees(atan2(c[1] - d[1], c[0] - d[0])),
    )


def _lean(foot: Spot, head: Spot) -> float:
    """Return how far a side leans to the right of upright, in degrees."""
    return degrees(atan2(head[0] - foot[0], head[1] - foot[1]))


def _x_at(foot: Spot, head: Spot, level: float) -> float:
    return foot[0] + (head[0] - foot[0]) * (level - foot[1]) / (head[1] - foot[1])


def skewback(arch: Arch) -> Skewback | None:
    """Reckon the skewback; None where the arch springs from level beds."""
    if arch.kind == "semicircular arch":
        return None
    x, y = float(arch.centre[0]), float(arch.spring)
    # The keep-out's ring begins at the right spring point and goes up the skewback.
    end = arch.keep_out[1]
    off = float(end[0]) - x - float(arch.span / 2), float(end[1]) - y
    return Skewback(
        length=hypot(*off),
        angle_deg=degrees(atan2(off[0], off[1])),
        end=off,
    )
