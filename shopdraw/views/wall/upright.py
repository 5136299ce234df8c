"""Draw the section through the opening, on its centre line, hearth to woodwork.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; x from the finished face back into the wall, the room at negative x;
y from the datum.

Each clearance reviewed there is drawn where it was measured, with the figure measured
and the figure required; one without a figure is lettered as not checked.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.job.model_around import TrimTable
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.hearth.cuts import cut_hearth
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.laying.form import Cut
from shopdraw.review.findings import Finding, Key, in_words
from shopdraw.solution import Solution
from shopdraw.views.brick.units import layer_of
from shopdraw.views.parts.aslant import ends_of_jambs, seen_in_section
from shopdraw.views.parts.figures import (
    SHORT,
    Hand,
    break_line,
    cut_through,
    draw_backing,
    hatch,
    points_of,
    ring_of,
    wall_behind,
)
from shopdraw.views.parts.found import cut_at_centre, head_at_centre, seen_beyond

ZERO = Fraction(0)
NOTHING = "NONE BEFORE THE FACE"
"""What is lettered of a hearth that ends at the wall, or under the brick."""
KEYED: tuple[tuple[Key, str], ...] = (
    ("trim-distance", "distance"),
    ("trim-projection", "projection"),
)
"""The findings that are lettered beside woodwork, and their names there."""


def draw_upright_section(solution: Solution, scale: float) -> Drawing:
    """Draw hearth, extension, opening, head, brick, wall and woodwork in section."""
    job, surround, coursing = solution.job, solution.surround, solution.coursing
    hand = Hand(job.lengths, scale)
    centre = surround.opening.centre
    head = head_at_centre(solution)
    top = coursing.top
    thick, reach = float(job.brick.thickness), float(surround.build_out)
    wall, fire = reach + max(4.5 * thick, 5 * hand.text), reach
    if surround.reveals:
        (_, deep), _ = ends_of_jambs(solution)
        fire = deep + hand.text
        wall = max(wall, fire + hand.text)
    floor = float(surround.as_built.hearth.at(centre))
    trims = _trims_over(solution, head)
    roof = max([float(top), *(float(t.bottom + t.height) for t in trims)])
    roof += 2.0 * hand.text
    cuts = cut_at_centre(solution)
    ink: list[Ink] = [
        *(each for cut in cuts for each in cut_through(points_of(cut))),
        *(
            each
            for cut in _hearth_cuts(solution)
            for each in cut_through(points_of(cut))
        ),
        Stroke(layers.OTHERS, ((reach, float(head)), (wall, float(head)))),
        *wall_behind((reach, wall), (float(head), roof), hand),
        *draw_backing(coursing.corbelled, reach, hand),
        *_jamb(solution, reach, float(head), floor),
        *_hearth(solution, (wall, floor), hand),
        *(line for trim in trims for line in _woodwork(trim, reach)),
        *_clearances(solution, trims, head, hand),
        *_heights(coursing, (floor, head), _before(solution, trims, hand), hand),
        *_notes(
            job,
            (thick, reach, wall, fire),
            (float(head), float(_flush(coursing))),
            hand,
        ),
        *_corbel(coursing, reach, wall, hand),
    ]
    title = "SECTION THROUGH THE OPENING"
    return Drawing("upright-section", title, scale, tuple(ink))


def _jamb(solution: Solution, reach: float, head: float, floor: float) -> Iterator[Ink]:
    """Draw the brick of the jamb seen beyond the section, and the wall's edge.

    Where brick turns into the jambs the wall is behind it.
    """
    if solution.surround.reveals:
        for piece, _, ring in seen_in_section(solution):
            yield Stroke(layer_of(piece), ring, closed=True)
        return
    thick = float(solution.job.brick.thickness)
    for bottom, top in seen_beyond(solution):
        low = max(float(bottom), floor)
        if float(top) > low:
            ring = ring_of((0.0, low, thick, float(top)))
            yield Stroke(layers.UNITS, ring, closed=True)
    yield Stroke(layers.OTHERS, ((reach, head), (reach, floor)))


def _hearth_cuts(solution: Solution) -> tuple[Cut, ...]:
    """Return the hearth's own brick that the section cuts."""
    hearth = solution.hearth
    if hearth is None:
        return ()
    left, right = hearth.ground.opening
    return cut_hearth(hearth, (left + right) / 2)


def _brick_hearth(hearth: BrickHearth, wall: float, hand: Hand) -> Iterator[Ink]:
    """Draw what a hearth of brick is laid on, and where the firebox begins."""
    ground = hearth.ground
    face, drop = float(ground.face), float(ground.drop)
    inner = -face + float(ground.build_out)
    under = -drop - 3.0 * hand.text
    if hearth.riser is not None:
        under = -float(hearth.riser.height)
        ends = ((-face - 2.0 * hand.text, under), (inner, under))
        yield Stroke(layers.OTHERS, ends)
    slab = ((inner, under), (inner, -drop), (wall, -drop), (wall, under))
    yield Stroke(layers.OTHERS, slab[:3])
    yield from hatch(slab, 2.2 * hand.text)
    yield break_line((inner, under), (wall, under), 0.8 * hand.text)
    if ground.firebox is not None:
        x = float(ground.firebox) - face
        yield Stroke(layers.LEVELS, ((x, -drop), (x, 3.0 * hand.text)))


def _hearth(solution: Solution, at: tuple[float, float], hand: Hand) -> Iterator[Ink]:
    """Draw the hearth as far as its front edge, and how deep it is before the face."""
    job, (wall, floor) = solution.job, at
    if solution.hearth is not None:
        ground, riser = solution.hearth.ground, solution.hearth.riser
        yield from _brick_hearth(solution.hearth, wall, hand)
        under = -float(riser.height) if riser else -float(ground.drop) - 3.0 * hand.text
        y = under - 3.4 * hand.text
        yield from _extension(solution, -float(ground.face), y, hand)
        return
    found = job.hearth.front if job.hearth else None
    out = SHORT[job.lengths] if found is None else found
    edge = float(solution.surround.build_out - out)
    deep = 3.0 * hand.text
    yield Stroke(layers.OTHERS, ((wall, floor), (edge, floor), (edge, floor - deep)))
    slab = ((edge, floor - deep), (edge, floor), (wall, floor), (wall, floor - deep))
    yield from hatch(slab, 2.2 * hand.text)
    yield break_line((edge, floor - deep), (wall, floor - deep), 0.8 * hand.text)
    yield from _extension(solution, edge, floor - deep - 3.4 * hand.text, hand)


def _extension(solution: Solution, edge: float, y: float, hand: Hand) -> Iterator[Ink]:
    """Draw the depth measured before the face and the depth required, from `y` down."""
    surround, finding = solution.surround, solution.finding("hearth-front")
    if finding is None:
        return
    # Cleared with the thickest bed: the face may stand out so much further.
    face = surround.build_out - surround.build_out_most
    for name, length in (("MEASURED", finding.measured), ("REQUIRED", finding.limit)):
        if length is None:
            continue
        if length > 0:
            yield from hand.string("x", (face - length, face), y)
        words = name if length > 0 else f"{name}: {NOTHING}"
        yield _label(solution.job, (float(face) + hand.text, y), words)
        y -= 3.2 * hand.text
    yield hand.caption((edge, y), f"HEARTH EXTENSION: {_verdict(finding)}", "left")


def _verdict(finding: Finding) -> str:
    return finding.status.upper()


def _label(job: Job, at: Point, words: str) -> Words:
    return Words(layers.NOTES, at, words, STYLES[job.lengths].small, "left", "middle")


def _trims_over(solution: Solution, head: Fraction) -> list[TrimTable]:
    """Return the woodwork that the section cuts above the opening, the lowest first."""
    centre = solution.surround.opening.centre - solution.surround.front.left
    met = [
        trim
        for trim in solution.job.trim
        if trim.left <= centre <= trim.left + trim.width and trim.bottom >= head
    ]
    return sorted(met, key=lambda trim: trim.bottom)


def _woodwork(trim: TrimTable, reach: float) -> Iterator[Ink]:
    """Draw a piece of woodwork in section, step by step from its underside up."""
    low, high = float(trim.bottom), float(trim.bottom + trim.height)
    steps = [(float(s.reach), float(s.projection)) for s in trim.steps]
    if not steps:
        steps = [(high - low, float(trim.projection or ZERO))]
    points: list[Point] = [(reach, low)]
    level = low
    for place, (up, out) in enumerate(steps):
        last = place == len(steps) - 1
        points.append((-out, level))
        level = high if last else level + up
        points.append((-out, level))
    yield Stroke(layers.OTHERS, (*points, (reach, high)), closed=True)


def _clearances(
    solution: Solution, trims: list[TrimTable], head: Fraction, hand: Hand
) -> Iterator[Ink]:
    """Letter each piece of woodwork's distance and projection, with their limits."""
    x = _before(solution, trims, hand)
    for trim in trims:
        yield Stroke(
            layers.LEVELS, ((x, float(trim.bottom)), (0.0, float(trim.bottom)))
        )
        if trim.bottom > head:
            yield from hand.string("y", (head, trim.bottom), x)
        lines = [plain(trim.name).upper()]
        place = solution.job.trim.index(trim) + 1
        for key, what in KEYED:
            finding = solution.finding(key, place)
            if finding is not None:
                lines.append(_asked(finding, what, hand, most=what == "projection"))
        y = float(trim.bottom + trim.height) - 0.5 * hand.text
        wide = max(hand.width(line) for line in lines)
        for line in lines:
            y -= 1.8 * hand.text
            at = (x - 8.0 * hand.text - wide, y)
            yield hand.caption(at, line, "left")
        x -= wide + 11.0 * hand.text
    if trims:
        yield Stroke(layers.LEVELS, ((x, float(head)), (0.0, float(head))))


def _before(solution: Solution, trims: list[TrimTable], hand: Hand) -> float:
    """Return where the first string stands, in front of brick and woodwork."""
    noses = [float(solution.coursing.projection)]
    return -max([*noses, *(float(trim.furthest) for trim in trims)]) - 3.0 * hand.text


def _flush(coursing: Coursing) -> Fraction:
    """Return the level up to which the brick over the opening is flush."""
    out = coursing.corbelled
    return out[0].bottom if out else coursing.top


def _corbel(coursing: Coursing, reach: float, wall: float, hand: Hand) -> Iterator[Ink]:
    """Name the backing of the courses that project, and how far they stand out."""
    out = coursing.corbelled
    if not out:
        return
    last = out[-1]
    nose = format_length(last.projection, hand.lengths)
    level = float(last.bottom + last.top) / 2
    rows: tuple[tuple[Point, str], ...] = (
        (
            (reach - float(last.projection) / 2, level),
            f"CORBEL {nose} PROUD, BACKING BY OTHERS",
        ),
    )
    yield from hand.leaders(rows, wall + 3.0 * hand.text)


def _asked(finding: Finding, what: str, hand: Hand, *, most: bool) -> str:
    """Letter one clearance: its figure, its limit, and whether it passed."""
    found, limit = finding.measured, finding.limit
    words = what.upper()
    if found is not None:
        words += f" {in_words(found, hand.lengths, up=most).upper()}"
    if limit is not None:
        word = "MAX" if most else "MIN"
        words += f" ({word} {in_words(limit, hand.lengths, up=not most).upper()})"
    return f"{words}: {_verdict(finding)}"


def _heights(
    coursing: Coursing, levels: tuple[float, Fraction], before: float, hand: Hand
) -> Iterator[Ink]:
    """Dimension opening and face from the datum up."""
    floor, head = levels
    x = before - 4.5 * hand.text
    yield from hand.string("y", (ZERO, head, coursing.top), x)
    end = x - 3.0 * hand.text
    yield Stroke(layers.LEVELS, ((end, 0.0), (0.0, 0.0)))
    # Between the legs the hearth may be higher than under them.
    at, small = (end, max(0.0, floor) + 0.5 * hand.text), STYLES[hand.lengths].small
    yield Words(layers.NOTES, at, "DATUM 0", small, "right", "foot")


def _notes(
    job: Job,
    across: tuple[float, float, float, float],
    levels: tuple[float, float],
    hand: Hand,
) -> Iterator[Ink]:
    """Name each material, behind the wall."""
    thick, reach, wall, fire = across
    head, top = levels
    bed = format_length(job.setting_bed.mean, job.lengths)
    rows: tuple[tuple[Point, str], ...] = (
        ((thick / 2, head + 0.8 * (top - head)), "THIN BRICK"),
        (((thick + reach) / 2, head + 0.6 * (top - head)), f"SETTING BED, {bed} MEAN"),
        (
            ((reach + wall) / 2, head + 0.4 * (top - head)),
            "LINTEL AND WALL BY OTHERS, VERIFY",
        ),
        ((thick / 2, 0.5 * head), "JAMB BEYOND"),
        ((fire, 0.4 * head), "FIREBOX: ADHERE NOTHING INSIDE"),
    )
    yield from hand.leaders(rows, wall + 3.0 * hand.text)
