"""Plan what is sawn from which whole unit, from as few units as the search finds.

In:  `Job`, `Piece`s.   Out: `CutPlan`.
Frame: the job's lengths, along the unit.

Only flat units are planned: a corner unit is trimmed from a corner unit. One that is
not square is made of two flat units, each leg with its free end as delivered. A unit
has two ends as delivered, so it gives two pieces at most that must keep one; each piece
beyond the first costs a kerf. A strip sawn off along the unit is not used again.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import ceil, lcm
from typing import NamedTuple

from shopdraw.job.model import Job
from shopdraw.job.turning import along_mitre
from shopdraw.lengths import half_marked, shown_step
from shopdraw.masonry.wall.layout import CORNER_KINDS, Piece
from shopdraw.quantities.stops import LEGS, SawStop, along, list_stops

ENDS = 2
"""How many ends as delivered a unit has."""
MOST_TRIES = 500
"""How many ways to fill a unit are tried; past that the plan says what no plan beats.
"""


class Need(NamedTuple):
    """What one piece needs of a whole unit.

    Attributes:
        length: along the unit, in whole grains.
        ends: how many of the piece's ends stay as delivered.
        mark: the piece's.
    """

    length: int
    ends: int
    mark: str


@dataclass(frozen=True)
class SawnUnit:
    """Units that are sawn alike.

    Attributes:
        marks: of the pieces that each gives, the longest first.
        count: how many units.
        left: how much is left of each, after a kerf for every piece.
    """

    marks: tuple[str, ...]
    count: int
    left: Fraction


@dataclass(frozen=True)
class CutPlan:
    """What is sawn from what.

    Attributes:
        units: those that are sawn alike together, the most first.
        stops: in the order of sawing, each set once; of corner units, too.
        kerf: how much one cut takes away.
        least: the number of units that any plan needs at the least.
    """

    units: tuple[SawnUnit, ...]
    stops: tuple[SawStop, ...]
    kerf: Fraction
    least: int

    @cached_property
    def whole_units(self) -> int:
        """How many units are sawn up."""
        return sum(unit.count for unit in self.units)

    @property
    def is_proved(self) -> bool:
        """Whether it is proved that no plan needs fewer units."""
        return self.whole_units == self.least

    @cached_property
    def pieces(self) -> Counter[str]:
        """How many pieces of each mark it gives."""
        given: Counter[str] = Counter()
        for unit in self.units:
            for mark in unit.marks:
                given[mark] += unit.count
        return given


KEYSTONE = "made to its template by others; what holds it is for its maker to say"


def of_brick(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """Return the pieces that come out of the brick; a keystone is made by others."""
    return tuple(piece for piece in pieces if piece.kind != "keystone")


def plan_cuts(job: Job, laid: tuple[Piece, ...]) -> CutPlan:
    """Plan how every flat unit that is cut is sawn."""
    whole, kerf = job.brick.length, job.saw.kerf
    pieces = [each for piece in laid for each in _taken(job, piece)]
    # One grain measures every length exactly, so that whole numbers add up.
    lengths = [takes for takes, _, _ in pieces]
    grain = Fraction(
        1, lcm(*(length.denominator for length in (whole, kerf, *lengths)))
    )
    needs = sorted(
        (Need(int(takes / grain), ends, mark) for takes, ends, mark in pieces),
        reverse=True,
    )
    room = int((whole + kerf) / grain)
    filled, least = fill_units(needs, room, int(kerf / grain))
    alike = Counter(tuple(unit) for unit in filled)
    units = [
        SawnUnit(
            tuple(need.mark for need in unit),
            count,
            max(Fraction(0), whole - sum(need.length * grain + kerf for need in unit)),
        )
        for unit, count in alike.items()
    ]
    units.sort(key=lambda unit: (-unit.count, unit.left, unit.marks))
    return CutPlan(tuple(units), list_stops(job, laid), kerf, least)


def _taken(job: Job, piece: Piece) -> Iterator[tuple[Fraction, int, str]]:
    """Yield what a piece takes of whole units: length, ends kept, mark.

    Pieces are sawn to the figure that is printed: like marks share a stop. Each leg of
    a mitred corner unit is as long as it is outside, and the slanting cut takes more.
    """
    whole = job.brick.length
    if piece.is_made:
        more = along_mitre(job.saw.kerf, piece.turn) - job.saw.kerf
        # Up to what a tape shows: a plan with room to spare.
        more = -(-more // shown_step(job.lengths)) * shown_step(job.lengths)
        for name, leg in zip(LEGS, sorted(piece.legs, reverse=True), strict=True):
            length = half_marked(leg, job.lengths)
            yield min(whole, length + more), 1, piece.mark + name
    elif piece.is_cut and piece.kind not in CORNER_KINDS:
        length = min(whole, half_marked(along(piece), job.lengths))
        yield length, len(piece.delivered_ends), piece.mark


def fill_units(needs: list[Need], room: int, kerf: int) -> tuple[list[list[Need]], int]:
    """Share pieces out among as few units as the search finds.

    Args:
        needs: what each piece needs.
        room: a whole unit and a kerf: each piece is counted with a kerf too, so that
            sizes simply add up.
        kerf: how much a cut takes away.

    Returns:
        What each unit gives, the longest first, and a number of units that any plan
        needs at the least. Where that is how many there are, no plan needs fewer;
        otherwise the plan is the best of those tried.
    """
    left = Counter(needs)
    filled = _longest_first(sorted(left, reverse=True), left, room, kerf)
    least = _bound(left, room, kerf, enough=len(filled))
    if len(filled) > least:
        search = _Search(room, kerf, filled)
        search.fill(left, [])
        filled = search.best
        if search.tries < MOST_TRIES:
            least = len(filled)
    return [sorted(unit, reverse=True) for unit in filled], least


def _longest_first(
    order: list[Need], left: Counter[Need], room: int, kerf: int
) -> list[list[Need]]:
    """Put each piece, the longest first, into the unit where it leaves the least."""
    units: list[list[Need]] = []
    free: list[tuple[int, int]] = []
    for need in order:
        size = need.length + kerf
        for _ in range(left[need]):
            fits = [
                (spare, place)
                for place, (spare, ends) in enumerate(free)
                if size <= spare and need.ends <= ends
            ]
            if fits:
                spare, place = min(fits)
            else:
                spare, place = room, len(units)
                units.append([])
                free.append((room, ENDS))
            units[place].append(need)
            free[place] = (spare - size, free[place][1] - need.ends)
    return units


def _bound(left: Counter[Need], room: int, kerf: int, *, enough: int) -> int:
    """Return a number of units that any plan needs; stop looking once it is `enough`.

    For every length up to half a unit: pieces that leave less than it have a unit to
    themselves, pieces over half a unit don't go together, and what the rest needs
    beyond the room that these leave is more units (the bound of Martello and Toth for
    bin packing, from memory; the tests hold it against a general solver).
    """
    best = 0
    for bound in _bounds(left, room, kerf):
        best = max(best, bound)
        if best >= enough:
            break
    return best


def _bounds(left: Counter[Need], room: int, kerf: int) -> Iterator[int]:
    """Yield numbers of units that any plan needs, the quickest to count first."""
    sizes: Counter[int] = Counter()
    for need, count in left.items():
        sizes[need.length + kerf] += count
    yield _alone(sizes, room, 0)
    # No unit gives more than two that keep an end, or than two of over a third of it.
    yield _paired([need.length + kerf for need in left.elements() if need.ends], room)
    yield _paired([size for size in sizes.elements() if 3 * size > room], room)
    for small in sizes:
        if 2 * small <= room:
            yield _alone(sizes, room, small)


def _alone(sizes: Counter[int], room: int, small: int) -> int:
    """Return how many units the pieces over half a unit take, and the rest with them.

    Pieces shorter than `small` are left out. The rest goes into the room that the long
    pieces leave, where that is `small` at least, and what is over into further units.
    """
    alone, rest = 0, 0
    for size, count in sizes.items():
        if 2 * size > room:
            alone += count
            # A piece that leaves less room than `small` takes none of the rest.
            rest -= (room - size) * count if size <= room - small else 0
        elif size >= small:
            rest += size * count
    return alone + ceil(max(0, rest) / room)


def _paired(sizes: list[int], room: int) -> int:
    """Return how many units pieces take when no more than two go into one.

    The longest goes with the longest that fits beside it.
    """
    rest = sorted(sizes)
    units = 0
    while rest:
        room_left = room - rest.pop()
        place = bisect_right(rest, room_left)
        if place:
            rest.pop(place - 1)
        units += 1
    return units


class _Search:
    """Fill unit after unit, in each way that might need fewer units in all."""

    def __init__(self, room: int, kerf: int, best: list[list[Need]]) -> None:
        self.room, self.kerf, self.best = room, kerf, best
        self.tries = 0

    def fill(self, left: Counter[Need], done: list[list[Need]]) -> None:
        """Look for a plan with fewer units than the best so far."""
        if not left:
            self.best = list(done)
            return
        fewer = len(self.best) - len(done)
        least = _bound(left, self.room, self.kerf, enough=fewer)
        if least >= fewer:
            return
        # The longest piece left must come from some unit: try all that may go with it.
        for unit in self._with(max(left), left):
            if len(done) + least >= len(self.best):
                return
            self.tries += 1
            if self.tries >= MOST_TRIES:
                return
            self.fill(left - Counter(unit), [*done, unit])

    def _with(self, first: Need, left: Counter[Need]) -> list[list[Need]]:
        """Return what may fill a unit up after a first piece, the fullest first."""
        rest = sorted(left, reverse=True)
        units: list[tuple[int, list[Need]]] = []

        def add(unit: list[Need], room: int, ends: int, start: int) -> None:
            is_full = True
            for place in range(start, len(rest)):
                need = rest[place]
                size = need.length + self.kerf
                if size <= room and need.ends <= ends and unit.count(need) < left[need]:
                    is_full = False
                    add([*unit, need], room - size, ends - need.ends, place)
            if is_full:
                units.append((room, unit))

        add([first], self.room - first.length - self.kerf, ENDS - first.ends, 0)
        return [unit for _, unit in sorted(units)]
