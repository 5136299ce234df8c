"""Solve a zone: the runs of one leg, one return or one head, a run for each phase.

In:  the `Span` of each phase and how many courses are laid in it.   Out: `Choice`s.
Frame: integers on the runs' grid.

A phase is a course of the cycle: one in stack bond, two where courses alternate,
three in third bond without a fold.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from shopdraw.masonry.bond.choose import Bench, Weights, best_pairs, best_threes
from shopdraw.masonry.bond.runs import Run, RunRules, Slots, Span, fill, fill_by_step
from shopdraw.masonry.bond.score import (
    Score,
    add_scores,
    is_kept,
    laps,
    run_score,
    tally,
)
from shopdraw.masonry.bond.thirds import list_phases, list_racked, spread_out
from shopdraw.masonry.bond.trimming import fill_trimmed

Candidates = Sequence[Sequence[Run]]
"""The runs that each phase may be laid in."""
FITTED_TO = 6
"""How many runs of one course its neighbour is fitted to."""


@dataclass(frozen=True)
class Choice:
    """A run for each phase, and the merit of them together."""

    runs: tuple[Run, ...]
    score: Score


@dataclass(frozen=True)
class Zone:
    """What is to be solved.

    Attributes:
        spans: one a phase.
        courses: how many courses are laid in each phase.
        meetings: how many pairs of neighbouring courses there are.
        fixed: per phase, joints that stand beside the run in the same course.
        slots: where cuts may stand.
        mirror: a line; runs must be their own mirror image about it.
        racked: three courses, each a third of a unit and a joint on from the last;
            False where the run carries on others that are.
    """

    spans: tuple[Span, ...]
    courses: tuple[int, ...]
    meetings: int
    fixed: tuple[tuple[tuple[int, int], ...], ...]
    slots: Slots = "anywhere"
    mirror: int | None = None
    racked: bool = True


def solve_zone(
    zone: Zone,
    rules: RunRules,
    *,
    cap: int,
    keep: int = 1,
    used: frozenset[int] = frozenset(),
    thorough: bool = True,
) -> list[Choice]:
    """Return the best choices of those tried, best first.

    There is at least one, unless `mirror` rules all of them out. Trimmed legs are tried
    only where every choice without them has a piece or a lap under the least.
    """
    solvers = {1: _solve_one, 2: _solve_two, 3: _solve_three}
    solve = solvers[len(zone.spans)]

    def attempt(candidates: Candidates) -> list[Choice]:
        if zone.mirror is not None:
            candidates = [
                [run for run in runs if is_mirrored(run, zone.mirror)]
                for runs in candidates
            ]
        if not all(candidates):
            return []
        return solve(zone, candidates, rules, cap, keep, used)

    if solve is _solve_three and zone.racked:
        return attempt([list_phases(span, rules) for span in zone.spans])
    candidates = [fill(span, rules, zone.slots) for span in zone.spans]
    found = attempt(candidates)
    if found and (
        not thorough or (is_kept(found[0].score) and found[0].score.smallest >= cap)
    ):
        return found
    if not thorough and zone.mirror is not None:
        return found
    return _fitted_better(zone, rules, candidates, found, cap, attempt)


def _fitted_better(
    zone: Zone,
    rules: RunRules,
    candidates: Candidates,
    found: list[Choice],
    cap: int,
    attempt: Callable[[Candidates], list[Choice]],
) -> list[Choice]:
    """Try splits that just keep the lap; then, if something fails, trimmed legs."""
    found = _best_of(found, _fitted(zone, rules, candidates, attempt, fill_beside))
    found = _best_of(found, _by_step(zone, rules, candidates, found, cap, attempt))
    if found and is_kept(found[0].score):
        return found
    trimmed = [fill_trimmed(span, rules) for span in zone.spans]
    if not any(trimmed):
        return found
    candidates = [_merged(a, b) for a, b in zip(candidates, trimmed, strict=True)]
    found = _best_of(found, attempt(candidates))
    if found and is_kept(found[0].score):
        return found
    return _best_of(found, _fitted(zone, rules, candidates, attempt, trim_beside))


def _by_step(
    zone: Zone,
    rules: RunRules,
    candidates: Candidates,
    found: list[Choice],
    cap: int,
    attempt: Callable[[Candidates], list[Choice]],
) -> list[Choice]:
    """Split cuts at every step, where that could make the smallest piece larger."""
    if len(zone.spans) != 2 or zone.slots != "anywhere":
        return []
    least = rules.least_piece
    if found and is_kept(found[0].score):
        least = int(found[0].score.smallest) + 1
    if least > cap:
        return []
    bought = _bought(zone)
    larger = [
        [
            run
            for run in dict.fromkeys((*runs, *fill_by_step(span, rules, least)))
            if tally(run, rules, bought).smallest >= least
        ]
        for span, runs in zip(zone.spans, candidates, strict=True)
    ]
    return attempt(larger)


def _best_of(a: list[Choice], b: list[Choice]) -> list[Choice]:
    """Merge two lists, best first, as many as the longer holds."""
    merged = list(dict.fromkeys((*a, *b)))
    merged.sort(key=lambda choice: choice.score.key())
    return merged[: max(len(a), len(b))]


Joints = tuple[tuple[int, int], ...]


def fill_beside(
    span: Span, rules: RunRules, slots: Slots, joints: Joints
) -> Sequence[Run]:
    """Fill a span so that its joints just keep the lap from a neighbour's."""
    return fill(span, rules, slots, joints)


def trim_beside(
    span: Span, rules: RunRules, slots: Slots, joints: Joints
) -> Sequence[Run]:
    """Fill a span, its leg trimmed so that its joint just keeps the lap."""
    return [*fill(span, rules, slots, joints), *fill_trimmed(span, rules, joints)]


def _fitted(
    zone: Zone,
    rules: RunRules,
    candidates: Candidates,
    attempt: Callable[[Candidates], list[Choice]],
    fit: Callable[[Span, RunRules, Slots, Joints], Sequence[Run]],
) -> list[Choice]:
    """Take the likeliest runs of each course, and fit its neighbour to each."""
    if len(zone.spans) != 2:
        return []
    found: list[Choice] = []
    for place in (0, 1):
        other = 1 - place
        for run in _likeliest(candidates[place], zone, rules):
            joints = (*run.joints, *zone.fixed[place])
            fitted = fit(zone.spans[other], rules, zone.slots, joints)
            lists = [[run], fitted] if place == 0 else [fitted, [run]]
            if fitted:
                found = _best_of(found, attempt(lists))
    return found


def _likeliest(
    runs: Sequence[Run], zone: Zone, rules: RunRules, most: int = 0
) -> list[Run]:
    """Return the runs with the fewest small pieces, then the largest smallest one."""
    bought = _bought(zone)
    scored = [(tally(run, rules, bought), run) for run in runs]
    scored.sort(
        key=lambda pair: (
            pair[0].small,
            pair[0].how_small,
            pair[1].trims,
            -pair[0].smallest,
            len(pair[0].cut_lengths),
            pair[0].departures,
            pair[1].pieces,
        )
    )
    return [run for _, run in scored[: most or FITTED_TO]]


def _merged(a: Sequence[Run], b: Sequence[Run]) -> list[Run]:
    return list(dict.fromkeys((*a, *b)))


def is_mirrored(run: Run, about: int) -> bool:
    """Whether a run is its own mirror image."""
    return all(
        a + d == 2 * about and b + c == 2 * about
        for (a, b), (c, d) in zip(run.pieces, reversed(run.pieces), strict=True)
    )


def _bought(zone: Zone) -> frozenset[int]:
    return frozenset(leg for span in zone.spans for leg in span.legs())


def _solve_one(
    zone: Zone,
    candidates: Candidates,
    rules: RunRules,
    cap: int,
    keep: int,
    used: frozenset[int],
) -> list[Choice]:
    """Stack bond: every course is the same, and laps do not count."""
    choices = []
    for run in candidates[0]:
        score = run_score(run, zone.courses[0], rules, _bought(zone), cap, used)
        choices.append(Choice((run,), score))
    choices.sort(key=lambda choice: choice.score.key())
    return choices[:keep]


def _solve_two(
    zone: Zone,
    candidates: Candidates,
    rules: RunRules,
    cap: int,
    keep: int,
    used: frozenset[int],
) -> list[Choice]:
    benches = [
        Bench(runs, rules, _bought(zone), fixed)
        for runs, fixed in zip(candidates, zone.fixed, strict=True)
    ]
    pairs = best_pairs(
        benches[0],
        benches[1],
        rules,
        Weights(zone.courses[0], zone.courses[1], zone.meetings),
        lap_counts=zone.meetings > 0,
        cap=cap,
        keep=keep,
        used=used,
    )
    return [Choice((pair.lower, pair.upper), pair.score) for pair in pairs]


def _solve_three(
    zone: Zone,
    candidates: Candidates,
    rules: RunRules,
    cap: int,
    keep: int,
    used: frozenset[int],
) -> list[Choice]:
    """Third bond: three courses, each lapping the next, and the last the first.

    Each is a third of a unit and a joint on from the last where the run allows that;
    otherwise whatever laps best of what is tried.
    """

    def scored(triples: Iterable[tuple[Run, ...]]) -> list[Choice]:
        choices = [
            Choice(runs, cycle_score(zone, runs, rules, cap, used)) for runs in triples
        ]
        choices.sort(key=lambda choice: choice.score.key())
        return choices[:keep]

    found = scored(list_racked(candidates[0], rules)) if zone.racked else []
    if found and is_kept(found[0].score):
        return found
    return _best_of(found, scored(_lapping(zone, candidates, rules)))


def _lapping(
    zone: Zone, candidates: Candidates, rules: RunRules
) -> list[tuple[Run, ...]]:
    """Return the likeliest threes: fewest small pieces and short laps, then largest."""
    benches = []
    for place, (span, runs) in enumerate(zip(zone.spans, candidates, strict=True)):
        every = list(dict.fromkeys((*runs, *fill(span, rules, zone.slots))))
        spread = spread_out(_likeliest(every, zone, rules, len(every)), rules)
        benches.append(Bench(spread, rules, _bought(zone), zone.fixed[place]))
    return [
        (benches[0].runs[i], benches[1].runs[j], benches[2].runs[k])
        for i, j, k in best_threes(benches, rules, THREES_SCORED)
    ]


THREES_SCORED = 24
"""How many threes are looked into closely."""


def cycle_score(
    zone: Zone,
    runs: tuple[Run, ...],
    rules: RunRules,
    cap: int,
    used: frozenset[int] = frozenset(),
) -> Score:
    """Score a whole cycle of courses, with the laps between all neighbours."""
    bought = _bought(zone)
    total = add_scores(
        [
            run_score(run, courses, rules, bought, cap, used)
            for run, courses in zip(runs, zone.courses, strict=True)
        ]
    )
    short, worst = 0, 0
    for place, run in enumerate(runs):
        upper = (place + 1) % len(runs)
        if zone.meetings <= place or len(runs) == 1:
            continue
        for near in laps(
            (*run.joints, *zone.fixed[place]), (*runs[upper].joints, *zone.fixed[upper])
        ):
            if near < rules.least_lap:
                short += 1
                worst = max(worst, rules.least_lap - near)
    cuts = {b - a for run in runs for a, b in run.units()} - {rules.unit}
    return replace(
        total,
        short_laps=short * max(1, zone.meetings // len(runs)),
        how_short=worst,
        different_cuts=len(cuts - used),
    )
