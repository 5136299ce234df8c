"""Draw a hearth of brick from above: every piece, the face over it, the firebox's line.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; x from the hearth's finished left end, y from its finished front edge
back, as the plans of the courses have it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.dimensions import levels_used
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, box_of
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.hearth.cuts import riser_from_above
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.solution import Solution
from shopdraw.views.brick.leaders import with_leaders
from shopdraw.views.brick.units import unit_ink
from shopdraw.views.parts.figures import (
    Hand,
    break_line,
    hatch,
    points_of,
    wall_pattern,
)
from shopdraw.views.parts.strings import stacked_strings

ZERO = Fraction(0)


def draw_hearth_plan(solution: Solution, hearth: BrickHearth, scale: float) -> Drawing:
    """Draw the hearth from above, with its pattern set out from the field's middle."""
    job = solution.job
    hand = Hand(job.lengths, scale)
    text = STYLES[job.lengths].text
    units, symbols = unit_ink(hearth.layout, {"hearth"}, 0.0, text, scale)
    strings = tuple(stacked_strings(job, _rows(job, hearth), scale))
    named = tuple(box_of(x, scale) for x in strings if isinstance(x, Words))
    ink: list[Ink] = [
        *units,
        *(
            Stroke(layers.UNITS, points_of(cut), closed=True)
            for cut in riser_from_above(hearth)
        ),
        Stroke(layers.OUTLINE, outline_of(hearth), closed=True),
        *_face_above(hearth, hand),
        *_wall(job, hearth, hand),
        *_firebox(hearth, hand),
        *_middle(solution, hearth, hand),
        *strings,
        *_deep(job, hearth, hand, named),
    ]
    drawing = Drawing("hearth-plan", "HEARTH FROM ABOVE", scale, tuple(ink), symbols)
    return with_leaders(hearth.layout.pieces, {"hearth"}, 0.0, text, drawing)


def outline_of(hearth: BrickHearth) -> tuple[Point, ...]:
    """Return the outline of the finished hearth before the wall."""
    wide, deep = float(hearth.ground.width), float(hearth.ground.main[3])
    return ((0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep))


def _face_above(hearth: BrickHearth, hand: Hand) -> Iterator[Ink]:
    """Mark at both ends where the finished face stands; no line runs through brick."""
    ground = hearth.ground
    y, wide = float(ground.face), float(ground.width)
    near, far = 0.5 * hand.text, 2.5 * hand.text
    yield Stroke(layers.HIDDEN, ((-far, y), (-near, y)))
    yield Stroke(layers.HIDDEN, ((wide + near, y), (wide + far, y)))


def _wall(job: Job, hearth: BrickHearth, hand: Hand) -> Iterator[Ink]:
    """Draw the wall as found, broken off behind, and the jambs of the opening."""
    ground = hearth.ground
    y = float(ground.wall)
    line = float(ground.firebox) if ground.firebox is not None else y
    back = max(line, y) + 4.0 * hand.text
    left, right = (float(x) for x in ground.opening)
    reach = 2.0 * hand.text
    for a, b, jamb in (
        (-reach, left, left),
        (right, float(ground.width) + reach, right),
    ):
        yield Stroke(layers.OTHERS, ((a, y), (b, y)))
        yield Stroke(layers.OTHERS, ((jamb, y), (jamb, back)))
        ring = ((a, y), (b, y), (b, back), (a, back))
        yield hatch(ring, wall_pattern(job), hand)
        yield break_line((a, back), (b, back), 0.8 * hand.text)


def _firebox(hearth: BrickHearth, hand: Hand) -> Iterator[Ink]:
    """Draw the line where the firebox begins, and say that no brick goes past it."""
    ground = hearth.ground
    left, right = (float(x) for x in ground.opening)
    middle = (left + right) / 2
    if ground.firebox is None:
        at = middle, float(ground.wall) + 1.6 * hand.text
        yield hand.caption(at, "FIREBOX: ITS LINE WAS NOT GIVEN")
        return
    y = float(ground.firebox)
    yield Stroke(layers.LEVELS, ((left, y), (right, y)))
    for lines in FIREBOX_WORDS:
        if max(map(hand.width, lines)) + hand.text < right - left:
            break
    for row, line in enumerate(reversed(lines)):
        yield hand.caption((middle, y + (1.6 + 1.9 * row) * hand.text), line)


FIREBOX_WORDS = (
    ("FIREBOX BEGINS HERE: FIREBRICK BY OTHERS, NO BRICK PAST THIS LINE",),
    ("FIREBOX: NO BRICK PAST THIS LINE",),
    ("FIREBOX: NO BRICK", "PAST THIS LINE"),
)
"""What is lettered where the firebox begins: the fullest that it has room for."""


def _middle(solution: Solution, hearth: BrickHearth, hand: Hand) -> Iterator[Ink]:
    """Mark the field's middle, and say where the pattern's lies from there."""
    field = hearth.fields[0]
    left, front, right, back = (float(x) for x in field.box)
    x, y, reach = (left + right) / 2, (front + back) / 2, 2.5 * hand.text
    # Beyond the edges, so that no line runs through a mark.
    wide = float(hearth.ground.width)
    yield Stroke(layers.LEVELS, ((wide + 0.5 * hand.text, y), (wide + reach, y)))
    yield Stroke(layers.LEVELS, ((x, -0.5 * hand.text), (x, -0.7 * reach)))
    dx, dy = field.panel.phase
    parts = []
    for off, ways in ((dx, ("RIGHT", "LEFT")), (dy, ("BACK", "FORWARD"))):
        if off:
            far = format_length(abs(off), solution.job.lengths)
            parts.append(f"{far} {ways[0 if off > 0 else 1]}")
    where = " AND ".join(parts) + " OF" if parts else "ON"
    words = (
        f"FIELD'S MIDDLE: THE MIDDLE OF A BRICK LIES {where} IT",
        f"{field.panel.pattern.upper()}, "
        f"JOINTS {format_length(hearth.joint, solution.job.lengths)}",
    )
    end = float(hearth.ground.width) + 3.0 * hand.text
    for row, line in enumerate(words):
        yield hand.caption((end, y - 1.9 * row * hand.text), line, "left")
    at = end, float(hearth.ground.face)
    yield hand.caption(at, "FINISHED FACE ABOVE", "left")


def _rows(job: Job, hearth: BrickHearth) -> list[tuple[str, tuple[Fraction, ...]]]:
    """Return the strings below, nearest first."""
    ground, field = hearth.ground, hearth.fields[0]
    near = _from_the_edge(job, hearth)
    edges = {*near, *(ground.width - x for x in near), field.box[2]}
    return [
        ("BORDER AND FIELD", tuple(sorted(edges))),
        ("OPENING AS FOUND", (ZERO, *ground.opening, ground.width)),
        ("OVERALL, FINISH", (ZERO, ground.width)),
    ]


def _from_the_edge(job: Job, hearth: BrickHearth) -> tuple[Fraction, ...]:
    """Return riser, border and their joints, from an edge to the field."""
    ground, field = hearth.ground, hearth.fields[0]
    places = {ZERO, ground.main[0], field.box[0]}
    if ground.edge:
        places.add(ground.thickness)
    if field.box[0] > ground.main[0]:
        places.add(field.box[0] - job.joints.head.preferred)
    return tuple(sorted(places))


def _deep(
    job: Job, hearth: BrickHearth, hand: Hand, named: tuple[Box, ...]
) -> Iterator[Ink]:
    """Dimension the hearth at the left, from its front edge back.

    The figures stand clear of the names of the strings below.
    """
    depths, near = _depths(job, hearth), -3.0 * hand.text
    inner = hand.string("y", depths, near, upright=True, lettered=named)
    yield from inner
    at = near - (levels_used(inner, near, hand.scale) * hand.scale + 3.0 * hand.text)
    yield from hand.string("y", (ZERO, hearth.ground.wall), at, upright=True)


def _depths(job: Job, hearth: BrickHearth) -> tuple[Fraction, ...]:
    """Return what is dimensioned at the left, from the front edge back."""
    ground = hearth.ground
    places = {*_from_the_edge(job, hearth), ground.face, ground.wall}
    if ground.firebox is not None:
        places.add(ground.firebox)
    return tuple(sorted(places))
