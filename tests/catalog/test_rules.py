"""The rules of the catalog at, under and past each of their lines: figures by hand."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from shopdraw.catalog.rows import layer_names, tolerance_classes, usual_values
from shopdraw.catalog.rules import HearthRule, Rules, TrimRule, load_rules
from shopdraw.catalog.weights import weight_of


def hearth_of(name: str, rules: Rules) -> HearthRule:
    found = rules.set_named(name)
    assert found is not None
    assert found.hearth is not None
    return found.hearth


def trim_of(name: str, rules: Rules) -> TrimRule:
    found = rules.set_named(name)
    assert found is not None
    assert found.trim is not None
    return found.trim


# 150 to 300 mm: 50 more; past 300: 25 for each 50 mm begun.
RAISED = [
    (0, 0), (149, 0), (150, 50), (300, 50), (F(3001, 10), 75), (350, 75), (351, 100),
]  # fmt: skip


@pytest.mark.parametrize(("raised", "more"), RAISED)
def test_a_raised_fire_floor_adds_in_steps(raised: F, more: F) -> None:
    rule = hearth_of("canada-nbc", load_rules("mm")).raised
    assert rule is not None
    assert rule.more(F(raised)) == more


def test_trim_may_stand_out_by_an_eighth_of_its_distance_to_the_line_and_on_it() -> (
    None
):
    rule = trim_of("irc-2015", load_rules("in")).projection
    assert rule.allowed(F(6)) == F(3, 4)
    assert rule.allowed(F(12)) == F(3, 2)
    assert rule.allowed(F(193, 16)) is None


def test_trim_over_the_opening_may_stand_out_by_one_figure_short_of_the_line() -> None:
    rule = trim_of("canada-nbc", load_rules("mm")).projection
    assert rule.allowed(F(150)) == rule.allowed(F(299)) == 38
    assert rule.allowed(F(300)) is None
    assert rule.allowed(F(301)) is None


def test_a_course_is_corbelled_by_half_its_height_or_a_third_of_its_depth() -> None:
    corbel = load_rules("in").corbel
    assert corbel.most(F(9, 4), F(29, 8)) == F(9, 8)
    assert corbel.most(F(9, 4), F(3, 4)) == F(1, 4)


def test_of_a_set_or_a_figure_that_was_not_read_there_is_none() -> None:
    rules = load_rules("in")
    irc = rules.set_named("irc-2015")
    assert irc is not None
    throat = irc.figure("throat")
    assert throat is not None
    assert throat.least == 8
    assert irc.figure("chimney") is None
    assert rules.set_named("irc-2051") is None


def test_an_opening_of_six_square_feet_takes_the_larger_hearth() -> None:
    rule = hearth_of("irc-2015", load_rules("in"))
    assert rule.size_for(F(863)).front == 16
    assert rule.size_for(F(864)).front == 20


def test_old_work_weighs_from_least_to_most_and_what_was_not_read_nothing() -> None:
    brick = weight_of("brick")
    assert brick is not None
    assert (brick.least, brick.most) == (100, 150)
    assert weight_of("marble") is None


def test_a_tolerance_is_that_of_the_first_step_that_reaches_the_size() -> None:
    tight = next(each for each in tolerance_classes("in") if each.name == "FBX")
    assert tight.allowed(F(3)) == F(1, 16)
    assert tight.allowed(F(49, 16)) == F(3, 32)
    assert tight.allowed(F(16)) == F(9, 32)
    assert tight.allowed(F(17)) is None
    assert {each.lengths for each in tolerance_classes("mm")} == {"mm"}


def test_a_layer_has_the_naming_s_name_and_before_it_one_s_own() -> None:
    names = dict(layer_names("ISO 13567", {"A-ANNO-DIMS": "FIGURES"}))
    assert names["A-ELEV-OTLN"] == "A-OUTLINE-"
    assert names["A-ANNO-DIMS"] == "FIGURES"
    assert layer_names("no such naming", {}) == ()


def test_each_lengths_have_their_own_usual_values() -> None:
    assert usual_values("in").keys() == usual_values("mm").keys()
    assert usual_values("in") != usual_values("mm")
