"""The brickwork's own limits: bottom joint, bond rules, weight."""

import re
from fractions import Fraction

import pint
import pytest

from shopdraw.masonry.wall.bond_rules import BrokenRule
from tests.demos import solution_of

BOTTOM = "bottom-joint"


@pytest.mark.parametrize(
    ("bottom", "fall", "status", "margin"),
    [
        ("5/8", "1/8 in", "passed", "0"),
        ("11/16", "1/8 in", "failed", "-1/16"),
        ("5/8", "3/16 in", "failed", "-1/16"),
        ("3/8", "1/8 in", "passed", "1/4"),
        # 3/4 is more than 1/4 to 3/4 takes up: it is sawn off the first course.
        ("0", "3/4 in", "passed", "3/4"),
        # Of 1 3/4 sawing takes off half of 2 1/4, and 5/8 are left to the joint.
        ("1/4", "1 3/4 in", "failed", "-1/8"),
    ],
)
def test_the_bottom_joint_and_the_fall_stay_within_the_joints_most(
    review, bottom, fall, status, margin
):
    finding = review(bottom=Fraction(bottom), hearth={"fall": fall})[BOTTOM]
    assert finding.limit == Fraction(3, 4)
    assert (finding.status, finding.margin) == (status, Fraction(margin))


def test_a_bottom_joint_beyond_its_most_says_the_figures_and_what_to_do(review):
    says = review(bottom=Fraction(11, 16), hearth={"fall": "1/4 in"})[BOTTOM].says
    assert "11/16 in at the hearth's highest point and 15/16 in at its lowest" in says
    assert "the most allowed is 3/4 in" in says
    assert "; that is 3/16 in more than" in says  # 11/16 + 1/4 - 3/4
    assert "make the hearth good" in says


@pytest.mark.parametrize("hearth", [None, {"fall": None}])
def test_a_fall_that_was_not_measured_is_not_taken_as_level(review, hearth):
    finding = review(hearth=hearth)[BOTTOM]
    assert finding.status == "not checked"
    assert "the fall of the hearth was not given" in finding.says
    assert finding.keys == ("hearth.fall",)


@pytest.mark.parametrize(
    ("rule", "found"), [("least-piece", "least_piece"), ("least-lap", "least_lap")]
)
def test_a_bond_rule_is_held_to_the_jobs_own_figure(review, rule, found):
    kept = review(**{found: Fraction(2)})[rule]
    assert (kept.status, kept.margin, kept.source) == (
        "passed",
        0,
        f"the {rule.replace('-', ' ')} that the job allows",
    )
    assert review(**{found: Fraction(31, 16)})[rule].status == "failed"


def test_a_breach_of_the_bond_names_its_pieces(review):
    broken = BrokenRule(
        "least lap", Fraction(2), Fraction(5, 16), ("F-01-02", "F-02-03"), "too narrow"
    )
    found = review(broken=(broken,))
    lap = found["least-lap"]
    assert lap.status == "failed"
    assert (lap.measured, lap.limit, lap.margin) == (
        Fraction(5, 16),
        2,
        Fraction(-27, 16),
    )
    assert lap.pieces == ("F-01-02", "F-02-03")
    assert lap.says == "too narrow"
    assert found["least-piece"].status == "passed"


def test_stack_bond_has_no_lap_to_check(review):
    assert "least-lap" not in review(least_lap=None)


# Area weight from the brick density of NAVEDTRA 14045 (150 lb/ft3, read in the source);
# arithmetic. The limit of 15 lb per sq ft (TMS 402) is from memory: it passes nothing.
@pytest.mark.parametrize(
    ("thickness", "pounds", "compared"),
    [
        ("1/2 in", "6.25", "is not over"),
        ("5/8 in", "7.81", "is not over"),
        ("1 in", "12.50", "is not over"),
        ("1 1/5 in", "15.00", "is not over"),
        ("1 1/4 in", "15.62", "is over"),
        ("1 3/4 in", "21.88", "is over"),
    ],
)
def test_the_weight_of_the_units_is_told_and_never_passed(
    review, thickness, pounds, compared
):
    finding = review(brick={"thickness": thickness})["veneer-weight"]
    words = f"{pounds} lb per sq ft, which {compared} 15 lb per sq ft"
    assert words in finding.says
    assert "recalled, not looked up: look it up" in finding.says
    assert finding.status == "not checked"
    assert finding.source_status == "from memory"


def test_a_metric_job_reads_the_weight_in_kilograms(review):
    # 22 mm of brick at 150 lb/ft3, the conversion by an independent library.
    kilograms = (
        (pint.Quantity(22, "mm") * pint.Quantity(150, "lb/ft**3"))
        .to("kg/m**2")
        .magnitude
    )
    found = review(job={"lengths": "mm"}, brick={"thickness": "22 mm"})
    assert f"({kilograms:.1f} kg/m2)" in found["veneer-weight"].says


def test_the_size_of_a_unit_is_told_and_never_passed(review):
    """TMS 402 to 2016, from memory: 2 5/8 in thick, 36 in a side, 5 sq ft."""
    rule = "unit-size"
    small, thick = review()[rule], review(brick={"thickness": "2 3/4 in"})[rule]
    assert {small.status, thick.status} == {"not checked"}
    assert "goes over none of these limits: 2 5/8 in thick" in small.says
    assert "goes over these limits in thickness: 2 5/8 in thick" in thick.says
    long = review(brick={"length": "37 in", "height": "20 in"})[rule]
    assert "goes over these limits in side and area: " in long.says


@pytest.mark.parametrize(
    ("rule", "measured", "least", "words"),
    [
        ("least width", "5/16", "3/4", "5/16 in wide where it is narrowest"),
        ("sharpest corner", "23", "30", "its sharpest corner is 23 degrees"),
        ("least area", "7/4", "4.29", "1.8 sq in of face"),
    ],
)
def test_a_piece_that_can_t_be_sawn_is_named_and_fails(
    review, rule, measured, least, words
):
    broken = BrokenRule(
        rule, Fraction(least), Fraction(measured), ("F-14-03", "F-14-04"), "why"
    )
    finding = review(broken=(broken,))["piece-shape"]
    assert finding.status == "failed"
    assert finding.pieces == ("F-14-03", "F-14-04")
    assert finding.says.startswith(f"F-14-03, F-14-04: {words}")
    assert "why" in finding.says


def test_pieces_that_can_be_sawn_pass_with_the_figures_that_they_keep(review):
    finding = review()["piece-shape"]
    assert finding.status == "passed"
    assert "narrower than 3/4 in" in finding.says
    assert "sharper than 30 degrees" in finding.says
    assert "25 %" in finding.says


def test_the_least_piece_away_from_a_wall_is_not_called_the_shortest():
    """At a hidden wall less is allowed: a shorter one there may have more to spare."""
    solution = solution_of("chimney-breast-gas")
    (finding,) = (x for x in solution.findings if x.rule.key == "least-piece")
    shortest = min(
        piece.before_scribing[0].right - piece.before_scribing[0].left
        for piece in solution.layout.pieces
        if piece.kind == "stretcher"
    )
    assert finding.measured > shortest
    assert "shortest" not in finding.says


def test_the_longest_fillet_is_told_by_the_course_that_runs_out():
    solution = solution_of("semicircular-dining-room")
    finding = solution.finding("fillet")
    longest = [x for x in solution.layout.fillets if x.length == finding.measured]
    assert finding.measured == max(x.length for x in solution.layout.fillets)
    (course,) = re.findall(r"where course (\d+) runs out on the arch", finding.says)
    assert int(course) in {x.course for x in longest}
