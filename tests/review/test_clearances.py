"""The review as a whole: what is in it, in which order, in which words."""

from fractions import Fraction

import pytest

from shopdraw.review.cautions import CAUTIONS, choose_cautions
from shopdraw.review.findings import Finding, Rule, count_not_checked, in_words

MASONRY = {
    "hearth-front": "hearth extension, front",
    ("hearth-side", "left"): "hearth extension, left",
    ("hearth-side", "right"): "hearth extension, right",
    ("trim-distance", 1): "combustible trim, distance: shelf",
    ("trim-projection", 1): "combustible trim, projection: shelf",
    "hearth-thickness": "hearth extension, thickness",
    "throat": "throat above the opening",
    "lintel-bearing": "lintel bearing",
    "beside-rest": "combustible beside the brick",
    "fittings": "covered by the new face",
    "bottom-joint": "bottom joint and hearth fall",
    "least-piece": "least piece",
    "least-lap": "least lap",
    "piece-shape": "pieces that can be sawn",
    "veneer-weight": "adhered veneer weight",
    "unit-size": "adhered veneer unit size",
    "surface": "substrate, surface",
    "plane": "substrate, plane",
    "deflection": "deflection of what carries the wall",
    ("heat", "setting mortar"): "setting mortar near the opening",
    ("heat", "pointing mortar"): "pointing mortar near the opening",
    "head-support": "head support",
    "smoke": "smoke stains at the lintel",
    "lead": "lead in paint",
    "asbestos": "asbestos",
    ("question", 1): "tools and dust",
}
MEASURED = (
    *list(MASONRY)[:5],
    "bottom-joint",
    "least-piece",
    "least-lap",
    "piece-shape",
)
STATUSES = {
    "read in the source",
    "second-hand",
    "from memory",
    "common practice, no published source",
    "typed by the user",
    "in the job, typed or default",
    "not read",
}
ALONE = {"common practice, no published source", "typed by the user"}
"""Statuses that say all there is to say of a source."""


def test_the_findings_come_in_one_order_every_time(review):
    assert list(review()) == list(MASONRY)


def test_each_finding_is_lettered_in_words_of_the_trade(review):
    assert [finding.rule.words for finding in review().values()] == [*MASONRY.values()]


def test_what_no_drawing_shows_is_not_checked_and_counted(review):
    found = review()
    asked = [rule for rule in MASONRY if rule not in MEASURED]
    assert {found[rule].status for rule in asked} == {"not checked"}
    assert {found[rule].status for rule in MEASURED} == {"passed"}
    assert count_not_checked(tuple(found.values())) == len(asked)


@pytest.mark.parametrize("kind", ["masonry", "factory-built", "gas", None])
@pytest.mark.parametrize("name", ["irc-2015", "canada-nbc", "england-adj", ""])
def test_every_finding_is_whole_and_in_plain_letters(review, kind, name):
    found = review(appliance={"kind": kind}, rules={"set": name}).values()
    for finding in found:
        assert finding.source_status in STATUSES
        assert finding.source or finding.source_status in ALONE
        assert finding.source != finding.source_status
        words = (finding.rule.words, finding.says)
        assert all(text.isascii() and text for text in (*words, finding.source_status))
        assert finding.source.isascii()
        if finding.margin is not None:
            assert abs(finding.measured - finding.limit) == abs(finding.margin)
            assert finding.status == ("passed" if finding.margin >= 0 else "failed")


def test_nothing_is_passed_against_a_source_that_was_not_read(review):
    for kind in ("masonry", "gas", None):
        for finding in review(appliance={"kind": kind}).values():
            if finding.source_status in ("not read", "from memory"):
                assert finding.status == "not checked"


def test_soldiers_that_had_to_be_sawn_are_mentioned(review):
    assert "sawn" not in review()["head-support"].says
    assert "soldiers" in review(soldiers_cut=True)["head-support"].says
    assert "temporary ledger" in review(soldiers_cut=True)["head-support"].says


def test_a_metric_job_is_held_to_an_inch_rule_exactly(review):
    # 6 in = 152.4 mm: 152 fails and 153 passes.
    def shelf(bottom):
        size = {"left": "0 mm", "width": "900 mm", "height": "40 mm"}
        trim = {"name": "shelf", "bottom": bottom, "projection": "15 mm", **size}
        opening = {"width": "700 mm", "height": "600 mm"}
        found = review(job={"lengths": "mm"}, opening=opening, trim=[trim])
        return found["trim-distance", 1]

    assert shelf("752 mm").limit == Fraction(1524, 10)
    assert shelf("752 mm").status == "failed"
    assert shelf("753 mm").status == "passed"
    assert "the least allowed is 152.4 mm" in shelf("753 mm").says


@pytest.mark.parametrize(
    ("value", "lengths", "up", "words"),
    [
        ("167/8", "in", False, "20 7/8 in"),
        ("0", "in", False, "0 in"),
        ("-1/16", "in", False, "-1/16 in"),
        ("1/3", "in", False, "21/64 in"),
        ("1/3", "in", True, "11/32 in"),
        ("1523/10", "mm", False, "152.3 mm"),
        ("400", "mm", False, "400 mm"),
        ("4001/30", "mm", True, "133.4 mm"),
    ],
)
def test_a_figure_in_a_sentence_never_reads_better_than_it_is(
    value, lengths, up, words
):
    assert in_words(Fraction(value), lengths, up=up) == words


def test_only_what_was_not_checked_is_counted():
    rule = Rule("lead", "lead in paint")

    def finding(status):
        return Finding(rule, status, None, None, None, "s", "second-hand", "")

    some = tuple(map(finding, ("passed", "failed", "not checked", "not checked")))
    assert count_not_checked(some) == 2


@pytest.mark.parametrize(
    ("kind", "without"),
    [
        ("masonry", {"gas", "listed appliance"}),
        ("factory-built", {"gas"}),
        ("gas", set()),
        (None, set()),
    ],
)
def test_cautions_are_chosen_by_the_kind_of_fireplace(make_job, kind, without):
    chosen = choose_cautions(make_job(appliance={"kind": kind}))
    topics = [caution.topic for caution in CAUTIONS]
    assert [c.topic for c in chosen] == [t for t in topics if t not in without]


def test_every_caution_has_a_source_and_plain_letters():
    for caution in CAUTIONS:
        assert caution.source_status in STATUSES
        assert caution.words.isascii()
        assert caution.source or caution.source_status in ALONE
        assert caution.source != caution.source_status


# 29 CFR 1926.1153 Table 1 (read as California Title 8 section 1532.3): handheld saw,
# wet: outdoors no respirator up to 4 hours, APF 10 over 4; indoors APF 10 at any time.
# EPA (read): minor repair up to 6 sq ft of painted surface a room.
@pytest.mark.parametrize(
    ("topic", "figures"),
    [
        ("silica", ("APF 10", "4 hours")),
        ("lead", ("1978", "6 sq ft")),
        ("saw", ("semicircular",)),
    ],
)
def test_the_cautions_carry_the_published_figures(topic, figures):
    words = next(c.words for c in CAUTIONS if c.topic == topic)
    assert all(figure in words for figure in figures)


def test_brick_that_turns_in_asks_where_the_firebox_begins_if_nobody_measured(review):
    turned = {"jamb_return": "4 in"}
    missing = review(opening=turned)["jamb-return"]
    assert missing.status == "not checked"
    assert "where the firebox begins was not given" in missing.says
    assert missing.keys == ("opening.firebox",)
    for firebox, status in (("3 15/16 in", "failed"), ("4 in", "passed")):
        known = review(opening={**turned, "firebox": firebox})["jamb-return"]
        assert known.status == status
        assert "was not given" not in known.says
