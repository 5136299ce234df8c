"""What is measured from an arch: along its curve, against circles and by hand."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from math import cos, hypot, pi, sin

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from shopdraw.job.reading import parse_job
from shopdraw.masonry.wall.boxes import Box
from shopdraw.pipeline import solve
from shopdraw.review.curved import height_over, holds_box, nearest_to
from shopdraw.review.opening import Rectangle

JOB = """
[job]
name = "An arch"
[face]
width = "66 in"
height = "52 in"
measured_to = "finish"
[opening]
width = "{span}"
height = "{spring}"
head = "semicircular arch"
[brick]
size = "modular"
[hearth]
front = "{front}"
left = "9 in"
right = "9 in"
[appliance]
kind = "masonry"
[rules]
set = "irc-2015"
{more}
"""
# A half circle of radius 15 on legs of 10, chords of a degree; from the feet on.
HALF = [
    (Fraction(15 * cos(pi * k / 180)), Fraction(10 + 15 * sin(pi * k / 180)))
    for k in range(181)
]
RING = [(Fraction(-15), Fraction(0)), (Fraction(15), Fraction(0)), *HALF]


@cache
def solved(span="31 1/4 in", spring="13 1/2 in", front="18 in", more=""):
    text = JOB.format(span=span, spring=spring, front=front, more=more)
    return solve(parse_job(text, "arch.toml"))


def shelf(left, width, bottom, **more):
    keys = {
        "name": "shelf", "material": "oak", "left": left, "width": width,
        "bottom": bottom, "height": "2 in", "projection": "1 in", **more,
    }  # fmt: skip
    lines = "\n".join(f'{key} = "{value}"' for key, value in keys.items())
    return f"[[trim]]\n{lines}\n"


# ------------------------------------------------------------------------ the distances


@pytest.mark.parametrize(
    ("box", "distance"),
    [
        ((-30.0, 31.0, 30.0, 33.0), 6.0),  # over the crown, at 25
        ((20.0, 0.0, 22.0, 5.0), 5.0),  # beside a leg
        # Off the haunch: from (0, 10) to (15, 25) it is 15 root 2, less 15.
        ((15.0, 25.0, 40.0, 27.0), 15 * 2**0.5 - 15),
        ((-40.0, 25.0, -15.0, 27.0), 15 * 2**0.5 - 15),
        ((-1.0, 12.0, 1.0, 13.0), 0.0),  # in the opening
        ((10.0, 20.0, 30.0, 22.0), 0.0),  # across the curve
    ],
)
def test_the_shortest_way_from_a_half_circle(box: Box, distance: float) -> None:
    found = nearest_to(RING, box)
    assert found.distance == pytest.approx(distance, abs=2e-3)
    way = [a - b for a, b in zip(found.on_ring, found.on_box, strict=True)]
    assert hypot(*way) == pytest.approx(found.distance, abs=1e-9)


spots = st.floats(-40, 40)
sides = st.floats(0.1, 20)


@given(spots, spots, sides, sides)
def test_distances_are_shapely_s(x: float, y: float, wide: float, high: float) -> None:
    box = (x, y, x + wide, y + high)
    opening = shapely.Polygon([(float(a), float(b)) for a, b in RING])
    other = shapely.box(*box)
    assert nearest_to(RING, box).distance == pytest.approx(
        opening.distance(other), abs=1e-7
    )
    inside = opening.buffer(-1e-6).contains(other)
    if inside or not opening.buffer(1e-6).contains(other):
        assert holds_box(RING, box) is inside


def test_heights_are_straight_up_from_the_curve() -> None:
    # At 9 the circle stands at 10 + 12 = 22: a box from 9 on is over that point.
    assert height_over(HALF, (9.0, 24.0, 30.0, 26.0)) == pytest.approx(2.0, abs=2e-3)
    assert height_over(HALF, (9.0, 21.0, 30.0, 26.0)) is None
    assert height_over(HALF, (16.0, 30.0, 30.0, 32.0)) is None


# -------------------------------------------------------------------- as it is reviewed


@pytest.mark.parametrize(("span", "limit"), [("31 1/4 in", 16), ("33 in", 20)])
def test_the_hearth_goes_by_the_area_under_the_curve(span: str, limit: int) -> None:
    """Both are over 6 sq ft by their boxes; the narrower is under it by its curve.

    31 1/4 x 13 1/2 + pi x 15 5/8^2 / 2 = 421.9 + 383.5 = 805.4 sq in, under 864; its
    box is 31 1/4 x 29 1/8 = 910. 33 x 13 1/2 + pi x 16 1/2^2 / 2 = 873.
    """
    solution = solved(span=span, front="20 in")
    (front,) = [x for x in solution.findings if x.rule.key == "hearth-front"]
    assert front.limit == limit
    finished = solution.openings.finished
    box = (finished.right - finished.left) * (finished.top - finished.bottom)
    assert box > 864
    wide = float(solution.job.opening.width)
    by_hand = wide * 13.5 + pi * wide * wide / 8
    assert float(finished.area) == pytest.approx(by_hand, rel=2e-4)


def test_woodwork_is_measured_from_the_curve_not_from_the_box() -> None:
    """A shelf beside the haunch: its corner is 15 5/8 up and 22 from the centre line.

    From the centre of the arch that is hypot(22, 15 5/8) = 26.98, so 11.36 from the
    curve; from the corner of the box it would be 6 3/8.
    """
    solution = solved(more=shelf("0 in", "11 in", "29 1/8 in"))
    (found,) = [x for x in solution.findings if x.rule.key == "trim-distance"]
    wanted = hypot(22, 15.625) - 15.625
    assert found.measured is not None
    assert float(found.measured) == pytest.approx(wanted, abs=2e-3)
    over = solved(more=shelf("0 in", "66 in", "35 1/8 in"))
    (found,) = [x for x in over.findings if x.rule.key == "trim-distance"]
    assert (found.measured, found.status) == (6, "passed")


def test_a_box_at_the_corner_of_an_arch_is_not_in_the_opening() -> None:
    opening = solved().openings.finished
    left, top = opening.left, opening.top
    corner = Rectangle(left, left + 2, top - 2, top)
    assert not holds_box(opening.ring, corner.box)
    middle = (opening.left + opening.right) / 2
    low = Rectangle(middle - 1, middle + 1, Fraction(2), Fraction(4))
    assert holds_box(opening.ring, low.box)
