"""Choose the runs of every zone: the returns, the legs, and the head between them.

In:  `BondPlan`.   Out: `SolvedBond`.
Frame: integers on the plan's grid.

The head carries on the legs' joints, so the front's legs and head are chosen together;
each return meets the front only in its corner units, so it is chosen alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from shopdraw.masonry.bond.head import close_over, stop_beside
from shopdraw.masonry.bond.plan import (
    BondPlan,
    bought_legs,
    count_courses,
    count_meetings,
    front_ends,
    span_phases,
)
from shopdraw.masonry.bond.runs import EndKind, Run, mirrored
from shopdraw.masonry.bond.score import Score, add_scores, is_kept, laps, run_score
from shopdraw.masonry.bond.zones import Choice, Zone, solve_zone

LEGS_KEPT, LEGS_TRIED, LEGS_FITTED = 300, 20, 4
"""How many ways of laying a leg are kept; how many of those, with different joints at
the opening, are tried with the courses above; and how many of these are tried closely.
"""


@dataclass(frozen=True)
class SolvedBond:
    """The runs chosen, a run for each phase.

    Attributes:
        left_return, right_return: None where there is no return.
        left_reveal, right_reveal: None where nothing turns into the jambs.
        jambs_swapped: as in the plan that it was solved for.
        left_leg, right_leg: below the head.
        left_beside, right_beside: beside soldiers over the opening.
        over: across the front above the head; None where nothing stands there.
        score: the merit of the whole.
    """

    left_return: tuple[Run, ...] | None
    right_return: tuple[Run, ...] | None
    left_leg: tuple[Run, ...]
    right_leg: tuple[Run, ...]
    left_beside: tuple[Run, ...] | None
    right_beside: tuple[Run, ...] | None
    over: tuple[Run, ...] | None
    score: Score
    left_reveal: tuple[Run, ...] | None = None
    right_reveal: tuple[Run, ...] | None = None
    jambs_swapped: bool = False


@dataclass(frozen=True)
class _Front:
    left_leg: tuple[Run, ...]
    right_leg: tuple[Run, ...]
    left_beside: tuple[Run, ...] | None
    right_beside: tuple[Run, ...] | None
    over: tuple[Run, ...] | None
    score: Score


def solve_bond(plan: BondPlan, soldier_stops: tuple[int, int]) -> SolvedBond:
    """Choose the runs of every zone.

    Args:
        plan: the job on the grid.
        soldier_stops: where the leg brick stops beside soldiers over the opening, on
            the grid, left and right.

    What counts is the smallest piece of the whole wall. So once the zone with the
    smallest is known, the others are chosen again, and need do no better than that.
    Where brick turns into the jambs, its long legs may lie either way round.
    """
    if not plan.surround.reveals:
        return _solve(plan, soldier_stops)
    ways = (plan, replace(plan, jambs_swapped=True))
    either = [_solve(way, soldier_stops) for way in ways]
    return min(either, key=lambda solved: solved.score.key())


def _solve(plan: BondPlan, soldier_stops: tuple[int, int]) -> SolvedBond:
    cap = plan.rules.half
    front = _solve_front(plan, soldier_stops, cap)
    returns = _solve_returns(plan, cap, _cuts(front, plan))
    smallest = min(
        int(x.smallest) for x in (front.score, *(r.score for r in returns if r))
    )
    if smallest < cap and not plan.is_quick:
        # Each leg was chosen for its own smallest piece; now the wall's is enough.
        again = _solve_front(plan, soldier_stops, smallest)
        front = min(front, again, key=lambda f: _capped(f.score, smallest).key())
        returns = _solve_returns(plan, smallest, _cuts(front, plan))
    left, right = returns
    reveals = _solve_reveals(plan, cap, _cuts(front, plan))
    scores = [front.score, *(r.score for r in (*returns, *reveals) if r)]
    return SolvedBond(
        left_return=left.runs if left else None,
        right_return=right.runs if right else None,
        left_leg=front.left_leg,
        right_leg=front.right_leg,
        left_beside=front.left_beside,
        right_beside=front.right_beside,
        over=front.over,
        score=add_scores(scores),
        left_reveal=reveals[0].runs if reveals else None,
        right_reveal=reveals[1].runs if reveals else None,
        jambs_swapped=plan.jambs_swapped,
    )


def _capped(score: Score, cap: int) -> Score:
    return replace(score, smallest=min(score.smallest, cap))


def _cuts(front: _Front, plan: BondPlan) -> frozenset[int]:
    runs = (*front.left_leg, *front.right_leg, *(front.over or ()))
    return frozenset(b - a for run in runs for a, b in run.units()) - {plan.rules.unit}


def _solve_returns(
    plan: BondPlan, cap: int, used: frozenset[int]
) -> tuple[Choice | None, Choice | None]:
    surround = plan.surround
    names = {face.name for face in surround.faces}
    chosen: dict[str, Choice | None] = {"left": None, "right": None}
    for name in ("left", "right"):
        if name not in names:
            continue
        if name == "right" and plan.symmetric and chosen["left"] is not None:
            about = surround.faces[0].left + surround.faces[-1].right
            chosen[name] = _mirrored_choice(chosen["left"], plan.on_grid(about))
            continue
        none = (None,) * plan.cycle
        legs = plan.return_legs
        if name == "left":
            ends = surround.left_edge.brick_x, surround.front.left
            spans = span_phases(plan, *ends, "wall", "fold", none, legs)
        else:
            ends = surround.front.right, surround.right_edge.brick_x
            spans = span_phases(plan, *ends, "fold", "wall", legs, none)
        counts, meetings = (
            count_courses(plan, plan.running),
            count_meetings(plan.running),
        )
        zone = Zone(spans, counts, meetings, ((),) * plan.cycle)
        chosen[name] = solve_zone(
            zone, plan.rules, cap=cap, used=used, thorough=not plan.is_quick
        )[0]
    return chosen["left"], chosen["right"]


def _solve_reveals(
    plan: BondPlan, cap: int, used: frozenset[int]
) -> tuple[Choice, ...]:
    """Fill the jambs behind the legs turned into them; the right mirrors the left."""
    if not plan.surround.reveals:
        return ()
    left, right = plan.surround.reveals
    none = (None,) * plan.cycle
    spans = span_phases(
        plan, left.left, left.right, "fold", "wall", plan.reveal_legs, none
    )
    counts, meetings = count_courses(plan, plan.below), count_meetings(plan.below)
    zone = Zone(spans, counts, meetings, ((),) * plan.cycle)
    choice = solve_zone(zone, plan.rules, cap=cap, used=used)[0]
    about = plan.on_grid(left.left + right.right)
    return choice, _mirrored_choice(choice, about)


Ranked = list[tuple[Score, tuple[Choice, Choice]]]
"""Ways of laying both legs, each with its score before the head is added."""


def _solve_front(plan: BondPlan, soldier_stops: tuple[int, int], cap: int) -> _Front:
    keep = LEGS_KEPT if (plan.over or plan.beside) and not plan.is_quick else 1
    pairs = _leg_pairs(plan, cap, keep)

    ranked = [(_without_head(plan, pair, soldier_stops, cap), pair) for pair in pairs]
    ranked.sort(key=lambda each: each[0].key())

    def best_of(few: Ranked, best: _Front | None = None, *, thorough: bool) -> _Front:
        for score, (left, right) in few:
            # A head only adds to the score of its legs: the rest can't be better.
            if best is not None and score.key() >= best.score.key():
                break
            front = _front_of(
                plan, left, right, soldier_stops, score, cap, thorough=thorough
            )
            if best is None or front.score.key() < best.score.key():
                best = front
        if best is None:
            message = "there is always a way of laying both legs"
            raise AssertionError(message)
        return best

    if not plan.over:
        return best_of(ranked[:1], thorough=True)
    if plan.is_quick:
        return best_of(ranked[:1], thorough=False)
    front = best_of(ranked[:LEGS_TRIED], thorough=False)
    if is_kept(front.score) and front.score.smallest >= cap:
        return front
    return best_of(ranked[:LEGS_FITTED], front, thorough=True)


def _leg_pairs(plan: BondPlan, cap: int, keep: int) -> list[tuple[Choice, Choice]]:
    """Return ways of laying both legs, mirrored where the faces are."""
    opening = plan.surround.opening
    jamb: EndKind = "fold" if plan.surround.reveals else "jamb"
    (left_x, left_end, left_legs), (right_x, right_end, right_legs) = front_ends(plan)
    courses = (*plan.below, *plan.beside)
    counts, meetings = count_courses(plan, courses), count_meetings(courses)
    fixed = ((),) * plan.cycle

    spans = span_phases(
        plan, left_x, opening.brick_left, left_end, jamb, left_legs, plan.jamb_legs
    )
    lefts = solve_zone(
        Zone(spans, counts, meetings, fixed),
        plan.rules,
        cap=cap,
        keep=keep,
        thorough=not plan.is_quick,
    )
    if plan.symmetric:
        about = plan.on_grid(2 * opening.centre)
        lefts = _distinct(lefts)
        return [(left, _mirrored_choice(left, about)) for left in lefts]
    spans = span_phases(
        plan, opening.brick_right, right_x, jamb, right_end, plan.jamb_legs, right_legs
    )
    rights = solve_zone(
        Zone(spans, counts, meetings, fixed),
        plan.rules,
        cap=cap,
        keep=keep,
        thorough=not plan.is_quick,
    )
    some = int(LEGS_KEPT**0.5)
    return [(a, b) for a in _distinct(lefts)[:some] for b in _distinct(rights)[:some]]


def _distinct(choices: list[Choice]) -> list[Choice]:
    """Of choices that give the head the same joints, keep the best."""
    first: dict[tuple[tuple[int, int], ...], Choice] = {}
    for choice in choices:
        first.setdefault(tuple(run.pieces[-1] for run in choice.runs), choice)
    return list(first.values())


def _mirrored_choice(choice: Choice, about: int) -> Choice:
    runs = tuple(mirrored(run, about) for run in choice.runs)
    # The other leg has the same cuts, so that none of them is a further different one.
    return Choice(runs, replace(choice.score, different_cuts=0))


def _without_head(
    plan: BondPlan,
    pair: tuple[Choice, Choice],
    soldier_stops: tuple[int, int],
    cap: int,
) -> Score:
    """Score both legs, with their courses beside soldiers."""
    scores = [pair[0].score, pair[1].score]
    counts = count_courses(plan, plan.beside)
    besides = _both_beside(plan, pair, soldier_stops)
    for leg, beside in zip(pair, besides, strict=True):
        if beside is None or beside == leg.runs:
            continue
        scores += [
            run_score(run, count, plan.rules, bought_legs(plan), cap)
            for run, count in zip(beside, counts, strict=True)
            if count
        ]
        scores.append(_short_laps_beside(plan, beside))
    return add_scores(scores)


def _short_laps_beside(plan: BondPlan, beside: tuple[Run, ...]) -> Score:
    """Score only the laps of courses beside soldiers: their joints may have moved."""
    short = [
        plan.rules.least_lap - near
        for lower, upper in zip(beside, (*beside[1:], beside[0]), strict=True)
        for near in laps(lower.joints, upper.joints)
        if near < plan.rules.least_lap and plan.cycle > 1
    ]
    return Score(
        small=0,
        how_small=0,
        short_laps=len(short) * count_meetings(plan.beside),
        how_short=max(short, default=0),
        trims=0,
        asymmetry=0,
        smallest=plan.rules.unit,
        cuts_by_place=(0, 0, 0, 0),
        different_cuts=0,
        cuts=0,
        departures=0,
        joints=(),
    )


def _both_beside(
    plan: BondPlan, pair: tuple[Choice, Choice], soldier_stops: tuple[int, int]
) -> tuple[tuple[Run, ...] | None, tuple[Run, ...] | None]:
    left = stop_beside(pair[0].runs, soldier_stops[0], plan.rules)
    right = stop_beside(
        tuple(mirrored(run, 0) for run in pair[1].runs), -soldier_stops[1], plan.rules
    )
    if right is not None:
        right = tuple(mirrored(run, 0) for run in right)
    return left, right


def _front_of(
    plan: BondPlan,
    left: Choice,
    right: Choice,
    soldier_stops: tuple[int, int],
    score: Score,
    cap: int,
    *,
    thorough: bool,
) -> _Front:
    """Put the head on two legs, and add its score to theirs."""
    beside = _both_beside(plan, (left, right), soldier_stops)
    over = None
    if plan.over:
        over, over_score = close_over(plan, left, right, cap, thorough=thorough)
        score = add_scores([score, over_score])
    return _Front(left.runs, right.runs, *beside, over, score)
