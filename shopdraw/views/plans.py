"""Draw plans: a course seen from above, and a corner at large scale.

In:  `Job`, `Surround`, `Coursing`, `Layout`, the course, the scale.   Out: `Drawing`.
Frame: full size; x along the front from its finished left end, y towards the viewer's
back: the finished front at 0, the wall behind it at greater y.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.drawing.dimensions import Chain, StringStyle, string_of_dimensions
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.masonry.coursing import Coursing
from shopdraw.masonry.layout import Layout, Outline, Piece
from shopdraw.masonry.surround import Surround
from shopdraw.views.details import moved
from shopdraw.views.hatching import hatch_box
from shopdraw.views.strings import stacked_strings

NOTE = "A-ANNO-NOTE"
CUT = "A-SECT-MCUT"
HIDDEN = "A-ELEV-HIDD"


@dataclass(frozen=True)
class PlanFrame:
    """What a plan is folded with: the front's ends, and how thick things are."""

    front_left: float
    front_right: float
    thickness: float
    bed: float

    @property
    def build_out(self) -> float:
        """Brick and bed."""
        return self.thickness + self.bed

    @property
    def width(self) -> float:
        """The finished front."""
        return self.front_right - self.front_left


def plan_frame(job: Job, surround: Surround) -> PlanFrame:
    """Return the frame of a job's plans."""
    return PlanFrame(
        front_left=float(surround.front.left),
        front_right=float(surround.front.right),
        thickness=float(job.brick.thickness),
        bed=float(job.setting_bed.mean),
    )


def draw_plan(
    job: Job,
    surround: Surround,
    coursing: Coursing,
    layout: Layout,
    course: int,
    scale: float,
) -> Drawing:
    """Draw the plan through one course: brick, bed, wall, and how the corners turn."""
    frame = plan_frame(job, surround)
    kind = next(c.kind for c in coursing.courses if c.number == course)
    pieces = [piece for piece in layout.pieces if piece.course == course]
    if kind == "running":
        pieces = [
            piece for piece in pieces if piece.kind in ("stretcher", "corner unit")
        ]
    ink: list[Ink] = [
        *_substrate(surround, frame, scale),
        *(ring for piece in pieces for ring in _piece(piece, frame)),
        *_strings(job, surround, pieces, course, scale),
        *_thicknesses(job, surround, frame, scale),
    ]
    title = f"PLAN THROUGH COURSE {course}"
    return Drawing(f"plan-{course}", title, scale, tuple(ink))


def _piece(piece: Piece, frame: PlanFrame) -> Iterator[Ink]:
    """Outline a piece in plan: a rectangle, or an L round a fold."""
    boxes = [_folded(outline, frame) for outline in piece.outlines]
    if len(boxes) == 1:
        yield Stroke(CUT, _ring(boxes[0]), closed=True)
        return
    yield Stroke(CUT, _ell(piece, frame), closed=True)


Box = tuple[float, float, float, float]


def _folded(outline: Outline, frame: PlanFrame) -> Box:
    """Return an outline's rectangle in plan: (left, front, right, back)."""
    left, right = float(outline.left), float(outline.right)
    if outline.face == "front":
        return (
            left - frame.front_left,
            0.0,
            right - frame.front_left,
            frame.thickness,
        )
    if outline.face == "left":
        # The left return goes back from the front's left end.
        return (0.0, frame.front_left - right, frame.thickness, frame.front_left - left)
    x = frame.width
    return (x - frame.thickness, left - frame.front_right, x, right - frame.front_right)


def _ring(box: Box) -> tuple[Point, ...]:
    left, front, right, back = box
    return ((left, front), (right, front), (right, back), (left, back))


def _ell(piece: Piece, frame: PlanFrame) -> tuple[Point, ...]:
    """Return a corner unit's outline in plan."""
    front = next(x for x in piece.outlines if x.face == "front")
    side = next(x for x in piece.outlines if x.face != "front")
    along = float(front.right - front.left)
    back = float(side.right - side.left)
    t = frame.thickness
    if side.face == "left":
        return ((0, 0), (along, 0), (along, t), (t, t), (t, back), (0, back))
    x = frame.width
    return (
        (x - along, 0), (x, 0), (x, back), (x - t, back), (x - t, t), (x - along, t),
    )  # fmt: skip


def _depth(surround: Surround, name: str) -> float | None:
    for face in surround.faces:
        if face.name == name:
            return float(face.width)
    return None


def _substrate(surround: Surround, frame: PlanFrame, scale: float) -> Iterator[Ink]:
    """Draw the wall behind the bed, broken off at the back, and hatch it."""
    left, right = _depth(surround, "left"), _depth(surround, "right")
    back = max(left or 0.0, right or 0.0, 4 * frame.build_out)
    reach = frame.build_out
    opening = (
        float(surround.opening.left) - frame.front_left,
        float(surround.opening.right) - frame.front_left,
    )
    starts = reach if left is not None else 0.0
    ends = frame.width - (reach if right is not None else 0.0)
    for a, b in ((starts, opening[0]), (opening[1], ends)):
        if b <= a:
            continue
        corners = ((a, back), (a, reach), (b, reach), (b, back))
        yield Stroke("A-ELEV-OTHR-E", corners)
        yield from hatch_box("A-ELEV-MSNR-PATT", (a, reach, b, back))
    middle = (opening[0] + opening[1]) / 2
    yield Stroke("A-ELEV-CNTR", ((middle, -0.4 * scale * 0.1), (middle, back)))


def _strings(
    job: Job, surround: Surround, pieces: list[Piece], course: int, scale: float
) -> Iterator[Ink]:
    front = surround.front
    ends = {
        x - front.left
        for piece in pieces
        for outline in piece.outlines
        if outline.face == "front"
        for x in (outline.left, outline.right)
    }
    rows = [
        (f"COURSE {course}, FINISH", tuple(sorted({Fraction(0), *ends, front.width}))),
        ("OVERALL, FINISH", (Fraction(0), front.width)),
    ]
    yield from stacked_strings(job, rows, scale)


def _thicknesses(
    job: Job, surround: Surround, frame: PlanFrame, scale: float
) -> Iterator[Ink]:
    """Dimension the build-out, and the depth of the returns, at the sides."""
    style = STYLES[job.lengths]
    depths = [face.width for face in surround.faces if face.name != "front"]
    x = frame.width + 4.0 * style.text * scale
    chain = Chain((Fraction(0), surround.build_out), "y", job.lengths)
    set_out = StringStyle("A-ANNO-DIMS", style.text, scale, outward=1, upright=True)
    yield from string_of_dimensions(chain, x, x - 1.4 * style.text * scale, set_out)
    at = (x + 6.0 * style.text * scale, float(surround.build_out) / 2)
    yield Words(NOTE, at, "BRICK AND BED", style.small, "left", "middle")
    if depths:
        out = -4.0 * style.text * scale
        if "left" not in {face.name for face in surround.faces}:
            out = x + 22.0 * style.text * scale
        deep = Chain((Fraction(0), depths[0]), "y", job.lengths)
        inner = StringStyle("A-ANNO-DIMS", style.text, scale, outward=-1)
        yield from string_of_dimensions(deep, out, out, inner)


def draw_corner_interlock(
    job: Job, surround: Surround, layout: Layout, scale: float
) -> Drawing:
    """Draw one outside corner through two neighbouring courses, side by side."""
    frame = plan_frame(job, surround)
    style = STYLES[job.lengths]
    side = "left" if surround.folds[0] == surround.front.left else "right"
    units = [
        piece
        for piece in layout.pieces
        if piece.kind == "corner unit"
        and any(outline.face == side for outline in piece.outlines)
    ][:2]
    ink: list[Ink] = []
    across = 0.0
    for piece in units:
        front = next(x for x in piece.outlines if x.face == "front")
        back = next(x for x in piece.outlines if x.face != "front")
        legs = (front.right - front.left, back.right - back.left)
        ink += _one_corner(job, frame, legs, across, scale, f"COURSE {piece.course}")
        # The wall behind is drawn a little further than the leg.
        across += 1.6 * float(legs[0]) + 9.0 * style.text * scale
    return Drawing("interlock", "OUTSIDE CORNER, TWO COURSES", scale, tuple(ink))


def _one_corner(
    job: Job,
    frame: PlanFrame,
    legs: tuple[Fraction, Fraction],
    x: float,
    scale: float,
    name: str,
) -> Iterator[Ink]:
    """Draw one corner unit as the left corner, with bed and wall behind."""
    style = STYLES[job.lengths]
    along, back, t = float(legs[0]), float(legs[1]), frame.thickness
    ell = ((0, 0), (along, 0), (along, t), (t, t), (t, back), (0, back))
    yield Stroke(CUT, tuple((a + x, b) for a, b in ell), closed=True)
    reach = frame.build_out
    far = (max(along, reach) + 0.6 * along, max(back, reach) + 0.4 * back)
    wall = ((x + reach, far[1]), (x + reach, reach), (x + far[0], reach))
    yield Stroke("A-ELEV-OTHR-E", wall)
    box = (x + reach, reach, x + far[0], far[1])
    yield from hatch_box("A-ELEV-MSNR-PATT", box)
    chain = Chain((Fraction(0), legs[0]), "x", job.lengths)
    at = -3.0 * style.text * scale
    below = StringStyle("A-ANNO-DIMS", style.text, scale, outward=-1)
    for measure in string_of_dimensions(chain, at, -0.5 * style.text * scale, below):
        yield moved(measure, x, 0.0)
    upright = Chain((Fraction(0), legs[1]), "y", job.lengths)
    left = x - 3.0 * style.text * scale
    start = x - 0.5 * style.text * scale
    yield from string_of_dimensions(upright, left, start, below)
    yield Words(NOTE, (x, at - 3.5 * style.text * scale), name, style.text)
