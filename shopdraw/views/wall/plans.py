"""Draw plans: a course seen from above.

In:  `Solution`, the course, the scale.   Out: `Drawing`.
Frame: full size; x along the front from its finished left end, y back from the finished
front: the left return goes back from x = 0, the right one from the front's other end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from shopdraw.drawing import layers
from shopdraw.drawing.dimensions import levels_used
from shopdraw.drawing.ink import Align, Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.job.model_face import SIDES, Side
from shopdraw.job.turning import SQUARE, cos_sin
from shopdraw.lengths import format_length, rounded
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.laying.cuts import cut_level
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.wall.folding import far_end
from shopdraw.masonry.wall.form import Surround
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import (
    UNKNOWN,
    Hand,
    break_line,
    cut_through,
    dot,
    hatch,
    points_of,
    ring_of,
    wall_pattern,
)
from shopdraw.views.parts.ground import Flank, Ground, ground_of, name_substrate
from shopdraw.views.parts.phrases import INSIDE_CORNER, corner_words, splay_words
from shopdraw.views.parts.strings import stacked_strings


def cuts_of(solution: Solution, course: Course) -> tuple[Cut, ...]:
    """Return what the plan through a course cuts."""
    thickness = solution.job.brick.thickness
    return cut_level(solution.surround, solution.layout, course, thickness)


def draw_plan(solution: Solution, number: int, scale: float) -> Drawing:
    """Draw the plan through one course: brick, setting bed, wall and corners."""
    job, coursing = solution.job, solution.coursing
    course = coursing.courses[number - 1]
    hand, ground = Hand(job.lengths, scale), ground_of(solution, course.projection)
    cuts = cuts_of(solution, course)
    is_open = (course.bottom + course.top) / 2 < coursing.head
    ink: list[Ink] = [
        *draw_substrates(job, ground, is_open, hand),
        *(ink for cut in cuts for ink in cut_through(points_of(cut))),
        *_labels(ground, is_open, hand),
        *stacked_strings(
            job,
            _rows(solution.surround, cuts, course),
            scale,
            -2.0 * float(course.projection) - _lower(ground, hand),
        ),
        *_thicknesses(solution, ground, hand),
        *_backing(ground, hand),
        *_depths(solution.surround, ground, hand),
        *_alcoves(solution.surround, ground, hand),
        *(_splay(solution, hand) if is_open else ()),
    ]
    title = f"PLAN THROUGH COURSE {number}"
    return Drawing(f"plan-{number}", title, scale, tuple(ink))


CORNER, LOWER = 1.3, 1.15
"""How far below the face the left corner is lettered, and how much lower strings hang
for it, in heights of lettering: their names stand at that end too."""


def _lower(ground: Ground, hand: Hand) -> float:
    """Return how much lower the strings hang than without lettered corners."""
    has_corner = bool(ground.left.face or ground.right.face)
    return LOWER * hand.text if has_corner else 0.0


def draw_substrates(
    job: Job, ground: Ground, is_open: bool, hand: Hand
) -> Iterator[Ink]:
    """Draw and hatch the substrate behind the bed, broken off at its back."""
    reach = ground.build_out
    starts = ground.left.behind[0][0] if ground.left.behind else 0.0
    ends = ground.right.behind[0][0] if ground.right.behind else ground.width
    flanks, backs = (ground.left, ground.right), backs_of(ground, hand)
    spans = [(starts, ground.jambs[0], backs[0]), (ground.jambs[1], ends, backs[1])]
    if not is_open:
        spans = [(starts, ends, max(backs))]
    for place, (a, b, back) in enumerate(spans):
        if b - a < 1e-9:
            continue
        sides = (_jamb(b, 1, back, ground), _jamb(a, -1, back, ground))
        left = ground.left.walls((a, reach), back)[::-1]
        right = ground.right.walls((b, reach), back)
        if is_open and place == 0:
            right = sides[0]
        elif is_open:
            left = tuple(reversed(sides[1]))
        ring = (*left, *right)
        first = flanks[0].broken if not is_open or place == 0 else 0
        last = flanks[1].broken if not is_open or place == 1 else 0
        yield Stroke(layers.OTHERS, ring[first : len(ring) - last])
        for n in (*range(first), *range(len(ring) - 1 - last, len(ring) - 1)):
            yield break_line(ring[n], ring[n + 1], 0.4 * hand.text)
        far = min(0.8 * hand.text, (b - a) / 4)
        yield break_line(ring[0], ring[-1], far)
        yield hatch(ring, wall_pattern(job), hand)


def backs_of(ground: Ground, hand: Hand) -> tuple[float, float]:
    """Return how far back the substrate is drawn at the left and at the right."""
    reach = ground.build_out
    usual = max(4 * reach, 8 * hand.text, ground.slant[1] + 4 * hand.text)
    left, right = (
        x.reach + 2 * reach if x.alcove else x.depth or usual
        for x in (ground.left, ground.right)
    )
    return left, right


def _jamb(x: float, way: int, back: float, ground: Ground) -> tuple[Point, ...]:
    """Return the substrate beside the opening, from the front back: it may slant.

    The slant goes on as far as the brick does, and straight back from there.
    """
    reach, (across, deep) = ground.build_out, ground.slant
    far = min(deep, back - reach) if deep else 0.0
    aside = way * across * (far / deep if deep else 0.0)
    ends = ((x, reach), (x + aside, reach + far), (x + aside, back))
    return tuple(dict.fromkeys(ends))


def _labels(ground: Ground, is_open: bool, hand: Hand) -> Iterator[Ink]:
    """Letter outside corners, walls, opening and substrate."""
    for flank, turns, out in (
        (ground.left, ground.turns[0], -1), (ground.right, ground.turns[1], 1)
    ):  # fmt: skip
        yield from _flank_labels(flank, turns, out, float(ground.out), hand)
    left, right = ground.opening
    middle = (left + right) / 2
    back = max(ground.left.depth, ground.right.depth, 6 * hand.text)
    if not is_open or hand.width("OPENING") + 3 * hand.text > right - left:
        return
    yield Stroke(layers.LEVELS, ((middle, -hand.text), (middle, ground.build_out)))
    above = 3.0 * hand.text + ground.build_out
    if ground.slant[1]:
        # The jambs are dimensioned further back.
        back = min(back, ground.slant[1] + hand.text)
    if back > above:
        yield Stroke(layers.LEVELS, ((middle, above), (middle, back)))
    at = (middle, ground.build_out + 1.5 * hand.text)
    yield hand.caption(at, "OPENING")
    yield from name_substrate(ground, backs_of(ground, hand)[1], hand)


def _flank_labels(
    flank: Flank, turns: tuple[float, ...], out: int, proud: float, hand: Hand
) -> Iterator[Ink]:
    """Letter the corners, over lines unless brick leans out there, and the wall."""
    gap, small = 0.6 * hand.text, STYLES[hand.lengths].text
    align: Align = "right" if out < 0 else "left"
    # At the left a string's name is near below, at the right the build-out above.
    drop = (CORNER if out < 0 else 1.7) * hand.text + 2.0 * proud
    sides = zip(pairwise(flank.face), turns, strict=False)
    for place, (((x, y), (then, _)), turn) in enumerate(sides):
        up = 1.1 * hand.text if abs(then - x) < 0.1 * hand.text else 0.0
        at = (x + out * (proud + gap), y + up if place else -drop)
        yield Words(layers.NOTES, at, corner_words(turn), small, align, "middle")
    if flank.alcove:
        x, depth = flank.face[-1]
        if abs(flank.alcove[0] - x) < hand.width(INSIDE_CORNER) + 2 * gap:
            return  # Before a wall so near there is no room; the elevation says it.
        at = (x + out * gap, depth - 1.3 * hand.text)
        yield Words(layers.NOTES, at, INSIDE_CORNER, small, align, "middle")
    elif flank.face:
        x, depth = flank.face[-1]
        near, far = (x + out * (proud + gap + more) for more in (0.0, 3.0 * hand.text))
        yield Stroke(layers.OTHERS, ((near, depth), (far, depth)))
        yield hand.caption((near, depth + 1.5 * hand.text), "WALL", align)


def _rows(
    surround: Surround, cuts: tuple[Cut, ...], course: Course
) -> list[tuple[str, tuple[Fraction, ...]]]:
    """Return the strings: pieces and joints; overall; corners that are not square.

    Overall is left out where the corners' string gives it. Of what stands only the
    runs are given. Soldiers are set out by their rod: side by side their figures would
    not be read.
    """
    front, opening = surround.front, surround.opening
    outer = tuple(x - front.left for x in surround.ends(front, course.projection))
    ends = {
        x - front.left
        for cut in cuts
        for outline in cut.outlines
        if outline.face == "front"
        for x in (outline.left, outline.right)
    }
    name = f"COURSE {course.number}, FINISH"
    if course.band and not course.is_running:
        name = f"COURSE {course.number}: SEE ITS ROD"
        jambs = {x - front.left for x in (opening.brick_left, opening.brick_right)}
        ends &= jambs
    corners = [*_corner_rows(surround)]
    is_given = any(outer in [*pairwise(places)] for _, places in corners)
    overall = [] if is_given else [("OVERALL, FINISH", outer)]
    return [(name, tuple(sorted({*outer, *ends}))), *overall, *corners]


def _corner_rows(
    surround: Surround,
) -> Iterator[tuple[str, tuple[Fraction, ...]]]:
    """Yield a string of where corners and walls are, if not all are square."""
    if {surround.turn_at(fold) for fold in surround.folds} <= {SQUARE}:
        return
    wide, places = surround.front.width, {Fraction(0), surround.front.width}
    for side in SIDES:
        for face in surround.flank(side):
            # As a tape shows it from the front, so that like sides read alike.
            x = far_end(surround, face)[0]
            out = rounded(-x if side == "left" else x - wide, surround.lengths)
            places.add(-out if side == "left" else wide + out)
    yield "CORNERS AND WALL, FINISH", tuple(sorted(places))


def _backing(ground: Ground, hand: Hand) -> Iterator[Ink]:
    """Draw what brings the wall out behind a course that projects; by others."""
    out, reach = float(ground.out), ground.build_out
    if not out:
        return
    near = reach - out
    left = near if ground.left.face else 0.0
    right = ground.width - (near if ground.right.face else 0.0)
    boxes = [(left, near, right, reach)]
    if ground.left.face:
        boxes.append((near, reach, reach, ground.left.depth))
    if ground.right.face:
        ends = ground.width - reach, ground.width - near
        boxes.append((ends[0], reach, ends[1], ground.right.depth))
    for box in boxes:
        yield Stroke(layers.OTHERS, ring_of(box), closed=True)
        yield hatch(ring_of(box), UNKNOWN, hand)
    usual = max(4 * reach, 8 * hand.text)
    backs = (ground.left.depth or usual, ground.right.depth or usual)
    back, middle = max(backs), ground.width / 3
    top = back + 2.4 * hand.text  # Clear of what the walls are called.
    spot = (middle, reach - out / 2)
    yield Stroke(layers.DIMENSIONS, (spot, (middle, top)))
    yield dot(spot, 0.25 * hand.text)
    name = "BACKING BY OTHERS, NON-COMBUSTIBLE"
    yield hand.caption((middle, top + hand.text), name)


def _past_right(ground: Ground, hand: Hand) -> float:
    """Return where the figures at the right begin: past brick and lettered corners."""
    end = max([ground.width, *(x for x, _ in ground.right.face)])
    if _is_cramped(ground.right, ground, hand, _thick_wide(hand)):
        end = max(x for x, _ in ground.right.behind)
    for (x, _), turn in zip(ground.right.face, ground.turns[1], strict=False):
        if set(ground.turns[1]) - {SQUARE}:
            end = max(end, x + hand.width(corner_words(turn)))
    return end


def _is_cramped(flank: Flank, ground: Ground, hand: Hand, wide: float) -> bool:
    """Whether figures so wide have no room in the alcove, before its brick."""
    if flank.alcove is None:
        return False
    is_narrow = abs(flank.alcove[0] - flank.face[-1][0]) < wide
    return is_narrow or flank.depth < ground.build_out + 7.0 * hand.text


def _thick_wide(hand: Hand) -> float:
    """Return how wide the figures of brick and bed are, with their names."""
    return hand.width(max(THICKNESSES, key=len)) + 18.0 * hand.text


BEYOND_MARKS = 10.5
"""How far from brick the left depth is dimensioned, in heights of lettering: the mark
of the corner stands between, so that its leader does not cross the string."""
THICKNESSES = ("BRICK", "BED, MEAN")


def _thicknesses(solution: Solution, ground: Ground, hand: Hand) -> Iterator[Ink]:
    """Dimension the build-out at the right, then the brick and its bed beside it."""
    near, total = -ground.out, solution.surround.build_out
    end = _past_right(ground, hand)
    is_cramped = _is_cramped(ground.right, ground, hand, _thick_wide(hand))
    if set(ground.turns[1]) - {SQUARE} or is_cramped:
        # The figures stand away from the corner, on a line from the finished face.
        start, stop = ground.width + hand.text, end + 5.0 * hand.text
        yield Stroke(layers.LEVELS, ((start, float(near)), (stop, float(near))))
    bed = total - ground.out
    across: tuple[Fraction, ...] = (near, near + solution.job.brick.thickness, bed)
    names: tuple[str, ...] = THICKNESSES
    if ground.out:
        across, names = (*across, total), (*THICKNESSES, "BACKING")
    # Where how deep the right return is stands beside it, they stand beyond.
    x = end + 5.0 * hand.text
    if _is_deep_near(solution.surround, ground):
        deep = hand.string("y", _levels(solution.surround, "right", ground.out), x, 1)
        x += (levels_used(deep, x, hand.scale) * hand.scale) + 2.0 * hand.text
    # What is lettered at the corner stands just below the face.
    lowest = float(near) + 0.3 * hand.text
    yield from hand.fan("y", across, x + 2.5 * hand.text, names, lowest=lowest)
    # The whole stands over its parts.
    y = max(ground.build_out + 2.5 * hand.text, lowest + 1.9 * len(names) * hand.text)
    (whole,) = hand.string("y", (near, total), x, outward=1)
    small = STYLES[solution.job.lengths].text
    wide = hand.width(whole.words)
    letter = (x + wide / 2, y)
    yield replace(whole, letter=letter, upright=True)
    after = (x + wide + 0.8 * hand.text, y)
    name = "BUILD-OUT, CORBEL" if ground.out else "BUILD-OUT"
    yield Words(layers.NOTES, after, name, small, "left", "middle")


def _depths(surround: Surround, ground: Ground, hand: Hand) -> Iterator[Ink]:
    """Dimension how deep the returns are; the right one only where it differs."""
    left, right = (_levels(surround, side, ground.out) for side in SIDES)
    if len(left) > 1:
        at = min([0.0, *(x for x, _ in ground.left.face)])
        label = hand.width(INSIDE_CORNER)
        if _is_cramped(ground.left, ground, hand, label + 9.0 * hand.text):
            at = min(x for x, _ in ground.left.behind)
            yield Stroke(
                layers.LEVELS, ((-hand.text, 0.0), (at - 5.0 * hand.text, 0.0))
            )
        elif ground.left.alcove:
            at -= label
        # What is lettered at the first corner stands below the brick.
        corners = zip(ground.left.face[1:], ground.turns[0][1:], strict=False)
        for (x, _), turn in corners:
            at = min(at, x - hand.width(corner_words(turn)))
        at -= (5.0 if ground.left.alcove else BEYOND_MARKS) * hand.text
        yield from hand.string("y", left, at)
    if len(right) > 1 and right != left:
        is_near = _is_deep_near(surround, ground)
        out = 5.0 * hand.text if is_near else _thick_wide(hand)
        yield from hand.string("y", right, _past_right(ground, hand) + out, 1)


def _is_deep_near(surround: Surround, ground: Ground) -> bool:
    """Whether the right depth is dimensioned right beside its one square return."""
    left, right = (_levels(surround, side, ground.out) for side in SIDES)
    is_plain = ground.right.alcove is None and set(ground.turns[1]) <= {SQUARE}
    return is_plain and len(right) == 2 and right != left


def _alcoves(surround: Surround, ground: Ground, hand: Hand) -> Iterator[Ink]:
    """Dimension how wide the finished alcoves are, behind their walls."""
    for face in surround.alcoves:
        ends = (far_end(surround, x)[0] for x in (face, surround.before(face)))
        back = max(ground.left.reach, ground.right.reach) + 2 * ground.build_out
        yield from hand.string("x", tuple(sorted(ends)), back + 3.0 * hand.text, 1)


def _levels(surround: Surround, side: Side, out: Fraction) -> tuple[Fraction, ...]:
    """Return how far back the corners of an end of the front lie, the wall last.

    The first is where the course stands that is shown, so far before the front.
    """
    ends = (far_end(surround, face) for face in surround.flank(side))
    return (-out, *(deep for _, deep in ends))


def _splay(solution: Solution, hand: Hand) -> Iterator[Ink]:
    """Dimension splayed jambs: how far back they reach, and what is clear there."""
    surround = solution.surround
    if not surround.splay:
        return
    across, deep = cos_sin(surround.reveals[0].turn)
    along, start = surround.reveals[0].width, surround.front.left
    left, right = (x - start for x in surround.jamb_folds)
    ends, back = (left + along * across, right - along * across), along * deep
    y = float(back) + 3.0 * hand.text
    yield from hand.string("x", ends, y, 1)
    middle, small = float(left + right) / 2, STYLES[hand.lengths].text
    at, splay = (middle, y + 2.6 * hand.text), splay_words(surround)
    for words in (f"CLEAR AT THE BACK; JAMBS SPLAY {splay}", f"SPLAY {splay}"):
        if hand.width(words) < float(ends[1] - ends[0]) - 2 * hand.text:
            yield Words(layers.NOTES, at, words, small, "centre", "foot")
            break
    x = float(ends[1]) - 4.5 * hand.text
    room = 2.0 * hand.text + hand.width(format_length(back, hand.lengths))
    if x - room > middle + hand.width("OPENING") / 2:
        # In a narrow opening the jamb's own drawing gives it.
        yield from hand.string("y", (Fraction(0), back), x)
