"""Views that share verticals stand on them, in whatever rows a sheet has.

Where that can be is found here by trying: each row is set out with the origin of what
it shares at every sixteenth across the room.
"""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdraw.drawing.arranging import Item, alone, arrange, on_verticals
from shopdraw.drawing.ink import Drawing, Stroke
from shopdraw.drawing.lettering import Box, overlap
from shopdraw.drawing.verticals import across

AREA: Box = (1.0, 1.0, 11.0, 9.0)
GAP = 0.25


def boxed(left: float, right: float, high: float = 2.0, scale: float = 1.0) -> Drawing:
    """Return a drawing of so much ink on paper, from its origin."""
    a, b, top = (scale * x for x in (left, right, high))
    ring = ((a, 0.0), (b, 0.0), (b, top), (a, top))
    return Drawing("box", "BOX", scale, (Stroke("A-ELEV-OTLN", ring, closed=True),))


def origins(*items: Item) -> list[float]:
    """Arrange items whose origins lie in their drawings; say where these stand."""
    places = arrange(items, AREA, GAP)
    assert places is not None
    lefts = [item.box[0] for item in items]
    return [window[0] - left for (_, window), left in zip(places, lefts, strict=True)]


def test_rows_on_shared_verticals_have_one_and_are_centred_together() -> None:
    front = on_verticals("front", boxed(-2.0, 6.0), 0.0)
    plan = on_verticals("front", boxed(-0.5, 5.0), 0.0)
    hearth = on_verticals("front", boxed(-1.0, 7.0), 0.0)
    one, other, third = origins(front, plan, hearth)
    # From -2 to 7, in a room from 1 to 11.
    assert one == pytest.approx(3.5)
    assert (other, third) == pytest.approx((one, one))


def test_an_origin_that_lies_along_from_the_verticals_stands_as_far_along() -> None:
    plan = on_verticals("front", boxed(-0.5, 5.0, scale=8.0), 0.0)
    hearth = on_verticals("front", boxed(-0.5, 6.0, scale=8.0), -4.0)
    places = arrange((plan, hearth), AREA, GAP)
    assert places is not None
    (_, over), (_, under) = places
    assert under[0] - over[0] == pytest.approx(-4.0 / 8.0)


@pytest.mark.parametrize(("name", "scale"), [("other", 1.0), ("", 1.0), ("front", 2.0)])
def test_another_name_or_scale_is_not_on_the_same_verticals(
    name: str, scale: float
) -> None:
    front = on_verticals("front", boxed(-2.0, 6.0), 0.0)
    other = on_verticals(name, boxed(-0.5, 5.0, scale=scale), 0.0)
    assert origins(front, other) == pytest.approx([4.0, 3.75])


def test_what_stands_beside_shares_out_the_room_left() -> None:
    front = on_verticals("front", boxed(-1.0, 7.0, 3.0), 0.0)
    plan = on_verticals("front", boxed(0.0, 5.0, 3.0), 0.0)
    section = alone(boxed(0.0, 2.0, 3.0))
    one, other, third = origins(front, plan, section)
    assert one == pytest.approx(other)
    # The plan ends 5 from its origin; the section is in the middle of what is left.
    assert third - (other + 5.0) == pytest.approx(11.0 - (third + 2.0))


def test_where_a_row_has_no_room_for_it_each_row_is_spread_evenly() -> None:
    front = on_verticals("front", boxed(-8.0, 1.0, 3.0), 0.0)
    plan = on_verticals("front", boxed(0.0, 5.0, 3.0), 0.0)
    assert origins(front, plan) == pytest.approx([9.5, 3.5])


def test_low_views_stacked_beside_a_high_one_share_them_too() -> None:
    high = alone(boxed(0.0, 3.0, 7.0))
    plan = on_verticals("front", boxed(-0.5, 4.0, 3.0), 0.0)
    other = on_verticals("front", boxed(-1.5, 4.0, 3.5), 0.0)
    _, one, two = origins(high, plan, other)
    assert one == pytest.approx(two)
    # They are 5.5 wide together, with three spaces left.
    assert one == pytest.approx(1.0 + 2 * 1.5 / 3 + 3.0 + 1.5)


ROWS = st.lists(
    st.lists(
        st.tuples(st.integers(1, 64), st.integers(1, 64), st.booleans()),
        min_size=1,
        max_size=3,
    ),
    min_size=1,
    max_size=4,
)


@settings(deadline=None)
@given(ROWS)
def test_nothing_overlaps_and_one_line_is_found_wherever_there_is_one(
    wanted: list[list[tuple[int, int, bool]]],
) -> None:
    """A row shares its first view that is on the verticals; all are in sixteenths."""
    left, right, gap = 0.0, 160.0, 4.0
    boxes: list[Box] = []
    shared: list[str | None] = []
    rows, firsts = [], []
    for number, row in enumerate(wanted):
        stacks: list[tuple[int]] = []
        for before, after, is_on in row:
            box = (-float(before), 10.0 * number, float(after), 10.0 * number + 5.0)
            wides = [one + other for one, other, _ in row[: len(stacks) + 1]]
            if sum(wides) + gap * len(stacks) > right:
                break
            stacks.append((len(boxes),))
            boxes.append(box)
            shared.append("front" if is_on else None)
        rows.append(tuple(stacks))
        on = [n for (n,) in stacks if shared[n]]
        firsts += on[:1]
    found = across(rows, boxes, shared, (left, right), gap)
    placed = [
        (box[0] + found[n], box[1], box[2] + found[n], box[3])
        for n, box in enumerate(boxes)
    ]
    for n, one in enumerate(placed):
        assert left - 1e-6 <= one[0] < one[2] <= right + 1e-6
        assert not any(overlap(one, other, 1e-6) for other in placed[:n])
    lines = [
        all(
            _reaches(row, boxes, n, x, gap, right)
            for row, n in product(rows, firsts)
            if (n,) in row
        )
        for x in range(161)
    ]
    if any(lines):
        assert len({round(found[n], 6) for n in firsts}) <= 1


def _reaches(
    row: tuple[tuple[int], ...],
    boxes: list[Box],
    n: int,
    x: int,
    gap: float,
    right: float,
) -> bool:
    """Whether a row goes into the room, a gap apart, with one origin at x."""
    place = row.index((n,))
    at = x + boxes[n][0]
    for (each,) in reversed(row[:place]):
        at -= gap + boxes[each][2] - boxes[each][0]
    end = x + boxes[n][2]
    for (each,) in row[place + 1 :]:
        end += gap + boxes[each][2] - boxes[each][0]
    return at >= 0 and end <= right
