"""Put the pieces into the order that they are laid: course by course, face by face.

In:  `Solution`.   Out: `Step`s.
Frame: lengths as the sheets print them; strips at full size, as the developed plane.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from shopdraw.drawing.ink import Drawing, Ink, Insert, Stroke, Symbol
from shopdraw.drawing.page import Fact, PageStep, PieceRun, Place
from shopdraw.drawing.sheets import STYLES
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.wall.layout import Layout, Outline, Piece
from shopdraw.solution import Solution
from shopdraw.views.brick.units import unit_ink
from shopdraw.views.page.cards import Cards, Plane, face_says, planes_of
from shopdraw.views.page.due import dues_at
from shopdraw.views.parts.courses import course_kind, further_columns, level_words

STRIP = 10.0
"""The scale that a strip is lettered for: large, because a strip is looked at small."""


def steps_of(solution: Solution) -> Iterator[PageStep]:
    """Yield every course of the faces, bottom up; then a riser's, then the hearth."""
    faces, *others = planes_of(solution)
    cards = Cards(solution, faces)
    by_course = _by_course(faces)
    strips = _strips(solution, faces)
    further = [*further_columns(solution)]
    for place, course in enumerate(solution.coursing.courses):
        pieces = by_course.get(course.number, [])
        yield PageStep(
            name=str(course.number),
            title=f"Course {course.number}",
            facts=(
                *_levels(solution, course, solution.layout),
                *((name.lower(), cells[place]) for name, cells in further),
            ),
            due=tuple(dues_at(solution, course)),
            runs=tuple(_runs(cards, faces, pieces)),
            cards=tuple(cards.card(piece) for piece in pieces),
            strip=strips.get(course.number),
        )
    for plane in others:
        if plane.is_flat and solution.hearth is not None:
            yield from _flat(solution, plane, solution.hearth)
        else:
            yield from _riser(solution, plane)


def _by_course(plane: Plane) -> dict[int, list[Piece]]:
    found: dict[int, list[Piece]] = defaultdict(list)
    for piece in plane.pieces:
        found[piece.course].append(piece)
    return found


def _levels(solution: Solution, course: Course, layout: Layout) -> Iterator[Fact]:
    joint, bottom, top = level_words(solution.job, course)
    yield "top", top
    yield "joint under it", joint
    yield "bottom", bottom
    yield "kind", course_kind(course, layout.cycle)


def _runs(cards: Cards, plane: Plane, pieces: list[Piece]) -> Iterator[PieceRun]:
    """Yield the pieces of a course on each face, from left to right."""
    for face in plane.starts:
        there = [
            (piece, outline)
            for piece in pieces
            for outline in piece.outlines
            if outline.face == face
        ]
        there.sort(key=lambda each: (each[1].left, each[1].bottom))
        if there:
            after = [*(piece for piece, _ in there[1:]), None]
            places = tuple(
                _place(cards, *each, then)
                for each, then in zip(there, after, strict=True)
            )
            title = f"{face_says(face)}, from its left end"
            yield PieceRun(title, _start(cards, *there[0]), places)


def _start(cards: Cards, piece: Piece, outline: Outline) -> str:
    """Say what is before the first piece of a run, where that is no corner."""
    is_first = outline.left == min(x.left for x in piece.outlines)
    side, _ = cards.sides(piece)
    if not is_first or side.piece is not None:
        return ""
    return cards.joint(piece, "left", side)


def _place(cards: Cards, piece: Piece, outline: Outline, after: Piece | None) -> Place:
    """Say where a piece is in its run, and what follows it there."""
    is_last = outline.left == max(x.left for x in piece.outlines)
    is_first = outline is piece.outlines[0]
    return Place(
        piece.id,
        piece.mark if is_first else f"({piece.mark})",
        cards.reach(piece, outline),
        _then(cards, piece, after) if is_last else "the corner",
        "; ".join(cards.to_know(piece)) if is_first else "",
    )


def _then(cards: Cards, piece: Piece, after: Piece | None) -> str:
    """Say what is between a piece and the next one of its run."""
    _, right = cards.sides(piece)
    is_other = right.piece is not None and right.piece.course != piece.course
    if right.piece is after and cards.is_joint(right):
        return f"joint {cards.length(right.gap)}"
    if right.piece is None or after is None or not (is_other and cards.is_joint(right)):
        said = cards.joint(piece, "right", right)
        return said or (cards.joint_up_to(piece, after.id) if after else "")
    # What other courses were laid with stands between.
    left, _ = cards.sides(after)
    one, other = right.piece, left.piece
    name = f"{one.mark} {one.id}"
    if other is not None and other is not one:
        name += f" to {other.mark} {other.id}"
    said = f"joint {cards.length(right.gap)}; {name}, laid with course {one.course}"
    return f"{said}; joint {cards.length(left.gap)}" if cards.is_joint(left) else said


def _strips(solution: Solution, plane: Plane) -> dict[int, Drawing]:
    """Return a drawing of each course, all its faces unrolled."""
    pieces = {piece.id: piece for piece in plane.pieces}
    ink: dict[int, list[Ink]] = defaultdict(list)
    used: dict[int, set[str]] = defaultdict(set)
    every: dict[str, Symbol] = {}
    small = STYLES[solution.lengths].text
    for face in plane.starts:
        units, symbols = unit_ink(plane.layout, {face}, 0.0, small, STRIP)
        every |= {symbol.name: symbol for symbol in symbols}
        for each in units:
            if isinstance(each, Insert):
                course = pieces[each.tags[0].text].course
                ink[course].append(each)
                used[course].add(each.symbol)
    for piece in plane.pieces:
        # A leg that counts on another face is outline alone.
        for outline in piece.outlines[1:]:
            ring = tuple((float(x), float(y)) for x, y in outline.points)
            ink[piece.course].append(Stroke("A-ELEV-MSNR-CORN", ring, closed=True))
    return {
        course: Drawing(
            f"strip-{course}", "", STRIP, tuple(found),
            tuple(every[name] for name in sorted(used[course])),
        )
        for course, found in ink.items()
    }  # fmt: skip


def _riser(solution: Solution, plane: Plane) -> Iterator[PageStep]:
    """Yield the courses of a riser, from the floor up."""
    cards, by_course = Cards(solution, plane), _by_course(plane)
    for course in plane.courses:
        pieces = by_course.get(course.number, [])
        yield PageStep(
            name=f"riser-{course.number}",
            title=f"Riser, course {course.number}",
            facts=tuple(_levels(solution, course, plane.layout)),
            due=(),
            runs=tuple(_runs(cards, plane, pieces)),
            cards=tuple(cards.card(piece) for piece in pieces),
        )


def _flat(solution: Solution, plane: Plane, hearth: BrickHearth) -> Iterator[PageStep]:
    """Yield the hearth, all of it at once: it is laid by its pattern, from its plan."""
    cards = Cards(solution, plane)
    yield PageStep(
        name="hearth",
        title="Hearth",
        facts=(("joint between its pieces", cards.length(hearth.joint)),),
        due=(),
        runs=(),
        cards=tuple(cards.card(piece) for piece in plane.pieces),
    )
