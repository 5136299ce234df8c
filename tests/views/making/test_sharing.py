"""Details are set out in rows, on the fewest sheets, each with about as much."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from shopdraw.views.making import sharing
from shopdraw.views.making.sharing import Corners, Size

ROOM = (10.0, 8.0)
GAP = 0.5
SIZES = st.lists(st.tuples(st.floats(0.5, 9.0), st.floats(0.5, 8.0)), max_size=12)


def set_out(
    sizes: list[tuple[float, float]],
    gap: float,
    room: tuple[float, float],
    tied: frozenset[int] = frozenset(),
) -> list[Corners]:
    """Set out things that hang from their base line: each row is level at its top."""
    hung = [Size(wide, 0.0, high) for wide, high in sizes]
    return sharing.set_out(hung, gap, room, tied)


@given(st.lists(st.tuples(*[st.floats(0.5, 4.0)] * 3), max_size=12))
def test_all_of_a_row_stand_on_one_base_line_and_off_the_next_row(
    given_sizes: list[tuple[float, float, float]],
) -> None:
    sizes = [Size(*each) for each in given_sizes]
    sheets = sharing.set_out(sizes, GAP, ROOM)
    assert [n for sheet in sheets for n in sheet] == list(range(len(sizes)))
    for sheet in sheets:
        rows: dict[float, list[int]] = {}
        for n, (_, y) in sheet.items():
            rows.setdefault(round(y - sizes[n].up, 9), []).append(n)
        # A row ends where the next thing begins at the left again.
        starts = sum(x == 0.0 for x, _ in sheet.values())
        assert len(rows) == starts
        lines = [(base, rows[base]) for base in sorted(rows, reverse=True)]
        for (base, row), (under, following) in pairwise(lines):
            foot = base - max(sizes[n].down for n in row)
            top = under + max(sizes[n].up for n in following)
            assert foot - top >= GAP - 1e-6


@given(SIZES)
def test_all_are_set_out_once_in_order_on_their_sheet_and_off_each_other(
    sizes: list[tuple[float, float]],
) -> None:
    sheets = set_out(sizes, GAP, ROOM)
    assert [n for sheet in sheets for n in sheet] == list(range(len(sizes)))
    for sheet in sheets:
        for n, (x, y) in sheet.items():
            assert 0 <= x <= ROOM[0] - sizes[n][0] + 1e-9
            assert sizes[n][1] - ROOM[1] - 1e-9 <= y <= 0
        for (a, (x, y)), (b, (u, v)) in pairwise(sheet.items()):
            assert (
                u >= x + sizes[a][0] + GAP - 1e-9 or v <= y - sizes[a][1] - GAP + 1e-9
            )
            assert b == a + 1


def test_the_last_sheet_has_about_as_much_as_the_others() -> None:
    """Four rows fit a sheet; five are three and two, not four and one."""
    sheets = set_out([(9.0, 1.5)] * 5, GAP, ROOM)
    assert [len(sheet) for sheet in sheets] == [3, 2]


def test_no_sheet_more_is_taken_to_make_them_even() -> None:
    assert len(set_out([(9.0, 1.5)] * 8, GAP, ROOM)) == 2
    assert len(set_out([(9.0, 7.0)] * 3, GAP, ROOM)) == 3


def test_what_is_higher_than_a_sheet_has_one_of_its_own() -> None:
    assert set_out([(2.0, 9.0), (2.0, 1.0)], GAP, ROOM) == [
        {0: (0.0, 0.0), 1: (2.5, 0.0)}
    ]
    assert len(set_out([(2.0, 9.0), (9.0, 1.0)], GAP, ROOM)) == 2


def rows_of(corners: dict[int, tuple[float, float]]) -> list[int]:
    """Return how many stand in each row, from the top."""
    levels = [y for _, y in corners.values()]
    return [levels.count(y) for y in dict.fromkeys(levels)]


def test_none_has_a_row_to_itself_below_full_ones() -> None:
    """Five go side by side; eleven are four, four and three, not 5, 5 and 1."""
    (sheet,) = set_out([(1.6, 2.0)] * 11, GAP, ROOM)
    assert rows_of(sheet) == [4, 4, 3]
    assert len({x for x, _ in sheet.values()}) == 4


def test_columns_take_no_more_room_than_rows_do() -> None:
    too_wide = [(6.0, 1.0), (3.0, 1.0), (3.0, 1.0), (6.0, 1.0)]
    (sheet,) = set_out(too_wide, GAP, ROOM)
    assert sorted({x for x, _ in sheet.values()}) == [0.0, 3.5, 6.5]
    too_high = [(2.0, 3.0 if n in {0, 3} else 1.0) for n in range(6)]
    (sheet,) = set_out(too_high, GAP, ROOM)
    assert rows_of(sheet) == [4, 2]


def test_what_is_tied_stands_in_the_row_of_the_one_before_it() -> None:
    """Four go side by side, but the fourth and the fifth are one mark's."""
    sizes = [(2.0, 1.0)] * 6
    for tied in (frozenset({4}), frozenset({2, 4}), frozenset({1, 5})):
        (sheet,) = set_out(sizes, GAP, ROOM, tied)
        assert all(sheet[n][1] == sheet[n - 1][1] for n in tied)
        # No row is taken more than without.
        assert len(rows_of(sheet)) == 2
    (apart,) = set_out([(6.0, 1.0)] * 2, GAP, ROOM, frozenset({1}))
    assert rows_of(apart) == [1, 1]


def test_where_columns_part_what_is_tied_rows_are_about_as_wide() -> None:
    """Two corner units, each seen twice, and a soldier: two and three, not 4 and 1."""
    sizes = [(2.3, 2.0), (2.5, 1.4), (2.3, 2.0), (2.4, 1.5), (2.2, 2.4)]
    (sheet,) = set_out(sizes, GAP, (11.5, 8.0), frozenset({1, 3}))
    assert rows_of(sheet) == [2, 3]


def test_rows_may_be_higher_rather_than_leave_one_alone_below_many() -> None:
    """A high soldier beside corner units with long words below them: it is higher."""
    sizes = [*[Size(2.3, 1.0, 0.3, 1.2)] * 4, Size(2.2, 2.4, 0.3, 0.9)]
    (sheet,) = sharing.set_out(sizes, GAP, (11.5, 8.0), frozenset({1, 3}))
    bases = {n: round(y - sizes[n].up, 6) for n, (_, y) in sheet.items()}
    assert [*bases.values()].count(bases[4]) == 3
    # Not where the sheet has no room for it.
    (low,) = sharing.set_out(sizes, GAP, (11.5, 6.7), frozenset({1, 3}))
    assert len({round(y - sizes[n].up, 6) for n, (_, y) in low.items()}) == 2
    assert low[4][0] == 0.0
