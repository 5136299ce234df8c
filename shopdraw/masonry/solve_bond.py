"""Choose the runs of every zone: the returns, the legs, and the head between them.

In:  `BondPlan`.   Out: `SolvedBond`.
Frame: integers on the plan's grid.

The head carries on the legs' joints, so the front's legs and head are chosen together;
each return meets the front only in its corner units, so it is chosen alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from shopdraw.masonry.choose import Score
from shopdraw.masonry.coursing import Course
from shopdraw.masonry.plan import BondPlan
from shopdraw.masonry.runs import EndKind, Run, RunRules, Span
from shopdraw.masonry.zones import (
    Choice,
    Zone,
    add_scores,
    is_kept,
    run_score,
    solve_zone,
)

LEGS_KEPT, LEGS_TRIED, LEGS_FITTED = 240, 12, 2
"""How many ways of laying a leg are kept, how many that hand on different joints are
tried under the head, and how many are then fitted."""


@dataclass(frozen=True)
class SolvedBond:
    """The runs chosen, a run for each phase.

    Attributes:
        left_return, right_return: None where there is no return.
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

    The smallest piece is as large as can be on the wall as a whole: once the zone with
    the smallest is known, the others are chosen again with that as enough.
    """
    cap = plan.rules.half
    front = _solve_front(plan, soldier_stops, cap)
    returns = _solve_returns(plan, cap, _cuts(front, plan))
    smallest = min(
        int(x.smallest) for x in (front.score, *(r.score for r in returns if r))
    )
    if smallest < cap:
        if front.score.smallest > smallest:
            front = _solve_front(plan, soldier_stops, smallest)
        returns = _solve_returns(plan, smallest, _cuts(front, plan))
    left, right = returns
    scores = [front.score, *(r.score for r in returns if r)]
    return SolvedBond(
        left_return=left.runs if left else None,
        right_return=right.runs if right else None,
        left_leg=front.left_leg,
        right_leg=front.right_leg,
        left_beside=front.left_beside,
        right_beside=front.right_beside,
        over=front.over,
        score=add_scores(scores),
    )


def _cuts(front: _Front, plan: BondPlan) -> frozenset[int]:
    runs = (*front.left_leg, *front.right_leg, *(front.over or ()))
    return frozenset(b - a for run in runs for a, b in run.units()) - {plan.rules.unit}


def _counts(plan: BondPlan, courses: tuple[Course, ...]) -> tuple[int, ...]:
    phases = [plan.phase(course.number) for course in courses]
    return tuple(phases.count(phase) for phase in range(plan.cycle))


def _meetings(courses: tuple[Course, ...]) -> int:
    numbers = {course.number for course in courses}
    return sum(number + 1 in numbers for number in numbers)


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
            spans = _spans(plan, *ends, "wall", "fold", none, legs)
        else:
            ends = surround.front.right, surround.right_edge.brick_x
            spans = _spans(plan, *ends, "fold", "wall", legs, none)
        counts, meetings = _counts(plan, plan.running), _meetings(plan.running)
        zone = Zone(spans, counts, meetings, ((),) * plan.cycle)
        chosen[name] = solve_zone(zone, plan.rules, cap=cap, used=used)[0]
    return chosen["left"], chosen["right"]


def _spans(
    plan: BondPlan,
    left: Fraction,
    right: Fraction,
    left_end: EndKind,
    right_end: EndKind,
    left_legs: tuple[int | None, ...],
    right_legs: tuple[int | None, ...],
) -> tuple[Span, ...]:
    return tuple(
        Span(
            left=plan.on_grid(left),
            right=plan.on_grid(right),
            left_end=left_end,
            right_end=right_end,
            left_leg=left_legs[phase],
            right_leg=right_legs[phase],
            centre=plan.on_grid(plan.surround.opening.centre),
        )
        for phase in range(plan.cycle)
    )


def _front_ends(
    plan: BondPlan,
) -> tuple[
    tuple[Fraction, EndKind, tuple[int | None, ...]],
    tuple[Fraction, EndKind, tuple[int | None, ...]],
]:
    """Return where the front's brick ends, what is there, and its legs by phase."""
    surround, none = plan.surround, (None,) * plan.cycle
    has = {face.name for face in surround.faces}
    left: tuple[Fraction, EndKind, tuple[int | None, ...]]
    right: tuple[Fraction, EndKind, tuple[int | None, ...]]
    left = (surround.left_edge.brick_x, "edge", none)
    right = (surround.right_edge.brick_x, "edge", none)
    if "left" in has:
        left = (surround.front.left, "fold", plan.front_legs)
    if "right" in has:
        right = (surround.front.right, "fold", plan.front_legs)
    return left, right


def _solve_front(plan: BondPlan, soldier_stops: tuple[int, int], cap: int) -> _Front:
    pairs = _leg_pairs(plan, cap, LEGS_KEPT if plan.over or plan.beside else 1)

    def best_of(few: list[tuple[Choice, Choice]], *, thorough: bool) -> _Front:
        fronts = [
            _front_of(plan, left, right, soldier_stops, cap, thorough=thorough)
            for left, right in few
        ]
        return min(fronts, key=lambda front: front.score.key())

    pairs.sort(key=lambda pair: _without_head(plan, pair, soldier_stops, cap).key())
    if not plan.over:
        return best_of(pairs[:1], thorough=True)
    front = best_of(pairs[:LEGS_TRIED], thorough=False)
    if is_kept(front.score) and front.score.smallest >= cap:
        return front
    closer = best_of(pairs[:LEGS_FITTED], thorough=True)
    return min(front, closer, key=lambda front: front.score.key())


def _leg_pairs(plan: BondPlan, cap: int, keep: int) -> list[tuple[Choice, Choice]]:
    """Return ways of laying both legs, mirrored where the faces are."""
    opening, none = plan.surround.opening, (None,) * plan.cycle
    (left_x, left_end, left_legs), (right_x, right_end, right_legs) = _front_ends(plan)
    courses = (*plan.below, *plan.beside)
    counts, meetings = _counts(plan, courses), _meetings(courses)
    fixed = ((),) * plan.cycle

    spans = _spans(plan, left_x, opening.brick_left, left_end, "jamb", left_legs, none)
    lefts = solve_zone(
        Zone(spans, counts, meetings, fixed), plan.rules, cap=cap, keep=keep
    )
    if plan.symmetric:
        about = plan.on_grid(2 * opening.centre)
        lefts = _distinct(lefts)
        return [(left, _mirrored_choice(left, about)) for left in lefts]
    spans = _spans(
        plan, opening.brick_right, right_x, "jamb", right_end, none, right_legs
    )
    rights = solve_zone(
        Zone(spans, counts, meetings, fixed), plan.rules, cap=cap, keep=keep
    )
    some = int(LEGS_KEPT**0.5)
    return [(a, b) for a in _distinct(lefts)[:some] for b in _distinct(rights)[:some]]


def _distinct(choices: list[Choice]) -> list[Choice]:
    """Keep the best of those that hand the same joints on to the head."""
    first: dict[tuple[tuple[int, int], ...], Choice] = {}
    for choice in choices:
        first.setdefault(tuple(run.pieces[-1] for run in choice.runs), choice)
    return list(first.values())


def mirrored(run: Run, about: int) -> Run:
    """Return a run mirrored about half of `about`."""
    return replace(
        run,
        pieces=tuple((about - b, about - a) for a, b in reversed(run.pieces)),
        has_left_leg=run.has_right_leg,
        has_right_leg=run.has_left_leg,
        left_end=run.right_end,
        right_end=run.left_end,
    )


def _mirrored_choice(choice: Choice, about: int) -> Choice:
    runs = tuple(mirrored(run, about) for run in choice.runs)
    # The same cuts again are not different ones.
    return Choice(runs, replace(choice.score, different_cuts=0))


def _without_head(
    plan: BondPlan,
    pair: tuple[Choice, Choice],
    soldier_stops: tuple[int, int],
    cap: int,
) -> Score:
    """Return the merit of two legs, what stands beside soldiers included."""
    scores = [pair[0].score, pair[1].score]
    counts = _counts(plan, plan.beside)
    besides = _both_beside(plan, pair, soldier_stops)
    for leg, beside in zip(pair, besides, strict=True):
        if beside is None or beside == leg.runs:
            continue
        scores += [
            run_score(run, count, plan.rules, _bought(plan), cap)
            for run, count in zip(beside, counts, strict=True)
            if count
        ]
    return add_scores(scores)


def _bought(plan: BondPlan) -> frozenset[int]:
    return frozenset(x for x in (*plan.front_legs, *plan.return_legs) if x is not None)


def _both_beside(
    plan: BondPlan, pair: tuple[Choice, Choice], soldier_stops: tuple[int, int]
) -> tuple[tuple[Run, ...] | None, tuple[Run, ...] | None]:
    left = _beside(pair[0].runs, soldier_stops[0], plan.rules)
    right = _beside(
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
    cap: int,
    *,
    thorough: bool,
) -> _Front:
    """Put the head on two legs and count the merit of all three."""
    score = _without_head(plan, (left, right), soldier_stops, cap)
    beside = _both_beside(plan, (left, right), soldier_stops)
    over = None
    if plan.over:
        over, over_score = _solve_over(plan, left, right, cap, thorough=thorough)
        score = add_scores([score, over_score])
    return _Front(left.runs, right.runs, *beside, over, score)


def _beside(
    legs: tuple[Run, ...], stop: int, rules: RunRules
) -> tuple[Run, ...] | None:
    """Stop a left leg's runs at `stop`; None where soldiers leave it no room."""
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


def _solve_over(
    plan: BondPlan, left: Choice, right: Choice, cap: int, *, thorough: bool
) -> tuple[tuple[Run, ...], Score]:
    """Carry both legs' joints on over the head and close between them."""
    ends = _front_ends(plan)
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
    counts, meetings = _counts(plan, plan.over), _meetings(plan.over)
    # The course on top of the legs meets them too.
    zone = Zone(spans, counts, meetings + 1, fixed, "centre", racked=False)
    choice = _closed(zone, plan, cap, thorough=thorough)
    over = tuple(
        _composed(a, run, b)
        for a, run, b in zip(lefts, choice.runs, rights, strict=True)
    )
    total = add_scores(
        [
            run_score(run, count, plan.rules, _bought(plan), cap)
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
    """What a leg hands on to the head: its pieces but the one at the jamb."""

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
