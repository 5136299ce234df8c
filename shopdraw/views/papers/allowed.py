"""Draw what the named rule allows woodwork over the opening, to scale.

In:  `Solution`, the room on paper.   Out: `Drawing`; None where no rule has a figure.
Frame: x out from the finished face of the brick, y up from the top of the opening.

Its figures are the envelope's, which are those that the review holds woodwork against.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import plain, width_of
from shopdraw.drawing.sheets import SCALES, STYLES, goes_into, scale_name, size_on_paper
from shopdraw.job.model_around import TrimTable
from shopdraw.lengths import format_length
from shopdraw.review.envelope import Envelope, trim_envelope
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import ring_of

FACE, LEAD, OFF = 4.0, 2.5, 1.0
"""How thick the brick is shown, how far a note stands off, how far a number is off a
level line, in heights of text."""
NOTHING = "NOTHING THAT BURNS"


def draw_allowed(solution: Solution, room: tuple[float, float]) -> Drawing | None:
    """Return the rule's envelope and the woodwork in it, as large as the room takes."""
    envelope = trim_envelope(solution.job)
    if envelope is None:
        return None
    drawing = None
    for scale, _ in SCALES[solution.job.scales]:
        drawing = _drawn(solution, envelope, scale)
        if goes_into(size_on_paper(drawing), (0.0, 0.0, *room)):
            return drawing
    return None


def trims_over(solution: Solution) -> tuple[TrimTable, ...]:
    """Return the woodwork that stands wholly above the opening, the lowest first."""
    over, left = solution.openings.outer, solution.surround.front.left
    above = [
        trim
        for trim in solution.job.trim
        if trim.bottom >= over.top
        and left + trim.left < over.right
        and left + trim.left + trim.width > over.left
    ]
    return tuple(sorted(above, key=lambda trim: trim.bottom))


def _drawn(solution: Solution, envelope: Envelope, scale: float) -> Drawing:
    text = STYLES[solution.lengths].text * scale
    ink = tuple(_ink(solution, envelope, text))
    return Drawing("allowed", "", scale, ink)


def _ink(solution: Solution, envelope: Envelope, text: float) -> Iterator[Ink]:
    lengths = solution.lengths
    high = STYLES[lengths].text
    over = solution.openings.outer.top
    trims = trims_over(solution)
    (least, first), (end, last) = envelope.corners
    out = max([float(last), *(float(trim.furthest) for trim in trims)])
    tops = [float(trim.bottom + trim.height - over) for trim in trims]
    top = max([float(end) * 1.15, *tops]) + text
    rings = _rings(solution)
    beside = out + LEAD / 2 * text
    widest = max([width_of(numbers, text) for _, numbers in rings], default=0.0)
    note = beside + widest + LEAD / 2 * text

    def words(x: float, y: float, *said: str) -> Iterator[Ink]:
        for row, line in enumerate(said):
            at = (x, y - row * 1.6 * text)
            yield Words(layers.NOTES, at, plain(line), high)

    yield Stroke(layers.OUTLINE, ring_of((-FACE * text, 0.0, 0.0, top)), closed=True)
    yield Stroke(layers.LEVELS, ((-FACE * text, 0.0), (note, 0.0)))
    yield from words(note + 0.4 * text, -0.4 * text, "TOP OF THE OPENING")
    ring = (
        *((0.0, float(least)), (float(first), float(least))),
        *((float(last), float(end)), (0.0, float(end))),
    )
    yield Stroke(layers.DIMENSIONS, ring, closed=True)
    for up, allowed in envelope.corners:
        y = float(up)
        yield Stroke(layers.LEVELS, ((float(allowed), y), (note, y)))
        distance, most = (format_length(x, lengths) for x in (up, allowed))
        said = f"{distance} UP: {most} OUT AT THE MOST"
        yield from words(note + 0.4 * text, y - 0.4 * text, said)
    below = f"{NOTHING} BELOW {format_length(least, lengths)}"
    yield from words(note + 0.4 * text, float(least) / 2, below)
    past = "PAST IT THE RULE SETS NO LIMIT" if envelope.reach is not None else ""
    if past:
        yield from words(note + 0.4 * text, float(end) - 2.1 * text, past)
    levels = tuple(float(up) for up, _ in envelope.corners)
    yield from _woodwork(rings, beside, levels, text, high)


def _rings(solution: Solution) -> list[tuple[tuple[Point, ...], str]]:
    """Return each outline of woodwork, the lowest first, with its numbers."""
    over = solution.openings.outer.top
    alike: dict[tuple[Point, ...], list[TrimTable]] = {}
    for trim in trims_over(solution):
        low = level = float(trim.bottom - over)
        steps = [(float(x.reach), float(x.projection)) for x in trim.steps]
        steps = steps or [(float(trim.height), float(trim.furthest))]
        points = [(0.0, low)]
        for number, (up, out) in enumerate(steps, start=1):
            points.append((out, level))
            level = low + float(trim.height) if number == len(steps) else level + up
            points.append((out, level))
        alike.setdefault((*points, (0.0, level)), []).append(trim)
    return [
        (ring, ", ".join(number_of(solution, trim) for trim in trims))
        for ring, trims in sorted(alike.items(), key=lambda item: item[0][0][1])
    ]


def _woodwork(
    rings: list[tuple[tuple[Point, ...], str]],
    x: float,
    levels: tuple[float, ...],
    text: float,
    high: float,
) -> Iterator[Ink]:
    """Draw woodwork as the job states it, alike ones once, with their numbers at x.

    They stand on the side that woodwork is on, off the levels that run there: no leader
    crosses the brick.
    """
    last = -10.0 * text
    for ring, numbers in rings:
        yield Stroke(layers.OTHERS, ring, closed=True)
        middle = (ring[0][1] + ring[-1][1]) / 2
        edge = next(a[0] for a, b in pairwise(ring[1:]) if a[1] <= middle <= b[1])
        y = max(middle, last + 1.7 * text)
        for level in levels:
            if abs(y - level) < OFF * text:
                y = level + OFF * text
        yield Words(layers.NOTES, (x, y - 0.5 * text), numbers, high)
        yield Stroke(layers.NOTES, ((edge, middle), (x - 0.4 * text, y)))
        last = y


def number_of(solution: Solution, trim: TrimTable) -> str:
    """Return a piece of woodwork's number: its place in the job."""
    return str(solution.job.trim.index(trim) + 1)


def named_scale(solution: Solution, drawing: Drawing) -> str:
    """Return how the scale of the drawing is lettered."""
    return scale_name(drawing.scale, solution.job.scales)
