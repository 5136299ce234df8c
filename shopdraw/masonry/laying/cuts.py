"""Cut through the wall, level or upright, and say which brick the cut meets.

In:  `Surround`, `Layout`, where the plane lies.   Out: `Cut`s.
Frame: as `Cut`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from types import MappingProxyType

from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.wall.form import Point, Surround
from shopdraw.masonry.wall.layout import CORNER_KINDS, Layout, Outline, Piece, rectangle

ZERO = Fraction(0)
FLUSH: Mapping[int, Fraction] = MappingProxyType({})
"""No course projects."""
Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, bottom, right and top of a rectangle."""


def cut_level(
    surround: Surround, layout: Layout, course: Course, thickness: Fraction
) -> tuple[Cut, ...]:
    """Cut through the middle of one course, all faces folded into plan.

    Args:
        surround: the faces, for where they fold.
        layout: every piece.
        course: which.
        thickness: of the brick.

    Returns:
        What is met, in reading order: a rectangle for a flat piece, an L for a corner
        unit, and a rectangle with one slanting end for a mitred piece.
    """
    level = (course.bottom + course.top) / 2
    return tuple(
        _cut_at(piece, level, surround, thickness, course.projection)
        for piece in layout.pieces
        if all(outline.bottom < level < outline.top for outline in piece.outlines)
    )


def _cut_at(
    piece: Piece,
    level: Fraction,
    surround: Surround,
    thickness: Fraction,
    out: Fraction,
) -> Cut:
    sliced = tuple(_sliced(outline, level) for outline in piece.outlines)
    boxes = [_folded(outline, surround, thickness, out) for outline in sliced]
    left, near, right, far = boxes[0]
    ring = _ring((left, near - piece.stands_out, right, far))
    if piece.kind in CORNER_KINDS and len(boxes) == 2:
        front = next(x for x, o in zip(boxes, sliced, strict=True) if o.face == "front")
        ring = _ell(boxes, front, thickness)
    elif "mitre" in piece.cut_edges:
        ring = _mitred(sliced[0], boxes[0], surround, thickness, out)
    return Cut(piece, sliced, ring)


def _sliced(outline: Outline, level: Fraction) -> Outline:
    left, right = outline.at_level(level)
    return rectangle(outline.face, left, outline.bottom, right, outline.top)


def _folded(
    outline: Outline, surround: Surround, thickness: Fraction, out: Fraction
) -> Box:
    """Return the rectangle in plan of an outline cut level, brought out so far."""
    front, opening = surround.front, surround.opening
    left, right = outline.left - front.left, outline.right - front.left
    width = front.width
    if outline.face == "left":
        return (-out, -right, thickness - out, -left)
    if outline.face == "right":
        return (width - thickness + out, left - width, width + out, right - width)
    if outline.face == "left reveal":
        fold = opening.brick_left - front.left
        return (fold - thickness, left - fold, fold, right - fold)
    if outline.face == "right reveal":
        fold = opening.brick_right - front.left
        return (fold, fold - right, fold + thickness, fold - left)
    return (left, -out, right, thickness - out)


def _ring(box: Box) -> tuple[Point, ...]:
    left, low, right, high = box
    return ((left, low), (right, low), (right, high), (left, high))


def _ell(boxes: list[Box], front: Box, thickness: Fraction) -> tuple[Point, ...]:
    """Join a corner unit's two rectangles, one of them the front's, into an L."""
    side = next(box for box in boxes if box is not front)
    left, low, right, high = front
    back = side[3]
    if side[0] == left:
        return (
            (left, low), (right, low), (right, high),
            (left + thickness, high), (left + thickness, back), (left, back),
        )  # fmt: skip
    return (
        (left, low), (right, low), (right, back),
        (right - thickness, back), (right - thickness, high), (left, high),
    )  # fmt: skip


def _mitred(
    outline: Outline, box: Box, surround: Surround, thickness: Fraction, out: Fraction
) -> tuple[Point, ...]:
    """Cut a rectangle's end at 45 degrees at a corner: its back edge is the shorter."""
    left, low, right, high = box
    front = surround.front
    begins, ends = [front.left - out], [front.right + out]
    if surround.reveals:
        begins.append(surround.opening.brick_right)
        ends.append(surround.opening.brick_left)
    moved = {}
    if outline.face != "front":
        # A return's back edge faces the middle of the wall, a jamb's the leg.
        at_right = outline.face in ("left", "right reveal")
        x = right if at_right else left
        moved[x, low] = (x, low + thickness)
    else:
        if outline.left in begins:
            moved[left, high] = (left + thickness, high)
        if outline.right in ends:
            moved[right, high] = (right - thickness, high)
    return tuple(moved.get(corner, corner) for corner in _ring(box))


def cut_upright(
    layout: Layout,
    x: Fraction,
    widest: Fraction,
    thickness: Fraction,
    out: Mapping[int, Fraction] = FLUSH,
) -> tuple[Cut, ...]:
    """Cut the front upright, square to it: what is met, bottom up.

    Where the cut runs into a head joint, it shows the piece to the joint's left.

    Args:
        layout: every piece.
        x: where, on the developed plane.
        widest: the widest head joint.
        thickness: of the brick.
        out: how far each course projects, by its number; those not named do not.
    """
    met: dict[Fraction, tuple[Piece, Outline]] = {}
    for piece, outline in _on_the_front(layout):
        if outline.left <= x <= outline.right + widest:
            last = met.get(outline.top)
            if last is None or outline.right > last[1].right:
                met[outline.top] = piece, outline
    return tuple(
        Cut(
            piece,
            (outline,),
            _ring((-far - piece.stands_out, low, thickness - far, high)),
        )
        for piece, outline in (met[level] for level in sorted(met))
        for low, high in (outline.upright_at(min(x, outline.right)),)
        for far in (out.get(piece.course, ZERO),)
    )


def _on_the_front(layout: Layout) -> Iterator[tuple[Piece, Outline]]:
    for piece in layout.pieces:
        for outline in piece.outlines:
            if outline.face == "front":
                yield piece, outline


def course_ends(layout: Layout, face: str, course: Course) -> tuple[Fraction, ...]:
    """Return both ends of every piece of a course on one face, at its mid height."""
    level = (course.bottom + course.top) / 2
    return tuple(
        x
        for piece in layout.pieces
        if piece.course == course.number
        for outline in piece.outlines
        if outline.face == face and outline.bottom < level < outline.top
        for x in outline.at_level(level)
    )
