"""What a measured lot of brick says of its joints and of the size tolerances."""

from fractions import Fraction

import pytest


def five(mean, off):
    """Return five sizes whose standard deviation is exact: 4 off^2 over 5 less 1."""
    return [f"{mean + n * Fraction(off)} in" for n in (-1, -1, 0, 1, 1)]


@pytest.fixture
def of_lot(review):
    """Review a lot of brick; each size's five, so far off either way."""

    def run(height=None, length=None):
        sample = {}
        if height:
            sample["heights"] = five(Fraction(9, 4), height)
        if length:
            sample["lengths"] = five(Fraction(61, 8), length)
        return review(brick={"sample": sample})

    return run


# Joints are 1/4 to 1/2, which leaves 1/8 either way.
@pytest.mark.parametrize("size", ["height", "length"])
@pytest.mark.parametrize(
    ("off", "status", "margin"),
    [
        ("1/32", "passed", "1/16"),
        ("1/16", "passed", "0"),
        ("5/64", "failed", "-1/32"),
    ],
)
def test_two_deviations_fit_half_the_range_of_the_joint(
    of_lot, size, off, status, margin
):
    finding = of_lot(**{size: off})["brick-in-joint", size]
    assert (finding.measured, finding.limit) == (2 * Fraction(off), Fraction(1, 8))
    assert (finding.status, finding.margin) == (status, Fraction(margin))
    assert ("sort them, or allow a wider" in finding.says) == (status == "failed")


def test_a_size_without_a_sample_is_not_checked_and_asked_for(of_lot):
    found = of_lot(height="1/32")
    length = found["brick-in-joint", "length"]
    assert length.rule.words == "brick length against its joint"
    assert (length.status, length.margin) == ("not checked", None)
    assert "no lengths of single brick were given" in length.says
    assert length.keys == ("brick.sample.lengths",)
    assert ("brick-tolerance", "length") not in found


# ASTM C216, from memory: FBX holds 3 in to 1/16 and 8 in to 5/32 each brick.
@pytest.mark.parametrize(
    ("size", "off", "words"),
    [
        ("height", "1/16", "up to 1/16 in; FBX would accept it (1/16 in allowed)"),
        ("height", "5/64", "up to 5/64 in; FBX would not (1/16 in allowed)"),
        ("length", "5/32", "up to 5/32 in; FBX would accept it (5/32 in allowed)"),
        ("length", "11/64", "up to 11/64 in; FBX would not (5/32 in allowed)"),
    ],
)
def test_a_tolerance_of_memory_is_told_and_passes_nothing(of_lot, size, off, words):
    finding = of_lot(**{size: off})["brick-tolerance", size]
    assert words in finding.says
    assert (finding.status, finding.measured) == ("not checked", Fraction(off))
    assert (finding.limit, finding.source_status) == (None, "from memory")


def test_a_lot_is_held_against_the_size_that_it_is_sold_as(review):
    # Sold as 2 1/4, measured 2 9/32 to 2 11/32: off by 3/32, though 1/32 off its mean.
    brick = {"size": "modular", "sample": {"heights": five(Fraction(37, 16), "1/32")}}
    finding = review(brick=brick)["brick-tolerance", "height"]
    assert finding.rule.words == "brick height against size tolerances"
    assert finding.measured == Fraction(3, 32)
    assert "off its 2 1/4 in by up to 3/32 in; FBX would not" in finding.says
    assert "FBS would accept it (3/32 in allowed)" in finding.says
    assert "these figures are from memory: look them up" in finding.says
