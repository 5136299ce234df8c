"""A riser's nosing is set out: how many rowlocks, how wide, on which joints."""

from __future__ import annotations

from fractions import Fraction
from re import findall

import pytest

from shopdraw.drawing.ink import Words
from shopdraw.drawing.lettering import box_of
from shopdraw.lengths import parse_length
from shopdraw.views.hearth.riser import draw_riser
from tests.demos import set_of, solution_of
from tests.views.lettering import collisions
from tests.views.strings import unclosed


@pytest.mark.parametrize("name", ["left", "front", "right"])
@pytest.mark.parametrize("scale", [4.0, 8.0])
def test_the_nosing_is_said_and_adds_up_to_the_face(name: str, scale: float) -> None:
    solution = solution_of("raised-hearth")
    hearth = solution.hearth
    assert hearth is not None
    assert hearth.riser is not None
    riser = hearth.riser
    drawing = draw_riser(solution, hearth, riser, name, scale)
    lettered = [ink for ink in drawing.ink if isinstance(ink, Words)]
    (first,) = (n for n, x in enumerate(lettered) if " ROWLOCKS AT " in x.text)
    lines = lettered[first : first + 1 + lettered[first].text.endswith(";")]
    said = " ".join(line.text for line in lines)
    face, last = riser.surround.face(name), riser.coursing.courses[-1].number
    standing = [
        outline
        for piece in riser.layout.in_courses
        for outline in piece.outlines
        if outline.face == face.name and piece.course == last
    ]
    counts = [int(x) for x in findall(r"(\d+) ROWLOCK", said)]
    assert sum(counts) == len(standing)
    sums = [parse_length(f"{x} in", "in") for x in findall(r' = ([^";]+)"', said)]
    assert sum(sums, Fraction(0)) == face.width
    assert collisions(drawing) == []
    assert unclosed(drawing, "in") == []
    if scale == 4.0:
        # At the scale of the sheet it stands below its own string.
        for line in lines:
            left, _, right, _ = box_of(line, scale)
            assert left >= 0
            assert right <= face.width


def test_the_front_of_a_riser_is_drawn_at_the_scale_of_its_ends() -> None:
    """Its joints are read beside theirs, at the corners that they share."""
    scales = {
        placed.drawing.name: placed.drawing.scale
        for sheet in set_of("raised-hearth").sheets
        for placed in sheet.drawings
        if placed.drawing.title.startswith("RISER, ")
    }
    assert set(scales) == {"riser-front", "riser-left", "riser-right"}
    assert len(set(scales.values())) == 1
