"""A listed appliance: no code's figure is held against it, only its manual's."""

from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

HEARTH = ("hearth-front", ("hearth-side", "left"), ("hearth-side", "right"))
TRIM = (("trim-distance", 1), ("trim-projection", 1))
FACING = "facing-thickness"
PROUD = "facing-proud"
MANUAL = {
    "document": "Installation instructions G-40",
    "page": "12",
    "hearth_front": "18 in",
    "hearth_sides": "6 in",
    "combustibles": "7 in",
    "mantel": [
        {"distance": "8 in", "projection": "3 in"},
        {"distance": "12 in", "projection": "6 in"},
    ],
    "facing_most": "1 1/4 in",
}


def listed(kind="gas", **changes):
    """Return an appliance with its manual's figures changed; None takes one away."""
    manual = {key: value for key, value in {**MANUAL, **changes}.items() if value}
    return {"kind": kind, "manual": manual}


def keys_of(*names):
    """Return the keys of the manual's table."""
    return tuple(f"appliance.manual.{name}" for name in names)


def shelf(distance, projection):
    return [
        {
            "name": "shelf",
            "left": "0 in",
            "bottom": Fraction(24) + Fraction(distance),
            "width": "65 in",
            "height": "2 in",
            "projection": Fraction(projection),
        }
    ]


@pytest.mark.parametrize("kind", ["gas", "factory-built"])
def test_without_its_manual_nothing_of_a_listed_appliance_is_checked(review, kind):
    # The shelf would fail the masonry rule, and the hearth would pass it.
    found = review(appliance={"kind": kind}, trim=shelf(2, 3))
    for rule in (*HEARTH, *TRIM, FACING):
        assert found[rule].status == "not checked"
        assert found[rule].limit is None
        assert found[rule].source == "the manual of the appliance"
    assert "the listing and the maker's instructions govern" in found[HEARTH[0]].says
    assert found[HEARTH[0]].keys == keys_of("hearth_front", "document", "page")


@pytest.mark.parametrize("missing", ["document", "page"])
def test_figures_without_document_and_page_count_for_nothing(review, missing):
    found = review(appliance=listed(**{missing: ""}), trim=shelf(9, 2))
    for rule in (*HEARTH, *TRIM, FACING):
        assert found[rule].status == "not checked"
        assert "only when the document and the page" in found[rule].says
        assert found[rule].keys == keys_of("document", "page")


def test_passed_reads_that_it_meets_the_figures_as_typed(review):
    found = review(appliance=listed(), trim=shelf(9, 2))
    for rule in (*HEARTH, *TRIM, FACING):
        assert found[rule].status == "passed"
        assert found[rule].says.startswith(
            "meets the figures typed from Installation instructions G-40, page 12"
        )
        assert found[rule].source == "Installation instructions G-40, page 12"
        assert found[rule].source_status == "typed by the user"


def test_example_figures_say_so_first_in_words_and_source(review):
    found = review(appliance=listed(example=True), trim=shelf(9, 2))
    for rule in (*HEARTH, *TRIM, FACING):
        assert found[rule].says.startswith("EXAMPLE FIGURES: meets")
        assert found[rule].source.startswith("EXAMPLE FIGURES: Installation")


def test_braces_in_a_documents_name_are_printed_as_typed(review):
    found = review(appliance=listed(document="{0} {x}"))
    assert found[FACING].says.startswith(
        "meets the figures typed from {0} {x}, page 12"
    )


def test_the_figures_are_the_manuals_not_the_codes(review):
    found = review(appliance=listed(), trim=shelf(9, 2))
    assert found[HEARTH[0]].limit == 18
    assert found[HEARTH[1]].limit == found[HEARTH[2]].limit == 6
    assert found[TRIM[0]].limit == 7


# 20 7/8 is left in front of the brick; the greatest build-out is 1 1/8; sides are 14.
@pytest.mark.parametrize(
    ("key", "rule", "at", "over"),
    [
        ("hearth_front", HEARTH[0], "20 7/8 in", "20 15/16 in"),
        ("hearth_sides", HEARTH[1], "14 in", "14 1/16 in"),
        ("hearth_sides", HEARTH[2], "14 in", "14 1/16 in"),
        ("combustibles", TRIM[0], "9 in", "9 1/16 in"),
        ("facing_most", FACING, "1 1/8 in", "1 1/16 in"),
    ],
)
def test_a_manuals_figure_moved_by_a_sixteenth_turns_passed_to_failed(
    review, key, rule, at, over
):
    passed = review(appliance=listed(**{key: at}), trim=shelf(9, 2))[rule]
    failed = review(appliance=listed(**{key: over}), trim=shelf(9, 2))[rule]
    assert (passed.status, passed.margin) == ("passed", 0)
    assert passed.says.startswith("meets the figures typed from")
    assert (failed.status, failed.margin) == ("failed", Fraction(-1, 16))
    assert failed.says.startswith("does not meet the figures typed from")


@pytest.mark.parametrize(
    ("key", "rule"),
    [
        ("hearth_front", HEARTH[0]),
        ("hearth_sides", HEARTH[1]),
        ("combustibles", TRIM[0]),
        ("mantel", TRIM[1]),
        ("facing_most", FACING),
    ],
)
def test_a_figure_the_manual_gives_but_the_job_does_not_is_asked_for(review, key, rule):
    finding = review(appliance=listed(**{key: None}), trim=shelf(9, 2))[rule]
    assert finding.status == "not checked"
    assert "what the manual asks here was not given" in finding.says
    assert finding.keys == keys_of(key)


@pytest.mark.parametrize(
    ("distance", "projection", "status", "allowed"),
    [
        ("127/16", "0", "passed", "0"),
        ("127/16", "1/16", "failed", "0"),
        ("8", "3", "passed", "3"),
        ("8", "49/16", "failed", "3"),
        ("191/16", "49/16", "failed", "3"),
        ("12", "6", "passed", "6"),
        ("11", "7", "failed", "3"),
        ("12", "97/16", "not checked", None),
        ("40", "6", "passed", "6"),
        ("40", "97/16", "not checked", None),
    ],
)
def test_a_mantel_table_is_read_line_by_line_and_never_between_or_beyond(
    review, distance, projection, status, allowed
):
    found = review(appliance=listed(), trim=shelf(distance, projection))
    finding = found[TRIM[1]]
    assert finding.status == status
    assert finding.limit == (None if allowed is None else Fraction(allowed))


def test_a_mantel_table_says_nothing_of_trim_beside_the_opening(review):
    post = [{**shelf(0, 1)[0], "left": "58 in", "width": "3 in", "height": "40 in"}]
    post[0]["bottom"] = "0 in"
    found = review(appliance=listed(), trim=post)
    assert found[TRIM[0]].status == "passed"
    assert found[TRIM[1]].status == "not checked"


def test_a_step_that_the_table_does_not_reach_outweighs_one_that_passes(review):
    steps = [
        {"reach": "4 in", "projection": "3 in"},
        {"reach": "2 in", "projection": "7 in"},
    ]
    profile = [{**shelf(8, 0)[0], "height": "6 in", "steps": steps}]
    finding = review(appliance=listed(), trim=profile)[TRIM[1]]
    assert finding.status == "not checked"
    assert "the mantel table go no further than 6 in of projection" in finding.says
    assert finding.keys == keys_of("mantel")


def questions(found):
    """Return what is only asked, by what is asked after."""
    return {x.rule.words: x for x in found.values() if x.rule.key == "question"}


def test_air_openings_are_asked_about_and_gas_has_its_shut_off(review):
    gas = review(appliance=listed("gas"))
    built = review(appliance=listed("factory-built"))
    masonry = review()
    air, shut_off = "air openings and access", "gas shut-off"
    for found, asked in ((gas, 2), (built, 1), (masonry, 0)):
        assert len({air, shut_off} & set(questions(found))) == asked
    assert questions(gas)[shut_off].status == "not checked"
    assert "nameplate" in questions(built)[air].says
    assert gas[FACING].rule.words == "facing thickness"
    assert FACING not in masonry


@pytest.mark.parametrize("kind", ["gas", "factory-built"])
def test_what_may_burn_beside_a_listed_unit_is_not_checked(review, kind):
    stud = {"name": "stud", "kind": "framing", "to_masonry": "9 in"}
    tile = {"name": "tile", "kind": "wall finish", "combustible": False}
    found = review(appliance=listed(kind), beside=[stud, tile])
    assert found["beside", 1].status == "not checked"
    assert found["beside", 1].rule.words == "framing beside the brick: stud"
    assert "has clearances of its own" in found["beside", 1].says
    assert ("beside", 2) not in found


def test_a_masonry_fireplace_is_not_held_to_a_manual(review):
    found = review(appliance=listed("masonry"))
    assert found[HEARTH[0]].limit == 16


# Bed 1/2 in and brick 5/8 in stand 1 1/8 in out at the most, a flange of 1/4 in less.
@pytest.mark.parametrize(
    ("flange", "most", "status", "margin"),
    [
        ("1/4", "7/8", "passed", "0"),
        ("1/4", "13/16", "failed", "-1/16"),
        ("1/4", "1", "passed", "1/8"),
        ("3/16", "7/8", "failed", "-1/16"),
        ("0", "9/8", "passed", "0"),
        ("5/4", "0", "passed", "1/8"),
    ],
)
@pytest.mark.parametrize("kind", ["gas", "factory-built"])
def test_the_brick_stands_past_the_flange_by_the_build_out_less_the_flange(
    review, kind, flange, most, status, margin
):
    appliance = {**listed(kind, proud_most=f"{most} in"), "flange": Fraction(flange)}
    finding = review(appliance=appliance)[PROUD]
    assert (finding.status, finding.margin) == (status, Fraction(margin))
    assert finding.measured == Fraction(9, 8) - Fraction(flange)
    assert finding.rule.words == "brick proud of the flange"


def test_the_brick_and_the_flange_are_told_with_their_own_figures(review):
    """A sixteenth and the quarter by which a change goes past its limit: 5/16 in."""
    appliance = {**listed(proud_most="13/16 in"), "flange": "1/4 in"}
    finding = review(appliance=appliance)[PROUD]
    says = (
        "from the wall as found the brick, at its thickest, stands 1 1/8 in out and "
        "the flange 1/4 in"
    )
    assert finding.says.endswith(says)
    mend = (
        "take thinner brick or a thinner setting bed, 5/16 in less in all, with 1/4 in "
        "to spare"
    )
    assert finding.mends == (mend,)


def test_a_figure_that_no_mark_shows_is_told_as_no_better_than_it_is(review):
    """With 1/3 in of bed, 23/24 in are told as 31/32: up, because less would be better.

    Past a limit of 3/4 in by 5/24 in, and a quarter more, is 11/24, told as 15/32.
    """
    bed = {"least": "1/4 in", "most": Fraction(1, 3)}
    most = {"facing_most": "3/4 in", "proud_most": "1/2 in"}
    appliance = {**listed(**most), "flange": "1/4 in"}
    found = review(appliance=appliance, setting_bed=bed)
    assert "at their thickest, stand 31/32 in out from the wall" in found[FACING].says
    assert "at its thickest, stands 31/32 in out and" in found[PROUD].says
    mend = (
        "take thinner brick or a thinner setting bed, 15/32 in less in all, with 1/4 "
        "in to spare"
    )
    assert found[FACING].mends == found[PROUD].mends == (mend,)


def test_a_flange_that_was_not_measured_is_asked_for(review):
    finding = review(appliance=listed(proud_most="7/8 in"))[PROUD]
    assert (finding.status, finding.measured) == ("not checked", None)
    assert finding.keys == ("appliance.flange",)
    assert "where there is no flange it is 0" in finding.says
    appliance = {**listed(proud_most=None), "flange": "1/4 in"}
    finding = review(appliance=appliance)[PROUD]
    assert (finding.status, finding.measured) == ("not checked", Fraction(7, 8))
    assert finding.keys == keys_of("proud_most")
    without = review(appliance={"kind": "gas", "flange": "1/4 in"})[PROUD]
    assert without.keys == keys_of("proud_most", "document", "page")


@settings(
    max_examples=60,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
    deadline=None,
)
@given(
    far=st.fractions(0, 20, max_denominator=64),
    nearer=st.fractions(0, 20, max_denominator=64),
    projection=st.fractions(0, 8, max_denominator=64),
)
def test_nothing_passes_nearer_that_fails_farther(review, far, nearer, projection):
    near = max(Fraction(0), far - nearer)
    at_far = review(appliance=listed(), trim=shelf(far, projection))
    at_near = review(appliance=listed(), trim=shelf(near, projection))
    for rule in TRIM:
        if at_far[rule].status == "failed":
            assert at_near[rule].status == "failed"
