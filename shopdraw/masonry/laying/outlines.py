"""Outline the faces and the finished opening, as they really are.

In:  `Surround`, `Coursing`, `Layout`.   Out: rings, levels.
Frame: as `Surround`: x along the finished faces, y up from the datum.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.form import Face, Point, Surround, x_at
from shopdraw.masonry.wall.layout import Layout
from shopdraw.masonry.wall.surround import opening_ring


def face_end(surround: Surround, face: Face, x: Fraction, top: Fraction) -> list[Point]:
    """Return an end of a face, from its foot on the hearth to the top."""
    built = surround.as_built
    ends = ((surround.faces[0], "left"), (surround.faces[-1], "right"))
    for line, (last, side) in zip(built.ends, ends, strict=True):
        if last is face and x == getattr(face, side):
            foot = line[0][0]
            return [(foot, built.hearth.at(foot)), (x_at(line, top), top)]
    return [(x, surround.hearth_under(face).at(x)), (x, top)]


def corbelled_end(
    surround: Surround, coursing: Coursing, face: Face, x: Fraction
) -> list[Point]:
    """Return an end of a face from its foot to its top, stepped out where it projects.

    A step lies at the underside of the brick: the joint below belongs to the course
    below.
    """
    foot, top = face_end(surround, face, x, coursing.top)
    points = [foot]
    if x in surround.folds:
        place = 0 if x == face.left else 1
        at = x
        for course in coursing.courses:
            out = surround.ends(face, course.projection)[place]
            if out != at:
                points += [(at, course.bottom), (out, course.bottom)]
                at = out
        top = (at, top[1])
    return [*points, top]


def face_ring(surround: Surround, face: Face, top: Fraction) -> list[Point]:
    """Return a face's ring: along the hearth, up the right end and down the left.

    What lies behind another face at an inside corner is left out.
    """
    left, right = (face_end(surround, face, x, top) for x in face.seen)
    floor = surround.hearth_under(face).between(left[0][0], right[0][0])
    return [*floor, right[1], left[1]]


def whole_ring(surround: Surround, coursing: Coursing, face: Face) -> list[Point]:
    """Return a face's ring, stepped out at its corners where courses project."""
    left, right = (corbelled_end(surround, coursing, face, x) for x in face.seen)
    floor = surround.hearth_under(face).between(left[0][0], right[0][0])
    return [*floor, *right[1:], *reversed(left[1:])]


def finished_opening(
    surround: Surround, coursing: Coursing, layout: Layout
) -> tuple[Point, ...]:
    """Return the opening's ring as it is seen when finished, from its feet on."""
    covered = surround.opening.covered
    return opening_ring(surround, coursing.head, layout.arch, covered)


def front_ring(
    surround: Surround, coursing: Coursing, layout: Layout
) -> tuple[Point, ...]:
    """Return the front's ring: down its left end, round the opening, up the right."""
    front, hearth = surround.front, surround.as_built.hearth
    left = corbelled_end(surround, coursing, front, front.left)
    right = corbelled_end(surround, coursing, front, front.right)
    opening = finished_opening(surround, coursing, layout)
    ring = [
        *reversed(left),
        *hearth.between(left[0][0], opening[0][0]),
        *(opening[0], *reversed(opening[1:])),
        *hearth.between(opening[1][0], right[0][0]),
        *right,
    ]
    return tuple(dict.fromkeys(ring))


def head_over(
    surround: Surround, coursing: Coursing, layout: Layout, x: Fraction
) -> Fraction:
    """Return the level of the head or soffit of the finished opening at a place."""
    soffit = finished_opening(surround, coursing, layout)[2:]
    return next(
        y1 + (y2 - y1) * (x - x1) / (x2 - x1)
        for (x1, y1), (x2, y2) in pairwise(soffit)
        if x2 <= x <= x1
    )
