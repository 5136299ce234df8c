"""The catalog of rules: names, exact figures in both lengths, sources on every row."""

from fractions import Fraction

import pytest

from shopdraw.catalog.rules import load_rules, rule_set_names

READ, SECOND_HAND = "read in the source", "second-hand"


def test_the_sets_are_known_by_name_and_no_other_is():
    assert rule_set_names() == tuple(each.name for each in load_rules("in").sets)
    assert "irc-2015" in rule_set_names()
    assert load_rules("in").set_named("irc-2015").title == "IRC 2015"
    assert load_rules("in").set_named("irc-2024") is None


# Each model code as far as its text was seen: the 2015 table was read in the source,
# the texts of 2009, 2012 and 2018 second-hand, with the same figures in all of them.
@pytest.mark.parametrize(
    ("name", "hearth_status"),
    [
        ("irc-2015", READ),
        ("irc-2009", SECOND_HAND),
        ("irc-2012", SECOND_HAND),
        ("irc-2018", SECOND_HAND),
    ],
)
def test_the_inch_sets_hold_the_published_figures(name, hearth_status):
    rules = load_rules("in").set_named(name)
    sizes = [(size.from_area, size.front, size.sides) for size in rules.hearth.sizes]
    assert sizes == [(0, 16, 8), (6 * 144, 20, 12)]
    assert rules.hearth.source_status == hearth_status
    assert rules.trim.source_status == SECOND_HAND
    assert rules.trim.least_distance == 6
    # The projection table worked from R1001.11 Exception 4, second-hand.
    allowed = rules.trim.projection.allowed
    for distance, most in (
        (8, Fraction(1)),
        (9, Fraction(9, 8)),
        (10, Fraction(5, 4)),
        (12, Fraction(3, 2)),
    ):
        assert allowed(Fraction(distance)) == most
    assert allowed(Fraction(12) + Fraction(1, 16)) is None


# National Building Code of Canada, as Ontario prints it: read in the source.
def test_the_metric_set_holds_the_published_figures():
    rules = load_rules("mm").set_named("canada-nbc")
    sizes = [(size.from_area, size.front, size.sides) for size in rules.hearth.sizes]
    assert sizes == [(0, 400, 200)]
    assert rules.trim.least_distance == 150
    assert (rules.trim.projection.within, rules.trim.projection.most) == (300, 38)
    assert rules.hearth.source_status == rules.trim.source_status == READ


# Approved Document J: second-hand.
def test_the_english_set_has_a_hearth_and_nothing_of_trim():
    rules = load_rules("mm").set_named("england-adj")
    size = rules.hearth.size_for(Fraction(0))
    assert (size.front, size.sides) == (500, 150)
    assert rules.hearth.source_status == SECOND_HAND
    assert rules.trim is None


def test_the_same_rule_in_either_lengths_is_the_same_exactly():
    inch, mm = load_rules("in"), load_rules("mm")
    factor = Fraction(254, 10)
    for one, other in zip(inch.sets, mm.sets, strict=True):
        for a, b in zip(one.hearth.sizes, other.hearth.sizes, strict=True):
            assert (a.front * factor, a.sides * factor) == (b.front, b.sides)
            assert a.from_area * factor**2 == b.from_area
        if one.trim and other.trim:
            assert one.trim.least_distance * factor == other.trim.least_distance


def test_an_area_on_the_step_takes_the_larger_size_and_just_under_the_smaller():
    hearth = load_rules("in").set_named("irc-2015").hearth
    assert hearth.size_for(Fraction(864)).front == 20
    assert hearth.size_for(Fraction(864) - Fraction(1, 10**9)).front == 16


# IRC 2015: the throat's 8 in stand in Table R1001.1, read in the source; the others are
# quoted by section, second-hand. Approved Document J: second-hand.
@pytest.mark.parametrize(
    ("name", "figure", "least", "status"),
    [
        ("irc-2015", "hearth thickness", 2, SECOND_HAND),
        ("irc-2015", "throat", 8, READ),
        ("irc-2015", "lintel bearing", 4, SECOND_HAND),
        ("irc-2015", "framing", 2, SECOND_HAND),
        ("irc-2015", "lining", 12, SECOND_HAND),
        *(
            (edition, figure, least, SECOND_HAND)
            for edition in ("irc-2009", "irc-2012", "irc-2018")
            for figure, least in (
                ("hearth thickness", 2),
                ("throat", 8),
                ("lintel bearing", 4),
                ("framing", 2),
                ("lining", 12),
            )
        ),
    ],
)
def test_single_figures_are_the_published_ones(name, figure, least, status):
    rule = load_rules("in").set_named(name).figure(figure)
    assert (rule.least, rule.source_status) == (least, status)
    if figure == "hearth thickness":
        assert rule.raised == (8, Fraction(3, 8))


def test_the_english_hearth_is_125_thick_and_canada_s_was_not_read():
    rules = load_rules("mm")
    assert rules.set_named("england-adj").figure("hearth thickness").least == 125
    assert rules.set_named("canada-nbc").figures == ()


def test_what_is_no_code_set_s_has_its_source_too():
    """Technical Note 28C and 40 CFR 745, read in the source; the rest from memory."""
    rules = load_rules("in")
    assert (rules.plane.figure, rules.plane.source_status) == (Fraction(1, 4), READ)
    assert (rules.lead.before, rules.lead.most_sq_ft) == (1978, 6)
    assert rules.lead.source_status == READ
    veneer = rules.veneer
    sizes = (veneer.most_thickness, veneer.most_dimension, veneer.most_area / 144)
    assert sizes == (Fraction(21, 8), 36, 5)
    assert {veneer.source_status, rules.deflection.source_status} == {"from memory"}
    assert rules.deflection.figure == 600


def test_every_row_has_its_source_and_how_it_was_read():
    rules = load_rules("in")
    rows = [
        row
        for each in rules.sets
        for row in (each.hearth, each.trim, *(rule for _, rule in each.figures))
        if row
    ]
    for row in rows:
        assert row.section
        assert row.source
        assert row.source_status in (READ, SECOND_HAND)
    for question in rules.questions:
        assert question.source
        assert question.says.isascii()
