"""Combustible trim, against the published rules and just beside their steps."""

from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

DISTANCE, PROJECTION = ("trim-distance", 1), ("trim-projection", 1)

# The opening of the job: 35 wide, centred in 65, so 15 to 50 along; head at 24.


def above(distance, projection, **more):
    """Return a shelf over the whole face at a distance above the head."""
    return {
        "name": "shelf",
        "material": "oak",
        "left": "0 in",
        "bottom": Fraction(24) + Fraction(distance),
        "width": "65 in",
        "height": "2 in",
        "projection": Fraction(projection),
        **more,
    }


# IRC R1001.11 Exception 4, second-hand: not within 6 in; within 12 in a projection of
# at most 1/8 in for each inch of distance. Exactly 12 is still limited (the stricter
# reading, our own); beyond it the exception sets no limit.
@pytest.mark.parametrize(
    ("distance", "projection", "at_distance", "at_projection", "allowed"),
    [
        ("5", "1/4", "failed", "failed", "0"),
        ("95/16", "0", "failed", "passed", "0"),
        ("6", "3/4", "passed", "passed", "3/4"),
        ("6", "13/16", "passed", "failed", "3/4"),
        ("8", "1", "passed", "passed", "1"),
        ("8", "17/16", "passed", "failed", "1"),
        ("9", "9/8", "passed", "passed", "9/8"),
        ("10", "5/4", "passed", "passed", "5/4"),
        ("11", "11/8", "passed", "passed", "11/8"),
        ("12", "3/2", "passed", "passed", "3/2"),
        ("12", "13/8", "passed", "failed", "3/2"),
        ("193/16", "13/8", "passed", "passed", None),
        ("97/8", "6", "passed", "passed", None),
    ],
)
def test_wood_is_held_to_the_distance_and_the_projection_of_the_exception(
    review, distance, projection, at_distance, at_projection, allowed
):
    found = review(trim=[above(distance, projection)])
    assert found[DISTANCE].status == at_distance
    assert found[DISTANCE].measured == Fraction(distance)
    assert found[DISTANCE].limit == 6
    assert found[PROJECTION].status == at_projection
    assert found[PROJECTION].limit == (None if allowed is None else Fraction(allowed))
    assert found[PROJECTION].source == "IRC 2015, R1001.11 Exception 4"
    assert found[PROJECTION].source_status == "second-hand"


def test_the_margin_of_a_projection_is_what_is_left_of_the_allowed(review):
    found = review(trim=[above("8", "5/8")])
    assert found[PROJECTION].margin == Fraction(3, 8)


def test_a_passing_shelf_fails_when_it_comes_a_sixteenth_nearer(review):
    assert review(trim=[above("8", "1")])[PROJECTION].status == "passed"
    assert review(trim=[above("127/16", "1")])[PROJECTION].status == "failed"


def test_the_projection_is_also_told_from_the_old_wall(review):
    # 1 in out from the brick, and the mean build-out of 1 in behind it.
    says = review(trim=[above("8", "1")])[PROJECTION].says
    assert "1 in out from the finished brick face (2 in from the wall as found)" in says


def test_a_post_beside_the_leg_is_as_far_as_the_leg_is_wide(review):
    # From 57 to 60: 7 in right of the opening's edge at 50. 7/8 in is allowed.
    post = above(0, "7/8", left="57 in", width="3 in", bottom="0 in", height="40 in")
    found = review(trim=[post])
    assert found[DISTANCE].measured == 7
    assert found[PROJECTION].limit == Fraction(7, 8)
    assert found[PROJECTION].status == "passed"


def test_the_distance_to_a_corner_is_the_slope_not_the_sum(review):
    # 3 right of the opening's edge and 4 above its head: 5 in, exactly.
    block = above(4, "1/2", left="53 in", width="4 in")
    assert review(trim=[block])[DISTANCE].measured == 5
    # 6 and 6: the root of 72, rounded down.
    block = above(6, "1/2", left="56 in", width="4 in")
    measured = review(trim=[block])[DISTANCE].measured
    assert measured**2 <= 72 < (measured + Fraction(1, 10**6)) ** 2


def test_a_low_block_is_measured_to_the_opening_as_found(review):
    # The finish to be laid buries it, but the opening reached down to the datum.
    block = above(0, "1/4", left="57 in", width="3 in", bottom="0 in", height="1/2 in")
    assert review(trim=[block], hearth={"later": "3/4 in"})[DISTANCE].measured == 7


def test_trim_over_the_opening_is_at_no_distance(review):
    board = above(-2, "1/4", height="8 in")
    assert review(trim=[board])[DISTANCE].measured == 0
    assert review(trim=[board])[DISTANCE].status == "failed"


def test_the_stricter_of_found_and_finished_head_governs(review):
    shelf = [above("8", "1")]
    # The courses land 1/16 high: 7 15/16 is left, which allows 127/128.
    assert review(trim=shelf, head=Fraction(385, 16))[PROJECTION].status == "failed"
    # They land 1/16 low: the opening as found still counts.
    assert review(trim=shelf, head=Fraction(383, 16))[DISTANCE].measured == 8


def test_a_gap_at_the_jambs_brings_the_post_nearer(review):
    post = above(0, "7/8", left="57 in", width="3 in", bottom="0 in", height="40 in")
    gap = {"jambs": {"kind": "gap", "width": "1/4 in"}}
    assert review(trim=[post], edges=gap)[DISTANCE].measured == Fraction(27, 4)


def test_trim_is_placed_from_the_front_whatever_the_returns(review):
    post = above(0, "7/8", left="57 in", width="3 in", bottom="0 in", height="40 in")
    face = {"left_return": "10 in", "right_return": "10 in"}
    assert review(trim=[post], face=face)[DISTANCE].measured == 7


def test_woodwork_reaches_as_far_as_its_furthest_step_or_not_at_all(make_job):
    steps = [
        {"reach": "1 in", "projection": "3/4 in"},
        {"reach": "1 in", "projection": "1/2 in"},
    ]
    plain, unknown = above(6, "5/8"), {**above(6, 0), "projection": None}
    trims = [plain, {**unknown, "steps": steps}, unknown]
    furthest = [each.furthest for each in make_job(trim=trims).trim]
    assert furthest == [Fraction(5, 8), Fraction(3, 4), 0]


def test_each_step_of_a_profile_is_held_at_its_own_distance(review):
    # Steps from the edge nearest the opening: 3/4 out at 6 in, 1 out at 8, 1 1/2 at 12.
    steps = [
        {"reach": "2 in", "projection": "3/4 in"},
        {"reach": "4 in", "projection": "1 in"},
        {"reach": "3 in", "projection": "3/2 in"},
    ]
    shelf = above(6, 0, height="9 in", steps=steps)
    assert review(trim=[shelf])[PROJECTION].status == "passed"
    for place, worse in enumerate(("13/16 in", "17/16 in", "25/16 in")):
        damaged = [dict(step) for step in steps]
        damaged[place]["projection"] = worse
        found = review(trim=[{**shelf, "steps": damaged}])
        assert found[PROJECTION].status == "failed"
        assert found[PROJECTION].margin == Fraction(-1, 16)
        assert found[DISTANCE].measured == 6


def test_steps_run_away_from_the_opening_on_either_side(review):
    steps = [
        {"reach": "2 in", "projection": "3/4 in"},
        {"reach": "2 in", "projection": "1 in"},
    ]
    right = above(0, 0, left="56 in", bottom="0 in", width="4 in", height="40 in")
    left = above(0, 0, left="5 in", bottom="0 in", width="4 in", height="40 in")
    for post in (right, left):
        assert review(trim=[{**post, "steps": steps}])[PROJECTION].status == "passed"
        turned = [{**steps[0], "projection": "1 in"}, steps[1]]
        assert review(trim=[{**post, "steps": turned}])[PROJECTION].status == "failed"


@pytest.mark.parametrize(("beside", "above_head"), [(6, 8), (8, 6)])
def test_steps_at_a_corner_run_along_the_longer_of_the_two_ways(
    review, beside, above_head
):
    # 2 further: the root of 36 + 100 = 11.66, where 1.4577 is allowed; the other way
    # the root of 64 + 64 = 11.31, where 1.414 is.
    steps = [
        {"reach": "2 in", "projection": "1 in"},
        {"reach": "2 in", "projection": "1.45 in"},
    ]
    right = above(above_head, 0, left=Fraction(50 + beside), width="4 in", steps=steps)
    left = above(
        above_head, 0, left=Fraction(15 - beside - 4), width="4 in", steps=steps
    )
    for block in (right, left):
        assert review(trim=[block])[PROJECTION].status == "passed"


def test_a_step_within_the_rule_is_shown_before_one_beyond_it(review):
    steps = [
        {"reach": "5 in", "projection": "3/4 in"},
        {"reach": "2 in", "projection": "6 in"},
    ]
    finding = review(trim=[above(8, 0, height="7 in", steps=steps)])[PROJECTION]
    assert (finding.status, finding.limit) == ("passed", 1)
    assert finding.margin == Fraction(1, 4)


def test_of_two_steps_that_pass_the_one_with_least_to_spare_is_shown(review):
    # At 6 in just 3/4 may stand out; at 8 in 1 may, which leaves 1/4.
    steps = [{"reach": "2 in", "projection": "3/4 in"}] * 2
    finding = review(trim=[above(6, 0, height="4 in", steps=steps)])[PROJECTION]
    assert (finding.status, finding.margin, finding.limit) == (
        "passed",
        0,
        Fraction(3, 4),
    )


def test_of_two_steps_that_fail_the_worse_is_shown(review):
    # 1/16 too far at 6 in, then 1/4 too far at 8.
    steps = [
        {"reach": "2 in", "projection": "13/16 in"},
        {"reach": "2 in", "projection": "5/4 in"},
    ]
    finding = review(trim=[above(6, 0, height="4 in", steps=steps)])[PROJECTION]
    assert finding.margin == Fraction(-1, 4)


def test_each_piece_of_trim_is_named_with_its_own_figures(review):
    near, far = above(8, "1/2"), {**above(9, "1/2"), "name": "cap"}
    found = review(trim=[near, far])
    assert found[DISTANCE].measured == 8
    assert found["trim-distance", 2].measured == 9
    assert found["trim-projection", 2].limit == Fraction(9, 8)
    assert "the cap (oak)" in found["trim-distance", 2].says


@pytest.mark.parametrize(
    ("rules", "distance", "words"),
    [
        ("irc-2015", 13, "beyond 12 in the rule sets no limit"),
        ("canada-nbc", 13, "from 11 13/16 in on the rule sets no limit"),
        ("irc-2015", 3, "nothing that burns may stand within 6 in"),
        ("irc-2015", 8, "the rule allows 1 in there"),
    ],
)
def test_a_projection_says_what_it_was_held_to(review, rules, distance, words):
    found = review(trim=[above(distance, "1/2")], rules={"set": rules})
    assert found[PROJECTION].says.endswith(words)


@pytest.mark.parametrize("material", ["stone", "Slate", "cast iron", "Steel"])
def test_noncombustible_trim_is_not_held_to_the_rule_and_is_said_to_be(
    review, material
):
    found = review(trim=[above(1, 9, material=material)])
    assert found[DISTANCE].status == "passed"
    assert found[DISTANCE].source_status == "typed by the user"
    assert found[DISTANCE].says == (
        f"{material} counts as noncombustible, as typed, so the rule does not apply"
    )
    assert PROJECTION not in found


@pytest.mark.parametrize(
    "material", ["oak", "painted pine", "MDF", "", "vinyl", "cultured marble", "slat"]
)
def test_wood_and_what_is_not_known_count_as_combustible(review, material):
    assert review(trim=[above(1, 9, material=material)])[DISTANCE].status == "failed"


def test_the_person_may_say_that_a_material_does_not_burn_but_not_of_wood(review):
    def reviewed(material, combustible):
        trim = above(1, 9, material=material, combustible=combustible)
        return review(trim=[trim])[DISTANCE].status

    assert reviewed("cement board", False) == "passed"
    assert reviewed("stone", True) == "failed"
    assert reviewed("treated oak", False) == "failed"


def test_a_projection_that_is_not_given_is_not_checked(review):
    shelf = above(8, 0)
    del shelf["projection"]
    finding = review(trim=[shelf])[PROJECTION]
    assert finding.status == "not checked"
    assert "how far it stands out from the finished brick face was" in finding.says
    assert finding.keys == ("trim[1].projection",)


def test_a_job_without_trim_is_asked_for_it(review):
    finding = review(trim=[])["trim"]
    assert finding.status == "not checked"
    assert "no trim was listed" in finding.says
    assert finding.keys == ("[[trim]]",)


# National Building Code of Canada, as Ontario prints it, read in the source: nothing
# within 150 mm; what projects more than 38 mm above the opening, at least 300 mm above.
MM = Fraction(10, 254)


@pytest.mark.parametrize(
    ("distance", "projection", "at_distance", "at_projection"),
    [
        (149, 0, "failed", "passed"),
        (150, 38, "passed", "passed"),
        (250, 38, "passed", "passed"),
        (250, 50, "passed", "failed"),
        (299, 39, "passed", "failed"),
        (300, 39, "passed", "passed"),
        (300, 500, "passed", "passed"),
    ],
)
def test_the_metric_set_has_a_step_above_the_opening(
    review, distance, projection, at_distance, at_projection
):
    shelf = above(distance * MM, projection * MM)
    found = review(trim=[shelf], rules={"set": "canada-nbc"})
    assert found[DISTANCE].status == at_distance
    assert found[PROJECTION].status == at_projection


def test_the_metric_step_is_for_what_stands_above_the_opening(review):
    post = above(0, 2, left="58 in", width="3 in", bottom="0 in", height="40 in")
    found = review(trim=[post], rules={"set": "canada-nbc"})
    assert found[PROJECTION].status == "passed"
    assert "above the opening" in found[PROJECTION].says
    corner = above(6, 2, left="56 in", width="3 in")
    found = review(trim=[corner], rules={"set": "canada-nbc"})
    assert found[PROJECTION].limit is None


@pytest.mark.parametrize("rules", ["irc-2015", "canada-nbc"])
@settings(
    max_examples=60,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
    deadline=None,
)
@given(
    far=st.fractions(0, 20, max_denominator=64),
    nearer=st.fractions(0, 20, max_denominator=64),
    projection=st.fractions(0, 4, max_denominator=64),
)
def test_nothing_passes_nearer_that_fails_farther(
    review, rules, far, nearer, projection
):
    near = max(Fraction(0), far - nearer)
    at_far = review(trim=[above(far, projection)], rules={"set": rules})
    at_near = review(trim=[above(near, projection)], rules={"set": rules})
    for rule in (DISTANCE, PROJECTION):
        assert not (
            at_far[rule].status == "failed" and at_near[rule].status == "passed"
        )


def test_a_shelf_too_near_or_too_far_out_is_told_the_smallest_change(review):
    """Opening to 24 in; a shelf at 29 is 5 in off: an inch short, and 1/4."""
    low = shelf_at("29 in")
    found = review(trim=[low])[DISTANCE]
    spare = "with 1/4 in to spare"
    away = f"move the shelf 1 1/4 in further from the opening, {spare}"
    assert found.mends == (away,)
    # At 32 in, 8 in off, an inch may stand out: of 1 1/2 in, 3/4 is left.
    out = {**shelf_at("32 in"), "projection": "1 1/2 in"}
    found = review(trim=[out])[PROJECTION]
    mend = f"let the shelf stand out no more than 3/4 in from the brick, {spare}"
    assert found.mends == (mend,)
    assert review()[DISTANCE].mends == ()


def shelf_at(bottom):
    return {
        "name": "shelf",
        "left": "0 in",
        "bottom": bottom,
        "width": "65 in",
        "height": "2 in",
        "projection": "1/2 in",
    }
