"""An arch's joints held against their range, its depth against the textbook's."""

from fractions import Fraction

import pytest

from shopdraw.masonry.wall.arch import Arch, ArchJoint
from shopdraw.masonry.wall.layout import Layout
from shopdraw.review.arch import review_arch
from tests.findings import by_key

NARROW, WIDE = "arch-joints-narrowest", "arch-joints-widest"


@pytest.fixture
def of_arch(make_job):
    """Review an arch of which only what the review reads is set out."""

    def run(
        kind="jack arch",
        span="36",
        depth="8",
        joints=((0.375, 0.375),),
        whole_joints=None,
        strip=None,
        better=(),
        **changes,
    ):
        arch = Arch(
            kind=kind,
            span=Fraction(span),
            spring=Fraction(24),
            rise=Fraction(0),
            depth=Fraction(depth),
            centre=(Fraction(0), Fraction(0)),
            radius=0.0,
            skewback_deg=0.0,
            are_whole=False,
            whole_joints=whole_joints,
            voussoirs=(),
            tilts=(),
            joints=tuple(ArchJoint(*joint) for joint in joints),
            soffit=(),
            keep_out=(),
            strip=strip,
            least_strip=Fraction(3, 4),
            better_depths=tuple(map(Fraction, better)),
        )
        layout = Layout((), (), (), Fraction(3), None, (), arch=arch)
        return by_key(review_arch(make_job(**changes), layout))

    return run


# Second-hand, as textbooks have it: a jack arch that carries is 4 in deep and 1 in more
# for every foot of span, at least 8 in; a segmental one 1 in a foot, at least 4 in.
@pytest.mark.parametrize(
    ("kind", "span", "lengths", "wanted", "words"),
    [
        ("jack arch", "36", "in", "8", "8 in"),  # 4 + 3 = 7
        ("jack arch", "54", "in", "17/2", "8 1/2 in"),  # 4 + 4 1/2
        ("jack arch", "72", "in", "10", "10 in"),  # 4 + 6
        ("segmental arch", "36", "in", "4", "4 in"),  # 3
        ("segmental arch", "60", "in", "5", "5 in"),
        ("jack arch", "9144/5", "mm", "254", "254 mm"),  # 6 ft; 10 in
        ("segmental arch", "9144/10", "mm", "508/5", "101.6 mm"),  # 3 ft; 4 in
    ],
)
def test_a_depth_under_the_textbook_s_is_told_and_never_failed(
    of_arch, kind, span, lengths, wanted, words
):
    wanted = Fraction(wanted)
    job = {"job": {"lengths": lengths}}
    enough = of_arch(kind, span, wanted, **job)["arch-depth"]
    assert (enough.status, enough.limit, enough.margin) == ("passed", wanted, 0)
    short = of_arch(kind, span, wanted - Fraction(1, 16), **job)["arch-depth"]
    assert (short.status, short.limit, short.margin) == ("not checked", wanted, None)
    assert f"asks for {words} in an arch that carries its wall" in short.says
    assert "textbook asks" not in enough.says


# Head joints are 1/4 to 1/2; the narrowest and widest of all ends decide.
@pytest.mark.parametrize(
    ("joints", "narrow", "wide"),
    [
        (((0.25, 0.5),), "0", "0"),
        (((0.375, 0.375), (0.3125, 0.4375)), "1/16", "1/16"),
        (((0.375, 0.375), (0.1875, 0.4375)), "-1/16", "1/16"),
        (((0.3125, 0.5625), (0.375, 0.375)), "1/16", "-1/16"),
    ],
)
def test_arch_joints_keep_to_the_range_at_both_ends(of_arch, joints, narrow, wide):
    found = of_arch(joints=joints)
    assert {rule: each.rule.words for rule, each in found.items()} == {
        NARROW: "arch joints, narrowest",
        WIDE: "arch joints, widest",
        "arch-depth": "arch depth",
    }
    for rule, margin in ((NARROW, narrow), (WIDE, wide)):
        assert found[rule].margin == Fraction(margin)
        keeps = found[rule].margin >= 0
        assert found[rule].status == ("passed" if keeps else "failed")
        assert ("; ask for sawn voussoirs" in found[rule].says) is not keeps
        assert ("arch.voussoirs" in found[rule].keys) is not keeps


@pytest.mark.parametrize(
    ("nearest", "measured", "limit", "margin"),
    [
        ((0.1875, 0.5), "3/16", "1/4", "-1/16"),
        ((0.1875, 0.625), "5/8", "1/2", "-1/8"),
        # Both are 1/16 out: the narrow end is named.
        ((0.1875, 0.5625), "3/16", "1/4", "-1/16"),
        ((0.125, 0.5625), "1/8", "1/4", "-1/8"),
    ],
)
def test_whole_voussoirs_that_cannot_be_name_the_joint_farther_out(
    of_arch, nearest, measured, limit, margin
):
    finding = of_arch(whole_joints=nearest)["arch-whole"]
    assert finding.rule.words == "whole voussoirs"
    assert finding.status == "failed"
    figures = (finding.measured, finding.limit, finding.margin)
    assert figures == tuple(map(Fraction, (measured, limit, margin)))
    assert "the voussoirs are sawn tapered instead" in finding.says


# A third of a brick of 2 1/4 must be left of the course over the crown: 3/4.
@pytest.mark.parametrize(
    ("strip", "status", "margin"),
    [("3/4", "passed", "0"), ("11/16", "failed", "-1/16"), ("-1/8", "failed", "-3/4")],
)
def test_too_little_over_the_crown_fails_and_names_depths_that_mend_it(
    of_arch, strip, status, margin
):
    found = of_arch(strip=Fraction(strip), better=("7", "15/2"))["arch-crown"]
    assert (found.status, found.margin) == (status, Fraction(margin))
    mends = ("make the arch 7 in deep", "make the arch 7 1/2 in deep")
    assert found.mends == (() if status == "passed" else mends)
    assert "arch-crown" not in of_arch()


def test_what_holds_a_keystone_is_never_passed(of_arch):
    found = of_arch(arch={"key": {"width": "4 in"}})["keystone"]
    assert found.status == "not checked"
    assert "ask its maker" in found.says
    assert "keystone" not in of_arch()
