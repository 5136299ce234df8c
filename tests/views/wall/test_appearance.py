"""The picture: every brick in a tone near the one asked for, and no figures."""

from __future__ import annotations

import pytest

from shopdraw.drawing.ink import Measure, Paint, Words
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.masonry.hearth.cuts import riser_from_above
from shopdraw.output.dxf import write_dxf
from shopdraw.solution import Solution
from shopdraw.views.wall.appearance import FIREBOX, HEARTH, STONE, compose_appearance
from tests.demos import solution_of
from tests.views.jobs import with_job


def painted(picture: Sheet) -> list[Paint]:
    ink = picture.drawings[0].drawing.ink
    return [each for each in ink if isinstance(each, Paint)]


def paints(drawing_set: DrawingSet) -> list[Paint]:
    return painted(drawing_set.picture)


def parts(colour: str) -> tuple[int, int, int]:
    red, green, blue = bytes.fromhex(colour[1:])
    return red, green, blue


def test_every_brick_of_the_front_is_painted_over_joints_firebox_and_hearth(
    solution: Solution, drawing_set: DrawingSet
) -> None:
    seen = fronts_of(solution) + 3
    # Of what is turned aslant every brick is seen too, over joints of its own.
    aslant = aslant_of(solution)
    seen += len(aslant) + sum(
        outline.face in aslant
        for piece in solution.layout.pieces
        for outline in piece.outlines
    )
    assert len(paints(drawing_set)) == seen + of_hearth(solution)


def fronts_of(solution: Solution) -> int:
    return sum(
        outline.face == "front"
        for piece in solution.layout.pieces
        for outline in piece.outlines
    )


def aslant_of(solution: Solution) -> set[str]:
    """Return the names of the faces that the front sees aslant."""
    faces = (*solution.surround.faces, *solution.surround.reveals)
    return {face.name for face in faces if 0 < face.turn < 90}


def test_splayed_jambs_are_in_shade() -> None:
    solution = solution_of("splayed-parlour")
    front = fronts_of(solution) + 3
    every = painted(compose_appearance(solution, 9))
    lit, shaded = every[3:front], every[front + 2 :]
    mean = [
        sum(sum(parts(x.colour)) for x in some) / len(some) for some in (lit, shaded)
    ]
    # Four fifths of the light.
    assert mean[1] / mean[0] == pytest.approx(0.8, abs=0.03)
    width = float(solution.surround.front.width)
    for paint in shaded:
        assert all(0 < x < width for x, _ in paint.points)


def of_hearth(solution: Solution) -> int:
    """Count what is painted of a hearth in brick.

    Its own brick, the riser's front and what shows of its top course, and the joints of
    riser, hearth and strip; but no hearth by others.
    """
    below = solution.hearth
    if below is None:
        return 0
    count = sum(
        outline.face in ("hearth", "riser")
        for piece in below.layout.pieces
        for outline in piece.outlines
    )
    return count + len(riser_from_above(below)) + len(below.fields)


def test_tones_stay_within_what_was_asked_and_are_not_all_alike(
    solution: Solution,
    drawing_set: DrawingSet,
) -> None:
    ground = (FIREBOX, HEARTH, STONE, "#cfc7b8")
    bricks = [paint for paint in paints(drawing_set) if paint.colour not in ground]
    if aslant_of(solution):
        # What is aslant is in shade.
        bricks = bricks[: fronts_of(solution)]
    assert len({paint.colour for paint in bricks}) > len(bricks) / 2
    for paint in bricks:
        # 14 % of tone, and of that a third more or less in blue: under 20 % in all.
        pairs = zip(parts(paint.colour), parts("#9c5344"), strict=True)
        assert all(abs(got - asked) <= 0.2 * asked + 1 for got, asked in pairs)


def test_no_figure_is_on_the_picture_and_it_says_what_it_is_not(
    drawing_set: DrawingSet,
) -> None:
    picture = drawing_set.picture
    assert not any(isinstance(x, Measure) for x in picture.drawings[0].drawing.ink)
    words = " ".join(x.text for x in picture.paper_ink if isinstance(x, Words))
    assert "NOT A SHOP DRAWING" in words
    assert "take no measurements from it" in words


def test_another_seed_is_another_mix_of_the_same_brick() -> None:
    solution = solution_of("library-hearth")
    first, again = (painted(compose_appearance(solution, 9)) for _ in range(2))
    assert first == again
    seeded = with_job(solution, appearance={"seed": 2})
    other = painted(compose_appearance(seeded, 9))
    assert [x.points for x in other] == [x.points for x in first]
    assert [x.colour for x in other] != [x.colour for x in first]


def test_a_picture_is_never_written_for_the_workshop(library_set: DrawingSet) -> None:
    with pytest.raises(TypeError, match="a picture has no DXF file"):
        write_dxf(library_set.picture)
