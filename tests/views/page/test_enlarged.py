"""Marks as large as their pieces have room, held against a kept library's shapes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import pytest
import shapely
from shapely import affinity

from shopdraw.drawing import layers
from shopdraw.drawing.extents import every_line, lettering_of
from shopdraw.drawing.ink import Hatch, Insert, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.drawing.page import PieceView
from tests.demos import set_of, solution_of

DEMOS = (
    "library-hearth",
    "metric-slips",
    "semicircular-dining-room",
    "splayed-parlour",
)
"""Returns, millimetres, voussoirs, jambs of brick."""


def views_of(demo: str) -> tuple[PieceView, ...]:
    page = set_of(demo).page
    assert page is not None
    return page.views


def shape(words: Words, view: PieceView) -> shapely.Polygon:
    """Return what a mark covers: capitals, figures, brackets; none goes below its foot.

    Less a hair: it may touch what it stands beside.
    """
    scale = view.placed.drawing.scale
    wide, high = (width_of(words.text, words.height_on_paper) * scale / 2,
                  words.height_on_paper * scale / 2)  # fmt: skip
    x, y = words.at
    level = shapely.box(x - wide, y - high, x + wide, y + high)
    turned = affinity.rotate(level, words.angle_deg, origin=(x, y))
    return turned.buffer(-1e-3, join_style="mitre")


def lines_over(view: PieceView) -> list[shapely.LineString]:
    """Return the lines of a drawing that are no piece's, no hatch and no lettering."""
    drawing = view.placed.drawing
    ink = tuple(
        x for x in drawing.ink
        if not isinstance(x, Insert | Hatch | Words) and x.layer != layers.MARKS
    )  # fmt: skip
    return [shapely.LineString(x) for x in every_line(replace(drawing, ink=ink))]


def wrong(view: PieceView) -> Iterator[str]:
    """Name the large marks that are not where, or what, they must be."""
    pieces = [
        (spot.says.split()[0], shapely.Polygon(spot.points)) for spot in view.spots
    ]
    lines = lines_over(view)
    shapes = [shape(words, view) for words in view.large]
    for small, large, covers in zip(view.small, view.large, shapes, strict=True):
        if (large.text, large.layer) != (small.text, small.layer):
            yield f"{small.text} has become {large.text}"
        if large.height_on_paper <= small.height_on_paper:
            yield f"{small.text} is no larger"
        under = [mark for mark, piece in pieces if piece.contains(covers)]
        if [mark for mark in under if mark == large.text.strip("()")] == []:
            yield f"{large.text} stands on {under}"
        if any(line.intersects(covers) for line in lines):
            yield f"{large.text} is crossed"
    yield from ("two on one another" for a, b in combinations(shapes, 2)
                if a.intersects(b))  # fmt: skip


def left_out(view: PieceView) -> Counter[str]:
    """Return the lettering of a drawing that is neither kept nor enlarged, and back."""
    drawing = view.placed.drawing
    before = Counter(words for words, _ in lettering_of(drawing))
    kept = (words for words, _ in lettering_of(replace(drawing, ink=view.rest)))
    after = Counter([*kept, *view.small])
    return Counter(words.text for words in (before - after) + (after - before))


@pytest.mark.parametrize("demo", DEMOS)
def test_large_marks_stand_on_their_pieces_clear_of_all_else(demo: str) -> None:
    for view in views_of(demo):
        assert list(wrong(view)) == []
        assert left_out(view) == Counter()


def test_most_marks_are_enlarged_and_by_much() -> None:
    front = views_of("library-hearth")[0]
    marked = [x for x in solution_of("library-hearth").pieces if x.is_cut or x.legs]
    on_front = [x for x in marked if x.outlines[0].face == "front"]
    assert len(front.large) >= len(on_front) > 20
    brick = 2.25 / front.placed.drawing.scale
    for small, large in zip(front.small, front.large, strict=True):
        assert large.height_on_paper > 1.5 * small.height_on_paper
        # Room above and below, as in any line of lettering.
        assert large.height_on_paper < 0.7 * brick


def test_a_mark_that_stands_elsewhere_is_noticed() -> None:
    view = views_of("library-hearth")[0]
    first, *others = view.large
    x, y = first.at

    def put(**parts: object) -> PieceView:
        return replace(view, large=(replace(first, **parts), *others))

    assert list(wrong(put(at=(x + 4, y))))
    assert list(wrong(put(at=(x, y + 2))))
    assert list(wrong(put(text="B9")))
    assert list(wrong(put(height_on_paper=2 * first.height_on_paper)))
    assert list(wrong(put(height_on_paper=view.small[0].height_on_paper)))
    assert list(wrong(replace(view, large=(first, *view.large[:-1]))))
    assert left_out(replace(view, rest=view.placed.drawing.ink))
    assert left_out(replace(view, small=view.small[1:]))
