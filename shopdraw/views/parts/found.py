"""Draw what was found and what stays: hearth, level line, true outline, woodwork.

In:  `Job`, `Surround`, `Coursing`, `Layout`, the scale.   Out: ink.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from math import inf

from shopdraw.drawing.ink import Ink, Stroke, Words
from shopdraw.drawing.lettering import plain, width_of
from shopdraw.drawing.sheets import STYLES, PaperStyle
from shopdraw.job.model import Job
from shopdraw.job.model_around import TrimTable
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.form import Face, Surround, x_at
from shopdraw.masonry.wall.layout import Layout
from shopdraw.masonry.wall.surround import opening_ring
from shopdraw.views.parts.strings import top_of

DIMS = "A-ANNO-DIMS"
NOTE = "A-ANNO-NOTE"
OTHERS = "A-ELEV-OTHR-E"
LEVELS = "A-ELEV-CNTR"
Spot = tuple[Fraction, Fraction]


def outline_front(
    surround: Surround, coursing: Coursing, layout: Layout, dx: float
) -> Iterator[Ink]:
    """Outline the face round the opening, as both really are."""
    built, front = surround.as_built, surround.front
    top = top_of(coursing)
    feet = opening_ring(surround, coursing.head, layout.arch, surround.opening.covered)
    ring = [
        *front_end(surround, front.left, top, down=True),
        *built.hearth.between(front_end(surround, front.left, top)[0][0], feet[0][0]),
        *(feet[0], *reversed(feet[1:])),
        *built.hearth.between(feet[1][0], front_end(surround, front.right, top)[0][0]),
        *front_end(surround, front.right, top),
    ]
    points = tuple((float(x) + dx, float(y)) for x, y in dict.fromkeys(ring))
    yield Stroke("A-ELEV-OTLN", points, closed=True)


def front_end(
    surround: Surround, x: Fraction, top: Fraction, *, down: bool = False
) -> list[Spot]:
    """Return an end of the front, from its foot on the hearth to the top, or down."""
    line = face_end(surround, surround.front, x, top)
    return line[::-1] if down else line


def face_end(surround: Surround, face: Face, x: Fraction, top: Fraction) -> list[Spot]:
    """Return an end of a face, from its foot on the hearth to the top."""
    built = surround.as_built
    ends = ((surround.faces[0], "left"), (surround.faces[-1], "right"))
    for line, (last, side) in zip(built.ends, ends, strict=True):
        if last is face and x == getattr(face, side):
            foot = line[0][0]
            return [(foot, built.hearth.at(foot)), (x_at(line, top), top)]
    return [(x, surround.hearth_under(face).at(x)), (x, top)]


def face_outline(surround: Surround, face: Face, top: Fraction) -> list[Spot]:
    """Return a face's ring: along the hearth, then up the right end, down the left."""
    left = face_end(surround, face, face.left, top)
    right = face_end(surround, face, face.right, top)
    floor = surround.hearth_under(face).between(left[0][0], right[0][0])
    return [*floor, right[1], left[1]]


def head_over(
    surround: Surround, coursing: Coursing, layout: Layout, x: Fraction
) -> Fraction:
    """Return the level of the head or soffit of the finished opening at a place."""
    ring = opening_ring(surround, coursing.head, layout.arch, surround.opening.covered)
    soffit = ring[2:]
    return next(
        y1 + (y2 - y1) * (x - x1) / (x2 - x1)
        for (x1, y1), (x2, y2) in pairwise(soffit)
        if x2 <= x <= x1
    )


def draw_existing(
    job: Job, surround: Surround, coursing: Coursing, scale: float, style: PaperStyle
) -> Iterator[Ink]:
    """Draw the hearth as found, the level line, and the woodwork of others."""
    width, dx = float(surround.front.width), -float(surround.front.left)
    beyond = 3 * style.text * scale
    hearth = surround.as_built.hearth
    spots = [(float(x) + dx, float(y)) for x, y in hearth.points]
    inside = [spot for spot in spots if 0.0 < spot[0] < width]
    ends = [float(hearth.at(x)) for x in (surround.front.left, surround.front.right)]
    ground = (
        (-beyond, ends[0]),
        (0.0, ends[0]),
        *inside,
        (width, ends[1]),
        (width + beyond, ends[1]),
    )
    yield Stroke(OTHERS, ground)
    if any(y for _, y in ground):
        # Where the hearth is not level, the line that it is measured from is drawn.
        jambs = [float(x) + dx for x in (surround.opening.left, surround.opening.right)]
        yield Stroke(LEVELS, ((-beyond, 0.0), (0.0, 0.0)))
        yield Stroke(LEVELS, ((jambs[0], 0.0), (jambs[1], 0.0)))
    for trim in job.trim:
        a, b = float(trim.left), float(trim.left + trim.width)
        c, d = float(trim.bottom), float(trim.bottom + trim.height)
        yield Stroke(OTHERS, ((a, c), (b, c), (b, d), (a, d)), closed=True)
        words = f"{plain(trim.name).upper()} (BY OTHERS)"
        if is_clear(trim, coursing) and (
            width_of(words, style.text) * scale < (b - a) * 0.95
            and (d - c) / scale > 1.4 * style.text
        ):
            at = ((a + b) / 2, (c + d) / 2)
            yield Words(OTHERS, at, words, style.text, "centre", "middle")


def is_clear(trim: TrimTable, coursing: Coursing) -> bool:
    """Whether woodwork stands above the brick, where its name crosses no mark."""
    return trim.bottom >= top_of(coursing)


def hearth_drops(
    job: Job, surround: Surround, scale: float, foot: float
) -> Iterator[Ink]:
    """Letter how far the hearth lies below the level line, where that was measured."""
    front, hearth = surround.front, surround.as_built.hearth
    if not any(y for _, y in hearth.points):
        return
    style = STYLES[job.lengths]
    dx = -float(front.left)
    places = {min(max(x, front.left), front.right) for x, _ in hearth.points}
    taken = [-inf, -inf]
    for place in sorted(places):
        words = format_length(-hearth.at(place), job.lengths)
        half = width_of(words, style.text) / 2 * scale
        at = float(place) + dx
        row = 0 if at - half > taken[0] + style.text * scale else 1
        taken[row] = at + half
        y = foot - (1.2 + 1.6 * row) * style.text * scale
        yield Words(DIMS, (at, y), words, style.text, "centre", "top")
        yield Stroke(
            DIMS, ((at, float(hearth.at(place))), (at, y + 0.3 * style.text * scale))
        )
    x = -3.0 * style.text * scale
    at_left = (x, foot - 1.2 * style.text * scale)
    yield Words(NOTE, at_left, "HEARTH BELOW LEVEL LINE", style.small, "right", "top")


def lowest_of(surround: Surround) -> float:
    """Return the lowest level of the hearth under the front."""
    front = surround.front
    heights = surround.as_built.hearth.over(front.left, front.right)
    return min(0.0, *(float(y) for y in heights))


def reach_of(job: Job, surround: Surround) -> tuple[float, float]:
    """Return how far brick and woodwork reach to either side of the drawing."""
    lefts = [float(trim.left) for trim in job.trim]
    rights = [float(trim.left + trim.width) for trim in job.trim]
    return min([0.0, *lefts]), max([float(surround.front.width), *rights])
