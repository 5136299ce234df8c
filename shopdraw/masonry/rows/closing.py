"""Spell courses over an opening that are their own mirror image.

In:  a row's pattern, what comes first, and the room.   Out: spellings.
Frame: grid lengths.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import accumulate, groupby

from shopdraw.masonry.rows.bonds import CourseKind
from shopdraw.masonry.rows.forms import Speller, Spelling, Token, letters_after
from shopdraw.masonry.rows.judge import End
from shopdraw.masonry.rows.layer import Cuts, RowLayer
from shopdraw.masonry.rows.sizes import Sizes


@dataclass(frozen=True)
class OverSpan:
    """Where the courses over an opening close.

    Attributes:
        left: where the front begins.
        jamb: the left jamb.
        about: twice the centre line.
        near: what the front ends at.
    """

    left: int
    jamb: int
    about: int
    near: End

    @property
    def width(self) -> int:
        """How wide the whole course is."""
        return self.about - 2 * self.left


def begun_rows(speller: Speller, opening: OverSpan) -> Iterator[Spelling]:
    """Yield what a course begins with that has no leg: whole, or with a closer."""
    row = speller.row
    lead: Spelling = ("L",) if opening.near == "corner" else ()
    yield lead
    if not speller.sizes.closer(row):
        return
    if not lead:
        yield (row.pattern.index("H"), "Q")
    elif row.leg == "short" or row.pattern == "H":
        yield (*lead, "Q")


def course_joints(sizes: Sizes, row: CourseKind, opening: OverSpan) -> set[int]:
    """Return the joints at which a whole course comes out in whole units."""
    speller = Speller(sizes, row, opening.width)
    layer = RowLayer(sizes, row, Cuts(0, 0, ()))
    spelt = [
        x
        for begun in begun_rows(speller, opening)
        for x in mirror_spellings(speller, begun, None, 0, 0)
    ]
    return layer.fitting_joints(spelt, opening.width)


def mirror_spellings(
    speller: Speller,
    begun: Spelling,
    last: Token | None,
    cuts: int,
    lead: int,
    fewest: int = 0,
) -> Iterator[Spelling]:
    """Yield spellings that are their own mirror image, closed on the centre line.

    Args:
        speller: of the row and of how much there is between what is kept.
        begun: the tokens that come first.
        last: the last kept piece that has a letter, where nothing is begun.
        cuts: how many equal cuts may stand on the centre line.
        lead: 1 where joints come first and last.
        fewest: how many whole units there must be on each side.
    """
    if begun:
        last = next((x for x in reversed(begun) if x != "Q"), None)
    joints, unit = speller.sizes.joints, speller.sizes.brick.unit
    letters = [speller.longest(at) for at in range(len(speller.row.pattern))]
    most = speller.width // (2 * (min(letters) + joints.least)) + 1
    low, high = (2 * sum(map(f, begun)) for f in (speller.shortest, speller.longest))

    def could_fill(pieces: int, known: int, equal: int) -> bool:
        gaps = pieces - 1 + 2 * lead
        least, longest = known + low, known + high + equal * unit
        return (
            least + gaps * joints.least <= speller.width
            and longest + gaps * joints.most >= speller.width - speller.slack
        )

    for count in range(fewest, most + 1):
        for wholes in speller.wholes(last, count):
            half = (*begun, *wholes)
            known, pieces = 2 * sum(map(speller.longest, wholes)), 2 * len(half)
            end = wholes[-1] if wholes else last
            for equal in range(0 if half else 1, cuts + 1):
                if could_fill(pieces + equal, known, equal):
                    yield (*half, *["x"] * equal, *half[::-1])
            for letter in speller.after(end):
                if could_fill(pieces + 1, known + letters[letter], 0):
                    yield (*half, letter, *half[::-1])


BEGUN: dict[str, tuple[str, ...]] = {"whole": ("W",), "x": ("x",), "leg": ("L",)}
"""What a side begins with, by what its first new piece is; "W" is any whole unit."""


@dataclass(frozen=True)
class Between:
    """Spells what may stand between two sides that differ.

    Attributes:
        speller: of the row and of how much there is between what is kept.
        firsts: what the first new piece is, at the left and at the right.
        lasts: the last kept piece that has a letter, at the left and at the right.
        cuts: how many equal cuts may stand together.
    """

    speller: Speller
    firsts: tuple[str, str]
    lasts: tuple[Token | None, Token | None]
    cuts: int

    def spellings(self) -> dict[Spelling, bool]:
        """Return every spelling, and whether its cuts seek the centre line.

        Of those that do, only what comes nearest to it is wanted.
        """
        speller, found = self.speller, dict[Spelling, bool]()
        shortest = min(speller.longest(at) for at in range(len(speller.row.pattern)))
        most = speller.width // (shortest + speller.sizes.joints.least) + 1
        begun, ended = (BEGUN.get(first, ()) for first in self.firsts)
        lead, tail = ((".",) if x == "none" else () for x in self.firsts)
        for count in range(most + 1):
            for cuts in range(self.cuts + 1):
                some = (*lead, *begun, *["x"] * cuts, *ended, *tail)
                if not self._could_fill(some, count):
                    continue
                for seeks, order in _orders(count, cuts):
                    tokens = (*begun, *order, *ended[::-1])
                    for made in _lettered(speller.row, tokens, self.lasts):
                        spelling: Spelling = (*lead, *made, *tail)
                        if made and self._can_fill(spelling):
                            found[spelling] = seeks
        return found

    @cached_property
    def _lengths(self) -> tuple[dict[Token, int], dict[Token, int]]:
        tokens: list[Token] = [*range(len(self.speller.row.pattern)), "x", "L", "."]
        shortest = {x: self.speller.shortest(x) for x in tokens}
        return shortest, {x: self.speller.longest(x) for x in tokens}

    def _can_fill(self, spelling: Spelling) -> bool:
        """Whether some joint and some cuts could make the width."""
        shortest, longest = self._lengths
        joints, gaps = self.speller.sizes.joints, len(spelling) - 1
        low = sum(map(shortest.__getitem__, spelling)) + gaps * joints.least
        high = sum(map(longest.__getitem__, spelling)) + gaps * joints.most
        return low <= self.speller.width <= high + self.speller.slack

    @cached_property
    def _wholes(self) -> tuple[list[int], list[int]]:
        """How short and how long so many whole units are, in the pattern's order.

        They stand in three runs at most, with cuts between them.
        """
        pattern = range(len(self.speller.row.pattern))
        letters = [self.speller.longest(at) for at in pattern]
        most = self.speller.width // min(letters) + 4
        around = list(accumulate(letters * (most + 1), initial=0))
        every = [[around[x + n] - around[x] for x in pattern] for n in range(most)]
        low, high = ([f(x) for x in every] for f in (min, max))
        return _in_three(low, min), _in_three(high, max)

    def _could_fill(self, others: tuple[str, ...], count: int) -> bool:
        """Whether some letters, in whatever order, could make the width.

        Args:
            others: what stands there besides the whole units between the sides; a
                whole unit that a side begins with is "W".
            count: how many whole units stand between.
        """
        speller, joints = self.speller, self.speller.sizes.joints
        rest = [x for x in others if x != "W"]
        wholes, gaps = count + len(others) - len(rest), count + len(others) - 1
        shortest, longest = self._lengths
        low = sum(map(shortest.__getitem__, rest)) + self._wholes[0][wholes]
        high = sum(map(longest.__getitem__, rest)) + self._wholes[1][wholes]
        low, high = low + gaps * joints.least, high + gaps * joints.most
        return low <= speller.width <= high + speller.slack


def _in_three(lengths: list[int], of: Callable[[Iterable[int]], int]) -> list[int]:
    """Return how long so many units are in three runs, from how long one run is."""
    two = [
        of(lengths[x] + lengths[n - x] for x in range(n + 1))
        for n in range(len(lengths))
    ]
    return [
        of(lengths[x] + two[n - x] for x in range(n + 1)) for n in range(len(lengths))
    ]


@lru_cache(maxsize=1 << 16)
def _lettered(
    row: CourseKind, tokens: tuple[str, ...], lasts: tuple[Token | None, Token | None]
) -> tuple[Spelling, ...]:
    """Give every whole unit a letter, in the order of the pattern."""
    letters = len(row.pattern)
    if letters == 1:
        return (tuple(0 if x == "W" else x for x in tokens),)
    ways: list[tuple[Token | None, Spelling]] = [(lasts[0], ())]
    for token, some in groupby(tokens):
        count, more = len(list(some)), list[tuple[Token | None, Spelling]]()
        for before, made in ways:
            if token == "x":
                more.append((None, (*made, *["x"] * count)))
            elif token == "W":
                for first in letters_after(row, before):
                    run = [(first + at) % letters for at in range(count)]
                    more.append((run[-1], (*made, *run)))
            elif _may_meet(row, before, token):
                more.append((token, (*made, *[token] * count)))
        ways = more
    return tuple(made for before, made in ways if _may_meet(row, before, lasts[1]))


def _may_meet(row: CourseKind, left: Token | None, right: Token | None) -> bool:
    """Whether two pieces may stand side by side in the order of the pattern."""
    if left is None or right is None:
        return True
    if isinstance(left, int):
        return left in letters_after(row, right)
    return not isinstance(right, int) or right in letters_after(row, left)


def _orders(count: int, cuts: int) -> Iterator[tuple[bool, tuple[str, ...]]]:
    """Yield each order of whole units and equal cuts, and whether it seeks the centre.

    What is kept of either side ends within two units of its jamb, so that the cuts that
    come nearest to the centre line stand near the middle of the order.
    """
    wholes, some = ("W",) * count, ("x",) * cuts
    yield False, (*some, *wholes)
    if count and cuts:
        yield False, (*wholes, *some)
    if count and cuts == 2:
        yield False, ("x", *wholes, "x")
    if cuts:
        for before in range(max(count // 2 - 3, 1), min(count // 2 + 5, count)):
            yield True, (*wholes[:before], *some, *wholes[before:])
