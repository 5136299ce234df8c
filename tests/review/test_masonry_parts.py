"""What a masonry fireplace must have, just under, at and over each figure.

Figures of IRC 2015: R1001.9.2 hearth 2 in (second-hand), its exception 3/8 in where the
opening is raised 8 in; Table R1001.1 throat 8 in (read in the source); R1001.7 lintel 4
in, R1001.11 framing 2 in, Exceptions 2 and 3 lining 12 in (second-hand).
"""

from __future__ import annotations

from fractions import Fraction

import pytest

THICKNESS, THROAT, LINTEL = "hearth-thickness", "throat", "lintel-bearing"


@pytest.mark.parametrize(
    ("key", "table", "rule", "limit", "words"),
    [
        ("thickness", "hearth", THICKNESS, 2, "the thickness of the extension"),
        ("throat", "opening", THROAT, 8, "the height of the throat"),
        ("lintel_bearing", "opening", LINTEL, 4, "the bearing of the lintel"),
    ],
)
def test_each_figure_fails_a_sixteenth_short(review, key, table, rule, limit, words):
    for off, status in ((-1, "failed"), (0, "passed"), (1, "passed")):
        found = Fraction(limit) + Fraction(off, 16)
        finding = review(**{table: {key: found}})[rule]
        assert finding.status == status
        assert finding.margin == Fraction(off, 16)
        assert finding.keys == ()
    missing = review()[rule]
    assert missing.status == "not checked"
    assert f"{words} was not given" in missing.says
    assert missing.keys == (f"{table}.{key}",)


def test_a_thin_hearth_passes_only_where_the_fire_is_raised(review):
    for raised, status in (("7 15/16 in", "failed"), ("8 in", "passed")):
        hearth = {"thickness": "3/8 in", "raised": raised}
        found = review(hearth=hearth)[THICKNESS]
        assert found.status == status
        why = "stands 8 in above the extension"
        assert (why in found.says) == (status == "passed")


def beside(kind, **distances):
    return [{"name": "stud", "kind": kind, **distances}]


@pytest.mark.parametrize(
    ("kind", "key", "limit"),
    [
        ("framing", "to_masonry", 2),
        ("sheathing", "to_lining", 12),
        ("wall finish", "to_lining", 12),
        ("flooring", "to_lining", 12),
    ],
)
def test_what_burns_beside_keeps_its_distance(review, kind, key, limit):
    rule = ("beside", 1)
    short = review(beside=beside(kind, **{key: Fraction(limit) - Fraction(1, 16)}))
    assert short[rule].status == "failed"
    # A sixteenth short, and a quarter beyond.
    assert short[rule].mends == ("cut the stud back by 5/16 in, with 1/4 in to spare",)
    assert review(beside=beside(kind, **{key: Fraction(limit)}))[rule].status == (
        "passed"
    )
    missing = review(beside=beside(kind))[rule]
    assert missing.status == "not checked"
    assert "the distance was not given: measure from" in missing.says
    assert missing.keys == (f"beside[1].{key}",)


def test_what_does_not_burn_is_not_held(review):
    stone = [{"name": "stone", "kind": "wall finish", "combustible": False}]
    assert ("beside", 1) not in review(beside=stone)


def test_nothing_is_held_against_a_set_that_was_not_read(review):
    found = review(rules={"set": "canada-nbc"}, opening={"throat": "1 in"})
    assert found[THROAT].status == "not checked"
    assert "this code's rule for it was not read" in found[THROAT].says
    # It is the code's figure that is missing: nothing of the job would help.
    assert found[THROAT].keys == ()


def test_a_listed_appliance_has_its_manual_for_all_that(review):
    assert THROAT not in review(appliance={"kind": "gas"})


def test_an_own_figure_stands_in_for_the_set_s_with_its_reason(review):
    own = [
        {"figure": "hearth front", "value": "24 in", "reason": "local amendment 12"},
        {"figure": "throat", "value": "6 in", "reason": "inspector, by phone, 2 March"},
    ]
    found = review(rules={"own": own}, opening={"throat": "7 in"})
    front = found["hearth-front"]
    assert (front.limit, front.status) == (24, "failed")
    assert front.source == "the job's own figure: local amendment 12"
    assert found[THROAT].status == "passed"
    assert found[THROAT].source_status == "typed by the user"


def test_own_figures_alone_are_a_set(review):
    own = [{"figure": "hearth sides", "value": "8 in", "reason": "the town's rule"}]
    found = review(rules={"set": "own figures", "own": own})
    assert found["hearth-side", "left"].status == "passed"
    front = found["hearth-front"]
    assert front.status == "not checked"
    assert "the job gives no figure of its own" in front.says
    assert front.source == "the job's own figures"
    assert front.keys == ("[[rules.own]]",)


def test_the_reviewer_s_word_settles_which_area_governs(review):
    """Found 36 x 24 is 6 sq ft exactly; as finished the head comes down a quarter."""
    found = {"opening": {"width": "36 in"}, "head": Fraction(95, 4)}
    front = "hearth-front"
    assert review(**found)[front].limit == 20
    agreed = {"area": "finished", "area_agreed": "the reviewer, 2 March"}
    assert review(**found, rules=agreed)[front].limit == 16


def test_a_list_of_what_burns_beside_does_not_pass_what_it_leaves_out(review):
    stud = {"name": "stud", "kind": "framing", "to_masonry": "9 in"}
    found = review(beside=[stud])
    rest = found["beside-rest"]
    assert rest.status == "not checked"
    assert "only what was listed is held against the rule" in rest.says
    assert rest.rule.words == "combustible beside the brick, not listed"
    none = review(beside=[])["beside-rest"]
    assert none.rule.words == "combustible beside the brick"
    assert "nothing beside the brick was listed" in none.says
    assert rest.keys == none.keys == ("[[beside]]",)
