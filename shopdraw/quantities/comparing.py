"""Compare brick sizes and bonds for a job: what lands, what is cut, what is bought.

In:  `Job`, the sizes and bonds to try.   Out: `Alternative`s, ranked.
Frame: each says its own.

The coursing and the bond of each are solved as for drawing: what is counted here is
what the job would be drawn with.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.catalog.rows import brick_sizes
from shopdraw.errors import NotLaid
from shopdraw.job.model import Job
from shopdraw.job.model_brick import PATTERNS, Pattern
from shopdraw.job.reading import (
    with_usual_bond,
    with_usual_corner,
    with_usual_header,
)
from shopdraw.job.sense import complaints_of
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.coursing.solve import best_coursing, state_rest
from shopdraw.masonry.laying.lay import lay_pieces
from shopdraw.masonry.laying.measure import measure_cuts
from shopdraw.masonry.laying.pieces import made_size
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Piece, area_within
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.quantities.cutting import of_brick, plan_cuts
from shopdraw.quantities.ordering import order_units

OF_THE_BOND = ("header", "closer")
"""The kinds that are as short as the bond has them, however they are made."""
OWN = "as typed"
"""The name here of a brick that has none in the catalog."""


@dataclass(frozen=True)
class Alternative:
    """One size in one bond.

    Attributes:
        size: its name in the catalog, or that of the job's own brick.
        length, height: of the brick, in the job's lengths.
        why_not: why it can't be built; empty where it can, and only then does the
            rest count.
        missed: by how much targets are missed beyond their tolerance, in all.
        departure: how far the bed joint furthest off the preferred is off it.
        smallest: the shortest stretcher or trimmed leg; a whole unit where none is cut.
            Headers and closers are as short as the bond wants them: they don't count.
        cuts, different_cuts: pieces sawn to length or trimmed, and how many kinds; not
            headers nor closers, so that bonds with them rank beside those without.
        units: flat and corner units to buy, with waste.
        sawn_off: the share of the flat units' face that is sawn off.
    """

    size: str
    pattern: Pattern
    length: Fraction
    height: Fraction
    why_not: str = ""
    lands: bool = False
    missed: Fraction = Fraction(0)
    departure: Fraction = Fraction(0)
    smallest: Fraction = Fraction(0)
    cuts: int = 0
    different_cuts: int = 0
    units: int = 0
    sawn_off: Fraction = Fraction(0)

    def merit(self) -> tuple[object, ...]:
        """Return what they are ranked by; less is better."""
        return (
            bool(self.why_not),
            not self.lands,
            self.missed,
            self.departure,
            -self.smallest,
            self.cuts,
            self.different_cuts,
            self.sawn_off,
            self.size,
            PATTERNS.index(self.pattern),
        )


def compare_jobs(
    job: Job, sizes: tuple[str, ...] = (), patterns: tuple[str, ...] = ()
) -> tuple[Alternative, ...]:
    """Solve the job over brick sizes and bonds, and rank them.

    Args:
        job: the job; its own brick is always among them.
        sizes: names in the catalog; all of them where none is given.
        patterns: bonds; all of them where none is given.
    """
    tried = [
        alternative
        for size, other in _with_each_size(job, sizes)
        for alternative in _in_each_bond(size, other, patterns)
    ]
    return tuple(sorted(tried, key=Alternative.merit))


def _with_each_size(job: Job, sizes: tuple[str, ...]) -> Iterator[tuple[str, Job]]:
    """Yield the job with its own brick, then with each other brick in the catalog."""
    own = job.brick.size or OWN
    yield own, job
    for row in brick_sizes(job.lengths):
        if row.name == own or (sizes and row.name not in sizes):
            continue
        brick = job.brick.model_copy(
            update={
                "size": row.name,
                "length": row.length,
                "height": row.height,
                "header": None,
                "corner": None,
                "sample": None,
            }
        )
        other = job.model_copy(update={"brick": brick})
        # A brick too short for the usual least piece or lap gets smaller ones, as it
        # does when a job is read.
        other = with_usual_header(with_usual_bond(other, {}))
        yield row.name, with_usual_corner(other)


def _in_each_bond(
    size: str, job: Job, patterns: tuple[str, ...]
) -> Iterator[Alternative]:
    coursed: tuple[Surround, Coursing] | None = None
    for pattern in PATTERNS:
        if patterns and pattern not in patterns:
            continue
        bonded = job.edited("bond.pattern", pattern)
        if pattern != "common":
            bonded = bonded.edited("bond.header_every", 6)
        brick = bonded.brick
        wrong = complaints_of(bonded)
        if wrong:
            why = f"{wrong[0].key} {wrong[0].wanted}"
            yield Alternative(size, pattern, brick.length, brick.height, why_not=why)
            continue
        if coursed is None:
            # The courses do not depend on the bond: they are solved once.
            surround = trace_surround(bonded)
            coursed = surround, best_coursing(bonded, state_rest(bonded, surround))
        try:
            yield _weigh(size, bonded, *coursed)
        except NotLaid as error:
            yield Alternative(
                size, pattern, brick.length, brick.height, why_not=error.lines()[0]
            )


def _weigh(size: str, job: Job, surround: Surround, coursing: Coursing) -> Alternative:
    pieces = of_brick(lay_pieces(job, surround, coursing).pieces)
    flats = [piece for piece in pieces if len(piece.outlines) == 1]
    cut = [
        piece
        for piece in pieces
        if (piece.is_cut or piece.is_trimmed) and piece.kind not in OF_THE_BOND
    ]
    whole = job.brick.length * job.brick.height
    shown = sum((area_within(x.outlines[0].points) for x in flats), Fraction(0))
    ordered = order_units(job, pieces, plan_cuts(job, pieces))
    units = ordered.flats + ordered.corners
    missed = (target.miss for target in coursing.targets if not target.lands)
    return Alternative(
        size=size,
        pattern=job.bond.pattern,
        length=job.brick.length,
        height=job.brick.height,
        lands=coursing.lands,
        missed=sum(missed, Fraction(0)),
        departure=coursing.merit.departure,
        smallest=min(
            (least.measured for _, least in measure_cuts(pieces, job)),
            default=job.brick.length,
        ),
        cuts=len(cut),
        different_cuts=len({_shape(piece) for piece in cut}),
        units=int(units),
        sawn_off=1 - shown / (len(flats) * whole) if flats else Fraction(0),
    )


def _shape(piece: Piece) -> tuple[object, ...]:
    """Return what pieces that are sawn alike share."""
    rings = tuple(outline.at_origin().points for outline in piece.shapes)
    return piece.kind, *made_size(piece), bool(piece.left_long), rings
