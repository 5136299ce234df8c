"""Sheets are composed in order, in rows and columns, in as few sheets as can be.

The ways to end one sheet and begin the next are counted out here for small sets, and
each is judged by the measure as its docstring states it.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdraw.drawing.arranging import Item, alone, arrange, below, beside, fits
from shopdraw.drawing.composing import (
    LAST_COUNTS,
    LEAST_FILL,
    MOST_FILL,
    MOST_HOLE,
    PARTED,
    Composed,
    Purpose,
    SheetRoom,
    compose,
    cost_of,
    fewest,
)
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.holes import largest_hole
from shopdraw.drawing.ink import Drawing, Stroke
from shopdraw.drawing.lettering import Box, overlap
from shopdraw.errors import NotDrawable

AREA: Box = (1.0, 1.0, 11.0, 9.0)
GAP = 0.25
ROOM = SheetRoom(AREA, GAP)
Size = tuple[float, float]


def boxed(wide: float, high: float, *, foot: float = 0.0, left: float = 0.0) -> Drawing:
    """Return a drawing of so much ink at full size."""
    ring = (
        (left, foot),
        (left + wide, foot),
        (left + wide, foot + high),
        (left, foot + high),
    )
    return Drawing("box", "BOX", 1.0, (Stroke("A-ELEV-OTLN", ring, closed=True),))


def items_of(sizes: list[tuple[float, float, bool]]) -> tuple[Item, ...]:
    return tuple(alone(boxed(w, h), is_words=is_words) for w, h, is_words in sizes)


SIZES = st.lists(
    st.tuples(st.floats(0.5, 9.5), st.floats(0.5, 7.5), st.booleans()),
    min_size=1,
    max_size=7,
)


@settings(deadline=None)
@given(SIZES)
def test_all_is_placed_once_in_order_on_the_sheet_and_off_each_other(
    sizes: list[tuple[float, float, bool]],
) -> None:
    items = items_of(sizes)
    sheets = compose([Purpose("x", items)], SheetRoom(AREA, GAP))
    placed = [drawing for sheet in sheets for drawing, _ in sheet.places]
    assert placed == [drawing for item in items for drawing, _ in item.parts]
    for sheet in sheets:
        for drawing, (left, bottom, right, top) in sheet.places:
            assert left >= AREA[0] - 1e-6
            assert bottom >= AREA[1] - 1e-6
            assert right <= AREA[2] + 1e-6
            assert top <= AREA[3] + 1e-6
            a, b, c, d = extent_of(drawing)
            assert (right - left, top - bottom) == pytest.approx((c - a, d - b))
        for (_, one), (_, other) in combinations(sheet.places, 2):
            assert not overlap(one, other, 1e-6)


def cost(sheets: list[Composed]) -> tuple[int, float]:
    """Count the sheets, how far their fills are from what looks well, holes, parted."""
    off = (
        (max(LEAST_FILL - x.fill, x.fill - MOST_FILL, 0.0), x.is_last) for x in sheets
    )
    counts = {True: LAST_COUNTS, False: 1}
    bare = sum(round(1000 * x) ** 2 // counts[last] for x, last in off)
    holes = (max(x.hole - MOST_HOLE, 0.0) for x in sheets)
    torn = sum(max(round(1000 * x), x > 0) ** 2 for x in holes)
    parted = sum(x.parted for x in sheets)
    return len(sheets), bare + torn + parted * round(1000 * PARTED) ** 2


def is_parted(items: tuple[Item, ...], run: tuple[int, int]) -> bool:
    """Whether a sheet has one view of several, all of one purpose."""
    views = [n for n, item in enumerate(items) if not item.is_words]
    return len(views) > 1 and len([n for n in views if run[0] <= n < run[1]]) == 1


@settings(deadline=None)
@given(SIZES)
def test_no_other_way_to_break_the_sheets_is_better(
    sizes: list[tuple[float, float, bool]],
) -> None:
    items = items_of(sizes)
    found = cost(compose([Purpose("x", items)], SheetRoom(AREA, GAP)))
    for many in range(len(items)):
        for breaks in combinations(range(1, len(items)), many):
            runs = list(zip((0, *breaks), (*breaks, len(items)), strict=True))
            if any(arrange(items[a:b], AREA, GAP) is None for a, b in runs):
                continue
            sheets = [
                compose([Purpose("x", items[a:b])], SheetRoom(AREA, GAP))
                for a, b in runs
            ]
            if all(len(each) == 1 for each in sheets):
                # Each was composed by itself; in one set only the last is the last.
                one = [
                    replace(each[0], is_last=False, parted=is_parted(items, run))
                    for each, run in zip(sheets, runs, strict=True)
                ]
                one[-1] = replace(one[-1], is_last=True)
                assert found <= cost(one)


def test_what_fits_one_sheet_is_on_one_sheet() -> None:
    items = items_of([(4.0, 3.0, False)] * 4)
    (sheet,) = compose([Purpose("x", items)], SheetRoom(AREA, GAP))
    assert sheet.fill == pytest.approx(48 / 80)
    more = items_of([(4.0, 3.0, False)] * 5)
    assert len(compose([Purpose("x", more)], SheetRoom(AREA, GAP))) == 2


def test_of_as_many_sheets_the_ones_less_bare_are_taken() -> None:
    """Four of which three fit a sheet: two and two, not three and one."""
    items = items_of([(3.0, 7.5, False)] * 4)
    assert arrange(items[:3], AREA, GAP) is not None
    sheets = compose([Purpose("x", items)], SheetRoom(AREA, GAP))
    assert [len(sheet.places) for sheet in sheets] == [2, 2]


def test_no_view_is_parted_from_its_fellows_where_sheets_are_as_full() -> None:
    """A list and six views: not one of them above the list, and five."""
    views = items_of([(3.1, 2.6, False)] * 6)
    (listed,) = items_of([(9.5, 4.5, True)])
    purposes = Purpose("list", (listed,)), Purpose("view", views)
    sheets = compose(purposes, SheetRoom(AREA, GAP))
    assert [len(sheet.places) for sheet in sheets] == [1, 6]
    assert [sheet.parted for sheet in sheets] == [0, 0]
    first = replace(sheets[0], parted=1)
    worse = round(1000 * PARTED) ** 2
    assert cost_of([first])[1] == cost_of(sheets[:1])[1] + worse


def test_a_row_of_several_views_is_not_parted() -> None:
    one, other = (boxed(3.0, 7.5) for _ in "ab")
    row = beside(alone(one), other, GAP, 1)
    more = items_of([(3.0, 7.5, False)] * 2)
    sheets = compose([Purpose("x", (row, *more))], SheetRoom(AREA, GAP))
    assert [sheet.parted for sheet in sheets] == [0, 0]
    sheets = compose([Purpose("x", (*more[:1], row))], SheetRoom(AREA, GAP))
    assert [len(sheet.places) for sheet in sheets] == [3]


def test_a_sheet_says_what_is_on_it() -> None:
    one = alone(boxed(4.0, 3.0), shows="DETAIL")
    other = alone(boxed(4.0, 3.0), shows="LIST")
    purposes = Purpose("a", (one,)), Purpose("b", (other, one))
    (sheet,) = compose(purposes, SheetRoom(AREA, GAP))
    assert sheet.purposes == purposes
    assert sheet.shows == ("DETAIL", "LIST", "DETAIL")


def test_a_purpose_apart_begins_a_sheet() -> None:
    one, other = items_of([(4.0, 3.0, False)] * 2)
    purposes = Purpose("a", (one,)), Purpose("b", (other,), is_apart=True)
    assert len(compose(purposes, SheetRoom(AREA, GAP))) == 2
    assert len(compose(purposes[::-1], SheetRoom(AREA, GAP))) == 1


def test_low_views_are_stacked_beside_a_high_one() -> None:
    """Not in four rows, which would be too high: two and two beside the high one."""
    sizes = [(3.0, 7.0), (3.0, 3.0), (3.0, 3.5), (3.0, 3.0), (3.0, 3.0)]
    places = arrange(items_of([(*size, False) for size in sizes]), AREA, GAP)
    assert places is not None
    high, one, two, three, four = (box for _, box in places)
    assert one[0] == pytest.approx(two[0])
    assert three[0] == pytest.approx(four[0])
    assert one[3] == pytest.approx(three[3]) == pytest.approx(high[3])
    assert two[1] == pytest.approx(four[1]) == pytest.approx(high[1])


def test_stacks_of_as_many_stand_on_the_same_lines() -> None:
    sizes = [(3.0, 7.0), (3.0, 3.0), (3.0, 2.0), (3.0, 2.5), (3.0, 3.5)]
    places = arrange(items_of([(*size, False) for size in sizes]), AREA, GAP)
    assert places is not None
    high, one, two, three, four = (box for _, box in places)
    assert one[1] == pytest.approx(three[1])
    assert two[1] == pytest.approx(four[1]) == pytest.approx(high[1])
    # Not where they would be too high for it: each is then spread over the row.
    sizes[2:4] = [(3.0, 2.0), (3.0, 2.0)]
    sizes[1], sizes[4] = (3.0, 4.5), (3.0, 4.5)
    places = arrange(items_of([(*size, False) for size in sizes]), AREA, GAP)
    assert places is not None
    high, one, two, three, four = (box for _, box in places)
    assert one[3] == pytest.approx(three[3]) == pytest.approx(high[3])
    assert two[1] == pytest.approx(four[1]) == pytest.approx(high[1])


def test_the_measure_is_what_the_test_reckons() -> None:
    items = items_of([(3.0, 7.5, False)] * 4)
    sheets = compose([Purpose("x", items)], SheetRoom(AREA, GAP))
    assert cost_of(sheets) == cost(sheets)


def test_views_in_a_row_stand_on_one_line_and_share_what_is_left() -> None:
    items = items_of([(3.0, 6.0, False), (4.0, 2.0, False)])
    places = arrange(items, AREA, GAP)
    assert places is not None
    (_, one), (_, other) = places
    assert one[1] == pytest.approx(other[1])
    assert one[0] - AREA[0] == pytest.approx(other[0] - one[2])
    assert other[0] - one[2] == pytest.approx(AREA[2] - other[2])
    assert one[1] - AREA[1] == pytest.approx(AREA[3] - one[3])


def test_words_stand_in_a_column_at_the_right_of_views_or_else_below() -> None:
    view, notes, table = items_of(
        [(6.0, 3.0, False), (3.0, 2.0, True), (2.0, 1.0, True)]
    )
    places = arrange([view, notes, table], AREA, GAP)
    assert places is not None
    (_, drawn), (_, noted), (_, tabled) = places
    assert noted[0] >= drawn[2]
    assert noted[0] == pytest.approx(tabled[0])
    assert noted[1] - tabled[3] == pytest.approx(GAP)
    # They stand with the view, not in the corner of the sheet.
    assert noted[3] == pytest.approx(drawn[3])
    assert noted[0] - drawn[2] == pytest.approx(max(2 * GAP, AREA[2] - noted[2]))
    low, notes, table = items_of(
        [(4.0, 1.0, False), (3.0, 2.0, True), (2.0, 1.0, True)]
    )
    places = arrange([low, notes, table], AREA, GAP)
    assert places is not None
    assert min(box[1] for _, box in places) >= AREA[1]
    wide, notes, table = items_of(
        [(9.0, 3.0, False), (3.0, 2.0, True), (2.0, 1.0, True)]
    )
    places = arrange([wide, notes, table], AREA, GAP)
    assert places is not None
    (_, drawn), (_, noted), (_, tabled) = places
    assert noted[3] <= drawn[1]
    assert noted[3] == pytest.approx(tabled[3])


def test_what_is_folded_out_keeps_its_level_lines() -> None:
    front = boxed(4.0, 3.0, foot=-1.0)
    item = beside(alone(front), boxed(1.0, 2.0, foot=-0.5), GAP, -1)
    item = beside(item, boxed(1.5, 2.5, foot=-0.25, left=7.0), GAP, 1)
    places = arrange([item], AREA, GAP)
    assert places is not None
    (_, mid), (_, left), (_, right) = places
    # y = 0 of each lies so far above its foot.
    assert mid[1] + 1.0 == pytest.approx(left[1] + 0.5)
    assert mid[1] + 1.0 == pytest.approx(right[1] + 0.25)
    assert left[2] + GAP == pytest.approx(mid[0])
    assert mid[2] + GAP == pytest.approx(right[0])


def test_what_lies_below_keeps_its_verticals() -> None:
    item = below(alone(boxed(4.0, 3.0, left=-1.0)), boxed(2.0, 1.0, left=-0.5), GAP)
    places = arrange([item], AREA, GAP)
    assert places is not None
    (_, front), (_, plan) = places
    assert front[0] + 1.0 == pytest.approx(plan[0] + 0.5)
    assert front[1] - plan[3] == pytest.approx(GAP)


def test_a_drawing_larger_than_a_sheet_is_refused() -> None:
    with pytest.raises(NotDrawable, match="larger than a sheet; give larger paper"):
        compose([Purpose("x", items_of([(11.0, 1.0, False)]))], SheetRoom(AREA, GAP))


@settings(deadline=None)
@given(SIZES)
def test_what_is_said_to_fit_is_what_can_be_arranged(
    sizes: list[tuple[float, float, bool]],
) -> None:
    items = items_of(sizes)
    assert fits(items, AREA, GAP) == (arrange(items, AREA, GAP) is not None)


def growing(wide: float, high: float, times: int = 1) -> Item:
    """Return an item that can be drawn half as large again, so many times."""
    item = alone(boxed(wide, high))
    if times == 0:
        return item
    return replace(item, larger=lambda: growing(1.5 * wide, 1.5 * high, times - 1))


def test_on_a_bare_sheet_views_are_drawn_larger() -> None:
    (sheet,) = compose([Purpose("x", (growing(4.0, 3.0),) * 2)], SheetRoom(AREA, GAP))
    # Both do not fit at 6 by 4.5 side by side; one above the other they are too high.
    assert [extent_of(drawing)[2] for drawing, _ in sheet.places] == [4.0, 4.0]
    (sheet,) = compose([Purpose("x", (growing(3.0, 4.0),) * 2)], SheetRoom(AREA, GAP))
    assert [extent_of(drawing)[2] for drawing, _ in sheet.places] == [4.5, 4.5]
    assert sheet.fill == pytest.approx(2 * 4.5 * 6.0 / 80)


def test_one_view_is_drawn_larger_where_all_together_would_not_fit() -> None:
    items = growing(2.0, 5.0), growing(2.0, 3.0), growing(2.0, 7.0)
    (sheet,) = compose([Purpose("x", items)], SheetRoom(AREA, GAP))
    assert sheet.fill > sum(item.ink_area for item in items) / 80
    assert extent_of(sheet.places[2][0])[3] == pytest.approx(7.0)


def test_a_sheet_that_is_bare_by_a_hair_is_bare() -> None:
    items = growing(7.9, 5.0, 0), growing(1.0, 0.49)
    (sheet,) = compose([Purpose("x", items)], SheetRoom(AREA, GAP))
    assert 0 < LEAST_FILL - sum(item.ink_area for item in items) / 80 < 0.0005
    assert sheet.fill > LEAST_FILL


def test_a_sheet_that_is_full_enough_stays_as_it_is() -> None:
    item = growing(8.0, 5.0)
    (sheet,) = compose([Purpose("x", (item,))], SheetRoom(AREA, GAP))
    assert sheet.fill == pytest.approx(LEAST_FILL)
    assert sheet.places[0][0] is item.parts[0][0]


def test_a_hole_is_a_blank_inside_of_what_stands_there() -> None:
    """An L of three boxes: the blank in its corner is 4 of 10 by 3 of 8."""
    shape = [(1.0, 1.0, 5.0, 8.0), (5.0, 1.0, 9.0, 5.0)]
    assert largest_hole(AREA, shape) == pytest.approx(3.0 / 8.0)
    # A third closes half of it; what is all round is margin.
    assert largest_hole(AREA, [*shape, (5.0, 5.0, 7.0, 8.0)]) == pytest.approx(0.2)
    assert largest_hole(AREA, shape[:1]) == 0.0


def test_views_are_drawn_larger_where_a_sheet_has_a_hole() -> None:
    """A low view beside a high one: full enough, but with a blank above the low one."""
    low, high = growing(3.2, 4.2), alone(boxed(4.6, 7.6))
    assert low.ink_area + high.ink_area > LEAST_FILL * 80
    (before,) = compose([Purpose("x", (growing(3.2, 4.2, 0), high))], ROOM)
    assert before.hole > MOST_HOLE
    (sheet,) = compose([Purpose("x", (low, high))], ROOM)
    assert extent_of(sheet.places[0][0])[2:] == pytest.approx((4.8, 6.3))
    assert sheet.hole == pytest.approx((7.6 - 6.3) / 8)


def test_a_blank_beside_words_is_no_hole() -> None:
    row, words = items_of([(9.0, 4.0, False), (3.0, 3.0, True)])
    (sheet,) = compose([Purpose("x", (row, words))], ROOM)
    assert [box[0] > AREA[0] + 2.5 for _, box in sheet.places] == [False, True]
    assert sheet.hole == 0.0


def test_no_sheet_more_is_taken_to_draw_larger() -> None:
    items = (growing(4.0, 3.0),) * 2
    assert fewest([Purpose("x", items)], SheetRoom(AREA, GAP)) == 1
    assert len(compose([Purpose("x", items)], SheetRoom(AREA, GAP))) == 1


def test_the_last_sheet_of_a_purpose_counts_less() -> None:
    """A long purpose and a short one: the bare sheet is the last of the long one."""
    tall = items_of([(3.0, 7.5, False)] * 4)
    sheets = compose([Purpose("x", tall)], SheetRoom(AREA, GAP))
    assert [sheet.is_last for sheet in sheets] == [False, True]
    off = round(1000 * (LEAST_FILL - 0.2)) ** 2
    bare = replace(sheets[0], fill=0.2)
    assert cost_of([bare]) == (1, off)
    assert cost_of([replace(bare, is_last=True)]) == (1, off // LAST_COUNTS)


def test_narrow_tables_stand_beside_each_other_below_a_wide_one() -> None:
    sizes = [(8.0, 5.0, True), (2.5, 2.0, True), (3.0, 1.0, True)]
    places = arrange(items_of(sizes), AREA, GAP)
    assert places is not None
    (_, wide), (_, one), (_, other) = places
    assert wide[1] - one[3] == pytest.approx(GAP)
    assert one[3] == pytest.approx(other[3])
    assert other[0] - one[2] == pytest.approx(GAP)


def test_tables_alone_stand_in_columns_as_low_as_they_can_be() -> None:
    """Six of 2.5 by 2 could be two columns; in three they are as even and lower."""
    places = arrange(items_of([(2.5, 2.0, True)] * 6), AREA, GAP)
    assert places is not None
    assert len({round(box[0], 6) for _, box in places}) == 3
    assert min(box[1] for _, box in places) == pytest.approx(9.0 - 2 * 2.0 - GAP)


def test_a_table_alone_stands_under_the_last_of_the_row_above_it() -> None:
    """Where that is no higher than a row of its own; what is wider goes below all."""
    sizes = [(3.0, 2.0, True), (2.5, 1.0, True), (2.0, 1.5, True), (8.0, 2.0, True)]
    places = arrange(items_of(sizes), AREA, GAP)
    assert places is not None
    (_, _), (_, one), (_, tucked), (_, wide) = places
    assert tucked[0] == pytest.approx(one[2] + GAP)
    for high in (1.0, 2.0):
        sizes = [(4.0, 2.0, True), (3.0, high, True), (2.0, 1.5, True)]
        places = arrange(items_of([*sizes, (8.0, 2.0, True)]), AREA, GAP)
        assert places is not None
        (_, _), (_, one), (_, tucked), (_, wide) = places
        assert tucked[0] == pytest.approx(one[0])
        assert one[1] - tucked[3] == pytest.approx(GAP)
        assert tucked[1] - wide[3] == pytest.approx(GAP)


def test_words_beside_views_begin_level_with_them_where_they_are_no_higher() -> None:
    for high in (2.0, 5.0, 7.5):
        view, table = items_of([(5.0, 4.0, False), (2.0, high, True)])
        places = arrange([view, table], AREA, GAP)
        assert places is not None
        (_, drawn), (_, tabled) = places
        assert tabled[3] == pytest.approx(max(drawn[3], AREA[1] + high))


def test_two_parts_that_stand_one_under_the_other_are_one_again() -> None:
    first, last = items_of([(4.0, 3.0, True), (4.0, 2.0, True)])
    whole = alone(boxed(4.0, 4.5), is_words=True)
    last = replace(last, joined=lambda above: whole if above is first else None)
    placed = arrange((first, last), (0.0, 0.0, 6.0, 6.0), GAP)
    assert placed is not None
    assert [drawing for drawing, _ in placed] == [whole.parts[0][0]]
    # In two columns they stay in two; so do parts that something stands between.
    apart = arrange((first, last), (0.0, 0.0, 9.0, 4.0), GAP)
    assert apart is not None
    assert len(apart) == 2
    other = alone(boxed(4.0, 1.0), is_words=True)
    between = arrange((first, other, last), (0.0, 0.0, 6.0, 7.0), GAP)
    assert between is not None
    assert len(between) == 3


def test_a_sheet_says_whether_words_stand_between_views_and_their_words() -> None:
    """Words stand below all views: findings would stand between pieces and lists."""
    pieces, cut, found = items_of(
        [(4.0, 2.0, False), (9.0, 1.0, True), (9.0, 1.5, True)]
    )
    both = Purpose("cut-pieces", (pieces, cut), 5)
    review = Purpose("review", (found,), 6)
    for purposes, is_in_turn in (((both, review), True), ((review, both), False)):
        (sheet,) = compose(purposes, SheetRoom(AREA, GAP))
        assert sheet.is_in_turn == is_in_turn
    (sheet,) = compose((review, Purpose("details", (pieces,), 5)), SheetRoom(AREA, GAP))
    assert sheet.is_in_turn
