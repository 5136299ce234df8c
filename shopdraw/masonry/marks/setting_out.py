"""Say where the marks of a story pole and of setting-out rods stand.

In:  `Surround`, `Coursing`, `Layout`, `Variation`.   Out: `Strip`s.
Frame: the job's lengths along each strip: a pole up from the datum, a rod from the left
end of its finished face.

A rod serves two courses, one on its side A and one on its side B. What both courses
share is marked right across.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
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
    return (mark_pole(coursing, variation), *mark_rods(surround, coursing, layout))


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


def mark_rods(
    surround: Surround, coursing: Coursing, layout: Layout
) -> tuple[Strip, ...]:
    """Mark a rod for every face: both edges of each head joint of two courses.

    Soldiers, or rowlocks, have a rod of their own; so have bands of headers and the
    courses of a corbel.
    """
    laid = [piece for piece in layout.in_courses if piece.kind in RUNNING_KINDS]
    numbers = sorted({piece.course for piece in laid})[:2]
    strips = []
    for face in (*surround.faces, *surround.reveals):
        ticks = list(_shared(surround, face))
        sides: tuple[Side, Side] = ("A", "B")
        for side, number in zip(sides, numbers, strict=False):
            ticks += _joints([x for x in laid if x.course == number], face, side)
        strips.append(_strip(face.name, face, ticks, tuple(numbers)))
        strips += _of_their_own(surround, coursing, layout, face)
    return tuple(strips)


def _of_their_own(
    surround: Surround, coursing: Coursing, layout: Layout, face: Face
) -> Iterator[Strip]:
    """Yield a rod for what stands, for a band of headers and for a corbel's courses.

    Bands that are set out alike share one, and each rod has one on either side.
    """
    by_course: dict[int, list[Piece]] = defaultdict(list)
    for piece in layout.in_courses:
        if any(x.face == face.name for x in piece.outlines):
            by_course[piece.course].append(piece)
    made: dict[tuple[Tick, ...], Strip] = {}
    for number, there in sorted(by_course.items()):
        course = coursing.courses[number - 1]
        pieces = [x for x in there if x.kind in STANDING]
        name = f"{pieces[0].kind}s" if pieces else ""
        if course.kind == "header" or course.projection:
            pieces = there
            name = f"course {number}"
        elif number != coursing.courses_below_head + 1:
            name += f" of course {number}"
        if not pieces:
            continue
        left, right = surround.ends(face, course.projection)
        grown = Face(face.name, left, right)
        shared = [
            replace(tick, at=tick.at + face.left - left)
            for tick in _shared(surround, face)
            if tick.kind != "fold"
        ]
        shared += [
            Tick(x - left, "fold", "both")
            for x, end in ((left, face.left), (right, face.right))
            if end in (*surround.folds, *surround.jamb_folds)
        ]
        ticks = [*shared, *_joints(pieces, grown, "A")]
        strip = _strip(f"{face.name}, {name}", grown, ticks, (number,))
        other = made.get(strip.ticks)
        if other is not None:
            strip = replace(other, name=f"{other.name} and {name}")
        made[strip.ticks] = strip
    rods = list(made.values())
    for first, *second in (rods[n : n + 2] for n in range(0, len(rods), 2)):
        yield _on_both_sides(first, second[0]) if second else first


def _on_both_sides(first: Strip, second: Strip) -> Strip:
    """Put two rods on one, a course on each side: what both share is right across.

    A course that projects is longer; the ends of each are then on its own side.
    """
    whole = {
        tick for tick in first.ticks if tick.side == "both" and tick in second.ticks
    }
    sides: tuple[tuple[Side, Strip], ...] = (("A", first), ("B", second))
    own = {
        replace(tick, side=side)
        for side, rod in sides
        for tick in rod.ticks
        if tick not in whole
    }
    _, _, name = second.name.partition(", ")
    return Strip(
        f"{first.name}; {name}",
        max(first.length, second.length),
        tuple(sorted((*whole, *own), key=_order)),
        (*first.courses, *second.courses),
    )


def _strip(name: str, face: Face, ticks: list[Tick], courses: tuple[int, ...]) -> Strip:
    return Strip(name, face.width, tuple(sorted(ticks, key=_order)), courses)


def _order(tick: Tick) -> tuple[Fraction, str, str, str]:
    return tick.at, tick.side, tick.kind, tick.name


def _shared(surround: Surround, face: Face) -> Iterator[Tick]:
    """Yield what both courses share: a face's ends, and the opening in the front."""
    folds = (*surround.folds, *surround.jamb_folds)
    for x in (face.left, face.right):
        yield Tick(x - face.left, "fold" if x in folds else "end", "both")
    if face.inside_corner is not None:
        yield Tick(face.inside_corner - face.left, "inside corner", "both")
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
