"""Draw the front elevation.

In:  `Job`, `Surround`, `Coursing`, `Layout`, the scale.   Out: `Drawing`.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.dimensions import (
    Chain,
    StringStyle,
    levels_used,
    string_of_dimensions,
)
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.lettering import plain, width_of
from shopdraw.drawing.sheets import STYLES, PaperStyle
from shopdraw.job.model import Job, TrimTable
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing import Coursing, TargetMet
from shopdraw.masonry.layout import Layout
from shopdraw.masonry.surround import Surround
from shopdraw.views.strings import stacked_strings, top_of
from shopdraw.views.units import unit_ink

DIMS = "A-ANNO-DIMS"
NOTE = "A-ANNO-NOTE"
OTHERS = "A-ELEV-OTHR-E"
LEVELS = "A-ELEV-CNTR"


def draw_elevation(
    job: Job, surround: Surround, coursing: Coursing, layout: Layout, scale: float
) -> Drawing:
    """Draw the front: units, marks, cuts, strings both ways, heights and targets."""
    style = STYLES[job.lengths]
    dx = -float(surround.front.left)
    units, symbols = unit_ink(layout, {"front"}, dx, style.small, scale)
    ink: list[Ink] = [
        *units,
        *_outlines(surround, coursing, dx),
        *_existing(job, surround, coursing, scale, style),
        *_ledger(job, surround, coursing, dx, scale),
        *_centre_line(job, surround, coursing, dx, scale),
        *_level_strings(job, surround, layout, scale),
        *_upright_strings(job, surround, coursing, scale),
        *_running_heights(job, surround, coursing, scale),
    ]
    return Drawing("elevation", "FRONT ELEVATION", scale, tuple(ink), symbols)


def _outlines(surround: Surround, coursing: Coursing, dx: float) -> Iterator[Ink]:
    """Outline the face round the opening."""
    left, right = 0.0, float(surround.front.width)
    jambs = float(surround.opening.left) + dx, float(surround.opening.right) + dx
    head, top = float(coursing.head), float(top_of(coursing))
    yield Stroke(
        "A-ELEV-OTLN",
        (
            (left, 0.0),
            (jambs[0], 0.0),
            (jambs[0], head),
            (jambs[1], head),
            (jambs[1], 0.0),
            (right, 0.0),
            (right, top),
            (left, top),
        ),
        closed=True,
    )


def _existing(
    job: Job, surround: Surround, coursing: Coursing, scale: float, style: PaperStyle
) -> Iterator[Ink]:
    """Draw the hearth as found, and the woodwork of others."""
    width = float(surround.front.width)
    beyond = 3 * style.text * scale
    fall = float(job.hearth.fall) if job.hearth else 0.0
    yield Stroke(OTHERS, ((-beyond, 0.0), (0.0, 0.0)))
    yield Stroke(OTHERS, ((width, 0.0), (width + beyond, -fall)))
    yield Stroke(OTHERS, ((0.0, 0.0), (width, -fall)))
    for trim in job.trim:
        a, b = float(trim.left), float(trim.left + trim.width)
        c, d = float(trim.bottom), float(trim.bottom + trim.height)
        yield Stroke(OTHERS, ((a, c), (b, c), (b, d), (a, d)), closed=True)
        words = f"{plain(trim.name).upper()} (BY OTHERS)"
        if _is_clear(trim, coursing) and (
            width_of(words, style.text) * scale < (b - a) * 0.95
            and (d - c) / scale > 1.4 * style.text
        ):
            at = ((a + b) / 2, (c + d) / 2)
            yield Words(OTHERS, at, words, style.text, "centre", "middle")


def _is_clear(trim: TrimTable, coursing: Coursing) -> bool:
    """Whether woodwork stands above the brick, where its name crosses no mark."""
    return trim.bottom >= top_of(coursing)


def _reach(job: Job, surround: Surround) -> tuple[float, float]:
    """Return how far brick and woodwork reach to either side of the drawing."""
    lefts = [float(trim.left) for trim in job.trim]
    rights = [float(trim.left + trim.width) for trim in job.trim]
    return min([0.0, *lefts]), max([float(surround.front.width), *rights])


def _ledger(
    job: Job, surround: Surround, coursing: Coursing, dx: float, scale: float
) -> Iterator[Ink]:
    """Draw the temporary ledger under the head units, and say what the opening is."""
    style = STYLES[job.lengths]
    left, right = float(surround.opening.left) + dx, float(surround.opening.right) + dx
    head, middle = float(coursing.head), (left + right) / 2
    deep = 1.5 if job.lengths == "in" else 38.0
    corners = ((left, head), (left, head - deep), (right, head - deep), (right, head))
    yield Stroke("A-ELEV-HIDD", corners)
    middle = (left + right) / 2
    level = format_length(coursing.head, job.lengths)
    height = format_length(job.opening.height, job.lengths)
    size = f"{format_length(job.opening.width, job.lengths)} x {height}"
    room = (right - left) / 2 - 2 * style.text * scale
    for lines in (
        ("TEMPORARY LEDGER", f"TOP AT {level}", "", "OPENING AS FOUND", size),
        ("LEDGER TOP", level, "", "OPENING", size),
    ):
        wide = max(width_of(line, style.text) for line in lines) * scale
        high = deep + 11.0 * style.text * scale
        if wide >= room or high >= head:
            # Where it is too small for words the notes say it.
            continue
        for row, line in enumerate(lines):
            y = head - deep - (1.2 + 1.8 * row) * style.text * scale
            at = ((left + middle) / 2, y)
            if line:
                yield Words(NOTE, at, line, style.text, "centre", "top")
        return


def _centre_line(
    job: Job, surround: Surround, coursing: Coursing, dx: float, scale: float
) -> Iterator[Ink]:
    """Draw the centre line in the opening and above everything."""
    style = STYLES[job.lengths]
    middle = float(surround.opening.centre) + dx
    deep = 2.0 if job.lengths == "in" else 50.0
    foot = -1.5 * style.text * scale
    yield Stroke(LEVELS, ((middle, foot), (middle, float(coursing.head) - deep)))
    highest = float(top_of(coursing))
    for trim in job.trim:
        if trim.left <= middle <= trim.left + trim.width:
            highest = max(highest, float(trim.bottom + trim.height))
    low, high = (highest + x * style.text * scale for x in (0.6, 3.0))
    yield Stroke(LEVELS, ((middle, low), (middle, high)))
    at = (middle, high + 0.4 * style.text * scale)
    yield Words(NOTE, at, "CL", style.text, "centre", "foot")


def _row_positions(
    surround: Surround, layout: Layout, course: int
) -> tuple[Fraction, ...]:
    """Return both ends of everything in one course of the front."""
    ends = {
        x - surround.front.left
        for piece in layout.pieces
        if piece.course == course and piece.kind in ("stretcher", "corner unit")
        for outline in piece.outlines
        if outline.face == "front"
        for x in (outline.left, outline.right)
    }
    return tuple(sorted({Fraction(0), *ends, surround.front.width}))


def _level_strings(
    job: Job, surround: Surround, layout: Layout, scale: float
) -> Iterator[Ink]:
    """Set the strings below the datum, the nearest with units and joints."""
    front, opening = surround.front, surround.opening
    courses = sorted({piece.course for piece in layout.pieces})[:2]
    rows = [
        (f"COURSE {n}, FINISH", _row_positions(surround, layout, n)) for n in courses
    ]
    edges = (front.left, opening.left, opening.centre, opening.right, front.right)
    ends = (Fraction(0), front.width)
    rows.append(("LEGS AND OPENING, FINISH", tuple(x - front.left for x in edges)))
    rows.append(("OVERALL, FINISH", ends))
    if job.face.measured_to == "substrate":
        rows.append(("SUBSTRATE, AS MEASURED", _as_measured(job, surround)))
    yield from stacked_strings(job, rows, scale)


def _as_measured(job: Job, surround: Surround) -> tuple[Fraction, ...]:
    """Return the substrate's edges and opening, from the finished left end."""
    grow = surround.build_out if job.face.left_return is not None else Fraction(0)
    front = surround.front
    return (
        grow,
        surround.opening.left - front.left,
        surround.opening.right - front.left,
        grow + job.face.width,
    )


def _upright_strings(
    job: Job, surround: Surround, coursing: Coursing, scale: float
) -> Iterator[Ink]:
    """Set the strings at the left: joints and brick, then features, then overall."""
    style = STYLES[job.lengths]
    steps = {Fraction(0), top_of(coursing)}
    for course in coursing.courses:
        steps |= {course.bottom, course.top}
    features = {Fraction(0), coursing.head, top_of(coursing)}
    if coursing.soldier_top is not None:
        features.add(coursing.soldier_top)
    rows = [
        (tuple(sorted(steps)), True),
        (tuple(sorted(features)), False),
        ((Fraction(0), top_of(coursing)), False),
    ]
    at = _reach(job, surround)[0] - 3.0 * style.text * scale
    for positions, upright in rows:
        if len(positions) < 2:
            continue
        chain = Chain(positions, "y", job.lengths)
        set_out = StringStyle(DIMS, style.text, scale, outward=-1, upright=upright)
        measures = string_of_dimensions(
            chain, at, at + 1.2 * style.text * scale, set_out
        )
        yield from measures
        at -= (levels_used(measures, at, scale) + 2.6 * style.text) * scale


def _running_heights(
    job: Job, surround: Surround, coursing: Coursing, scale: float
) -> Iterator[Ink]:
    """Letter every course's number and top from the datum, and flag the targets."""
    style = STYLES[job.lengths]
    right = float(surround.front.width)
    column = _reach(job, surround)[1] + 4.0 * style.text * scale
    pitch = 1.45 * style.text * scale
    last = -pitch
    wide = 0.0
    for course in coursing.courses:
        top = float(course.top)
        letter = max(top, last + pitch)
        words = f"{course.number}  {format_length(course.top, job.lengths)}"
        yield Stroke(
            DIMS,
            (
                (right + 0.8 * style.text * scale, top),
                (column - 1.6 * style.text * scale, top),
                (column - 0.4 * style.text * scale, letter),
            ),
        )
        yield Words(DIMS, (column, letter), words, style.text, "left", "middle")
        wide = max(wide, width_of(words, style.text))
        last = letter
    above = (column, last + 1.2 * pitch)
    yield Words(NOTE, above, "COURSE, TOP", style.small, "left", "middle")
    flags = column + (wide + 2.0 * style.text) * scale
    yield from _targets(job, coursing, right, flags, scale)


def _targets(
    job: Job, coursing: Coursing, right: float, column: float, scale: float
) -> Iterator[Ink]:
    """Flag each target's level with its name, and what was got."""
    style = STYLES[job.lengths]
    pitch = 1.7 * style.text * scale
    last = -10.0 * pitch
    flags = [(t.got, _target_words(job, t)) for t in coursing.targets]
    flags += [
        (trim.bottom, (plain(trim.name).upper(), "UNDERSIDE, BY OTHERS"))
        for trim in job.trim
        if not _is_clear(trim, coursing)
    ]
    for got, lines in sorted(flags):
        level = float(got)
        high = len(lines) * pitch
        letter = max(level, last)
        # The line breaks off at the heights, which it would cross.
        near = column - 3.0 * style.text * scale
        bend = (column - 0.4 * style.text * scale, letter + 0.4 * pitch)
        yield Stroke(LEVELS, ((right, level), (right + style.text * scale, level)))
        yield Stroke(LEVELS, ((near, level), (near + style.text * scale, level), bend))
        for row, line in enumerate(lines):
            y = letter + high - (row + 1) * pitch + 0.2 * pitch
            yield Words(NOTE, (column, y), line, style.text)
        last = letter + high + 0.5 * pitch
    datum = (column, -1.5 * pitch)
    yield Words(NOTE, datum, "DATUM 0: HIGHEST POINT OF FINISHED HEARTH", style.small)
    yield Stroke(LEVELS, ((right, 0.0), (column, 0.0)))


def _target_words(job: Job, target: TargetMet) -> tuple[str, ...]:
    got = format_length(target.got, job.lengths)
    name = plain(target.name).upper()
    if target.lands:
        return (name, f"{got} {target.meets.upper()}, LANDS")
    wanted = format_length(target.wanted, job.lengths)
    return (name, f"{got} {target.meets.upper()}", f"MISSED: WANTED {wanted}")
