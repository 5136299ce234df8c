"""Draw the survey form: one page to fill in on site, then to type as a job file.

In:  the lengths.   Out: a `Sheet`, portrait.
Frame: each part in inches from its own upper left corner, y up; the page puts the parts
under one another and turns inches into its lengths.

The key beside a box is the key of the job file that takes its figure. The figure on the
page shows no real fireplace; it takes the height that the other parts leave.
"""

from __future__ import annotations

from shopdraw.catalog.rows import sheet_size, usual_values
from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Point, Stroke
from shopdraw.drawing.lettering import plain, width_of, wrap
from shopdraw.drawing.moving import moved
from shopdraw.drawing.papers import Part, page_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import NotDrawable
from shopdraw.lengths import MM_PER_INCH, Lengths
from shopdraw.review.cautions import CAUTIONS
from shopdraw.views.form_ink import (
    ASK,
    FINE,
    GAP,
    GUTTER,
    HEAD,
    LEAST_FIGURE,
    LEAST_WIDTH,
    LETTER,
    MARGIN,
    PITCH,
    ROW,
    SQUARE,
    TEXT,
    TITLE,
    Marks,
    Row,
    asked,
    box,
    dashes,
    mark,
    ring,
    span,
    table,
    words,
)

SAYS: dict[Lengths, tuple[str, str]] = {
    "in": ("INCHES", '"26 1/4 in"'), "mm": ("MILLIMETRES", '"667 mm"')
}  # fmt: skip
NOTES = (
    "Left and right are as you face the fireplace. DATUM is the level of the highest "
    "point of the hearth under the brick. Measure ALONG from the left end of the face, "
    "at its foot. Measure UP from one level line, struck at any height; below the line "
    "is minus. E, F and V are minus to the left. Type each length with its unit, in "
    "quotes: {}. Leave a box empty rather than guess: what is not given is not checked "
    "and never passes. Photograph front, jambs, any nameplate. Overleaf: what "
    "is aslant; alcoves, panels."
)
NAMES = "survey form", "SURVEY FORM"
BLANKS = (
    (0.0, "PROJECT", "job.name"),
    (0.27, "SITE", "job.site"),
    (0.56, "MEASURED BY", "job.measured_by"),
    (0.81, "DATE", "job.measured_on"),
)
LEFT: tuple[Row, ...] = (
    ("", "LENGTH", "FACE"),
    ("A", "face.width", "Foot of the face, from end to end"),
    ("B", "face.height", "Datum up to where the brick will stop"),
    ("C", "face.left_return", "Left return, along itself, to the wall"),
    ("D", "face.right_return", "Right return, along itself, to the wall"),
    ("E", "edges.left.lean", "Left end of the brick: top to the right of foot"),
    ("F", "edges.right.lean", "Right end: the same; of a return, at the wall"),
    ("", "LENGTH", "OPENING"),
    ("G", "opening.width", "Jamb to jamb, at the narrowest"),
    ("H", "opening.height", "Datum up to the head, at its lowest"),
    ("J", "opening.from_left", "Left end of the face to the left jamb"),
    ("K", "opening.corners.sag", "Sag of the head below a line from N to P"),
    ("", "ALONG UP", "ITS CORNERS, INSTEAD OF G AND J"),
    ("L", "opening.corners.bottom_left", "Foot of the left jamb"),
    ("M", "opening.corners.bottom_right", "Foot of the right jamb"),
    ("N", "opening.corners.top_left", "Top of the left jamb"),
    ("P", "opening.corners.top_right", "Top of the right jamb"),
)
RIGHT: tuple[Row, ...] = (
    ("", "ALONG UP", "HEARTH UNDER THE BRICK"),
    ("Q1", "hearth.points", "Hearth at the left end of the face"),
    ("Q2", "hearth.points", "Hearth at the left jamb"),
    ("Q3", "hearth.points", "Hearth at the middle of the opening"),
    ("Q4", "hearth.points", "Hearth at the right jamb"),
    ("Q5", "hearth.points", "Hearth at the right end of the face"),
    ("", "LENGTH", "HEARTH EXTENSION, NONCOMBUSTIBLE PART"),
    ("R", "hearth.front", "Wall as it is now, out to its front edge"),
    ("S", "hearth.left", "Opening's left edge to its left end"),
    ("T", "hearth.right", "Opening's right edge to its right end"),
    ("U", "hearth.raised", "Its top, up to the floor of the firebox"),
    ("", "LENGTH", "WOODWORK, THERE NOW OR PLANNED; MORE OVERLEAF"),
    ("V", "trim.left", "Left edge of the new brick to its left end"),
    ("W", "trim.bottom", "Datum up to its underside"),
    ("X", "trim.width", "Its width"),
    ("Y", "trim.height", "Its height"),
    ("Z", "trim.projection", "Out from the new brick, not from the wall"),
)
TENS = tuple((f"Ten {x}", f"brick.sample.{x}") for x in ("lengths", "heights"))
SINGLE = (
    ("Thickness", "brick.thickness"),
    ("Row of ten, dry", "brick.sample.row_of_ten"),
    ("Stack of ten, dry", "brick.sample.stack_of_ten"),
)
FOUND = "yes, no, not looked at"
TYPED = (
    ("Appliance", "appliance.kind", "masonry, factory-built, gas"),
    *((f"Its manual, {x}", f"appliance.manual.{x}", "") for x in ("document", "page")),
    ("Hearth", "hearth.material", "noncombustible, combustible, unknown"),
    ("Finish planned on the hearth", "hearth.later", ""),
    ("Its brick: slab below the datum", "hearth.brick.slab", ""),
    ("Slab up to the fire's floor", "hearth.brick.fire_floor", ""),
    ("Face measured to", "face.measured_to", "substrate, finish"),
    ("Material of the woodwork", "trim.material", ""),
    ("Brick into the jambs, along them", "opening.jamb_return", ""),
)
"""The question, its key if it has one, and what to tick; blank if there is nothing."""
SEEN = (
    ("Raised hearth: its top above the floor", "hearth.brick.riser", ""),
    ("Face back to the firebox", "opening.firebox", ""),
    ("Year of the house", "house.year", ""),
    ("Wall", "substrate.condition", "sound, painted, sooted, old mortar"),
    ("Smoke stains at the lintel", "house.smoke_stains", FOUND),
    *(
        (what, "fitting.name", FOUND)
        for what in ("Doors or screen", "Damper", "Air inlet", "Gas key valve")
    ),
    ("Brick into the jambs, square to the face", "opening.jamb_depth", ""),
)


def draw_form(lengths: Lengths) -> Sheet:
    """Draw the form on an upright page of the usual size for its lengths."""
    long, short = sheet_size(usual_values(lengths)["sheet"]["page"], lengths)
    return draw_form_on((float(short), float(long)), lengths)


def draw_form_on(size: tuple[float, float], lengths: Lengths) -> Sheet:
    """Draw the form on an upright page of a given width and height, in the lengths.

    Raises:
        NotDrawable: the page has no room for it.
    """
    inch = 1.0 if lengths == "in" else float(MM_PER_INCH)
    wide, high = (side / inch - 2 * MARGIN for side in size)
    above = _title(lengths, wide)
    # The boxes and the figure share the height that a page has beyond letter.
    row = ROW + max(0.0, high - LETTER) / 2 / len(LEFT)
    below = (
        table((LEFT, RIGHT), wide, row),
        _samples(wide),
        _questions(wide),
        _cautions(wide),
    )
    room = high - sum(depth + GAP for _, depth in (above, *below))
    if room < LEAST_FIGURE or wide < LEAST_WIDTH:
        message = "sheet.page: the survey form needs a page of letter or A4 at least"
        raise NotDrawable(message)
    ink: list[Ink] = []
    top = MARGIN + high
    for part, depth in (above, (tuple(_figure(wide, room)), room), *below):
        at = (MARGIN * inch, top * inch)
        ink += (moved(each, at, inch) for each in part)
        top -= depth + GAP
    return page_of(ink, NAMES, size, lengths)


def _title(lengths: Lengths, wide: float) -> Part:
    unit, example = SAYS[lengths]
    said = f'ALL LENGTHS IN {unit}:  job.lengths = "{lengths}"'
    ink: list[Ink] = [words((0, -TITLE), "SURVEY FORM", TITLE)]
    ink.append(words((wide, -TITLE), said, align="right"))
    y = -TITLE - 0.28
    ends = (*(share * wide - GUTTER for share, _, _ in BLANKS[1:]), wide)
    for (share, what, key), end in zip(BLANKS, ends, strict=True):
        ink += asked((share * wide, y), what, key, end)
    y -= 0.06
    for line in wrap(NOTES.format(example), TEXT, wide):
        y -= PITCH * TEXT
        ink.append(words((0, y), line))
    return tuple(ink), -y


def _samples(wide: float) -> Part:
    """Draw the boxes for ten brick measured one by one, and for ten laid together."""
    ink: list[Ink] = [words((0, -HEAD), "BRICK", HEAD)]
    top, first, last = -HEAD - 0.06, 0.9, wide - 2.55
    each, high, single = (last - first) / 10, 0.24, 0.2
    for place in range(10):
        at = (first + (place + 0.5) * each, -HEAD)
        ink.append(words(at, str(place + 1), FINE, "centre"))
    for row, (what, key) in enumerate(TENS):
        y = top - row * high
        ink.append(words((0, y - 0.1), what))
        ink.append(words((0, y - 0.2), key, FINE))
        ink += (box(first + place * each, y, each, high) for place in range(10))
    for row, (what, key) in enumerate(SINGLE):
        y = top - 2 * high + (3 - row) * single
        ink += asked((last + 0.12, y - 0.13), what, key)
        ink.append(box(wide - 0.6, y, 0.6, single))
    return tuple(ink), 2 * high - top


def _questions(wide: float) -> Part:
    """Draw the questions: squares to tick before their words, or a line to write on."""
    half, y = (wide - GUTTER) / 2, 0.0
    ink: list[Ink] = [words((0, -HEAD), "TICK, OR WRITE", HEAD)]
    said = "Answers without a key go into job.notes."
    ink.append(words((half + GUTTER, -HEAD), said))
    for left, questions in ((0.0, TYPED), (half + GUTTER, SEEN)):
        y = -HEAD
        for what, key, ticks in questions:
            y, x = y - ASK, left + half
            ink += asked((left, y), what, key, None if ticks else x)
            for name in reversed(ticks.split(", ") if ticks else []):
                x -= width_of(name, TEXT)
                ink.append(words((x, y), name))
                x -= SQUARE + 0.05
                ink.append(box(x, y + (SQUARE + TEXT) / 2, SQUARE, SQUARE))
                x -= 0.12
    return tuple(ink), 0.02 - y


def _cautions(wide: float) -> Part:
    """Letter every caution in full, in two columns of about the same height."""
    half, depth = (wide - GUTTER) / 2, 0.0
    ink: list[Ink] = [words((0, -HEAD), "CAUTIONS", HEAD)]
    said = (plain(f"{each.topic.upper()}: {each.words}") for each in CAUTIONS)
    texts = [wrap(words, FINE, half - 0.1) for words in said]
    splits = [(texts[:at], texts[at:]) for at in range(len(texts) + 1)]
    best = min(splits, key=lambda pair: max(sum(map(len, column)) for column in pair))
    for left, column in zip((0.0, half + GUTTER), best, strict=True):
        y = -HEAD - 0.02
        for lines in column:
            for place, line in enumerate(lines):
                y -= (PITCH if place else PITCH + 0.3) * FINE
                ink.append(words((left + (0.1 if place else 0), y), line, FINE))
        depth = max(depth, -y)
    return tuple(ink), depth


def _figure(wide: float, high: float) -> Marks:
    """Draw what each letter means, from the front and in plan, not to scale."""
    part = 0.58 * wide
    yield from _front(part, high)
    yield words((part / 2, -high), "FRONT, NOT TO SCALE", FINE, "centre")
    yield from (moved(ink, (part, 0.0)) for ink in _plan(wide - part, high))
    yield words(((wide + part) / 2, -high), "PLAN, NOT TO SCALE", FINE, "centre")


def _front(wide: float, high: float) -> Marks:
    def at(across: float, up: float, right: float = 0.0, over: float = 0.0) -> Point:
        """Return a point of the face in parts of it, and so many inches beyond."""
        x, y = 0.52 + (wide - 1.4) * across, 0.66 - high + (high - 0.96) * up
        return x + right, y + over

    places, fall, level = (0.0, 0.19, 0.5, 0.8, 1.0), 0.07, 0.25
    hearth = [at(across, 0, 0, -fall * across) for across in places]
    jambs = (hearth[1], at(0.21, 0.72), at(0.5, 0.69), at(0.82, 0.73), hearth[3])
    yield Stroke(layers.OUTLINE, (hearth[0], at(0.02, 1), at(0.98, 1), hearth[4]))
    yield Stroke(layers.OUTLINE, jambs)
    yield Stroke(layers.UNITS, (at(0, 0, -0.42, 0.01), at(1, 0, 0.42, -fall - 0.01)))
    for line in (
        (at(0.19, 0.05), at(0.8, 0.05)),
        (at(0, 1, -0.42), at(0, 1, -0.05)),
        (at(1, 0, 0.06), at(1, 0, 0.4)),
        (at(0.88, 1, 0, 0.06), at(1, 1, 0.4, 0.06)),
        (at(0, 0, 0, -0.32), at(0, 0, 0, -0.48)),
        (at(1, 0, 0, -0.32), at(1, 0, 0, -0.48)),
    ):
        yield Stroke(layers.DIMENSIONS, line)
    yield from dashes(at(0, level, -0.28), at(1, level, 0.26), dash=0.12)
    yield words(at(1, level, 0.43, -FINE / 2), "LEVEL LINE", FINE)
    yield words(at(1, 0, 0.43, -FINE / 2), "DATUM", FINE)
    left, top = at(0.12, 1, 0, 0.28)
    for dashed in (ring(left, top, at(0.86, 1)[0] - left, 0.22), (jambs[1], jambs[3])):
        yield from dashes(*dashed)
    for letter, (x, y), side in (("E", hearth[0], 1), ("F", hearth[4], -1)):
        yield from dashes((x, y), (x, top))
        y = top - 0.32
        yield from mark(letter, (x - 0.16 * side, y - 0.12), (x + 0.02 * side, y))
    for place, (x, y) in enumerate(hearth, start=1):
        yield Stroke(layers.DIMENSIONS, ((x, y), (x, at(0, level)[1])))
        yield from mark(f"Q{place}", (x, at(0, 0)[1] - 0.22), (x, y))
    for letter, (x, y), right, over in (
        ("L", jambs[0], 0.15, 0.21),
        ("M", jambs[4], -0.15, 0.25),
        ("N", jambs[1], 0.15, -0.15),
        ("P", jambs[3], -0.15, -0.15),
        ("K", at(0.5, 0.705), 0, 0.16),
    ):
        yield from mark(letter, (x + right, y + over), (x, y))
    for one in (
        ("A", at(0, 0, 0, -0.44), at(1, 0, 0, -0.44)),
        ("B", at(0, 0, -0.36), at(0, 1, -0.36)),
        ("G", at(0.2, 0.5), at(0.81, 0.5)),
        ("H", at(0.65, 0), at(0.65, 0.71)),
        ("J", at(0, 0.5), at(0.2, 0.5)),
        ("U", at(0.35, 0, 0, -0.35 * fall), at(0.35, 0.05), at(0.35, 0.05, 0.1, 0.13)),
        ("V", at(0, 1, 0, 0.17), at(0.12, 1, 0, 0.17)),
        ("W", at(1, 0, 0.34), at(1, 1, 0.34, 0.06)),
        ("X", at(0.12, 1, 0, 0.17), at(0.86, 1, 0, 0.17)),
        ("Y", at(0.89, 1, 0, 0.06), at(0.89, 1, 0, 0.28), at(0.89, 1, 0.14, 0.17)),
    ):
        yield from span(*one)


def _plan(wide: float, high: float) -> Marks:
    middle, wall, front, edge = wide / 2, -0.06, -0.36 * high, 0.2 - high
    half, deep, back = middle - 0.42, 0.22, 0.75 * wall + 0.25 * front
    jamb, end, low = 0.55 * half, half + 0.1, edge + 0.22
    wing = ((half, wall), (half, front), (jamb, front), (0.75 * jamb, back))
    left = [(middle - x, y) for x, y in ((half + 0.36, wall), *wing)]
    yield Stroke(layers.OUTLINE, (*left, *((wide - x, y) for x, y in reversed(left))))
    for side, behind, beside in ((-1, "C", "S"), (1, "D", "T")):
        x, reach, far = (middle + side * part for part in (half, jamb, end))
        yield Stroke(layers.DIMENSIONS, ((x, front - 0.05), (reach, front - 0.05)))
        yield Stroke(layers.DIMENSIONS, ((reach, front - 0.08), (reach, low - 0.04)))
        yield from span(beside, (reach, low), (far, low))
        x += 0.2 * side
        yield from span(behind, (x, front), (x, wall))
    yield Stroke(layers.UNITS, ring(middle - end, front, 2 * end, front - edge))
    yield from dashes(*ring(middle - half, front, 2 * half, deep))
    x, far = middle - (half + jamb) / 2, middle + end + 0.14
    yield from span("Z", (x, front - 0.05), (x, front - deep), (x, front - 0.4))
    yield from span("R", (far, front), (far, edge))
    yield words((middle, front + 0.2), "FIREBOX", FINE, "centre")
    yield words((middle, front - 0.15), "SHELF", FINE, "centre")
    yield words((middle, low + 0.16), "HEARTH EXTENSION", FINE, "centre")
