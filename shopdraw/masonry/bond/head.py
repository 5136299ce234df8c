"""Carry the legs' joints on above the opening, and stop the legs beside soldiers.

In:  the runs chosen for both legs.   Out: the runs across the front, and beside.
Frame: integers on the plan's grid.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from shopdraw.masonry.bond.plan import (
    BondPlan,
    bought_legs,
    count_courses,
    count_meetings,
    front_ends,
)
from shopdraw.masonry.bond.runs import Run, RunRules, Span, mirrored
from shopdraw.masonry.bond.score import Score, add_scores, is_kept, run_score
from shopdraw.masonry.bond.zones import Choice, Zone, solve_zone


def stop_beside(
    legs: tuple[Run, ...], stop: int, rules: RunRules
) -> tuple[Run, ...] | None:
    """Stop a left leg's runs at `stop`; None where soldiers leave it no room.

    Brick that turns into the jamb below the head does not turn above it.
    """
    legs = tuple(replace(run, has_right_leg=False) for run in legs)
    if any(run.pieces[0][0] >= stop for run in legs):
        return None
    return tuple(_clipped(run, stop, rules) for run in legs)


def _clipped(leg: Run, stop: int, rules: RunRules) -> Run:
    """Stop a left leg's run at `stop`, its joints staying plumb with those below.

    Where that would leave a piece under the least, the last joint is left out, or
    else moved: a perpend out of plumb beside the soldiers is less bad than a sliver.
    """
    if leg.pieces[-1][1] <= stop:
        return leg
    kept = [piece for piece in leg.pieces if piece[0] < stop]
    first_unit = 1 if leg.has_left_leg else 0
    sliver = len(kept) > first_unit and stop - kept[-1][0] < rules.least_piece
    if sliver and len(kept) - 1 > first_unit:
        start = kept[-2][0]
        kept[-2:] = _two_or_one(start, stop, leg.joint, rules)
    elif (
        sliver and stop - rules.least_piece - leg.joint - kept[0][0] >= rules.least_leg
    ):
        last = stop - rules.least_piece
        kept = [(kept[0][0], last - leg.joint), (last, stop)]
    else:
        kept[-1] = (kept[-1][0], stop)
    return replace(
        leg,
        pieces=tuple(kept),
        right_end="soldier",
        joint=leg.joint if len(kept) > 1 else 0,
        trims=max(leg.trims, int(leg.has_left_leg and kept[0] != leg.pieces[0])),
    )


def _two_or_one(
    start: int, stop: int, joint: int, rules: RunRules
) -> list[tuple[int, int]]:
    """Fill what two pieces filled with one, if a unit is long enough, or with two."""
    if stop - start <= rules.unit:
        return [(start, stop)]
    last = max(rules.least_piece, stop - start - joint - rules.unit)
    return [(start, stop - last - joint), (stop - last, stop)]


def close_over(
    plan: BondPlan, left: Choice, right: Choice, cap: int, *, thorough: bool
) -> tuple[tuple[Run, ...], Score]:
    """Carry both legs' joints on above the opening, and close between them."""
    ends = front_ends(plan)
    lefts = [_carried(run, leg) for run, leg in zip(left.runs, ends[0][2], strict=True)]
    rights = [
        _carried(mirrored(run, 0), leg)
        for run, leg in zip(right.runs, ends[1][2], strict=True)
    ]
    spans = tuple(
        Span(
            left=a.start,
            right=-b.start,
            left_end=ends[0][1] if not a.kept else "carried",
            right_end=ends[1][1] if not b.kept else "carried",
            left_leg=a.leg,
            right_leg=b.leg,
            centre=plan.on_grid(plan.surround.opening.centre),
        )
        for a, b in zip(lefts, rights, strict=True)
    )
    fixed = tuple(
        (*a.joints, *((-y, -x) for x, y in b.joints))
        for a, b in zip(lefts, rights, strict=True)
    )
    counts, meetings = count_courses(plan, plan.over), count_meetings(plan.over)
    # The course on top of the legs meets them too.
    zone = Zone(spans, counts, meetings + 1, fixed, "centre", racked=False)
    choice = _closed(zone, plan, cap, thorough=thorough)
    over = tuple(
        _composed(a, run, b)
        for a, run, b in zip(lefts, choice.runs, rights, strict=True)
    )
    total = add_scores(
        [
            run_score(run, count, plan.rules, bought_legs(plan), cap)
            for run, count in zip(over, counts, strict=True)
            if count
        ]
    )
    return over, replace(
        total,
        short_laps=choice.score.short_laps,
        how_short=choice.score.how_short,
        asymmetry=choice.score.asymmetry,
        different_cuts=choice.score.different_cuts,
    )


def _closed(zone: Zone, plan: BondPlan, cap: int, *, thorough: bool) -> Choice:
    """Close on the centre line, mirrored about it where the faces are."""
    found: list[Choice] = []
    if plan.symmetric:
        about = plan.on_grid(plan.surround.opening.centre)
        found = solve_zone(
            replace(zone, mirror=about), plan.rules, cap=cap, thorough=False
        )
        if found and is_kept(found[0].score):
            return found[0]
    for choice in solve_zone(zone, plan.rules, cap=cap, thorough=thorough):
        asymmetry = int(plan.symmetric)
        found.append(replace(choice, score=replace(choice.score, asymmetry=asymmetry)))
    return min(found, key=lambda choice: choice.score.key())


@dataclass(frozen=True)
class _Carried:
    """What the head takes over from a leg: its pieces except the one at the jamb."""

    start: int
    leg: int | None
    kept: tuple[tuple[int, int], ...]
    joints: tuple[tuple[int, int], ...]
    trims: int
    has_leg: bool


def _carried(leg: Run, bought: int | None) -> _Carried:
    if len(leg.pieces) == 1:
        start = leg.pieces[0][0]
        return _Carried(start, bought if leg.has_left_leg else None, (), (), 0, False)
    return _Carried(
        start=leg.pieces[-1][0],
        leg=None,
        kept=leg.pieces[:-1],
        joints=leg.joints,
        trims=leg.trims,
        has_leg=leg.has_left_leg,
    )


def _composed(left: _Carried, middle: Run, right: _Carried) -> Run:
    right_kept = tuple((-b, -a) for a, b in reversed(right.kept))
    return Run(
        pieces=(*left.kept, *middle.pieces, *right_kept),
        joint=middle.joint,
        has_left_leg=left.has_leg or middle.has_left_leg,
        has_right_leg=right.has_leg or middle.has_right_leg,
        trims=left.trims + middle.trims + right.trims,
        left_end=middle.left_end
        if not left.kept
        else ("fold" if left.has_leg else "edge"),
        right_end=(
            middle.right_end
            if not right.kept
            else ("fold" if right.has_leg else "edge")
        ),
    )
