"""Draw sections: upright through the head, and level through a jamb.

In:  `Job`, `Surround`, `Coursing`, `Layout`, the scale.   Out: `Drawing`.
Frame: full size. Head: x from the finished face back into the wall, y from the datum.
Jamb: x along the front from the jamb, y from the finished face back.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.dimensions import Chain, StringStyle, string_of_dimensions
from shopdraw.drawing.ink import Drawing, Fill, Ink, Stroke, Words
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing import Coursing
from shopdraw.masonry.layout import Layout, Outline
from shopdraw.masonry.surround import Surround
from shopdraw.views.hatching import hatch_box
from shopdraw.views.strings import top_of

DIMS = "A-ANNO-DIMS"
NOTE = "A-ANNO-NOTE"
CUT = "A-SECT-MCUT"
OTHERS = "A-ELEV-OTHR-E"
LEDGER_DEEP = {"in": 1.5, "mm": 38.0}
"""A ledger of dressed timber, as drawn."""


def _box(layer: str, left: float, bottom: float, right: float, top: float) -> Stroke:
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Stroke(layer, corners, closed=True)


def _on_centre(surround: Surround, layout: Layout) -> list[Outline]:
    """Return the pieces that a cut through the opening's centre meets, or passes."""
    centre = surround.opening.centre
    found: dict[tuple[Fraction, Fraction], Outline] = {}
    for piece in layout.pieces:
        for outline in piece.outlines:
            near = outline.left - 1 <= centre <= outline.right + 1
            if outline.face == "front" and near:
                found.setdefault((outline.bottom, outline.top), outline)
    return [found[key] for key in sorted(found)]


def draw_head_section(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout, scale: float
) -> Drawing:
    """Draw the upright section at the head: brick, bed, wall, ledger, woodwork."""
    t, reach = float(job.brick.thickness), float(surround.build_out)
    head, top = float(coursing.head), float(top_of(coursing))
    units = _on_centre(surround, layout)
    # No more than a soldier and a few courses: the rest is as the elevation.
    shown = [x for x in units if float(x.top) <= head + 2.2 * float(job.brick.length)]
    highest = max(float(x.top) for x in shown)
    wall = reach + 4.5 * t
    ink: list[Ink] = []
    for outline in shown:
        low, high = float(outline.bottom), float(outline.top)
        corners = ((0.0, low), (t, low), (t, high), (0.0, high))
        ink += [Fill(CUT, corners), Stroke(CUT, corners, closed=True)]
    ink.append(Stroke(OTHERS, ((reach, highest), (reach, head), (wall, head))))
    ink += hatch_box("A-ELEV-MSNR-PATT", (reach, head, wall, highest))
    deep = LEDGER_DEEP[job.lengths]
    ink.append(_box("A-ELEV-HIDD", -0.5 * t, head - deep, reach, head))
    ink += _section_strings(job, surround, shown, scale)
    ink += _section_words(job, coursing, (reach, wall, deep, highest), scale)
    if highest >= top - 1e-9:
        ink += _trim_above(job, top, scale)
    return Drawing("head-section", "SECTION AT THE HEAD", scale, tuple(ink))


def _section_strings(
    job: Job,
    surround: Surround,
    shown: list[Outline],
    scale: float,
) -> Iterator[Ink]:
    style = STYLES[job.lengths]
    levels = tuple(sorted({x for o in shown for x in (o.bottom, o.top)}))
    at = -4.0 * style.text * scale
    upright = StringStyle(DIMS, style.text, scale, outward=-1, upright=True)
    start = at + 1.4 * style.text * scale
    yield from string_of_dimensions(Chain(levels, "y", job.lengths), at, start, upright)
    across = (Fraction(0), job.brick.thickness, surround.build_out)
    y = float(levels[0]) - LEDGER_DEEP[job.lengths] - 3.0 * style.text * scale
    below = StringStyle(DIMS, style.text, scale, outward=-1)
    start = y + 1.4 * style.text * scale
    yield from string_of_dimensions(Chain(across, "x", job.lengths), y, start, below)


def _section_words(
    job: Job, coursing: Coursing, box: tuple[float, float, float, float], scale: float
) -> Iterator[Ink]:
    """Letter what each thing is, beside the wall, with a leader to it."""
    style = STYLES[job.lengths]
    reach, wall, deep, highest = box
    head = float(coursing.head)
    t = float(job.brick.thickness)
    x = wall + 3.0 * style.text * scale
    level = format_length(coursing.head, job.lengths)
    bed = format_length(job.setting_bed.mean, job.lengths)
    profile = plain(job.joints.profile).upper()
    rows = (
        (
            (t / 2, highest - 0.25 * (highest - head)),
            f"THIN BRICK, {profile} JOINTS",
        ),
        (
            ((t + reach) / 2, highest - 0.4 * (highest - head)),
            f"SETTING BED, {bed} MEAN",
        ),
        (
            (wall - t, highest - 0.5 * (highest - head)),
            "WALL AND LINTEL BY OTHERS, VERIFY",
        ),
        ((reach, head), f"HEAD {level} ABOVE DATUM"),
        ((reach * 0.8, head - deep / 2), "TEMPORARY LEDGER UNTIL SET"),
    )
    pitch = 2.2 * style.text * scale
    y = highest - 0.1 * (highest - head)
    for point, words in rows:
        yield Stroke(DIMS, (point, (x - 0.6 * style.text * scale, y)))
        yield Words(NOTE, (x, y), words, style.text, "left", "middle")
        y -= pitch


def _trim_above(job: Job, top: float, scale: float) -> Iterator[Ink]:
    """Draw woodwork that begins not far above the brick, standing out from it."""
    style = STYLES[job.lengths]
    near = 6.0 if job.lengths == "in" else 150.0
    for trim in job.trim:
        low = float(trim.bottom)
        if not top - 1e-9 <= low <= top + near or trim.projection is None:
            continue
        out = float(trim.projection)
        high = low + min(float(trim.height), 1.2 * near)
        back = float(job.brick.thickness)
        y = high + 6.0 * style.text * scale
        yield _box(OTHERS, -out, low, back, high)
        far = format_length(trim.projection, job.lengths)
        words = f"{plain(trim.name).upper()}, {far} OUT, BY OTHERS"
        yield Words(NOTE, (-out, y), words, style.text, "left", "middle")
        yield Stroke(
            DIMS, ((-out / 2, y - style.text * scale), (-out / 2, (low + high) / 2))
        )
        return


def draw_jamb_plan(
    job: Job, surround: Surround, layout: Layout, scale: float
) -> Drawing:
    """Draw the level section at the left jamb, the opening to the right."""
    style = STYLES[job.lengths]
    t, reach = float(job.brick.thickness), float(surround.build_out)
    opening, jambs = surround.opening, job.edges.jambs
    row = [
        outline
        for piece in layout.pieces
        for outline in piece.outlines
        if outline.face == "front"
        and piece.course == 1
        and outline.right <= opening.brick_left
    ]
    last = max(row, key=lambda outline: outline.right)
    left = float(last.left - opening.left)
    right = float(last.right - opening.left)
    start = max(left, -10.0 * t)
    corners = ((start, 0.0), (right, 0.0), (right, t), (start, t))
    back = reach + 4.0 * t
    ink: list[Ink] = [
        Fill(CUT, corners),
        Stroke(CUT, corners, closed=True),
        Stroke(OTHERS, ((start, reach), (0.0, reach), (0.0, back))),
        *hatch_box("A-ELEV-MSNR-PATT", (start, reach, 0.0, back)),
    ]
    x = start - 4.0 * style.text * scale
    across = Chain(
        (Fraction(0), job.brick.thickness, surround.build_out), "y", job.lengths
    )
    upright = StringStyle(DIMS, style.text, scale, outward=-1, upright=True)
    ink += string_of_dimensions(across, x, x + 1.4 * style.text * scale, upright)
    width = f", {format_length(jambs.width, job.lengths)}" if jambs.width else ""
    rows = (
        ((0.0, back * 0.8), "EDGE OF OPENING AS MEASURED"),
        (
            (right, t / 2),
            f"JAMB EDGE: {jambs.kind.upper()}{width}, END {jambs.shows.upper()}",
        ),
        ((start * 0.4, (t + reach) / 2), "SETTING BED TO THE EDGE OF THE WALL"),
        ((start * 0.5, t * 0.3), "THIN BRICK; NOTHING INSIDE THE FIREBOX"),
    )
    at = max(right, 0.0) + 4.0 * style.text * scale
    y = back * 0.8
    pitch = 2.2 * style.text * scale
    for point, words in rows:
        ink.append(Stroke(DIMS, (point, (at - 0.6 * style.text * scale, y))))
        ink.append(Words(NOTE, (at, y), words, style.text, "left", "middle"))
        y -= pitch
    return Drawing("jamb-plan", "PLAN OF THE LEFT JAMB", scale, tuple(ink))
