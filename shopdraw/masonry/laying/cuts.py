"""Cut through the wall, level or upright, and say which brick the cut meets.

In:  `Surround`, `Layout`, where the plane lies.   Out: `Cut`s.
Frame: as `Cut`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.wall.form import Point, Surround
from shopdraw.masonry.wall.layout import CORNER_KINDS, Layout, Outline, Piece, rectangle

ZERO = Fraction(0)
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
        _cut_at(piece, level, surround, thickness)
        for piece in layout.pieces
        if all(outline.bottom < level < outline.top for outline in piece.outlines)
    )


def _cut_at(
    piece: Piece, level: Fraction, surround: Surround, thickness: Fraction
) -> Cut:
    sliced = tuple(_sliced(outline, level) for outline in piece.outlines)
    boxes = [_folded(outline, surround, thickness) for outline in sliced]
    ring = _ring(boxes[0])
    if piece.kind in CORNER_KINDS and len(boxes) == 2:
        ring = _ell(boxes, thickness)
    elif "mitre" in piece.cut_edges:
        ring = _mitred(boxes[0], surround, thickness)
    return Cut(piece, sliced, ring)


def _sliced(outline: Outline, level: Fraction) -> Outline:
    left, right = outline.at_level(level)
    return rectangle(outline.face, left, outline.bottom, right, outline.top)


def _folded(outline: Outline, surround: Surround, thickness: Fraction) -> Box:
    """Return the rectangle in plan of an outline cut level."""
    front, opening = surround.front, surround.opening
    left, right = outline.left - front.left, outline.right - front.left
    width = front.width
    if outline.face == "left":
        return (ZERO, -right, thickness, -left)
    if outline.face == "right":
        return (width - thickness, left - width, width, right - width)
    if outline.face == "left reveal":
        fold = opening.brick_left - front.left
        return (fold - thickness, left - fold, fold, right - fold)
    if outline.face == "right reveal":
        fold = opening.brick_right - front.left
        return (fold, fold - right, fold + thickness, fold - left)
    return (left, ZERO, right, thickness)


def _ring(box: Box) -> tuple[Point, ...]:
    left, low, right, high = box
    return ((left, low), (right, low), (right, high), (left, high))


def _ell(boxes: list[Box], thickness: Fraction) -> tuple[Point, ...]:
    """Join a corner unit's two rectangles into an L."""
    front = next(box for box in boxes if box[1] == 0 and box[3] == thickness)
    side = next(box for box in boxes if box is not front)
    left, right, back = front[0], front[2], side[3]
    if side[0] == left:
        return (
            (left, ZERO), (right, ZERO), (right, thickness),
            (left + thickness, thickness), (left + thickness, back), (left, back),
        )  # fmt: skip
    return (
        (left, ZERO), (right, ZERO), (right, back),
        (right - thickness, back), (right - thickness, thickness), (left, thickness),
    )  # fmt: skip


def _mitred(box: Box, surround: Surround, thickness: Fraction) -> tuple[Point, ...]:
    """Cut a rectangle's end at 45 degrees at the outside corner: move one corner."""
    width, at_left = surround.front.width, box[0] == 0
    inside = thickness if at_left else width - thickness
    sheared = (inside, ZERO)
    if box[1] == 0 and box[3] == thickness:
        sheared = (ZERO if at_left else width, thickness)
    return tuple(
        (inside, thickness) if corner == sheared else corner for corner in _ring(box)
    )


def cut_upright(
    layout: Layout, x: Fraction, widest: Fraction, thickness: Fraction
) -> tuple[Cut, ...]:
    """Cut the front upright, square to it: what is met, bottom up.

    Where the cut runs into a head joint, it shows the piece to the joint's left.

    Args:
        layout: every piece.
        x: where, on the developed plane.
        widest: the widest head joint.
        thickness: of the brick.
    """
    met: dict[Fraction, tuple[Piece, Outline]] = {}
    for piece, outline in _on_the_front(layout):
        if outline.left <= x <= outline.right + widest:
            last = met.get(outline.top)
            if last is None or outline.right > last[1].right:
                met[outline.top] = piece, outline
    cuts = [
        Cut(piece, (outline,), _ring((ZERO, outline.bottom, thickness, outline.top)))
        for piece, outline in met.values()
    ]
    for panel in layout.panels:
        if panel.box[0] <= x <= panel.box[2]:
            inside = [piece for piece in layout.pieces if piece.place == "panel"]
            cuts += (
                Cut(piece, piece.outlines, _ring((ZERO, low, thickness, high)))
                for piece, low, high in met_by(inside, x, panel.joint)
                if panel.box[1] <= low and high <= panel.box[3]
            )
    return tuple(sorted(cuts, key=lambda cut: cut.ring[0][1]))


def met_by(
    pieces: Iterable[Piece], x: Fraction, joint: Fraction
) -> list[tuple[Piece, Fraction, Fraction]]:
    """Return the pieces of a pattern that a line up or back meets, from and to where.

    Where the line runs along a joint, the pieces that end square to the joint's left
    are met.
    """
    every = tuple(pieces)
    met = list(_met(every, x))
    for each in _met((y for y in every if _ends_square(y)), x - joint):
        # What the line runs along a joint of is not met at all there.
        if all(each[1] >= b or each[2] <= a for _, a, b in met):
            met.append(each)
    return sorted(met, key=lambda each: each[1])


def _ends_square(piece: Piece) -> bool:
    """Whether the right end of a piece is upright, all of it."""
    outline = piece.outlines[0]
    return any(
        a[0] == b[0] == outline.right and {a[1], b[1]} == {outline.bottom, outline.top}
        for a, b in outline.sides()
    )


def _met(
    pieces: Iterable[Piece], x: Fraction
) -> Iterator[tuple[Piece, Fraction, Fraction]]:
    for piece in pieces:
        outline = piece.outlines[0]
        if outline.left < x < outline.right:
            crossed = [
                y1 + (y2 - y1) * (x - x1) / (x2 - x1)
                for (x1, y1), (x2, y2) in outline.sides()
                if x1 != x2 and min(x1, x2) <= x <= max(x1, x2)
            ]
            yield piece, min(crossed), max(crossed)


def _on_the_front(layout: Layout) -> Iterator[tuple[Piece, Outline]]:
    for piece in layout.in_courses:
        for outline in piece.outlines:
            if outline.face == "front":
                yield piece, outline


def course_ends(layout: Layout, face: str, course: Course) -> tuple[Fraction, ...]:
    """Return both ends of every piece of a course on one face, at its mid height."""
    level = (course.bottom + course.top) / 2
    return tuple(
        x
        for piece in layout.in_courses
        if piece.course == course.number
        for outline in piece.outlines
        if outline.face == face and outline.bottom < level < outline.top
        for x in outline.at_level(level)
    )
