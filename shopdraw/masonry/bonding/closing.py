"""Spell courses over an opening that are their own mirror image.

In:  a row's pattern, what comes first, and the room.   Out: spellings.
Frame: grid lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shopdraw.masonry.bonding.legs import Near
from shopdraw.masonry.rows.bonds import CourseKind
from shopdraw.masonry.rows.forms import Speller, Spelling, Token
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
    near: Near

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
