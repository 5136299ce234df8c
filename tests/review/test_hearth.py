"""The hearth extension, against the published tables and just beside their steps."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdraw.review.findings import Limit, Rule, hold

FRONT, LEFT, RIGHT = "hearth-front", ("hearth-side", "left"), ("hearth-side", "right")
SIDES = {"front": FRONT, "left": LEFT, "right": RIGHT}


# IRC 2015 Table R1001.1, read in the source; areas are arithmetic:
# 35 x 24 = 5.833 sq ft, 36 x 24 = 6.000 exactly, 36 x 29 = 7.25, 30 x 29 = 6.042,
# 30 x 26 = 5.417, 28 x 24 = 4.667.
@pytest.mark.parametrize(
    ("width", "height", "front", "sides"),
    [
        (35, 24, 16, 8),
        (36, 24, 20, 12),
        (36, 29, 20, 12),
        (30, 26, 16, 8),
        (30, 29, 20, 12),
        (28, 24, 16, 8),
    ],
)
def test_the_limits_are_those_of_the_table_for_the_opening_area(
    review, width, height, front, sides
):
    found = review(opening={"width": f"{width} in", "height": f"{height} in"})
    assert found[FRONT].limit == front
    assert found[LEFT].limit == found[RIGHT].limit == sides
    assert found[FRONT].source == "IRC 2015, Table R1001.1 and R1001.10"
    assert found[FRONT].source_status == "read in the source"


def test_the_area_that_the_limit_goes_by_is_told_in_either_lengths(review):
    assert review()[FRONT].says.endswith("for an opening of 5.83 sq ft")
    # 700 x 600 mm = 0.42 m2 = 4.5208 sq ft.
    opening = {"width": "700 mm", "height": "600 mm"}
    metric = review(job={"lengths": "mm"}, opening=opening)
    assert metric[FRONT].says.endswith("for an opening of 4.52 sq ft")


def test_the_front_is_measured_from_the_greatest_build_out(review):
    # 22 found - (1/2 bed + 5/8 brick) = 20 7/8; 20 7/8 - 16 = 4 7/8 to spare.
    front = review()[FRONT]
    assert (front.measured, front.margin) == (Fraction(167, 8), Fraction(39, 8))
    assert front.status == "passed"
    assert "22 in from the wall as found, less 1 1/8 in" in front.says


def test_what_eats_into_the_hearth_never_reads_as_less_than_it_is(review):
    # 1/2 bed + 0.63 brick = 1.13 in, 72.32 of 64ths: 73, not 72.
    front = review(brick={"thickness": "0.63 in"})[FRONT]
    assert "22 in from the wall as found, less 1 9/64 in" in front.says
    # 17.05 - 1.13 = 15.92 of 16: with a quarter 0.33 short, 21.12 of 64ths: 22.
    hearth = {"front": "17.05 in"}
    short = review(brick={"thickness": "0.63 in"}, hearth=hearth)[FRONT]
    assert short.mends == (extended("11/32 in to the front"),)


def test_a_hearth_of_16_is_eaten_by_a_build_out_of_1(review):
    # 16 in front, build-out 1 (3/8 bed, 5/8 brick), small opening: 15 left.
    # Arithmetic from the table, which was read in the source.
    found = review(
        hearth={"front": "16 in"}, setting_bed={"least": "3/8 in", "most": "3/8 in"}
    )
    assert found[FRONT].measured == 15
    assert found[FRONT].margin == -1
    assert found[FRONT].status == "failed"


@pytest.mark.parametrize("measured_to", ["substrate", "finish"])
def test_the_build_out_is_taken_off_whatever_the_face_was_measured_to(
    review, measured_to
):
    assert review(face={"measured_to": measured_to})[FRONT].measured == Fraction(167, 8)


@pytest.mark.parametrize(
    ("front", "status"),
    [("17 1/16 in", "failed"), ("17 1/8 in", "passed"), ("17 3/16 in", "passed")],
)
def test_the_front_fails_a_sixteenth_short_of_its_limit(review, front, status):
    # 17 1/8 less the build-out of 1 1/8 is the 16 of the table exactly.
    assert review(hearth={"front": front})[FRONT].status == status


@pytest.mark.parametrize(
    ("side", "status"),
    [("7 15/16 in", "failed"), ("8 in", "passed"), ("8 1/16 in", "passed")],
)
@pytest.mark.parametrize("name", ["left", "right"])
def test_each_side_fails_a_sixteenth_short_of_its_limit(review, name, side, status):
    found = review(hearth={name: side})
    assert found[SIDES[name]].status == status
    other = RIGHT if name == "left" else LEFT
    assert found[other].status == "passed"


def test_exactly_6_sq_ft_as_finished_takes_the_larger_step(review):
    # Found 35 x 24; a head got at 24 24/35 makes 35 x 864/35 = 864 sq in = 6 sq ft.
    at = review(head=Fraction(864, 35))
    under = review(head=Fraction(864, 35) - Fraction(1, 1000))
    assert (at[FRONT].limit, under[FRONT].limit) == (20, 16)
    assert "the finished opening is larger than the one found" in at[FRONT].says


def test_the_opening_as_found_governs_when_it_is_the_larger(review):
    # Found 36 x 24 = 6 sq ft; the head comes down to 23 3/4 in as finished.
    found = review(opening={"width": "36 in"}, head=Fraction(95, 4))
    assert found[FRONT].limit == 20
    assert "the opening as found is larger than the finished one" in found[FRONT].says


def test_the_finish_to_be_laid_is_taken_off_the_finished_opening(review):
    # 35 x (864/35 - 1/16) is under 6 sq ft; so is the opening as found.
    found = review(head=Fraction(864, 35), hearth={"later": "1/16 in"})
    assert found[FRONT].limit == 16


def test_without_a_hearth_the_opening_is_still_reckoned_from_the_datum(review):
    assert review(head=Fraction(864, 35), hearth=None)[FRONT].limit == 20


def test_a_gap_at_the_jambs_moves_the_finished_edge_out(review):
    # 14 beyond the opening as found, the brick 1/4 back of it: 13 3/4 is left.
    # The opening is 35 1/2 x 24 = 5.917 sq ft as finished: still under 6.
    found = review(edges={"jambs": {"kind": "gap", "width": "1/4 in"}})
    assert found[LEFT].measured == found[RIGHT].measured == Fraction(55, 4)
    assert found[FRONT].limit == 16
    assert "leaves that edge 1/4 in further out than it was found" in found[LEFT].says


@pytest.mark.parametrize("kind", ["mortar", "soft"])
def test_a_filled_joint_at_the_jambs_leaves_the_edge_where_it_was(review, kind):
    found = review(edges={"jambs": {"kind": kind, "width": "1/4 in"}})
    assert found[LEFT].measured == 14
    assert "further out" not in found[LEFT].says
    assert "governs" not in found[FRONT].says


def test_a_gap_can_carry_the_opening_over_the_step(review):
    # 35 1/2 x 24 = 852 sq in; with 1/4 in gaps 36 x 24 = 864 = 6 sq ft.
    opening = {"width": "35 1/2 in"}
    plain = review(opening=opening)
    gap = review(opening=opening, edges={"jambs": {"kind": "gap", "width": "1/4 in"}})
    assert (plain[LEFT].limit, gap[LEFT].limit) == (8, 12)


def test_a_finish_still_to_be_laid_is_reported(review):
    says = review(hearth={"later": "3/4 in"})[FRONT].says
    assert "3/4 in of finish, still to be laid on the hearth" in says
    assert "23 1/4 in high" in says
    unchanged = review()[FRONT].says
    assert "still to be laid" not in unchanged
    assert "governs" not in unchanged


@pytest.mark.parametrize("key", ["front", "left", "right"])
def test_a_missing_figure_is_not_checked_and_is_asked_for(review, key):
    finding = review(hearth={key: None})[SIDES[key]]
    assert finding.status == "not checked"
    assert finding.measured is None
    assert f"how far the hearth reaches to the {key} was not given" in finding.says
    assert ": measure from the " in finding.says
    assert finding.keys == (f"hearth.{key}",)


def test_without_a_hearth_nothing_of_it_is_passed(review):
    found = review(hearth=None)
    assert {found[rule].status for rule in (FRONT, LEFT, RIGHT)} == {"not checked"}


def test_a_combustible_hearth_fails_however_long_it_is(review):
    found = review(hearth={"material": "combustible", "front": "90 in"})
    assert {found[rule].status for rule in (FRONT, LEFT, RIGHT)} == {"failed"}
    assert "the hearth was given as combustible" in found[FRONT].says
    assert found[FRONT].keys == ()


def test_a_hearth_of_unknown_material_never_passes(review):
    found = review(hearth={"material": None})
    assert {found[rule].status for rule in (FRONT, LEFT, RIGHT)} == {"not checked"}
    assert found[FRONT].margin is None
    assert "what the hearth is made of was not given" in found[FRONT].says
    assert found[FRONT].keys == ("hearth.material",)


def test_a_hearth_of_unknown_material_that_is_too_short_fails(review):
    assert review(hearth={"material": None, "left": "2 in"})[LEFT].status == "failed"


@pytest.mark.parametrize(
    ("appliance", "rules", "wanted", "key"),
    [
        (
            {"kind": None},
            {},
            "the kind of fireplace was not given: masonry, factory-built or gas",
            "appliance.kind",
        ),
        ({}, {"set": ""}, "no code was named: ask the office", "rules.set"),
        (
            {},
            {"set": "irc-1899"},
            'no rules are known here for "irc-1899": ask the office',
            "rules.set",
        ),
    ],
)
def test_without_a_kind_or_a_rule_set_nothing_is_checked(
    review, appliance, rules, wanted, key
):
    found = review(appliance=appliance, rules=rules)
    for rule in (FRONT, LEFT, RIGHT):
        assert found[rule].status == "not checked"
        assert found[rule].limit is None
        assert wanted in found[rule].says
        assert found[rule].keys == (key,)
    # What could be measured is still shown.
    assert found[FRONT].measured == Fraction(167, 8)


# National Building Code of Canada, as Ontario prints it, read in the source:
# 400 mm in front of the facing, 200 mm beside, whatever the area;
# fire floor raised 150 to 300 mm: 50 more; over 300: 25 for each 50 mm.
def test_the_metric_set_asks_400_in_front_and_200_beside(review):
    found = review(rules={"set": "canada-nbc"}, hearth={"raised": "0 in"})
    mm = Fraction(10, 254)
    assert "sq ft" not in found[FRONT].says
    assert found[FRONT].limit == 400 * mm
    assert found[LEFT].limit == 200 * mm
    assert found[FRONT].source_status == "read in the source"


@pytest.mark.parametrize(
    ("raised", "front"),
    [(0, 400), (149, 400), (150, 450), (300, 450), (301, 475), (350, 475), (351, 500)],
)
def test_a_raised_fire_floor_asks_for_more_in_front(review, raised, front):
    found = review(rules={"set": "canada-nbc"}, hearth={"raised": f"{raised} mm"})
    assert found[FRONT].limit == front * Fraction(10, 254)
    assert ("for the raised fire floor" in found[FRONT].says) == (front > 400)
    assert "raised" not in found[LEFT].says
    assert "hearth extension, raised fire floor" not in found


def test_a_raised_fire_floor_that_is_not_given_is_not_checked(review):
    found = review(rules={"set": "canada-nbc"})
    finding = found["hearth-raised"]
    assert finding.status == "not checked"
    assert finding.rule.words == "hearth extension, raised fire floor"
    assert "how far the fire's floor stands above" in finding.says
    assert finding.keys == ("hearth.raised",)


def test_another_metric_set_has_its_own_figures_and_says_what_it_lacks(review):
    # Approved Document J: 500 in front, 150 beside, second-hand; no trim rule read.
    found = review(rules={"set": "england-adj"})
    assert found[FRONT].limit == 500 * Fraction(10, 254)
    assert found[LEFT].limit == 150 * Fraction(10, 254)
    assert found[FRONT].source_status == "second-hand"
    trim = found["trim-distance", 1]
    assert (trim.status, trim.source_status) == ("not checked", "not read")


@given(
    near=st.fractions(0, 40, max_denominator=64),
    more=st.fractions(0, 10, max_denominator=64),
)
def test_a_longer_hearth_never_fails_where_a_shorter_one_passes(near, more):
    limit = Limit(Fraction(16), "table", "read in the source")
    rule = Rule("hearth-front", "front")
    short, long = hold(rule, near, limit, ""), hold(rule, near + more, limit, "")
    assert not (short.status == "passed" and long.status == "failed")
    assert short.margin == near - 16


def extended(by: str) -> str:
    return f"extend the noncombustible hearth by {by}, with 1/4 in to spare"


def test_a_short_hearth_is_to_be_extended_never_the_opening_narrowed(review):
    """16 in of hearth less 1 1/8 of brick is 14 7/8: 1 1/8 short, and a quarter."""
    found = review(hearth={"front": "16 in", "left": "7 in"})
    front, left = found[FRONT], found[LEFT]
    assert front.mends == (extended("1 3/8 in to the front"),)
    assert left.mends == (extended("1 1/4 in to the left"),)
    for finding in found.values():
        assert not any("narrow" in mend for mend in finding.mends)
    for mend in (front.mends, left.mends):
        assert len(mend) == 1
