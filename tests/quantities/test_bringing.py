"""What to bring: each figure by hand, and each that nobody gave left open."""

from __future__ import annotations

from fractions import Fraction as F
from functools import cache
from math import ceil
from pathlib import Path

import pytest

from shopdraw.drawing.ink import Words
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.quantities.bringing import BY_HAND, Thing, list_to_bring
from shopdraw.solution import Solution
from shopdraw.views.making.templates import draw_templates
from tests.demos import CONFIGS, solution_of
from tests.odd_jobs import TEXTS, odd_solution

NAMES = sorted(path.stem for path in CONFIGS.glob("*.toml"))
LIBRARY = (CONFIGS / "library-hearth.toml").read_text(encoding="utf-8")


def things(solution: Solution) -> dict[str, Thing]:
    loads = list_to_bring(
        solution.job,
        solution.surround,
        solution.coursing,
        solution.layout,
        solution.takeoff,
        solution.hearth,
    )
    return {thing.what: thing for load in loads for thing in load.things}


@cache
def library(*changes: tuple[str, str]) -> dict[str, Thing]:
    text = LIBRARY
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return things(solve(parse_job(text, Path("library.toml"))))


def test_sealant_is_counted_by_the_volume_of_its_joints() -> None:
    """Both returns end at the wall in a joint of 3/8 in, 34 5/8 high, 1/2 in deep.

    2 x 34 5/8 x 3/8 x 1/2 is 12.98 cu in. A US fluid ounce is 231/128 cu in (a gallon
    of 231 cu in has 128), so a tube of ten holds 18.05, and one of five 9.02.
    """
    volume = 2 * F(277, 8) * F(3, 8) * F(1, 2)
    assert round(float(volume), 2) == 12.98
    for ounces in (10, 5):
        tube = ounces * F(231, 128)
        packs = f'[packs]\nsealant = "{ounces} fl oz"\n'
        found = library(("[packs]\n", packs))["sealant"]
        count = ceil(volume / tube)
        assert found.amount == ("1 tube" if count == 1 else f"{count} tubes")
        assert found.why.startswith("12.98 cu in: 5.77 ft of 3/8 in wide, 1/2 in deep")
    deep = library(("[joints]\n", '[joints]\ndepth = "5/8 in"\n'))
    assert deep["sealant, tubes"].why.startswith("16.23 cu in: ")


def test_a_tube_or_a_bag_that_nobody_named_is_left_open() -> None:
    found = library()
    for what in ("sealant, tubes", "setting mortar, bags", "pointing mortar, bags"):
        assert found[what].amount == BY_HAND
        assert "not given" in found[what].why
    named = library(("[packs]\n", '[packs]\nsetting_mortar = "0.45 cu ft"\n'))
    # 0.62 with waste; two bags of 0.45.
    assert named["setting mortar"].amount == "2 bags"
    assert named["setting mortar"].why == (
        "0.52 cu ft net, plus 20 % waste; a bag makes 0.45 cu ft"
    )


def test_brick_is_counted_in_boxes_as_it_is_ordered() -> None:
    found = library()
    assert found["flat units"].amount == "2 boxes"
    assert found["corner units"].amount == "3 boxes"
    assert found["flat units"].why == (
        "65 pieces net, plus 10 % waste, at least 5 pieces: 72 pieces; "
        "a box holds 40 pieces"
    )


def test_props_are_cut_to_the_head_less_the_ledger_where_its_timber_is_given() -> None:
    """The head is at 27 in; at the right jamb the hearth is lower by its fall so far.

    It falls 1/8 in over 57 1/4 in; the jambs are at 11 5/8 and 45 5/8 of the finished
    face. With a ledger 3 1/2 in high the left prop is 23 1/2 and a little.
    """
    text = LIBRARY + '\n[order]\nledger = "3 1/2 in"\n'
    solution = solve(parse_job(text, Path("library.toml")))
    found = things(solution)
    opening = solution.surround.opening
    hearth = solution.surround.as_built.hearth
    for side, x in (("left", opening.left), ("right", opening.right)):
        high = solution.coursing.head - hearth.at(x) - F(7, 2)
        (thing,) = [
            t for what, t in found.items() if what == f"prop at the {side} jamb"
        ]
        assert thing.amount.startswith("cut to 1'-11")
        assert abs(float(high) - 23.5) < 0.2
        assert thing.why.startswith("2'-3\" less the ledger's 3 1/2\"")
    left, right = (hearth.at(x) for x in (opening.left, opening.right))
    assert left > right
    without = library()
    assert without["prop at the left jamb, cut to"].amount == BY_HAND


def test_under_an_arch_a_turning_piece_takes_the_place_of_the_ledger() -> None:
    found = things(solution_of("semicircular-dining-room"))
    assert "ledger timber" not in found
    assert "turning piece, span 2'-5 1/4\", rise 1'-2 5/8\"" in found


@pytest.mark.parametrize(
    "name", ["semicircular-dining-room", "segmental-kitchen", "jack-arch-parlour"]
)
def test_props_under_a_centre_are_as_long_as_its_template_has_them(name: str) -> None:
    """In the dining room 16 1/8 in less 3 of board and 1 1/2 of wedges is 11 5/8.

    The hearth there falls by a little less than 1/16 to either jamb.
    """
    solution = solution_of(name)
    found = things(solution)
    lettered = {
        words.text
        for page in draw_templates(solution)
        for each in page.drawings
        for words in each.drawing.ink
        if isinstance(words, Words)
    }
    left, right = (
        found[f"prop at the {side} jamb"].amount.removeprefix("cut to ")
        for side in ("left", "right")
    )
    assert f"LEFT PROP {left}, RIGHT PROP {right}, FROM THE HEARTH" in lettered
    if name == "semicircular-dining-room":
        assert left == right == '11 11/16"'


def test_a_ledger_is_as_long_as_the_opening_between_the_brick() -> None:
    """Brick in the splayed parlour's jambs leaves 32 3/8 in of the 33 7/8 found."""
    found = things(solution_of("splayed-parlour"))
    assert found["ledger timber"].amount == "1, 2'-8 3/8\" long"
    ledger = solution_of("splayed-parlour").takeoff.row("ledger timber")
    assert ledger.net == F(259, 8) / 12


def test_a_bed_that_is_as_thick_everywhere_is_named_once() -> None:
    trowel = "notched trowel, margin trowel, straightedge, level"
    assert things(solution_of("splayed-parlour"))[trowel].why == "a mean bed of 3/8 in"
    assert library()[trowel].why == "a mean bed of 3/8 in, from 1/4 in to 1/2 in"


def test_spacers_are_two_to_a_piece() -> None:
    solution = solution_of("library-hearth")
    found = things(solution)["spacers, wedges"]
    assert found.amount == str(2 * len(solution.layout.pieces))
    assert "common practice" in found.why


def test_spacers_and_jointer_are_for_the_joints_as_solved() -> None:
    # The first demo's course list has bed joints of 3/8 and 7/16, none other.
    joints = {x.bed_joint for x in solution_of("library-hearth").coursing.courses[1:]}
    assert joints == {F(3, 8), F(7, 16)}
    found = library()
    assert found["spacers, wedges"].why.startswith(
        "bed joints are 3/8 in to 7/16 in, head joints may be 1/4 in to 1/2 in"
    )
    assert found["jointer"].why == "concave joints; bed joints are 3/8 in to 7/16 in"


@pytest.mark.parametrize("name", [*NAMES, *TEXTS])
def test_every_thing_says_where_its_figure_comes_from(name: str) -> None:
    solution = odd_solution(name) if name in TEXTS else solution_of(name)
    found = things(solution)
    assert len(found) > 10
    assert all(thing.why for thing in found.values())
    assert ("sealant" in " ".join(found)) == bool(
        solution.takeoff.row("soft joints").net
    )
    sawn = sum(x.is_cut or x.is_trimmed or x.is_made for x in solution.pieces)
    saw = found["wet saw with its guard and water feed, a blade"]
    assert saw.why.startswith(f"{sawn} sawn pieces")
