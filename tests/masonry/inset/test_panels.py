"""A panel in the face: where it lies, its border, the courses beside it, its proof."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise

import pytest

from shopdraw.errors import BadJob, NotLaid, NotProved
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.coursing.ways import find_ways_out
from shopdraw.masonry.inset.border import lay_border
from shopdraw.masonry.inset.lay import say_panels
from shopdraw.masonry.laying.cut_lines import cut_lines
from shopdraw.masonry.laying.cuts import cut_upright
from shopdraw.masonry.laying.lay import lay_bond
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.wall.layout import Layout, Outline, Piece, rectangle
from shopdraw.masonry.wall.surround import trace_surround
from tests.longer import mostly_long
from tests.masonry.inset.panel_jobs import job_of

F = Fraction
Changes = tuple[tuple[str, str], ...]
ROWLOCK = ('border = "none"', 'border = "rowlock"')
HEADER = ('border = "none"', 'border = "header"')
SOLDIERS = ('pattern = "herringbone 45"', 'pattern = "soldier"')
STACK = ('pattern = "herringbone 45"', 'pattern = "stack"')


@cache
def laid(*changes: tuple[str, str]) -> Layout:
    job = job_of(*changes)
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    return prove_layout(job, surround, coursing, lay_bond(job, surround, coursing))


def in_panel(layout: Layout) -> list[Piece]:
    return [piece for piece in layout.pieces if piece.place == "panel"]


# -------------------------------------------------------------------------- where it is


def test_a_panel_lies_between_courses_by_hand() -> None:
    layout = laid()
    (panel,) = layout.panels
    # The left return is 11 5/8 wide: the front begins there.
    left = F("93/8") + F("285/16")
    assert panel.box == (left, F("255/8"), left + 28, F("420/8"))
    assert panel.courses == (13, 20)
    assert panel.field == panel.box


def test_the_courses_stop_a_joint_beside_it_and_no_piece_is_too_short() -> None:
    layout = laid()
    (panel,) = layout.panels
    for number in range(13, 21):
        row = [
            outline
            for piece in layout.in_courses
            for outline in piece.outlines
            if piece.course == number and outline.face == "front"
        ]
        before = max(x.right for x in row if x.left < panel.box[0])
        after = min(x.left for x in row if x.right > panel.box[2])
        assert panel.box[0] - before == F(3, 8)
        assert after - panel.box[2] == F(3, 8)
        assert all(x.right - x.left >= 2 for x in row)
        stops = {x.x for x in layout.stops if (x.course, x.kind) == (number, "panel")}
        assert stops == {before, after}
    assert not any(x.kind == "panel" and x.course in (12, 21) for x in layout.stops)


def test_beside_a_panel_both_sides_are_alike_and_the_shorter_piece_is_longest() -> None:
    layout = laid()
    (panel,) = layout.panels
    middle = (panel.box[0] + panel.box[2]) / 2
    for number in range(13, 21):
        row = [
            (x.left - middle, x.right - middle)
            for piece in layout.in_courses
            for x in piece.outlines
            if piece.course == number and x.face == "front"
        ]
        assert {(-b, -a) for a, b in row} == set(row)
    # From 8 to 17 7/16 on the left. The courses above and below have a joint from
    # 11 5/8 to 12, so this one begins 2 further on or more: 6, a joint, and 3 1/16.
    first = [
        x.length
        for x in layout.in_courses
        if (x.course, x.kind, x.place) == (13, "stretcher", "front")
    ]
    assert sorted(first) == [F(49, 16), F(49, 16), F(6), F(6)]


# Every second of these is for the long run.
@pytest.mark.parametrize("sixteenths", mostly_long(range(0, 64, 5), *range(0, 64, 10)))
def test_wherever_a_panel_stands_no_piece_beside_it_is_too_short(
    sixteenths: int,
) -> None:
    """Every place of the edge within a brick: joints that leave no room are moved."""
    at = F(285 - sixteenths, 16)
    layout = laid(
        ('left = "17 13/16 in"', f'left = "{at.numerator}/{at.denominator} in"'),
        STACK,
    )
    (panel,) = layout.panels
    for piece in layout.in_courses:
        if piece.kind == "stretcher" and 13 <= piece.course <= 20:
            assert 2 <= piece.length <= F(61, 8)
    assert panel.box[0] == F(93, 8) + at


def test_a_border_of_rowlocks_by_hand() -> None:
    layout = laid(ROWLOCK)
    (panel,) = layout.panels
    rowlocks = [x for x in in_panel(layout) if x.kind == "rowlock"]
    left, bottom, right, top = panel.box
    # 28 is eleven of 2 1/4 and ten joints of 0.325; the sides are 20 5/8 less twice
    # 3 5/8: 13 3/8 is five of 2 1/4 and six joints of 17/48.
    assert len(rowlocks) == 11 + 11 + 5 + 5
    foot = [x.outlines[0] for x in rowlocks if x.outlines[0].bottom == bottom]
    assert [x.top - x.bottom for x in foot] == [F(29, 8)] * 11
    gaps = {b.left - a.right for a, b in pairwise(foot)}
    assert gaps == {(28 - 11 * F(9, 4)) / 10}
    side = [
        x.outlines[0]
        for x in rowlocks
        if x.outlines[0].left == left
        and x.outlines[0].bottom != bottom
        and x.outlines[0].top != top
    ]
    assert [x.right - x.left for x in side] == [F(29, 8)] * 5
    frame = F(29, 8) + F(3, 8)
    assert panel.field == (left + frame, bottom + frame, right - frame, top - frame)
    # All are sawn alike: one mark, whichever way they are turned.
    assert len({x.mark for x in rowlocks}) == 1


def test_a_border_of_headers_is_one_brick_high() -> None:
    layout = laid(HEADER)
    headers = [x for x in in_panel(layout) if x.kind == "header"]
    sizes = {x.outlines[0].top - x.outlines[0].bottom for x in headers}
    assert sizes >= {F(9, 4), F(29, 8)}
    assert layout.panels[0].field[1] - layout.panels[0].box[1] == F(9, 4) + F(3, 8)


def test_soldiers_stand_in_rows() -> None:
    # Two rows high: 2 x 7 5/8 and a joint.
    layout = laid(SOLDIERS, ('height = "20 5/8 in"', 'height = "15 3/8 in"'))
    pieces = in_panel(layout)
    assert {x.kind for x in pieces} == {"soldier"}
    assert all(x.height > x.length for x in pieces if not x.is_cut)
    assert {x.id.split("-")[0] for x in pieces} == {"P"}


def test_ids_are_unique_and_say_the_course() -> None:
    layout = laid(ROWLOCK)
    ids = [x.id for x in layout.pieces]
    assert len(set(ids)) == len(ids)
    for piece in in_panel(layout):
        assert piece.id.startswith(f"P-{piece.course:02d}-")
        assert 13 <= piece.course <= 20


@pytest.mark.parametrize("changes", [(), (STACK,), (ROWLOCK,)])
def test_a_section_meets_the_panel_from_its_foot_to_its_top(changes: Changes) -> None:
    layout = laid(*changes)
    (panel,) = layout.panels
    left, bottom, right, top = panel.box
    for share in (F(1, 2), F(1, 3), F(7, 10)):
        x = left + (right - left) * share
        cuts = [
            (cut.ring[0][1], cut.ring[2][1])
            for cut in cut_upright(layout, x, F(1, 2), F(5, 8))
        ]
        inside = [(a, b) for a, b in cuts if bottom <= a and b <= top]
        assert len(inside) > 2
        assert sorted(cuts) == cuts
        assert all(a[1] <= b[0] for a, b in pairwise(cuts))


# ------------------------------------------------------------------------------ targets


def test_its_underside_and_top_are_targets_and_the_ways_out_change_its_height() -> None:
    # Half an inch higher than courses come.
    job = job_of(('height = "20 5/8 in"', 'height = "21 7/8 in"'))
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    names = {target.name: target for target in coursing.targets}
    assert names["overmantel panel, underside"].lands
    missed = names["overmantel panel, top"]
    assert not missed.lands
    layout = lay_bond(job, surround, coursing)
    assert layout.panels[0].box[3] == missed.got
    keys = [dict(way.edits) for way in find_ways_out(job, surround, coursing)]
    assert any(set(each) == {"panel[1].height"} for each in keys)
    for edits in keys:
        edited = job
        for key, value in edits.items():
            edited = edited.edited(key, value)
        assert solve_coursing(edited, trace_surround(edited)).lands


def test_a_target_may_not_be_called_like_a_level_of_a_panel() -> None:
    target = '[[target]]\nname = "Overmantel panel, top"\nlevel = "40 in"\n[[panel]]'
    with pytest.raises(BadJob, match="what a band, a corbel or a panel has"):
        job_of(("[[panel]]", target))


# ----------------------------------------------------------------------------- refusals

MORE = """border = "none"
[[panel]]
name = "second"
left = "{}"
bottom = "{}"
width = "20 in"
height = "10 1/8 in"
pattern = "stack"
border = "none"
"""


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ('left = "17 13/16 in"', 'left = "-1 in"', "leaves the face by 1 in at its"),
        ('left = "17 13/16 in"', 'left = "9 in"', "9 in between it and the left edge"),
        ('width = "28 in"', 'width = "50 in"', "leaves the face by 4 3/16 in at its"),
        ('bottom = "31 7/8 in"', 'bottom = "10 in"', "overlaps the opening"),
        ('height = "20 5/8 in"', 'height = "40 in"', "above the datum, and the face"),
        ('height = "20 5/8 in"', 'height = "5 in"', "has no room for herringbone 45"),
        ('border = "none"', MORE.format("30 in", "40 in"), "overlaps panel[1]"),
        ('border = "none"', MORE.format("20 in", "52 9/16 in"), "leaves too little"),
        ('border = "none"', MORE.replace("second", "overmantel panel")
         .format("20 in", "10 in"), "is the name of another panel too"),
    ],
)  # fmt: skip
def test_what_can_t_be_built_is_refused_in_a_line(
    old: str, new: str, line: str
) -> None:
    with pytest.raises(BadJob) as refused:
        job_of((old, new))
    said = [each for each in refused.value.lines() if line in each]
    assert len(said) == 1, refused.value.lines()


# -------------------------------------------------------------------------------- proof


def with_piece(layout: Layout, place: int, change: Callable[[Piece], Piece]) -> Layout:
    pieces = list(layout.pieces)
    pieces[place] = change(pieces[place])
    return replace(layout, pieces=tuple(pieces))


def moved(dx: Fraction, dy: Fraction) -> Callable[[Piece], Piece]:
    def change(piece: Piece) -> Piece:
        outline = piece.outlines[0]
        points = tuple((x + dx, y + dy) for x, y in outline.points)
        return replace(piece, outlines=(Outline("front", points, outline.cuts),))

    return change


def wider(piece: Piece) -> Piece:
    assert piece.as_sawn is not None
    points = tuple((2 * x, y) for x, y in piece.as_sawn.points)
    return replace(piece, as_sawn=replace(piece.as_sawn, points=points))


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        (moved(F(-30), F(0)), "leaves its panel"),
        (moved(F(1, 4), F(1, 4)), "closer together than the least joint"),
        (wider, "not as large as in its panel"),
        (wider, "does not come out of one brick"),
    ],
)
def test_damage_to_a_piece_is_noticed(
    change: Callable[[Piece], Piece], complaint: str
) -> None:
    job, layout = job_of(), laid()
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    place = next(
        i for i, x in enumerate(layout.pieces) if x.place == "panel" and not x.is_cut
    )
    with pytest.raises(NotProved, match=complaint):
        prove_layout(job, surround, coursing, with_piece(layout, place, change))


def without_a_piece(layout: Layout) -> Layout:
    place = next(i for i, x in enumerate(layout.pieces) if x.place == "panel")
    return replace(layout, pieces=(*layout.pieces[:place], *layout.pieces[place + 1 :]))


def without_panels(layout: Layout) -> Layout:
    return replace(layout, panels=())


def with_a_wider_panel(layout: Layout) -> Layout:
    panel = layout.panels[0]
    left, bottom, right, top = panel.box
    return replace(layout, panels=(replace(panel, box=(left - 1, bottom, right, top)),))


def with_a_lower_panel(layout: Layout) -> Layout:
    panel = layout.panels[0]
    left, bottom, right, top = panel.box
    box = left, bottom - F(1, 8), right, top
    return replace(layout, panels=(replace(panel, box=box),))


def left_to_mortar(layout: Layout) -> Layout:
    """Leave a piece out, and say that it is too narrow for one."""
    panel = layout.panels[0]
    piece = in_panel(layout)[0]
    out = replace(panel, left_out=(piece.outlines[0].points,))
    return replace(without_a_piece(layout), panels=(out,))


def with_another_panel(layout: Layout) -> Layout:
    """Say that there is a second panel, where nothing but courses is."""
    panel = layout.panels[0]
    box = tuple(x - shift for x, shift in zip(panel.box, (6, 20, 29, 30), strict=True))
    return replace(layout, panels=(panel, replace(panel, name="second", box=box)))


@pytest.mark.parametrize(
    ("damage", "complaint"),
    [
        (with_another_panel, r"(?m)second has no brick$"),
        (without_a_piece, "has no brick at"),
        (without_panels, "pieces of a panel, and no panel"),
        (with_a_wider_panel, "stands in the way of"),
        (with_a_lower_panel, "level with courses"),
        (left_to_mortar, "too much of"),
    ],
)
def test_damage_to_a_panel_is_noticed(
    damage: Callable[[Layout], Layout], complaint: str
) -> None:
    job, layout = job_of(), laid()
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    with pytest.raises(NotProved, match=complaint):
        prove_layout(job, surround, coursing, damage(layout))


def test_a_place_too_narrow_for_a_piece_may_be_left_to_mortar() -> None:
    job, layout = job_of(), laid()
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    left, bottom, _, _ = layout.panels[0].box
    for wide, is_little in ((F(1, 4), True), (F(1, 2), False)):
        ring = rectangle("front", left, bottom, left + wide, bottom + 2).points
        out = replace(layout, panels=(replace(layout.panels[0], left_out=(ring,)),))
        said = []
        try:
            prove_layout(job, surround, coursing, out)
        except NotProved as error:
            said = error.lines()
        assert ("mortar takes too much" in " ".join(said)) == (not is_little)


# ------------------------------------------------------------------------------- saying


@pytest.mark.parametrize(("course", "count"), [(12, 0), (13, 1), (20, 1), (21, 0)])
def test_a_panel_beside_laid_courses_says_that_they_may_not_fit(
    course: int, count: int
) -> None:
    job, layout = job_of(), laid()
    coursing = solve_coursing(job, trace_surround(job))
    courses = tuple(replace(x, is_laid=x.number == course) for x in coursing.courses)
    said = say_panels(job, replace(coursing, courses=courses), layout.panels, 1)
    warns = [x for x in said if "may not fit: hold it against the drawing" in x]
    assert len(warns) == count


def test_what_mortar_takes_at_a_panel_s_edge_is_counted_and_said() -> None:
    job, (panel,) = job_of(), laid().panels
    coursing = solve_coursing(job, trace_surround(job))
    ring = panel.ring
    for count, places in ((0, ""), (1, "1 place"), (2, "2 places")):
        given = (replace(panel, left_out=(ring,) * count),)
        said = " ".join(say_panels(job, coursing, given, 1))
        wanted = f"mortar takes {places} too narrow for a piece." if count else ""
        assert ("mortar takes" in said) == bool(count)
        assert wanted in said


def test_a_border_that_can_t_be_filled_is_refused_in_words() -> None:
    """One joint: rowlocks of 2 1/4 whole, or two of a half or more at the ends."""
    joint = (
        "[brick]",
        '[joints.head]\nleast = "3/8 in"\nmost = "3/8 in"\n[brick]',
    )
    # Eleven whole ones and ten joints; twelve of which two are a half.
    wide = ('width = "28 in"', 'width = "{} in"')
    for width, is_filled in (("28 1/2", True), ("28 9/16", False), ("28 7/8", True)):
        changes = joint, (wide[0], wide[1].format(width)), ROWLOCK
        job = job_of(*changes)
        box = (F(0), F(0), job.panel[0].width, F("165/8"))
        given = job, "panel[1]", "rowlock", box, lambda _: 1
        if is_filled:
            pieces, _ = lay_border(*given)
            assert len({x.outlines[0] for x in pieces}) == len(pieces) > 30
        else:
            with pytest.raises(NotLaid, match=r"28 9/16 in of rowlocks can't be"):
                lay_border(*given)


# ---------------------------------------------------------------------------- cut lines


def test_a_cut_line_keeps_its_distance_from_the_cut() -> None:
    """An eighth of the brick's width inside the sawn side, from edge to edge."""
    inset = float(F(9, 4) / 8)
    count = 0
    for piece in in_panel(laid()):
        outline = piece.outlines[0]
        if outline.is_rectangle or piece.as_sawn is None:
            continue
        lain = piece.as_sawn
        if min(lain.right - lain.left, lain.top - lain.bottom) < F(9, 4):
            continue
        lines = list(cut_lines(piece, outline))
        assert len(lines) == len(outline.cuts)
        left, bottom, right, top = (float(x) for x in laid().panels[0].box)
        for (ax, ay), (bx, by) in lines:
            # Every cut of a panel is along its edge, so its line is parallel to one.
            far = [
                abs(ax - left) + abs(bx - left), abs(ax - right) + abs(bx - right),
                abs(ay - bottom) + abs(by - bottom), abs(ay - top) + abs(by - top),
            ]  # fmt: skip
            assert min(far) == pytest.approx(2 * inset, abs=1e-3)
            assert abs(ax - bx) < 1e-6 or abs(ay - by) < 1e-6
            count += 1
    assert count > 10


def test_a_pattern_that_the_brick_does_not_make_is_told_by_its_key() -> None:
    # Two of 3 and a joint are 6 3/8, three with their joints 9 3/4: none is 8 long.
    weave = ('pattern = "herringbone 45"', 'pattern = "basket weave"')
    brick = ('size = "modular"', 'length = "8 in"\nheight = "3 in"\nsize = "modular"')
    with pytest.raises(NotLaid) as refused:
        laid(weave, brick)
    (line,) = refused.value.lines()
    assert line.startswith(
        "panel[1].pattern: basket weave can't be laid here: no number"
    )
