"""Draw the quote for the owner: what is done, what it costs, what is left out.

In:  `Solution`.   Out: a `Sheet`, standing up.
Frame: as `lines`.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from fractions import Fraction

from shopdraw.drawing.papers import Part
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.model_bands import band_names
from shopdraw.job.model_head import STANDING
from shopdraw.lengths import format_length, format_made
from shopdraw.quantities.estimate import Estimate, Group
from shopdraw.quantities.money import format_figure, format_hundredths, format_money
from shopdraw.solution import Solution
from shopdraw.views.papers.lines import (
    BLANK,
    PageColumn,
    PageHand,
    Picture,
    set_pages,
)
from shopdraw.views.parts.phrases import listed
from shopdraw.views.picture.appearance import fill_room

HIGH = 3.0
"""In inches: how high the owner's picture is."""
PARTIAL = "PARTIAL: THIS IS NO PRICE YET"
EXCLUDED = (
    "Gas, and whatever is connected to it",
    "electric work",
    "woodwork, its fixing and its finish",
    "damage that is hidden until the old work is off",
)
"""What no price of brickwork holds, whatever a job says."""
GROUPS: tuple[tuple[Group, str], ...] = (
    ("labour", "Work"),
    ("materials", "Materials"),
    ("travel", "Travel"),
)
SUMS = (PageColumn("", 3), PageColumn("", 1, "right"))
IMPRESSION = (
    "The picture is an impression: real brick, joints and daylight will look different."
)


def draw_quote(solution: Solution) -> tuple[Sheet, ...]:
    """Draw the quote on one upright page.

    Raises:
        NotDrawable: it does not fit the page.
    """
    picture = Picture(lambda room: fill_room(solution, room), HIGH)
    names = "quote", "QUOTE"
    return set_pages(
        solution, names, lambda hand: _parts(solution, hand), picture=picture
    )


def _parts(solution: Solution, hand: PageHand) -> Iterator[Part]:
    about, estimate = solution.job.job, solution.estimate
    labour = solution.job.labour
    yield hand.says(IMPRESSION, height=0.8)
    yield hand.head("What is done")
    yield from hand.items(scope_of(solution))
    yield hand.head("What it costs")
    yield from _price(estimate, hand)
    yield hand.head("What is not in it")
    own = labour.excludes if labour is not None else ()
    yield hand.says(f"{'; '.join((*EXCLUDED, *own))}.")
    yield hand.head("How it is paid, and how long it stands")
    yield from _payment(estimate, hand)
    yield _stands(solution, hand)
    yield hand.gap()
    yield hand.asked("Owner", "Date")
    yield hand.asked("Mason", "Date")
    firm = [each for each in (about.firm, about.licence) if each]
    if firm:
        yield hand.says(", ".join(firm))


def scope_of(solution: Solution) -> Iterator[str]:
    """Yield what is done, in plain words, from what is laid."""
    job, layout = solution.job, solution.layout

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    if job.stripping is not None and job.stripping.old:
        old = ", ".join(each.called for each in job.stripping.old)
        good = " and make the wall good" if job.stripping.patching else ""
        yield f"Take the old work off ({old}){good}."
    brick, front = job.brick, solution.surround.front
    opening = solution.surround.opening
    size = f"{format_made(brick.length, job.lengths)} x "
    size += format_made(brick.height, job.lengths)
    count = len(layout.pieces)
    yield (
        f"Face the fireplace in thin brick ({brick.size or 'as measured'}, {size}) in "
        f"{job.bond.pattern} bond: {count} pieces, on a front {say(front.width)} wide "
        f"and {say(solution.coursing.top)} high{_turned(solution)}, round an opening "
        f"{say(opening.brick_right - opening.brick_left)} wide."
    )
    head = job.opening.head
    if head != "running":
        named = f"{head} course" if head in STANDING else head
        where = "round the face" if job.opening.head_over == "face" else ""
        yield f"Over the opening: a {named} {where}".rstrip() + "."
    more = [
        *(f"the {panel.name} ({panel.pattern})" for panel in layout.panels),
        *(f"a {name}" for name in band_names(job.band)),
        *(["a corbel"] if job.corbel else []),
        *(["the hearth in brick"] if solution.hearth is not None else []),
    ]
    if more:
        yield f"With {listed(more)}."
    soft = solution.takeoff.row("soft joints").net
    joints = f"Joints pointed, {job.joints.profile}"
    if soft:
        measure = solution.takeoff.row("soft joints").measure
        joints += f"; {format_hundredths(soft)} {measure} of joints filled with sealant"
    yield f"{joints}."
    yield "Setting out, protecting what is near, and cleaning up."


def _turned(solution: Solution) -> str:
    sides = [x.name for x in solution.surround.faces if x.name in ("left", "right")]
    if not sides:
        return ""
    if len(sides) == 2:
        return ", turning back at both sides"
    return f", turning back at the {sides[0]}"


def _price(estimate: Estimate, hand: PageHand) -> Iterator[Part]:
    """Letter the price by groups, tax and total; no total while something lacks."""
    if estimate.is_empty:
        blank = [(name, BLANK) for _, name in GROUPS]
        yield from hand.rows(SUMS, (*blank, ("Tax", BLANK), ("Total", BLANK)))
        return
    money = f" {estimate.currency}".rstrip()
    rows = [
        (name, _of_group(estimate, group, money))
        for group, name in GROUPS
        if not (estimate.cost_of(group) == 0 and not estimate.lacks(group))
    ]
    if estimate.tax:
        percent = format_figure(estimate.tax_percent)
        what = f"Tax, {percent} % on {format_money(estimate.taxed)}"
        rows.append((what, format_money(estimate.tax) + money))
    if not estimate.is_partial:
        rows.append(("TOTAL", format_money(estimate.total) + money))
        yield from hand.rows(SUMS, rows)
        return
    yield hand.says(PARTIAL, height=1.4)
    yield from hand.rows(SUMS, rows)
    lacking = "; ".join(line.what for line in estimate.not_reckoned)
    yield hand.says(
        f"Not reckoned, and in no sum above: {lacking}. The total is named when they "
        "are."
    )


def _of_group(estimate: Estimate, group: Group, money: str) -> str:
    price = format_money(estimate.price_of(group)) + money
    if not estimate.lacks(group):
        return price
    return f"in part: {price}" if estimate.cost_of(group) else "not reckoned"


def _payment(estimate: Estimate, hand: PageHand) -> Iterator[Part]:
    """Letter when what share is due."""
    percent = estimate.deposit_percent
    if percent is None:
        yield hand.asked("On agreement: a deposit of")
        yield hand.says("When the joints are pointed: the rest.")
        return
    deposit, money = estimate.deposit, f" {estimate.currency}".rstrip()
    first = f"On agreement: a deposit of {format_figure(percent)} % of the total"
    rest = "When the joints are pointed: the rest"
    if deposit is not None:
        first += f", {format_money(deposit)}{money}"
        rest += f", {format_money(estimate.total - deposit)}{money}"
    yield from hand.items((f"{first}.", f"{rest}."))


def _stands(solution: Solution, hand: PageHand) -> Part:
    """Letter until when the quote stands."""
    labour, dated = solution.job.labour, solution.job.job.date
    if labour is None or labour.valid_days is None:
        return hand.asked("This quote stands until")
    days = f"{labour.valid_days} day{'' if labour.valid_days == 1 else 's'}"
    if dated is None:
        return hand.says(f"This quote stands for {days} from the day of signing.")
    until = dated + timedelta(days=labour.valid_days)
    return hand.says(f"This quote stands for {days}, until {until.isoformat()}.")
