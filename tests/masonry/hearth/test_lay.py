"""A hearth laid in brick: where it lies, its border, field and riser, its proof."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from shopdraw.errors import BadJob, NotLaid, NotProved
from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.hearth.lay import lay_hearth
from shopdraw.masonry.hearth.proof import pieces_on_top, prove_hearth
from shopdraw.masonry.panels.judging import worst_piece
from shopdraw.masonry.wall.bond_rules import Least
from shopdraw.masonry.wall.layout import Layout, Outline, Piece
from shopdraw.masonry.wall.surround import trace_surround
from tests.demos import CONFIGS, solution_of
from tests.face_panels import panel_job

F = Fraction
TEXT = (CONFIGS / "raised-hearth.toml").read_text("utf-8")
BARE = Layout((), (), (), Least(F(8), F(2)), None, ())


def job_of(*changes: tuple[str, str]) -> Job:
    text = TEXT
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return parse_job(text, "hearth.toml")


def hearth_of(job: Job) -> BrickHearth:
    _, hearth = lay_hearth(job, trace_surround(job), BARE)
    assert hearth is not None
    return hearth


def of_demo() -> BrickHearth:
    hearth = solution_of("raised-hearth").hearth
    assert hearth is not None
    return hearth


FLAT = ('riser = "12 in" ', '# riser = "12 in" ')


# -------------------------------------------------------------------------- where it is


def test_where_the_demo_s_hearth_lies_by_hand() -> None:
    ground = of_demo().ground
    # 15 + 34 + 15 and the riser's brick and mean bed, 5/8 + 3/8, at both ends.
    assert ground.width == 66
    # 22 3/8 to the wall, and 1 of riser before it; the new face stands 1 before it.
    assert ground.wall == F("187/8")
    assert ground.face == F("179/8")
    # The firebox begins 4 behind the finished face; a joint before it brick stops.
    assert ground.firebox == F("211/8")
    assert ground.back == F("208/8")
    # The riser's brick and a joint show on three sides of the top.
    assert ground.main == (1, 1, 65, F("187/8"))
    # The slab lies 1 1/8 below the datum: 5/8 of brick leave a bed of 1/2.
    assert ground.drop == F("9/8")
    assert ground.bed == F("1/2")


def test_without_a_riser_the_brick_go_to_the_slab_s_edge() -> None:
    ground = hearth_of(job_of(FLAT)).ground
    assert ground.width == 64
    assert ground.wall == F("179/8")
    assert ground.main[:3] == (0, 0, 64)


def test_without_the_firebox_s_line_brick_stop_at_the_wall_as_found() -> None:
    ground = hearth_of(job_of(('firebox = "4 in"', ""))).ground
    assert ground.firebox is None
    assert ground.between is None
    assert ground.back == ground.wall


def test_a_firebox_that_begins_before_the_wall_stops_all_brick() -> None:
    ground = hearth_of(job_of(('firebox = "4 in"', 'firebox = "1/2 in"'))).ground
    assert ground.back == ground.face + F("1/2")
    assert ground.between is None


@pytest.mark.parametrize(
    ("old", "new", "key", "wanted"),
    [
        ('joint = "7/16 in"', 'back = "5 in"', "hearth.brick.back", "inside a firebox"),
        ('raised = "0 in" ', 'later = "1 in" ', "hearth.later", "its brick is that"),
        ('front = "22 3/8 in"', 'front = "9 in"', "hearth.front", "too little"),
        ('front = "22 3/8 in"', "", "hearth.front", "is missing"),
        ('slab = "1 1/8 in"', 'slab = "5/8 in"', "hearth.brick.slab", "no bed"),
        ('joint = "7/16 in"', 'joint = "1 in"', "hearth.brick.joint", "not within"),
        ('riser = "12 in"', 'riser = "6 in"', "hearth.brick.riser", "no room"),
        ('riser = "12 in"', 'riser = "40 in"', "hearth.brick.riser", "no hearth"),
        ('left = "15 in"', 'left = "10 in"', "hearth.brick.riser", "whole face"),
        ('front = "22 3/8 in"', 'front = "900 in"', "hearth.brick", "at most 2,000"),
        (
            "[appliance]",
            '[courses]\nrowlock_height = "9 in"\n[appliance]',
            "courses.rowlock_height",
            "longer than the brick",
        ),
        ('top_meets = "top"', 'left_return = "12 in"', "hearth.brick.riser", "returns"),
    ],
)
def test_what_can_t_be_built_or_must_not_be_is_refused(
    old: str, new: str, key: str, wanted: str
) -> None:
    with pytest.raises(BadJob) as refused:
        job_of((old, new))
    faults = [fault for fault in refused.value.faults if fault.key == key]
    assert faults, [fault.key for fault in refused.value.faults]
    assert wanted in faults[0].wanted


def test_brick_past_the_wall_is_refused_where_the_firebox_s_line_is_not_known() -> None:
    with pytest.raises(BadJob) as refused:
        job_of(('firebox = "4 in"', ""), ('joint = "7/16 in"', 'back = "2 in"'))
    (fault,) = refused.value.faults
    assert fault.key == "hearth.brick.back"
    assert "nothing is adhered inside a firebox" in fault.wanted


# ------------------------------------------------------------------------------- border


def test_the_border_stands_with_its_end_to_the_edge_and_butts() -> None:
    pieces = [x for x in pieces_on_top(of_demo()) if x.kind == "rowlock"]
    front = [x for x in pieces if x.outlines[0].bottom == 1]
    # 64 in: 25 rowlocks of 2 1/4 leave 7 3/4 for 24 joints, nearest to 3/8 each.
    assert len(front) in (24, 25)
    assert {x.height for x in front} == {F("29/8")}
    assert {x.cut_edges for x in front} == {("top",)}
    left = [x for x in pieces if x.outlines[0].left == 1 and x not in front]
    assert min(x.outlines[0].bottom for x in left) == F("1") + F("29/8") + F("3/8")
    assert {x.cut_edges for x in left} == {("right",)}
    right = [x for x in pieces if x.outlines[0].right == 65 and x not in front]
    assert {x.cut_edges for x in right} == {("left",)}
    # Turned, and yet the same piece: one mark for all.
    assert len({x.mark for x in pieces}) == 1


def test_headers_are_whole_brick_and_share_their_mark() -> None:
    hearth = hearth_of(job_of(('border = "rowlock"', 'border = "header"')))
    headers = [x for x in pieces_on_top(hearth) if x.kind == "header"]
    whole = [x for x in headers if not x.is_cut]
    assert {x.mark for x in whole} == {"H"}
    # The ends of the sides are the only ones that may be sawn, none to under a half.
    sawn = [x for x in headers if x.is_cut]
    assert all(x.outlines[0].bottom > 1 for x in sawn)
    assert all(min(x.length, x.height) >= F("9/8") for x in sawn)
    assert {(x.length, x.height) for x in whole} == {
        (F("9/4"), F("61/8")),
        (F("61/8"), F("9/4")),
    }


def test_mitred_corners_are_cut_at_45_degrees_and_say_what_is_small() -> None:
    job = job_of(('corners = "butted"', 'corners = "mitred"'))
    hearth = hearth_of(job)
    cut = [x for x in pieces_on_top(hearth) if not x.outlines[0].is_rectangle]
    # At either corner, on both sides of the mitre, at least a triangle and a trapezoid.
    assert len(cut) >= 8
    worst, short = worst_piece(job, pieces_on_top(hearth))
    assert [x.rule for x in worst.short] == ["least area"]
    assert worst.id in short
    # A triangle with legs of 2 1/4, less half a joint of 1/4 at 45 degrees.
    leg = 2.25 - 0.125 * 2**0.5
    assert float(worst.area) == pytest.approx(leg**2 / 2, abs=1e-3)


# -------------------------------------------------------------------------------- riser


def riser_courses(job: Job) -> list[tuple[Fraction, Fraction, Fraction]]:
    riser = hearth_of(job).riser
    assert riser is not None
    return [(x.bed_joint, x.bottom, x.top) for x in riser.coursing.courses]


def test_the_demo_s_riser_by_hand() -> None:
    # 12 less a nosing of 3 5/8 and three brick of 2 1/4 leaves 1 5/8 for four joints:
    # beds of 3/8 as preferred, and 1/2 on the floor, no more off than is seen.
    assert riser_courses(job_of()) == [
        (F("1/2"), F("1/2"), F("11/4")),
        (F("3/8"), F("25/8"), F("43/8")),
        (F("3/8"), F("23/4"), F(8)),
        (F("3/8"), F("67/8"), F(12)),
    ]


CORBEL = '[[corbel]]\ncourses = 2\nstep = "1/2 in"\n'
BAND = '[[band]]\nkind = "rowlock"\ncourse = 2\n'


@pytest.mark.parametrize("kind", ["corbel", "band", "panel"])
def test_what_the_wall_has_of_its_own_is_not_laid_in_the_riser(kind: str) -> None:
    wall = job_of().model_copy(update={"panel": panel_job(0).panel})
    if kind != "panel":
        table = {"corbel": CORBEL, "band": BAND}[kind]
        wall = parse_job(f"{TEXT}\n{table}", "hearth.toml")
    assert getattr(wall, kind)
    plain, riser = hearth_of(job_of()).riser, hearth_of(wall).riser
    assert plain is not None
    assert riser is not None
    assert riser.coursing.courses == plain.coursing.courses
    assert riser.layout.pieces == plain.layout.pieces


def test_a_low_riser_of_one_course_and_its_nosing() -> None:
    # 7 less 3 5/8 and 2 1/4 leaves 1 1/8 for two joints.
    courses = riser_courses(job_of(('riser = "12 in"', 'riser = "7 in"')))
    assert len(courses) == 2
    assert courses[-1][2] == 7
    assert courses[0][0] + courses[1][0] == F("9/8")


def test_a_riser_without_a_nosing_by_hand() -> None:
    # 10 1/2 is four of 2 1/4 and four joints of 3/8.
    job = job_of(
        ('riser = "12 in"', 'riser = "10 1/2 in"'),
        ('nosing = "rowlock"', 'nosing = "none"'),
    )
    courses = riser_courses(job)
    assert [x[0] for x in courses] == [F("3/8")] * 4
    assert courses[-1][2] == F("21/2")
    hearth = hearth_of(job)
    riser = [x for x in hearth.layout.pieces if x.place != "hearth"]
    assert not any(x.kind == "rowlock" for x in riser)


def test_a_riser_that_can_t_land_says_so() -> None:
    # 8: one course and a nosing come to 7 1/8 at most, two to 8 7/8 at least.
    hearth = hearth_of(job_of(('riser = "12 in"', 'riser = "8 in"')))
    assert hearth.riser is not None
    assert not hearth.riser.coursing.targets[1].lands


def test_the_nosing_turns_the_corners_and_fills_its_runs() -> None:
    hearth = of_demo()
    nosing = [
        x
        for x in hearth.layout.pieces
        if x.place != "hearth" and x.course == 4
    ]  # fmt: skip
    assert {x.kind for x in nosing} == {"rowlock"}
    front = [x for x in nosing if x.place == "riser"]
    # The first and the last show their edge, as thick as the brick, on the ends.
    assert [x.id for x in front if len(x.outlines) == 2] == [front[0].id, front[-1].id]
    assert {x.outlines[1].face for x in front if len(x.outlines) == 2} == {
        "left riser",
        "right riser",
    }
    assert {
        x.outlines[1].right - x.outlines[1].left for x in front if len(x.outlines) == 2
    } == {F("5/8")}
    assert {x.outlines[0].top for x in nosing} == {12}
    assert {x.cut_edges[0] for x in nosing} == {"bottom"}


def test_marks_and_ids_are_shared_with_the_face() -> None:
    solution = solution_of("raised-hearth")
    ids = [piece.id for piece in solution.pieces]
    assert len(set(ids)) == len(ids)
    codes = {name.partition("-")[0] for name in ids}
    assert codes == {"F", "H", "HF", "HL", "HR"}
    # One mark is one size, wherever the piece lies.
    sizes: dict[str, set[tuple[Fraction, Fraction]]] = {}
    for piece in solution.pieces:
        lain = piece.as_sawn
        size = (piece.length, piece.height) if lain is None else (lain.right, lain.top)
        sizes.setdefault(piece.mark, set()).add(size)
    assert {mark: len(each) for mark, each in sizes.items() if len(each) > 1} == {}


# -------------------------------------------------------------------------------- proof


def with_pieces(hearth: BrickHearth, *pieces: Piece) -> BrickHearth:
    rest = tuple(x for x in hearth.layout.pieces if x.place != "hearth")
    return replace(hearth, layout=replace(hearth.layout, pieces=(*pieces, *rest)))


def moved(piece: Piece, dx: Fraction, dy: Fraction) -> Piece:
    return replace(piece, outlines=(piece.outlines[0].moved(dx, dy),))


def test_an_undamaged_hearth_is_proved() -> None:
    job = job_of()
    hearth = hearth_of(job)
    assert prove_hearth(job, with_pieces(hearth, *pieces_on_top(hearth))) is not None


@pytest.mark.parametrize(
    ("dx", "dy", "complaint"),
    [
        (F(-1, 4), F(0), "stand closer together than the least joint"),
        (F(-70), F(0), "leaves the hearth"),
        (F(0), F(30), "goes past the line where the firebox begins"),
        (F(0), F(-30), "leaves the hearth"),
    ],
)
def test_a_piece_that_is_moved_is_noticed(
    dx: Fraction, dy: Fraction, complaint: str
) -> None:
    job = job_of()
    hearth = hearth_of(job)
    every = pieces_on_top(hearth)
    at = next(i for i, x in enumerate(every) if x.kind == "stretcher" and not x.is_cut)
    wrong = (*every[:at], moved(every[at], dx, dy), *every[at + 1 :])
    with pytest.raises(NotProved) as found:
        prove_hearth(job, with_pieces(hearth, *wrong))
    assert any(complaint in line for line in found.value.lines())


def test_a_piece_that_is_missing_is_noticed() -> None:
    job = job_of()
    hearth = hearth_of(job)
    every = pieces_on_top(hearth)
    for at in (0, len(every) // 3, len(every) - 1):
        less = (*every[:at], *every[at + 1 :])
        with pytest.raises(NotProved, match="has no brick at"):
            prove_hearth(job, with_pieces(hearth, *less))


def test_a_triangle_that_is_missing_from_a_diagonal_is_noticed() -> None:
    job = job_of(('"herringbone 90"', '"herringbone 45"'))
    hearth = hearth_of(job)
    every = pieces_on_top(hearth)
    at = next(i for i, x in enumerate(every) if len(x.outlines[0].points) == 3)
    with pytest.raises(NotProved, match="has no brick at"):
        prove_hearth(job, with_pieces(hearth, *every[:at], *every[at + 1 :]))


def test_a_piece_twice_and_one_sawn_otherwise_are_noticed() -> None:
    job = job_of()
    hearth = hearth_of(job)
    first, *rest = pieces_on_top(hearth)
    second = replace(rest[0], id=first.id)
    with pytest.raises(NotProved, match="the same ID"):
        prove_hearth(job, with_pieces(hearth, first, second, *rest[1:]))
    at = next(i for i, x in enumerate(rest) if x.as_sawn is not None)
    ring = ((F(0), F(0)), (F(3), F(0)), (F(3), F(2)), (F(0), F(2)))
    wrong = replace(rest[at], as_sawn=Outline("hearth", ring))
    with pytest.raises(NotProved, match="not as large as in its place"):
        prove_hearth(
            job, with_pieces(hearth, first, *rest[:at], wrong, *rest[at + 1 :])
        )


def test_between_jambs_that_splay_no_brick_is_laid() -> None:
    splayed = ("[opening]\n", '[opening]\njamb_return = "2 in"\nsplay = 15\n')
    with pytest.raises(NotLaid, match=r"hearth\.brick\.back: .* write 1 in, so that"):
        hearth_of(job_of(splayed))
    stopped = ("[hearth.brick]\n", '[hearth.brick]\nback = "1 in"\n')
    assert hearth_of(job_of(splayed, stopped)).ground.between is None
    # Between square jambs it goes on to where the firebox begins.
    assert hearth_of(job_of()).ground.between is not None
