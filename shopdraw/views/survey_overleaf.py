"""Draw the back of the survey form: what few fireplaces have, and what is planned.

In:  the lengths.   Out: a `Sheet`, portrait.
Frame: as the front's: inches, each part from its own upper left corner.
"""

from __future__ import annotations

from shopdraw.catalog.rows import sheet_size, usual_values
from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Stroke
from shopdraw.drawing.lettering import wrap
from shopdraw.drawing.moving import moved
from shopdraw.drawing.papers import Part, page_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.lengths import MM_PER_INCH, Lengths
from shopdraw.views.form_ink import (
    FINE,
    GAP,
    GUTTER,
    HEAD,
    MARGIN,
    PITCH,
    ROW,
    TEXT,
    TITLE,
    Marks,
    Row,
    dashes,
    mark,
    ring,
    span,
    table,
    words,
)

FIGURE = 2.9
"""In inches: how high both figures are."""
NOTES = (
    "Left and right are as you face the fireplace. Each length ALONG is measured along "
    "the face itself, at its foot; each length BACK is measured square to the front. "
    "A chamfer needs 1 and 2; one that halves a square corner needs 1 alone. A return "
    "needs 3 or 5 only where it is out of square; where it meets an alcove's back wall "
    "both must be square. Write how far inside corners are out of square on the sketch."
)


def _both(key: str) -> str:
    return f"face.left_{key}, face.right_{key}"


LEFT: tuple[Row, ...] = (
    ("", "LEFT RIGHT", "BESIDE THE FRONT"),
    ("1", _both("chamfer"), "Chamfer, along itself"),
    ("2", _both("chamfer_depth"), "How far back the chamfer reaches"),
    ("3", _both("return_depth"), "How far back the return reaches"),
    ("4", _both("alcove"), "Alcove: how much of its back wall is faced"),
    ("5", _both("return_splay"), "Degrees that the return is out of square"),
    ("", "LEFT RIGHT ABOVE", "OLD BRICK THAT STAYS"),
    ("11", "existing_brick.first_top", "Datum up to the top of its lowest course"),
    ("12", "existing_brick.gauge", "From one top to the next, over many"),
)
RIGHT: tuple[Row, ...] = (
    ("", "PANEL WOOD", "A PANEL, MORE WOODWORK: THERE OR PLANNED"),
    ("6", "panel.left, trim.left", "Left edge of the new brick to its left end"),
    ("7", "panel.bottom, trim.bottom", "Datum up to its underside"),
    ("8", "panel.width, trim.width", "Its width"),
    ("9", "panel.height, trim.height", "Its height"),
    ("10", "trim.projection", "Wood: out from the new brick"),
    ("", "LEFT RIGHT ABOVE", "ITS COURSES; UNEVEN: LIST EACH TOP"),
    ("13", "existing_brick.height", "How high its brick are"),
    ("14", "existing_brick.courses", "How many courses there are"),
)
OLD: tuple[Row, ...] = (
    ("", "FIRST SECOND", "OLD WORK TO COME OFF"),
    ("15", "stripping.old.kind", "Stone, brick, tile, block shelf, board, paint"),
    ("16", "stripping.old.area", "Its area"),
    ("17", "stripping.old.thickness", "How thick, with its mortar or glue"),
)
BARE: tuple[Row, ...] = (
    ("", "LENGTH", "THE WALL, AS FAR AS IT IS SEEN"),
    ("18", "substrate.plane", "Bulge or hollow, its most in 10 ft"),
    ("19", "setting_bed.uneven", "What the bed takes of that, on average"),
    ("20", "stripping.patching", "Area to be made good"),
)
SEEN: tuple[Row, ...] = (
    ("", "LENGTH", "FOR THE REVIEW: THE OPENING AND BEFORE IT"),
    ("21", "opening.throat", "Top of the opening up to throat or damper"),
    ("22", "opening.lintel_bearing", "How far the lintel bears, at its shorter end"),
    ("23", "hearth.thickness", "Thickness of the hearth extension"),
)
AROUND: tuple[Row, ...] = (
    ("", "ANSWER", "FOR THE REVIEW: AROUND IT"),
    ("24", "beside.to_masonry", "Nearest framing to the fireplace's masonry"),
    ("25", "substrate.kind", "Wall: masonry, concrete or board"),
    ("26", "house.painted_sq_ft", "Old paint that the work disturbs, in sq ft"),
)
SKETCH = "SKETCH: WHAT ELSE IS IN THE WAY, WITH ITS LENGTHS"


def draw_overleaf(lengths: Lengths) -> Sheet:
    """Draw the back of the form on an upright page of the usual size."""
    inch = 1.0 if lengths == "in" else float(MM_PER_INCH)
    long, short = sheet_size(usual_values(lengths)["sheet"]["page"], lengths)
    size = float(short), float(long)
    wide, high = (side / inch - 2 * MARGIN for side in size)
    parts = [_title(wide), (tuple(_figures(wide)), FIGURE + 0.1)]
    parts.append(table((LEFT, RIGHT), wide, ROW * 1.3))
    parts.append(table((OLD, BARE), wide, ROW * 1.3))
    parts.append(table((SEEN, AROUND), wide, ROW * 1.3))
    parts.append(_sketch(wide, high - sum(depth + GAP for _, depth in parts)))
    ink: list[Ink] = []
    top = MARGIN + high
    for part, depth in parts:
        ink += (moved(each, (MARGIN * inch, top * inch), inch) for each in part)
        top -= depth + GAP
    names = "survey form", "SURVEY FORM"
    return page_of(ink, names, size, lengths, number=2)


def _title(wide: float) -> Part:
    ink: list[Ink] = [words((0, -TITLE), "SURVEY FORM, OVERLEAF", TITLE)]
    y = -TITLE - 0.1
    for line in wrap(NOTES, TEXT, wide):
        y -= PITCH * TEXT
        ink.append(words((0, y), line))
    return tuple(ink), -y


def _figures(wide: float) -> Marks:
    """Draw a breast in plan, and its front, not to scale."""
    part = 0.62 * wide
    yield from _plan(part)
    yield words((part / 2, -FIGURE), "PLAN, NOT TO SCALE", FINE, "centre")
    yield from (
        moved(ink, (part + GUTTER, 0.0)) for ink in _front(wide - part - GUTTER)
    )
    middle = (wide + part + GUTTER) / 2
    yield words((middle, -FIGURE), "FRONT, NOT TO SCALE", FINE, "centre")


def _plan(wide: float) -> Marks:
    """Draw a return out of square at the left, an alcove at the right, in plan."""
    middle, front, wall = wide / 2, 0.6 - FIGURE, -0.4
    bend, slant, far = front + 0.4, 0.45, 1.75
    left = [(middle - x, y) for x, y in ((0.8, front), (1.2, bend), (1.65, wall))]
    right = [(middle + x, y) for x, y in ((0.8, front), (1.2, bend), (1.2, wall))]
    end = middle + 2.3, wall
    around = ((middle - 2.3, wall), *left[::-1], *right, end)
    yield Stroke(layers.OUTLINE, around)
    for x, y in left[:2]:
        line = (x - 0.05, y), (middle - far - 0.2, y)
        yield Stroke(layers.DIMENSIONS, line)
    x = middle - far - 0.15
    yield from span("2", (x, front), (x, bend), (x - 0.24, front + 0.2))
    yield from span("3", (x, bend), (x, wall))
    yield from dashes(left[1], (left[1][0], wall))
    foot = left[1][0] - slant / 2, (bend + wall) / 2 + 0.12
    yield from mark("5", (foot[0] + 0.55, foot[1]), (foot[0] + 0.1, foot[1]))
    spots = (middle - 0.67, front + 0.13), (middle - 1.07, bend + 0.13)
    yield from span("1", *spots, (middle - 0.62, front + 0.52))
    high = wall + 0.16
    for x in (right[2][0], end[0]):
        yield Stroke(layers.DIMENSIONS, ((x, wall + 0.03), (x, high + 0.05)))
    yield from span("4", (right[2][0], high), (end[0], high))
    deep = 0.2
    yield from dashes(*ring(middle - 0.7, front, 1.4, deep))
    x = middle + 0.95
    for y in (front, front - deep):
        yield Stroke(layers.DIMENSIONS, ((middle + 0.74, y), (x + 0.05, y)))
    yield from span("10", (x, front), (x, front - deep), (x + 0.3, front - 0.1))
    yield words((middle, front - 0.13), "WOOD", FINE, "centre")
    yield words((middle, front + 0.1), "FRONT", FINE, "centre")
    yield words((middle + 1.75, wall - 0.16), "ALCOVE", FINE, "centre")


def _front(wide: float) -> Marks:
    """Draw a panel over the opening, woodwork over that, and old brick beside."""
    low, high, left = 0.35 - FIGURE, -0.5, 0.34
    face = wide - left - 0.62
    yield Stroke(layers.OUTLINE, ring(left, high, face, high - low))
    opening = (left + 0.28 * face, low), (left + 0.28 * face, low + 0.8)
    other = (left + 0.72 * face, low + 0.8), (left + 0.72 * face, low)
    yield Stroke(layers.OUTLINE, (*opening, *other))
    x, top, across, deep = left + 0.3 * face, high - 0.3, 0.42 * face, 0.55
    yield Stroke(layers.UNITS, ring(x, top, across, deep))
    aside = top - 0.2
    yield from span("6", (left, aside), (x, aside), (left - 0.2, aside + 0.12))
    yield from span("8", (x, top - 0.36), (x + across, top - 0.36))
    yield words((x + across / 2, top - 0.17), "PANEL", FINE, "centre")
    beside = x + across + 0.14
    yield from span("9", (beside, top), (beside, top - deep))
    below = x + 0.12
    yield from span("7", (below, low), (below, top - deep))
    shelf = left + 0.12 * face
    yield from dashes(*ring(shelf, high + 0.28, 0.76 * face, 0.18))
    yield words((left + face / 2, high + 0.15), "WOOD", FINE, "centre")
    yield from _old_brick(left + face, wide, low, high)


def _old_brick(left: float, right: float, low: float, high: float) -> Marks:
    """Draw the courses of old brick beside the face."""
    gauge, brick = 0.34, 0.26
    tops = [low + 0.5 + n * gauge for n in range(int((high - low - 0.5) / gauge) + 1)]
    for top in tops:
        for y in (top - brick, top):
            yield Stroke(layers.UNITS, ((left, y), (right - 0.1, y)))
    x, far = left + 0.14, left + 0.42
    yield from span("11", (x, low), (x, tops[0]), (far, low + 0.12))
    yield from span("12", (x, tops[1]), (x, tops[2]), (far, tops[1] + gauge / 2))
    middle = tops[3] - brick / 2
    yield from span("13", (x, tops[3] - brick), (x, tops[3]), (far, middle))
    yield from mark("14", (far - 0.1, high + 0.15))


def _sketch(wide: float, high: float) -> Part:
    """Leave the rest of the page free, on a light grid of dots to sketch on."""
    ink: list[Ink] = [words((0, -HEAD), SKETCH, HEAD)]
    pitch, top = 0.25, HEAD + 0.15
    for down in range(int((high - top) / pitch) + 1):
        for over in range(int(wide / pitch) + 1):
            x, y = over * pitch, -top - down * pitch
            ink.append(Stroke(layers.TABLES, ((x, y), (x + 0.01, y))))
    return tuple(ink), high
