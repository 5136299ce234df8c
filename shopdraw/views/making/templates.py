"""Draw an arch's templates at full size: turning piece, voussoirs, skewback.

In:  `Solution`.   Out: `Sheet`s; none without an arch.
Frame: of each template its own, at full size; of a page, paper lengths.

What is larger than a page goes over several, with lines to join them by, like the pole.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import cos, sin

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Point, Stroke, Words
from shopdraw.drawing.moving import moved
from shopdraw.drawing.sheets import Sheet
from shopdraw.drawing.shelving import Shelf, down, shelves
from shopdraw.job.model import Job
from shopdraw.lengths import MM_PER_INCH, format_length
from shopdraw.masonry.marks.templates import (
    Skewback,
    StoneTemplate,
    TurningPiece,
    skewback,
    stone_templates,
    turning_piece,
)
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.boxes import Box
from shopdraw.solution import Solution
from shopdraw.views.making.tiling import TEXT, Template, room_of, tile

GAP = 0.35
"""Between two voussoirs on a page, in inches; the measures below are in inches too."""
TICK, BEYOND, LINE = 0.35, 1.6, 0.19
"""A joint's mark; how much is drawn beyond a template; from line to line of words."""
PROP = 2.5
"""How wide a prop and its wedges are drawn."""


def draw_templates(solution: Solution) -> tuple[Sheet, ...]:
    """Draw every template of the arch, each on as many pages as it needs."""
    arch = solution.layout.arch
    if arch is None:
        return ()
    pages = tuple(
        page
        for template in _templates(solution, arch)
        for page in tile(solution, template)
    )
    return tuple(page(number) for number, page in enumerate(pages, start=1))


def _templates(solution: Solution, arch: Arch) -> Iterator[Template]:
    piece = turning_piece(solution.job, solution.surround, arch)
    yield _turning_piece(solution.job, arch, piece)
    yield from _stones(solution)
    slope = skewback(arch)
    if slope is not None:
        yield _skewback(solution, arch, slope)


def _inch(job: Job) -> float:
    return 1.0 if job.lengths == "in" else float(MM_PER_INCH)


def _lettered(
    lines: tuple[str, ...], at: Point, inch: float, align: str = "left"
) -> Iterator[Words]:
    """Letter lines one under another."""
    for row, line in enumerate(lines):
        place = (at[0], at[1] - row * LINE * inch)
        if align == "centre":
            yield Words(layers.NOTES, place, line, TEXT * inch, "centre")
        else:
            yield Words(layers.NOTES, place, line, TEXT * inch)


# ------------------------------------------------------------------- the turning piece


def _turning_piece(job: Job, arch: Arch, piece: TurningPiece) -> Template:
    """Draw the right half of the turning piece, from the centre line."""
    inch = _inch(job)
    right, foot = piece.half, -piece.board
    corner = piece.curve[-1]
    outline = (
        *piece.curve,
        *(((right, corner[1]),) if corner[0] < right - 1e-9 else ()),
        (right, foot),
        (0.0, foot),
    )
    ink: list[Ink] = [
        Stroke(layers.BORDER, outline, closed=True),
        Stroke(layers.HIDDEN, ((0.0, 0.0), (right, 0.0))),
        *_prop(piece, inch),
        *_joints(piece, inch),
    ]
    if arch.keystone is not None:
        ring = arch.voussoirs[arch.keystone]
        level = float(ring[0][1] - arch.spring)
        half = float(ring[1][0] - ring[0][0]) / 2
        ink.append(Stroke(layers.HIDDEN, ((0.0, level), (half, level))))
    top = piece.curve[0][1]
    at = (0.15 * inch, foot - 0.35 * inch)
    ink += _lettered(tuple(_piece_words(job, arch, piece)), at, inch)
    low = foot - piece.wedges - BEYOND * inch
    extent = -0.1 * inch, low, right + 0.1 * inch, top + 0.2 * inch
    return Template(
        name="turning-piece",
        title="TURNING PIECE, RIGHT HALF",
        says=(
            "Turn it over at the centre line for the left half. The upper edge is "
            "where the feet of the voussoirs rest; the ticks are both edges of each "
            "joint."
        ),
        parts=((tuple(ink), extent),),
    )


def _prop(piece: TurningPiece, inch: float) -> Iterator[Ink]:
    """Draw the wedges under the piece, and the head of the prop under them."""
    wide, foot = PROP * inch, -piece.board
    left = max(piece.half - 2 * wide, 0.0)
    a, b = left, left + wide
    low = foot - piece.wedges
    yield Stroke(layers.HIDDEN, ((a, foot), (b, foot), (b, low), (a, low)), closed=True)
    yield Stroke(layers.HIDDEN, ((a, low), (b, foot)))
    end = low - (BEYOND - 0.4) * inch
    yield Stroke(layers.HIDDEN, ((a, low), (a, end)))
    yield Stroke(layers.HIDDEN, ((b, low), (b, end)))
    lines = ("PROP", "UNDER WEDGES")
    yield from _lettered(lines, (a + 0.1 * inch, low - 0.3 * inch), inch)


def _joints(piece: TurningPiece, inch: float) -> Iterator[Ink]:
    for (x, y), lean in piece.marks:
        deep = TICK * inch
        yield Stroke(
            layers.DIMENSIONS, ((x, y), (x - deep * sin(lean), y - deep * cos(lean)))
        )


def _piece_words(job: Job, arch: Arch, piece: TurningPiece) -> Iterator[str]:
    def say(length: Fraction | float) -> str:
        exact = Fraction(length).limit_denominator(10**6)
        return format_length(exact, job.lengths)

    yield "AT THE LEFT: THE CENTRE LINE. DASHED: THE SPRING LINE"
    yield f"SPAN {say(arch.span)}"
    if piece.radius:
        down = f"{say(-piece.centre)} BELOW THE" if piece.centre else "ON THE"
        yield f"RADIUS {say(piece.radius)}, ABOUT A CENTRE {down} SPRING LINE"
    yield f"FOLDING WEDGES {say(piece.wedges)}"
    left, right = piece.props
    if min(left, right) <= 0:
        yield "NO ROOM FOR PROPS UNDER IT"
    else:
        yield f"LEFT PROP {say(left)}, RIGHT PROP {say(right)}, FROM THE HEARTH"
    if arch.keystone is not None:
        yield "CUT DOWN TO THE DASHED LINE UNDER THE KEYSTONE"


# ------------------------------------------------------------------------ the voussoirs


def _stones(solution: Solution) -> Iterator[Template]:
    """Draw the stones in rows, as many as a page takes; a large one by itself."""
    job = solution.job
    inch, (wide, high) = _inch(job), room_of(solution)
    stones = stone_templates(solution.cut_list)
    small = [x for x in stones if _size(x)[0] <= wide and _size(x)[1] <= high]
    gap = GAP * inch
    pages: list[list[Shelf]] = []
    for row in shelves([_size(x) for x in small], wide, gap) or ():
        if not pages or down([*pages[-1], row], gap) > high:
            pages.append([])
        pages[-1].append(row)
    parts = [_stood(job, small, page, gap) for page in pages]
    parts += [
        (tuple(_stone(job, x, (0.0, 0.0))), (0.0, 0.0, *_size(x)))
        for x in stones
        if x not in small
    ]
    if parts:
        yield Template(
            name="voussoirs",
            title="VOUSSOIRS, AS SEEN FROM THE FACE",
            says="The dashed line is the axis: it points to the centre of the arch.",
            parts=tuple(parts),
        )


def _size(stone: StoneTemplate) -> tuple[float, float]:
    return float(stone.shape.right), float(stone.shape.top)


def _stood(
    job: Job, stones: Sequence[StoneTemplate], rows: Sequence[Shelf], gap: float
) -> tuple[tuple[Ink, ...], Box]:
    """Stand stones in rows under one another, some on one another; and say how far."""
    ink: list[Ink] = []
    top = down(rows, gap)
    y = top
    for row in rows:
        y -= row.high
        x = 0.0
        for stack in row.stacks:
            up = y
            # The first of a stack is read first, above the others.
            for n in reversed(stack):
                ink += _stone(job, stones[n], (x, up))
                up += _size(stones[n])[1] + gap
            x += max(_size(stones[n])[0] for n in stack) + gap
        y -= gap
    return tuple(ink), (0.0, 0.0, max(row.wide for row in rows), top)


def _stone(job: Job, stone: StoneTemplate, at: Point) -> Iterator[Ink]:
    """Draw one stone with its axis, and letter its mark and its angles in it."""
    yield from (moved(each, at) for each in _stone_at_0(job, stone))


def _stone_at_0(job: Job, stone: StoneTemplate) -> Iterator[Ink]:
    inch = _inch(job)
    ring = tuple((float(x), float(y)) for x, y in stone.shape.points)
    yield Stroke(layers.BORDER, ring, closed=True)
    axis, top = stone.axis, float(stone.shape.top)
    lines = tuple(_stone_words(stone))
    high = len(lines) * LINE * inch
    clear = (top + high) / 2 + 0.1 * inch, (top - high) / 2 - 0.1 * inch
    yield Stroke(layers.HIDDEN, ((axis, 0.0), (axis, clear[1])))
    yield Stroke(layers.HIDDEN, ((axis, clear[0]), (axis, top)))
    start = (axis, (top + high) / 2 - LINE * inch)
    yield from _lettered(lines, start, inch, "centre")


def _stone_words(stone: StoneTemplate) -> Iterator[str]:
    count = stone.row.count
    yield f"{stone.row.mark}, {f'{count} OF THEM' if count > 1 else 'ONE'}"
    yield f"TAPER {stone.taper_deg:.1f} DEG"
    for name, angle in (("FOOT", stone.foot_deg), ("HEAD", stone.head_deg)):
        if abs(angle) < 0.05:
            yield f"{name} SQUARE"
        else:
            yield f"{name} {abs(angle):.1f} DEG"


# ------------------------------------------------------------------------- the skewback


def _skewback(solution: Solution, arch: Arch, slope: Skewback) -> Template:
    """Draw the right skewback, and the beds of the courses that are sawn to it."""
    job = solution.job
    inch = _inch(job)
    x, y = slope.end
    far = x + BEYOND * inch
    ink: list[Ink] = [
        Stroke(layers.BORDER, ((0.0, 0.0), (x, y), (far, y), (far, 0.0)), closed=True),
        Stroke(layers.HIDDEN, ((0.0, 0.0), (0.0, y))),
    ]
    for course in solution.coursing.courses:
        for level in (course.bottom, course.top):
            up = float(level - arch.spring)
            if 0 < up < y:
                ink.append(Stroke(layers.DIMENSIONS, ((x * up / y, up), (far, up))))
        up = float((course.bottom + course.top) / 2 - arch.spring)
        if 0 < up < y - 0.1 * inch:
            at = (far - 0.1 * inch, up)
            words = f"COURSE {course.number}"
            ink.append(Words(layers.NOTES, at, words, TEXT * inch, "right", "middle"))
    length = format_length(Fraction(slope.length), job.lengths)
    ink += _lettered(
        (f"SLOPE {length}", f"{slope.angle_deg:.1f} DEG", "FROM PLUMB"),
        (-0.1 * inch - 1.1 * inch, y / 2),
        inch,
    )
    extent = -1.3 * inch, -0.05 * inch, far + 0.05 * inch, y + 0.05 * inch
    return Template(
        name="skewback",
        title="SKEWBACK, RIGHT",
        says=(
            "Turn it over for the left. Its point stands at the spring point, the "
            "dashed line plumb over the jamb; the leg's brick is sawn to the slope."
        ),
        parts=((tuple(ink), extent),),
    )
