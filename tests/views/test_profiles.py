"""Profiles: sheet, scales, ends of dimension lines, fields and layers go together.

ISO 7200 fields and ISO 5455 scales as the reference has them (second-hand).
"""

from __future__ import annotations

from functools import cache

import pytest

from shopdraw.drawing.ink import Measure, Words
from shopdraw.drawing.measures import ticks_of
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import build, solve
from tests.views.jobs import text_of
from tests.views.lettering import collisions_on
from tests.views.strings import unclosed


@cache
def drawn(profile: str, demo: str = "library-hearth", size: str = "") -> DrawingSet:
    sheet = f'[sheet]\nprofile = "{profile}"\n{size}'
    text = text_of(demo).split("[sheet]")[0] + sheet
    return build(solve(parse_job(text, "den.toml")))


def elevation_of(drawing_set: DrawingSet) -> Sheet:
    return next(x for x in drawing_set.sheets if "elevation" in x.shows)


def words_of(drawing_set: DrawingSet) -> list[str]:
    sheet = elevation_of(drawing_set)
    placed = [x for p in sheet.drawings for x in p.drawing.ink]
    return [x.text for x in (*placed, *sheet.paper_ink) if isinstance(x, Words)]


def test_an_iso_set_is_iso_in_all_of_it() -> None:
    iso = drawn("iso")
    sheet = elevation_of(iso)
    # A2, in inches because the job is.
    assert (sheet.width, sheet.height) == pytest.approx((594 / 25.4, 420 / 25.4))
    assert sheet.drawings[0].drawing.scale in (5, 10, 20)
    words = words_of(iso)
    for field in (
        "LEGAL OWNER",
        "IDENTIFICATION NUMBER",
        "DATE OF ISSUE",
        "SHEET NUMBER",
        "TITLE",
        "CREATOR",
        "APPROVER",
        "DOCUMENT TYPE",
    ):
        assert field in words
    assert f"SCALE 1:{sheet.drawings[0].drawing.scale:g}" in words
    assert dict(iso.form.layers)["A-ELEV-OTLN"] == "A-OUTLINE-"


def test_a_us_set_of_a_metric_job_is_us_in_all_of_it() -> None:
    us = drawn("us", "metric-slips")
    sheet = elevation_of(us)
    assert (sheet.width, sheet.height) == pytest.approx((24 * 25.4, 18 * 25.4))
    assert sheet.drawings[0].drawing.scale in (8, 12, 16)
    assert any(words.endswith("= 1'-0\"") for words in words_of(us))
    assert us.form.layers == ()


@pytest.mark.parametrize("profile", ["us", "iso"])
@pytest.mark.parametrize("demo", ["library-hearth", "metric-slips"])
def test_nothing_collides_and_strings_close(profile: str, demo: str) -> None:
    drawing_set = drawn(profile, demo)
    for sheet in drawing_set.sheets:
        assert collisions_on(sheet) == []
        for placed in sheet.drawings:
            assert unclosed(placed.drawing, drawing_set.lengths) == []


def test_arrows_stand_where_they_have_room_and_strokes_where_not() -> None:
    wide = Measure("D", (0, 0), (40, 0), "x", 5.0, "40", 2.5, ends="arrow")
    left, lower, right, _ = ticks_of(wide, 1.0)
    # Open arrows, tips at both ends, thirty degrees: each side fifteen off the line.
    assert left[0] == lower[0] == (0, 5.0)
    assert right[0] == (40, 5.0)
    across, along = left[1][1] - 5.0, left[1][0]
    assert across / along == pytest.approx(0.2679, abs=1e-3)
    narrow = Measure("D", (0, 0), (4, 0), "x", 5.0, "4", 2.5, ends="arrow")
    assert len(ticks_of(narrow, 1.0)) == 2


def test_a_size_that_is_given_wins_over_the_profile() -> None:
    sheet = drawn("iso", size='size = "A1"').sheets[0]
    assert sheet.width == pytest.approx(841 / 25.4)
