"""Draw the front elevation.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.drawing.sheets import STYLES, PaperStyle
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.laying.cuts import course_ends
from shopdraw.masonry.laying.outlines import face_end
from shopdraw.solution import Solution
from shopdraw.views.parts.clouds import cloud_of
from shopdraw.views.parts.found import (
    draw_existing,
    hearth_drops,
    lowest_of,
    outline_front,
)
from shopdraw.views.parts.heights import running_heights, upright_strings
from shopdraw.views.parts.jambs import ends_of_jambs, seen_from_front
from shopdraw.views.parts.strings import stacked_strings
from shopdraw.views.parts.units import layer_of, unit_ink
from shopdraw.views.wall.arched import arch_words, draw_rod

Spot = tuple[Fraction, Fraction]


def draw_elevation(solution: Solution, scale: float) -> Drawing:
    """Draw the front: brick, marks, cuts, dimensions, heights and targets."""
    style = STYLES[solution.job.lengths]
    dx = -float(solution.surround.front.left)
    units, symbols = unit_ink(solution.layout, {"front"}, dx, style.small, scale)
    ink: list[Ink] = [
        *units,
        *_jambs_beyond(solution),
        outline_front(solution, dx),
        *draw_existing(solution, scale, style),
        *_ledger(solution, dx, scale),
        *draw_rod(solution, dx, scale),
        *_centre_line(solution, dx, scale),
        *_level_strings(solution, scale),
        *upright_strings(solution, scale),
        *running_heights(solution, scale),
        *cloud_of(solution, scale),
    ]
    return Drawing("elevation", "FRONT ELEVATION", scale, tuple(ink), symbols)


def _jambs_beyond(solution: Solution) -> Iterator[Ink]:
    """Draw what is seen of splayed jambs, foreshortened."""
    for piece, _, ring in seen_from_front(solution):
        yield Stroke(layer_of(piece), ring, closed=True)


def _ledger(solution: Solution, dx: float, scale: float) -> Iterator[Ink]:
    """Draw the ledger that carries the head while it sets, and letter the opening."""
    style = STYLES[solution.job.lengths]
    opening = solution.surround.opening
    clear = solution.surround.jamb_folds or (opening.left, opening.right)
    left, right = (float(x) + dx for x in clear)
    head, middle = float(solution.coursing.head), (left + right) / 2
    deep = 1.5 if solution.job.lengths == "in" else 38.0
    if solution.layout.arch is None:
        corners = (
            (left, head),
            (left, head - deep),
            (right, head - deep),
            (right, head),
        )
        yield Stroke(layers.HIDDEN, corners)
    else:
        yield Stroke(layers.LEVELS, ((left, head), (right, head)))
    if solution.surround.splay:
        # Words stand clear of the jambs that are seen beyond.
        (left, _), (right, _) = ends_of_jambs(solution)
    room = (right - left) / 2 - 2 * style.text * scale
    for columns in _opening_words(solution):
        lines = [line for column in columns for line in column]
        wide = max(width_of(line, style.text) for line in lines) * scale
        rows = max(map(len, columns))
        high = deep + (1.8 * rows + 1.5) * style.text * scale
        if wide >= room or high >= head:
            # Where it is too small for words the notes say it.
            continue
        for column, near in zip(columns, (left, right), strict=True):
            yield from _column(column, (near + middle) / 2, head - deep, scale, style)
        return


def _column(
    lines: tuple[str, ...], x: float, top: float, scale: float, style: PaperStyle
) -> Iterator[Ink]:
    """Letter lines one under another, below a level."""
    for row, line in enumerate(lines):
        at = (x, top - (1.2 + 1.8 * row) * style.text * scale)
        if line:
            yield Words(layers.NOTES, at, line, style.text, "centre", "top")


def _opening_words(
    solution: Solution,
) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Yield the words to try left and right in the opening, the fullest first."""
    job, arch = solution.job, solution.layout.arch
    if arch is not None:
        yield from arch_words(solution, arch)
        return
    level = format_length(solution.coursing.head, job.lengths)
    size = " x ".join(
        format_length(x, job.lengths) for x in (job.opening.width, job.opening.height)
    )
    measured = "AS MEASURED" if solution.surround.as_built.is_true else "CLEAR"
    top = "TEMPORARY LEDGER", f"TOP AT {level}"
    if solution.surround.splay:
        (left, _), (right, _) = ends_of_jambs(solution)
        back = format_length(Fraction(right - left), job.lengths)
        clear = "CLEAR AT THE BACK", back
        yield (*top, "", f"OPENING {measured}", size, *clear), ()
    yield (*top, "", f"OPENING {measured}", size), ()
    yield ("LEDGER TOP", level, "", "OPENING", size), ()


def _centre_line(solution: Solution, dx: float, scale: float) -> Iterator[Ink]:
    """Draw the centre line in the opening, and again above brick and woodwork."""
    job = solution.job
    style = STYLES[job.lengths]
    middle = float(solution.surround.opening.centre) + dx
    deep = 2.0 if job.lengths == "in" else 50.0
    # Below it the hearth's depths are lettered.
    foot = -0.4 * style.text * scale
    yield Stroke(
        layers.LEVELS, ((middle, foot), (middle, float(solution.coursing.head) - deep))
    )
    highest = float(solution.coursing.top)
    for trim in job.trim:
        if trim.left <= middle <= trim.left + trim.width:
            highest = max(highest, float(trim.bottom + trim.height))
    low, high = (highest + x * style.text * scale for x in (0.6, 3.0))
    yield Stroke(layers.LEVELS, ((middle, low), (middle, high)))
    at = (middle, high + 0.4 * style.text * scale)
    yield Words(layers.NOTES, at, "CL", style.text, "centre", "foot")


def _row_positions(solution: Solution, course: Course) -> tuple[Fraction, ...]:
    """Return both ends of every piece in one course of the front, at mid height."""
    front = solution.surround.front
    ends = course_ends(solution.layout, "front", course)
    outer = solution.surround.ends(front, course.projection)
    return tuple(sorted({x - front.left for x in (*outer, *ends)}))


def _level_strings(solution: Solution, scale: float) -> Iterator[Ink]:
    """Set out the strings below the datum, nearest the one with brick and joints."""
    job = solution.job
    rows = [*_course_rows(solution), *_panel_rows(solution), *_face_rows(solution)]
    if job.face.measured_to == "substrate":
        rows.append(("SUBSTRATE, AS MEASURED", _as_measured(solution)))
    foot = lowest_of(solution.surround)
    drops = tuple(hearth_drops(solution, scale, foot))
    if drops:
        foot -= 4.2 * STYLES[job.lengths].text * scale
    yield from drops
    yield from stacked_strings(job, rows, scale, foot)


def _course_rows(
    solution: Solution,
) -> Iterator[tuple[str, tuple[Fraction, ...]]]:
    """Yield the strings of the courses that the bond repeats; one for those alike.

    Beside what stands over the opening a course is not set out: that is drawn there.
    """
    alike: dict[tuple[Fraction, ...], list[str]] = {}
    below = solution.coursing.courses_below_head or 1
    for course in solution.coursing.courses[: min(solution.layout.cycle, below)]:
        positions = _row_positions(solution, course)
        alike.setdefault(positions, []).append(str(course.number))
    for course in solution.coursing.courses[min(solution.layout.cycle, below) :]:
        if course.kind == "header" or course.projection:
            positions = _row_positions(solution, course)
            alike.setdefault(positions, []).append(str(course.number))
    for positions, numbers in alike.items():
        word = "COURSE" if len(numbers) == 1 else "COURSES"
        yield f"{word} {', '.join(numbers)}, FINISH", positions


def _panel_rows(
    solution: Solution,
) -> Iterator[tuple[str, tuple[Fraction, ...]]]:
    """Yield a string for each panel: its ends, and those of the front if plumb."""
    front, panels = solution.surround.front, solution.layout.panels
    is_plumb = all(a[0] == b[0] for a, b in solution.surround.as_built.ends)
    for number, panel in enumerate(panels, start=1):
        ends: tuple[Fraction, ...] = panel.box[0], panel.box[2]
        if is_plumb:
            ends = (front.left, *ends, front.right)
        name = "PANEL" if len(panels) == 1 else f"PANEL {number}"
        yield f"{name}, FINISH", tuple(x - front.left for x in ends)


def _face_rows(solution: Solution) -> Iterator[tuple[str, tuple[Fraction, ...]]]:
    """Yield the strings of legs and opening, then the overall ones.

    Where an end or a jamb leans, there is one at its foot and one at its top.
    """
    surround, coursing = solution.surround, solution.coursing
    front, opening, built = surround.front, surround.opening, surround.as_built
    top = coursing.top
    left, right = (
        face_end(surround, front, front.left, top),
        face_end(surround, front, front.right, top),
    )

    def rows(name: str, *places: Fraction) -> tuple[str, tuple[Fraction, ...]]:
        return name, tuple(x - front.left for x in places)

    ring = built.opening(coursing.head, opening.covered)
    leaning = ring[0][0] != ring[-1][0] or ring[1][0] != ring[2][0]
    if leaning:
        feet = left[0][0], ring[0][0], ring[1][0], right[0][0]
        level = coursing.head / top
        heads = (
            left[0][0] + (left[1][0] - left[0][0]) * level,
            ring[-1][0],
            ring[2][0],
            right[0][0] + (right[1][0] - right[0][0]) * level,
        )
        yield rows("AT THE HEARTH, FINISH", *feet)
        yield rows("AT THE HEAD, FINISH", *heads)
    else:
        places = (left[0][0], ring[0][0], opening.centre, ring[1][0], right[0][0])
        yield rows("LEGS AND OPENING, FINISH", *places)
    if left[0][0] != left[1][0] or right[0][0] != right[1][0]:
        yield rows("OVERALL AT THE FOOT, FINISH", left[0][0], right[0][0])
        yield rows("OVERALL AT THE TOP, FINISH", left[1][0], right[1][0])
    else:
        yield rows("OVERALL, FINISH", left[0][0], right[0][0])


def _as_measured(solution: Solution) -> tuple[Fraction, ...]:
    """Return the edges of substrate and opening, from the finished left end."""
    surround = solution.surround
    grow = (
        surround.build_out if solution.job.face.left_return is not None else Fraction(0)
    )
    front = surround.front
    return (
        grow,
        surround.opening.left - front.left,
        surround.opening.right - front.left,
        grow + solution.job.face.width,
    )
