"""The options' pages: one scale, three on a page, and what was reckoned under each."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest

from shopdraw.drawing.choices import Choices
from shopdraw.drawing.extents import extent_of
from shopdraw.drawing.ink import Paint
from shopdraw.drawing.photo import Photo
from shopdraw.errors import NotDrawable
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import offer, solve
from shopdraw.quantities.money import format_money
from shopdraw.solution import Solution
from shopdraw.views.papers import options
from shopdraw.views.papers.chosen import NO_PRICE, NOTHING, facts_of
from tests.demos import solution_of
from tests.views.lettering import collisions_on
from tests.views.papers.reading import text_of, words_on

BARE = """
[job]
name = "Snug"
number = "SN-1"
lengths = "{lengths}"
[face]
width = "28 in"
height = "36 1/4 in"
[opening]
width = "14 in"
height = "24 in"
[brick]
length = "7 5/8 in"
height = "2 1/4 in"
{tables}
[appearance]
photo = "a.jpg"
photo_corners = [[20, 10], [180, 14], [176, 140], [24, 150]]
"""
PRICED = """
[packs]
setting_mortar = "0.45 cu ft"
[prices]
currency = "USD"
flats = 2.5
setting_mortar = 30
pointing_mortar = 30
sundries = 20
[labour]
rate = 50
once = 2
setting = 0.4
cutting = 0.1
pointing = 0.2
trips = 2
travel = 10
"""
OWN = '[[option]]\nname = "As it is"\n'
LONG = '[[option]]\nname = "Long"\n[option.brick]\nsize = "roman"\n'
STACK = '[[option]]\nname = "Stack"\n[option.bond]\npattern = "stack"\n'
LOW = '[[option]]\nname = "Thick"\n[option.joints.bed]\nleast = "3/8 in"\n'
ALL = (OWN, LONG, STACK, LOW)
# Courses of 2 5/8 in alone: nine of them and a joint come to 24, thirteen to 34 1/8,
# fourteen to 36 3/4.
ONE = 'least = "3/8 in", most = "3/8 in"'
TIGHT = (
    '[[option]]\nname = "Tight"\n[option.joints]\n'
    f"bed = {{ {ONE} }}\nbottom = {{ {ONE} }}\n"
)
WIDE = Photo(bytes(200 * 160 * 3), 200, 160, 1.0, "ab" * 32)
TALL = Photo(bytes(160 * 200 * 3), 160, 200, 0.8, "cd" * 32)


@cache
def solved(
    typed: str, tables: str = "", lengths: str = "in"
) -> tuple[tuple[str, Solution], ...]:
    text = BARE.format(tables=tables, lengths=lengths) + typed
    job = parse_job(text, "snug.toml")
    return tuple((name, solve(each)) for name, each in job.options)


@cache
def offered(
    typed: str, tables: str = "", photo: Photo | None = None, lengths: str = "in"
) -> Choices:
    return offer(solved(typed, tables, lengths), photo)


def facts(choices: Choices, place: int = 0) -> dict[str, str]:
    return dict(choices.choices[place].facts)


@pytest.mark.parametrize(
    ("count", "pages"), [(1, [1]), (2, [2]), (3, [3]), (4, [3, 1])]
)
def test_up_to_three_are_on_a_page(count: int, pages: list[int]) -> None:
    choices = offered("".join(ALL[:count]))
    pictures = [
        sum("appearance" in each.drawing.name for each in page.sheet.drawings)
        for page in choices.pages
    ]
    assert pictures == pages
    said = text_of(tuple(page.sheet for page in choices.pages))
    for name in ("As it is", "Long", "Stack", "Thick")[:count]:
        assert said.count(name) == 1
    assert f"page {len(pages)} of {len(pages)}" in said


def brick_heights(choices: Choices) -> list[float]:
    """Return how high the front stands on paper in each picture."""
    found = []
    for page in choices.pages:
        for placed in page.sheet.drawings:
            if placed.drawing.name == "appearance":
                scale = placed.placement.scale
                assert placed.drawing.scale == scale
                found.append(36.25 / scale)
    return found


def test_pictures_have_one_scale_and_one_size_on_every_page(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # One of them misses: it is higher, and in a low room would have another scale.
    monkeypatch.setattr(options, "AIR", 0.7)
    choices = offer(solved("".join((*ALL[:3], TIGHT))))
    heights = brick_heights(choices)
    assert len(heights) == 4
    assert len({round(x, 9) for x in heights}) == 1
    assert heights[0] > 1.2
    sizes = set()
    for choice in choices.choices:
        left, low, right, high = extent_of(choice.picture)
        sizes.add((round(right - left, 6), round(high - low, 6)))
    assert len(sizes) == 1


def test_a_picture_at_another_scale_would_be_noticed() -> None:
    single, both = offered(OWN), offered("".join(ALL))
    assert brick_heights(single)[0] != pytest.approx(brick_heights(both)[0])


def test_all_stand_side_by_side_in_one_row() -> None:
    page = offered("".join(ALL[:3])).pages[0].sheet
    windows = [
        x.placement.window for x in page.drawings if x.drawing.name == "appearance"
    ]
    assert len({round(window[1], 6) for window in windows}) == 1
    for one, other in pairwise(windows):
        assert other[0] > one[2]


@pytest.mark.parametrize("photo", [None, WIDE, TALL])
@pytest.mark.parametrize("lengths", ["in", "mm"])
@pytest.mark.parametrize("tables", ["", PRICED])
def test_nothing_collides_nor_leaves_the_page(
    photo: Photo | None, lengths: str, tables: str
) -> None:
    for page in offered("".join(ALL), tables, photo, lengths).pages:
        sheet = page.sheet
        assert collisions_on(sheet) == []
        assert sheet.width > sheet.height
        margin = 0.45 * (1.0 if lengths == "in" else 25.4)
        foot = min(words.at[1] for words in words_on((sheet,)))
        assert foot >= margin
        for placed in sheet.drawings:
            if placed.drawing.name == "appearance":
                left, low, right, high = placed.placement.window
                assert left >= margin
                assert right <= sheet.width - margin
                assert low > margin
                assert high <= sheet.height - margin
        said = [x for x in words_on((sheet,)) if x.at[1] > foot + 1e-6]
        lowest = min(words.at[1] for words in said)
        assert lowest > foot + 0.1 * (1.0 if lengths == "in" else 25.4)


@pytest.mark.parametrize("photo", [WIDE, TALL])
def test_each_photograph_keeps_its_shape_and_lies_under_its_picture(
    photo: Photo,
) -> None:
    choices = offered("".join(ALL), "", photo)
    places = [place for page in choices.pages for _, place in page.montages]
    assert places == [0, 1, 2, 3]
    for page in choices.pages:
        windows = [
            x.placement.window
            for x in page.sheet.drawings
            if x.drawing.name == "appearance"
        ]
        for (box, _), window in zip(page.montages, windows, strict=True):
            wide, high = box[2] - box[0], box[3] - box[1]
            assert wide / high == pytest.approx(photo.wide / photo.high)
            assert window[0] - 1e-6 <= box[0] <= box[2] <= window[2] + 1e-6
            assert box[3] < window[1]
        floor = min(box[1] for box, _ in page.montages)
        under = [x.at[1] for x in words_on((page.sheet,)) if x.text == "price"]
        assert max(under) < floor


def test_without_a_photograph_there_is_none() -> None:
    choices = offered(OWN)
    assert choices.pages[0].montages == ()
    assert choices.choices[0].montage is None
    assert choices.drawn_from.photo == ""
    assert "photo" not in text_of((choices.pages[0].sheet,))


def test_the_photographs_digest_stands_at_the_foot() -> None:
    choices = offered(OWN, "", WIDE)
    assert choices.drawn_from.photo == WIDE.digest
    assert f"/ photo {WIDE.digest[:12]}" in text_of((choices.pages[0].sheet,))


# -------------------------------------------------------------------- what is said


def test_the_pages_say_of_each_what_was_solved_of_it() -> None:
    choices = offered("".join(ALL))
    for (name, solution), choice in zip(
        solved("".join(ALL)), choices.choices, strict=True
    ):
        assert choice.name == name
        assert choice.facts == facts_of(solution)
    paints = [
        {x.colour for x in each.picture.ink if isinstance(x, Paint)}
        for each in choices.choices
    ]
    assert all(paints)


def test_what_lands_and_what_is_missed_is_told_with_how_far() -> None:
    assert facts(offered(OWN))["lands"] == "on the opening head and the top"
    ((_, solution),) = solved(TIGHT)
    assert not solution.coursing.lands
    said = facts(offered(TIGHT))["lands"]
    assert said == "on the opening head; MISSES the top by 1/2 in"
    warned = offered(TIGHT).choices[0].warns
    assert any(words.startswith("COURSES DO NOT LAND ON") for words in warned)


def test_bond_head_and_joints_are_said_in_whole_words() -> None:
    facts = dict(facts_of(solution_of("semicircular-dining-room")))
    assert facts["bond"] == "half bond, a semicircular arch over the opening"
    assert facts["joints"] == '3/8", the bottom one too'
    facts = dict(facts_of(solution_of("cannot-land")))
    assert facts["bond"] == "half bond, soldiers over the opening"
    assert facts["joints"] == '7/16", the bottom one 5/8"'


def test_the_cuts_are_counted_from_what_is_laid() -> None:
    ((_, solution),) = solved(OWN)
    sawn = [x for x in solution.pieces if x.is_cut or x.is_trimmed or x.is_made]
    marks = {piece.mark for piece in sawn}
    assert facts(offered(OWN))["cuts"] == (
        f"{len(sawn)} of {len(solution.pieces)} pieces are sawn, in {len(marks)} kinds"
    )


def test_a_price_is_the_quotes_total() -> None:
    ((_, solution),) = solved(OWN, PRICED)
    assert not solution.estimate.is_partial
    total = format_money(solution.estimate.total)
    assert facts(offered(OWN, PRICED))["price"] == f"{total} USD"


def test_while_a_line_is_not_reckoned_there_is_no_price() -> None:
    # Another brick has not the price of the job's own.
    choices = offered(OWN + LONG, PRICED)
    said = facts(choices, 1)["price"]
    assert said == f"{NO_PRICE}. Not reckoned: flat units"
    assert not any(sign.isdigit() for sign in said)
    assert facts(choices)["price"].endswith("USD")


def test_without_any_figures_nothing_is_reckoned() -> None:
    assert facts(offered(OWN))["price"] == NOTHING


def test_dates_are_days_where_the_day_of_setting_is_given_and_else_waits() -> None:
    assert "point the joints: 1 day after setting" in facts(offered(OWN))["dates"]
    dated = offered(OWN, "[schedule]\nset_on = 2026-06-08\n")
    ((_, solution),) = solved(OWN, "[schedule]\nset_on = 2026-06-08\n")
    for step in solution.schedule:
        assert f"{step.what}: {step.day.isoformat()}" in facts(dated)["dates"]


def test_what_fails_is_named_and_what_is_not_checked_is_counted() -> None:
    typed = '[[option]]\nname = "Strict"\n[option.bond]\nleast_piece = "3 3/4 in"\n'
    ((_, solution),) = solved(typed)
    failed = [x.rule.words for x in solution.findings if x.status == "failed"]
    assert failed
    warns = offered(typed).choices[0].warns
    assert [x for x in warns if x.startswith("FAILED")] == [
        f"FAILED: {words}" for words in failed
    ]
    assert not any("SEE FINDINGS" in words for words in warns)
    assert any("NOT CHECKED: NO APPROVAL IS IMPLIED" in words for words in warns)


def test_what_leaves_no_room_for_pictures_is_refused_in_words(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(options, "MOST_OF_IT", 9.0)
    offer(solved(OWN))
    monkeypatch.setattr(options, "LEAST_OF_IT", 9.0)
    with pytest.raises(NotDrawable, match=r"sheet.page: the options do not fit a page"):
        offer(solved(OWN))
