"""Draw details of the edges of the brick: at the hearth, at the top, at a wall.

In:  `Solution`, the scale.   Out: `Drawing`s.
Frame: full size. Upright ones: x from the finished face back into the wall, y from the
datum. At the wall: x along the face from where it ends, y back from the finished face.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import inf, radians, tan

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Point, Stroke
from shopdraw.drawing.lettering import plain
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Course
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import (
    UNKNOWN,
    Hand,
    break_line,
    cut_off,
    cut_through,
    dot,
    draw_backing,
    hatch,
    ring_of,
    wall_behind,
    wall_pattern,
)
from shopdraw.views.parts.phrases import FILLS, edge_letters
from shopdraw.views.wall.sections import woodwork_above

NOT_GIVEN = "ABOVE: BY OTHERS, NOT GIVEN"
COURSES = 2
"""How many courses each detail shows."""


def draw_hearth_edge(solution: Solution, scale: float) -> Drawing:
    """Draw how the brick stands on the hearth, where the hearth is highest."""
    job = solution.job
    hand = Hand(job.lengths, scale)
    thick, reach, wall = _across(solution, hand)
    courses = _shown(solution)[:COURSES]
    high = float(courses[-1].top) + 1.5 * hand.text
    bottom = job.joints.bottom
    joint = "NO BOTTOM JOINT"
    if bottom.kind != "none":
        joint = f"BOTTOM JOINT, {FILLS[bottom.kind].upper()}"
    under, named, foot = _under_the_brick(solution, (thick, reach, wall), hand)
    ink: list[Ink] = [
        *_courses(courses, thick),
        *wall_behind(job, (reach, wall), (foot, high), hand),
        *under,
        *_levels((Fraction(0), *_edges_of(courses)), courses, hand),
        *hand.leaders(
            (
                ((thick / 2, float(courses[0].bottom + courses[0].top) / 2), "BRICK"),
                (((thick + reach) / 2, float(courses[0].top)), "SETTING BED"),
                ((thick / 2, float(courses[0].bottom) / 2), joint),
                *named,
            ),
            wall + 2.4 * hand.text,
        ),
    ]
    return Drawing("hearth-edge", "AT THE HEARTH", scale, tuple(ink))


def _under_the_brick(
    solution: Solution, across: tuple[float, float, float], hand: Hand
) -> tuple[list[Ink], list[tuple[Point, str]], float]:
    """Draw the hearth that the brick stands on, of brick or by others.

    Returns:
        What is drawn, what is named of it where, and how far down the wall goes.
    """
    thick, reach, wall = across
    drop = max(
        (-y for _, y in solution.surround.as_built.hearth.points), default=Fraction(0)
    )
    falls = f"FALLS {format_length(drop, hand.lengths)}" if drop else "LEVEL"
    near = -before_the_face(solution, hand.scale)
    if solution.hearth is None:
        top, far, foot = 0.0, wall, 0.0
        ink, named = [], [((thick, -hand.text), f"HEARTH BY OTHERS, {falls}")]
    else:
        # Brick goes on below the wall's brick, as far as to the substrate.
        ground = solution.hearth.ground
        deep, top, far = float(ground.thickness), -float(ground.drop), reach
        ink = [*cut_off(ring_of((near, -deep, reach, 0.0)), (-near, inf))]
        foot = top - 2.6 * hand.text
        named = [
            ((thick, -deep / 2), f"HEARTH'S BRICK, {falls}"),
            ((thick, top - 1.2 * hand.text), "SLAB OR CORE BY OTHERS"),
        ]
    low = top - 2.6 * hand.text
    slab = ((near, low), (near, top), (far, top), (far, low))
    ink += [
        Stroke(layers.OTHERS, slab[1:3]),
        hatch(slab, UNKNOWN, hand),
        break_line((near, low), (far, low), 0.8 * hand.text),
    ]
    return ink, named, foot


def before_the_face(solution: Solution, scale: float) -> float:
    """Return how much of the hearth is drawn before the face of the brick on it."""
    return 4.0 * Hand(solution.lengths, scale).text


def draw_top_edge(solution: Solution, scale: float) -> Drawing:
    """Draw the top of the brick, the joint or gap over it, and woodwork close above."""
    job = solution.job
    hand = Hand(job.lengths, scale)
    thick, reach, wall = _across(solution, hand)
    courses = _shown(solution)[-COURSES:]
    out = float(courses[-1].projection)
    low, top = float(courses[0].bottom) - 1.5 * hand.text, solution.coursing.top
    edge = job.edges.top
    trim = woodwork_above(job, top)
    high = float(top + edge.width) + 3.0 * hand.text
    rows: list[tuple[Point, str]] = [
        ((thick / 2 - out, float(courses[-1].bottom + courses[-1].top) / 2), "BRICK"),
        (((thick + reach) / 2 - out, float(courses[-1].bottom)), "SETTING BED"),
        (
            (thick / 2 - out, float(top + edge.width / 2)),
            edge_letters(job, edge, "TOP"),
        ),
    ]
    ink: list[Ink] = []
    levels, before = (*_edges_of(courses), top), 0.0
    ends_at = top + edge.width
    if edge.width and (trim is None or trim.bottom > ends_at):
        # Whatever the joint runs up to, it is not the woodwork, and nobody gave it.
        foot, roof = float(ends_at), float(ends_at) + 2.4 * hand.text
        ink += [
            Stroke(layers.HIDDEN, ((0.0, foot), (reach, foot))),
            break_line((0.0, foot), (0.0, roof), 0.4 * hand.text),
            break_line((0.0, roof), (reach, roof), 0.4 * hand.text),
        ]
        rows.append(((reach / 2, foot + 1.2 * hand.text), NOT_GIVEN))
        levels, high = (*levels, ends_at), max(high, roof + 2.0 * hand.text)
    if trim is not None:
        nose, foot = float(trim.furthest), float(trim.bottom)
        # Its underside may not run through the figures.
        before = -nose if nose > 5.0 * hand.text else 0.0
        high = max(high, foot + 3.0 * hand.text)
        ends = ((reach, foot), (-nose, foot), (-nose, high))
        ink += [
            Stroke(layers.OTHERS, ends),
            break_line((-nose, high), (reach, high), 0.8 * hand.text),
        ]
        rows.append(
            ((0.0, foot + 1.5 * hand.text), f"{plain(trim.name).upper()}, BY OTHERS")
        )
        levels = (*levels, trim.bottom)
    ink += [
        *_courses(courses, thick),
        *wall_behind(solution.job, (reach, wall), (low, high), hand),
        *draw_backing(courses, reach, hand),
        *_levels(levels, courses, hand, before),
        *hand.leaders(tuple(rows), wall + 2.4 * hand.text),
    ]
    return Drawing("top-edge", "AT THE TOP", scale, tuple(ink))


def _shown(solution: Solution) -> list[Course]:
    """Return the courses that a detail may show: no soldiers over the opening."""
    every = solution.coursing.courses
    return [course for course in every if course.is_running or course.band]


def draw_corbel(solution: Solution, scale: float) -> Drawing:
    """Draw the courses that project, with the one below and the one above.

    Raises:
        ValueError: no course of the job projects.
    """
    out = solution.coursing.corbelled
    if not out:
        message = "this surround has no corbel to draw"
        raise ValueError(message)
    hand = Hand(solution.lengths, scale)
    thick, reach, wall = _across(solution, hand)
    every = solution.coursing.courses
    near = {course.number + by for course in out for by in (-1, 0, 1)}
    courses = [course for course in every if course.number in near]
    low = float(courses[0].bottom) - 1.5 * hand.text
    high = float(courses[-1].top) + 1.5 * hand.text
    zero, last = Fraction(0), out[-1]
    noses = tuple(sorted({zero, *(-course.projection for course in out)}))
    mid = float(last.bottom + last.top) / 2
    far = -float(last.projection)
    ink: list[Ink] = [
        *_courses(courses, thick),
        *wall_behind(solution.job, (reach, wall), (low, high), hand),
        *draw_backing(courses, reach, hand),
        *_levels(_edges_of(courses), courses, hand, before=far),
        Stroke(layers.LEVELS, ((0.0, low - hand.text), (0.0, float(out[0].bottom)))),
        *hand.fan("x", noses, low - 2.0 * hand.text, outward=-1),
        *hand.leaders(
            (
                ((far + thick / 2, mid), "BRICK"),
                ((far + (thick + reach) / 2, mid - 0.2 * float(last.height)), BED),
                (
                    (reach + far / 6, float(out[0].bottom + out[0].top) / 2),
                    "BACKING BY OTHERS, NON-COMBUSTIBLE",
                ),
            ),
            wall + 2.4 * hand.text,
        ),
    ]
    return Drawing("corbel", "AT THE CORBEL", scale, tuple(ink))


BED = "SETTING BED"


def side_shown(solution: Solution, scale: float) -> float:
    """Return how much of the face is drawn from its end on."""
    thick, hand = float(solution.job.brick.thickness), Hand(solution.lengths, scale)
    return max(8.0 * thick, 8.0 * hand.text)


def draw_side_edge(solution: Solution, scale: float) -> Drawing:
    """Draw in plan where the brick ends at the left: at a wall, or at a free edge."""
    job = solution.job
    hand = Hand(job.lengths, scale)
    thick, reach, back = _across(solution, hand)
    edge, asked = solution.surround.left_edge, job.edges.left
    gap = edge.brick_x - edge.x
    far = side_shown(solution, scale)
    is_wall = edge.against == "wall"
    brick = ring_of((float(gap), 0.0, far, thick))
    aslant = _aslant(solution)
    ground = ((aslant * back, back), (aslant * reach, reach), (far, reach), (far, back))
    ink: list[Ink] = [
        *cut_off(brick, (far, float("inf"))),
        Stroke(layers.OTHERS, ground[:3]),
        hatch(ground, wall_pattern(job), hand),
        break_line((far, -hand.text), (far, back), 0.8 * hand.text),
        break_line(ground[0], (far, back), 0.8 * hand.text),
    ]
    if is_wall:
        deep = -2.6 * hand.text
        foot = aslant * deep
        beyond = (ground[0], (foot, deep), (foot + deep, deep), (foot + deep, back))
        ink += [Stroke(layers.OTHERS, beyond[:2]), hatch(beyond, UNKNOWN, hand)]
    if gap:
        ink += hand.fan("x", (Fraction(0), gap), -4.5 * hand.text, outward=-1)
    where = "WALL" if is_wall else "END"
    ink += _before_the_face(float(gap), edge_letters(job, asked, where), hand)
    ink += hand.leaders(
        (
            ((0.6 * far, (thick + reach) / 2), "SETTING BED"),
            ((0.5 * far, min(thick / 2, 0.9 * hand.text)), "BRICK"),
            ((0.4 * far, (reach + back) / 2), "SUBSTRATE BY OTHERS, VERIFY"),
        ),
        far + 2.4 * hand.text,
    )
    title = "PLAN AT THE WALL" if is_wall else "PLAN AT THE FREE EDGE"
    faces = job.face.beside("left")
    # The other plans have the front at their foot, this one the face that it cuts.
    turned = f", TURNED {float(faces[-1].turn):g} DEGREES" if faces else ""
    return Drawing("side-edge", title + turned, scale, tuple(ink))


def _before_the_face(gap: float, words: str, hand: Hand) -> Iterator[Ink]:
    """Name the joint at the end from before the face, right beside it.

    So no leader runs through the brick, along its edge, or past all of it.
    """
    text = hand.text
    at, (x, y) = (gap / 2, -0.25 * text), (gap + 1.6 * text, -2.0 * text)
    yield Stroke(layers.DIMENSIONS, (at, (x - 0.6 * text, y), (x, y)))
    yield dot(at, 0.25 * text)
    yield hand.caption((x + 0.6 * text, y), words, "left")


def _aslant(solution: Solution) -> float:
    """Return how far the wall at the left goes sideways for each length behind."""
    faces = solution.job.face.beside("left")
    return tan(radians(faces[-1].splay)) if faces else 0.0


def _across(solution: Solution, hand: Hand) -> tuple[float, float, float]:
    """Return how far back the brick, its setting bed and the wall as drawn reach."""
    thick, reach = (
        float(solution.job.brick.thickness),
        float(solution.surround.build_out),
    )
    return thick, reach, reach + max(3.0 * thick, 5.0 * hand.text)


def _courses(courses: list[Course], thick: float) -> Iterator[Ink]:
    for course in courses:
        near = -float(course.projection)
        box = (near, float(course.bottom), near + thick, float(course.top))
        yield from cut_through(ring_of(box))


def _edges_of(courses: list[Course]) -> tuple[Fraction, ...]:
    return tuple(level for course in courses for level in course.known_levels)


def _levels(
    levels: tuple[Fraction, ...],
    courses: list[Course],
    hand: Hand,
    before: float = 0.0,
) -> Iterator[Ink]:
    """Dimension brick and joints in front of the face, or of what projects.

    Of courses that are laid and were not measured there is no figure, and it says so.
    """
    different, x = tuple(dict.fromkeys(sorted(levels))), before - 6.5 * hand.text
    if len(different) > 1:
        yield from hand.string("y", different, x, upright=True)
        return
    for row, words in enumerate(("AS LAID,", "NOT MEASURED")):
        y = float(courses[0].bottom) + (2.5 - 1.8 * row) * hand.text
        yield hand.caption((before - 1.5 * hand.text, y), words, "right")
