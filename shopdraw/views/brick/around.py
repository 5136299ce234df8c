"""Draw and name what is fixed on the face, and cloud what fails a clearance there.

In:  `Solution`, the drawing so far.   Out: ink, the drawing with its words.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import NamedTuple

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, plain, wrap
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model_around import TrimTable
from shopdraw.job.model_review import FittingTable
from shopdraw.solution import Solution
from shopdraw.views.brick.leaders import with_led_words
from shopdraw.views.parts.clouds import CLOUD, clouds_round, fails_words
from shopdraw.views.parts.figures import ring_of
from shopdraw.views.parts.found import box_on_face, is_clear

WANTS = {
    "clear": "STAYS CLEAR",
    "cut round": "CUT BRICK ROUND IT ON SITE",
    "may be covered": "MAY BE COVERED",
}
"""What is lettered of a fitting, by what the job says of it."""
WIDE = 14.0
"""How wide a line of it may be, in heights of lettering."""


class Failed(NamedTuple):
    """What fails on the front: its table, its findings' numbers, and where it is."""

    table: TrimTable | FittingTable
    numbers: tuple[int, ...]
    box: Box


def draw_fittings(solution: Solution) -> Iterator[Stroke]:
    """Outline every fitting where it is, whether brick lies over it or not."""
    for fitting in solution.job.fitting:
        yield Stroke(layers.OTHERS, ring_of(box_on_face(fitting)), closed=True)


def failures(solution: Solution) -> Iterator[Failed]:
    """Yield the woodwork and the fittings that a finding fails."""
    job = solution.job
    tables: dict[str, Sequence[TrimTable | FittingTable]] = {
        "trim": job.trim,
        "fitting": job.fitting,
    }
    for kind, listed in tables.items():
        for place, table in enumerate(listed, start=1):
            numbers = tuple(
                number
                for number, finding in enumerate(solution.findings, start=1)
                if finding.status == "failed"
                and finding.rule.key.split("-")[0] == kind
                and finding.rule.about == place
            )
            if numbers:
                yield Failed(table, numbers, box_on_face(table))


def cloud_failures(solution: Solution, scale: float) -> Iterator[Stroke]:
    """Draw a cloud round whatever fails on the front."""
    text = STYLES[solution.lengths].text * scale
    for failed in failures(solution):
        yield from clouds_round((failed.box,), text)


def with_names(solution: Solution, drawing: Drawing) -> Drawing:
    """Letter what has no name yet, and the numbers of the findings that fail.

    What has its name at a leader has the numbers there, too: one leader, not two.
    """
    failing = {id(failed.table): failed for failed in failures(solution)}
    lettered = {ink.text for ink in drawing.ink if isinstance(ink, Words)}
    text = STYLES[solution.lengths].text * drawing.scale
    for fitting in solution.job.fitting:
        said = f"{plain(fitting.name).upper()}, BY OTHERS: {WANTS[fitting.wants]}"
        lines = (*_in_lines(solution, said), *_numbers_of(solution, failing, fitting))
        drawing = _led(solution, drawing, lines, *_spots_in(box_on_face(fitting)))
    for trim in solution.job.trim:
        name = f"{plain(trim.name).upper()}, BY OTHERS"
        if name not in lettered and is_clear(trim, solution.coursing):
            lines = (name, *_numbers_of(solution, failing, trim))
            drawing = _led(solution, drawing, lines, *_spots_in(box_on_face(trim)))
    # A cloud has several spots to lead from, so that it makes way for a name's leader.
    for failed in failing.values():
        spots = _on_edge(_about(failed.box, (CLOUD + 0.5) * text))
        lines = _in_lines(solution, fails_words(failed.numbers))
        drawing = _led(solution, drawing, lines, spots)
    return drawing


def _numbers_of(
    solution: Solution, failing: dict[int, Failed], table: TrimTable | FittingTable
) -> tuple[str, ...]:
    """Take out what is lettered of the findings that something fails, in lines."""
    failed = failing.pop(id(table), None)
    return () if failed is None else _in_lines(solution, fails_words(failed.numbers))


def _led(
    solution: Solution,
    drawing: Drawing,
    words: tuple[str, ...],
    spots: tuple[Point, ...],
    instead: tuple[Point, ...] = (),
) -> Drawing:
    """Letter words at a leader to one of some spots."""
    dx, text = -float(solution.surround.front.left), STYLES[solution.lengths].text
    pieces = solution.layout.pieces
    given = pieces, {"front"}, dx, text, drawing
    return with_led_words(words, spots, *given, instead=instead)


def _about(box: Box, by: float) -> Box:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _in_lines(solution: Solution, words: str) -> tuple[str, ...]:
    height = STYLES[solution.lengths].text
    return wrap(words, height, WIDE * height)


def _on_edge(box: Box) -> tuple[Point, ...]:
    """Return a point on each side of a box: the leader's end, at the cloud there."""
    left, low, right, top = box
    aside, up = 0.3 * left + 0.7 * right, (low + top) / 2
    return (aside, top), (aside, low), (left, up), (right, up)


def _spots_in(box: Box) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """Return where a leader ends in a box: its middle, or else nearer to a corner."""
    left, low, right, top = box
    middle, *others = (
        (left + aside * (right - left), low + up * (top - low))
        for aside, up in ((0.5, 0.5), *product((0.2, 0.8), repeat=2))
    )
    return (middle,), tuple(others)
