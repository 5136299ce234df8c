"""The forms of a run: in what order whole units, cuts and closers may stand in it.

In:  a row's pattern and the room.   Out: spellings, tuples of tokens left to right.
Frame: grid lengths along the run.

A spelling says what stands where, but not how long the cuts are nor how wide the
joints: `tables.lay` solves these from the width.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import TypeAlias

from shopdraw.masonry.rows.bonds import CourseKind
from shopdraw.masonry.rows.sizes import Sizes

Token: TypeAlias = int | str
"""A whole unit is the place of its letter in the pattern. "L" is the corner unit's leg,
"X" and "P" that leg trimmed as an equal and as a free cut, "M", "Y" and "Z" the same
of a corner unit that turns into the jamb, "x" an equal cut, "p" a free cut, "Q" a
closer, "q" a closer solved from the width, "." nothing but a joint at an end."""
Spelling: TypeAlias = tuple[Token, ...]

FORMS = (
    "W", "Wx", "xW", "WxW", "Wxx", "Wpx", "Wxp", "WxxW", "WxWp", "xWx", "pWx", "xWp",
    "pxW", "xpW", "xxW", "Wxxx", "xWxx", "pWxp", "pxWp", "Wppx", "xppW",
)  # fmt: skip
"""How whole units in pattern order (W) and cuts stand; where W comes twice, some each
time, otherwise some or none."""
TRIMMED_FORMS = (
    "PWx", "PxW", "PWxW", "XW", "XWx", "XxW", "XWxW", "XWp", "XpW", "XWpW",
)  # fmt: skip
"""The same with the corner unit's leg as one of the cuts, and at most one more."""
FAR_LEG = {"X": "Y", "P": "Z"}
TRIMMED_AT_JAMB = tuple(form[:0:-1] + FAR_LEG[form[0]] for form in TRIMMED_FORMS)
"""The same from the other end, with the leg that turns into the jamb."""
TRIMMED_AT_BOTH = ("PWY", "XWY", "XWZ")
"""The same with both legs, for what is too narrow for either."""


def letters_after(row: CourseKind, token: Token | None) -> tuple[int, ...]:
    """Return which letters of a row's pattern may follow a token, as places."""
    pattern = row.pattern
    everywhere = tuple(range(len(pattern)))
    if isinstance(token, int):
        return ((token + 1) % len(pattern),)
    if token == "L":
        letter = "S" if row.leg == "long" else "H"
        next_to = {(at + 1) % len(pattern) for at in everywhere
                   if pattern[at] == letter}  # fmt: skip
        return tuple(sorted(next_to)) or everywhere
    return everywhere


@dataclass(frozen=True)
class Speller:
    """Writes out the spellings of one row that can come near a width.

    Attributes:
        sizes: the bond and the brick.
        row: what lies in the course.
        width: how much there is to fill.
        slack: how far short of it a run may stop.
    """

    sizes: Sizes
    row: CourseKind
    width: int
    slack: int = 0

    def longest(self, token: Token) -> int:
        """Return how long a token can be."""
        if isinstance(token, int):
            return self.sizes.whole(self.row.pattern[token])
        brick = self.sizes.brick
        if token in "LXP":
            return brick.leg(self.row.leg)
        if token in "MYZ":
            return brick.leg(self.row.at_jamb)
        if token == ".":
            return 0
        if token in "Qq":
            return self.sizes.closer(self.row) + 2 * self.sizes.joints.step
        return brick.unit

    def shortest(self, token: Token) -> int:
        """Return how short a token can be."""
        if isinstance(token, int) or token in ("L", "M"):
            return self.longest(token)
        if token in ("Q", "q"):
            return self.sizes.closer(self.row) - 2 * self.sizes.joints.step
        return 0

    def can_fill(self, spelling: Spelling) -> bool:
        """Whether some joint and some cuts could make the width."""
        joints = len(spelling) - 1
        least = sum(map(self.shortest, spelling)) + joints * self.sizes.joints.least
        most = sum(map(self.longest, spelling)) + joints * self.sizes.joints.most
        return least <= self.width <= most + self.slack

    def after(self, token: Token | None) -> tuple[int, ...]:
        """Return which letters of the pattern may follow a token, as places."""
        return letters_after(self.row, token)

    def wholes(self, last: Token | None, count: int) -> Iterator[Spelling]:
        """Yield so many whole units in pattern order, after a token."""
        if not count:
            yield ()
            return
        for first in self.after(last):
            yield tuple((first + at) % len(self.row.pattern) for at in range(count))

    def spell(self, form: str, begun: Spelling, ended: Spelling) -> Iterator[Spelling]:
        """Yield the spellings of a form, from what begins the run to what ends it."""
        fewest = 1 if form.count("W") > 1 else 0
        for spelling in self._spell(form, begun, ended, fewest):
            yield (*spelling, *ended)

    def _spell(
        self, form: str, begun: Spelling, ended: Spelling, fewest: int
    ) -> Iterator[Spelling]:
        if not form:
            yield begun
            return
        token, rest = form[0], form[1:]
        if token != "W":
            yield from self._spell(rest, (*begun, token), ended, fewest)
            return
        last = begun[-1] if begun else None
        count = fewest
        while self._has_room(begun, ended, count):
            for wholes in self.wholes(last, count):
                yield from self._spell(rest, (*begun, *wholes), ended, fewest)
            count += 1

    def _has_room(self, begun: Spelling, ended: Spelling, count: int) -> bool:
        shortest = min(self.longest(at) for at in range(len(self.row.pattern)))
        used = sum(map(self.shortest, (*begun, *ended))) + count * shortest
        joints = max(len(begun) + len(ended) + count - 1, 0)
        return used + joints * self.sizes.joints.least <= self.width


def leg_spellings(
    speller: Speller, *, has_corner: bool, end: str, trims: bool, at_both: bool
) -> Iterator[Spelling]:
    """Yield every spelling of a leg or a return.

    Args:
        speller: of its row and width.
        has_corner: whether it begins with a corner unit's leg; at a free edge if not.
        end: what its far end is: "jamb", "free" or "wall".
        trims: whether the corner unit may be trimmed.
        at_both: whether a corner unit turns into the jamb at its far end.
    """
    begun: Spelling = ("L",) if has_corner else ()
    ended: Spelling = ("M",) if at_both else ()
    ways = [(form, begun, ended) for form in FORMS]
    if trims and has_corner:
        ways += [(form, (), ended) for form in TRIMMED_FORMS]
    if trims and at_both:
        ways += [(form[:-1], begun, (form[-1],)) for form in TRIMMED_AT_JAMB]
    if trims and has_corner and at_both:
        ways += [(form[:-1], (), (form[-1],)) for form in TRIMMED_AT_BOTH]
    for form, first, last in ways:
        if "p" in form and "S" not in speller.row.pattern:
            continue  # Headers have no free cut beside them; a trimmed leg may be one.
        for spelling in speller.spell(form, first, last):
            if spelling:
                yield from with_closers(speller, spelling, at_end=end != "wall")


def with_closers(
    speller: Speller, spelling: Spelling, *, at_end: bool
) -> Iterator[Spelling]:
    """Yield a spelling as it is, and with closers where they may stand.

    At the near end a closer stands after the header there, at the far end before it.
    """
    if speller.can_fill(spelling):
        yield spelling
    if not speller.sizes.closer(speller.row):
        return
    solved = "q" if not {"x", "X", "Y"} & set(spelling) else ""
    kinds = ("", "Q", *solved)
    near = kinds if _takes_closer(speller, spelling) else ("",)
    far = kinds if at_end and _takes_closer(speller, spelling[::-1]) else ("",)
    for one, other in product(near, far):
        if (one or other) and not (one and other and len(spelling) < 3):
            closed: Spelling = (
                spelling[0], *one, *spelling[1:-1], *other, spelling[-1]
            )  # fmt: skip
            if speller.can_fill(closed):
                yield closed


def _takes_closer(speller: Speller, spelling: Spelling) -> bool:
    """Whether a closer may stand after the first piece, a header, of a spelling."""
    if len(spelling) < 2:
        return False
    first, beside = spelling[0], spelling[1]
    row = speller.row
    if isinstance(first, int):
        is_header = row.pattern[first] == "H"
    else:
        leg = {"L": row.leg, "M": row.at_jamb}.get(first)
        is_header = leg == "short" or (leg is not None and row.pattern == "H")
    if not is_header or beside in ("X", "P", "Y", "Z"):
        return False
    is_cut = beside in ("x", "p")
    return not is_cut or "S" in row.pattern or len(spelling) == 2
