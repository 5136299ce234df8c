"""Say how the bond is laid, and what had to be given up.

In:  `BondPlan`, `SolvedBond`.   Out: sentences, `GivenUp`.
Frame: none.

Every sentence is made from the courses as they are laid, never from what was meant.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import pairwise

from shopdraw.job.turning import SQUARE
from shopdraw.lengths import format_length, format_made
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.bond.solve import SolvedBond
from shopdraw.masonry.bond.turns import say_turns
from shopdraw.masonry.bonding.legs import LaidRow
from shopdraw.masonry.rows.merit import LEVELS, NOT_MIRRORED, TRIMMED
from shopdraw.masonry.wall.bond_rules import GivenUp

BESIDE_THE_FRONT = ("return", "chamfer", "alcove", "reveal")
"""What the zones of the faces beside the front end in."""
BESIDE_A_BAND = {
    "left beside": "front left of the band",
    "right beside": "front right of the band",
    "left inner": "leg between band and jamb",
    "right inner": "leg between band and jamb",
}
"""How the zones beside a band on a part of the front are told of."""
EVERY_OTHER = 4
"""From so many courses on, those that go by turns are named by the first and last."""


def say_bond(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    """Yield what was decided about the bond, a sentence each."""
    pattern = plan.job.bond.pattern
    if pattern == "stack":
        yield (
            "In stack bond no lap is asked for, and the corner units do not alternate."
        )
    yield from _say_headers(plan, solved)
    yield from say_turns(plan)
    if plan.surround.folds and pattern != "stack":
        face = "front"
        if plan.bond.rows[plan.kind(1)].leg != "long":
            has = {x.name.split()[-1] for x in plan.surround.faces}
            face = "faces beside it" if "chamfer" in has else "returns"
        trimmed = {x for courses in _trimmed(plan, solved).values() for x in courses}
        # A leg that is trimmed may be the shorter one on the wall.
        bought = ", as bought," if 1 in trimmed else ""
        yield (
            f"In course 1 the long legs of the corner units{bought} are on the {face}."
        )
    yield from _say_closers(plan, solved)
    yield from _say_front(plan, solved)
    yield from _say_unbonded(plan, solved)
    yield from _say_trimmed(plan, solved)
    yield from _say_joints(plan, solved)
    yield from _say_walls(plan, solved)
    if not solved.searched_all:
        yield "Not every way of laying the bond was looked at."


def say_courses(numbers: Iterable[int]) -> str:
    """Name courses in a sentence: `course 3`, `courses 2 to 9`, `courses 2 and 5`."""
    every = sorted(set(numbers))
    if len(every) == 1:
        return f"course {every[0]}"
    steps = {b - a for a, b in pairwise(every)}
    if steps == {1} and len(every) > 2:
        return f"courses {every[0]} to {every[-1]}"
    if len(steps) == 1 and steps <= {2} and len(every) >= EVERY_OTHER:
        return f"every other course from {every[0]} to {every[-1]}"
    names = ", ".join(map(str, every[:-1]))
    return f"courses {names} and {every[-1]}"


def _courses_of(plan: BondPlan, zone: str, kind: int) -> list[int]:
    """Return the courses of a zone that are of a kind."""
    courses = {
        "over": plan.over,
        "leg": plan.below if plan.has_beside else plan.legs,
        "beside": plan.beside,
        "return": plan.running,
        "chamfer": plan.running,
        "alcove": plan.running,
        "reveal": plan.below,
    }[zone.split()[-1]]
    numbers = [x.number for x in courses if plan.kind(x.number) == kind]
    return [n for n in numbers if not _is_cut_short(plan, zone, n)]


def _is_cut_short(plan: BondPlan, zone: str, number: int) -> bool:
    """Whether a band on a part of the front stands in a course's zone."""
    part = plan.part_beside(number)
    if part is None or zone.split()[-1] in BESIDE_THE_FRONT:
        return False
    return zone not in plan.zones_beside(part)


def _laid(
    plan: BondPlan, solved: SolvedBond
) -> Iterator[tuple[str, LaidRow, list[int]]]:
    """Yield each zone, a row laid in it, and the courses that it is laid in."""
    for zone, rows in solved.zones.items():
        for kind, row in sorted(rows.items()):
            courses = _courses_of(plan, zone, kind)
            if courses:
                yield zone, row, courses
    for number, zones in solved.corbels.items():
        for zone, row in zones.items():
            yield zone, row, [number]
    for number, zones in solved.beside.items():
        for zone, row in zones.items():
            yield BESIDE_A_BAND[zone], row, [number]


def _say_headers(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    """Say which courses of the front show headers."""
    among: dict[bool, set[int]] = {True: set(), False: set()}
    for kind, row in enumerate(plan.bond.rows):
        for zone in ("left leg", "right leg", "left beside", "right beside", "over"):
            laid = solved.zones.get(zone, {}).get(kind)
            if laid is not None and "H" in laid.letters:
                among["S" in row.pattern] |= set(_courses_of(plan, zone, kind))
    for number, zones in solved.corbels.items():
        if "H" in zones["over"].letters:
            pattern = plan.bond.rows[plan.kind(number)].pattern
            among["S" in pattern].add(number)
    header = format_length(plan.job.header_length, plan.job.lengths)
    if among[False]:
        where = say_courses(among[False])
        verb = "shows" if where.startswith(("course ", "every")) else "show"
        yield f"{where[0].upper()}{where[1:]} {verb} headers, {header} long."
    if among[True]:
        where = say_courses(among[True])
        yield f"Headers of {header} stand among the stretchers in {where}."


def _say_closers(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    """Say where closers stand."""
    found: dict[tuple[str, str], set[int]] = defaultdict(set)
    for zone, row, courses in _laid(plan, solved):
        for place, role in enumerate(row.roles):
            if role != "closer":
                continue
            left, right = row.pieces[place]
            length = format_length(plan.off_grid(right - left), plan.job.lengths)
            found[length, _place_of(plan, zone, row, place)] |= set(courses)
    by_length: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    for (length, where), numbers in sorted(found.items(), key=lambda x: x[0]):
        by_length[length][say_courses(numbers)].append(where)
    for length, places in by_length.items():
        said = (f"{' and '.join(x)} in {courses}" for courses, x in places.items())
        yield f"Closers of {length} stand {'; '.join(said)}."


def _place_of(plan: BondPlan, zone: str, row: LaidRow, place: int) -> str:
    """Say where in its course a piece stands."""
    last = len(row.roles) - 1
    left, right = row.pieces[place]
    if (
        zone == "over"
        and left + right == plan.on_grid(plan.surround.opening.centre) * 2
    ):
        return "on the centre line"
    beside = {end for end in (0, last) if abs(place - end) == 1}
    if any(row.roles[end] == "leg" for end in beside):
        return "beside the corner unit"
    face = zone.split()[-1]
    inside = face in ("return", "alcove") and zone.split()[0] in _sides_inside(plan)
    if inside and beside:
        at_edge = {"left alcove": 0, "right alcove": last}.get(zone)
        return "near the edge" if at_edge in beside else "near the inside corner"
    if face in BESIDE_THE_FRONT and beside:
        return "near the wall"
    inner = {"left leg": last, "left beside": last, "right leg": 0, "right beside": 0}
    if inner.get(zone) in beside:
        return "by the jamb" if face == "leg" else "by the soldiers"
    return "near the edge" if beside else "inside the course"


def _sides_inside(plan: BondPlan) -> list[str]:
    """Return the sides on which the return meets an alcove at an inside corner."""
    return [face.name.split()[0] for face in plan.surround.alcoves]


def _say_front(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    """Say whether the front is a mirror image, and what goes on over the opening."""
    if plan.is_mirrored and not plan.parts:
        limits = plan.sizes.limits
        leans = ", before it is sawn to what leans"
        yield (
            "The front is its own mirror image about the opening's centre line"
            + (leans if limits.at_jamb or limits.at_end else "")
            + "."
            if is_mirror_image(plan, solved)
            else "The front is not its own mirror image: every way that is has a piece "
            "or a lap under the least, courses that are not bonded, or a corner that "
            "can't be read."
        )
    if not plan.over:
        return
    lost = [
        f"the {side} leg in {say_courses(_courses_of(plan, f'{side} leg', kind))}"
        for side in ("left", "right")
        for kind, row in sorted(solved.zones.get(f"{side} leg", {}).items())
        if kind in solved.zones["over"]
        and not carries(row, solved.zones["over"][kind], side)
    ]
    if lost:
        yield (
            "Over the opening the joints go on as they stand in the legs, but not "
            f"those of {' and '.join(lost)}."
        )
    else:
        yield (
            "Over the opening the joints of both legs go on as they stand below, "
            "but for the last beside each jamb where it is not wanted there."
        )


def is_mirror_image(plan: BondPlan, solved: SolvedBond) -> bool:
    """Return whether the front, as laid, is its own mirror image."""
    about = plan.on_grid(plan.surround.opening.centre) * 2

    def turned(row: LaidRow) -> tuple[tuple[int, int], ...]:
        return tuple((about - b, about - a) for a, b in reversed(row.pieces))

    pairs = [("left leg", "right leg"), ("left beside", "right beside")]
    if "over" in solved.zones:
        pairs.append(("over", "over"))
    return all(
        turned(row) == solved.zones[right][kind].pieces
        for left, right in pairs
        for kind, row in solved.zones.get(left, {}).items()
    ) and all(
        turned(zones["over"]) == zones["over"].pieces
        for zones in solved.corbels.values()
    )


def carries(leg: LaidRow, over: LaidRow, side: str) -> bool:
    """Return whether a course over the opening has the joints of a leg's course.

    The last two beside the jamb are not looked at: they belong to the pieces there.
    """
    joints = leg.joints[:-2] if side == "left" else leg.joints[2:]
    return set(joints) <= set(over.joints)


def _say_unbonded(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    """Say where nothing bonds courses together, because none has a joint."""
    if plan.job.bond.pattern == "stack":
        return
    for zone, rows in solved.zones.items():
        laid = [row for kind, row in rows.items() if _courses_of(plan, zone, kind)]
        if len(laid) > 1 and not any(row.joints for row in laid):
            yield (
                f"The {zone} is one piece wide in every course, so that nothing there "
                "bonds one course to the next."
            )


def _trimmed(plan: BondPlan, solved: SolvedBond) -> dict[tuple[str, str], set[int]]:
    """Return in which courses legs are trimmed, by their printed length and zone."""
    # A corner unit that is made is made to its length: nothing is trimmed off it.
    made = {
        plan.on_grid(fold)
        for fold in (*plan.surround.folds, *plan.surround.jamb_folds)
        if plan.surround.turn_at(fold) != SQUARE
    }
    found: dict[tuple[str, str], set[int]] = defaultdict(set)
    for zone, row, courses in _laid(plan, solved):
        bought = _legs_bought(plan, zone, plan.kind(courses[0]), len(row.pieces))
        for (left, right), role, leg in zip(row.pieces, row.roles, bought, strict=True):
            is_made = left in made or right in made
            if role == "leg" and not is_made and right - left != leg:
                length = format_made(plan.off_grid(right - left), plan.job.lengths)
                found[length, zone] |= set(courses)
    return found


def _say_trimmed(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    """Say which corner units are trimmed, and to what."""
    trimmed = [
        f"to {length} in {say_courses(numbers)} "
        + ("over the opening" if zone == "over" else f"of the {zone}")
        for (length, zone), numbers in sorted(_trimmed(plan, solved).items())
    ]
    if trimmed:
        is_sure = solved.searched_with(TRIMMED)
        without = "there would be" if is_sure else "every way that was looked at has"
        yield (
            f"Corner units are trimmed at the free end of a leg: {', '.join(trimmed)}. "
            f"Without that {without} a piece or a lap under the least, a course that "
            "is not bonded, or a corner that can't be read."
        )


def _legs_bought(plan: BondPlan, zone: str, kind: int, count: int) -> list[int]:
    """Return for each place of a row how long the leg is that is bought for it."""
    row, brick = plan.bond_on(zone).rows[kind], plan.sizes.brick
    bought = [brick.leg(row.leg)] * count
    far = {"left leg": -1, "right leg": 0, "left chamfer": 0, "right chamfer": -1}
    if count > 1 and zone in far:
        bought[far[zone]] = brick.leg(row.at_jamb)
    return bought


def _say_joints(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    """Say where head joints differ from the preferred."""
    lengths = plan.job.lengths
    wanted = format_length(plan.off_grid(plan.sizes.joints.preferred), lengths)
    found: dict[str, dict[tuple[int, ...], list[str]]] = {}
    for zone, row, courses in sorted(_laid(plan, solved), key=lambda x: x[1].joint):
        # A width that reads as the preferred is told of by nobody.
        width = format_length(plan.off_grid(row.joint), lengths)
        if row.joints and width != wanted:
            zones = found.setdefault(width, {}).setdefault(tuple(courses), [])
            zones.append("over the opening" if zone == "over" else f"in the {zone}")
    for width, places in found.items():
        where = "; ".join(
            f"{' and '.join(zones)} in {say_courses(courses)}"
            for courses, zones in places.items()
        )
        yield f"Head joints are {width}, not {wanted}, {where}."


def _say_walls(plan: BondPlan, solved: SolvedBond) -> Iterator[str]:
    """Say where a course stops short of a wall, and the joint there takes it up."""
    found: dict[int, dict[str, set[int]]] = {}
    for zone, row, courses in _laid(plan, solved):
        short = plan.short_of_wall(zone, row)
        if short:
            found.setdefault(short, {}).setdefault(zone, set()).update(courses)
    for short, zones in sorted(found.items()):
        more = format_length(plan.off_grid(short), plan.job.lengths)
        where = " and ".join(
            f"the {zone} in {say_courses(numbers)}" for zone, numbers in zones.items()
        )
        yield f"The joint at the wall is {more} wider in {where}."


def give_up(solved: SolvedBond) -> tuple[GivenUp, ...]:
    """Return what the bond of each face gives up, in the order of merit."""
    return tuple(
        GivenUp(
            face=name,
            place=level.number,
            level=level.name,
            counts=level.counts,
            before=_before(level.number),
            count=count,
            zones=_by_zone(solved, name, level.number),
        )
        for name, face in solved.faces.items()
        for level, count in zip(LEVELS, face.merit, strict=True)
        if count
    )


def _before(number: int) -> str:
    """Name the lines of the order before one."""
    names = [level.name for level in LEVELS[: number - 1]]
    if len(names) < 2:
        return "".join(names)
    return f"from {names[0]} to {names[-1]}"


def _by_zone(solved: SolvedBond, face: str, number: int) -> tuple[tuple[str, int], ...]:
    zones: dict[str, int] = defaultdict(int)
    for part in solved.faces[face].parts:
        if number != NOT_MIRRORED and part.merit[number - 1]:
            zones[part.zone] += part.merit[number - 1]
    return tuple(zones.items())
