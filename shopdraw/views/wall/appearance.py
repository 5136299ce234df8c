"""Draw a picture of the finished surround: for the owner, not for the workshop.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; x from the left end of the front's finished face, y up from the datum.

Each brick has a tone of its own, always the same one: it is drawn from its ID and the
job's seed, so that the same job gives the same picture.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from zlib import crc32

from shopdraw.drawing import layers
from shopdraw.drawing.framing import draw_frame
from shopdraw.drawing.ink import Drawing, Ink, Paint, Point, Stroke, Words
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.sheets import (
    SCALES,
    STYLES,
    Sheet,
    compose_sheet,
    content_of,
    goes_into,
    size_on_paper,
)
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.masonry.hearth.cuts import riser_from_above
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.laying.outlines import (
    face_ring,
    finished_opening,
    whole_ring,
)
from shopdraw.masonry.wall.folding import place_face
from shopdraw.solution import Solution
from shopdraw.views.parts.aslant import faces_seen, seen_from_front, width_seen
from shopdraw.views.parts.stamps import picture_number, sheet_numbers, title_block

FIREBOX = "#3a3532"
IN_SHADE = 0.8
"""How light a face aslant is beside the front."""
HEARTH = "#8f8a84"
STONE = "#b9b2a4"
"""A keystone's: it is not of the brick."""
NOT_FOR = (
    "An impression, not a shop drawing: take no measurements from it.",
    "Real brick, joints and daylight will look different. See samples.",
)


def compose_appearance(solution: Solution, number: int) -> Sheet:
    """Put the picture on a sheet of its own, at the largest scale that fits.

    Args:
        solution: what the picture shows.
        number: of the sheet, the last of the set.
    """
    job = solution.job
    wide, high = (float(side) for side in job.paper)
    style = STYLES[job.lengths]
    content = content_of(wide, high, style)
    for scale in [x for x, _ in SCALES[job.scales] if x > 1]:
        drawing = draw_appearance(solution, scale)
        if goes_into(size_on_paper(drawing), content):
            break
    else:
        message = (
            f"sheet.size: the picture does not fit {job.sheet.size} at any scale; "
            "give larger paper"
        )
        raise NotDrawable(message)
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
    return compose_sheet(
        number, "appearance", "APPEARANCE", (wide, high), job.lengths, places, frame
    )


def draw_appearance(solution: Solution, scale: float) -> Drawing:
    """Paint joints, brick, firebox and hearth, and outline the woodwork; no figures."""
    left = float(solution.surround.front.left)
    ink: list[Ink] = [*_ground(solution, left)]
    for piece in solution.layout.pieces:
        colour = _tone(solution.job, piece.id)
        if piece.kind == "keystone":
            colour = STONE
        for outline in piece.outlines:
            if outline.face == "front":
                points = _moved(outline.points, left)
                ink.append(Paint(layers.PATTERN, points, colour))
    ink += _aslant(solution)
    if solution.hearth is not None:
        ink += _brick_hearth(solution, solution.hearth, scale)
    ink += _woodwork(solution.job, scale)
    return Drawing("appearance", "APPEARANCE", scale, tuple(ink))


def _aslant(solution: Solution) -> Iterator[Ink]:
    """Paint what is seen of faces aslant: they get less light than the front."""
    job, surround, coursing = solution.job, solution.surround, solution.coursing
    joint = _darker(job.appearance.joint)
    for face in faces_seen(surround):
        placed = place_face(surround, face.name)
        foot = surround.hearth_under(face).at(surround.fold_of(face))
        left, right = (float(placed.point(x)[0]) for x in (face.left, face.right))
        in_jamb = face in surround.reveals
        low, high = float(foot), float(coursing.head if in_jamb else coursing.top)
        whole = ((left, low), (right, low), (right, high), (left, high))
        yield Paint(layers.PATTERN, whole, joint)
    for piece, _, ring in seen_from_front(solution):
        yield Paint(layers.PATTERN, ring, _darker(_tone(job, piece.id)))


def _darker(colour: str) -> str:
    parts = bytes.fromhex(colour[1:])
    return "#" + "".join(f"{round(part * IN_SHADE):02x}" for part in parts)


def _brick_hearth(
    solution: Solution, hearth: BrickHearth, scale: float
) -> Iterator[Ink]:
    """Paint the riser below the face, and under that the hearth from above."""
    job, ground = solution.job, hearth.ground
    left, wide, gap = -float(ground.from_front), float(ground.width), 0.06
    under = -gap * wide
    pieces = [(x, x.outlines[0]) for x in hearth.layout.pieces if x.place == "hearth"]
    if hearth.riser is not None:
        riser, foot = hearth.riser, -float(hearth.riser.height)
        start = float(riser.surround.front.left) - left
        yield _painted((left, foot, left + wide, 0.0), job.appearance.joint)
        for piece in hearth.layout.pieces:
            for outline in piece.outlines:
                if outline.face == "riser":
                    points = tuple(
                        (float(x) - start, float(y) + foot) for x, y in outline.points
                    )
                    yield Paint(layers.PATTERN, points, _tone(job, piece.id))
        under += foot
    back, style = float(ground.back), STYLES[job.lengths]
    foot = under - 3.0 * style.text * scale - back
    box = (left, foot, left + wide, foot + float(ground.main[3]))
    yield _painted(box, job.appearance.joint)
    if ground.between is not None:
        a, _, b, d = (float(x) for x in ground.between)
        behind = (left + a, foot + float(ground.main[3]), left + b, foot + d)
        yield _painted(behind, job.appearance.joint)
    for piece, outline in pieces:
        points = tuple((float(x) + left, float(y) + foot) for x, y in outline.points)
        yield Paint(layers.PATTERN, points, _tone(job, piece.id))
    for cut in riser_from_above(hearth):
        points = tuple((float(x) + left, float(y) + foot) for x, y in cut.ring)
        yield Paint(layers.PATTERN, points, _tone(job, cut.piece.id))
    at = (left, under - 1.5 * style.text * scale)
    yield Words(layers.NOTES, at, "THE HEARTH FROM ABOVE", style.text)


def _painted(box: tuple[float, float, float, float], colour: str) -> Paint:
    left, low, right, high = box
    ring = ((left, low), (right, low), (right, high), (left, high))
    return Paint(layers.PATTERN, ring, colour)


def _ground(solution: Solution, left: float) -> Iterator[Ink]:
    """Paint the whole face in the colour of the joints, then firebox and hearth."""
    surround = solution.surround
    joint = solution.job.appearance.joint
    whole = whole_ring(surround, solution.coursing, surround.front)
    yield Paint(layers.PATTERN, _moved(whole, left), joint)
    face = face_ring(surround, surround.front, solution.coursing.top)
    ring = finished_opening(surround, solution.coursing, solution.layout)
    yield Paint(layers.PATTERN, _moved(ring, left), FIREBOX)
    if solution.hearth is not None:
        return
    floor = _moved(face[:-2], left)
    wide = float(surround.front.width)
    reach = 0.1 * wide + max(width_seen(surround))
    foot = min(y for _, y in floor) - 0.03 * wide
    line = ((floor[0][0] - reach, floor[0][1]), *floor, (wide + reach, floor[-1][1]))
    yield Paint(
        layers.PATTERN, (*line, (wide + reach, foot), (line[0][0], foot)), HEARTH
    )


def _woodwork(job: Job, scale: float) -> Iterator[Ink]:
    """Outline and name what others build near the brick."""
    style = STYLES[job.lengths]
    for trim in job.trim:
        x, y = float(trim.left), float(trim.bottom)
        wide, high = float(trim.width), float(trim.height)
        ring = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
        yield Stroke(layers.OTHERS, ring, closed=True)
        if high > 3 * style.text * scale:
            at = (x + wide / 2, y + high / 2)
            words = f"{plain(trim.name).upper()}, BY OTHERS"
            yield Words(layers.NOTES, at, words, style.text, "centre", "middle")


def _moved(
    points: Iterable[tuple[Fraction, Fraction]], left: float
) -> tuple[Point, ...]:
    return tuple((float(x) - left, float(y)) for x, y in points)


def _tone(job: Job, name: str) -> str:
    """Return one brick's colour: a little off the one asked for, always the same."""
    asked = job.appearance
    off = asked.variation / 100
    draws = [
        crc32(f"{asked.seed} {name} {part}".encode()) / 0xFFFFFFFF * 2 - 1
        for part in ("tone", "red", "blue")
    ]
    red, green, blue = bytes.fromhex(asked.brick[1:])
    tone = 1 + off * draws[0]
    parts = (
        red * tone * (1 + off / 4 * draws[1]),
        green * tone,
        blue * tone * (1 + off / 3 * draws[2]),
    )
    return "#" + "".join(f"{min(255, max(0, round(part))):02x}" for part in parts)
