"""Lay the bond: put every piece where it goes, with its cuts, its ID and its mark.

In:  `Job`, `Surround`, `Coursing`.   Out: `Layout`.
Frame: as `Surround`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.bond.plan import BondPlan, plan_bond
from shopdraw.masonry.bond.runs import Run
from shopdraw.masonry.bond.solve import SolvedBond, solve_bond
from shopdraw.masonry.bond.widths import find_better_widths
from shopdraw.masonry.coursing.form import Course, Coursing
from shopdraw.masonry.heads.arches import set_out_arch
from shopdraw.masonry.heads.soldiers import lay_soldiers
from shopdraw.masonry.laying.fitting import (
    Fitted,
    find_stops,
    fit_pieces,
    lay_voussoirs,
    say_fitting,
)
from shopdraw.masonry.laying.measure import break_rules, least_cut, measure_laps
from shopdraw.masonry.laying.pieces import mark_pieces
from shopdraw.masonry.wall.form import FaceName, Surround
from shopdraw.masonry.wall.layout import (
    Arch,
    Layout,
    Outline,
    Piece,
    Stop,
    StopKind,
    flat_piece,
    rectangle,
)


@dataclass(frozen=True)
class _Row:
    """One run in one course of one face, in its place on the wall."""

    face: FaceName
    course: Course
    run: Run
    stops: tuple[StopKind, StopKind]


@dataclass(frozen=True)
class Laid:
    """The pieces in their places, not named yet, and what they were laid from."""

    pieces: tuple[Piece, ...]
    stops: tuple[Stop, ...]
    plan: BondPlan
    solved: SolvedBond
    fitted: Fitted
    arch: Arch | None
    reasons: tuple[str, ...]


def lay_pieces(
    job: Job, surround: Surround, coursing: Coursing, *, quick: bool = False
) -> Laid:
    """Lay every piece where it goes.

    Args:
        job: what was asked.
        surround: the faces.
        coursing: the courses.
        quick: take the first way of laying the legs that will do, to compare jobs.
    """
    plan = replace(plan_bond(job, surround, coursing), is_quick=quick)
    soldiers = lay_soldiers(job, surround, coursing)
    beside = tuple(plan.on_grid(x) for x in soldiers.brick_stops)
    solved = solve_bond(plan, (beside[0], beside[1]))
    plan = replace(plan, jambs_swapped=solved.jambs_swapped)
    rows = tuple(_rows(plan, solved))
    laid = (*_corner_units(plan, rows), *_flats(plan, rows), *soldiers.pieces)
    arch = set_out_arch(job, surround, coursing)
    fitted = fit_pieces(job, surround, coursing, laid, arch)
    return Laid(
        pieces=(*fitted.pieces, *lay_voussoirs(job, coursing, arch)),
        stops=(*_stops(plan, rows), *soldiers.stops),
        plan=plan,
        solved=solved,
        fitted=fitted,
        arch=arch,
        reasons=soldiers.reasons,
    )


def lay_bond(job: Job, surround: Surround, coursing: Coursing) -> Layout:
    """Lay every course on every face, name the pieces, and measure what came out."""
    laid = lay_pieces(job, surround, coursing)
    pieces = mark_pieces(laid.pieces, job)
    laps = tuple(measure_laps(pieces, job, coursing))
    broken = break_rules(pieces, job, laps)
    names = {rule.rule: set(rule.pieces) for rule in broken}
    return Layout(
        pieces=tuple(
            replace(piece, broken=rules)
            if (rules := tuple(rule for rule in names if piece.id in names[rule]))
            else piece
            for piece in pieces
        ),
        stops=tuple(find_stops(laid.stops, pieces, job.joints.head.most)),
        broken=broken,
        least_piece=least_cut(pieces, job),
        least_lap=min((lap for lap, _ in laps), default=None),
        reasons=(
            *_reasons(laid.plan, laid.solved),
            *laid.reasons,
            *say_fitting(job, surround, laid.fitted, laid.arch),
        ),
        ways_out=find_better_widths(laid.plan, pieces),
        arch=laid.arch,
        cycle=laid.plan.cycle,
    )


def _rows(plan: BondPlan, solved: SolvedBond) -> Iterator[_Row]:
    """Yield every run of every running course, bottom up, left to right."""
    surround = plan.surround
    has = {face.name for face in surround.faces}
    below = {course.number for course in plan.below}
    beside = {course.number for course in plan.beside}
    outer: tuple[StopKind, StopKind] = (
        "fold" if "left" in has else "edge",
        "fold" if "right" in has else "edge",
    )
    for course in sorted(plan.running, key=lambda course: course.number):
        phase = plan.phase(course.number)
        if solved.left_return is not None:
            yield _Row("left", course, solved.left_return[phase], ("wall", "fold"))
        if course.number in below:
            yield from _below_the_head(plan, solved, course, outer)
        elif course.number in beside:
            if solved.left_beside is not None:
                run = solved.left_beside[phase]
                yield _Row("front", course, run, (outer[0], "soldier"))
            if solved.right_beside is not None:
                run = solved.right_beside[phase]
                yield _Row("front", course, run, ("soldier", outer[1]))
        elif solved.over is not None:
            yield _Row("front", course, solved.over[phase], outer)
        if solved.right_return is not None:
            yield _Row("right", course, solved.right_return[phase], ("fold", "wall"))


def _below_the_head(
    plan: BondPlan,
    solved: SolvedBond,
    course: Course,
    outer: tuple[StopKind, StopKind],
) -> Iterator[_Row]:
    """Yield both legs of a course, and its brick in the jambs if it turns into them."""
    phase = plan.phase(course.number)
    jamb: StopKind = "fold" if plan.surround.reveals else "jamb"
    yield _Row("front", course, solved.left_leg[phase], (outer[0], jamb))
    yield _Row("front", course, solved.right_leg[phase], (jamb, outer[1]))
    if solved.left_reveal is not None:
        run = solved.left_reveal[phase]
        yield _Row("left reveal", course, run, ("fold", "wall"))
    if solved.right_reveal is not None:
        run = solved.right_reveal[phase]
        yield _Row("right reveal", course, run, ("wall", "fold"))


def _outline(
    plan: BondPlan, face: FaceName, course: Course, piece: tuple[int, int]
) -> Outline:
    left, right = plan.off_grid(piece[0]), plan.off_grid(piece[1])
    return rectangle(face, left, course.bottom, right, course.top)


def _number(row: _Row) -> int:
    return row.course.number


def _corner_units(plan: BondPlan, rows: tuple[_Row, ...]) -> Iterator[Piece]:
    """Join each two legs that meet at a corner into one piece."""
    surround = plan.surround
    of_course = {number: list(group) for number, group in groupby(rows, _number)}
    for fold in (*surround.folds, *surround.jamb_folds):
        at = plan.on_grid(fold)
        for course in plan.running:
            legs: list[tuple[FaceName, tuple[int, int]]] = []
            for row in of_course.get(course.number, ()):
                if row.run.has_right_leg and row.run.pieces[-1][1] == at:
                    legs.append((row.face, row.run.pieces[-1]))
                if row.run.has_left_leg and row.run.pieces[0][0] == at:
                    legs.append((row.face, row.run.pieces[0]))
            if legs:
                at_jamb = fold in surround.jamb_folds
                yield _corner_unit(plan, course, legs, at_jamb=at_jamb)


def _corner_unit(
    plan: BondPlan,
    course: Course,
    legs: list[tuple[FaceName, tuple[int, int]]],
    *,
    at_jamb: bool,
) -> Piece:
    phase = plan.phase(course.number)
    on_front = plan.jamb_legs if at_jamb else plan.front_legs
    beyond = plan.reveal_legs if at_jamb else plan.return_legs
    bought = {
        face: on_front[phase] if face == "front" else beyond[phase] for face, _ in legs
    }
    # The face that the long leg, as bought, is on comes first.
    legs = sorted(legs, key=lambda leg: (-(bought[leg[0]] or 0), leg[0] != "front"))
    outlines = tuple(_outline(plan, face, course, piece) for face, piece in legs)
    trimmed = [face for face, (a, b) in legs if b - a != bought[face]]
    heights = _height_edges(plan.job, course)
    return Piece(
        id="",
        mark="",
        kind="corner unit",
        course=course.number,
        place=legs[0][0],
        outlines=outlines,
        length=outlines[0].right - outlines[0].left,
        height=course.height,
        legs=tuple(outline.right - outline.left for outline in outlines),
        is_cut=bool(heights),
        is_trimmed=bool(trimmed),
        cut_edges=(*(f"{face} leg" for face in trimmed), *heights),
    )


def _height_edges(job: Job, course: Course) -> tuple[str, ...]:
    """Return which bed of a course is sawn to height, if one is."""
    if course.height == job.brick.height:
        return ()
    return ("bottom",) if course.number == 1 else ("top",)


def _flats(plan: BondPlan, rows: tuple[_Row, ...]) -> Iterator[Piece]:
    for row in rows:
        units = row.run.units()
        for place, piece in enumerate(units):
            is_short = piece[1] - piece[0] != plan.rules.unit
            ends = (
                row.stops[0] if place == 0 and not row.run.has_left_leg else None,
                (
                    row.stops[1]
                    if place == len(units) - 1 and not row.run.has_right_leg
                    else None
                ),
            )
            sawn = (_sawn_end(plan, ends),) if is_short else ()
            heights = _height_edges(plan.job, row.course)
            outline = _outline(plan, row.face, row.course, piece)
            yield flat_piece("stretcher", row.course.number, outline, (*sawn, *heights))


def _sawn_end(plan: BondPlan, ends: tuple[StopKind | None, StopKind | None]) -> str:
    """Return which end of a short piece is sawn.

    The end as delivered goes where it is seen. The sawn end goes to a wall, to an edge
    that is covered, or to one that the job lets show a sawn end.
    """
    for side, stop in (("left", ends[0]), ("right", ends[1])):
        if stop is None:
            continue
        other = "right" if side == "left" else "left"
        shows = {
            "jamb": plan.surround.opening.jambs.shows,
            "soldier": "covered",
            "wall": "covered",
            "fold": "covered",
            "edge": (
                plan.surround.left_edge if side == "left" else plan.surround.right_edge
            ).shows,
        }[stop]
        return side if shows in ("covered", "sawn") else other
    return "right"


def _stops(plan: BondPlan, rows: tuple[_Row, ...]) -> Iterator[Stop]:
    for row in rows:
        ends = (row.run.pieces[0][0], row.run.pieces[-1][1])
        for kind, x in zip(row.stops, ends, strict=True):
            yield Stop(row.face, row.course.number, kind, plan.off_grid(x))


def _reasons(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    pattern = plan.job.bond.pattern
    if pattern == "third" and plan.cycle == 2:
        yield (
            "Third bond repeats every two courses here, not every three, because the "
            "corner units alternate from course to course."
        )
    if pattern == "stack":
        yield (
            "In stack bond no lap is asked for, and the corner units do not alternate."
        )
    if plan.surround.reveals:
        depth = format_length(plan.surround.reveals[0].width, plan.job.lengths)
        yield (
            f"Corner units turn into the jambs, {depth} back from the finished face; "
            "nothing is adhered inside the firebox."
        )
    if plan.surround.folds and pattern != "stack":
        yield "In course 1 the long legs of the corner units are on the front."
    if solved.score.trims:
        yield (
            "Some corner units are trimmed at the free end of a leg: of the layouts "
            "tried, those without trimming do worse on the least piece or the least "
            "lap."
        )
    if plan.symmetric and solved.score.asymmetry:
        yield (
            "The courses over the opening are not mirrored: of the layouts tried, "
            "mirrored ones do worse on the least piece or the least lap, or trim more."
        )
    if plan.over:
        yield (
            "The courses over the opening carry on the joints of both legs and close "
            "near the centre line."
        )
