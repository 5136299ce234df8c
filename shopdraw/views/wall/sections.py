"""Draw the section at the head and the plan of a jamb, at large scale.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size. Head: x from the finished face back into the wall, y from the datum.
Jamb: x along the front from the opening's edge, y back from the finished face.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import inf

from shopdraw.drawing import layers
from shopdraw.drawing.dimensions import levels_used
from shopdraw.drawing.extents import about
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.job.model_around import TrimTable
from shopdraw.job.model_head import ARCHES
from shopdraw.job.turning import taken_at_mitre
from shopdraw.lengths import format_length
from shopdraw.masonry.laying.cuts import cut_level
from shopdraw.masonry.laying.form import Cut
from shopdraw.masonry.wall.form import Surround
from shopdraw.solution import Solution
from shopdraw.views.parts.aslant import seen_in_section
from shopdraw.views.parts.figures import (
    Hand,
    break_line,
    cut_off,
    cut_through,
    draw_backing,
    hatch,
    heights_of,
    inside_of,
    points_of,
    ring_of,
    wall_pattern,
)
from shopdraw.views.parts.found import (
    cut_at_centre,
    head_at_centre,
    seen_beyond,
    top_of,
)
from shopdraw.views.parts.heights import crown_of
from shopdraw.views.parts.phrases import edge_letters

LEDGER_DEEP = {"in": 1.5, "mm": 38.0}
"""A ledger of dressed timber, as drawn."""
WALL_SHOWN = 4.5
"""How much of the wall behind the bed is drawn, in thicknesses of the brick."""
NEAR = {"in": Fraction(6), "mm": Fraction(150)}
"""Woodwork no further above the brick than this is drawn with it."""


def draw_head_section(solution: Solution, scale: float) -> Drawing:
    """Draw the section at the head, on the opening's centre line.

    Brick, bed, wall and ledger above the opening, its jamb beyond, woodwork above.
    """
    job, level = solution.job, head_at_centre(solution)
    hand = Hand(job.lengths, scale)
    cuts = over_the_opening(solution)
    head, top = float(level), solution.coursing.top
    high = max((float(top_of(cut)) for cut in cuts), default=head + 8.0 * hand.text)
    brick = inside_of(map(heights_of, cuts), head + 0.8 * (high - head))
    thick, reach = float(job.brick.thickness), float(solution.surround.build_out)
    wall, foot = reach + WALL_SHOWN * thick, _foot(job, level, hand)
    edge = reach if high >= float(top) - 1e-9 else -hand.text
    trim, roof = woodwork_above(job, top) if edge > 0 else None, high + 2.0 * hand.text
    if trim is not None:
        roof = float(trim.bottom + min(trim.height, NEAR[job.lengths])) + hand.text
    ink = [each for cut in cuts for each in cut_through(points_of(cut))]
    substrate = ((reach, roof), (reach, head), (wall, head), (wall, roof))
    ink += [
        Stroke(layers.OTHERS, substrate[:3]),
        hatch(substrate, wall_pattern(job), hand),
        *draw_backing(
            (x for x in solution.coursing.corbelled if float(x.top) <= high + 1e-9),
            reach,
            hand,
        ),
        # Where brick goes on above, it is broken off with the wall.
        break_line((edge, roof), (wall, roof), 0.8 * hand.text),
        break_line((wall, head), (wall, roof), 0.8 * hand.text),
        *_jamb_beyond(solution, level, reach, foot, hand),
        *_head_strings(solution, cuts, foot, hand),
        *_head_level(solution, level, thick, hand),
        *_head_notes(job, level, (thick, reach, wall), (brick, high), trim, hand),
        *(_trim(job, trim, reach, hand) if trim is not None else ()),
    ]
    return Drawing("head-section", "SECTION AT THE HEAD", scale, tuple(ink))


def over_the_opening(solution: Solution) -> tuple[Cut, ...]:
    """Return the brick cut above the opening, up to a soldier and a few courses."""
    head = head_at_centre(solution)
    highest = head + Fraction(11, 5) * solution.job.brick.length
    return tuple(x for x in cut_at_centre(solution) if top_of(x) <= highest)


def _foot(job: Job, head: Fraction, hand: Hand) -> float:
    """Return the level at which the section is broken off, under the ledger."""
    below = LEDGER_DEEP[job.lengths] + 9.0 * hand.text
    return max(0.0, float(head) - below)


def jamb_shown(solution: Solution, scale: float) -> tuple[float, float]:
    """Return from where to where the jamb is seen beyond the cut, below the ledger."""
    hand, head = Hand(solution.lengths, scale), head_at_centre(solution)
    foot = _foot(solution.job, head, hand)
    return foot, max(float(head) - LEDGER_DEEP[solution.lengths], foot)


def _jamb_beyond(
    solution: Solution, level: Fraction, reach: float, foot: float, hand: Hand
) -> Iterator[Ink]:
    """Draw the ledger, and below it the jamb seen beyond the section."""
    thick, head = float(solution.job.brick.thickness), float(level)
    low = max(head - LEDGER_DEEP[solution.job.lengths], foot)
    front = -0.5 * thick
    ledger = ((front, head), (front, low), (reach, low), (reach, head))
    yield Stroke(layers.HIDDEN, ledger)
    if low <= foot:
        return
    if solution.surround.reveals:
        yield from _turned_jamb(solution, (foot, low), reach + WALL_SHOWN * thick, hand)
        return
    for bottom, top in seen_beyond(solution):
        a, b = max(float(bottom), foot), min(float(top), low)
        if b > a:
            yield Stroke(layers.UNITS, ((0.0, a), (0.0, b)))
            yield Stroke(layers.UNITS, ((thick, a), (thick, b)))
            for y in (float(bottom), float(top)):
                if foot < y < low:
                    yield Stroke(layers.UNITS, ((0.0, y), (thick, y)))
    yield Stroke(layers.OTHERS, ((reach, low), (reach, foot)))
    ends = ((-hand.text, foot), (reach + hand.text, foot))
    yield break_line(*ends, min(0.8 * hand.text, reach / 3))


def _turned_jamb(
    solution: Solution, levels: tuple[float, float], wall: float, hand: Hand
) -> Iterator[Ink]:
    """Draw the brick of a jamb that it turns into, as far as the wall is drawn."""
    low, high = levels
    deepest = 0.0
    for _, _, ring in seen_in_section(solution):
        near, foot, far, top = about(ring)
        deepest = max(deepest, far)
        a, b = max(foot, low), min(top, high)
        for x in (near, far):
            if x <= wall and b > a:
                yield Stroke(layers.UNITS, ((x, a), (x, b)))
        for y in (foot, top):
            if low < y < high and near < wall:
                yield Stroke(layers.UNITS, ((near, y), (min(far, wall), y)))
    end = min(deepest, wall)
    if deepest > wall:
        yield break_line((wall, low), (wall, high), 0.8 * hand.text)
    ends = ((-hand.text, low), (end + hand.text, low))
    yield break_line(*ends, min(0.8 * hand.text, end / 3))


def _head_strings(
    solution: Solution, cuts: tuple[Cut, ...], foot: float, hand: Hand
) -> Iterator[Ink]:
    """Dimension the courses over the opening; below, brick, bed and build-out.

    Where the cut meets what a panel is cut to, or turned, is no measure to lay it by.
    """
    zero, style = Fraction(0), STYLES[solution.job.lengths]
    square = [
        cut
        for cut in cuts
        if cut.piece.place != "panel" or cut.piece.outlines[0].is_rectangle
    ]
    levels = tuple(sorted({y for cut in square for _, y in cut.ring}))
    at = -5.0 * hand.text
    if len(levels) > 2:
        measures = hand.string("y", levels, at, upright=True)
        yield from measures
        at -= (levels_used(measures, at, hand.scale) + 3.0 * style.text) * hand.scale
    if levels:
        yield from hand.string("y", (levels[0], levels[-1]), at)
    across = (zero, solution.job.brick.thickness, solution.surround.build_out)
    y = foot - 2.5 * hand.text
    yield from hand.fan("x", across, y, outward=-1)
    total = y - 6.0 * hand.text
    yield from hand.fan("x", (zero, solution.surround.build_out), total, outward=-1)
    x = -4.5 * hand.text
    for level, name in ((y, "BRICK, BED"), (total, "BUILD-OUT")):
        yield Words(layers.NOTES, (x, level), name, style.text, "right", "middle")


def _head_level(
    solution: Solution, level: Fraction, thick: float, hand: Hand
) -> Iterator[Ink]:
    """Mark the level of what is cut; the straight foot of a key is below the crown."""
    head, crown = float(level), crown_of(solution)
    said = format_length(level, hand.lengths)
    name = "CROWN" if solution.job.opening.head in ARCHES else "HEAD"
    if crown is not None and format_length(crown, hand.lengths) != said:
        name = "FOOT OF THE KEY" if solution.job.arch.key else "SOFFIT AS CUT"
    lines = (f"{name} {said}", "ABOVE DATUM")
    end, wide = -0.5 * thick - hand.text, max(map(hand.width, lines))
    yield Stroke(layers.LEVELS, ((end - wide, head), (0.0, head)))
    for row, words in enumerate(lines):
        yield hand.caption((end, head - (1.6 + 1.8 * row) * hand.text), words, "right")


def _head_notes(
    job: Job,
    level: Fraction,
    across: tuple[float, float, float],
    levels: tuple[float, float],
    trim: TrimTable | None,
    hand: Hand,
) -> Iterator[Ink]:
    """Name each material, beside the wall."""
    thick, reach, wall = across
    head, (brick, high) = float(level), levels
    deep = LEDGER_DEEP[job.lengths]
    bed = format_length(job.setting_bed.mean, job.lengths)
    profile = plain(job.joints.profile).upper()
    rows: list[tuple[Point, str]] = [
        ((thick / 2, brick), f"BRICK, {profile} JOINTS"),
        (((thick + reach) / 2, head + 0.6 * (high - head)), f"SETTING BED, {bed} MEAN"),
        (
            (wall - thick, head + 0.35 * (high - head)),
            "LINTEL AND SUBSTRATE BY OTHERS, VERIFY",
        ),
        (
            (reach * 0.7, head - deep / 2),
            "TEMPORARY CENTRE" if job.opening.head in ARCHES else "TEMPORARY LEDGER",
        ),
    ]
    if trim is not None:
        low = float(trim.bottom + min(trim.height, NEAR[job.lengths]) / 2)
        rows.append(((thick / 2, low), f"{plain(trim.name).upper()}, BY OTHERS"))
    if _foot(job, level, hand) < head - deep - 2.0 * hand.text:
        is_arch = job.opening.head in ("segmental arch", "semicircular arch")
        beyond = "SOFFIT BEYOND" if is_arch else "JAMB BEYOND"
        rows.append(((thick / 2, head - deep - 2.0 * hand.text), beyond))
    yield from hand.leaders(tuple(rows), wall + 2.4 * hand.text)


def woodwork_above(job: Job, top: Fraction) -> TrimTable | None:
    """Return the woodwork close above the brick, if there is any."""
    near = [trim for trim in job.trim if top <= trim.bottom <= top + NEAR[job.lengths]]
    return min(near, key=lambda trim: trim.bottom, default=None)


def _trim(job: Job, trim: TrimTable, reach: float, hand: Hand) -> Iterator[Ink]:
    """Draw woodwork above the brick, and how far it stands out from the face."""
    out = trim.furthest
    low, whole = float(trim.bottom), float(trim.height)
    high = low + min(whole, float(NEAR[job.lengths]))
    front = -float(out)
    yield Stroke(
        layers.OTHERS, ((reach, low), (front, low), (front, high), (reach, high))
    )
    y = high + 2.5 * hand.text
    yield from hand.fan("x", (-out, Fraction(0)), y, outward=1)
    yield Stroke(layers.LEVELS, ((0.0, float(low)), (0.0, y + hand.text)))


def draw_jamb_plan(solution: Solution, scale: float) -> Drawing:
    """Draw the plan of a jamb: the left one, if there is brick beside it."""
    job, surround = solution.job, solution.surround
    hand = Hand(job.lengths, scale)
    side, row = beside_the_opening(solution)
    t, reach = float(job.brick.thickness), float(surround.build_out)
    back = reach + max(4.0 * t, 7.0 * hand.text)
    far, wall = _window(surround, side, -leg_shown(solution, scale))
    ink: list[Ink] = []
    limit = -far if any(float(left) < far for left, _ in row) else inf
    for left, right in row:
        a, b = max(float(left), far), float(right)
        if b > a:
            ink += cut_off(ring_of((a, 0.0, b, t)), (limit, inf))
    bed_end = float(row[-1][1]) if row else 0.0
    ring = ((wall, back), (wall, reach), (0.0, reach), (0.0, back))
    ink += [
        Stroke(layers.PATTERN, ((bed_end, t), (min(bed_end, 0.0), reach))),
        Stroke(layers.OTHERS, ring),
        hatch(ring, wall_pattern(job), hand),
        break_line((wall, back), (0.0, back), 0.8 * hand.text),
        *_far_end(surround, side, (far, back), hand),
        *_jamb_strings(solution, row, far, hand),
        *_jamb_notes(job, (far, bed_end), (t, reach, back), hand),
    ]
    title = f"PLAN OF THE {side.upper()} JAMB"
    if side == "right":
        title += ", MIRRORED"
    return Drawing("jamb-plan", title, scale, tuple(ink))


Span = tuple[Fraction, Fraction]


def leg_shown(solution: Solution, scale: float) -> float:
    """Return how much of a leg is drawn beside its jamb, where it is so wide."""
    thick, hand = float(solution.job.brick.thickness), Hand(solution.lengths, scale)
    return max(10.0 * thick, 11.0 * hand.text)


def beside_the_opening(solution: Solution) -> tuple[str, list[Span]]:
    """Return course 1 beside the opening: which side, and its pieces from x to x.

    x is measured from the edge of the opening, negative outwards.
    """
    surround, opening = solution.surround, solution.surround.opening
    course, thickness = solution.coursing.courses[0], solution.job.brick.thickness
    met = [
        outline
        for cut in cut_level(surround, solution.layout, course, thickness)
        for outline in cut.outlines
        if outline.face == "front"
    ]
    left = [
        (outline.left - opening.left, outline.right - opening.left)
        for outline in met
        if outline.right <= opening.brick_left
    ]
    if left:
        return "left", sorted(left)
    right = [
        (opening.right - outline.right, opening.right - outline.left)
        for outline in met
        if outline.left >= opening.brick_right
    ]
    return "right" if right else "left", sorted(right)


def _window(surround: Surround, side: str, most: float) -> tuple[float, float]:
    """Return how much of the leg is shown, and where its substrate begins."""
    front, opening = surround.front, surround.opening
    corner = front.left if side == "left" else front.right
    at = opening.left if side == "left" else opening.right
    end = starts = -abs(corner - at)
    if corner in surround.folds:
        starts += taken_at_mitre(surround.build_out, surround.turn_at(corner))
    return max(float(end), most), min(max(float(starts), most), 0.0)


def _far_end(
    surround: Surround, side: str, at: tuple[float, float], hand: Hand
) -> Iterator[Ink]:
    """Draw the break line where the leg goes on."""
    far, back = at
    front, opening = surround.front, surround.opening
    width = opening.left - front.left if side == "left" else front.right - opening.right
    if far > -float(width) + 1e-9:
        yield break_line((far, -hand.text), (far, back), 0.8 * hand.text)


def _jamb_strings(
    solution: Solution, row: list[Span], far: float, hand: Hand
) -> Iterator[Ink]:
    """Dimension brick, bed and build-out at the left; pieces and jamb below."""
    zero = Fraction(0)
    x = far - 2.4 * hand.text
    across = (zero, solution.job.brick.thickness, solution.surround.build_out)
    yield from hand.fan("y", across, x, outward=-1)
    x -= hand.width('15/16"') + 3.2 * hand.text
    yield from hand.fan("y", (zero, solution.surround.build_out), x, ("BUILD-OUT",), -1)
    ends = {zero}
    for left, right in row:
        ends |= {x for x in (left, right) if float(x) > far - 1e-9}
    shown = tuple(sorted(ends))
    if len(shown) > 1:
        yield from hand.string("x", shown, -3.5 * hand.text)


def _jamb_notes(
    job: Job,
    along: tuple[float, float],
    across: tuple[float, float, float],
    hand: Hand,
) -> Iterator[Ink]:
    """Name each material, from within the opening."""
    far, end = along
    thick, reach, back = across
    bed = format_length(job.setting_bed.mean, job.lengths)
    rows = (
        ((far * 0.2, reach + 0.75 * (back - reach)), "SUBSTRATE BY OTHERS, VERIFY"),
        ((0.0, reach + 0.4 * (back - reach)), "EDGE OF OPENING AS MEASURED"),
        ((end + 0.1 * far, (thick + reach) / 2), f"SETTING BED, {bed} MEAN"),
        ((end, thick * 0.5), edge_letters(job, job.edges.jambs, "JAMB")),
    )
    x = max(end, 0.0) + 3.0 * hand.text
    yield from hand.leaders(rows, x)
    for line, words in enumerate(("OPENING", "ADHERE NOTHING INSIDE")):
        below = (x, -(2.6 + 1.8 * line) * hand.text)
        yield hand.caption(below, words, "left")
