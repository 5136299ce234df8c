"""The review of a hearth laid in brick: each rule both ways."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from shopdraw.job.reading import parse_job
from shopdraw.masonry.hearth.form import LeftOut
from shopdraw.masonry.wall.bond_rules import BrokenRule
from shopdraw.pipeline import solve
from shopdraw.review.brick_hearth import review_brick_hearth
from shopdraw.review.findings import Finding, Key
from shopdraw.solution import Solution
from tests.demos import CONFIGS, solution_of
from tests.findings import by_key

F = Fraction
TEXT = (CONFIGS / "raised-hearth.toml").read_text("utf-8")


@cache
def solved(*changes: tuple[str, str]) -> Solution:
    text = TEXT
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return solve(parse_job(text, "hearth.toml"))


def finding(solution: Solution, key: Key) -> Finding:
    found = solution.finding(key)
    assert found is not None
    return found


def test_the_demo_passes_what_can_be_checked_and_no_more() -> None:
    solution = solution_of("raised-hearth")
    assert solution.is_clear
    of_hearth = [x for x in solution.findings if x.rule.key.startswith("hearth")]
    not_checked = [x.rule.key for x in of_hearth if x.status != "passed"]
    # What carries it is the local code's.
    assert not_checked == ["hearth-support"]


def test_the_extension_is_measured_to_the_finished_riser_at_its_least() -> None:
    # 22 3/8, and 5/8 of brick on a bed of 1/4 at least; less 5/8 on a bed of 1/2.
    front = finding(solution_of("raised-hearth"), "hearth-front")
    assert front.measured == F("179/8") + F("7/8") - F("9/8")
    side = solution_of("raised-hearth").finding("hearth-side", "left")
    assert side is not None
    assert side.measured == 15 + F("7/8")
    flat = solved(('riser = "12 in"', '# riser = "12 in"'))
    assert finding(flat, "hearth-front").measured == F("179/8") - F("9/8")


def test_without_the_firebox_s_line_its_finding_is_not_checked() -> None:
    solution = solved(('firebox = "4 in"', ""))
    found = finding(solution, "hearth-firebox")
    assert found.status == "not checked"
    assert found.keys == ("opening.firebox",)
    assert solution.finding("hearth-strip") is None


def test_a_strip_before_the_firebox_too_narrow_for_brick_fails() -> None:
    # The firebox begins 2 behind the face, the wall 1: no room for a joint and a row.
    found = finding(solved(('firebox = "4 in"', 'firebox = "2 in"')), "hearth-strip")
    assert found.status == "failed"
    assert found.measured == 1


@pytest.mark.parametrize(
    ("slab", "key", "status", "measured"),
    [
        ("1 1/8 in", "hearth-bed", "passed", F("1/2")),
        ("1 1/4 in", "hearth-bed", "failed", F("5/8")),
        ("3/4 in", "hearth-bed-thin", "failed", F("1/8")),
    ],
)
def test_the_bed_is_what_the_slab_leaves(
    slab: str, key: Key, status: str, measured: Fraction
) -> None:
    found = finding(solved(('slab = "1 1/8 in"', f'slab = "{slab}"')), key)
    assert (found.status, found.measured) == (status, measured)


def test_a_slab_that_was_not_measured_passes_nothing() -> None:
    found = finding(solved(('slab = "1 1/8 in"', "")), "hearth-bed")
    assert found.status == "not checked"
    assert found.keys == ("hearth.brick.slab",)


@pytest.mark.parametrize(
    ("floor", "key", "status", "says"),
    [
        ("1 1/8 in", "hearth-fire-floor", "passed", "flush"),
        ("1 in", "hearth-fire-floor", "failed", "1/8 in below"),
        ("2 in", "hearth-fire-floor-high", "failed", "7/8 in above"),
    ],
)
def test_the_fire_s_floor_comes_out_where_it_was_planned(
    floor: str, key: Key, status: str, says: str
) -> None:
    solution = solved(('fire_floor = "1 1/8 in"', f'fire_floor = "{floor}"'))
    found = finding(solution, key)
    assert found.status == status
    assert says in found.says


@pytest.mark.parametrize(
    ("without", "keys"),
    [
        (("raised",), ("hearth.raised",)),
        (("fire_floor",), ("hearth.brick.fire_floor",)),
        (("raised", "fire_floor"), ("hearth.brick.fire_floor", "hearth.raised")),
    ],
)
def test_what_was_not_given_of_the_fire_s_floor_is_asked_for(
    without: tuple[str, ...], keys: tuple[str, ...]
) -> None:
    given = {"raised": 'raised = "0 in"', "fire_floor": 'fire_floor = "1 1/8 in"'}
    solution = solved(*[(given[name], "") for name in without])
    found = finding(solution, "hearth-fire-floor")
    assert (found.status, found.keys) == ("not checked", keys)


def test_a_riser_that_does_not_land_fails_by_its_miss() -> None:
    # One course and a nosing come to 7 1/8 at most: 7/8 short of 8.
    solution = solved(('riser = "12 in"', 'riser = "8 in"'))
    found = finding(solution, "hearth-riser")
    assert found.status == "failed"
    assert found.measured == F("7/8")
    assert not solution.is_clear


def test_a_piece_that_falls_short_is_named() -> None:
    solution = solved(('"herringbone 90"', '"herringbone 45"'))
    found = finding(solution, "hearth-pieces")
    assert found.status == "failed"
    assert found.pieces
    assert any(name in found.says for name in found.pieces)
    assert "of a brick's face" in found.says


def test_the_takeoff_measures_the_hearth_by_hand() -> None:
    takeoff = solution_of("raised-hearth").takeoff
    # From above: 64 x 22 3/8, and between the jambs 33 1/4 x 2 1/4.
    top = 64 * F("179/8") + F("133/4") * F("9/4")
    assert takeoff.row("hearth area").net == top / 144
    # The riser: 66 and twice 23 3/8 long, 12 high.
    riser = (66 + 2 * F("187/8")) * 12
    assert takeoff.row("riser area").net == riser / 144
    wall = F("57.25") * F("34.625") - 34 * 27
    assert takeoff.row("face area").net == (wall + top + riser) / 144
    # Beds: 3/8 and 1/16 on wall and riser, 1/2 and 1/16 under the hearth.
    mortar = (wall + riser) * F("7/16") + top * F("9/16")
    assert takeoff.row("setting mortar").net == mortar / 1728


@pytest.mark.parametrize(
    ("widths", "says"),
    [
        (
            ("1/4",),
            "1 place at the pattern's edge is left to mortar, the widest 1/4 in",
        ),
        (("1/4", "1/3"), "2 places at the pattern's edge are left to mortar"),
    ],
)
def test_what_mortar_takes_of_a_hearth_is_told_by_its_widest(
    widths: tuple[str, ...], says: str
) -> None:
    solution = solution_of("raised-hearth")
    hearth = solution.hearth
    assert hearth is not None
    outline = hearth.layout.pieces[0].outlines[0]
    left_out = tuple(LeftOut(outline, F(wide)) for wide in widths)
    found = by_key(
        review_brick_hearth(solution.job, replace(hearth, left_out=left_out))
    )
    assert found["hearth-left-out"].measured == F(widths[-1])
    assert says in found["hearth-left-out"].says
    assert "hearth-left-out" not in by_key(review_brick_hearth(solution.job, hearth))


def test_a_rule_of_the_bond_that_the_riser_breaks_fails_with_its_pieces() -> None:
    solution = solution_of("raised-hearth")
    hearth = solution.hearth
    assert hearth is not None
    broken = BrokenRule("least lap", F(2), F(1), ("R-01-01",), "the riser is short")
    layout = replace(hearth.layout, broken=(broken,))
    found = by_key(review_brick_hearth(solution.job, replace(hearth, layout=layout)))
    each = found["hearth-riser-bond", "least lap"]
    assert (each.status, each.margin, each.pieces) == ("failed", -1, ("R-01-01",))
    assert "the riser is short" in each.says
