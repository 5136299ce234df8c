"""Name widths near the job's that need nothing sawn, and what makes each of them.

In:  `BondPlan`, `SolvedBond`.   Out: sentences.
Frame: whole numbers on the plan's grid.

Halves in plain courses, and closers, are part of a bond: they are not counted as sawn.
Every width that is named was laid, at the preferred head joint, with no merit from 1 to
15 against it; a leg or a return of that width was solved besides, and comes out so.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from shopdraw.job.turning import SQUARE
from shopdraw.lengths import format_length, taped_length
from shopdraw.masonry.bond.corners import other_corners
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.bond.solve import SolvedBond, front_of, spans_of
from shopdraw.masonry.bonding.answer import best_rows, solve_stretch
from shopdraw.masonry.bonding.legs import (
    LaidRow,
    LegSpan,
    Near,
    judged,
    setting_of,
    spans,
)
from shopdraw.masonry.rows.bonds import each_kind
from shopdraw.masonry.rows.forms import Speller, Spelling, Token, with_closers
from shopdraw.masonry.rows.layer import Cuts, RowLayer
from shopdraw.masonry.rows.sizes import Brick, Sizes

IN_PATTERN = 15
"""Up to here nothing may be against a width that is named."""
TRIED = 4
"""So many widths are solved on each side before there is said to be none near."""


@dataclass(frozen=True)
class Zone:
    """A leg, a return or the whole front, which may be given another width.

    Two are equal if the same widths are named to them, whatever is laid there.

    Attributes:
        name: as it is said.
        span: how wide it is and what it ends at, moved to 0; of the whole front, from
            its left end on.
        far: what the front ends at on the right; None for a leg or a return.
        sizes: the bond as it shows there.
        rows: what is laid there.
    """

    name: str = field(compare=False)
    span: LegSpan
    far: Near | None
    sizes: Sizes
    rows: Mapping[int, LaidRow] = field(compare=False)

    @property
    def has_corner(self) -> bool:
        """Whether a corner unit stands in it."""
        return "corner" in (self.span.near, self.far)


class Fits(NamedTuple):
    """What needs nothing sawn: widths near a zone's, and at its own other corners."""

    widths: tuple[int, ...]
    bricks: tuple[Brick, ...]


def find_better_widths(plan: BondPlan, solved: SolvedBond) -> tuple[str, ...]:
    """Name, for each part with something sawn, the nearest widths that need nothing."""
    said: dict[str, list[str]] = {}
    for zone in _zones(plan, solved):
        if _is_clean(zone.sizes, zone.rows):
            continue
        for sentence in _sentences(plan, zone, _fits(zone)):
            said.setdefault(sentence, []).append(zone.name)
    return tuple(
        f"{_listed(names).capitalize()}: {sentence}" for sentence, names in said.items()
    )


@lru_cache(maxsize=64)  # Legs and returns are alike, and so is a job measured again.
def _fits(zone: Zone) -> Fits:
    others = other_corners(zone.sizes) if zone.has_corner else ()
    return Fits(
        tuple(_fitting_widths(zone)),
        tuple(brick for brick in others if _fits_with(zone, brick)),
    )


def _listed(names: list[str]) -> str:
    return " and ".join(x for x in (", ".join(names[:-1]), names[-1]) if x)


def _zones(plan: BondPlan, solved: SolvedBond) -> Iterator[Zone]:
    front, sizes, zones = front_of(plan), plan.sizes, solved.zones

    def zone_of(name: str, span: LegSpan, shown: Sizes) -> Zone:
        at_0 = replace(span, left=0, right=span.width)
        return Zone(name, at_0, None, shown, zones[name])

    for name, span in spans_of(plan):
        # At an inside corner none is named: there each course has its own width.
        if not name.endswith("reveal") and span.far != "inside":
            yield zone_of(name, span, plan.sizes_on(name))
    for name, span in (("left leg", front.left_leg), ("right leg", front.right_leg)):
        if name in zones:
            yield zone_of(name, span, sizes)
    if "over" in zones:
        whole = LegSpan(
            0, front.right - front.left, front.ends[0], "jamb", front.over_kinds
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


def _clean_spellings(
    zone: Zone, sizes: Sizes, kind: int, low: int, high: int
) -> dict[int, list[Spelling]]:
    """Return by width, from low to high, the courses with nothing sawn of a kind."""
    row, joint = sizes.bond.rows[kind], sizes.joints.preferred
    speller = Speller(sizes, row, high, high - low)
    begun: Spelling = ("L",) if zone.span.near == "corner" else ()
    ended: Spelling = ("L",) if zone.far == "corner" else ()
    ended = ("M",) if zone.span.far == "turned" else ended
    found: dict[int, list[Spelling]] = {}
    for form in ("W", "Wx", "xW", "WxW"):
        for spelling in speller.spell(form, begun, ended):
            for closed in with_closers(speller, spelling, at_end=True):
                pieces = (_nominal(speller, token) for token in closed)
                width = (len(closed) - 1) * joint + sum(pieces)
                if closed and "q" not in closed and low <= width <= high:
                    found.setdefault(width, []).append(closed)
    return found


def _nominal(speller: Speller, token: Token) -> int:
    if token == "x":
        return speller.sizes.natural_bat(speller.row)
    if token == "Q":
        return speller.sizes.closer(speller.row)
    return speller.longest(token)


def _needs_nothing(
    zone: Zone, sizes: Sizes, width: int, courses: dict[int, list[Spelling]]
) -> bool:
    """Return whether some of these courses can lie on one another, without a fault."""
    far = "turned" if zone.far == "corner" else zone.span.far
    span = replace(zone.span, right=width, far=far)
    joint = (sizes.joints.preferred,)
    rows = {}
    for kind, spellings in courses.items():
        row = sizes.bond.rows[kind]
        some = spellings
        if zone.far == zone.span.near:
            # A front that may be its own mirror image is to be one.
            some = [x for x in spellings if x == x[::-1]]
        layer = RowLayer(sizes, row, Cuts(sizes.joints.step, sizes.joints.step, ()))
        table, _ = layer.lay(some, spans(0, width, joint))
        rows[kind] = judged(table, setting_of(sizes, span, kind))
    best = best_rows(sizes, span, "", rows) if rows else None
    if best is None or any(best.merit[:IN_PATTERN]):
        return False
    if zone.far is None:
        # Whoever builds that width gets it laid so.
        best = solve_stretch(sizes, span)
    return all(_is_clean(sizes, laid) for laid in best.zones.values())


def _fitting_widths(zone: Zone) -> Iterator[int]:
    """Yield the nearest width below, and above, at which nothing is sawn."""
    sizes, here = zone.sizes, zone.span.width
    reach = 2 * (sizes.brick.unit + sizes.joints.preferred)
    every = {
        kind: _clean_spellings(zone, sizes, kind, max(here - reach, 1), here + reach)
        for kind in each_kind(zone.span.kinds)
    }
    both = set.intersection(*(set(found) for found in every.values()))
    near = sorted(both, key=lambda width: abs(width - here))
    for side in (-1, 1):
        for width in [x for x in near if (x - here) * side > 0][:TRIED]:
            courses = {kind: found[width] for kind, found in every.items()}
            if _needs_nothing(zone, sizes, width, courses):
                yield width
                break


def _fits_with(zone: Zone, brick: Brick) -> bool:
    """Return whether nothing would be sawn of a zone with other corner units."""
    sizes, here = replace(zone.sizes, brick=brick), zone.span.width
    courses = {
        kind: _clean_spellings(zone, sizes, kind, here, here).get(here, [])
        for kind in each_kind(zone.span.kinds)
    }
    return _needs_nothing(zone, sizes, here, courses)


def _sentences(plan: BondPlan, zone: Zone, fits: Fits) -> Iterator[str]:
    lengths = plan.job.lengths
    for width in fits.widths:
        change = plan.off_grid(width - zone.span.width)
        way = "wider" if change > 0 else "narrower"
        makes = ", or ".join(_makes(plan, zone, change))
        yield (
            f"{format_length(plan.off_grid(width), lengths)} {_would(zone)} need "
            f"nothing sawn but {_but(zone)}; that is "
            f"{format_length(abs(change), lengths)} {way}"
            + (f"; {makes}, makes it." if makes else ".")
        )
    for brick in fits.bricks:
        legs = " x ".join(
            format_length(plan.off_grid(leg), lengths)
            for leg in (brick.long, brick.short)
        )
        yield (
            f"as wide as it is, with corner units of {legs} it {_would(zone)} need "
            f"nothing sawn but {_but(zone)}."
        )


def _would(zone: Zone) -> str:
    """Say of what a width is true: legs and what is over them are laid together.

    What lies over the opening may ask for a cut in a leg that needs none alone.
    """
    alone = zone.name.endswith(("return", "chamfer"))
    return "would" if alone else "would by itself"


def _but(zone: Zone) -> str:
    has_headers = any(row.has_headers for row in zone.sizes.bond.rows)
    return "halves and closers" if has_headers else "halves"


def _makes(plan: BondPlan, zone: Zone, change: Fraction) -> Iterator[str]:
    """Yield what makes a zone so much wider; narrower where it is below nothing."""
    job = plan.job

    def say(length: Fraction) -> str:
        return taped_length(length, job.lengths)

    for where, width in _edge_joints(plan, zone):
        wanted = width - change
        if job.joints.head.least <= wanted <= max(job.joints.head.most, width):
            yield f"a joint of {say(wanted)} {where}"
    bed = job.setting_bed
    is_square = plan.surround.turns <= {SQUARE}
    from_substrate = job.face.measured_to == "substrate" and is_square
    if zone.far is None and zone.has_corner and from_substrate:
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
    if zone.name.endswith("chamfer"):
        return
    yield "beside the opening", edges.jambs.width
    if zone.span.near == "free":
        yield f"at the {side} edge", sides[side].width
