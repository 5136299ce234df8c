"""Score a run, and runs laid together, by the order of merit.

In:  `Run`s and `RunRules`.   Out: `Tally`, `Score`.
Frame: integers on the runs' grid.

The order of merit (common practice, no published source): pieces under the least
length, how many and then how short; laps under the least, likewise; corner legs
trimmed; mirror symmetry; the smallest piece, the larger the better up to a cap; where
the cuts fall; how many different cuts; how many cuts; how far head joints are off the
preferred; and of all that are still equal the one whose first joint is leftmost.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from shopdraw.masonry.bond.runs import Run, RunRules

PLACES = ("jamb", "mid-run", "beside a corner unit", "wall or trim")


@dataclass(frozen=True)
class Score:
    """What runs are compared by: less is better at every place but `smallest`."""

    small: float
    how_small: float
    short_laps: float
    how_short: float
    trims: float
    asymmetry: float
    smallest: float
    cuts_by_place: tuple[float, float, float, float]
    different_cuts: int
    cuts: float
    departures: float
    joints: tuple[int, ...]

    def key(self) -> tuple[object, ...]:
        """Return what is compared; less is better at every place."""
        return (
            self.small,
            self.how_small,
            self.short_laps,
            self.how_short,
            self.trims,
            self.asymmetry,
            -self.smallest,
            self.cuts_by_place,
            self.different_cuts,
            self.cuts,
            self.departures,
            self.joints,
        )


@dataclass(frozen=True)
class Tally:
    """What counts of one run by itself, whatever is above and below it."""

    small: int
    how_small: int
    smallest: int
    places: tuple[int, int, int, int]
    cut_lengths: tuple[int, ...]
    departures: int


@lru_cache(maxsize=1 << 15)
def tally(run: Run, rules: RunRules, bought_legs: frozenset[int]) -> Tally:
    """Count a run's small pieces, cuts and departures.

    Args:
        run: the run.
        rules: the brick and the least piece.
        bought_legs: the leg lengths that are not trimmed.

    A run is met again with many neighbours, so the last ones are remembered.
    """
    lengths = [right - left for left, right in run.units()]
    if lengths and not run.has_left_leg:
        lengths[0] -= rules.taken(run.left_end)
    if lengths and not run.has_right_leg:
        lengths[-1] -= rules.taken(run.right_end)
    places = [0, 0, 0, 0]
    cuts = []
    for place, length in enumerate(lengths):
        if length != rules.unit:
            cuts.append(length)
            places[_place(run, place, len(lengths))] += 1
    under = [rules.least_piece - cut for cut in cuts if cut < rules.least_piece]
    for has_leg, (left, right) in (
        (run.has_left_leg, run.pieces[0]),
        (run.has_right_leg, run.pieces[-1]),
    ):
        leg = right - left
        if has_leg and leg < rules.least_leg and leg not in bought_legs:
            under.append(rules.least_leg - leg)
    return Tally(
        small=len(under),
        how_small=max(under, default=0),
        smallest=min(cuts, default=rules.unit),
        places=(places[0], places[1], places[2], places[3]),
        cut_lengths=tuple(sorted(cuts)),
        departures=(len(run.pieces) - 1) * abs(run.joint - rules.preferred),
    )


def _place(run: Run, place: int, count: int) -> int:
    """Return where a cut falls, as an index in `PLACES`; the ends of a run go first."""
    ends = []
    if place == 0 and not run.has_left_leg:
        ends.append(run.left_end)
    if place == count - 1 and not run.has_right_leg:
        ends.append(run.right_end)
    if "jamb" in ends or "soldier" in ends:
        return 0
    if "wall" in ends or "edge" in ends:
        return 3
    beside = (place == 0 and run.has_left_leg) or (
        place == count - 1 and run.has_right_leg
    )
    return 2 if beside else 1


def is_kept(score: Score) -> bool:
    """Whether no piece and no lap is under the least."""
    return not score.small and not score.short_laps


def run_score(
    run: Run,
    courses: int,
    rules: RunRules,
    bought: frozenset[int],
    cap: int,
    used: frozenset[int] = frozenset(),
) -> Score:
    """Score one run laid in so many courses, laps left out."""
    mine = tally(run, rules, bought)
    a, b, c, d = (float(courses * x) for x in mine.places)
    return Score(
        small=courses * mine.small,
        how_small=mine.how_small,
        short_laps=0,
        how_short=0,
        trims=courses * run.trims,
        asymmetry=0,
        smallest=min(mine.smallest, cap),
        cuts_by_place=(a, b, c, d),
        different_cuts=len(set(mine.cut_lengths) - used),
        cuts=courses * len(mine.cut_lengths),
        departures=courses * mine.departures,
        joints=tuple(left for left, _ in run.joints),
    )


def laps(
    below: Sequence[tuple[int, int]], above: Sequence[tuple[int, int]]
) -> list[int]:
    """Return, for every two joints, the distance between their near edges."""
    return [max(c - b, a - d, 0) for a, b in below for c, d in above]


def add_scores(scores: Sequence[Score]) -> Score:
    """Score several zones together."""
    places = [sum(x) for x in zip(*(s.cuts_by_place for s in scores), strict=True)]
    return Score(
        small=sum(s.small for s in scores),
        how_small=max(s.how_small for s in scores),
        short_laps=sum(s.short_laps for s in scores),
        how_short=max(s.how_short for s in scores),
        trims=sum(s.trims for s in scores),
        asymmetry=max(s.asymmetry for s in scores),
        smallest=min(s.smallest for s in scores),
        cuts_by_place=(places[0], places[1], places[2], places[3]),
        different_cuts=sum(s.different_cuts for s in scores),
        cuts=sum(s.cuts for s in scores),
        departures=sum(s.departures for s in scores),
        joints=tuple(x for s in scores for x in s.joints),
    )
