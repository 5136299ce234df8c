"""Wall, mortar near the fire, head, fittings and house: missing is never passed."""

from __future__ import annotations

from datetime import date

import pytest

ITEMS = ("setting mortar", "pointing mortar")


def test_a_dirty_wall_fails_until_it_is_prepared(review):
    rule = "surface"
    painted = {"kind": "masonry", "condition": ["painted", "sooted"]}
    found = review(substrate=painted)[rule]
    assert found.status == "failed"
    assert "masonry, painted and sooted: it NEEDS PREPARATION" in found.says
    assert found.keys == ("substrate.prepared",)
    done = review(substrate={**painted, "prepared": "blasted to sound brick"})[rule]
    assert done.status == "passed"
    assert done.says.endswith("what was done to it: blasted to sound brick")
    sound = {"kind": "masonry", "condition": ["sound"]}
    assert review(substrate=sound)[rule].status == "passed"
    assert review(substrate={"condition": ["sound"]})[rule].status == "not checked"
    assert review()[rule].status == "not checked"


@pytest.mark.parametrize(
    ("plane", "status"),
    [("3/16 in", "passed"), ("1/4 in", "passed"), ("5/16 in", "failed")],
)
def test_the_wall_is_true_to_a_quarter_in_ten_feet(review, plane, status):
    """Technical Note 28C, read in the source."""
    assert review(substrate={"plane": plane})["plane"].status == status


def test_a_remembered_deflection_passes_nothing(review):
    for given, words in ((360, "is more than"), (600, "is within"), (720, "is within")):
        found = review(substrate={"deflection": given})["deflection"]
        assert found.status == "not checked"
        assert found.says == (
            f"L/{given}, as typed, {words} the limit, which is recalled as L/600, the "
            "span over 600, and was not looked up: look it up"
        )
    missing = review()["deflection"]
    assert "recalled as L/600, the span over 600, and was not looked up" in missing.says
    assert missing.keys == ("substrate.deflection",)


@pytest.mark.parametrize("item", ITEMS)
def test_mortar_near_the_fire_needs_its_data_sheet(review, item):
    rule = ("heat", item)
    sheet = {"item": item, "document": "data sheet", "page": "2"}
    bears = {**sheet, "service_c": 90.0}
    for sheets, key in (
        ([], "[[data_sheet]]"),
        ([sheet], "data_sheet[1].service_c"),
        ([bears], "data_sheet[1].expected_c"),
    ):
        finding = review(data_sheet=sheets)[rule]
        assert (finding.status, finding.keys) == ("not checked", (key,))
    for expected, status in ((89.0, "passed"), (90.0, "passed"), (91.0, "failed")):
        hot = {**bears, "expected_c": expected}
        finding = review(data_sheet=[hot])[rule]
        assert finding.status == status
        assert finding.source == "data sheet, p. 2"
        assert finding.says == (
            f"its data sheet says that it bears 90 C, and {expected:g} C is expected "
            "at its place"
        )


def test_sealant_is_asked_for_only_where_there_is_some(review):
    rule = ("heat", "sealant")
    assert rule not in review()
    soft = {"jambs": {"kind": "soft", "width": "1/4 in"}}
    finding = review(edges=soft)[rule]
    assert finding.status == "not checked"
    assert finding.rule.words == "sealant near the opening"


def test_the_head_needs_its_maker_s_days(review):
    missing = review()["head-support"]
    assert missing.status == "not checked"
    assert missing.says.endswith("; the maker's time was not given")
    assert missing.keys == ("schedule.ledger_days",)
    found = review(schedule={"ledger_days": 7})["head-support"]
    assert found.status == "passed"
    assert found.says.endswith(": 7 days, as typed")


def test_smoke_stains_call_for_a_sweep_first(review):
    rule = "smoke"
    for stains, status in ((None, "not checked"), (True, "failed"), (False, "passed")):
        assert review(house={"smoke_stains": stains})[rule].status == status


@pytest.mark.parametrize(
    ("year", "painted", "status"),
    [
        (None, None, "not checked"),
        (1977, None, "not checked"),
        (1977, 6.0, "passed"),
        (1977, 6.1, "not checked"),
        (1978, None, "passed"),
        (1978, 50.0, "passed"),
    ],
)
def test_lead_goes_by_the_house_s_year_and_the_paint(review, year, painted, status):
    """40 CFR 745, read in the source: before 1978, over 6 sq ft in a room."""
    house = {"year": year, "painted_sq_ft": painted}
    assert review(house=house)["lead"].status == status


def fitting(left, wants="clear", **more):
    place = {"left": left, "bottom": "4 in", "width": "2 in", "height": "4 in"}
    return [{"name": "key valve", "wants": wants, **place, **more}]


def test_a_fitting_under_the_brick_fails_where_it_must_stay_clear(review):
    """The face is 65 in wide, the opening from 15 to 50 in."""
    rule = ("fitting", 1)
    assert review()["fittings"].status == "not checked"
    for left, status in (
        ("5 in", "failed"),  # on the left leg
        ("14 in", "failed"),  # half over the jamb
        ("15 in", "passed"),  # in the opening, at its edge
        ("-2 in", "passed"),  # beside the face, touching it
        ("65 in", "passed"),
        ("64 in", "failed"),
    ):
        finding = review(fitting=fitting(left))[rule]
        assert finding.status == status
        assert finding.rule.words == "covered by the new face: key valve"
    above = fitting("5 in", bottom="32 in")
    assert review(fitting=above)[rule].status == "passed"
    assert review(fitting=fitting("5 in", "may be covered"))[rule].status == "passed"
    # A cut that is not drawn is no proof.
    assert review(fitting=fitting("5 in", "cut round"))[rule].status == "not checked"


def test_days_are_dates_of_the_job(make_job):
    job = make_job(schedule={"set_on": date(2026, 3, 2)})
    assert job.schedule.set_on == date(2026, 3, 2)


def test_asbestos_is_passed_by_nobody_s_silence_or_words(review):
    for year in (None, 1926, 2020):
        assert review(house={"year": year})["asbestos"].status == "not checked"
    word = {"asbestos": "a surveyor, 2 March: none found"}
    assert review(house=word)["asbestos"].status == "not checked"
    assert "none found" in review(house=word)["asbestos"].says
