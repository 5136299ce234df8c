"""Lay the bond: put every piece where it goes, with its cuts, its ID and its mark.

In:  `Job`, `Surround`, `Coursing`.   Out: `Layout`.
Frame: as `Surround`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from shopdraw.job.model import Job
from shopdraw.job.model_face import SIDES
from shopdraw.job.turning import SQUARE
from shopdraw.masonry.bond.corners import say_corners
from shopdraw.masonry.bond.plan import BondPlan, plan_bond
from shopdraw.masonry.bond.saying import give_up, say_bond
from shopdraw.masonry.bond.solve import SolvedBond, solve_bond
from shopdraw.masonry.bond.widths import find_better_widths
from shopdraw.masonry.bonding.legs import LaidRow
from shopdraw.masonry.coursing.form import Course, Coursing
from shopdraw.masonry.heads.arches import set_out_arch
from shopdraw.masonry.heads.bands import lay_bands
from shopdraw.masonry.heads.parts import part_bands
from shopdraw.masonry.heads.soldiers import lay_soldiers
from shopdraw.masonry.inset.lay import lay_panels, say_panels
from shopdraw.masonry.inset.refusing import refuse_in_the_way
from shopdraw.masonry.inset.stopping import stop_courses
from shopdraw.masonry.laying.fitting import (
    Fitted,
    find_stops,
    fit_pieces,
    lay_voussoirs,
    say_fitting,
)
from shopdraw.masonry.laying.folded import refuse_lost_legs, refuse_meeting_faces
from shopdraw.masonry.laying.measure import (
    break_rules,
    break_shapes,
    measure_cuts,
    measure_laps,
    nearest_least,
)
from shopdraw.masonry.laying.pieces import mark_pieces
from shopdraw.masonry.sawing.fillets import measure_fillets
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.bond_rules import Least
from shopdraw.masonry.wall.face_panel import FacePanel
from shopdraw.masonry.wall.form import FaceName, Surround
from shopdraw.masonry.wall.layout import (
    Layout,
    Outline,
    Piece,
    PieceKind,
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
    run: LaidRow
    stops: tuple[StopKind, StopKind]

    @property
    def has_legs(self) -> tuple[bool, bool]:
        """Whether a corner unit's leg stands at the left end, and at the right."""
        first, last = self.run.roles[0] == "leg", self.run.roles[-1] == "leg"
        if len(self.run.roles) == 1:
            return first and self.stops[0] == "fold", last and self.stops[0] != "fold"
        return first, last


@dataclass(frozen=True)
class Laid:
    """The pieces in their places, not named yet, and what they were laid from."""

    pieces: tuple[Piece, ...]
    stops: tuple[Stop, ...]
    plan: BondPlan
    solved: SolvedBond
    fitted: Fitted
    arch: Arch | None
    panels: tuple[FacePanel, ...]
    reasons: tuple[str, ...]


def lay_pieces(job: Job, surround: Surround, coursing: Coursing) -> Laid:
    """Lay every piece where it goes.

    Raises:
        NotLaid: there is no lawful way; it says what would do.
    """
    refuse_meeting_faces(job, surround)
    soldiers = lay_soldiers(job, surround, coursing)
    parts = part_bands(job, surround, coursing)
    plan = plan_bond(job, surround, coursing, soldiers.brick_stops, parts)
    arch = set_out_arch(job, surround, coursing)
    bands = lay_bands(job, surround, coursing, arch, parts)
    solved = solve_bond(plan)
    plan = solved.plan
    rows = tuple(_rows(plan, solved))
    laid = (
        *_corner_units(plan, rows),
        *_flats(plan, rows),
        *soldiers.pieces,
        *bands.pieces,
    )
    inset = lay_panels(job, surround, coursing)
    stands = laid, parts, arch
    refuse_in_the_way(job, surround, coursing, inset.panels, stands)
    stopped = stop_courses(job, laid, inset.panels)
    running = {course.number for course in (*plan.running, *plan.corbelled)}

    def least_lap(course: int, near: int) -> Fraction:
        if course not in running or near not in running:
            return Fraction(0)
        return plan.off_grid(plan.sizes.least_lap(plan.kind(course), plan.kind(near)))

    fitted = fit_pieces(job, surround, coursing, stopped.pieces, arch, least_lap)
    refuse_lost_legs(job, fitted.pieces)
    voussoirs = lay_voussoirs(job, coursing, arch)
    return Laid(
        pieces=(*fitted.pieces, *voussoirs, *inset.pieces),
        stops=(*_stops(plan, rows), *soldiers.stops, *bands.stops, *stopped.stops),
        plan=plan,
        solved=solved,
        fitted=fitted,
        arch=arch,
        panels=inset.panels,
        reasons=(
            *soldiers.reasons,
            *bands.reasons,
            *say_panels(job, coursing, inset.panels, stopped.sawn),
        ),
    )


def lay_bond(job: Job, surround: Surround, coursing: Coursing) -> Layout:
    """Lay every course on every face, name the pieces, and measure what came out."""
    laid = lay_pieces(job, surround, coursing)
    pieces = mark_pieces(laid.pieces, job)
    rows = tuple(piece for piece in pieces if piece.place != "panel")
    laps = tuple(measure_laps(laid.plan, rows, coursing))
    # Of the ways to stop courses at a panel only a few are looked at.
    bond = None if laid.panels else laid.solved
    broken = (
        *break_rules(rows, job, laps, bond),
        *break_shapes(rows, job, coursing),
    )
    names = {rule.rule: set(rule.pieces) for rule in broken}
    return Layout(
        pieces=tuple(
            replace(piece, broken=rules)
            if (rules := tuple(rule for rule in names if piece.id in names[rule]))
            else piece
            for piece in pieces
        ),
        stops=tuple(find_stops(laid.stops, rows, job.joints.head.most)),
        broken=broken,
        least_piece=nearest_least(least for _, least in measure_cuts(rows, job))
        or Least(job.brick.length, job.bond.least_piece),
        least_lap=nearest_least(lap.least for lap in laps),
        reasons=(
            *say_bond(laid.plan, laid.solved),
            *say_corners(laid.plan, laid.solved, rows),
            *laid.reasons,
            *say_fitting(job, surround, laid.fitted, laid.arch),
        ),
        ways_out=find_better_widths(laid.plan, laid.solved),
        arch=laid.arch,
        cycle=laid.plan.bond.letters,
        given_up=give_up(laid.solved),
        searched_all=laid.solved.searched_all,
        fillets=tuple(measure_fillets(laid.fitted.tips, rows)),
        panels=laid.panels,
    )


def _rows(plan: BondPlan, solved: SolvedBond) -> Iterator[_Row]:
    """Yield every run of every running course, bottom up, left to right."""
    has = {face.name for face in plan.surround.faces}
    jamb: StopKind = "fold" if plan.surround.reveals else "jamb"
    outer: tuple[StopKind, StopKind] = (
        "fold" if "left" in has else "edge",
        "fold" if "right" in has else "edge",
    )
    ends, walls = _stops_of_sides(plan)
    stops: dict[str, tuple[FaceName, StopKind, StopKind]] = {
        "left alcove": ("left alcove", ends[0], "inside corner"),
        "left return": ("left", walls[0], "fold"),
        "left chamfer": ("left chamfer", "fold", "fold"),
        "right chamfer": ("right chamfer", "fold", "fold"),
        "left leg": ("front", outer[0], jamb),
        "right leg": ("front", jamb, outer[1]),
        "left beside": ("front", outer[0], "soldier"),
        "right beside": ("front", "soldier", outer[1]),
        "left inner": ("front", "soldier", jamb),
        "right inner": ("front", jamb, "soldier"),
        "over": ("front", *outer),
        "left reveal": ("left reveal", "fold", "wall"),
        "right reveal": ("right reveal", "wall", "fold"),
        "right return": ("right", "fold", walls[1]),
        "right alcove": ("right alcove", "inside corner", ends[1]),
    }
    running = (*plan.running, *plan.corbelled)
    for course in sorted(running, key=lambda course: course.number):
        for zone in _zones(plan, solved, course):
            face, *between = stops[zone]
            run = solved.row(zone, course.number)
            yield _Row(face, course, run, (between[0], between[1]))


def _stops_of_sides(
    plan: BondPlan,
) -> tuple[tuple[StopKind, StopKind], tuple[StopKind, StopKind]]:
    """Return what the alcoves' far ends stop at, and what the returns do."""
    surround = plan.surround
    edges = surround.left_edge, surround.right_edge
    alcoves = {face.name for face in surround.alcoves}
    walls: list[StopKind] = [
        "inside corner" if f"{side} alcove" in alcoves else "wall" for side in SIDES
    ]
    return (edges[0].against, edges[1].against), (walls[0], walls[1])


def _zones(plan: BondPlan, solved: SolvedBond, course: Course) -> Iterator[str]:
    """Yield the zones of a course that are laid; the jambs after the legs."""
    front: tuple[str, ...] = ("left leg", "right leg", "left reveal", "right reveal")
    part = plan.part_beside(course.number)
    if part is not None:
        reveals = front[2:] if course in plan.below else ()
        front = (*plan.zones_beside(part), *reveals)
    elif course in plan.beside and plan.has_beside:
        front = ("left beside", "right beside")
    elif course in plan.beside:
        front = ("left leg", "right leg")
    elif course in plan.over or course in plan.corbelled:
        front = ("over",)
    left, right = (f"{side} chamfer" for side in SIDES)
    outer = [[f"{side} alcove", f"{side} return"] for side in SIDES]
    for zone in (*outer[0], left, *front, right, *outer[1][::-1]):
        laid = solved.corbels.get(course.number) or solved.zones
        own = solved.beside.get(course.number, {})
        if zone in own or (zone in laid and (part is None or not _is_beside(zone))):
            yield zone


def _is_beside(zone: str) -> bool:
    return zone.endswith(("beside", "inner"))


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
        for course in (*plan.running, *plan.corbelled):
            # A course that projects goes on past the corner on both faces.
            at, out = plan.on_grid(fold), plan.on_grid(course.projection)
            legs: list[tuple[FaceName, tuple[int, int]]] = []
            for row in of_course.get(course.number, ()):
                if row.has_legs[1] and row.run.pieces[-1][1] == at + out:
                    legs.append((row.face, row.run.pieces[-1]))
                if row.has_legs[0] and row.run.pieces[0][0] == at - out:
                    legs.append((row.face, row.run.pieces[0]))
            if legs:
                unit = _corner_unit(plan, course, legs, fold)
                yield _turned(unit, surround.turn_at(fold))


def _corner_unit(
    plan: BondPlan,
    course: Course,
    legs: list[tuple[FaceName, tuple[int, int]]],
    fold: Fraction,
) -> Piece:
    kind, surround = plan.kind(course.number), plan.surround
    bought = {
        face: plan.leg_bought(surround.face(face), fold, kind) for face, _ in legs
    }
    is_made = surround.turn_at(fold) != SQUARE

    def order(leg: tuple[FaceName, tuple[int, int]]) -> tuple[int, bool]:
        """Put the face with the long leg first; of equal legs the one nearer the front.

        What is bought has its legs as bought, however they are trimmed.
        """
        face, (a, b) = leg
        is_beyond = face != "front" and surround.fold_of(surround.face(face)) == fold
        return -(b - a if is_made else bought[face]), is_beyond

    legs = sorted(legs, key=order)
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


def _turned(unit: Piece, turn: Fraction) -> Piece:
    """Return a corner unit as it is at a corner that turns so far.

    Where the corner is not square no leg is trimmed: each is made as long as it is.
    """
    if turn == SQUARE:
        return unit
    kept = tuple(edge for edge in unit.cut_edges if not edge.endswith(" leg"))
    return replace(unit, turn=turn, is_trimmed=False, cut_edges=kept)


def _height_edges(job: Job, course: Course) -> tuple[str, ...]:
    """Return which bed of a course is sawn to height, if one is."""
    if course.height == job.brick.height:
        return ()
    return ("bottom",) if course.number == 1 else ("top",)


def _flats(plan: BondPlan, rows: tuple[_Row, ...]) -> Iterator[Piece]:
    for row in rows:
        last = len(row.run.pieces) - 1
        for place, (piece, role) in enumerate(
            zip(row.run.pieces, row.run.roles, strict=True)
        ):
            if role == "leg":
                continue
            kind: PieceKind = "closer" if role == "closer" else "stretcher"
            if row.run.letters[place] == "H":
                kind = "header"
            ends = (
                row.stops[0] if place == 0 else None,
                row.stops[1] if place == last else None,
            )
            is_short = piece[1] - piece[0] != plan.sizes.brick.unit
            sawn = (_sawn_end(plan, ends),) if is_short else ()
            heights = _height_edges(plan.job, row.course)
            outline = _outline(plan, row.face, row.course, piece)
            yield flat_piece(kind, row.course.number, outline, (*sawn, *heights))


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
            "inside corner": "covered",
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
