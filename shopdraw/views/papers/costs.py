"""Draw the mason's own sheet of hours and costs: every line, and what it comes from.

In:  `Solution`.   Out: `Sheet`s, standing up.
Frame: as `lines`.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.papers import Part
from shopdraw.drawing.sheets import Sheet
from shopdraw.quantities.estimate import Estimate, Line
from shopdraw.quantities.money import (
    exactly,
    format_each,
    format_figure,
    format_money,
)
from shopdraw.solution import Solution
from shopdraw.views.papers.lines import (
    BLANK,
    PageColumn,
    PageHand,
    set_pages,
    stamped,
)

NOT_FOR = "For the mason alone: the owner gets the quote."
HOURS = (
    PageColumn("task", 3.4),
    PageColumn("quantity", 1.5, "right"),
    PageColumn("hours each", 1.2, "right"),
    PageColumn("hours", 0.9, "right"),
    PageColumn("cost", 1.2, "right"),
    PageColumn("markup", 1.0, "right"),
    PageColumn("price", 1.2, "right"),
    PageColumn("taxed", 0.8, "right"),
)
BOUGHT = (
    *(PageColumn("item", 3.4), PageColumn("quantity", 1.5, "right")),
    PageColumn("price each", 2.1, "right"),
    *HOURS[4:],
)
RULE = (
    "Quantities and hours are rounded to hundredths as they stand here; money is a "
    "quantity times its figure, rounded to the cent, a half up. Markup is on cost."
)


def draw_costs(solution: Solution) -> tuple[Sheet, ...]:
    """Draw the costs, on two upright pages at the most.

    Raises:
        NotDrawable: they do not fit.
    """
    names = "costs", "HOURS AND COSTS"
    return set_pages(solution, names, lambda hand: _parts(solution, hand), most=2)


def _parts(solution: Solution, hand: PageHand) -> Iterator[Part]:
    estimate, labour = solution.estimate, solution.job.labour
    money = f" {estimate.currency}".rstrip()
    yield hand.says(NOT_FOR)
    yield from stamped(solution, hand)
    yield hand.head("Work")
    rate = labour.rate if labour is not None else None
    if rate is None:
        yield hand.asked("Rate for an hour")
    else:
        yield hand.says(f"Rate for an hour: {format_each(exactly(rate))}{money}.")
    tasks = [line for line in estimate.lines if line.group == "labour"]
    known = "all hours" if all(x.hours is not None for x in tasks) else "hours known"
    hours = format_money(estimate.hours)
    if estimate.is_empty:
        known, hours = "all hours", BLANK
    total = (known, "", "", hours, "", "", "", "")
    yield from hand.rows(HOURS, (*(_task(x, estimate) for x in tasks), total))
    yield hand.head("Materials and travel")
    others = [line for line in estimate.lines if line.group != "labour"]
    yield from hand.rows(BOUGHT, (_bought(x, estimate) for x in others))
    yield hand.head("Sum")
    yield from _sums(estimate, hand, money)
    yield hand.gap()
    yield hand.says(RULE, height=0.85)


def _task(line: Line, estimate: Estimate) -> tuple[str, ...]:
    each = BLANK if line.each is None else format_figure(line.each)
    hours = BLANK if line.hours is None else format_money(line.hours)
    return line.what, _quantity(line), each, hours, *_money(line, estimate)


def _bought(line: Line, estimate: Estimate) -> tuple[str, ...]:
    each = BLANK if line.each is None else format_each(line.each)
    return line.what, _quantity(line), each, *_money(line, estimate)


def _quantity(line: Line) -> str:
    if line.key == "travel" and "labour.trips" in line.missing:
        return BLANK
    return line.amount


def _money(line: Line, estimate: Estimate) -> tuple[str, ...]:
    if estimate.is_empty:
        return (BLANK,) * 4
    if line.cost is None or line.price is None:
        return BLANK, _percent(line), BLANK, _taxed(line)
    return (
        format_money(line.cost),
        _percent(line),
        format_money(line.price),
        _taxed(line),
    )


def _percent(line: Line) -> str:
    return f"{format_figure(line.markup)} %"


def _taxed(line: Line) -> str:
    return "yes" if line.is_taxed else "no"


def _sums(estimate: Estimate, hand: PageHand, money: str) -> Iterator[Part]:
    """Letter cost, markup, tax and total; of what is reckoned alone while one lacks."""
    if estimate.is_empty:
        names = "Cost", "Markup", "Tax", "TOTAL", "Deposit"
        yield from hand.rows(_SUMS, [(name, BLANK) for name in names])
        return
    cost, price = estimate.cost_of(), estimate.price_of()
    rows = [
        ("Cost", format_money(cost)),
        ("Markup", format_money(price - cost)),
        (
            f"Tax, {format_figure(estimate.tax_percent)} % on "
            f"{format_money(estimate.taxed)}",
            format_money(estimate.tax),
        ),
    ]
    if estimate.is_partial:
        lacking = "; ".join(line.what for line in estimate.not_reckoned)
        yield hand.says("PARTIAL: of what is reckoned alone", height=1.2)
        yield from hand.rows(_SUMS, rows)
        yield hand.says(f"Not reckoned: {lacking}.")
        return
    rows.append(("TOTAL", format_money(estimate.total) + money))
    if estimate.deposit is not None and estimate.deposit_percent is not None:
        percent = format_figure(estimate.deposit_percent)
        rows.append((f"Deposit, {percent} %", format_money(estimate.deposit)))
    yield from hand.rows(_SUMS, rows)


_SUMS = (PageColumn("", 3), PageColumn("", 1, "right"))
