"""A drawing divided at match lines loses nothing, and every part fits."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdraw.drawing import jutting as moving
from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import bubble, part_key, with_sheets
from shopdraw.drawing.dividing import clipped, clipped_area, divide, reaches
from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import (
    Drawing,
    Fill,
    Ink,
    Insert,
    Measure,
    Stroke,
    Symbol,
    ViewPart,
    Words,
)
from shopdraw.drawing.lettering import Box, box_of
from shopdraw.drawing.sheets import size_on_paper
from shopdraw.drawing.tables import Notes, draw_notes
from tests.views.lettering import crossings

TEXT = 0.09375
ROOM = (6.0, 6.0)
UNIT = Symbol(
    "unit", (Stroke("A-ELEV-MSNR", ((0, 0), (8, 0), (8, 2), (0, 2)), closed=True),)
)


def wall(wide: int, high: int) -> Drawing:
    """Return a wall of units a foot apart, with an outline, strings and names."""
    ink = [
        Insert("A-ELEV-MSNR", "unit", (12.0 * x, 4.0 * y))
        for x in range(wide)
        for y in range(high)
    ]
    right, top = 12.0 * wide, 4.0 * high
    ring = ((0.0, 0.0), (right, 0.0), (right, top), (0.0, top))
    return Drawing(
        "wall",
        "WALL",
        4.0,
        (
            *ink,
            Stroke(layers.OUTLINE, ring, closed=True),
            Fill(layers.SECTION, ring),
            Measure(layers.DIMENSIONS, (0, 0), (right, 0), "x", -4, "LONG", TEXT),
            Measure(layers.DIMENSIONS, (0, 0), (12, 0), "x", -2, "SHORT", TEXT),
            *(
                Words(layers.NOTES, (12.0 * x, top + 2), f"AXIS {x}", TEXT)
                for x in range(wide)
            ),
        ),
        (UNIT,),
    )


def divided(drawing: Drawing) -> tuple[Drawing, ...]:
    def fits(part: Drawing) -> bool:
        wide, high = size_on_paper(part)
        return wide <= ROOM[0] and high <= ROOM[1]

    return divide(drawing, 7, fits, TEXT)


def length_of(drawing: Drawing, layer: str) -> float:
    total = 0.0
    for ink in drawing.ink:
        if isinstance(ink, Stroke) and ink.layer == layer:
            ring = (*ink.points, ink.points[0]) if ink.closed else ink.points
            total += sum(dist(a, b) for a, b in pairwise(ring))
    return total


def lost(whole: Drawing, parts: tuple[Drawing, ...]) -> set[str]:
    """Name what of a drawing is in none of its parts."""
    gone = set()
    inked = [ink for part in parts for ink in part.ink]
    if {x for x in whole.ink if isinstance(x, Insert)} - set(inked):
        gone.add("unit")
    before = length_of(whole, layers.OUTLINE)
    if abs(sum(length_of(x, layers.OUTLINE) for x in parts) - before) > 1e-6:
        gone.add("outline")
    words = [x.text if isinstance(x, Words) else x.words
             for x in inked if isinstance(x, Words | Measure)]  # fmt: skip
    texts = {x.text if isinstance(x, Words) else x.words
             for x in whole.ink if isinstance(x, Words | Measure)}  # fmt: skip
    return gone | {text for text in texts if text not in words}


@settings(deadline=None, max_examples=12)
@given(st.integers(1, 6), st.integers(1, 16))
def test_nothing_is_lost_and_every_part_fits(wide: int, high: int) -> None:
    whole = wall(wide, high)
    parts = divided(whole)
    assert parts
    assert lost(whole, parts) == set()
    for part in parts:
        assert size_on_paper(part) <= ROOM


def test_what_is_taken_out_of_a_part_is_missed() -> None:
    whole = wall(6, 4)
    first, *others = divided(whole)
    for place in range(len(first.ink)):
        kept = (*first.ink[:place], *first.ink[place + 1 :])
        taken = first.ink[place]
        if isinstance(taken, Stroke) and taken.layer == layers.OUTLINE:
            less = Drawing("wall", "", 4.0, kept, first.symbols)
            assert "outline" in lost(whole, (less, *others))
        if isinstance(taken, Words) and taken.text.startswith("AXIS"):
            less = Drawing("wall", "", 4.0, kept, first.symbols)
            assert taken.text in lost(whole, (less, *others))


def test_a_match_line_goes_where_it_meets_no_unit_if_it_can() -> None:
    """Units of 8 in stand every 12 in: there are gaps of 4 in between them."""
    for part in divided(wall(4, 4)):
        assert part.part is not None
        left, _, right, _ = part.part.window
        assert all(x % 12 >= 8 for x in (left, right) if abs(x) < 1e6)


def test_each_part_has_its_share_of_what_is_built() -> None:
    """Lettering far at one side, as wide as the wall, is not counted as wall."""
    plain = wall(3, 4)
    far = (Words(layers.NOTES, (-14.0, 2.0 * n), "N" * 8, TEXT) for n in range(4))
    whole = replace(plain, ink=(*plain.ink, *far))
    units = [
        sum(isinstance(ink, Insert) for ink in part.ink) for part in divided(whole)
    ]
    assert len(units) > 1
    assert max(units) <= 2 * min(units)


def test_a_long_dimension_is_lettered_in_every_part_that_has_room() -> None:
    parts = divided(wall(3, 2))
    assert len(parts) == 2
    for part in parts:
        texts = [x.text for x in part.ink if isinstance(x, Words)]
        assert "LONG" in texts
        assert any("MATCH LINE" in x for x in texts)
    short = [x for part in parts for x in part.ink if isinstance(x, Measure)]
    assert [x.words for x in short] == ["SHORT"]


def test_a_match_line_names_the_sheet_of_what_is_beyond() -> None:
    first, second = divided(wall(3, 2))
    on = {part_key(7, 1): "A-201", part_key(7, 2): "A-202"}
    filled = [
        {x.text for x in with_sheets(part, {"part": on}).ink if isinstance(x, Words)}
        for part in (first, second)
    ]
    assert "MATCH LINE, SEE A-202" in filled[0]
    assert "MATCH LINE, SEE A-201" in filled[1]


def test_what_no_number_of_parts_makes_fit_is_not_divided() -> None:
    one_line = draw_notes(Notes("n", "N" * 300, ("x",)), TEXT, 1.0, 9.0)
    assert divided(one_line) == ()


WINDOW: Box = (0.0, 0.0, 10.0, 10.0)


@pytest.mark.parametrize(
    ("points", "expected"),
    [
        (((1, 1), (9, 9)), [((1, 1), (9, 9))]),
        (((-5, 5), (15, 5)), [((0, 5), (10, 5))]),
        (((-5, 5), (-1, 5)), []),
        (((5, 5), (15, 5), (15, 7), (5, 7)), [((5, 5), (10, 5)), ((10, 7), (5, 7))]),
    ],
)
def test_a_line_is_cut_off_at_the_window(points, expected) -> None:
    assert list(clipped(points, WINDOW, closed=False)) == expected


def test_an_area_is_cut_off_at_the_window() -> None:
    square = ((5, 5), (15, 5), (15, 15), (5, 15))
    (found,) = clipped_area(square, WINDOW)
    assert set(found) == {(5, 5), (10, 5), (10, 10), (5, 10)}
    assert reaches(square, WINDOW)
    assert not reaches([(10, 0), (12, 2)], WINDOW)


def figures_again(parts: tuple[Drawing, ...]) -> list[Words]:
    """Return the long dimension's figures, but for the one in the middle of it."""
    return [
        ink for part in parts for ink in part.ink
        if isinstance(ink, Words) and ink.text == "LONG" and ink.at[0] != 36.0
    ]  # fmt: skip


def test_a_figure_lettered_again_stands_clear_of_lines() -> None:
    """A line where it would stand moves it along; lines all along leave it out."""
    drawing = wall(6, 4)
    before = figures_again(divided(drawing))
    assert len(before) > 1
    struck = {word.at[0] for word in before}
    posts = tuple(Stroke(layers.OUTLINE, ((x, -6.0), (x, -1.0))) for x in struck)
    crossed = replace(drawing, ink=(*drawing.ink, *posts))
    assert any(crossings(replace(crossed, ink=(*posts, word))) for word in before)
    parts = divided(crossed)
    assert len(figures_again(parts)) == len(before)
    for part in parts:
        again = [ink for ink in part.ink if ink in figures_again(parts)]
        assert crossings(replace(part, ink=(*posts, *again))) == []
    fence = tuple(
        Stroke(layers.OUTLINE, ((0.5 * x, -6.0), (0.5 * x, -1.0))) for x in range(150)
    )
    left = figures_again(divided(replace(drawing, ink=(*drawing.ink, *fence))))
    assert len(left) < len(before)


@pytest.mark.parametrize("sight_deg", [0.0, 180.0])
@pytest.mark.parametrize("x", [17.0, 18.0, 19.0])
def test_a_bubble_that_a_match_line_runs_through_is_whole_in_one_part(
    x: float, sight_deg: float
) -> None:
    """It is so large that any match line that is tried runs through it."""
    drawn = tuple(bubble(1, "drawn", (x, 8.0), 0.5, 4.0, sight_deg))
    whole = wall(3, 2)
    parts = divided(replace(whole, ink=(*whole.ink, *drawn)))
    sides = {x for part in parts if part.part for x in part.part.window[::2]}
    assert any(abs(side - x) < 1.6 * 5.4 for side in sides)
    shown = [sum(each in part.ink for each in drawn) for part in parts]
    assert sorted(shown) == [*(0 for _ in parts[1:]), len(drawn)]


@pytest.mark.parametrize("way", [-1, 1])
def test_a_bubble_is_on_the_part_where_its_leader_begins(way: int) -> None:
    """A match line between them parts the leader else, and its end says nothing."""
    whole = wall(3, 2)
    (cut,) = {
        x
        for part in divided(whole)
        if part.part
        for x in part.part.window[::2]
        if abs(x) < 1e6
    }
    foot, ring = (cut - 2.0 * way, 5.0), (cut + 1.7 * way, 7.0)
    drawn = (
        *bubble(1, "drawn", ring, TEXT, 4.0),
        Stroke(layers.NOTES, (foot, (ring[0] - 1.01 * way, ring[1]))),
    )
    parts = divided(replace(whole, ink=(*whole.ink, *drawn)))
    for part in parts:
        assert part.part is not None
        left, _, right, _ = part.part.window
        assert (cut - 1 < left < cut + 1) or (cut - 1 < right < cut + 1)
        shown = sum(each in part.ink for each in drawn)
        assert shown == len(drawn) * (left < foot[0] < right)


@pytest.mark.parametrize("beyond", [0.05, 0.5])
def test_a_leader_that_begins_at_a_match_line_goes_with_its_bubble(
    beyond: float,
) -> None:
    """So near to the line it is drawn whole on the bubble's part and says as much."""
    whole = wall(3, 2)
    (cut,) = {x for part in divided(whole) if part.part
              for x in part.part.window[::2] if abs(x) < 1e6}  # fmt: skip
    ring = cut + 2.2, 7.0
    leader = Stroke(layers.NOTES, ((cut - beyond, 7.0), (ring[0] - 1.02, 7.0)))
    drawn = *bubble(1, "drawn", ring, TEXT, 4.0), leader
    first, second = divided(replace(whole, ink=(*whole.ink, *drawn)))
    assert first.part is not None
    assert abs(first.part.window[2] - cut) < 1e-6
    assert (leader in second.ink) == (beyond < 0.1)
    assert (leader in first.ink) == (beyond > 0.1)


def jutting(parts: tuple[Drawing, ...]) -> list[str]:
    """Return the lettering that lies over a match line of its part."""
    found = []
    for part in parts:
        assert part.part is not None
        left, low, right, high = part.part.window
        for words, (a, b, c, d) in lettering_of(part):
            if not words.text.startswith("MATCH LINE") and (
                a < left or b < low or c > right or d > high
            ):
                found.append(words.text)
    return found


def off_match_lines(part: Drawing) -> Drawing:
    """Return a part with its lettering moved off its match lines."""
    assert part.part is not None
    return moving.off_match_lines(part, [part.part.window])


LONG_WORDS = "N" * 12
HELD = {
    "free": (),
    "a line where it would stand": ((4.2, 4.0), (4.2, 6.0)),
    "its leader": ((-0.9, 5.0), (-2.0, 5.0)),
}


@pytest.mark.parametrize("angle_deg", [0.0, 90.0])
@pytest.mark.parametrize("held", HELD)
def test_words_over_a_match_line_are_moved_along_themselves_off_it(
    held: str, angle_deg: float
) -> None:
    """But onto no line, and not away from the end of their leader."""
    turned = 1 if angle_deg else 0
    at, line, window = (1.5, 5.0), HELD[held], (0.0, -9.0, 9.0, 19.0)
    if turned:
        at, window = (5.0, 1.5), (-9.0, 0.0, 19.0, 9.0)
        line = tuple((y, x) for x, y in line)
    words = Words(layers.NOTES, at, LONG_WORDS, TEXT, "centre", "middle", angle_deg)
    wide = box_of(words, 4.0)[2 + turned] - at[turned]
    assert 2.3 < wide < 2.4
    ink = (words, *((Stroke(layers.NOTES, line),) if line else ()))
    part = Drawing("wall", "", 4.0, ink, part=ViewPart(1, window))
    moved = off_match_lines(part).ink[0]
    assert isinstance(moved, Words)
    off = moved.at[turned] - at[turned]
    assert moved.at[1 - turned] == at[1 - turned]
    assert (off > wide - 1.5) if held == "free" else off == 0.0
    assert (jutting((off_match_lines(part),)) == []) == (held == "free")


def test_a_name_with_no_room_in_one_line_is_broken_off_a_match_line() -> None:
    """A leader on its left keeps it where it is; two lines have room beside that."""
    part = ViewPart(1, (-20.0, -10.0, 20.0, 10.0))
    name = Words(layers.NOTES, (17.0, 0.0), "FRIEZE BOARD, BY OTHERS", TEXT,
                 "centre", "middle")  # fmt: skip
    leader = Stroke(layers.NOTES, ((7.5, -8.0), (7.5, 8.0)))
    drawing = Drawing("wall", "", 8.0, (name, leader), part=part)
    assert jutting((drawing,)) != []
    moved = off_match_lines(drawing)
    assert jutting((moved,)) == []
    assert [x.text for x in moved.ink if isinstance(x, Words)] == [
        "FRIEZE BOARD,",
        "BY OTHERS",
    ]
    assert crossings(moved) == []
    # Beside a line that it belongs to it is read as one with it, and stays.
    under = Stroke(layers.NOTES, ((0.0, -1.0), (30.0, -1.0)))
    held = replace(drawing, ink=(name, leader, under))
    assert off_match_lines(held).ink[0] == name


def led_part(*more: Ink) -> Drawing:
    """Return a part with a mark at a leader, that juts over its match line."""
    spot, end = (17.0, 6.0), (14.4, 0.0)
    mark = Words(layers.NOTES, (13.8, 0.0), "(C), ALTERNATE COURSES 2 TO 6", TEXT,
                 "right", "middle")  # fmt: skip
    dot = tuple((spot[0] + x, spot[1] + y) for x, y in ((0.2, 0), (0, 0.2), (-0.2, 0)))
    ink = (
        Stroke(layers.NOTES, (spot, end)),
        Stroke(layers.NOTES, dot, closed=True),
        mark,
        *more,
    )
    part = ViewPart(1, (0.0, -20.0, 60.0, 20.0))
    return Drawing("wall", "", 8.0, ink, part=part)


def test_a_mark_at_a_leader_is_moved_off_a_match_line_with_the_leaders_end() -> None:
    drawing = led_part()
    assert jutting((drawing,)) != []
    moved = off_match_lines(drawing)
    assert jutting((moved,)) == []
    (before, _, mark), (leader, _, there) = drawing.ink, moved.ink
    assert isinstance(mark, Words)
    assert isinstance(there, Words)
    assert isinstance(before, Stroke)
    assert isinstance(leader, Stroke)
    by = there.at[0] - mark.at[0]
    assert by > 0
    assert leader.points[0] == before.points[0]
    x, y = before.points[1]
    assert leader.points[1] == pytest.approx((x + by, y))


def test_where_its_leader_would_run_through_lettering_a_mark_is_broken_instead() -> (
    None
):
    """Beside it stands a figure, so that it has no room along itself either."""
    figure = Words(layers.DIMENSIONS, (15.0, 0.0), "N" * 30, TEXT, "left", "middle")
    moved = off_match_lines(led_part(figure))
    assert jutting((moved,)) == []
    assert crossings(moved) == []
    said = [x for x in moved.ink if isinstance(x, Words) and x != figure]
    assert " ".join(x.text for x in said) == "(C), ALTERNATE COURSES 2 TO 6"
    leader = moved.ink[0]
    assert len(said) == 2
    assert isinstance(leader, Stroke)
    assert leader.points[1][1] in {x.at[1] for x in said}


def test_lines_one_under_another_move_off_a_match_line_as_one() -> None:
    """A post beside them leaves no room but lower down."""
    part = ViewPart(1, (0.0, -30.0, 40.0, 20.0))
    lines = [
        Words(layers.NOTES, (2.0, -y), text, TEXT, "centre", "middle")
        for y, text in ((0.0, "NNNNNNNN"), (1.35, "NN"), (4.05, "NNNNNN"))
    ]
    post = Stroke(layers.LEVELS, ((4.0, -8.0), (4.0, 3.0)))
    wall = Stroke(layers.OUTLINE, ((12.0, -30.0), (12.0, 20.0)))
    moved = off_match_lines(Drawing("wall", "", 8.0, (*lines, post, wall), part=part))
    assert jutting((moved,)) == []
    assert crossings(moved) == []
    found = [x for x in moved.ink if isinstance(x, Words)]
    ways = {
        (round(x.at[0] - y.at[0], 6), round(x.at[1] - y.at[1], 6))
        for x, y in zip(found, lines, strict=True)
    }
    assert len(ways) == 1
    # What is built parts a place from where they would be misread.
    assert all(box[2] < 12.0 for _, box in lettering_of(moved))


def test_what_is_said_of_a_string_goes_to_the_part_where_its_name_is() -> None:
    """It has no room beside it: posts stand close."""
    name = Words(layers.NOTES, (-2.0, 0.0), "ROWLOCKS, FINISH", TEXT,
                 "right", "middle")  # fmt: skip
    low = Words(layers.NOTES, (-30.0, -4.0), "N", TEXT, "right", "middle")
    line = Stroke(layers.DIMENSIONS, ((0.0, 0.0), (30.0, 0.0)))
    said = [
        Words(layers.NOTES, (15.2, -0.675 * n), text, TEXT, "centre", "middle")
        for n, text in ((2, "30 ROWLOCKS AT 2 = 60;"), (4, "31 JOINTS AT 1 = 31"))
    ]
    posts = (Stroke(layers.DIMENSIONS, ((x, 0.5), (x, -20.0))) for x in range(0, 31, 3))
    windows = [(-99.0, -99.0, 15.0, 99.0), (15.0, -99.0, 99.0, 99.0)]
    whole = Drawing("wall", "", 8.0, (name, low, line, *posts, *said))
    _, _, *found = (
        x for x in moving.off_match_lines(whole, windows).ink if isinstance(x, Words)
    )
    assert [x.text for x in found] == [x.text for x in said]
    assert {(x.at[0], x.align) for x in found} == {(name.at[0], "right")}
    assert all(box[2] < 0 for box in (box_of(x, 8.0) for x in found))
    # Without its name it stays where it is.
    nameless = replace(whole, ink=tuple(x for x in whole.ink if x is not name))
    assert moving.off_match_lines(nameless, windows).ink == nameless.ink


def test_lines_with_no_room_as_wide_as_they_are_are_broken_off_a_match_line() -> None:
    part = ViewPart(1, (0.0, -30.0, 40.0, 20.0))
    lines = [
        Words(layers.NOTES, (2.0, -y), text, TEXT, "centre", "middle")
        for y, text in ((0.0, "NNNN NNNN"), (1.35, "NNNN"))
    ]
    left, _, right, _ = box_of(lines[0], 8.0)
    wall = Stroke(layers.OUTLINE, ((right - left, -30.0), (right - left, 20.0)))
    moved = off_match_lines(Drawing("wall", "", 8.0, (*lines, wall), part=part))
    assert jutting((moved,)) == []
    assert crossings(moved) == []
    found = sorted(
        (x for x in moved.ink if isinstance(x, Words)), key=lambda x: -x.at[1]
    )
    assert [x.text for x in found] == ["NNNN", "NNNN", "NNNN"]
    assert len({x.at[0] for x in found}) == 1
