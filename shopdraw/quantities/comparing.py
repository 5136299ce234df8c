"""Compare brick sizes and bonds for a job: what lands, what is cut, what is bought.

In:  `Job`, the sizes and bonds to try.   Out: `Alternative`s, ranked bond by bond.
Frame: each says its own.

Each is solved stage by stage as a job is drawn. Only what is laid in one bond is ranked
together: another bond is another look, with a rule of its own for laps (stack bond has
none, half bond's is asked of it), and what it saves in cuts says nothing of that.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from shopdraw.catalog.rows import brick_sizes
from shopdraw.errors import NotLaid, NotProved
from shopdraw.job.model import Job
from shopdraw.job.model_brick import PATTERNS, Pattern
from shopdraw.job.sense import complaints_of
from shopdraw.job.usual import (
    with_usual_bond,
    with_usual_corner,
    with_usual_header,
)
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.heads.placing import place_courses
from shopdraw.masonry.hearth.lay import lay_hearth
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.pieces import made_size
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Piece, area_within
from shopdraw.masonry.wall.surround import trace_surround
from shopdraw.quantities.cutting import of_brick, plan_cuts
from shopdraw.quantities.ordering import order_units

OF_THE_BOND = ("header", "closer")
"""The kinds that are as short as the bond has them, however they are made."""
OWN = "as typed"
"""The name here of a brick that has none in the catalog."""
NO_LAP = "no lap at all: joint stands over joint"
LAID_ALREADY = "courses are laid already, in another brick or bond"


@dataclass(frozen=True)
class Alternative:
    """One size in one bond.

    Attributes:
        size: its name in the catalog, or that of the job's own brick.
        length, height: of the brick, in the job's lengths.
        is_own: whether it is the job as it stands.
        why_not: why it can't be built; empty where it can, and only then does the
            rest count.
        missed: by how much targets are missed beyond their tolerance, in all.
        broken: how many pieces break a rule of the bond or of sawing, as the review
            finds them.
        departure: how far the bed joint furthest off the preferred is off it.
        smallest: the shortest stretcher or trimmed leg; a whole unit where none is cut.
            Headers and closers are as short as the bond wants them: they don't count.
        cuts, different_cuts: pieces sawn to length or trimmed, and how many kinds; not
            headers nor closers, so that bonds with them rank beside those without.
        units: flat and corner units to buy, with waste.
        sawn_off: the share of the flat units' face that is sawn off.
        worse: what is worse about it than about the best in its bond, in words; of
            that best, what is worse than nothing amiss.
    """

    size: str
    pattern: Pattern
    length: Fraction
    height: Fraction
    is_own: bool = False
    why_not: str = ""
    lands: bool = False
    missed: Fraction = Fraction(0)
    broken: int = 0
    departure: Fraction = Fraction(0)
    smallest: Fraction = Fraction(0)
    cuts: int = 0
    different_cuts: int = 0
    units: int = 0
    sawn_off: Fraction = Fraction(0)
    worse: tuple[str, ...] = ()

    def merit(self) -> tuple[object, ...]:
        """Return what those of one bond are ranked by; less is better.

        A longer brick's smallest is longer for that alone: a share of it is held.
        """
        return (
            bool(self.why_not),
            not self.lands,
            self.missed,
            self.broken,
            self.departure,
            -self.smallest / self.length,
            self.cuts,
            self.different_cuts,
            self.sawn_off,
            self.size,
        )


def compare_jobs(
    job: Job, sizes: tuple[str, ...] = (), patterns: tuple[str, ...] = ()
) -> tuple[Alternative, ...]:
    """Solve the job over brick sizes and bonds, and rank those of each bond.

    The job's own bond comes first.

    Args:
        job: the job; its own brick is always among them.
        sizes: names in the catalog; all of them where none is given.
        patterns: bonds; all of them where none is given.
    """
    tried = [
        alternative
        for size, other in _with_each_size(job, sizes)
        for alternative in _in_each_bond(job, size, other, patterns)
    ]
    bonds = sorted(PATTERNS, key=lambda bond: bond != job.bond.pattern)
    return tuple(
        one
        for bond in bonds
        for one in _ranked(job, (x for x in tried if x.pattern == bond))
    )


def _ranked(job: Job, alternatives: Iterable[Alternative]) -> Iterator[Alternative]:
    """Yield those of one bond, the best first, each with what is worse about it."""
    ranked = sorted(alternatives, key=Alternative.merit)
    for one in ranked:
        if one.why_not:
            yield one
        else:
            best = _NOTHING_AMISS if one is ranked[0] else ranked[0]
            yield replace(one, worse=tuple(_worse(job, one, best)))


def _worse(job: Job, one: Alternative, best: Alternative) -> Iterator[str]:
    """Yield what is worse about one than about another of its bond."""
    if one.missed > best.missed:
        yield f"misses by {format_length(one.missed, job.lengths)}"
    if one.broken > best.broken:
        pieces = "1 piece breaks" if one.broken == 1 else f"{one.broken} pieces break"
        yield f"{pieces} a rule"
    if one.pattern == "stack":
        yield NO_LAP
    if best is not _NOTHING_AMISS:
        yield from _dearer(job, one, best)


def _dearer(job: Job, one: Alternative, best: Alternative) -> Iterator[str]:
    """Yield what looks worse about one, is more to saw, or more to buy."""
    further = one.departure - best.departure
    if further > 0:
        yield f"joints {format_length(further, job.lengths)} further off"
    if one.smallest / one.length < best.smallest / best.length:
        smallest, whole = (
            format_length(x, job.lengths) for x in (one.smallest, one.length)
        )
        yield f"smallest {smallest} of {whole}"
    for more, words in (
        (one.cuts - best.cuts, "cut"),
        (one.different_cuts - best.different_cuts, "kind of cut"),
    ):
        if more > 0:
            yield f"{more} more {words if more == 1 else _many(words)}"
    if one.units > best.units:
        yield f"{one.units - best.units} more to buy"
    share = round(100 * float(one.sawn_off - best.sawn_off))
    if share > 0:
        yield f"{share} % more sawn off"


def _many(words: str) -> str:
    first, _, rest = words.partition(" ")
    return f"{first}s {rest}".rstrip()


_NOTHING_AMISS = Alternative("", "half", Fraction(1), Fraction(1))


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
    job: Job, size: str, other: Job, patterns: tuple[str, ...]
) -> Iterator[Alternative]:
    """Yield one size in each bond; its courses do not depend on the bond."""
    coursed: tuple[Surround, Coursing] | None = None
    for pattern in PATTERNS:
        if patterns and pattern not in patterns:
            continue
        bonded = other.edited("bond.pattern", pattern)
        if pattern != "common":
            bonded = bonded.edited("bond.header_every", 6)
        brick = bonded.brick
        is_own = other is job and pattern == job.bond.pattern
        bare = Alternative(size, pattern, brick.length, brick.height, is_own)
        wrong = complaints_of(bonded)
        if wrong or (job.laid and not is_own):
            why = f"{wrong[0].key} {wrong[0].wanted}" if wrong else LAID_ALREADY
            yield replace(bare, why_not=why)
            continue
        try:
            if coursed is None:
                surround = trace_surround(bonded)
                coursing = solve_coursing(bonded, surround)
                coursed = surround, place_courses(bonded, surround, coursing)
            yield _weigh(bare, bonded, *coursed)
        except (NotLaid, NotProved) as error:
            yield replace(bare, why_not=error.lines()[0])


def _weigh(
    bare: Alternative, job: Job, surround: Surround, coursing: Coursing
) -> Alternative:
    layout = prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))
    layout, hearth = lay_hearth(job, surround, layout)
    pieces = of_brick(layout.pieces)
    bought = (*pieces, *(of_brick(hearth.layout.pieces) if hearth else ()))
    flats = [piece for piece in pieces if len(piece.outlines) == 1]
    cut = [
        piece
        for piece in pieces
        if (piece.is_cut or piece.is_trimmed) and piece.kind not in OF_THE_BOND
    ]
    whole = job.brick.length * job.brick.height
    shown = sum((area_within(x.outlines[0].points) for x in flats), Fraction(0))
    ordered = order_units(job, bought, plan_cuts(job, bought))
    missed = (target.miss for target in coursing.targets if not target.lands)
    return replace(
        bare,
        lands=coursing.lands,
        missed=sum(missed, Fraction(0)),
        broken=len({piece for rule in layout.broken for piece in rule.pieces}),
        departure=coursing.merit.departure,
        smallest=layout.least_piece.measured,
        cuts=len(cut),
        different_cuts=len({_shape(piece) for piece in cut}),
        units=int(ordered.flats + ordered.corners),
        sawn_off=1 - shown / (len(flats) * whole) if flats else Fraction(0),
    )


def _shape(piece: Piece) -> tuple[object, ...]:
    """Return what pieces that are sawn alike share."""
    rings = tuple(outline.at_origin().points for outline in piece.shapes)
    return piece.kind, *made_size(piece), bool(piece.left_long), rings
