"""Choose how every face is laid: the front with its opening, returns, turned jambs.

In:  `BondPlan`.   Out: `SolvedBond`.
Frame: whole numbers on the plan's grid, along the developed plane.

Faces meet only in corner units, whose legs are as they are bought, so each face is
solved by itself; which leg shows at the far end of a chamfer, with its return.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache
from typing import TypeAlias

from shopdraw.errors import NotLaid
from shopdraw.job.model_face import SIDES
from shopdraw.lengths import format_length
from shopdraw.masonry.bond.beside import Bearing, solve_beside
from shopdraw.masonry.bond.corbels import lay_corbels
from shopdraw.masonry.bond.parts import lay_beside_parts
from shopdraw.masonry.bond.plan import BondPlan, zone_of
from shopdraw.masonry.bonding.answer import solve_front, solve_stretch
from shopdraw.masonry.bonding.legs import (
    Front,
    LaidRow,
    LegSpan,
    Near,
    NoWayError,
    Solved,
)
from shopdraw.masonry.rows.merit import FAILS, Merit
from shopdraw.masonry.wall.form import Face, Surround

# A job that is measured again asks the same of most faces.
_front = lru_cache(maxsize=64)(solve_front)
_stretch = lru_cache(maxsize=64)(solve_stretch)

Rows = Mapping[int, LaidRow]
"""By kind of course, what is laid in it."""


@dataclass(frozen=True)
class SolvedBond:
    """How every face is laid.

    Attributes:
        plan: what was solved, with the legs at jambs and chamfers as they are laid.
        zones: by name what each kind of course is: "left return", "left chamfer",
            "left alcove", "left reveal", "left leg", "left beside" (soldiers), "over",
            and the same on the right.
        faces: by name of the face what was found of it: "front", "left return", ...
        corbels: the courses that a corbel brings out: by number, the same zones.
        beside: the courses beside a band on a part of the front: by number, what lies
            at each side of it.
    """

    plan: BondPlan
    zones: Mapping[str, Rows]
    faces: Mapping[str, Solved]
    corbels: Mapping[int, Mapping[str, LaidRow]] = field(default_factory=dict)
    beside: Mapping[int, Mapping[str, LaidRow]] = field(default_factory=dict)

    def row(self, zone: str, course: int) -> LaidRow:
        """Return what is laid in a zone of a course."""
        if course in self.corbels:
            return self.corbels[course][zone]
        if zone in self.beside.get(course, {}):
            return self.beside[course][zone]
        return self.zones[zone][self.plan.kind(course)]

    @property
    def merit(self) -> Merit:
        """The counts of all faces together."""
        merits = (face.merit for face in self.faces.values())
        return tuple(map(sum, zip(*merits, strict=True)))

    @property
    def searched_all(self) -> bool:
        """Whether every way of the family was looked at, or ruled out, on each face."""
        return all(face.searched_all for face in self.faces.values())

    def searched_with(self, level: int) -> bool:
        """Return the same of the faces that count something at a level, if any do."""
        counting = [x for x in self.faces.values() if x.merit[level - 1]]
        return all(x.searched_all for x in counting or self.faces.values())


def solve_bond(plan: BondPlan) -> SolvedBond:
    """Choose how every face is laid.

    Where brick turns into the jambs, its long legs may lie either way round.

    Raises:
        NotLaid: neither way can be laid, of pieces however short.
    """
    plans = [plan]
    if plan.surround.reveals:
        swapped = replace(plan.sizes, bond=plan.bond.far_legs_swapped())
        plans.append(replace(plan, sizes=swapped))
    ways = list[SolvedBond]()
    for each in plans:
        with suppress(NoWayError):
            ways.append(_solve(each))
    if not ways:
        raise NotLaid(_too_narrow(plan))
    return min(ways, key=lambda way: way.merit)


def _too_narrow(plan: BondPlan) -> str:
    """Say how wide everything is that courses would have to fill."""
    front = front_of(plan)
    spans = [("left leg", front.left_leg), ("right leg", front.right_leg)]
    widths = ", ".join(
        f"{name} {format_length(plan.off_grid(span.width), plan.job.lengths)}"
        for name, span in (*spans, *spans_of(plan))
    )
    return (
        f"{plan.bond.name} bond: somewhere no course of it can be laid with these "
        f"joints, of pieces however short ({widths}); make the narrowest wider, or "
        "write a wider range for joints.head"
    )


def _solve(plan: BondPlan) -> SolvedBond:
    plan, front = _sides_chosen(plan), front_of(plan)
    solved, beside = _front_and_beside(plan, front)
    zones, faces = dict(solved.zones), {"front": solved}
    for name, found, rows in (*beside, *_folded(plan)):
        faces[name], zones[name] = found, rows
    corbels = lay_corbels(plan, front, zones)
    return SolvedBond(plan, zones, faces, corbels, lay_beside_parts(plan, front, zones))


Beside: TypeAlias = tuple[str, Solved, Rows]
"""The name of legs beside soldiers, what was found of them, and their courses."""


def _front_and_beside(plan: BondPlan, front: Front) -> tuple[Solved, list[Beside]]:
    """Choose how the front is laid, and then what stands beside soldiers.

    Where a rule is broken beside them, the front is asked for once more, of legs that
    can bear what breaks none.
    """
    solved = _front(plan.sizes, front)
    first = solved, list(_beside(plan, front, solved))
    if not any(any(found.merit[:FAILS]) for _, found, _ in first[1]):
        return first
    if not plan.below:
        return first
    spans = tuple(span for _, span, _ in _stretches(plan, front))
    bears = Bearing(plan.sizes, spans, plan.kind(plan.below[-1].number))
    try:
        solved = _front(plan.sizes, replace(front, bears=bears))
    except NoWayError:
        return first
    second = solved, list(_beside(plan, front, solved))

    def together(way: tuple[Solved, list[Beside]]) -> Merit:
        merits = way[0].merit, *(found.merit for _, found, _ in way[1])
        return tuple(map(sum, zip(*merits, strict=True)))

    return min(first, second, key=together)


def _stretches(plan: BondPlan, front: Front) -> Iterator[tuple[str, LegSpan, int]]:
    """Yield the legs beside soldiers, where these go past the jambs: side, where, way.

    The right one is mirrored about nothing, as the right leg is; its way is -1.
    """
    if not plan.has_beside:
        return
    kinds = plan.kinds(plan.beside)
    for side, leg, stop, way in (
        ("left", front.left_leg, plan.stops[0], 1),
        ("right", front.right_leg, -plan.stops[1], -1),
    ):
        stretch = replace(leg, right=stop, far="jamb", kinds=kinds)
        if stretch.width > 0:
            yield side, stretch, way  # Else the soldiers stand to the front's own end.


def _beside(plan: BondPlan, front: Front, solved: Solved) -> Iterator[Beside]:
    """Yield the legs beside soldiers as they are laid with a front."""
    for side, stretch, way in _stretches(plan, front):

        def seen(rows: Rows, way: int = way) -> Rows:
            if way > 0:
                return rows
            return {kind: x.moved(0, turned=True) for kind, x in rows.items()}

        below = over = None
        if plan.below:
            kind = plan.kind(plan.below[-1].number)
            below = kind, seen(solved.zones[f"{side} leg"])[kind]
        if plan.over:
            kind = plan.kind(plan.over[0].number)
            over = kind, seen(solved.zones["over"])[kind]
        legs = seen(solved.zones[f"{side} leg"])
        found = solve_beside(plan.sizes, stretch, legs, below, over)
        yield f"{side} beside", found, seen(found.zones["beside"])


def front_of(plan: BondPlan) -> Front:
    """Return the front on the grid."""
    surround = plan.surround
    opening, names = surround.opening, {face.name for face in surround.faces}
    left, right = surround.left_edge.brick_x, surround.right_edge.brick_x
    ends: list[Near] = ["free", "free"]
    if "left" in names:
        left, ends[0] = surround.front.left, "corner"
    if "right" in names:
        right, ends[1] = surround.front.right, "corner"
    return Front(
        left=plan.on_grid(left),
        right=plan.on_grid(right),
        jambs=(plan.on_grid(opening.brick_left), plan.on_grid(opening.brick_right)),
        ends=(ends[0], ends[1]),
        leg_kinds=plan.kinds(plan.legs),
        over_kinds=plan.kinds(plan.over),
        is_mirrored=plan.is_mirrored,
        is_turned=bool(surround.reveals),
        is_apart=_is_apart(plan),
    )


def _is_apart(plan: BondPlan) -> bool:
    """Return whether a course of no bond lies between the legs and what is over."""
    if not plan.legs or not plan.over:
        return False
    return plan.over[0].number != plan.legs[-1].number + 1


def spans_of(plan: BondPlan) -> Iterator[tuple[str, LegSpan]]:
    """Yield the zone of each face beside the front, as it lies from its corner on."""
    surround, running = plan.surround, plan.kinds(plan.running)
    for face in surround.faces:
        zone, fold = zone_of(face.name), surround.fold_of(face)
        if zone.endswith("chamfer"):
            width = plan.on_grid(face.width)
            yield zone, LegSpan(0, width, "corner", "turned", running)
        elif zone.endswith("return"):
            if face.behind:
                yield zone, _at_inside_corner(plan, face, fold, "corner")
                continue
            is_left = face is surround.faces[0]
            edge = surround.left_edge if is_left else surround.right_edge
            width = plan.on_grid(abs(edge.brick_x - fold))
            yield zone, LegSpan(0, width, "corner", "wall", running)
        elif face.is_alcove:
            yield zone, _at_inside_corner(plan, face, _begin(surround, face), "free")
    for face in surround.reveals:
        width = plan.on_grid(face.width)
        yield face.name, LegSpan(0, width, "corner", "wall", plan.kinds(plan.below))


def _begin(surround: Surround, face: Face) -> Fraction:
    """Return where the brick of a face begins: at its corner; an alcove's, far away."""
    if face.is_alcove:
        is_left = face is surround.faces[0]
        return (surround.left_edge if is_left else surround.right_edge).brick_x
    return surround.fold_of(face)


def _at_inside_corner(
    plan: BondPlan, face: Face, begin: Fraction, near: Near
) -> LegSpan:
    """Return a face whose courses run past, and butt, at its far end by turns."""
    far = face.left if begin - face.left > face.right - begin else face.right
    return LegSpan(
        left=0,
        right=plan.on_grid(abs(far - begin)),
        near=near,
        far="inside",
        kinds=plan.kinds(plan.running),
        butting=plan.butting(face.name),
        shorter=plan.on_grid(face.behind + plan.corner_joint),
        joint=plan.on_grid(plan.corner_joint),
    )


def _sides_chosen(plan: BondPlan) -> BondPlan:
    """Choose what each side leaves open: the legs of a chamfer, what runs past.

    A chamfer's corner at the front has its leg from there. At its other end either leg
    may show, and the return has the other. At an inside corner the return runs past in
    the courses with the one leg or the other. The better of all faces of the side
    together is taken.
    """
    for side in SIDES:
        names = {face.name for face in plan.surround.faces}
        ways = [plan]
        if f"{side} chamfer" in names:
            ways += [replace(x, swapped=x.swapped | {side}) for x in ways]
        if f"{side} alcove" in names:
            ways += [replace(x, short_past=x.short_past | {side}) for x in ways]
        if len(ways) == 1:
            continue
        judged = [(merit, way) for way in ways for merit in _merits(way, side)]
        if not judged:
            raise NoWayError
        plan = min(judged, key=lambda way: way[0])[1]
    return plan


def _merits(plan: BondPlan, side: str) -> Iterator[Merit]:
    """Yield the counts of a side's faces together; nothing where one can't be laid."""
    names = [f"{side} {what}" for what in ("chamfer", "return", "alcove")]
    zones = [x for x in spans_of(plan) if x[0] in names]
    with suppress(NoWayError):
        found = [_beside_front(plan, zone, span).merit for zone, span in zones]
        yield tuple(map(sum, zip(*found, strict=True)))


def _beside_front(plan: BondPlan, zone: str, span: LegSpan) -> Solved:
    return _stretch(plan.sizes_on(zone), span, "return")


def _folded(plan: BondPlan) -> Iterator[tuple[str, Solved, Rows]]:
    """Yield each face beside the front, as it is laid. What is alike is solved once."""
    surround = plan.surround
    faces = {zone_of(x.name): x for x in (*surround.faces, *surround.reveals)}
    for name, span in spans_of(plan):
        solved, face = _beside_front(plan, name, span), faces[name]
        begin = _begin(surround, face)
        is_turned = begin - face.left > face.right - begin
        rows = {
            kind: filling.moved(plan.on_grid(begin), turned=is_turned)
            for kind, filling in solved.zones["return"].items()
        }
        parts = tuple(replace(part, zone=name) for part in solved.parts)
        yield name, replace(solved, parts=parts), rows
