"""Draw a picture of the finished surround: for the owner, not for the workshop.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; x from the left end of the front's finished face, y up from the datum.

It is an impression: brick and joints are as they are laid, woodwork is where the job
has it; the room around them is nobody's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.framing import draw_frame
from shopdraw.drawing.ink import Drawing, Ink, Paint, Point, Words
from shopdraw.drawing.sheets import (
    STYLES,
    Sheet,
    compose_sheet,
    content_of,
    file_name,
)
from shopdraw.masonry.hearth.cuts import riser_from_above
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.laying.outlines import (
    face_ring,
    finished_opening,
    whole_ring,
)
from shopdraw.masonry.wall.boxes import Box
from shopdraw.masonry.wall.folding import place_face
from shopdraw.solution import Solution
from shopdraw.views.parts.aslant import faces_seen, seen_from_front, width_seen
from shopdraw.views.parts.stamps import picture_number, sheet_numbers, title_block
from shopdraw.views.picture.brickwork import (
    Brickwork,
    Ring,
    brick,
    brickwork,
    joint_shade,
    shaded,
    tone_of,
)
from shopdraw.views.picture.room import (
    firebox,
    painted,
    room_behind,
    slab,
    woodwork,
)
from shopdraw.views.picture.shadows import is_tint, kept_in, right_of

IN_SHADE = 0.8
"""How light a face aslant is beside the front."""
FLOOR = 0.3
"""How much of the height that is to spare lies below the surround."""
AROUND = 1.12
"""How much larger than the surround the picture is at the least."""
SLAB, USUAL, UNDER = 0.05, 0.1, 0.03
"""How thick a hearth by others is drawn; how far beyond the brick where nobody measured
it, and at the least. In parts of the front's width."""
GAP, STRIP = 0.06, 0.045
"""What lies between a hearth's riser and the same hearth from above, and how much of
it is floor, in parts of the hearth's width."""
REACH = 2.5
"""How far a surround's shadow reaches at the most, in inches."""
STONE = "#b9b2a4"
"""A keystone's: it is not of the brick."""
NOT_FOR = (
    "An impression, not a shop drawing: take no measurements from it.",
    "Real brick, joints and daylight will look different. See samples.",
)


def compose_appearance(solution: Solution, number: int) -> Sheet:
    """Put the picture on a sheet of its own, as large as it goes; it has no scale.

    Args:
        solution: what the picture shows.
        number: of the sheet, the last of the set.
    """
    job = solution.job
    wide, high = (float(side) for side in job.paper)
    style = STYLES[job.lengths]
    content = content_of(wide, high, style)
    room = content[2] - content[0], content[3] - content[1]
    drawing = fill_room(solution, room)
    numbers = sheet_numbers(job, picture_number(job, number - 1), number, number)
    block = replace(
        title_block(solution, numbers, "APPEARANCE", "NOT TO SCALE"),
        notes=NOT_FOR,
        stamp_boxes=(),
        seal="",
    )
    stamped = replace(block, stamps=("NOT A SHOP DRAWING", *block.stamps))
    frame = draw_frame((wide, high), job.lengths, stamped)
    places = ((drawing, content),)
    name = file_name(numbers[0], "APPEARANCE")
    sheet = compose_sheet(
        number,
        name,
        "APPEARANCE",
        (wide, high),
        job.lengths,
        places,
        frame,
        shows=("appearance",),
    )
    return replace(sheet, identity=numbers[0])


def fill_room(solution: Solution, room: tuple[float, float]) -> Drawing:
    """Paint the picture as large as it goes in a room on paper: its width, height."""
    return fill_rooms((solution,), room)[0]


def fill_rooms(
    solutions: tuple[Solution, ...], room: tuple[float, float]
) -> tuple[Drawing, ...]:
    """Paint pictures at one scale, the largest at which each fits a room on paper."""
    sizes = (size_about(each) for each in solutions)
    scale = AROUND * max(max(wide / room[0], high / room[1]) for wide, high in sizes)
    drawings = [draw_appearance(each, scale) for each in solutions]
    needed = AROUND * max(
        max((right - left) / room[0], (high - low) / room[1])
        for left, low, right, high in map(_solid, drawings)
    )
    whole = room[0] * needed, room[1] * needed
    filled = []
    for solution, drawing in zip(solutions, drawings, strict=True):
        if solution.hearth is not None and needed > scale:
            # What is lettered takes the same room on paper at any scale.
            drawing = draw_appearance(solution, needed)
        box = _about(solution, _solid(drawing), whole)
        ink = (*_behind(solution, box), *kept_in(box, drawing.ink))
        filled.append(replace(drawing, scale=needed, ink=ink))
    return tuple(filled)


def _solid(drawing: Drawing) -> Box:
    """Return the extents of all but shadows, by which a picture is centred."""
    ink = (x for x in drawing.ink if not (isinstance(x, Paint) and is_tint(x.colour)))
    return extent_of(replace(drawing, ink=tuple(ink)))


def size_about(solution: Solution) -> tuple[float, float]:
    """Return about how wide and how high a picture is, at full size."""
    wide, high = solution.surround.front.width, solution.coursing.top
    if solution.hearth is not None:
        ground = solution.hearth.ground
        wide, high = max(wide, ground.width), high * Fraction(5, 4) + ground.main[3]
    return float(wide), float(high)


def draw_appearance(solution: Solution, scale: float) -> Drawing:
    """Paint brick, joints, firebox, hearth and woodwork; no figures, no names."""
    stands_out = _stands_out(solution, _work(solution).inch)
    ink: list[Ink] = [
        *right_of(outline_of(solution), stands_out, _foot_of_wall(solution))
    ]
    ink += [*paint_front(solution), *_slab(solution)]
    ink += firebox(opening_of(solution))
    ink += _aslant(solution, _work(solution))
    if solution.hearth is not None:
        ink += _brick_hearth(solution, solution.hearth, scale)
    ink += woodwork(solution.job)
    return Drawing("appearance", "APPEARANCE", scale, tuple(ink))


def _work(solution: Solution) -> Brickwork:
    lying = solution.hearth.layout.pieces if solution.hearth is not None else ()
    return brickwork(solution.job, len(solution.layout.pieces) + len(lying))


def _about(solution: Solution, taken: Box, room: tuple[float, float]) -> Box:
    """Return the box of the whole picture, the surround in its middle."""
    left, low, right, high = taken
    middle, spare = (left + right) / 2, room[1] - (high - low)
    foot = low if solution.hearth is not None else low - FLOOR * spare
    return middle - room[0] / 2, foot, middle + room[0] / 2, foot + room[1]


def _behind(solution: Solution, box: Box) -> Iterator[Ink]:
    """Paint the room as large as the whole picture is."""
    left, foot, right, top = box
    hearth = solution.hearth
    floor = _foot_of_wall(solution)
    if hearth is not None:
        # Right below it the hearth is shown from above: a raised one stands on a strip
        # of floor, and one on the floor needs none.
        foot = floor
        if hearth.riser is not None:
            floor -= float(hearth.riser.height)
            foot = floor - STRIP * float(hearth.ground.width)
    yield from room_behind((left, foot, right, top), floor, _work(solution).inch)


def _foot_of_wall(solution: Solution) -> float:
    """Return how far down the wall is seen beside the brick."""
    foot = min(y for _, y in _floor_line(solution))
    if solution.hearth is None:
        # What stands on the floor stands before the wall, a little lower to the eye.
        foot -= 0.7 * SLAB * float(solution.surround.front.width)
    return foot


def _bricks(solution: Solution, left: float) -> Iterator[tuple[str, Ring, str]]:
    """Yield each brick of the front: its ID, its outline and its colour."""
    for piece in solution.layout.pieces:
        colour = tone_of(solution.job, piece.id)
        if piece.kind == "keystone":
            colour = STONE
        for outline in piece.outlines:
            if outline.face == "front":
                yield piece.id, _moved(outline.points, left), colour


def paint_front(solution: Solution) -> Iterator[Paint]:
    """Paint the front: joints with their relief, and every brick."""
    surround, work = solution.surround, _work(solution)
    left, joint = float(surround.front.left), solution.job.appearance.joint
    bricks = list(_bricks(solution, left))
    yield Paint(layers.PATTERN, outline_of(solution), joint)
    yield from joint_shade(work, [ring for _, ring, _ in bricks], joint)
    for name, ring, colour in bricks:
        yield from brick(work, name, ring, colour)


def outline_of(solution: Solution) -> Ring:
    """Return the front's own outline, the opening in it."""
    surround = solution.surround
    whole = whole_ring(surround, solution.coursing, surround.front)
    return _moved(whole, float(surround.front.left))


def _slab(solution: Solution) -> Iterator[Ink]:
    """Paint the hearth that others lay, where none is laid in brick."""
    if solution.hearth is None:
        floor, wide = _floor_line(solution), float(solution.surround.front.width)
        left, right = _slab_ends(solution)
        line = ((left, floor[0][1]), *floor, (right, floor[-1][1]))
        yield from slab(line, min(y for _, y in floor) - SLAB * wide)


def _slab_ends(solution: Solution) -> tuple[float, float]:
    """Return from where to where the hearth goes: as measured, but under all brick."""
    front, found = solution.surround.front, solution.openings.found
    seen, wide = max(width_seen(solution.surround)), float(front.width)
    hearth = solution.job.hearth
    at_left, at_right = (None, None) if hearth is None else (hearth.left, hearth.right)

    def past(measured: Fraction | None, leg: Fraction) -> float:
        if measured is None:
            return seen + USUAL * wide
        return max(seen + UNDER * wide, float(measured - leg))

    left = past(at_left, found.left - front.left)
    return -left, wide + past(at_right, front.right - found.right)


def _stands_out(solution: Solution, inch: float) -> float:
    """Return how far the shadow of the surround reaches over the wall at its right."""
    surround = solution.surround
    out = [float(x.width) for x in surround.faces if x.name == "right"]
    return min(0.25 * max([float(surround.build_out), *out]), REACH * inch)


def _floor_line(solution: Solution) -> Ring:
    """Return the top of the hearth under the front, from left to right."""
    surround = solution.surround
    face = face_ring(surround, surround.front, solution.coursing.top)
    return _moved(face[:-2], float(surround.front.left))


def opening_of(solution: Solution) -> Ring:
    """Return the opening's ring as it is seen when finished."""
    surround, coursing = solution.surround, solution.coursing
    ring = finished_opening(surround, coursing, solution.layout)
    return _moved(ring, float(surround.front.left))


def _aslant(solution: Solution, work: Brickwork) -> Iterator[Ink]:
    """Paint what is seen of faces aslant: they get less light than the front."""
    job, surround, coursing = solution.job, solution.surround, solution.coursing
    joint = shaded(job.appearance.joint, IN_SHADE)
    for face in faces_seen(surround):
        placed = place_face(surround, face.name)
        foot = surround.hearth_under(face).at(surround.fold_of(face))
        left, right = (float(placed.point(x)[0]) for x in (face.left, face.right))
        in_jamb = face in surround.reveals
        low, high = float(foot), float(coursing.head if in_jamb else coursing.top)
        whole = ((left, low), (right, low), (right, high), (left, high))
        yield Paint(layers.PATTERN, whole, joint)
    for piece, _, ring in seen_from_front(solution):
        colour = shaded(tone_of(job, piece.id), IN_SHADE)
        yield from brick(work, piece.id, ring, colour)


def _brick_hearth(
    solution: Solution, hearth: BrickHearth, scale: float
) -> Iterator[Ink]:
    """Paint the riser below the face, and under that the hearth from above."""
    job, ground = solution.job, hearth.ground
    work = _work(solution)
    left, wide = -float(ground.from_front), float(ground.width)
    under = -GAP * wide
    pieces = [(x, x.outlines[0]) for x in hearth.layout.pieces if x.place == "hearth"]
    if hearth.riser is not None:
        riser, foot = hearth.riser, -float(hearth.riser.height)
        start = float(riser.surround.front.left) - left
        yield painted((left, foot, left + wide, 0.0), job.appearance.joint)
        bricks: list[tuple[str, Ring]] = []
        for piece in hearth.layout.pieces:
            for outline in piece.outlines:
                if outline.face == "riser":
                    points = tuple(
                        (float(x) - start, float(y) + foot) for x, y in outline.points
                    )
                    bricks.append((piece.id, points))
        yield from _laid(work, bricks, job.appearance.joint)
        under += foot
    back, style = float(ground.back), STYLES[job.lengths]
    foot = under - 3.0 * style.text * scale - back
    box = (left, foot, left + wide, foot + float(ground.main[3]))
    yield painted(box, job.appearance.joint)
    if ground.between is not None:
        a, _, b, d = (float(x) for x in ground.between)
        behind = (left + a, foot + float(ground.main[3]), left + b, foot + d)
        yield painted(behind, job.appearance.joint)
    lying = [
        (
            piece.id,
            tuple((float(x) + left, float(y) + foot) for x, y in outline.points),
        )
        for piece, outline in pieces
    ]
    yield from _laid(work, lying, job.appearance.joint)
    for cut in riser_from_above(hearth):
        points = tuple((float(x) + left, float(y) + foot) for x, y in cut.ring)
        yield from brick(work, cut.piece.id, points, tone_of(job, cut.piece.id))
    at = (left, under - 1.5 * style.text * scale)
    yield Words(layers.NOTES, at, "THE HEARTH FROM ABOVE", style.text)


def _laid(
    work: Brickwork, bricks: list[tuple[str, Ring]], joint: str
) -> Iterator[Paint]:
    """Paint brick of a hearth or its riser, and the relief of their joints."""
    yield from joint_shade(work, [ring for _, ring in bricks], joint)
    for name, ring in bricks:
        yield from brick(work, name, ring, tone_of(work.job, name))


def _moved(
    points: Iterable[tuple[Fraction, Fraction]], left: float
) -> tuple[Point, ...]:
    return tuple((float(x) - left, float(y)) for x, y in points)
