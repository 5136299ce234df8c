"""Say where the marks of a story pole and of setting-out rods stand.

In:  `Surround`, `Coursing`, `Layout`, `Variation`.   Out: `Strip`s.
Frame: the job's lengths along each strip: a pole up from the datum, a rod from the left
end of its finished face.

A rod serves two courses, one on its side A and one on its side B. What both courses
share is marked right across.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from shopdraw.job.model_head import STANDING
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.marks.form import Side, Strip, Tick, Variation
from shopdraw.masonry.wall.form import Face, Surround
from shopdraw.masonry.wall.layout import RUNNING_KINDS, Layout, Piece


def mark_strips(
    surround: Surround,
    coursing: Coursing,
    layout: Layout,
    variation: Variation | None,
) -> tuple[Strip, ...]:
    """Mark the story pole, then a setting-out rod for every face."""
    return (mark_pole(coursing, variation), *mark_rods(surround, layout))


def mark_pole(coursing: Coursing, variation: Variation | None) -> Strip:
    """Mark every course's top, and both edges of the joint at each underside target.

    Args:
        coursing: the courses, bottom up, and the targets.
        variation: for where to measure again; None where no brick was measured.
    """
    ticks = [
        Tick(course.top, "course top", "A", str(course.number))
        for course in coursing.courses
    ]
    ticks.append(Tick(Fraction(0), "end", "both"))
    tops = [course.top for course in coursing.courses]
    for target in coursing.targets:
        ticks.append(Tick(target.got, "target", "B", target.name))
        below = [top for top in tops if top < target.got]
        if target.meets == "underside" and below:
            ticks.append(Tick(below[-1], "joint edge", "B", target.name))
    ticks.append(Tick(coursing.head, "ledger", "B"))
    again = variation.remeasure_at if variation else ()
    ticks += (
        Tick(course.top, "measure again", "B", str(course.number))
        for course in coursing.courses
        if course.number in again
    )
    length = max(tick.at for tick in ticks)
    return Strip("story pole", length, tuple(sorted(ticks, key=_order)))


def mark_rods(surround: Surround, layout: Layout) -> tuple[Strip, ...]:
    """Mark a rod for every face: both edges of each head joint of two courses.

    Soldiers, or rowlocks, have a rod of their own.
    """
    numbers = sorted({piece.course for piece in layout.in_courses})[:2]
    strips = []
    for face in (*surround.faces, *surround.reveals):
        ticks = list(_shared(surround, face))
        sides: tuple[Side, Side] = ("A", "B")
        for side, number in zip(sides, numbers, strict=False):
            laid = [
                piece
                for piece in layout.in_courses
                if piece.course == number and piece.kind in RUNNING_KINDS
            ]
            ticks += _joints(laid, face, side)
        strips.append(_strip(face.name, face, ticks, tuple(numbers)))
        standing = [
            piece
            for piece in layout.in_courses
            if piece.kind in STANDING
            and any(x.face == face.name for x in piece.outlines)
        ]
        if standing:
            ticks = [*_shared(surround, face), *_joints(standing, face, "A")]
            name = f"{face.name}, {standing[0].kind}s"
            strips.append(_strip(name, face, ticks, (standing[0].course,)))
    return tuple(strips)


def _strip(name: str, face: Face, ticks: list[Tick], courses: tuple[int, ...]) -> Strip:
    return Strip(name, face.width, tuple(sorted(ticks, key=_order)), courses)


def _order(tick: Tick) -> tuple[Fraction, str, str, str]:
    return tick.at, tick.side, tick.kind, tick.name


def _shared(surround: Surround, face: Face) -> Iterator[Tick]:
    """Yield what both courses share: a face's ends, and the opening in the front."""
    folds = (*surround.folds, *surround.jamb_folds)
    for x in (face.left, face.right):
        yield Tick(x - face.left, "fold" if x in folds else "end", "both")
    if face.name == "front":
        opening = surround.opening
        for x in (opening.left, opening.right):
            yield Tick(x - face.left, "jamb", "both")
        yield Tick(opening.centre - face.left, "centre", "both")


def _joints(pieces: list[Piece], face: Face, side: Side) -> list[Tick]:
    """Return both edges of each head joint of a face, and where its brick ends."""
    ends = sorted(
        {
            (outline.left - face.left, outline.right - face.left)
            for piece in pieces
            for outline in piece.outlines
            if outline.face == face.name
        }
    )
    edges: dict[Fraction, None] = {}
    if ends:
        edges[ends[0][0]] = None
        for (_, right), (left, _) in pairwise(ends):
            edges[right] = edges[left] = None
        edges[ends[-1][1]] = None
    return [Tick(x, "joint edge", side) for x in edges if 0 < x < face.width]
