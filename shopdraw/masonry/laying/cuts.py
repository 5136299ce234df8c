"""Cut through the wall, level or upright, and say which brick the cut meets.

In:  `Surround`, `Layout`, where the plane lies.   Out: `Cut`s.
Frame: as `Cut`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from types import MappingProxyType

from shopdraw.job.turning import taken_at_mitre
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.wall.folding import place_face
from shopdraw.masonry.wall.form import MEET_AT_RIGHT, Point, Surround
from shopdraw.masonry.wall.layout import (
    CORNER_KINDS,
    Layout,
    Outline,
    Piece,
    from_the_left,
    rectangle,
)

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
        What is met, in reading order: a rectangle for a flat piece, two legs for a
        corner unit, and a rectangle with one slanting end for a mitred piece.
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
    if piece.kind in CORNER_KINDS and len(sliced) == 2:
        ring = _ell(sliced, surround, thickness, out)
    else:
        ring = _bar(piece, sliced[0], surround, thickness, out)
    ring = _at_its_corners(ring)
    # It starts from the point nearest the front; of two such from the left one.
    first = ring.index(min(ring, key=lambda point: (point[1], point[0])))
    return Cut(piece, sliced, (*ring[first:], *ring[:first]))


def _at_its_corners(ring: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return an outline without points that are no corners of it.

    A corner unit whose leg is trimmed to the thickness of the brick has such points.
    """
    return tuple(
        (x, y)
        for (x1, y1), (x, y), (x2, y2) in zip(
            (ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True
        )
        if (x - x1) * (y2 - y) != (y - y1) * (x2 - x)
    )


def _sliced(outline: Outline, level: Fraction) -> Outline:
    left, right = outline.at_level(level)
    return rectangle(outline.face, left, outline.bottom, right, outline.top)


def _bar(
    piece: Piece,
    outline: Outline,
    surround: Surround,
    thickness: Fraction,
    out: Fraction,
) -> tuple[Point, ...]:
    """Return a flat piece in plan; an end that is mitred slants."""
    placed, near = place_face(surround, outline.face), _before(outline, out)
    back = [outline.left, outline.right]
    if "mitre" in piece.cut_edges:
        for end, turn in _mitred(outline, surround, near):
            back[end] += (1, -1)[end] * taken_at_mitre(thickness, turn)
    proud = -near - piece.stands_out
    return (
        placed.point(outline.left, proud),
        placed.point(outline.right, proud),
        placed.point(back[1], thickness - near),
        placed.point(back[0], thickness - near),
    )


def _before(outline: Outline, out: Fraction) -> Fraction:
    """Return how far a course that projects stands out; in the jambs none does."""
    return ZERO if outline.face.endswith("reveal") else out


def _mitred(
    outline: Outline, surround: Surround, out: Fraction
) -> Iterator[tuple[int, Fraction]]:
    """Yield which ends of a mitred piece meet a corner, and how far that one turns."""
    if outline.face != "front":
        at_right = outline.face in MEET_AT_RIGHT
        yield int(at_right), surround.face(outline.face).turn
        return
    front = surround.front
    for fold in (*surround.folds, *surround.jamb_folds):
        grown = out if fold in surround.folds else ZERO
        begins = fold == front.left or fold in surround.jamb_folds[1:]
        if (outline.left if begins else outline.right) == fold + (
            -grown if begins else grown
        ):
            yield int(not begins), surround.turn_at(fold)


def _ell(
    legs: tuple[Outline, ...], surround: Surround, thickness: Fraction, out: Fraction
) -> tuple[Point, ...]:
    """Return a corner unit in plan: both its legs, which meet in a mitre.

    Where its course projects, each leg goes on past the corner as far: the left one may
    even begin right of the other.
    """
    left, right = from_the_left(legs)
    one, other = (place_face(surround, leg.face) for leg in (left, right))
    far = [_before(leg, out) for leg in (left, right)]
    turn = surround.turn_at((left.right + right.left) / 2)
    taken = taken_at_mitre(thickness, turn)
    return (
        one.point(left.left, -far[0]),
        one.point(left.right, -far[0]),
        other.point(right.right, -far[1]),
        other.point(right.right, thickness - far[1]),
        one.point(left.right - taken, thickness - far[0]),
        one.point(left.left, thickness - far[0]),
    )


def _ring(box: Box) -> tuple[Point, ...]:
    left, low, right, high = box
    return ((left, low), (right, low), (right, high), (left, high))


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
    cuts = [
        Cut(
            piece,
            (outline,),
            _ring((-far - piece.stands_out, low, thickness - far, high)),
        )
        for piece, outline in met.values()
        for low, high in (outline.upright_at(min(x, outline.right)),)
        for far in (out.get(piece.course, ZERO),)
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
