"""Draw the front elevation.

In:  `Solution`, the scale.   Out: `Drawing`.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.extents import every_line
from shopdraw.drawing.ink import Drawing, Ink, Stroke, Words
from shopdraw.drawing.lettering import box_of
from shopdraw.drawing.measures import Line
from shopdraw.drawing.sheets import STYLES
from shopdraw.job.complaint import grown_on
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.laying.cuts import course_ends
from shopdraw.masonry.laying.outlines import face_end
from shopdraw.solution import Solution
from shopdraw.views.brick.around import cloud_failures, draw_fittings, with_names
from shopdraw.views.brick.leaders import with_leaders
from shopdraw.views.brick.old_brick import draw_old_brick, top_above
from shopdraw.views.brick.plumb import with_checks
from shopdraw.views.brick.units import layer_of, unit_ink
from shopdraw.views.parts.aslant import seen_from_front
from shopdraw.views.parts.clouds import cloud_of
from shopdraw.views.parts.courses import course_strings
from shopdraw.views.parts.found import (
    box_on_face,
    draw_existing,
    head_at_centre,
    hearth_drops,
    highest_at,
    lowest_of,
    outline_front,
)
from shopdraw.views.parts.heights import running_heights, upright_strings
from shopdraw.views.parts.strings import stacked_strings, with_substrate
from shopdraw.views.wall.arched import (
    LEDGER,
    clear_of_jambs,
    draw_rod,
    draw_setting_out,
    letter_arch,
    letter_opening,
)
from shopdraw.views.wall.existing import draw_flange, with_existing
from shopdraw.views.wall.standing import standing_rows

Spot = tuple[Fraction, Fraction]
FRONT = {"front"}


def draw_elevation(solution: Solution, scale: float) -> Drawing:
    """Draw the front: brick, marks, cuts, dimensions, heights and targets."""
    return letter_elevation(solution, draw_bare_elevation(solution, scale))


def draw_bare_elevation(solution: Solution, scale: float) -> Drawing:
    """Draw the front without what is placed by what else is there.

    It is quickly drawn, and never larger than the whole.
    """
    style = STYLES[solution.job.lengths]
    dx = -float(solution.surround.front.left)
    across = _across(solution, scale)
    over = _lines_across(solution, scale)
    units, symbols = unit_ink(solution.layout, FRONT, dx, style.text, scale, over)
    ink: list[Ink] = [
        *units,
        *_faces_aslant(solution),
        outline_front(solution, dx),
        *across,
        *_ledger(solution, dx, scale),
        *draw_rod(solution, dx, scale),
        *_centre_line(solution, dx, scale),
        *_level_strings(solution, scale),
        *upright_strings(solution, scale),
        *running_heights(solution, scale),
    ]
    return Drawing("elevation", "FRONT ELEVATION", scale, tuple(ink), symbols)


def letter_elevation(solution: Solution, drawing: Drawing) -> Drawing:
    """Letter the bare front where there is room, and lead marks out of small pieces."""
    style, scale = STYLES[solution.job.lengths], drawing.scale
    dx = -float(solution.surround.front.left)
    over = _lines_across(solution, scale)
    pieces, text = solution.layout.pieces, style.text * scale
    # The mark of the section through the head is led to there.
    x, y = float(solution.surround.opening.centre) + dx, float(head_at_centre(solution))
    marked = x - 0.5 * text, y - 4 * text, x + 2 * text, y
    drawing = with_names(solution, letter_opening(solution, drawing, dx, marked))
    drawing = with_existing(solution, with_checks(solution, drawing))
    free = tuple(box_on_face(trim) for trim in solution.job.trim)
    given = FRONT, dx, style.text, drawing, over, free
    return letter_arch(solution, with_leaders(pieces, *given, kept=(marked,)), dx)


def _across(solution: Solution, scale: float) -> tuple[Ink, ...]:
    """Return what is drawn across the brick: existing work, fittings, clouds."""
    return (
        *draw_existing(solution, scale, STYLES[solution.job.lengths]),
        *draw_old_brick(solution, scale),
        *draw_fittings(solution),
        *draw_flange(solution),
        *cloud_of(solution, scale),
        *cloud_failures(solution, scale),
    )


def _lines_across(solution: Solution, scale: float) -> list[Line]:
    """Return the lines that marks are kept clear of."""
    dx = -float(solution.surround.front.left)
    # The strokes of an arch's span end at the jambs, some of each on the brick.
    crossing = *_across(solution, scale), *draw_setting_out(solution, dx, scale)
    return list(every_line(Drawing("across", "", scale, crossing)))


def _faces_aslant(solution: Solution) -> Iterator[Ink]:
    """Draw what is seen of splayed jambs, chamfers and returns, foreshortened."""
    for piece, _, ring in seen_from_front(solution):
        yield Stroke(layer_of(piece), ring, closed=True)


def _ledger(solution: Solution, dx: float, scale: float) -> Iterator[Ink]:
    """Draw the ledger that carries the head while it sets, or where an arch springs."""
    left, right = clear_of_jambs(solution, dx)
    head = float(solution.coursing.head)
    if solution.layout.arch is not None:
        yield Stroke(layers.LEVELS, ((left, head), (right, head)))
        yield from draw_setting_out(solution, dx, scale)
        return
    deep = LEDGER[solution.lengths]
    corners = (left, head), (left, head - deep), (right, head - deep), (right, head)
    yield Stroke(layers.HIDDEN, corners)


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
    highest = max(highest_at(solution, middle), top_above(solution))
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
    # Beside what stands over the opening a course is not set out: that is drawn there.
    rows = course_strings(
        solution,
        solution.coursing.courses,
        lambda course: _row_positions(solution, course),
        solution.coursing.courses_below_head or 1,
    )
    said = ((n, _opening_said(solution, row)) for n, (_, row) in enumerate(rows))
    says: dict[int, tuple[float, str]] = {}
    for n, words in said:
        # What is said once holds for the strings below it.
        if words is not None and words not in says.values():
            says[n] = words
    for name, positions, (middle, made_of) in standing_rows(solution):
        if made_of:
            says[len(rows)] = float(middle), made_of
        rows.append((name, positions))
    rows += [*_panel_rows(solution), *_face_rows(solution)]
    if job.face.measured_to == "substrate":
        rows = with_substrate(rows, _as_measured(solution))
    foot = lowest_of(solution.surround)
    drops = tuple(hearth_drops(solution, scale, foot))
    lettered = [box_of(x, scale)[1] for x in drops if isinstance(x, Words)]
    foot = min([foot, *lettered])
    yield from drops
    yield from stacked_strings(job, rows, scale, foot, says)


def _opening_said(
    solution: Solution, positions: tuple[Fraction, ...]
) -> tuple[float, str] | None:
    """Say which opening a course's string measures: the clear one, or between brick.

    Nothing is said of a course over the opening.
    """
    surround, lengths = solution.surround, solution.lengths
    opening, left = surround.opening, surround.front.left
    middle = opening.centre - left
    ends = (
        max((x for x in positions if x < middle), default=middle),
        min((x for x in positions if x > middle), default=middle),
    )
    at = float(middle)
    if ends[1] - ends[0] < (opening.right - opening.left) / 2:
        return None
    if surround.reveals:
        return at, "CLEAR BETWEEN FINISHED JAMBS"
    beside = {opening.left - left - ends[0], ends[1] - opening.right + left}
    if beside == {Fraction(0)}:
        return at, "CLEAR OPENING, BRICK TO BRICK"
    if surround.as_built.is_true and len(beside) == 1 and (wide := beside.pop()) > 0:
        joint = f"{opening.jambs.kind.upper()} JOINT {format_length(wide, lengths)}"
        return at, f"BRICK TO BRICK, WITH {joint} AT EACH JAMB"
    return at, "BRICK TO BRICK AT THE COURSE'S MIDDLE"


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
    front = surround.front
    grow = sum(grown_on(solution.job, "left")[:1], Fraction(0))
    return (
        grow,
        surround.opening.left - front.left,
        surround.opening.right - front.left,
        grow + solution.job.face.width,
    )
