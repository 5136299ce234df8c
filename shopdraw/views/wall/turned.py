"""Draw a corner that is not square at large scale: how two courses turn round it.

In:  `Solution`, which corner, the scale.   Out: `Drawing`.
Frame: full size; the corner is at x = 0, y = 0. The face nearer the front comes to it
along x, its brick above the axis; the other turns away from there, to the right at a
left jamb and at the right of the front. The second course stands to the right.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import cos, radians, sin, tan
from typing import Any

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Align, Drawing, Fill, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.moving import moved
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model_face import SIDES
from shopdraw.job.turning import SQUARE
from shopdraw.lengths import format_length
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.wall.folding import place_face
from shopdraw.masonry.wall.form import MEET_AT_RIGHT, Face, Surround
from shopdraw.masonry.wall.layout import CORNER_KINDS, Piece
from shopdraw.solution import Solution
from shopdraw.views.parts.aslant import ends_of_jambs
from shopdraw.views.parts.figures import (
    Hand,
    break_line,
    clipped,
    hatch,
    points_of,
    wall_pattern,
)
from shopdraw.views.parts.phrases import FACES, splay_words
from shopdraw.views.wall.plans import cuts_of

COURSES = 2
"""How many courses are drawn, side by side."""
TO_THE_NEXT = 0.75
"""How much of a face is shown that ends at another corner, or at the wall."""
NEAR = 1e-9


@dataclass(frozen=True)
class Turned:
    """How much of a corner that is not square is shown.

    Attributes:
        fold: where it is on the developed plane.
        faces: the one nearer the front, and the one that turns away from it.
        turn: by how many degrees.
        side: 1 where the second face goes on to the right, -1 to the left.
        reach: how much of each face is shown, from the corner on.
        goes_on: whether each goes on beyond that, and is broken off there.
        apart: the distance from one course drawn to the next.
    """

    fold: Fraction
    faces: tuple[Face, Face]
    turn: float
    side: int
    reach: tuple[float, float]
    goes_on: tuple[bool, bool]
    apart: float

    def shows(self, piece: Piece) -> bool:
        """Whether a piece lies on either face, on this side of the corner."""
        first, second = (face.name for face in self.faces)
        return any(
            outline.face == second
            or (
                outline.face == first
                and (outline.left + outline.right - 2 * self.fold) * self.side < 0
            )
            for outline in piece.outlines
        )

    def along(self, far: float, deep: float = 0.0) -> Point:
        """Return a spot of the second face: so far from the corner, so deep behind."""
        across, back = cos(radians(self.turn)), sin(radians(self.turn))
        return far * across - deep * back, far * back + deep * across


def corners_shown(surround: Surround) -> Iterator[Fraction]:
    """Yield the outside corners that are not square; of two that are alike the left.

    Also a square one that is not at the front.
    """
    alike = set()
    folds = (surround.fold_of(face) for side in SIDES for face in surround.flank(side))
    for fold in folds:
        turn = surround.turn_at(fold)
        kinds = [
            (FACES[face.name], None if face.name == "front" else face.width)
            for face in faces_at(surround, fold)
        ]
        key = turn, *kinds
        is_square = turn == SQUARE and kinds[0][0] == "front"
        if not is_square and key not in alike:
            alike.add(key)
            yield fold


def faces_at(surround: Surround, fold: Fraction) -> tuple[Face, Face]:
    """Return the faces that meet at a corner, the one nearer the front first."""
    second = next(
        face
        for face in (*surround.faces, *surround.reveals)
        if face.name != "front" and surround.fold_of(face) == fold
    )
    return surround.before(second), second


def turned_at(solution: Solution, fold: Fraction, scale: float) -> Turned:
    """Return what is shown of a corner."""
    hand, surround = Hand(solution.lengths, scale), solution.surround
    faces, opening = faces_at(surround, fold), surround.opening
    longest = max(leg for piece in solution.layout.pieces for leg in piece.legs)
    wanted, turn = 1.25 * float(longest), float(surround.turn_at(fold))
    in_jamb = fold in surround.jamb_folds
    first, second = (float(face.width) for face in faces)
    if faces[0].name == "front":
        ends = (surround.front.left, opening.brick_left, opening.brick_right)
        other = min((x for x in (*ends, surround.front.right) if x != fold),
                    key=lambda x: abs(x - fold))  # fmt: skip
        first = float(abs(other - fold))
    # Past a face that ends at another corner nothing else is shown.
    is_whole = faces[0].name == "front" and (in_jamb or not surround.reveals)
    most = first if is_whole else TO_THE_NEXT * first
    reach = (
        min(wanted, most),
        second if in_jamb else min(wanted, TO_THE_NEXT * second),
    )
    lines = max(
        hand.width(x) for x in ("THE CHAMFER IS DRAWN LEVEL", "LONG LEG IN THE JAMB")
    )
    wide = reach[0] + max(reach[1] * cos(radians(turn)), 0.5 * reach[1])
    return Turned(
        fold=fold,
        faces=faces,
        turn=turn,
        side=-1 if faces[1].name in MEET_AT_RIGHT else 1,
        reach=reach,
        goes_on=(reach[0] < first - NEAR, not in_jamb),
        apart=max(wide + 17.0 * hand.text, lines + 8.0 * hand.text),
    )


def draw_jamb_courses(solution: Solution, scale: float) -> Drawing:
    """Draw the left jamb through courses 1 and 2, side by side.

    Raises:
        ValueError: no brick turns into the jambs.
    """
    if not solution.surround.reveals:
        message = "no brick turns into the jambs of this surround"
        raise ValueError(message)
    hand = Hand(solution.lengths, scale)
    shown = turned_at(solution, solution.surround.jamb_folds[0], scale)
    below = solution.coursing.courses_below_head
    count = min(COURSES, below)
    ink, numbers = _courses(solution, shown, count, hand)
    foot = min(box_of(x, scale)[1] for x in ink if isinstance(x, Words))
    right = turned_at(solution, solution.surround.jamb_folds[1], scale)
    is_alike = _joints(solution, shown, count) == _joints(solution, right, count)
    other = "OPPOSITE HAND" if is_alike else "SEE THE PLANS"
    at = -shown.reach[0], foot - 1.8 * hand.text
    said = hand.caption(at, f"RIGHT JAMB: {other}", "left")
    return Drawing("jamb", f"LEFT JAMB, {numbers}", scale, (*ink, said))


def _joints(solution: Solution, shown: Turned, count: int) -> list[tuple[Any, ...]]:
    """Return course, face and ends of what a corner shows, from the corner on."""
    found = set()
    for piece in solution.layout.pieces:
        if piece.course > count or not shown.shows(piece):
            continue
        for outline in piece.outlines:
            far = shown.reach[outline.face != shown.faces[0].name]
            near, end = sorted(
                min(abs(float(x - shown.fold)), far)
                for x in (outline.left, outline.right)
            )
            if end - near > NEAR:
                found.add((piece.course, FACES[outline.face], near, end))
    return sorted(found)


def draw_turned_corner(solution: Solution, place: int, scale: float) -> Drawing:
    """Draw an outside corner through courses 1 and 2, side by side.

    Args:
        solution: what is drawn.
        place: which of the corners, 1 for the first from the left.
        scale: of the drawing.
    """
    surround, hand = solution.surround, Hand(solution.lengths, scale)
    shown = turned_at(solution, surround.folds[place - 1], scale)
    ink, numbers = _courses(solution, shown, COURSES, hand)
    one, other = (FACES[face.name].upper() for face in shown.faces)
    side = "LEFT" if shown.side < 0 else "RIGHT"
    title = f"{side} CORNER, {one} TO {other}, {numbers}"
    return Drawing(f"corner-{place}", title, scale, ink)


def _courses(
    solution: Solution, shown: Turned, count: int, hand: Hand
) -> tuple[tuple[Ink, ...], str]:
    """Draw so many courses side by side, and say which."""
    ink: list[Ink] = []
    courses = solution.coursing.courses[:count]
    for place, course in enumerate(courses):
        part = [
            *_brick(solution, cuts_of(solution, course), shown, hand),
            *_wall(solution, shown, hand),
            *_figures(solution, shown, hand),
        ]
        ink += [moved(x, (place * shown.apart, 0.0)) for x in part]
    numbers = " AND ".join(str(course.number) for course in courses)
    return tuple(ink), f"COURSE{'S' if len(courses) > 1 else ''} {numbers}"


def _brick(
    solution: Solution, cuts: tuple[Cut, ...], shown: Turned, hand: Hand
) -> Iterator[Ink]:
    """Draw the brick near the corner, the mitre of its corner unit, and its legs."""
    for cut in cuts:
        if not shown.shows(cut.piece):
            continue
        ring = _near(solution.surround, points_of(cut), shown)
        if len(ring) < 3:
            continue
        yield from _cut_off(ring, shown)
        corner = [n for n, (x, y) in enumerate(ring) if abs(x) + abs(y) < 1e-6]
        if cut.piece.kind in CORNER_KINDS and corner:
            if shown.turn != SQUARE:
                # A unit that is bought for a square corner has no mitre.
                inside = ring[(corner[0] + 3) % len(ring)]
                inside = (shown.side * inside[0], inside[1])
                yield Stroke(layers.SECTION, ((0.0, 0.0), inside))
            yield from _legs(solution, cut.piece, shown, hand)


def _near(
    surround: Surround, points: tuple[Point, ...], shown: Turned
) -> tuple[Point, ...]:
    """Return an outline from the corner on, clipped where the faces are broken off.

    The second face goes on to the right.
    """
    placed = place_face(surround, shown.faces[0].name)
    (x, y), (a, b), (c, d) = (
        (float(p), float(q))
        for p, q in (placed.point(shown.fold), placed.along, placed.back)
    )
    ring = [
        (
            shown.side * ((p - x) * a + (q - y) * b),
            (p - x) * c + (q - y) * d,
        )
        for p, q in points
    ]
    kept = [*clipped([(-u, v) for u, v in ring], 0, shown.reach[0])]
    ring = [(-u, v) for u, v in kept]
    across, back = shown.along(1.0)
    turned = [(u * across + v * back, v * across - u * back) for u, v in ring]
    kept = [*clipped(turned, 0, shown.reach[1])]
    return tuple((w * across - z * back, w * back + z * across) for w, z in kept)


def _cut_off(ring: tuple[Point, ...], shown: Turned) -> Iterator[Ink]:
    """Draw cut material, leaving out its outline where a face is broken off."""
    across, back = shown.along(1.0)
    drawn = tuple((shown.side * x, y) for x, y in ring)
    yield Fill(layers.SECTION, drawn)
    ends = [
        (
            shown.goes_on[0] and abs(x + shown.reach[0]) < NEAR,
            shown.goes_on[1] and abs(x * across + y * back - shown.reach[1]) < NEAR,
        )
        for x, y in ring
    ]
    for n, (a, b) in enumerate(zip(ends, (*ends[1:], ends[0]), strict=True), start=1):
        if any(one and other for one, other in zip(a, b, strict=True)):
            yield Stroke(layers.SECTION, (*drawn[n:], *drawn[:n]))
            return
    yield Stroke(layers.SECTION, drawn, closed=True)


def _legs(solution: Solution, piece: Piece, shown: Turned, hand: Hand) -> Iterator[Ink]:
    """Letter the course, the mark and both legs of a corner unit below."""
    first, second = shown.faces
    along, back = (
        next(x.right - x.left for x in piece.outlines if x.face == face.name)
        for face in (first, second)
    )
    ends = (-along, Fraction(0)) if shown.side > 0 else (Fraction(0), along)
    yield from hand.string("x", ends, -3.0 * hand.text)
    names = [FACES[face.name].upper() for face in (first, second)]
    leg = f"LEG {'IN' if names[1] == 'JAMB' else 'ON'} THE {names[1]}"
    lines = [f"COURSE {piece.course}: {piece.mark}"]
    if along >= back:
        lines.append(f"LONG LEG ON THE {names[0]}")
    else:
        leg = f"LONG {leg}"
    lines.append(f"{leg} {format_length(back, hand.lengths)}")
    if names[1] == "JAMB" and solution.surround.splay:
        lines.append(f"SPLAY {splay_words(solution.surround)} OFF SQUARE")
    if any("chamfer" in face.name for face in solution.surround.faces):
        # Of each, so that all stand as high above their titles.
        lines.append(f"THE {names[0]} IS DRAWN LEVEL")
    edge = -shown.reach[0]
    if shown.side < 0:
        edge = min(0.0, -shown.along(shown.reach[1])[0])
    for row, words in enumerate(lines):
        at = (edge, -(6.0 + 1.8 * row) * hand.text)
        yield hand.caption(at, words, "left")


def _wall(solution: Solution, shown: Turned, hand: Hand) -> Iterator[Ink]:
    """Draw the wall behind the brick, broken off at its back and where it goes on."""
    surround, side = solution.surround, shown.side
    deep = float(surround.build_out)
    start = -shown.reach[0]
    if not shown.goes_on[0] and surround.reveals and surround.folds:
        # The leg ends at the outside corner: the wall begins behind its brick.
        other = next(x for x in surround.folds if x != shown.fold)
        start += deep * tan(radians(surround.turn_at(other)) / 2)
    foot = (-deep * tan(radians(shown.turn) / 2), deep)
    end = shown.along(shown.reach[1], deep)
    ring = [(start, end[1]), (start, deep), foot, end]
    drawn = [(side * x, y) for x, y in ring]
    yield Stroke(layers.OTHERS, tuple(drawn[1:]))
    yield hatch(tuple(drawn), wall_pattern(solution.job), hand)
    yield break_line(drawn[0], drawn[3], 0.8 * hand.text)
    if shown.goes_on[0]:
        yield break_line((drawn[0][0], 0.0), drawn[0], 0.8 * hand.text)
    elif not surround.reveals:
        yield Stroke(layers.OTHERS, (drawn[0], drawn[1]))
    if shown.goes_on[1]:
        face = shown.along(shown.reach[1])
        yield break_line((side * face[0], face[1]), drawn[3], 0.4 * hand.text)


def _figures(solution: Solution, shown: Turned, hand: Hand) -> Iterator[Ink]:
    """Letter the angle; of a jamb dimension how far it goes sideways and back."""
    text, turn, side = hand.text, radians(shown.turn), shown.side
    small, turned = STYLES[hand.lengths].text, f"{shown.turn:g} DEG"
    radius = 0.45 * shown.along(shown.reach[1])[1]
    at = (radius * cos(turn / 2) + 0.9 * text, radius * sin(turn / 2))
    line = at[0] + hand.width(turned) + 2.5 * text
    if shown.faces[1] in solution.surround.reveals:
        (x, y), _ = ends_of_jambs(solution)
        x -= float(shown.fold - solution.surround.front.left)
        if solution.surround.splay:
            yield from hand.string("x", (Fraction(0), Fraction(x)), y + 5.0 * text, 1)
        line = max(line, x + 2.5 * text, radius + 2.5 * text)
        yield from hand.string("y", (Fraction(0), Fraction(y)), line, 1)
    arc = [(radius * cos(turn * n / 8), radius * sin(turn * n / 8)) for n in range(9)]
    ends = ((0.0, 0.0), (side * (line - 1.4 * text), 0.0))
    yield Stroke(layers.LEVELS, ends)
    yield Stroke(layers.DIMENSIONS, tuple((side * x, y) for x, y in arc))
    align: Align = "left" if side > 0 else "right"
    spot = (side * at[0], at[1])
    yield Words(layers.NOTES, spot, turned, small, align, "middle")
