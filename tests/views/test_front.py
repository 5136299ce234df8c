"""The elevation alone, while a job is typed: as large as its paper holds it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Drawing, Words
from shopdraw.solution import Solution
from shopdraw.views import front
from shopdraw.views.front import draw_front
from tests.demos import solution_of
from tests.views.jobs import with_job


@pytest.mark.parametrize(
    ("name", "paper", "scale"),
    [
        # 57 1/4 in of brick on 24 x 18 in, on 17 x 11 in: 1:4, 1:8.
        ("library-hearth", "ARCH C", 4),
        ("library-hearth", "ANSI B", 8),
        # On 8 1/2 x 11 in no scale leaves room for its lettering: the least of all.
        ("library-hearth", "ANSI A", 16),
        # 1555 mm on 420 x 297 mm: 1:5 is too large.
        ("metric-slips", "A3", 10),
    ],
)
def test_it_is_drawn_as_large_as_the_paper_holds(
    name: str, paper: str, scale: float
) -> None:
    sheet = draw_front(with_job(solution_of(name), sheet={"size": paper}))
    (placed,) = sheet.drawings
    assert placed.drawing.scale == scale
    # The sheet has the drawing's own size.
    left, bottom, right, top = extent_of(placed.drawing)
    assert sheet.width == pytest.approx((right - left) / scale)
    assert sheet.height == pytest.approx((top - bottom) / scale)


def test_where_lettering_goes_past_the_paper_it_is_drawn_smaller(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    letter = front.letter_elevation

    def at_length(solution: Solution, bare: Drawing) -> Drawing:
        drawing = letter(solution, bare)
        far = extent_of(drawing)[2] + (60.0 if bare.scale == 4 else 0.0)
        return replace(drawing, ink=(*drawing.ink, Words("0", (far, 1.0), "X", 0.1)))

    monkeypatch.setattr(front, "letter_elevation", at_length)
    (placed,) = draw_front(solution_of("library-hearth")).drawings
    assert placed.drawing.scale == 8
