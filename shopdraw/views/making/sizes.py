"""Word the sizes of what is made: one set of figures for sheet, ticket, labels, tables.

In:  `Job`, `CutListRow`s.   Out: words; outlines whose corners are as printed.
Frame: lengths to 1/32 in or half a millimetre; angles to a tenth of a degree; a shape
from its own lower left corner, as it is seen from its face.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import atan2, degrees

from shopdraw.job.model import Job
from shopdraw.lengths import format_made
from shopdraw.masonry.marks.templates import stone_templates
from shopdraw.masonry.wall.layout import (
    CORNER_KINDS,
    OF_AN_ARCH,
    CutListRow,
    Outline,
    Point,
)
from shopdraw.masonry.wall.printing import as_printed
from shopdraw.masonry.wall.surround import corner_legs
from shopdraw.masonry.wall.turning import turning_of
from shopdraw.views.brick.units import state_of
from shopdraw.views.parts.phrases import listed

LYING = ("soldier", "rowlock", "voussoir", "keystone")
"""The kinds that stand on the wall: on the saw they lie down."""
ONE_END = "one end as delivered"
UPRIGHT = ("left", "right")
FURTHER = {
    "left": ("LONGER AT THE FOOT", "LONGER AT THE TOP"),
    "right": ("LONGER AT THE FOOT", "LONGER AT THE TOP"),
    "top": ("HIGHER AT THE LEFT", "HIGHER AT THE RIGHT"),
    "bottom": ("LOWER AT THE LEFT", "LOWER AT THE RIGHT"),
}
"""Where a cut stands further out, by which way it faces: at the foot or the left, or
at the other end."""
LEVEL = 0.05
"""An angle of less than this prints as none, in degrees."""
ENDS = {"left": "LEFT END", "right": "RIGHT END", "bottom": "FOOT", "top": "TOP"}
STANDING_ENDS = {
    "left": "SIDE AT THE LEFT",
    "right": "SIDE AT THE RIGHT",
    "bottom": "FOOT",
    "top": "HEAD",
}
"""What the sides of a piece are called that lies on the wall, or stands on it."""


def finished_size(job: Job, row: CutListRow) -> str:
    """Return length and height, or both legs (outside) and height, as lettered."""
    unit = " MM" if job.lengths == "mm" else ""
    height = f"{format_made(row.height, job.lengths)}{unit} HIGH"
    if row.kind not in CORNER_KINDS:
        return f"{format_made(row.length, job.lengths)} x {height}"
    legs = " x ".join(format_made(leg, job.lengths) for leg in row.legs)
    return f"{legs} OUTSIDE x {height}"


def kind_of(row: CutListRow) -> str:
    """Return what a mark is, as lettered: `CUT STRETCHER`."""
    return f"{state_of(row)}{row.kind.upper()}"


def corners_of(job: Job, row: CutListRow) -> Iterator[str]:
    """Yield the corners of each shape as drawn, anticlockwise from the lower left.

    A piece that stands on the wall is drawn lying down, its foot to the left. Of a
    corner unit both legs are unfolded.
    """
    names = (" OF THE LEFT LEG", " OF THE RIGHT LEG") if row.unfolded else ("",)
    shapes = as_printed(row.unfolded or row.shapes, job.lengths)
    for name, shape in zip(names, shapes, strict=False):
        points = list(shape.points)
        if row.kind in LYING:
            points = [(y, shape.right - x) for x, y in points]
        first = points.index(min(points, key=sum))
        said = ", ".join(
            " x ".join(format_made(side, job.lengths) for side in point)
            for point in (*points[first:], *points[:first])
        )
        yield f"CORNERS{name} FROM THE LOWER LEFT, ALONG x UP: {said}"


def notes_of(row: CutListRow) -> Iterator[str]:
    """Yield what a row's note says, as lettered, that is not said by itself."""
    for part in row.note.split("; "):
        if part not in ("", ONE_END, turning_of(row)):
            yield part.upper()


# ------------------------------------------------------------------------------ angles


def angles_of(row: CutListRow) -> Iterator[str]:
    """Yield the angle of each cut, as a sawyer sets it, and a voussoir's axis."""
    if row.kind in OF_AN_ARCH:
        yield from _angles_about_axis(row)
    elif row.kind in CORNER_KINDS:
        for side, leg in zip(("LEFT LEG", "RIGHT LEG"), row.unfolded, strict=False):
            yield from (f"{side}: {said}" for said in _angles(leg, ENDS))
    else:
        names = STANDING_ENDS if row.kind in LYING else ENDS
        for shape in row.shapes:
            yield from _angles(shape, names)


def _angles_about_axis(row: CutListRow) -> Iterator[str]:
    for stone in stone_templates((row,)):
        where = " MIDWAY" if stone.is_even else ""
        each = f"EACH SIDE {stone.taper_deg / 2:.1f} DEGREES OFF IT"
        yield f"AXIS (CHAIN LINE){where}: {each}"
        for name, angle in (("FOOT", stone.foot_deg), ("HEAD", stone.head_deg)):
            if abs(angle) < LEVEL:
                yield f"{name} SQUARE TO IT"
            else:
                side = "RIGHT" if angle > 0 else "LEFT"
                off = f"{abs(angle):.1f} DEGREES OFF SQUARE TO IT"
                yield f"{name} {off}, HIGHER AT THE {side}"


def _angles(shape: Outline, names: dict[str, str]) -> Iterator[str]:
    """Yield the cuts of a shape that face one way, and how far each is off square."""
    sides = list(shape.sides())
    cuts: dict[str, list[tuple[Fraction, float]]] = {}
    for place, facing in zip(shape.cuts, shape.sawn_ends(), strict=True):
        along = 1 if facing in UPRIGHT else 0
        middle = sum((point[along] for point in sides[place]), Fraction(0))
        cut = middle, lean_of(sides[place], facing)
        cuts.setdefault(facing, []).append(cut)
    for facing, found in cuts.items():
        leans = [lean for _, lean in sorted(found)]
        order = ""
        if len(leans) > 1:
            way = "FOOT UP" if facing in UPRIGHT else "LEFT"
            order = f"CUT BY CUT FROM THE {way}: "
        yield f"{names[facing]} SAWN {order}{_leans(leans, facing)}"


def lean_of(side: tuple[Point, Point], facing: str) -> float:
    """Return by how many degrees a side is off square to the brick.

    Positive where it stands further out at the foot, or at the left.
    """
    (x1, y1), (x2, y2) = (tuple(float(z) for z in point) for point in side)
    if facing == "right":
        return degrees(atan2(x1 - x2, y2 - y1))
    if facing == "left":
        return degrees(atan2(x1 - x2, y1 - y2))
    if facing == "top":
        return degrees(atan2(y2 - y1, x1 - x2))
    return degrees(atan2(y2 - y1, x2 - x1))


def _leans(leans: list[float], facing: str) -> str:
    """Word how far cuts are off square; what all share is said once, at the end."""
    usual = "SQUARE" if facing in UPRIGHT else "LEVEL"
    said = []
    for lean in leans:
        off = f"{abs(lean):.1f} DEGREES OFF {usual}, {FURTHER[facing][lean < 0]}"
        said.append(usual if abs(lean) < LEVEL else off)
    ways = {words.partition(" ")[2] for words in said}
    if len(said) > 1 and len(ways) == 1:
        angles = listed([words.partition(" ")[0] for words in said])
        return f"{angles.upper()} {ways.pop()}"
    return "; ".join(said)


# -------------------------------------------------------------------------------- ends


def ends_kept(job: Job, row: CutListRow) -> list[str]:
    """Return which ends stay as delivered, the brick lying down as on the saw."""
    if row.kind in CORNER_KINDS:
        return _legs_kept(job, row)
    lies, whole = row.kind in LYING, job.brick.length
    if row.shapes:
        called = {"bottom": "LEFT", "top": "RIGHT", "left": "LEFT", "right": "RIGHT"}
        return [called[end] for end in row.shapes[0].square_ends(upright=lies)]
    if (row.height if lies else row.length) >= whole:
        return ["LEFT", "RIGHT"]
    return ["LEFT"] if lies or ONE_END in row.note else []


def ends_on_the_wall(job: Job, row: CutListRow) -> str:
    """Return the ends that stay as delivered, as they are called on the wall."""
    called = {"LEFT": "FOOT", "RIGHT": "HEAD"} if row.kind in LYING else {}
    ends = ", ".join(called.get(end, end) for end in ends_kept(job, row))
    return f"ENDS AS DELIVERED: {ends or 'NONE'}"


def _legs_kept(job: Job, row: CutListRow) -> list[str]:
    """Return the legs of a corner unit whose free ends are not sawn."""
    solid = row.kind == "corner unit"
    corner = job.brick.corner if solid else job.brick.soldier_corner
    legs = corner_legs(corner, job.brick.thickness) if corner else row.legs
    ends = {"left", "right"}
    sawn = [shape.right for shape in row.shapes if ends & set(shape.sawn_ends())]
    return [
        f"{name} LEG"
        for name, leg, was in zip(("LONG", "SHORT"), row.legs, legs, strict=True)
        if (leg >= was or row.is_made) and leg not in sawn
    ]


def stock_of(
    job: Job, row: CutListRow, shape: Outline
) -> tuple[tuple[float, float], ...]:
    """Return the outline of the whole brick, flush with the end that is not sawn."""
    wide, high = float(job.brick.length), float(job.brick.height)
    if row.kind in LYING:
        wide, high = high, wide
    sawn, square = set(shape.sawn_ends()), shape.square_ends()
    left = 0.0
    if row.kind in OF_AN_ARCH:
        left = (float(shape.right) - wide) / 2
    elif "left" not in square and ("right" in square or "left" in sawn):
        left = float(shape.right) - wide
    foot = float(shape.top) - high if "bottom" in sawn and "top" not in sawn else 0.0
    return (
        (left, foot),
        (left + wide, foot),
        (left + wide, foot + high),
        (left, foot + high),
    )


def on_the_wall(row: CutListRow) -> Iterator[str]:
    """Yield what a mark's note says of grinding and scribing, as lettered."""
    for part in row.note.split("; "):
        if part.startswith(("left long", "notch")):
            yield part.upper()
