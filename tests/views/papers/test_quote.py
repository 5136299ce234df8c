"""The quote and the costs: what stands on them is what was reckoned, and no more."""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_HALF_UP
from decimal import Decimal as D
from pathlib import Path

import pytest

from shopdraw.drawing.ink import Paint
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import NotDrawable
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.quantities.money import format_money
from shopdraw.solution import Solution
from shopdraw.views.papers.asked import DRAWN, draw_asked
from tests.demos import CONFIGS, solution_of
from tests.odd_jobs import TEXTS, odd_solution
from tests.views.lettering import collisions_on
from tests.views.papers.reading import (
    dining,
    lines_on,
    lines_to_write_on,
    text_of,
    words_on,
)

NAMES = sorted(path.stem for path in CONFIGS.glob("*.toml"))


def quote_of(solution: Solution) -> tuple[Sheet, ...]:
    return DRAWN["quote"](solution)


def costs_of(solution: Solution) -> tuple[Sheet, ...]:
    return DRAWN["costs"](solution)


def multiplied(pages: tuple[Sheet, ...]) -> list[tuple[str, D, D]]:
    """Multiply again what stands in each row of the costs: the row, ours, theirs.

    A task: quantity x hours each = hours, hours x rate = cost; what is bought: quantity
    x price = cost; and cost x markup = price. To the cent, a half up, by `decimal`.
    """
    lines = lines_on(pages)
    said = next(x for x in lines if x.startswith("Rate for an hour"))
    rate = D(said.split(":")[1].split()[0])
    found = []

    def cents(value: D) -> D:
        return value.quantize(D("0.01"), ROUND_HALF_UP)

    for line in lines:
        what, *cells = line.split(" | ")
        figures = [D(x.split()[0].replace(",", "")) for x in cells if x[:1].isdigit()]
        if len(figures) == 6:
            amount, each, hours, cost, markup, price = figures
            found.append((f"{what}, hours", cents(amount * each), hours))
            found.append((f"{what}, cost", cents(hours * rate), cost))
        elif len(figures) == 5:
            amount, each, cost, markup, price = figures
            found.append((f"{what}, cost", cents(amount * each), cost))
        else:
            continue
        found.append((f"{what}, price", cost + cents(cost * markup / 100), price))
    return found


def test_whoever_multiplies_what_stands_on_the_costs_comes_to_the_same() -> None:
    found = multiplied(costs_of(dining()))
    assert len(found) == 8 * 3 + 6 * 2
    assert [each for each in found if each[1] != each[2]] == []


def test_a_figure_damaged_on_the_costs_is_noticed() -> None:
    (page,) = costs_of(dining())
    (placed,) = page.drawings
    price = next(x for x in words_on((page,)) if x.text == "422.40")
    ink = tuple(
        replace(x, text="422.41") if x == price else x for x in placed.drawing.ink
    )
    damaged = replace(page, drawings=(placed.with_ink(ink),))
    assert [each for each in multiplied((damaged,)) if each[1] != each[2]]


def test_the_quote_adds_up_to_its_total() -> None:
    lines = lines_on(quote_of(dining()))
    money = {
        what: D(cell.removesuffix(" USD").replace(",", ""))
        for what, _, cell in (x.partition(" | ") for x in lines)
        if cell.endswith(" USD")
    }
    parts = [x for what, x in money.items() if what != "TOTAL"]
    assert len(parts) == 4
    assert sum(parts) == money["TOTAL"]


def test_the_owner_sees_no_cost_and_no_markup() -> None:
    solution = dining()
    said = text_of(quote_of(solution))
    assert "markup" not in said.lower()
    for line in solution.estimate.lines:
        if line.markup and line.cost is not None:
            assert format_money(line.cost) not in said


def test_the_quote_says_what_is_done_what_is_left_out_and_how_it_is_paid() -> None:
    solution = dining()
    said = text_of(quote_of(solution))
    assert solution.estimate.deposit is not None
    for words in (
        f"{len(solution.layout.pieces)} pieces",
        "turning back at both sides",
        "Over the opening: a semicircular arch.",
        "Gas, and whatever is connected to it; electric work; woodwork",
        "damage that is hidden",
        "painting of the wall beside the brick",
        f"a deposit of 30 % of the total, {format_money(solution.estimate.deposit)}",
        "until 2026-07-08",
        "Owner",
    ):
        assert words in said, words
    (page,) = quote_of(solution)
    ink = [x for each in page.drawings for x in each.drawing.ink]
    assert any(isinstance(x, Paint) for x in ink)


def test_bands_corbels_panels_and_a_hearth_in_brick_are_named() -> None:
    said = text_of(quote_of(solution_of("banded-breast")))
    assert "With a soldier band, a header band, a rowlock band and a corbel." in said
    said = text_of(quote_of(solution_of("raised-hearth")))
    assert "With the hearth in brick." in said
    assert "corbel" not in text_of(quote_of(solution_of("library-hearth")))


def test_the_owner_reads_the_opening_as_it_will_be() -> None:
    """Brick in the splayed parlour's jambs leaves 32 3/8 in of the 33 7/8 found."""
    said = text_of(quote_of(solution_of("splayed-parlour")))
    assert "round an opening 2'-8 3/8\" wide." in said


@pytest.mark.parametrize(
    ("old", "what"),
    [
        ("arch = 1.75                 # a foot of span\n", "the arch"),
        ("travel = 18.50\n", "travel"),
        ("flats = 88.40\n", "flat units"),
    ],
)
def test_while_a_line_lacks_there_is_no_total_and_no_deposit(
    old: str, what: str
) -> None:
    solution = dining((old, ""))
    for pages in (quote_of(solution), costs_of(solution)):
        said = text_of(pages)
        assert "PARTIAL" in said
        assert "TOTAL" not in said
        assert format_money(solution.estimate.total) not in said
        assert "ot reckoned" in said
        assert what in said.partition("PARTIAL")[2]
    assert "a deposit of 30 % of the total." in text_of(quote_of(solution))
    assert "not reckoned USD" not in text_of(quote_of(solution))


def test_a_quote_of_no_figures_is_a_form_to_fill_in_by_hand() -> None:
    solution = odd_solution("small on letter")
    (quote,) = quote_of(solution)
    said = text_of((quote,))
    assert "PARTIAL" not in said
    assert "0.00" not in said
    # Work, materials, travel, tax, total; deposit, until when; two names, two dates.
    assert lines_to_write_on(quote) == 5 + 2 + 4
    (costs,) = costs_of(solution)
    assert lines_to_write_on(costs) > 10


@pytest.mark.parametrize("name", [*NAMES, *TEXTS])
def test_each_paper_fits_and_nothing_lies_on_anything(name: str) -> None:
    solution = odd_solution(name) if name in TEXTS else solution_of(name)
    for paper, draw in DRAWN.items():
        pages = draw(solution)
        for page in pages:
            assert collisions_on(page) == [], paper
            for placed in page.drawings:
                left, low, right, high = placed.placement.window
                assert left >= -1e-6
                assert low >= -1e-6
                assert right <= page.width + 1e-6
                assert high <= page.height + 1e-6


def test_papers_come_only_when_they_are_asked_for() -> None:
    assert list(draw_asked(solution_of("library-hearth"))) == []
    assert [name for name, _ in draw_asked(dining())][:2] == ["quote", "costs"]
    bare = odd_solution("small on letter")
    asking = replace(bare, job=bare.job.asking_for(("costs",)))
    assert [name for name, _ in draw_asked(asking)] == ["costs"]


def test_each_page_says_what_it_is_drawn_from() -> None:
    solution = dining()
    for paper, draw in DRAWN.items():
        for page in draw(solution):
            assert solution.job.digest[:12] in text_of((page,)), paper


def test_a_page_too_small_is_refused_in_words() -> None:
    long = "; ".join(["every thing that was ever thought of beside a hearth"] * 2)
    excludes = ", ".join(f'"{long[:110]} {n}"' for n in range(90))
    with pytest.raises(NotDrawable, match="quote does not fit 1 page"):
        quote_of(
            dining(
                (
                    'excludes = ["painting of the wall beside the brick"]',
                    f"excludes = [{excludes}]",
                )
            )
        )


def test_lettering_is_as_large_as_the_page_has_room_for() -> None:
    few = {x.height_on_paper for x in words_on(costs_of(dining()))}
    assert max(few) <= 0.2
    assert min(few) >= 0.06


def test_a_metric_job_is_in_its_own_measures() -> None:
    path = CONFIGS / "metric-slips.toml"
    solution = solve(parse_job(path.read_text(encoding="utf-8"), Path("m.toml")))
    said = text_of(costs_of(solution))
    assert " m2" in said
    assert "sq ft" not in said
