"""Draw plans: a course seen from above, and a corner at large scale.

In:  `Job`, `Surround`, `Coursing`, `Layout`, the course, the scale.   Out: `Drawing`.
Frame: full size; x along the front from its finished left end, y back from the finished
front: the left return goes back from x = 0, the right one from the front's other end.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import inf

from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Align, Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.moving import moved
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import CORNER_KINDS, Layout, Outline, Piece, rectangle
from shopdraw.views.parts.figures import (
    LEVELS,
    NOTE,
    OTHERS,
    Box,
    Hand,
    break_line,
    cut_off,
    cut_through,
    hatch,
    ring_of,
)
from shopdraw.views.parts.strings import stacked_strings


@dataclass(frozen=True)
class Ground:
    """What a plan is folded with, at full size.

    Attributes:
        width: of the finished front.
        thickness, bed: of the brick, and of the setting bed as drawn.
        left, right: how far the returns go back; None where there is none.
        opening: its two edges as measured.
    """

    width: float
    thickness: float
    bed: float
    left: float | None
    right: float | None
    opening: tuple[float, float]

    @property
    def build_out(self) -> float:
        """Brick and bed."""
        return self.thickness + self.bed


def ground_of(job: Job, surround: Surround) -> Ground:
    """Fold a job's faces into plan."""
    start = surround.front.left
    depths = {str(face.name): float(face.width) for face in surround.faces}
    opening = surround.opening
    return Ground(
        width=float(surround.front.width),
        thickness=float(job.brick.thickness),
        bed=float(job.setting_bed.mean),
        left=depths.get("left"),
        right=depths.get("right"),
        opening=(float(opening.left - start), float(opening.right - start)),
    )


def draw_plan(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    layout: Layout,
    course: int,
    scale: float,
) -> Drawing:
    """Draw the plan through the middle of one course: brick, bed, wall and corners."""
    hand, ground = Hand(job.lengths, scale), ground_of(job, surround)
    level = next((c.bottom + c.top) / 2 for c in coursing.courses if c.number == course)
    pieces = _cut_at(layout, level)
    is_open = level < coursing.head
    ink: list[Ink] = [
        *_substrates(ground, is_open, hand),
        *(ink for piece in pieces for ink in _piece(piece, surround, ground)),
        *_labels(ground, is_open, hand),
        *stacked_strings(job, _rows(surround, pieces, course), scale),
        *_thicknesses(job, surround, ground, hand),
        *_depths(surround, ground, hand),
    ]
    title = f"PLAN THROUGH COURSE {course}"
    return Drawing(f"plan-{course}", title, scale, tuple(ink))


def _cut_at(layout: Layout, level: Fraction) -> list[Piece]:
    """Return the pieces that a level cut goes through, as wide as they are there."""
    return [
        replace(
            piece,
            outlines=tuple(_sliced(x, level) for x in piece.outlines),
        )
        for piece in layout.pieces
        if all(x.bottom < level < x.top for x in piece.outlines)
    ]


def _sliced(outline: Outline, level: Fraction) -> Outline:
    left, right = outline.at_level(level)
    return rectangle(outline.face, left, outline.bottom, right, outline.top)


def _piece(piece: Piece, surround: Surround, ground: Ground) -> Iterable[Ink]:
    return cut_through(plan_ring(piece, surround, ground))


def plan_ring(piece: Piece, surround: Surround, ground: Ground) -> tuple[Point, ...]:
    """Outline a piece in plan: a rectangle, an L round a fold, or a mitred end."""
    boxes = [_folded(outline, surround, ground) for outline in piece.outlines]
    if piece.kind in CORNER_KINDS and len(boxes) == 2:
        return _ell(boxes, ground)
    if "mitre" in piece.cut_edges:
        return _mitred(boxes[0], ground)
    return ring_of(boxes[0])


def _folded(outline: Outline, surround: Surround, ground: Ground) -> Box:
    """Return an outline's rectangle in plan: (left, front, right, back)."""
    front, thick = surround.front, ground.thickness
    if outline.face == "left":
        near, far = front.left - outline.right, front.left - outline.left
        return (0.0, float(near), thick, float(far))
    if outline.face == "right":
        near, far = outline.left - front.right, outline.right - front.right
        return (ground.width - thick, float(near), ground.width, float(far))
    left, right = outline.left - front.left, outline.right - front.left
    if outline.face == "left reveal":
        fold = float(surround.opening.brick_left - front.left)
        return (fold - thick, float(left) - fold, fold, float(right) - fold)
    if outline.face == "right reveal":
        fold = float(surround.opening.brick_right - front.left)
        return (fold, fold - float(right), fold + thick, fold - float(left))
    return (float(left), 0.0, float(right), thick)


def _ell(boxes: list[Box], ground: Ground) -> tuple[Point, ...]:
    """Join a corner unit's two rectangles into an L."""
    thick = ground.thickness
    front = next(box for box in boxes if box[1] == 0.0 and box[3] == thick)
    side = next(box for box in boxes if box is not front)
    left, right, back = front[0], front[2], side[3]
    if side[0] == left:
        return (
            (left, 0.0), (right, 0.0), (right, thick),
            (left + thick, thick), (left + thick, back), (left, back),
        )  # fmt: skip
    return (
        (left, 0.0), (right, 0.0), (right, back),
        (right - thick, back), (right - thick, thick), (left, thick),
    )  # fmt: skip


def _mitred(box: Box, ground: Ground) -> tuple[Point, ...]:
    """Saw a rectangle's end at the fold at 45 degrees: move its inner corner back."""
    thick, width = ground.thickness, ground.width
    at_left = box[0] == 0.0
    inner = (thick if at_left else width - thick, thick)
    on_front = box[3] == thick and box[1] == 0.0
    sheared = (thick if at_left else width - thick, 0.0)
    if on_front:
        sheared = (0.0 if at_left else width, thick)
    return tuple(inner if corner == sheared else corner for corner in ring_of(box))


def _substrates(ground: Ground, is_open: bool, hand: Hand) -> Iterator[Ink]:
    """Draw what is behind the bed, broken off at the back, and hatch it."""
    reach = ground.build_out
    starts = reach if ground.left is not None else 0.0
    ends = ground.width - (reach if ground.right is not None else 0.0)
    usual = max(4 * reach, 8 * hand.text)
    backs = (ground.left or usual, ground.right or usual)
    spans = [(starts, ground.opening[0], backs[0]), (ground.opening[1], ends, backs[1])]
    if not is_open:
        spans = [(starts, ends, max(backs))]
    for a, b, back in spans:
        if b - a < 1e-9:
            continue
        box = (a, reach, b, back)
        yield Stroke(OTHERS, ((a, back), (a, reach), (b, reach), (b, back)))
        yield break_line((a, back), (b, back), min(0.8 * hand.text, (b - a) / 4))
        yield from hatch(ring_of(box), 1.6 * hand.text)


def _labels(ground: Ground, is_open: bool, hand: Hand) -> Iterator[Ink]:
    """Name folds, walls, opening and substrate."""
    gap = 0.6 * hand.text
    sides = ((ground.left, 0.0, -1), (ground.right, ground.width, 1))
    for depth, x, out in sides:
        if depth is None:
            continue
        align: Align = "right" if out < 0 else "left"
        near, far = x + out * gap, x + out * (gap + 3.0 * hand.text)
        yield hand.caption((near, -1.1 * hand.text), "FOLD", align)
        yield Stroke(OTHERS, ((near, depth), (far, depth)))
        yield hand.caption((near, depth + 1.5 * hand.text), "WALL", align)
    left, right = ground.opening
    middle = (left + right) / 2
    back = max(ground.left or 0.0, ground.right or 0.0, 6 * hand.text)
    if not is_open or hand.width("OPENING") + 3 * hand.text > right - left:
        return
    yield Stroke(LEVELS, ((middle, -hand.text), (middle, ground.build_out)))
    above = 3.0 * hand.text + ground.build_out
    if back > above:
        yield Stroke(LEVELS, ((middle, above), (middle, back)))
    at = (middle, ground.build_out + 1.5 * hand.text)
    yield hand.caption(at, "OPENING")
    name = "SUBSTRATE BY OTHERS"
    y = ground.build_out + 4.5 * hand.text
    # Brick may turn into the jamb.
    start = left + max(3.0 * hand.text, ground.build_out + hand.text)
    if y < (ground.left or 8 * hand.text) and (
        start + hand.width(name) + 2 * hand.text < middle
    ):
        yield from hand.leaders((((left - hand.text, y), name),), start)


def _rows(
    surround: Surround, pieces: list[Piece], course: int
) -> list[tuple[str, tuple[Fraction, ...]]]:
    front = surround.front
    ends = {
        x - front.left
        for piece in pieces
        for outline in piece.outlines
        if outline.face == "front"
        for x in (outline.left, outline.right)
    }
    nearest = tuple(sorted({Fraction(0), *ends, front.width}))
    return [
        (f"COURSE {course}, FINISH", nearest),
        ("OVERALL, FINISH", (Fraction(0), front.width)),
    ]


THICKNESSES = ("BRICK", "BED, MEAN")


def _thicknesses(
    job: Job, surround: Surround, ground: Ground, hand: Hand
) -> Iterator[Ink]:
    """Dimension the build-out at the right, then brick and bed beyond it."""
    zero, total = Fraction(0), surround.build_out
    x = ground.width + 5.0 * hand.text
    y = ground.build_out + 2.5 * hand.text
    (whole,) = hand.string("y", (zero, total), x, outward=1)
    small = STYLES[job.lengths].small
    wide = hand.width(whole.words)
    letter = (x + wide / 2, y)
    yield replace(whole, letter=letter, upright=True)
    after = (x + wide + 0.8 * hand.text, y)
    yield Words(NOTE, after, "BUILD-OUT", small, "left", "middle")
    across = (zero, job.brick.thickness, total)
    yield from hand.fan("y", across, x + 2.5 * hand.text, THICKNESSES)


def _depths(surround: Surround, ground: Ground, hand: Hand) -> Iterator[Ink]:
    """Dimension how far the returns go back; the right one only where it differs."""
    depths = {str(face.name): face.width for face in surround.faces}
    left, right = depths.get("left"), depths.get("right")
    if left is not None:
        yield from hand.string("y", (Fraction(0), left), -5.0 * hand.text)
    if right is not None and right != left:
        out = hand.width(max(THICKNESSES, key=len), small=True) + 18.0 * hand.text
        yield from hand.string("y", (Fraction(0), right), ground.width + out, 1)


LONGEST = "LONG LEG ON THE RETURN"
"""The longest line under a corner."""


def draw_corner_interlock(
    job: Job, surround: Surround, layout: Layout, scale: float
) -> Drawing:
    """Draw one outside corner through courses 1 and 2, side by side, as they turn.

    The corner is the left one where the job has it, with its own hand.

    Raises:
        ValueError: the job has no fold.
    """
    if not surround.folds:
        message = "a surround without a fold has no corner to draw"
        raise ValueError(message)
    hand, ground = Hand(job.lengths, scale), ground_of(job, surround)
    corners = [piece for piece in layout.pieces if piece.kind in CORNER_KINDS]
    longest = max((leg for piece in corners for leg in piece.legs), default=Fraction(0))
    reach = max(1.25 * float(longest), 4 * ground.build_out)
    ink: list[Ink] = []
    courses = sorted({piece.course for piece in layout.pieces})[:2]
    for place, course in enumerate(courses):
        apart = max(reach + 7.0 * hand.text, hand.width(LONGEST) + 2.0 * hand.text)
        across = place * apart
        part = _corner(_course_of(layout, course), surround, ground, reach, hand)
        ink += [moved(x, across, 0.0) for x in part]
    title = f"CORNER INTERLOCK, COURSES {' AND '.join(str(x) for x in courses)}"
    return Drawing("interlock", title, scale, tuple(ink))


def _course_of(layout: Layout, course: int) -> list[Piece]:
    kinds = ("stretcher", "corner unit")
    return [x for x in layout.pieces if x.course == course and x.kind in kinds]


def _corner(
    pieces: list[Piece], surround: Surround, ground: Ground, reach: float, hand: Hand
) -> Iterator[Ink]:
    """Draw what of a course is near one fold, the fold at x = 0."""
    at_left = ground.left is not None
    depth = (ground.left if at_left else ground.right) or 0.0
    leg = ground.opening[0] if at_left else ground.width - ground.opening[1]
    far = min(reach, leg), min(reach, depth)
    # Where leg or return ends within reach, its brick ends too and is not broken off.
    broken = reach if leg > reach else inf, reach if depth > reach else inf
    fold = 0.0 if at_left else ground.width

    def near(points: tuple[Point, ...]) -> tuple[Point, ...]:
        """Clip to what is shown, from the fold on."""
        side = 1 if at_left else -1
        return tuple(
            (side * min(side * (x - fold), far[0]), min(y, far[1])) for x, y in points
        )

    for piece in pieces:
        ring = near(plan_ring(piece, surround, ground))
        if _has_area(ring):
            yield from cut_off(ring, broken)
            if piece.kind in CORNER_KINDS and _turns(ring):
                yield from _legs(piece, at_left, hand)
    side = 1 if at_left else -1
    a, b, t = side * ground.build_out, side * far[0], ground.build_out
    wall = ((a, far[1]), (a, t), (b, t), (b, far[1]))
    yield Stroke(OTHERS, wall[:3])
    yield from hatch(wall, 1.6 * hand.text)
    start = 0.0 if depth > reach else a
    yield break_line((start, far[1]), (b, far[1]), 0.8 * hand.text)
    if leg > reach:
        yield break_line((b, 0.0), (b, far[1]), 0.8 * hand.text)
    else:
        yield Stroke(OTHERS, ((b, t), (b, far[1])))


def _has_area(ring: tuple[Point, ...]) -> bool:
    left, low, right, high = about(ring)
    return right - left > 1e-9 and high - low > 1e-9


def _turns(ring: tuple[Point, ...]) -> bool:
    """Whether a clipped ring is the corner unit that lies on this fold."""
    return (0.0, 0.0) in ring


def _legs(piece: Piece, at_left: bool, hand: Hand) -> Iterator[Ink]:
    """Dimension both legs of a corner unit, outside, and say which course it is in."""
    front = next(x for x in piece.outlines if x.face == "front")
    side = next(x for x in piece.outlines if x.face != "front")
    along, back = front.right - front.left, side.right - side.left
    zero = Fraction(0)
    out = -1 if at_left else 1
    ends = (zero, along) if at_left else (-along, zero)
    yield from hand.string("x", ends, -3.0 * hand.text)
    yield from hand.string("y", (zero, back), out * 3.0 * hand.text, out)
    long_on = "FRONT" if along >= back else "RETURN"
    lines = (f"COURSE {piece.course}: {piece.mark}", f"LONG LEG ON THE {long_on}")
    for row, words in enumerate(lines):
        at = (0.0, -(6.0 + 1.8 * row) * hand.text)
        yield hand.caption(at, words, "left" if at_left else "right")
