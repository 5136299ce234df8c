"""What a card says is under its piece, held against the pieces as a kept library sees.

From places all along a piece's foot a line goes straight down; shapely says what it
meets first: another piece, the hearth, or neither for as high as an opening is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

import pytest
import shapely

from shopdraw.job.reading import parse_job
from shopdraw.lengths import format_length, parse_length
from shopdraw.masonry.wall.layout import OF_AN_ARCH, Outline, Piece
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from shopdraw.views.page.cards import Cards, Plane, planes_of
from tests.demos import solution_of
from tests.face_panels import panel_job
from tests.longer import mostly_long, mostly_long_demos
from tests.old_houses import make_job as old_house
from tests.old_houses import seeded
from tests.views.jobs import text_of

PLACES = 12
"""So many places along a foot are looked down from."""
BELOW = "joint below"
NEAR = 1.0
"""A joint is narrower, in inches: what is further below is across no joint."""
FREE = 4.0
"""An opening is higher: from over it nothing is met for so far."""
SLIVER = 0.2
"""A part of the foot that is less than this may be told or not."""
OVER = "hangs over the opening"


@dataclass(frozen=True)
class Seen:
    """What lies below one piece.

    Attributes:
        free: the part of its foot that has an opening below it.
        gaps: how far down the next thing is, wherever it is near.
        on_ground: whether that is what the first course stands on.
        is_held: whether something is near below every place.
    """

    free: float
    gaps: tuple[float, ...]
    on_ground: bool
    is_held: bool


def feet(outline: Outline) -> Iterator[tuple[float, float]]:
    """Yield places just inside a foot, from left to right."""
    for place in range(PLACES):
        part = Fraction(2 * place + 1, 2 * PLACES)
        x = outline.left + (outline.right - outline.left) * part
        low, high = outline.upright_at(x)
        # What is sawn along an arch has its foot where that begins to be its side.
        if high - low > 0.1:
            yield float(x), float(low)


def looked(plane: Plane, piece: Piece, unit: float) -> Seen:
    """Look down from a piece's foot."""
    outline = piece.outlines[0]
    rings = [
        shapely.Polygon([(float(x), float(y)) for x, y in each.points])
        for other in plane.layout.pieces
        if other is not piece
        for each in other.outlines
        if each.face == outline.face
        and each.left < outline.right + Fraction(unit)
        and each.right > outline.left - Fraction(unit)
        and each.bottom < outline.bottom
        and each.top > outline.bottom - Fraction(FREE * unit)
    ]
    free, gaps, on_ground, count = 0, [], False, 0
    for x, y in feet(outline):
        count += 1
        down = shapely.LineString([(x, y), (x, y - 100 * unit)])
        met = [y - r.intersection(down).bounds[3] for r in rings if r.intersects(down)]
        ground = y - float(plane.ground.at(Fraction(x)))
        least = min((*met, ground))
        if least < NEAR * unit:
            gaps.append(least)
            on_ground = on_ground or least == ground
        # A head joint below is no opening: there is brick beside it.
        beside = NEAR * unit / 2
        wide = shapely.box(x - beside, y - FREE * unit, x + beside, y)
        free += ground > FREE * unit and not any(r.intersects(wide) for r in rings)
    # Past the corner its other leg stands on the same ground, further along.
    for other in piece.outlines[1:] if on_ground else ():
        gaps += [y - float(plane.ground.at(Fraction(x))) for x, y in feet(other)]
    return Seen(free / count, tuple(gaps), on_ground, len(gaps) >= count)


def wrong(solution: Solution, change: tuple[str, str] = ("", "")) -> Iterator[str]:
    """Name the cards that say something else to be below than there is."""
    unit = 25.4 if solution.lengths == "mm" else 1.0
    for plane in planes_of(solution):
        if plane.is_flat:
            continue
        cards = Cards(solution, plane)
        courses = {x.number: x for x in plane.courses}
        for piece in plane.pieces:
            if piece.kind in OF_AN_ARCH or piece.place == "panel":
                continue
            said = dict(cards.card(piece).facts)[BELOW].replace(*change)
            yield from (
                f"{piece.id}: {x}: {said}"
                for x in amiss(
                    said,
                    looked(plane, piece, unit),
                    solution,
                    courses[piece.course].is_joint_reckoned,
                )
            )


def amiss(said: str, seen: Seen, solution: Solution, is_unknown: bool) -> Iterator[str]:
    if seen.free > SLIVER and OVER not in said:
        yield f"{seen.free:.0%} of it hangs"
    if seen.is_held and OVER in said:
        yield "none of it hangs"
    if bool(seen.gaps) == said.startswith("none"):
        yield f"{len(seen.gaps)} places have something below"
    if seen.gaps and seen.on_ground != ("the hearth" in said or "the floor" in said):
        yield f"on the ground: {seen.on_ground}"
    if seen.on_ground and not is_unknown and not said_of_ground(said, seen, solution):
        yield f"{min(seen.gaps)} to {max(seen.gaps)}"
    if is_unknown and seen.gaps:
        if "not measured" not in said:
            yield "nobody measured it"
    elif seen.gaps and max(seen.gaps) - min(seen.gaps) < 1e-6:
        gap = Fraction(min(seen.gaps)).limit_denominator(1 << 16)
        if format_length(gap, solution.lengths) not in said:
            yield f"it is {gap}"


def said_of_ground(said: str, seen: Seen, solution: Solution) -> bool:
    """Whether a joint on the ground is told from its narrowest to its widest."""
    unit, near = ("mm", 2.0) if solution.lengths == "mm" else ("in", 0.1)
    ends = re.split("[,;]", said)[0].replace('"', "").split(" to ")
    told = [float(parse_length(f"{x} {unit}", solution.lengths)) for x in ends]
    least, most = min(seen.gaps), max(seen.gaps)
    return abs(told[0] - least) < near and abs(told[-1] - most) < near


def houses() -> Iterator[Solution]:
    """Yield rowlocks two high, and an opening with jambs of brick."""
    two_high = text_of(
        "library-hearth", ('head = "soldier"', 'head = "rowlock"\nhead_courses = 2')
    )
    yield solve(parse_job(two_high, "two.toml"))
    yield solve(old_house(seeded(6))[1])


# Courses out of level, brick that was measured, an arch: what is below differs there.
@mostly_long_demos("crooked-study", "morning-room", "semicircular-dining-room")
def test_what_is_below_a_piece_is_what_its_card_says(demo: str) -> None:
    assert list(wrong(solution_of(demo))) == []


def test_what_is_below_a_piece_of_an_odd_house_is_what_its_card_says() -> None:
    every = list(houses())
    assert [x for solution in every for x in wrong(solution)] == []


@pytest.mark.parametrize("seed", mostly_long((0, 2, 14), 14))
def test_what_is_below_a_piece_beside_a_panel_is_what_its_card_says(seed: int) -> None:
    assert list(wrong(solve(panel_job(seed)))) == []


@pytest.mark.parametrize(
    ("demo", "old", "new", "ids"),
    [
        ("library-hearth", "hangs over the opening", "is laid", "F-11"),
        ("library-hearth", "none", "7/16\"", "F-11"),
        ("library-hearth", "the hearth", "brick", "F-01"),
        ("chimney-breast-gas", "hangs over the opening", "is laid", "F-13"),
        ("morning-room", "not measured", "3/8\"", "F-02"),
        ("library-hearth", "7/16", "1/2", "F-08"),
        ("library-hearth", "1/2\", on", "3/8\", on", "F-01-04"),
        ("library-hearth", "3/8\"", "3/8\"; the rest hangs over the opening", "F-03"),
    ],
)  # fmt: skip
def test_what_is_not_so_is_noticed(demo: str, old: str, new: str, ids: str) -> None:
    found: Iterable[str] = wrong(solution_of(demo), (old, new))
    assert any(line.startswith(ids) for line in found)
