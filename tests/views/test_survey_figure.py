"""The front of the survey form: levels named on their lines, ten boxes numbered."""

from __future__ import annotations

import pytest

from shopdraw.drawing.ink import Stroke, Words
from shopdraw.lengths import Lengths
from tests.views.test_survey_form import INCH, both, form, ink_of


@both
@pytest.mark.parametrize("name", ["LEVEL LINE", "DATUM"])
def test_a_level_is_named_at_half_the_height_of_its_letters(
    lengths: Lengths, name: str
) -> None:
    ink, inch = ink_of(form(lengths)).ink, INCH[lengths]
    (x, y), high = next(
        (each.at, each.height_on_paper)
        for each in ink
        if isinstance(each, Words) and each.text == name
    )
    ends = [
        max(each.points)
        for each in ink
        if isinstance(each, Stroke) and len({point[1] for point in each.points}) == 1
    ]
    beside = [end for end in ends if 0 < x - end[0] < 0.3 * inch]
    assert any(abs(y + high / 2 - end[1]) < 0.01 * inch for end in beside)


@both
def test_the_boxes_for_ten_brick_are_numbered_in_one_row(lengths: Lengths) -> None:
    words = [x for x in ink_of(form(lengths)).ink if isinstance(x, Words)]
    (brick,) = [x.at for x in words if x.text == "BRICK"]
    row = {x.text: x.at[0] for x in words if x.at[1] == brick[1] and x.text.isdigit()}
    assert list(row) == [str(number) for number in range(1, 11)]
    assert list(row.values()) == sorted(row.values())
