"""The bond: hand cases, published widths, an exhaustive search, what always holds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, product

import pytest

from shopdraw.errors import NotProved
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.pieces import list_cuts
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout, Outline
from shopdraw.masonry.wall.surround import trace_surround

F = Fraction
StackJob = Callable[..., Job]
CORNER = {"long_leg": "7 5/8 in", "short_leg": "3 5/8 in"}


def lay(job: Job) -> tuple[Surround, Coursing, Layout]:
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    return surround, coursing, lay_bond(job, surround, coursing)


def row(layout: Layout, face: str, course: int) -> list[tuple[Fraction, Fraction]]:
    """Return (left, right) of everything drawn in one course of one face."""
    return sorted(
        (outline.left, outline.right)
        for piece in layout.pieces
        if piece.course == course and piece.kind in ("stretcher", "corner unit")
        for outline in piece.outlines
        if outline.face == face
    )


def lengths_of(ends: list[tuple[Fraction, Fraction]]) -> list[Fraction]:
    return [right - left for left, right in ends]


def library(stack_job: StackJob, **changes: object) -> Job:
    """Legs of 11 5/8 from a fold to the jamb, returns of 14: all at finished sizes."""
    return stack_job(
        "in",
        **{
            "face__width": "57 1/4 in",
            "face__left_return": "14 in",
            "face__right_return": "14 in",
            "brick__corner": CORNER,
            "opening__head": "soldier",
            **changes,
        },
    )


def test_a_leg_that_fits_the_corner_units_is_cut_only_in_halves(
    stack_job: StackJob,
) -> None:
    # 11 5/8 = 7 5/8 + 3/8 + 3 5/8 in course 1, and 3 5/8 + 3/8 + 7 5/8 in course 2.
    _, _, layout = lay(library(stack_job))
    left_leg = [row(layout, "front", course)[:2] for course in (1, 2)]
    assert lengths_of(left_leg[0]) == [F(61, 8), F(29, 8)]
    assert lengths_of(left_leg[1]) == [F(29, 8), F(61, 8)]


def test_a_return_that_does_not_fit_has_no_piece_under_half(
    stack_job: StackJob,
) -> None:
    # 14 = 3 5/8 + 3/8 + 6 + 3/8 + 3 5/8 in course 1: the smallest is half a unit; a
    # whole unit there would leave 2 in. Course 2: 7 5/8 + 3/8 + 6.
    _, _, layout = lay(library(stack_job))
    assert lengths_of(row(layout, "left", 1)) == [F(29, 8), F(6), F(29, 8)]
    assert lengths_of(row(layout, "left", 2)) == [F(6), F(61, 8)]


def test_a_return_with_other_cuts_names_the_widths_that_need_none_but_halves(
    stack_job: StackJob,
) -> None:
    # 7 5/8 + 3/8 + 3 5/8 is 11 5/8, and 7 5/8 + 3/8 + 7 5/8 is 15 5/8: 14 lies between.
    _, _, layout = lay(library(stack_job))
    assert layout.ways_out == (
        'Left return and right return: 11 5/8" needs no cut but halves: 2 3/8" '
        "narrower.",
        'Left return and right return: 1\'-3 5/8" needs no cut but halves: 1 5/8" '
        "wider.",
    )
    near = library(stack_job, face__left_return="12 in", face__right_return="12 in")
    _, _, layout = lay(near)
    assert 'an edge joint 3/8" wider makes it.' in layout.ways_out[0]


def test_a_leg_of_13_keeps_its_lap_and_its_least_piece(stack_job: StackJob) -> None:
    # At joints of 3/8: 7 5/8 + 5, and 3 5/8 + 6 + 2 5/8, whose smallest is 2 5/8. With
    # two equal cuts, 3 5/8 + 4 5/16 + 4 5/16, the lap would be 5/16.
    job = library(stack_job, face__width="60 in", opening__width="34 in")
    fixed = "3/8 in"
    job = job.edited("joints.head.least", F(3, 8)).edited("joints.head.most", F(3, 8))
    assert fixed == f"{job.joints.head.least} in"
    _, _, layout = lay(job)
    assert lengths_of(row(layout, "front", 1)[:2]) == [F(61, 8), F(5)]
    assert lengths_of(row(layout, "front", 2)[:3]) == [F(29, 8), F(6), F(21, 8)]
    assert layout.least_lap == 2
    assert not layout.broken


def test_a_leg_narrower_than_the_corner_unit_trims_it(stack_job: StackJob) -> None:
    # 6 in: the long leg is trimmed to 6, the short one has 3/8 and 2 beside it.
    job = library(stack_job, face__width="46 in", opening__width="34 in")
    job = job.edited("joints.head.least", F(3, 8)).edited("joints.head.most", F(3, 8))
    _, _, layout = lay(job)
    assert lengths_of(row(layout, "front", 1)[:1]) == [F(6)]
    assert lengths_of(row(layout, "front", 2)[:2]) == [F(29, 8), F(2)]
    trimmed = [piece for piece in layout.pieces if piece.is_trimmed]
    assert {piece.legs for piece in trimmed} == {(F(6), F(29, 8))}
    assert all("front leg" in piece.cut_edges for piece in trimmed)


@pytest.mark.parametrize(
    ("bricks", "width"),
    [(1, 215), (2, 440), (3, 665), (4, 890), (5, 1115)],
)
def test_published_pier_widths_need_no_cut_but_halves(
    stack_job: StackJob, bricks: int, width: int
) -> None:
    """Brickwork dimensions table, 215 mm brick and 10 mm joints, column CO-.

    Read in the technical information sheet (document mirror, address withheld).
    """
    job = stack_job(
        "mm",
        face__width=f"{2 * width + 865} mm",
        opening__width="865 mm",
        face__height="605 mm",
        opening__head="soldier",
    )
    _, _, layout = lay(job)
    for course in (1, 2):
        leg = lengths_of([x for x in row(layout, "front", course) if x[1] <= width])
        assert sum(leg) + 10 * (len(leg) - 1) == width
        assert set(leg) <= {F(215), F(205, 2)}
        if bricks > 1:
            assert leg.count(F(205, 2)) in (0, 2)


@pytest.mark.parametrize(
    ("count", "joint"), [(14, F(36 * 4 - 14 * 9, 4 * 13)), (13, F(9, 16))]
)
def test_soldiers_share_the_joint_exactly(
    stack_job: StackJob, count: int, joint: Fraction
) -> None:
    """36 in: 14 soldiers at 9/26 = 0.34615, or 13 at 0.5625 (arithmetic)."""
    job = stack_job(
        "in",
        face__width="58 in",
        opening__width="36 in",
        opening__head="soldier",
        opening__head_ends="joint in the leg",
        opening__head_centre="joint" if count == 14 else "unit",
        joints__head={"preferred": "3/8 in", "least": "1/4 in", "most": "9/16 in"},
    )
    _, _, layout = lay(job)
    soldiers = [x for x in layout.pieces if x.kind == "soldier"]
    assert len(soldiers) == count
    assert soldiers[1].outlines[0].left - soldiers[0].outlines[0].right == joint


Filling = tuple[int, list[tuple[int, int]]]


def every_filling(width: int, leg: int, least: int) -> list[Filling]:
    """List every filling of a run in eighths; no part of the solver is used.

    Args:
        width: of the run.
        leg: of the corner unit that it begins with; 0 at a free edge.
        least: the least piece.

    Returns:
        The smallest piece, up to a half, and the joints of each.
    """
    unit, half = 61, 29
    fillings: list[Filling] = [(half, [])] if width == leg else []
    for joint, count in product((2, 3, 4), range(1, 5)):
        room = width - leg - joint * (count - (leg == 0))
        places = [c for n in range(3) for c in combinations(range(count), n)]
        for sawn in places:
            left = room - unit * (count - len(sawn))
            splits: list[tuple[int, ...]] = [(x, left - x) for x in range(least, unit)]
            if len(sawn) < 2:
                splits = [(left,)] if sawn else [()] if left == 0 else []
            for cuts in splits:
                if any(not least <= x < unit for x in cuts):
                    continue
                pieces = [unit] * count
                for place, cut in zip(sawn, cuts, strict=True):
                    pieces[place] = cut
                at, joints = leg, []
                for place, piece in enumerate(pieces):
                    if leg or place:
                        joints.append((at, at + joint))
                        at += joint
                    at += piece
                fillings.append((min((*cuts, half)), joints))
    return sorted(fillings, key=lambda x: -x[0])


def exhaustive(width: int, legs: tuple[int, int], least: int) -> int | None:
    """Return the largest smallest piece of any two courses that lap; None for none."""
    first, second = (every_filling(width, leg, least) for leg in legs)
    best = None
    for smallest_a, joints_a in first:
        if best is not None and smallest_a <= best:
            break
        for smallest_b, joints_b in second:
            smallest = min(smallest_a, smallest_b)
            if best is not None and smallest <= best:
                break
            if all(max(c - b, a - d) >= 16 for a, b in joints_a for c, d in joints_b):
                best = smallest
    return best


def smallest_on(layout: Layout, left: Fraction, right: Fraction) -> Fraction:
    """Return the smallest piece between two lines, up to a half, in eighths."""
    cuts = [
        piece.length
        for piece in layout.pieces
        if piece.kind == "stretcher"
        and left <= piece.outlines[0].left
        and piece.outlines[0].right <= right
    ]
    return 8 * min([F(29, 8), *cuts])


@pytest.mark.parametrize("eighths", [*range(84, 190, 7), 93, 104, 123])
def test_no_exhaustive_search_finds_a_better_leg_at_a_fold(
    stack_job: StackJob, eighths: int
) -> None:
    width = f"{F(2 * eighths, 8) + 34} in"
    job = library(stack_job, face__width=width, opening__width="34 in")
    _, _, layout = lay(job)
    found = exhaustive(eighths, (61, 29), 16)
    assert found is not None
    assert not layout.broken
    assert smallest_on(layout, F(14), F(14) + F(eighths, 8)) >= found
    assert not [x for x in layout.pieces if x.is_trimmed and x.place == "front"]


@pytest.mark.parametrize("eighths", [70, 76, 97, 110, 127, 133, 139, 160, 193])
def test_no_exhaustive_search_finds_a_better_leg_at_a_free_edge(
    stack_job: StackJob, eighths: int
) -> None:
    job = stack_job(
        "in",
        face__width=f"{F(2 * eighths, 8) + 34} in",
        opening__width="34 in",
        opening__head="soldier",
    )
    _, _, layout = lay(job)
    found = exhaustive(eighths, (0, 0), 16)
    assert found is not None
    assert not layout.broken
    assert smallest_on(layout, F(0), F(eighths, 8)) >= found


def test_third_bond_without_a_fold_is_laid_in_three_courses(
    stack_job: StackJob,
) -> None:
    # Two units and a joint wide, so that thirds fit: 15 5/8.
    job = stack_job(
        "in",
        face__width="65 1/4 in",
        opening__width="34 in",
        opening__head="soldier",
        bond__pattern="third",
    )
    _, _, layout = lay(job)
    rows = [row(layout, "front", course) for course in (1, 2, 3, 4)]
    assert rows[0] == rows[3]
    assert len({tuple(x) for x in rows[:3]}) == 3
    third = (F(61, 8) + F(3, 8)) / 3
    assert layout.least_lap is not None
    assert layout.least_lap >= third - F(1, 2)


def test_third_bond_at_a_fold_is_laid_in_two_and_says_so(stack_job: StackJob) -> None:
    _, _, layout = lay(library(stack_job, bond__pattern="third"))
    assert row(layout, "front", 1) == row(layout, "front", 3)
    assert any("two courses here, not three" in reason for reason in layout.reasons)


def test_stack_bond_repeats_every_course_and_asks_for_no_lap(
    stack_job: StackJob,
) -> None:
    _, _, layout = lay(library(stack_job, bond__pattern="stack"))
    assert row(layout, "front", 1) == row(layout, "front", 2)
    assert row(layout, "left", 1) == row(layout, "left", 2)
    assert layout.least_lap is None


def test_perpends_stay_plumb_over_the_opening(stack_job: StackJob) -> None:
    job = library(stack_job, opening__head="running", face__height="45 1/8 in")
    surround, coursing, layout = lay(job)
    low = {x[1] for x in row(layout, "front", 1) if x[1] < surround.opening.left}
    above = 1 + 2 * ((coursing.courses_below_head + 1) // 2)
    assert above > coursing.courses_below_head
    high = {x[1] for x in row(layout, "front", above)}
    assert low <= high


def test_corner_units_alternate_and_course_1_has_the_long_leg_in_front(
    stack_job: StackJob,
) -> None:
    _, _, layout = lay(library(stack_job))
    places = {
        piece.course: piece.place
        for piece in layout.pieces
        if piece.kind == "corner unit" and piece.outlines[0].left < 30
    }
    assert [places[course] for course in (1, 2, 3, 4)] == ["front", "left"] * 2


@pytest.mark.parametrize("at_fold", ["mitre", "butt"])
def test_a_soldier_course_round_the_face_turns_the_fold(
    stack_job: StackJob, at_fold: str
) -> None:
    job = library(
        stack_job,
        opening__head_over="face",
        brick__at_fold=at_fold,
        face__height="42 1/4 in",
    )
    surround, coursing, layout = lay(job)
    prove_layout(job, surround, coursing, layout)
    soldiers = [piece for piece in layout.pieces if piece.kind == "soldier"]
    assert {piece.place for piece in soldiers} == {"left", "front", "right"}
    if at_fold == "mitre":
        assert sum("mitre" in piece.cut_edges for piece in soldiers) == 4
    else:
        edges = [piece for piece in soldiers if len(piece.outlines) == 2]
        assert len(edges) == 2
        assert all(piece.legs == (F(9, 4), F(5, 8)) for piece in edges)


def test_soldiers_that_stop_short_leave_the_corner_units_whole(
    stack_job: StackJob,
) -> None:
    job = library(stack_job, opening__head_over="face", brick__at_fold="stop short")
    surround, coursing, layout = lay(job)
    prove_layout(job, surround, coursing, layout)
    assert not any(piece.is_trimmed for piece in layout.pieces)
    assert not layout.broken


def test_units_that_may_not_be_turned_over_have_two_hands(stack_job: StackJob) -> None:
    job = library(stack_job, brick__corner={**CORNER, "turns_over": False})
    _, _, layout = lay(job)
    marks = {x.mark for x in layout.pieces if x.kind == "corner unit"}
    assert marks == {"C-L", "C-R"}
    _, _, layout = lay(library(stack_job))
    assert {x.mark for x in layout.pieces if x.kind == "corner unit"} == {"C"}


def test_the_cut_list_counts_every_piece_once(stack_job: StackJob) -> None:
    job = library(stack_job)
    _, _, layout = lay(job)
    rows = list_cuts(job, layout)
    ids = [name for row in rows for name in row.ids]
    assert sorted(ids) == sorted(piece.id for piece in layout.pieces)
    assert sum(row.count for row in rows) == len(layout.pieces)


def mirrored(job: Job) -> Job:
    from_left = job.face.width - job.opening.width - (job.opening.from_left or 0)
    return (
        job.edited("opening.from_left", from_left)
        .edited("face.left_return", job.face.right_return)
        .edited("face.right_return", job.face.left_return)
    )


@pytest.mark.parametrize("from_left", ["9 in", "10 3/4 in", "13 1/2 in"])
def test_the_mirrored_job_has_the_mirrored_bond(
    stack_job: StackJob, from_left: str
) -> None:
    job = library(
        stack_job, opening__from_left=from_left, face__right_return="9 in",
    )  # fmt: skip
    surround, _, layout = lay(job)
    _, _, other = lay(mirrored(job))
    width = surround.faces[-1].right
    for face, back in (("left", "right"), ("front", "front"), ("right", "left")):
        for course in (1, 2):
            ends = [(width - b, width - a) for a, b in row(layout, face, course)]
            # Of cuts that are equal in every respect the leftmost joint comes first, so
            # only their order may differ.
            assert sorted(lengths_of(ends)) == sorted(
                lengths_of(row(other, back, course))
            )


def test_a_job_twice_as_large_has_the_same_bond_twice_as_large(
    stack_job: StackJob,
) -> None:
    job = library(stack_job, face__width="60 in")
    double = job
    for key in (
        "face.width", "face.height", "face.left_return", "face.right_return",
        "opening.width", "opening.height", "brick.length", "brick.height",
        "brick.thickness", "brick.corner.long_leg", "brick.corner.short_leg",
        "joints.head.preferred", "joints.head.least", "joints.head.most",
        "joints.bed.preferred", "joints.bed.least", "joints.bed.most",
        "joints.bottom.least", "joints.bottom.most", "joints.step",
        "bond.least_piece", "bond.least_lap",
    ):  # fmt: skip
        value = job
        for name in key.split("."):
            value = getattr(value, name)
        double = double.edited(key, 2 * value)
    _, _, layout = lay(job)
    _, _, larger = lay(double)
    assert [2 * x.length for x in layout.pieces] == [x.length for x in larger.pieces]


def damaged(layout: Layout, at: int, outline: Outline) -> Layout:
    piece = layout.pieces[at]
    moved = replace(piece, outlines=(outline, *piece.outlines[1:]))
    return replace(
        layout, pieces=(*layout.pieces[:at], moved, *layout.pieces[at + 1 :])
    )


def shifted(outline: Outline, dx: Fraction, dy: Fraction = F(0)) -> Outline:
    return Outline(outline.face, tuple((x + dx, y + dy) for x, y in outline.points))


@pytest.mark.parametrize(
    ("dx", "dy", "complaint"),
    [
        (F(-3, 16), F(0), "closer than the least joint"),
        (F(0), F(1), "closer than the least joint"),
        (F(40), F(0), "leaves the"),
        (F(-30), F(0), "leaves the"),
        (F(12), F(0), "enters the opening"),
        (F(0), F(-3), "goes into the hearth"),
    ],
)
def test_a_piece_that_is_moved_is_noticed(
    stack_job: StackJob, dx: Fraction, dy: Fraction, complaint: str
) -> None:
    job = library(stack_job)
    surround, coursing, layout = lay(job)
    at = next(
        i
        for i, piece in enumerate(layout.pieces)
        if piece.kind == "stretcher" and piece.place == "front" and piece.course == 1
    )
    if "leaves the" in complaint and not dy and dx > 0:
        at = max(i for i, x in enumerate(layout.pieces) if x.place == "right")
    outline = layout.pieces[at].outlines[0]
    moved = damaged(layout, at, shifted(outline, dx, dy))
    with pytest.raises(NotProved, match=complaint):
        prove_layout(job, surround, coursing, moved)


def test_a_piece_that_is_missing_is_noticed(stack_job: StackJob) -> None:
    job = library(stack_job)
    surround, coursing, layout = lay(job)
    for at in (0, 3, len(layout.pieces) // 2, len(layout.pieces) - 1):
        without = replace(
            layout, pieces=(*layout.pieces[:at], *layout.pieces[at + 1 :])
        )
        with pytest.raises(NotProved, match="is bare at"):
            prove_layout(job, surround, coursing, without)


def test_a_size_or_an_id_or_a_course_that_is_wrong_is_noticed(
    stack_job: StackJob,
) -> None:
    job = library(stack_job)
    surround, coursing, layout = lay(job)
    first, second = layout.pieces[:2]
    wrong = replace(first, length=first.length + F(1, 16))
    with pytest.raises(NotProved, match="drawn"):
        prove_layout(
            job, surround, coursing, replace(layout, pieces=(wrong, *layout.pieces[1:]))
        )
    same = replace(second, id=first.id)
    with pytest.raises(NotProved, match="more than one piece"):
        prove_layout(
            job,
            surround,
            coursing,
            replace(layout, pieces=(first, same, *layout.pieces[2:])),
        )
    joints = (coursing.joints[0] + F(1, 16), *coursing.joints[1:])
    with pytest.raises(NotProved, match="course 1 starts at"):
        prove_layout(job, surround, replace(coursing, joints=joints), layout)
    stops = tuple(replace(stop, x=stop.x + F(1, 16)) for stop in layout.stops[:1])
    with pytest.raises(NotProved, match="a run of"):
        prove_layout(
            job, surround, coursing, replace(layout, stops=(*stops, *layout.stops[1:]))
        )
