"""A piece and its mirror image print the same figures; what is halved prints halved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Stroke
from shopdraw.lengths import Lengths, half_marked
from shopdraw.masonry.marks.templates import stone_templates
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow, Outline
from shopdraw.masonry.wall.printing import as_printed
from shopdraw.solution import Solution
from shopdraw.views.making import cut_pieces
from shopdraw.views.making.cut_pieces import draw_shape
from tests.demos import solution_of
from tests.views.making.rebuilt import strings_of, words_of

NEAR = Fraction(1, 1000)
ARCHES = ("jack-arch-parlour", "segmental-kitchen", "semicircular-dining-room")
Figures = list[list[Fraction]]


def shaped(solution: Solution) -> list[CutListRow]:
    return [x for x in solution.cut_list if x.shapes and x.kind not in CORNER_KINDS]


def mirrored(shape: Outline) -> list[tuple[Fraction, Fraction]]:
    return [(shape.left + shape.right - x, y) for x, y in shape.points]


def are_alike(one: list[tuple[Fraction, Fraction]], two: Outline) -> bool:
    """Whether every corner of each is a corner of the other."""
    if len(one) != len(two.points):
        return False
    return all(
        min(max(abs(x - a), abs(y - b)) for a, b in two.points) < NEAR for x, y in one
    )


def pairs(solution: Solution) -> Iterator[tuple[CutListRow, CutListRow]]:
    """Yield every piece with its mirror image; one that is its own with itself."""
    rows = shaped(solution)
    for place, one in enumerate(rows):
        for two in rows[place:]:
            if are_alike(mirrored(one.shapes[0]), two.shapes[0]):
                yield one, two


def figures(drawing: Drawing, lengths: str, *, back: bool) -> Figures:
    """Return the figures of the strings along a piece, from its left end or its right.

    Those up its ends are on its sides: a mirror image has them on the other.
    """
    found = []
    for string in strings_of(drawing, "x", lengths):
        steps = [
            b - a for a, b in zip(string.printed, string.printed[1:], strict=False)
        ]
        found.append(steps[::-1] if back else steps)
    return sorted(found)


def unlike(solution: Solution) -> list[str]:
    """Return the pairs whose figures differ.

    A middle that is between two marks prints one of its halves larger.
    """
    job, lengths, wrong = solution.job, solution.lengths, []
    for one, two in pairs(solution):
        a = figures(draw_shape(job, one, 4.0).lettered(), lengths, back=False)
        b = figures(draw_shape(job, two, 4.0).lettered(), lengths, back=True)
        if a != b and [sorted(x) for x in a] != [sorted(x) for x in b]:
            wrong.append(f"{one.mark} {two.mark}")
    return wrong


def test_mirror_images_print_the_same_figures(demo: str) -> None:
    assert unlike(solution_of(demo)) == []


def test_most_arches_have_mirror_images_to_hold() -> None:
    counts = {name: len(list(pairs(solution_of(name)))) for name in ARCHES}
    assert all(count >= 8 for count in counts.values()), counts


def from_the_left(shapes: tuple[Outline, ...], lengths: Lengths) -> tuple[Outline, ...]:
    """Round every place from the left end, whichever way a piece goes."""
    return tuple(
        replace(
            shape,
            points=tuple((half_marked(x, lengths), half_marked(y, lengths))
            for x, y in shape.points),
        )
        for shape in shapes
    )  # fmt: skip


@pytest.mark.parametrize("name", ARCHES[1:])
def test_rounding_from_one_end_is_noticed(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cut_pieces, "as_printed", from_the_left)
    assert unlike(solution_of(name)) != []


def test_an_axis_in_the_middle_has_no_unlike_halves(demo: str) -> None:
    """Half of a width may lie between two marks: only the whole is printed."""
    solution = solution_of(demo)
    for stone in stone_templates(shaped(solution)):
        row = stone.row
        if not are_alike(mirrored(row.shapes[0]), row.shapes[0]):
            continue
        (shape,) = as_printed(row.shapes, solution.lengths)
        drawing = draw_shape(solution.job, row, 4.0).lettered()
        strings = strings_of(drawing, "x", solution.lengths)
        wide = shape.right - shape.left
        assert {x.printed[-1] for x in strings} == {wide}
        assert [x.printed[1:] for x in strings if len(x.printed) < 4] == [(wide,)]
        (axis,) = (
            x.points[0][0]
            for x in drawing.ink
            if isinstance(x, Stroke) and x.layer == layers.LEVELS
        )
        assert 2 * axis == float(shape.left + shape.right)
        assert any("AXIS (CHAIN LINE) MIDWAY" in said for said in words_of(drawing))


def test_an_axis_that_is_not_in_the_middle_has_its_figures() -> None:
    solution = solution_of("jack-arch-parlour")
    leaning = [x for x in stone_templates(shaped(solution)) if not x.is_even]
    assert leaning
    for stone in leaning:
        drawing = draw_shape(solution.job, stone.row, 4.0).lettered()
        axis = next(
            x.points[0][0]
            for x in drawing.ink
            if isinstance(x, Stroke) and x.layer == layers.LEVELS
        )
        strings = strings_of(drawing, "x", solution.lengths)
        assert any(axis in x.drawn for x in strings)
        assert not any("MIDWAY" in said for said in words_of(drawing))


def test_a_shape_by_hand() -> None:
    """In 1/32 in: corners at 0, 10.4 and 20.4 of 30.8, and the mirror image of it."""
    spots = [Fraction(x).limit_denominator(10) / 32 for x in (0, 10.4, 20.4, 30.8)]
    shape = Outline("front", tuple((x, Fraction(n % 2)) for n, x in enumerate(spots)))
    other = replace(shape, points=tuple(mirrored(shape)))
    gaps = []
    for each in (shape, other):
        (printed,) = as_printed((each,), "in")
        places = sorted(x * 32 for x, _ in printed.points)
        gaps.append([b - a for a, b in pairwise(places)])
    assert gaps[0] == gaps[1][::-1]
    assert sum(gaps[0]) == 31
    assert sorted(gaps[0]) == [10, 10, 11]


def test_corners_that_would_print_as_one_are_left_apart() -> None:
    tiny = Fraction(1, 200)
    ring = ((0, 0), (4, 0), (4, 2), (tiny, 2), (0, Fraction(1)))
    shape = Outline("front", tuple((Fraction(x), Fraction(y)) for x, y in ring))
    near = replace(shape, points=(*shape.points[:4], (Fraction(0), 2 - tiny)))
    assert as_printed((shape,), "in") != (shape,)
    assert as_printed((near,), "in") == (near,)
