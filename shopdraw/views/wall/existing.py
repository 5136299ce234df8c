"""Draw a unit's flange on the elevation; name what stands beside the brick.

In:  `Solution`, the drawing so far.   Out: ink, the drawing with its words.
Frame: full size; x from the left end of the front's finished face, y up from the datum.

A job says how far framing, floor and finishes are from the masonry, or from the lining
of the firebox, and not where those lie on the face. So they have no place on the
elevation: they are named in a note, and one that fails is clouded there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.extents import extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.lettering import Box, box_of, plain, wrap
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.job.model_review import BesideTable
from shopdraw.lengths import format_length
from shopdraw.solution import Solution
from shopdraw.views.brick.leaders import with_led_words
from shopdraw.views.parts.clouds import clouds_round, fails_words
from shopdraw.views.parts.figures import ring_of
from shopdraw.views.parts.found import reach_of

LISTED = ("factory-built", "gas")
"""What has a finishing flange."""
PITCH, BETWEEN, APART = 1.8, 0.6, 4.0
"""From one line of the note to the next, more from one thing to the next, and about
what is clouded, in heights of lettering."""
WIDE, LED = 30.0, 14.0
"""How wide the note is at the least, and what is led to the flange at the most, in
heights of lettering."""
HEADING = "NOT DRAWN, SIZE OR PLACE NOT GIVEN:"
UP = (0.3, 0.4, 0.5, 0.6, 0.7)
"""How far up the flange its leader may end."""
FROM_FACE, BELOW = 4.0, 3.0
"""Where it begins: right of all brick and woodwork, as the heights do, and below what
else is lettered there."""
Entry = tuple[str, tuple[int, ...]]
"""What is said of one thing, its figures each at the beginning of a line, where none is
broken; and the findings that it fails."""


def draw_flange(solution: Solution) -> Iterator[Stroke]:
    """Outline the finishing flange, hidden where the brick lies over any of it."""
    box = _flange_box(solution)
    if box is not None:
        layer = layers.HIDDEN if _is_covered(solution, box) else layers.OTHERS
        yield Stroke(layer, ring_of(box), closed=True)


def with_existing(solution: Solution, drawing: Drawing) -> Drawing:
    """Name the flange, and whatever beside the brick has no place to be drawn in."""
    box = _flange_box(solution)
    if box is not None:
        drawing = _with_flange_named(solution, drawing, box)
    entries = list(_entries(solution))
    if not entries:
        return drawing
    return replace(drawing, ink=(*drawing.ink, *_note(solution, drawing, entries)))


def _flange_box(solution: Solution) -> Box | None:
    """Return where a flange lies round the opening as found; None without its width."""
    wide, found = solution.job.appliance.flange_width, solution.openings.found
    if wide is None or solution.job.appliance.kind not in LISTED:
        return None
    left = solution.surround.front.left
    sides = found.left - left - wide, found.right - left + wide
    return float(sides[0]), 0.0, float(sides[1]), float(found.top + wide)


def _is_covered(solution: Solution, box: Box) -> bool:
    """Whether the flange reaches past the edge of the finished opening."""
    inside, start = solution.openings.finished, solution.surround.front.left
    left, right = float(inside.left - start), float(inside.right - start)
    return box[0] < left or box[2] > right or box[3] > float(inside.top)


def _with_flange_named(solution: Solution, drawing: Drawing, box: Box) -> Drawing:
    job = solution.job
    across = job.appliance.flange_width or Fraction(0)
    wide = format_length(across, job.lengths)
    said = f"FLANGE OF THE {_unit(job)}, BY OTHERS:\n{wide} WIDE\n{_out(job)}"
    if _is_covered(solution, box):
        said += "\nBRICK LIES OVER IT"
    dx, text = -float(solution.surround.front.left), STYLES[solution.lengths].text
    spots = tuple((x, up * box[3]) for x in (box[2], box[0]) for up in UP)
    lines, pieces = _lines(said, text, LED * text), solution.layout.pieces
    return with_led_words(lines, spots, pieces, {"front"}, dx, text, drawing)


def _unit(job: Job) -> str:
    return "GAS UNIT" if job.appliance.kind == "gas" else "FACTORY-BUILT UNIT"


def _out(job: Job) -> str:
    """Say how far the flange stands out."""
    flange = job.appliance.flange
    if flange is None:
        return "HOW FAR IT STANDS OUT: NOT GIVEN"
    return f"{format_length(flange, job.lengths)} OUT FROM THE WALL"


def _entries(solution: Solution) -> Iterator[Entry]:
    """Yield what the note has to say, of one thing after another."""
    job = solution.job
    if (
        job.appliance.kind in LISTED
        and job.appliance.flange_width is None
        and job.appliance.flange != 0
    ):
        yield f"FLANGE OF THE {_unit(job)}: WIDTH NOT GIVEN\n{_out(job)}", ()
    for place, beside in enumerate(job.beside, start=1):
        row = solution.row("beside", place)
        is_failed = row is not None and row[1].status == "failed"
        numbers = (row[0],) if row is not None and is_failed else ()
        yield _said_of(job, beside), numbers


def _said_of(job: Job, beside: BesideTable) -> str:
    """Say what stands beside the brick, and how far off."""
    far, where = beside.to_lining, "THE INSIDE OF THE FIREBOX LINING"
    if beside.kind == "framing":
        far, where = beside.to_masonry, "THE FIREPLACE'S MASONRY"
    said = f"{plain(beside.name).upper()}, {beside.kind.upper()} BESIDE THE BRICK"
    if not beside.combustible:
        said += ", NONCOMBUSTIBLE AS TYPED"
    if far is None:
        return f"{said}: DISTANCE NOT GIVEN"
    return f"{said}:\n{format_length(far, job.lengths)} FROM {where}"


def _lines(said: str, height: float, wide: float) -> tuple[str, ...]:
    """Break what is said into lines, after each of its own line ends too."""
    return tuple(line for part in said.split("\n") for line in wrap(part, height, wide))


def _note(solution: Solution, drawing: Drawing, entries: list[Entry]) -> Iterator[Ink]:
    """Letter the note at the lower right, and cloud what fails."""
    height, scale = STYLES[solution.lengths].text, drawing.scale
    text = height * scale
    x = reach_of(solution)[1] + FROM_FACE * text
    wide = max(WIDE * height, (extent_of(drawing)[2] - x) / scale)
    lows = [box[1] for _, box in lettering_of(drawing) if box[2] > x]
    y = min([0.0, *lows]) - BELOW * text
    above: tuple[int, ...] = ()
    for said, numbers in ((HEADING, ()), *entries):
        lines = [*_lines(said, height, wide)]
        if numbers:
            lines.append(fails_words(numbers))
        y -= (APART - PITCH if numbers or above else BETWEEN) * text
        lettered = [
            Words(layers.NOTES, (x, y - row * PITCH * text), line, height)
            for row, line in enumerate(lines)
        ]
        yield from lettered
        if numbers:
            boxes = [box_of(each, scale) for each in lettered]
            yield from clouds_round([_around(boxes)], text)
        y -= len(lines) * PITCH * text
        above = numbers


def _around(boxes: list[Box]) -> Box:
    lefts, lows, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(lows), max(rights), max(tops)
