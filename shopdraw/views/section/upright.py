"""Draw the section through the opening, on its centre line, hearth to woodwork.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; x from the finished face back into the wall, the room at negative x;
y from the datum. The brick is drawn where its bed is thickest.

Each clearance reviewed there is drawn where it was measured, with the figure measured
and the figure required; one without a figure is lettered as not checked.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke, Words
from shopdraw.drawing.match_lines import broken
from shopdraw.drawing.moving import moved
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.hearth.cuts import cut_hearth
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.laying.form import Cut
from shopdraw.solution import Solution
from shopdraw.views.brick.units import layer_of
from shopdraw.views.parts.aslant import ends_of_jambs, seen_in_section
from shopdraw.views.parts.figures import (
    SHORT,
    UNKNOWN,
    Hand,
    break_line,
    cut_through,
    dot,
    draw_backing,
    hatch,
    heights_of,
    inside_of,
    points_of,
    ring_of,
    wall_behind,
)
from shopdraw.views.parts.floor import DEEP, floor_cut, floor_words
from shopdraw.views.parts.found import cut_at_centre, seen_beyond
from shopdraw.views.parts.heights import crown_of, levels_of
from shopdraw.views.parts.phrases import in_lines
from shopdraw.views.section.behind import (
    NOT_MEASURED,
    Note,
    draw_firebox,
    draw_ledger,
    draw_lintel,
    is_arched,
    notes_behind,
    props_of,
)
from shopdraw.views.section.through import Through, through_of
from shopdraw.views.section.woodwork import (
    Block,
    draw_envelope,
    draw_woodwork,
    findings_of,
    lead_left,
    measure_allowed,
    measure_woodwork,
    nose_of,
)

ZERO = Fraction(0)
NOTHING = "NONE BEFORE THE FACE"
"""What is lettered of a hearth that ends at the wall, or under the brick."""


def draw_upright_section(solution: Solution, scale: float) -> Drawing:
    """Draw hearth, extension, opening, head, brick, wall and woodwork in section."""
    hand, coursing = Hand(solution.lengths, scale), solution.coursing
    at = through_of(solution, hand)
    wall = (at.reach, at.wall), (float(at.head), at.roof)
    hearth = [
        each for cut in _hearth_cuts(solution) for each in cut_through(points_of(cut))
    ]
    ink: list[Ink] = [
        *(x for cut in cut_at_centre(solution) for x in cut_through(points_of(cut))),
        *(moved(each, (at.moved, 0.0)) for each in hearth),
        Stroke(layers.OTHERS, ((at.reach, float(at.head)), (at.wall, float(at.head)))),
        *wall_behind(solution.job, *wall, hand),
        *draw_backing(coursing.corbelled, at.reach, hand),
        *_jamb(solution, at),
        *_hearth(solution, at, hand),
        *draw_lintel(at, hand),
        *draw_firebox(solution, at, hand),
        *(line for trim in at.trims for line in draw_woodwork(trim, at.reach)),
        *(draw_envelope(at.envelope, at, hand) if at.envelope else ()),
        *draw_ledger(at, hand),
        *_at_the_left(solution, at, hand),
        *hand.leaders(
            _wrapped(solution, at, hand),
            at.back + 3.0 * hand.text,
            float(at.floor) - 2.0 * hand.text,
            _level_lines(solution),
        ),
    ]
    title = "SECTION THROUGH THE OPENING"
    return Drawing("upright-section", title, scale, tuple(ink))


def _jamb(solution: Solution, at: Through) -> Iterator[Ink]:
    """Draw the brick of the jamb seen beyond the section, and the wall's edge.

    Where brick turns into the jambs the wall is behind it.
    """
    if solution.surround.reveals:
        for piece, _, ring in seen_in_section(solution):
            yield Stroke(layer_of(piece), ring, closed=True)
        return
    for bottom, top in seen_beyond(solution):
        ring = ring_of((0.0, float(bottom), at.thick, float(top)))
        yield Stroke(layers.UNITS, ring, closed=True)
    ends = (at.reach, float(at.head)), (at.reach, float(at.floor))
    yield Stroke(layers.OTHERS, ends)


def _hearth_cuts(solution: Solution) -> tuple[Cut, ...]:
    """Return the hearth's own brick that the section cuts."""
    hearth = solution.hearth
    if hearth is None:
        return ()
    left, right = hearth.ground.opening
    return cut_hearth(hearth, (left + right) / 2)


def _brick_hearth(hearth: BrickHearth, at: Through, hand: Hand) -> Iterator[Ink]:
    """Draw what a hearth of brick is laid on, as far as the wall is drawn."""
    ground = hearth.ground
    face, drop = float(ground.face) - at.moved, float(ground.drop)
    inner = -face + float(ground.build_out)
    under = -drop - 3.0 * hand.text
    if hearth.riser is not None:
        under = -float(hearth.riser.height)
        ends = ((-face - 2.0 * hand.text, under), (inner, under))
        yield Stroke(layers.OTHERS, ends)
    slab = ((inner, under), (inner, -drop), (at.wall, -drop), (at.wall, under))
    yield Stroke(layers.OTHERS, slab[:3])
    yield hatch(slab, UNKNOWN, hand)
    yield break_line((inner, under), (at.wall, under), 0.8 * hand.text)
    yield break_line(slab[2], slab[3], 0.5 * hand.text)


def _hearth(solution: Solution, at: Through, hand: Hand) -> Iterator[Ink]:
    """Draw the hearth as far as its front edge, and how deep it is before the face."""
    job, floor = solution.job, float(at.floor)
    if solution.hearth is not None:
        ground, riser = solution.hearth.ground, solution.hearth.riser
        yield from _brick_hearth(solution.hearth, at, hand)
        under = -float(riser.height) if riser else -float(ground.drop) - 3.0 * hand.text
        edge = at.moved - float(ground.face)
        level = under if riser else 0.0
        yield from floor_cut(solution, edge, level, hand)
        yield from _below(solution, edge, level, under - 3.4 * hand.text, hand)
        if riser is not None:
            x = edge - (DEEP + 3.0) * hand.text
            yield from hand.fan("y", (-riser.height, ZERO), x, ("RISER",), -1)
        return
    found = job.hearth.front if job.hearth else None
    thick = job.hearth.thickness if job.hearth else None
    out = SHORT[job.lengths] if found is None else found
    edge = at.reach - float(out)
    low = floor - (3.0 * hand.text if thick is None else float(thick))
    yield Stroke(layers.OTHERS, ((at.wall, floor), (edge, floor)))
    if found is None:
        yield break_line((edge, floor), (edge, low), 0.5 * hand.text)
    else:
        yield Stroke(layers.OTHERS, ((edge, floor), (edge, low)))
    yield hatch(ring_of((edge, low, at.wall, floor)), UNKNOWN, hand)
    yield break_line((at.wall, floor), (at.wall, low), 0.5 * hand.text)
    if thick is None:
        yield break_line((edge, low), (at.wall, low), 0.8 * hand.text)
    else:
        yield Stroke(layers.OTHERS, ((edge, low), (at.wall, low)))
    yield from floor_cut(solution, edge, floor, hand)
    yield from _below(solution, edge, floor, low - 3.4 * hand.text, hand)
    if thick is not None:
        levels = at.floor - thick, at.floor
        x = edge - (DEEP + 3.0) * hand.text
        yield from hand.fan("y", levels, x, ("THICKNESS",), -1)


def _below(
    solution: Solution, edge: float, level: float, y: float, hand: Hand
) -> Iterator[Ink]:
    """Dimension below the hearth what lies before the face, and behind it; name it.

    Args:
        solution: for the review of the hearth, and what the floor is.
        edge: the hearth's front edge.
        level: of the floor before it.
        y: of the first string.
        hand: the sizes on paper.
    """
    reveals = solution.surround.reveals
    if reveals:
        deep = Fraction(ends_of_jambs(solution)[0][1])
        yield from hand.string("x", (ZERO, deep), y)
        yield _label(solution.job, (float(deep) + hand.text, y), "REVEAL")
        y -= 3.2 * hand.text
    rows = list(_extension(solution, edge, y, hand))
    yield from rows
    y -= 3.2 * hand.text * sum(isinstance(x, Words) for x in rows)
    x, inside = edge - 1.5 * hand.text, level - 0.6 * hand.text
    yield dot((x, inside), 0.25 * hand.text)
    yield Stroke(layers.DIMENSIONS, ((x, inside), (x, y), (x + 0.6 * hand.text, y)))
    for words in floor_words(solution):
        yield _label(solution.job, (x + hand.text, y), words)
        y -= 1.8 * hand.text


def _extension(solution: Solution, edge: float, y: float, hand: Hand) -> Iterator[Ink]:
    """Draw the depth measured before the face and the depth required, from `y` down."""
    finding = solution.finding("hearth-front")
    if finding is None:
        # It is reviewed in every job, whatever is known of it.
        raise AssertionError
    for name, length in (("MEASURED", finding.measured), ("REQUIRED", finding.limit)):
        if length is None:
            continue
        if length > 0:
            yield from hand.string("x", (-length, ZERO), y)
        words = name if length > 0 else f"{name}: {NOTHING}"
        yield _label(solution.job, (hand.text, y), words)
        y -= 3.2 * hand.text
    words = f"HEARTH EXTENSION: {finding.status.upper()}"
    yield hand.caption((edge, y), words, "left")


def _label(job: Job, at: Point, words: str) -> Words:
    return Words(layers.NOTES, at, words, STYLES[job.lengths].text, "left", "middle")


def _at_the_left(solution: Solution, at: Through, hand: Hand) -> Iterator[Ink]:
    """Dimension what stands over the opening, and all heights; note what they are."""
    crossing = (float(at.over), *(float(trim.bottom) for trim in at.trims))
    levels = _level_lines(solution) + (crossing if at.trims else ())
    props = props_of(solution, at, hand)
    ink, blocks, end = measure_allowed(at, props, levels, hand)
    blocks += [
        Block((nose_of(x, at, hand),), findings_of(solution, x, at, hand))
        for x in at.trims
    ]
    if not is_arched(solution):
        # Just above what is lettered at the datum.
        up = max(0.1 * float(at.head - at.floor), 2.7 * hand.text)
        middle = (at.before, max(0.0, float(at.floor)) + up)
        blocks.append(Block((middle,), ("PROPS UNDER THE", "TEMPORARY LEDGER")))
    # Notes stand before the strings that are longer, so that no leader crosses one.
    widths = (hand.width(line) for block in blocks for line in block.lines)
    x = end - max(widths, default=0.0) - 3.0 * hand.text
    outer, x = measure_woodwork(at, x, hand)
    # An arch is measured to the crown that it is set out to; a key's foot is straight,
    # and lies a little lower.
    crown = crown_of(solution)
    head = at.head if crown is None else crown
    ink += (*outer, *hand.string("y", (ZERO, head, solution.coursing.top), x))
    strings = Drawing("strings", "", hand.scale, tuple(ink))
    figures = [box for _, box in lettering_of(strings)]
    lowest = max(0.0, float(at.floor)) + 0.9 * hand.text
    notes = tuple(lead_left(blocks, end, (figures, levels), lowest, hand))
    yield from notes
    lettered = Drawing("notes", "", hand.scale, notes)
    for each in ink:
        if not isinstance(each, Stroke) or each.layer != layers.LEVELS:
            yield each
            continue
        # Where notes have no room between level lines, these go round them.
        for line in broken(lettered, (each.points[0], each.points[1]), hand.text):
            yield Stroke(layers.LEVELS, line)


def _level_lines(solution: Solution) -> tuple[float, ...]:
    return tuple(float(level.at) for level in levels_of(solution))


def _wrapped(solution: Solution, at: Through, hand: Hand) -> tuple[Note, ...]:
    """Return the notes in lines short enough for a small sheet."""
    return tuple(
        (point, "\n".join(in_lines(words, at.wide)))
        for point, words in _notes(solution, at, hand)
    )


def _jamb_words(solution: Solution) -> str:
    """Name the jamb beyond the section, and how deep brick turns into it."""
    if not solution.surround.reveals:
        return "JAMB BEYOND"
    deep = format_length(solution.surround.reveals[0].width, solution.lengths)
    return f"JAMB BEYOND: BRICK TURNS IN {deep} ALONG IT"


def _notes(solution: Solution, at: Through, hand: Hand) -> Iterator[Note]:
    """Name each material, behind the wall."""
    job, head = solution.job, float(at.head)
    out = solution.coursing.corbelled
    top = float(out[0].bottom if out else solution.coursing.top)
    bed, whole = (
        format_length(x, job.lengths)
        for x in (job.setting_bed.most, solution.surround.build_out_most)
    )
    made = job.substrate.kind.upper()
    kind = "MATERIAL NOT GIVEN" if made == "UNKNOWN" else made
    cut = map(heights_of, cut_at_centre(solution))
    bed_at = head + 0.6 * (top - head)
    brick = inside_of(cut, head + 0.8 * (top - head))
    yield (at.thick / 2, brick), "THIN BRICK"
    yield (
        ((at.thick + at.reach) / 2, bed_at),
        f"SETTING BED, {bed} AT MOST: BUILD-OUT {whole}",
    )
    yield (
        ((at.reach + at.wall) / 2, (brick + bed_at) / 2),
        f"WALL BY OTHERS, {kind}, THICKNESS {NOT_MEASURED}",
    )
    # Above the springing of an arch the soffit is seen, not the jamb.
    arch = solution.layout.arch
    spring = at.head if arch is None else min(at.head, arch.spring)
    seen = [x for x in seen_beyond(solution) if x[1] <= spring]
    beyond = [(float(low), float(high)) for low, high in seen]
    about = float(at.floor) + 0.6 * float(spring - at.floor)
    yield (at.thick / 2, inside_of(beyond, about)), _jamb_words(solution)
    name = "CENTRE" if is_arched(solution) else "LEDGER"
    yield (0.7 * at.reach, head - 0.5 * hand.text), f"TEMPORARY {name}"
    yield from notes_behind(solution, at, hand)
    if solution.hearth is None and (job.hearth is None or job.hearth.thickness is None):
        spot = (at.wall - hand.text, float(at.floor) - 1.5 * hand.text)
        yield spot, f"HEARTH: THICKNESS {NOT_MEASURED}"
    if solution.hearth is not None:
        under = -float(solution.hearth.ground.drop)
        yield (at.wall - hand.text, under - 1.5 * hand.text), "SLAB OR CORE BY OTHERS"
    if out:
        last = out[-1]
        nose = format_length(last.projection, job.lengths)
        level = float(last.bottom + last.top) / 2
        x = at.reach - float(last.projection) / 2
        yield (x, level), f"CORBEL {nose} PROUD, BACKING BY OTHERS"
