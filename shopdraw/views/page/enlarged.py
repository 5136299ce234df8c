"""Letter the marks on pieces as large as they have room, to be read at arm's length.

In:  a drawing, the outlines of pieces on it.   Out: `Words` for `Words`; ink.
Frame: the drawing's own, full size.

On paper a mark is as high as all lettering. A phone shows a whole face at the width of
a hand: there it can be read only if it fills its piece.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace
from itertools import pairwise

from shopdraw.drawing import layers
from shopdraw.drawing.extents import every_line, lettering_of
from shopdraw.drawing.ink import Drawing, Hatch, Ink, Insert, Point, Words
from shopdraw.drawing.lettering import Box, ring_of_words
from shopdraw.masonry.wall.layout import Outline, Piece
from shopdraw.solution import Solution
from shopdraw.views.brick.marks import Line, is_inside, mark_of, mark_within

LARGE = (0.6, 0.5, 0.42, 0.35, 0.3, 0.25)
"""Heights that a mark is lettered in, of a brick's; the first that has room is taken.
"""

Shown = tuple[Piece, Outline]


def enlarged(
    solution: Solution,
    drawing: Drawing,
    shown: tuple[Shown, ...],
    by: Point,
    work: Box,
) -> dict[Words, Words]:
    """Return the marks on pieces, each with itself as large as its piece has room.

    Args:
        solution: what is drawn.
        drawing: that the marks are lettered on.
        shown: the outlines on it.
        by: how far these are moved there.
        work: the box round all of them.

    Returns:
        Large marks by small ones; none where a piece has no more room.
    """
    dx, dy = by
    brick = float(solution.job.brick.height) / drawing.scale
    over = [((a, b - dy), (c, d - dy)) for (a, b), (c, d) in _across(drawing, work)]
    named: dict[str, list[tuple[Piece, Outline, list[Point]]]] = {}
    for piece, outline in shown:
        ring = [(float(x), float(y)) for x, y in outline.points]
        named.setdefault(mark_of(piece, outline), []).append((piece, outline, ring))
    found = {}
    for mark, _ in lettering_of(drawing):
        spot = mark.at[0] - dx, mark.at[1] - dy
        like = named.get(mark.text, []) if mark.layer == layers.MARKS else []
        # Of many pieces of one mark this is the one that has it.
        for piece, outline, _ in (x for x in like if is_inside(spot, x[2])):
            for height in (share * brick for share in LARGE):
                given = piece, outline, dx, height, drawing.scale, over
                larger = mark_within(*given) if height > mark.height_on_paper else None
                if larger is not None:
                    x, y = larger.at
                    found[mark] = replace(larger, at=(x, y + dy))
                    break
    return found


def without_words(drawing: Drawing, words: Collection[Words]) -> tuple[Ink, ...]:
    """Return a drawing's ink without some lettering, in tags too."""
    left_out = frozenset(words)
    return tuple(
        replace(
            each,
            tags=tuple(
                replace(tag, words=None) if tag.words in left_out else tag
                for tag in each.tags
            ),
        )
        if isinstance(each, Insert)
        else each
        for each in drawing.ink
        if not (isinstance(each, Words) and each in left_out)
    )


def _across(drawing: Drawing, work: Box) -> Iterator[Line]:
    """Yield the lines that run over the pieces, and round what is lettered there."""
    left, low, right, high = work
    others = tuple(
        each
        for each in drawing.ink
        if not (isinstance(each, Insert | Hatch) or each.layer == layers.MARKS)
    )
    drawn = replace(drawing, ink=others)
    rings = (ring_of_words(each, drawing.scale) for each, _ in lettering_of(drawn))
    round_them = (side for ring in rings for side in pairwise((*ring, ring[0])))
    for (a, b), (c, d) in (*every_line(drawn), *round_them):
        beside = max(a, c) <= left or min(a, c) >= right
        if not (beside or max(b, d) <= low or min(b, d) >= high):
            yield (a, b), (c, d)
