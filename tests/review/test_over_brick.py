"""Woodwork that hangs over brick: told by what lies behind it, measured another way."""

from __future__ import annotations

import random
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from shapely.geometry import Polygon, box

from shopdraw.job.model_around import TrimTable
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.review.over_brick import review_over_brick
from shopdraw.solution import Solution
from tests.findings import by_key

# The face is 60 x 40, so that its top is at 40; the opening is 24 high, 13 to 47 along.
JOB = """
[job]
name = "Snug"
lengths = "in"
[face]
width = "60 in"
height = "40 in"
[opening]
width = "34 in"
height = "24 in"
[brick]
size = "modular"
[[trim]]
name = "shelf"
material = "oak"
left = "{left}"
bottom = "{bottom}"
width = "{width}"
height = "2 in"
projection = "4 in"
{more}
"""
KEY = ("trim-over-brick", 1)


@cache
def solved(
    bottom: str, left: str = "-2 in", width: str = "64 in", more: str = ""
) -> Solution:
    text = JOB.format(bottom=bottom, left=left, width=width, more=more)
    return solve(parse_job(text, Path("snug.toml")))


def behind(solution: Solution) -> list[str]:
    """Return the pieces behind the woodwork, by another library's geometry."""
    return met_by(solution.job.trim[0], solution)


def met_by(trim: TrimTable, solution: Solution) -> list[str]:
    """Return the pieces of a solution that lie behind one piece of woodwork."""
    front = solution.surround.front
    left, bottom = float(front.left + trim.left), float(trim.bottom)
    wood = box(left, bottom, left + float(trim.width), bottom + float(trim.height))
    return [
        piece.id
        for piece in solution.pieces
        for outline in piece.outlines
        if outline.face == "front"
        and Polygon([(float(x), float(y)) for x, y in outline.points])
        .intersection(wood)
        .area
        > 1e-9
    ]


def test_a_shelf_that_stands_on_the_brick_hangs_over_none() -> None:
    solution = solved("40 in")
    assert KEY not in by_key(solution.findings)
    assert behind(solution) == []


def test_a_shelf_typed_a_sixteenth_too_low_is_told_with_the_brick_behind_it() -> None:
    solution = solved("39 15/16 in")
    found = by_key(solution.findings)[KEY]
    assert found.status == "failed"
    assert sorted(found.pieces) == sorted(behind(solution))
    assert f"{len(found.pieces)} pieces" in found.says
    assert "move the shelf up to 40 in, above the brick" in found.mends
    assert not solution.is_clear


def test_moved_as_it_is_told_nothing_is_amiss_any_more() -> None:
    found = by_key(solved("39 15/16 in").findings)[KEY]
    assert found.mends[0].startswith("move the shelf up to 40 in")
    assert KEY not in by_key(solved("40 in").findings)


def test_woodwork_said_to_cover_brick_still_has_to_be_carried_by_the_wall() -> None:
    solution = solved("30 in", more="covers_brick = true")
    found = by_key(solution.findings)[KEY]
    assert found.status == "not checked"
    assert "carried by the wall behind" in found.says
    assert found.mends == ()


def test_woodwork_in_the_opening_or_past_the_face_hangs_over_no_brick() -> None:
    for left, width in (("14 in", "30 in"), ("61 in", "2 in"), ("-3 in", "3 in")):
        solution = solved("10 in", left=left, width=width)
        assert behind(solution) == []
        assert KEY not in by_key(solution.findings)


@pytest.mark.parametrize("bottom", ["20 in", "24 1/2 in", "37 1/4 in"])
def test_the_pieces_named_are_those_that_another_library_finds(bottom: str) -> None:
    solution = solved(bottom)
    found = by_key(solution.findings)[KEY]
    assert behind(solution)
    assert sorted(found.pieces) == sorted(behind(solution))


def test_the_brick_of_an_arch_is_met_at_its_curve_not_at_its_box() -> None:
    """Beside the crown a box of a voussoir reaches further than its brick does."""
    text = JOB.replace(
        'height = "24 in"', 'height = "17 in"\nhead = "semicircular arch"'
    ).replace('height = "40 in"', 'height = "50 in"')
    for bottom in ("20 in", "25 in", "29 in"):
        trim = {"left": "20 in", "bottom": bottom, "width": "20 in", "more": ""}
        solution = solve(parse_job(text.format(**trim), Path("snug.toml")))
        found = by_key(solution.findings).get(KEY)
        named = () if found is None else found.pieces
        assert sorted(named) == sorted(behind(solution)), bottom


# Course 15 ends at the top, at 40 in; course 14 ends a joint below it.
@pytest.mark.parametrize(
    ("bottom", "left", "said"),
    [
        (
            "39 in",
            "-2 in",
            "it hangs over 8 pieces of brick, from F-15-01 to F-15-08, and nothing "
            "says that it covers them",
        ),
        (
            "39 in",
            "20 in",
            "it hangs over 1 piece of brick, F-15-03, and nothing says that it covers "
            "it",
        ),
    ],
)
def test_the_brick_it_hangs_over_is_counted_and_named_in_words(
    bottom: str, left: str, said: str
) -> None:
    width = "2 in" if left == "20 in" else "64 in"
    solution = solved(bottom, left=left, width=width)
    found = by_key(solution.findings)[KEY]
    assert found.says == said
    assert list(found.pieces) == behind(solution)


def test_the_brick_it_is_said_to_cover_is_counted_in_words() -> None:
    for left, width, count in (("20 in", "2 in", "1 piece"), ("-2 in", "64 in", "8 p")):
        found = by_key(
            solved("39 in", left, width, more="covers_brick = true").findings
        )[KEY]
        assert found.says.startswith(f"it covers {count}")
        assert found.pieces == ()


def test_it_is_moved_clear_of_the_joint_over_the_brick_as_well() -> None:
    """Over the top at 40 in is a gap of 1/4 in; over the brick of a leg alone, too."""
    gap = '[edges]\ntop = { kind = "gap", width = "1/4 in" }'
    for left, width in (("20 in", "2 in"), ("2 in", "3 in")):
        found = by_key(solved("30 in", left, width, more=gap).findings)[KEY]
        assert found.mends[0] == "move the shelf up to 40 1/4 in, above the brick"


def test_a_top_that_no_mark_shows_is_told_a_little_higher_never_lower() -> None:
    """A gap of 1/3 in brings it to 40 1/3 in, told to the next 64th up."""
    gap = '[edges]\ntop = { kind = "gap", width = "1/3 in" }'
    found = by_key(solved("39 in", more=gap).findings)[KEY]
    assert found.mends[0] == "move the shelf up to 40 11/32 in, above the brick"


def test_small_woodwork_meets_the_voussoirs_that_another_library_finds() -> None:
    """Blocks of 1/4 to 2 in on a grid about an arch, on a face that has a return."""
    text = JOB.replace(
        'height = "24 in"', 'height = "17 in"\nhead = "semicircular arch"'
    ).replace('height = "40 in"', 'height = "50 in"\nleft_return = "6 in"')
    asked = {"left": "20 in", "bottom": "20 in", "width": "20 in", "more": ""}
    solution = solve(parse_job(text.format(**asked), Path("snug.toml")))
    straight = {x.id for x in solution.pieces if x.outlines[0].is_rectangle}
    pick, some = random.Random(7), 0
    for _ in range(300):
        size = {key: Fraction(pick.randint(1, 8), 4) for key in ("width", "height")}
        left, bottom = Fraction(pick.randint(30, 200), 4), pick.randint(30, 170)
        place = {"left": left, "bottom": Fraction(bottom, 4)}
        trim = solution.job.trim[0].model_copy(update={**size, **place})
        job = solution.job.model_copy(update={"trim": (trim,)})
        found = [*review_over_brick(job, solution.surround, solution.layout)]
        named = sorted(found[0].pieces) if found else []
        assert named == sorted(met_by(trim, solution)), trim
        some += not set(named) <= straight
    assert some > 40
