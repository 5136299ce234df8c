"""Bands: courses of soldiers, rowlocks and headers, by hand."""

from __future__ import annotations

from fractions import Fraction as F
from itertools import pairwise

import pytest

from shopdraw.errors import BadJob, NotLaid
from shopdraw.masonry.laying.cuts import cut_level
from tests.masonry.laying.banded import Laid, banded, laid

SOLDIERS = """[[band]]
kind = "soldier"
course = 3
"""
TALLER = ('height = "44 5/8 in"', 'height = "50 in"')
# Eight courses of 2 5/8 and one of 8: 29. The top: 29 + 8 x 2 5/8 = 50.
HIGHER = ('height = "24 in"', 'height = "29 3/8 in"')


def soldier_wall(*changes: tuple[str, str]) -> Laid:
    return laid(SOLDIERS, TALLER, HIGHER, *changes)


def test_a_band_is_a_course_as_high_as_its_brick_stand() -> None:
    wall = soldier_wall()
    (band,) = wall.coursing.bands()
    assert (band.number, band.kind, band.height) == (3, "soldier", F(61, 8))
    assert wall.coursing.lands
    # Two courses of 2 5/8 and a joint of 3/8 below it.
    assert band.bottom == 2 * F(21, 8) + F(3, 8)


def test_each_leg_is_filled_as_an_opening_is() -> None:
    wall = soldier_wall()
    row = wall.row(3)
    left = [outline for outline, _ in row[:6]]
    # Six of 2 1/4 leave 15 5/8 - 13 1/2 = 2 1/8 for five joints.
    assert [x.right - x.left for x in left] == [F(9, 4)] * 6
    assert {b.left - a.right for a, b in pairwise(left)} == {F(17, 8) / 5}
    assert left[0].left == wall.surround.front.left
    assert left[-1].right == wall.surround.opening.brick_left
    assert len(row) == 12
    assert {piece.kind for _, piece in row} == {"soldier"}


def test_the_courses_below_and_above_a_band_show_the_same_leg() -> None:
    wall = soldier_wall()
    first = [wall.row(n)[0][0] for n in (2, 4)]
    assert first[0].right - first[0].left == first[1].right - first[1].left == F(29, 8)


def test_a_mitred_band_is_cut_at_45_degrees_on_both_faces_in_plan() -> None:
    wall = soldier_wall()
    band = wall.coursing.courses[2]
    cuts = cut_level(wall.surround, wall.layout, band, wall.job.brick.thickness)
    slanted = [cut.ring for cut in cuts if "mitre" in cut.piece.cut_edges]
    width, t = F(509, 8), F(3, 4)
    assert len(slanted) == 4
    corners = {point for ring in slanted for point in ring}
    assert {(F(0), F(0)), (t, t), (width, F(0)), (width - t, t)} <= corners


def test_a_butted_band_shows_its_edge_on_the_return() -> None:
    wall = soldier_wall(('at_fold = "mitre"', 'at_fold = "butt"'))
    (outline, piece), *_ = wall.row(3)
    edge = piece.outlines[1]
    assert outline.face == "front"
    assert (edge.face, edge.right - edge.left) == ("left", F(3, 4))
    assert edge.right == wall.surround.front.left


def test_corner_units_of_soldiers_turn_a_band() -> None:
    corner = '{ long_leg = "2 1/4 in", short_leg = "2 1/4 in" }'
    wall = soldier_wall(('at_fold = "mitre"', f"soldier_corner = {corner}"))
    turned = [x for x in wall.layout.pieces if x.kind == "soldier corner unit"]
    assert [x.course for x in turned] == [3, 3]
    assert {x.legs for x in turned} == {(F(9, 4), F(9, 4))}


def corners_of(long_leg: str) -> Laid:
    """A leg of 15 5/8 between two outside corners, each turned by a corner unit."""
    corner = f'{{ long_leg = "{long_leg}", short_leg = "2 1/4 in" }}'
    return soldier_wall(
        ('at_fold = "mitre"', f"soldier_corner = {corner}"),
        ('width = "32 3/8 in"', 'width = "32 3/8 in"\njamb_return = "6 in"'),
    )


def test_two_corner_units_may_fill_a_leg_with_a_joint_between() -> None:
    # Two of 7 5/8 leave 3/8 of 15 5/8.
    row = [outline for outline, _ in corners_of("7 5/8 in").row(3)]
    assert len(row) == 4
    assert row[1].left - row[0].right == row[3].left - row[2].right == F(3, 8)


@pytest.mark.parametrize(("long_leg", "both"), [("7 3/4", "15 1/2"), ("9", "18")])
def test_corner_units_longer_than_half_a_leg_are_told_in_words(
    long_leg: str, both: str
) -> None:
    with pytest.raises(NotLaid) as told:
        corners_of(f"{long_leg} in")
    said = str(told.value)
    assert f"is {both} in wide without its joints, and 15 5/8 in of the front" in said
    assert "shorter legs in brick.soldier_corner" in said


@pytest.mark.parametrize("at_fold", ["mitre", "butt"])
def test_a_band_turns_into_the_jambs_with_the_brick(at_fold: str) -> None:
    wall = soldier_wall(
        ('at_fold = "mitre"', f'at_fold = "{at_fold}"'),
        ('width = "32 3/8 in"', 'width = "32 3/8 in"\njamb_return = "6 in"'),
    )
    assert {piece.kind for _, piece in wall.row(3, "left reveal")} == {"soldier"}
    band = wall.coursing.courses[2]
    rings = cut_level(wall.surround, wall.layout, band, wall.job.brick.thickness)
    assert len(rings) == len([x for x in wall.layout.pieces if x.course == 3])


def test_a_band_with_a_level_lands_on_it_with_its_underside_or_its_top() -> None:
    level = """[[band]]
kind = "rowlock"
level = "29 1/4 in"
"""
    rows = ("[brick]", '[courses]\nrowlock_height = "3 5/8 in"\n[brick]')
    # 24 and two courses of 2 5/8 are 29 1/4; five more above the band, 3 5/8 high.
    wall = laid(level, ('height = "44 5/8 in"', 'height = "46 in"'), rows)
    (band,) = wall.coursing.bands()
    assert (band.bottom, band.top) == (F(234, 8), F(263, 8))
    met = wall.coursing.targets[-1]
    assert (met.name, met.lands) == ("rowlock band", True)
    top = level.replace("29 1/4", "32 7/8") + 'meets = "top"\n'
    again = laid(top, ('height = "44 5/8 in"', 'height = "46 in"'), rows)
    assert again.coursing.bands() == wall.coursing.bands()


def test_a_band_comes_again_as_often_as_asked() -> None:
    often = SOLDIERS.replace("soldier", "header") + "every = 4\ntimes = 3\n"
    assert [x.number for x in laid(often).coursing.bands()] == [3, 7, 11]
    always = SOLDIERS.replace("soldier", "header") + "every = 4\n"
    assert [x.number for x in laid(always).coursing.bands()] == [3, 7, 11, 15]


def test_a_band_of_headers_lies_in_the_bond() -> None:
    wall = laid(SOLDIERS.replace("soldier", "header").replace("3", "4"))
    row = wall.row(4)[:5]
    kinds = [piece.kind for _, piece in row]
    lengths = [outline.right - outline.left for outline, _ in row]
    # The corner unit's short leg reads as a header, and a closer stands beside it.
    assert kinds == ["corner unit", "closer", "header", "closer", "header"]
    assert lengths == [F(29, 8), F(13, 8), F(29, 8), F(13, 8), F(29, 8)]
    assert sum(lengths) + 4 * F(3, 8) == F(125, 8)
    assert not wall.layout.broken
    assert wall.layout.least_lap is not None
    # A header's own lap: half of 3 5/8 less a joint, less two steps.
    assert wall.layout.least_lap.allowed == F(13, 8) - 2 * F(1, 16)


def test_on_an_odd_course_a_band_of_headers_keeps_the_long_leg_at_the_corner() -> None:
    wall = laid(SOLDIERS.replace("soldier", "header"))
    first, last = wall.row(3)[0][0], wall.row(3)[5][0]
    assert first.right - first.left == last.right - last.left == F(61, 8)
    assert not wall.layout.broken


@pytest.mark.parametrize("pattern", ["third", "quarter", "stack", "Flemish", "English"])
def test_every_bond_takes_a_band_of_headers(pattern: str) -> None:
    bond = f'[bond]\npattern = "{pattern}"\n[brick]'
    wall = laid(SOLDIERS.replace("soldier", "header"), ("[brick]", bond))
    kinds = {piece.kind for _, piece in wall.row(3)}
    assert "header" in kinds


@pytest.mark.parametrize(
    ("tables", "changes", "says"),
    [
        (SOLDIERS.replace("3", "40"), (), r"course 40 is above the top of the face"),
        (
            SOLDIERS.replace("3", "10"),
            (('height = "24 in"', 'height = "24 in"\nhead = "soldier"'),),
            "stands beside what is over the opening",
        ),
        (
            SOLDIERS.replace("3", "11"),
            (('height = "24 in"', 'height = "24 in"\nhead = "jack arch"'),),
            "is cut by the arch",
        ),
        (
            SOLDIERS.replace("soldier", "header").replace("3", "2"),
            (("[brick]", '[bond]\npattern = "common"\n[brick]'),),
            "headers on headers have no bond",
        ),
        (
            SOLDIERS,
            (
                (
                    "[brick]",
                    '[joints]\nhead = { preferred = "3/8 in", least = "3/8 in", '
                    'most = "3/8 in" }\n[brick]',
                ),
            ),
            "joints.head.most",
        ),
    ],
)
def test_a_band_that_can_not_be_laid_is_refused_in_words(
    tables: str, changes: tuple[tuple[str, str], ...], says: str
) -> None:
    with pytest.raises(NotLaid, match=says):
        laid(tables, *changes)


def test_a_leg_no_wider_than_a_head_joint_is_not_left_without_brick() -> None:
    returns = 'left_return = "15 5/8 in"\nright_return = "15 5/8 in"\n'
    joint = '[joints]\nhead = { preferred = "3/8 in", least = "1/4 in", most = "2 in" }'
    narrow = (
        (returns, ""),
        ('width = "32 3/8 in"', 'width = "61 5/8 in"'),
        ("[brick]", f"{joint}\n[brick]"),
    )
    says = "no soldiers 2 1/4 in wide fill 1 in of the front face in course 3 .*"
    with pytest.raises(NotLaid, match=f"{says}; write another face.width$"):
        soldier_wall(*narrow)


def test_two_bands_on_one_course_are_refused() -> None:
    with pytest.raises(BadJob, match="is a course of band"):
        banded(SOLDIERS + SOLDIERS.replace("soldier", "rowlock"))


@pytest.mark.parametrize(
    ("tables", "says"),
    [
        ('[[band]]\nkind = "soldier"\n', "needs its course or its level"),
        (SOLDIERS + 'level = "9 in"\n', "needs its course or its level"),
        (SOLDIERS + "times = 2\n", "but not after how many courses"),
        (SOLDIERS + 'meets = "top"\n', "is for a band with a level"),
        ('[[band]]\nkind = "header"\nlevel = "60 in"\n', "above the top of the face"),
    ],
)
def test_a_band_that_makes_no_sense_is_told_at_the_door(tables: str, says: str) -> None:
    with pytest.raises(BadJob, match=says):
        banded(tables)


def test_soldiers_that_do_not_know_how_to_turn_are_told_at_the_door() -> None:
    for at_fold in ("", 'at_fold = "stop short"'):
        with pytest.raises(BadJob, match="go round an outside corner"):
            banded(SOLDIERS, ('at_fold = "mitre"', at_fold))


# --------------------------------------------------------------- on a part of the front

PART = """[[band]]
kind = "soldier"
course = 12
from_left = "20 in"
width = "23 5/8 in"
"""


def test_a_band_on_a_part_of_the_front_stands_beside_its_courses() -> None:
    wall = laid(PART)
    left = wall.surround.front.left
    band = [x for x, piece in wall.row(12) if piece.kind == "soldier"]
    # Nine of 2 1/4 leave 3 3/8 for ten joints, those at both ends among them.
    joint = F(27, 8) / 10
    assert len(band) == 9
    assert band[0].left - left == 20 + joint
    assert band[-1].right - left == 20 + F(189, 8) - joint
    # Its foot is on that of course 12, at 3/8 + 11 x 2 5/8; it is sawn to end with
    # course 14, an eighth below its own length.
    assert {x.bottom for x in band} == {F(234, 8)}
    assert {x.top for x in band} == {F(234, 8) + F(15, 2)}
    assert wall.coursing.lands


@pytest.mark.parametrize("course", [12, 13, 14])
def test_the_courses_beside_it_stop_where_it_begins(course: int) -> None:
    wall = laid(PART)
    left = wall.surround.front.left
    brick = [x for x, piece in wall.row(course) if piece.kind != "soldier"]
    assert max(x.right for x in brick if x.left < left + 20) == left + 20
    assert min(x.left for x in brick if x.left > left + 20) == left + F(349, 8)
    assert wall.span(course) == (0, F(509, 8))


IN_LEG = """[[band]]
kind = "rowlock"
level = "5 5/8 in"
from_left = "4 in"
width = "8 1/4 in"
"""
WIDER = ('width = "63 5/8 in"', 'width = "72 in"')


def test_it_may_stand_in_a_leg_and_land_on_a_level() -> None:
    # Three rowlocks of 2 1/4 and four joints of 3/8; 5 5/8 is the foot of course 3.
    wall = laid(IN_LEG, WIDER)
    found = [x for x, piece in wall.row(3) if piece.kind == "rowlock"]
    assert len(found) == 3
    assert {x.bottom for x in found} == {F(45, 8)}
    assert [target.name for target in wall.coursing.targets if target.lands] == [
        "opening head", "top", "rowlock band",
    ]  # fmt: skip
    jamb = wall.surround.opening.brick_left
    assert max(x.right for x, _ in wall.row(3) if x.left < jamb) == jamb


def test_in_the_right_leg_it_lies_as_in_the_left_seen_in_a_mirror() -> None:
    left = laid(IN_LEG, WIDER)
    # 72 less 4 and 8 1/4.
    right = laid(IN_LEG.replace('"4 in"', '"59 3/4 in"'), WIDER)
    middle = left.surround.front.left + 36
    for course in range(1, 8):
        mirrored = [
            (2 * middle - x.right, 2 * middle - x.left, piece.kind)
            for x, piece in left.row(course)[::-1]
        ]
        row = [(x.left, x.right, piece.kind) for x, piece in right.row(course)]
        assert row == mirrored, course


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("course = 12", "course = 5", "stands across the opening"),
        ('"20 in"', '"1 in"', "of brick at each side"),
        ("course = 12", "course = 8", "not all plain courses"),
        ("course = 12", "course = 17", "would be sawn to 2 1/4 in"),
        ("course = 12", "course = 40", "above the top of the face"),
        ('"23 5/8 in"', '"3 1/4 in"', "write 3 in or 3 3/8 in"),
    ],
)
def test_a_part_that_can_not_be_laid_is_refused_in_words(
    old: str, new: str, says: str
) -> None:
    fixed = '[joints]\nhead = {{ preferred = "{0}", least = "{0}", most = "{0}" }}\n'
    changes = [("[brick]", fixed.format("3/8 in") + "[brick]")]
    with pytest.raises(NotLaid, match=says):
        laid(PART.replace(old, new), *(changes if "23" in old else ()))


@pytest.mark.parametrize(
    ("tables", "says"),
    [
        (PART.replace('width = "23 5/8 in"\n', ""), "needs both from_left and width"),
        (PART.replace("soldier", "header"), "is for soldiers and rowlocks"),
        (PART + "every = 2\n", "is for a band round the whole face"),
        (PART.replace('"20 in"', '"60 in"'), "goes past the end of the front"),
    ],
)
def test_a_part_that_makes_no_sense_is_told_at_the_door(tables: str, says: str) -> None:
    with pytest.raises(BadJob, match=says):
        banded(tables)


def test_two_parts_beside_the_same_course_are_refused() -> None:
    other = PART.replace("course = 12", "course = 14")
    with pytest.raises(NotLaid, match="already; write another course"):
        laid(PART + other)
