"""Name widths near the job's that need nothing sawn, and what makes each of them.

In:  `BondPlan`, `SolvedBond`.   Out: sentences.
Frame: whole numbers on the plan's grid.

Halves in plain courses, and closers, are part of a bond: they are not counted as sawn.
Every width that is named was solved: all its courses can be laid so, at the preferred
head joint, with no merit from 1 to 13 against them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from shopdraw.lengths import format_length, typed_length
from shopdraw.masonry.bond.corners import other_corners
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.bond.solve import SolvedBond, front_of, spans_of
from shopdraw.masonry.bonding.answer import solve_front
from shopdraw.masonry.bonding.faces import LaidRow, Solved, solve_stretch
from shopdraw.masonry.bonding.front import Front
from shopdraw.masonry.bonding.legs import LegSpan, Near
from shopdraw.masonry.rows.forms import Speller, Token, with_closers
from shopdraw.masonry.rows.merit import FAULTS
from shopdraw.masonry.rows.sizes import Joints, Sizes

TRIED = 4
"""So many widths are solved on each side before there is said to be none near."""


@dataclass(frozen=True)
class Zone:
    """A leg, a return or the whole front, which may be given another width.

    Attributes:
        name: as it is said.
        span: where it is; of the whole front, from its left end on.
        far: what the front ends at on the right; None for a leg or a return.
        sizes: the bond as it shows there.
        rows: what is laid there.
    """

    name: str
    span: LegSpan
    far: Near | None
    sizes: Sizes
    rows: Mapping[int, LaidRow]

    @property
    def has_corner(self) -> bool:
        """Whether a corner unit stands in it."""
        return "corner" in (self.span.near, self.far)


def find_better_widths(plan: BondPlan, solved: SolvedBond) -> tuple[str, ...]:
    """Name, for each part with something sawn, the nearest widths that need nothing."""
    said: dict[str, list[str]] = {}
    for zone in _zones(plan, solved):
        if not _is_clean(zone.sizes, zone.rows):
            for sentence in _sentences(plan, zone):
                said.setdefault(sentence, []).append(zone.name)
    return tuple(
        f"{_listed(names).capitalize()}: {sentence}" for sentence, names in said.items()
    )


def _listed(names: list[str]) -> str:
    return " and ".join(x for x in (", ".join(names[:-1]), names[-1]) if x)


def _zones(plan: BondPlan, solved: SolvedBond) -> Iterator[Zone]:
    front, sizes, zones = front_of(plan), plan.sizes, solved.zones
    for name, span in spans_of(plan):
        if name.endswith("return"):
            yield Zone(name, span, None, sizes.round_the_corner(), zones[name])
    for name, span in (("left leg", front.left_leg), ("right leg", front.right_leg)):
        if name in zones:
            yield Zone(name, span, None, sizes, zones[name])
    if "over" in zones:
        whole = LegSpan(
            front.left, front.right, front.ends[0], "jamb", front.over_kinds
        )
        yield Zone("whole front", whole, front.ends[1], sizes, zones["over"])


def _is_clean(sizes: Sizes, rows: Mapping[int, LaidRow]) -> bool:
    """Return whether nothing is sawn but halves in plain courses, and closers."""
    brick = sizes.brick
    for kind, laid in rows.items():
        row = sizes.bond.rows[kind]
        allowed = {
            "leg": {brick.long, brick.short},
            "whole": {brick.unit, brick.header},
            "cut": {sizes.natural_bat(row)},
            "closer": {sizes.closer(row)},
        }
        for (left, right), role in zip(laid.pieces, laid.roles, strict=True):
            if right - left not in allowed[role]:
                return False
    return True


def _solve(zone: Zone, width: int, sizes: Sizes) -> Solved | None:
    """Return how the zone would be laid at another width, at the preferred joint."""
    joint = sizes.joints.preferred
    exact = replace(sizes, joints=Joints(joint, joint, joint, sizes.joints.step))
    try:
        if zone.far is None:
            span = replace(zone.span, right=zone.span.left + width)
            return solve_stretch(exact, span)
        ends = (zone.span.near, zone.far)
        front = Front(
            left=0, right=width, jambs=(0, width), ends=ends, leg_kinds=(),
            over_kinds=zone.span.kinds, is_mirrored=ends[0] == ends[1],
        )  # fmt: skip
        return solve_front(exact, front)
    except ValueError:
        return None


def _needs_nothing(zone: Zone, width: int, sizes: Sizes) -> bool:
    solved = _solve(zone, width, sizes)
    if solved is None or any(solved.merit[:FAULTS]):
        return False
    return all(_is_clean(sizes, rows) for rows in solved.zones.values())


def _nominal_widths(zone: Zone, kind: int, low: int, high: int) -> set[int]:
    """Return each width in range that a course of a kind fills with nothing sawn."""
    sizes, row = zone.sizes, zone.sizes.bond.rows[kind]
    speller = Speller(sizes, row, high, high - low)
    begun: tuple[Token, ...] = ("L",) if zone.span.near == "corner" else ()
    ended: tuple[Token, ...] = ("L",) if zone.far == "corner" else ()
    ended = ("M",) if zone.span.far == "turned" else ended
    found = set()
    for form in ("W", "Wx", "xW"):
        for spelling in speller.spell(form, begun, ended):
            if not spelling:
                continue
            for closed in with_closers(speller, spelling, at_end=True):
                if "q" not in closed:
                    joints = (len(closed) - 1) * sizes.joints.preferred
                    pieces = (_nominal(speller, token) for token in closed)
                    found.add(joints + sum(pieces))
    return {width for width in found if low <= width <= high}


def _nominal(speller: Speller, token: Token) -> int:
    if token == "x":
        return speller.sizes.natural_bat(speller.row)
    if token == "Q":
        return speller.sizes.closer(speller.row)
    return speller.longest(token)


def _fitting_widths(zone: Zone) -> Iterator[int]:
    """Yield the nearest width below, and above, at which nothing is sawn."""
    reach = 2 * (zone.sizes.brick.unit + zone.sizes.joints.preferred)
    low, high = max(zone.span.width - reach, 1), zone.span.width + reach
    kinds = sorted(set(zone.span.kinds))
    every = [_nominal_widths(zone, kind, low, high) for kind in kinds]
    near = sorted(
        set.intersection(*every), key=lambda width: abs(width - zone.span.width)
    )
    for side in (-1, 1):
        tried = [x for x in near if (x - zone.span.width) * side > 0][:TRIED]
        for width in tried:
            if _needs_nothing(zone, width, zone.sizes):
                yield width
                break


def _sentences(plan: BondPlan, zone: Zone) -> Iterator[str]:
    lengths = plan.job.lengths
    for width in _fitting_widths(zone):
        change = plan.off_grid(width - zone.span.width)
        way = "wider" if change > 0 else "narrower"
        makes = list(_makes(plan, zone, change))
        yield (
            f"{format_length(plan.off_grid(width), lengths)} would need nothing sawn "
            f"but {_but(zone)}; that is {format_length(abs(change), lengths)} "
            f"{way}" + (f"; {', or '.join(makes)}, makes it." if makes else ".")
        )
    for brick in other_corners(zone.sizes) if zone.has_corner else ():
        if _needs_nothing(zone, zone.span.width, replace(zone.sizes, brick=brick)):
            legs = " x ".join(
                format_length(plan.off_grid(leg), lengths)
                for leg in (brick.long, brick.short)
            )
            yield (
                f"as wide as it is, with corner units of {legs} it would need nothing "
                f"sawn but {_but(zone)}."
            )


def _but(zone: Zone) -> str:
    has_headers = any(row.has_headers for row in zone.sizes.bond.rows)
    return "halves and closers" if has_headers else "halves"


def _makes(plan: BondPlan, zone: Zone, change: Fraction) -> Iterator[str]:
    """Yield what makes a zone so much wider; narrower where it is below nothing."""
    job = plan.job

    def say(length: Fraction) -> str:
        return typed_length(length, job.lengths)

    for where, width in _edge_joints(plan, zone):
        wanted = width - change
        if job.joints.head.least <= wanted <= max(job.joints.head.most, width):
            yield f"a joint of {say(wanted)} {where}"
    bed = job.setting_bed
    if zone.far is None and zone.has_corner and job.face.measured_to == "substrate":
        wanted = bed.mean + change / (2 if zone.span.far == "turned" else 1)
        if bed.least <= wanted <= bed.most:
            yield f"a setting bed of {say(wanted)} on the average"


def _edge_joints(plan: BondPlan, zone: Zone) -> Iterator[tuple[str, Fraction]]:
    """Yield the joints that a zone ends at: where, and how wide it is."""
    edges = plan.job.edges
    sides = {"left": edges.left, "right": edges.right}
    if zone.far is not None:
        for side, end in (("left", zone.span.near), ("right", zone.far)):
            if end == "free":
                yield f"at the {side} edge", sides[side].width
        return
    side = zone.name.split()[0]
    if zone.name.endswith("return"):
        yield "at the wall", sides[side].width
        return
    yield "beside the opening", edges.jambs.width
    if zone.span.near == "free":
        yield f"at the {side} edge", sides[side].width
