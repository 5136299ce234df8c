"""Choose the runs of neighbouring courses by lap and least piece together.

In:  the candidate `Run`s of two neighbouring courses.   Out: the best pairs of them.
Frame: integers on the runs' grid; they are compared in floating point, where a
difference below `NOTHING` is none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from shopdraw.masonry.bond.runs import Run, RunRules
from shopdraw.masonry.bond.score import Score, Tally, tally

Floats = NDArray[np.float64]
NOTHING = 1e-6
FAR = 1e18


class Bench:
    """Candidate runs of one course, tallied.

    Args:
        runs: the candidates.
        rules: the brick and what it may be cut to.
        bought_legs: leg lengths as bought.
        fixed_joints: joints that the same course has already, beside the run.
    """

    def __init__(
        self,
        runs: Sequence[Run],
        rules: RunRules,
        bought_legs: frozenset[int],
        fixed_joints: Sequence[tuple[int, int]] = (),
    ) -> None:
        self.runs = tuple(runs)
        self.tallies = tuple(tally(run, rules, bought_legs) for run in runs)
        self.small = np.array([x.small for x in self.tallies], float)
        self.how_small = np.array([x.how_small for x in self.tallies], float)
        self.smallest = np.array([x.smallest for x in self.tallies], float)
        self.trims = np.array([run.trims for run in runs], float)
        self.fixed_joints = tuple(fixed_joints)

    def joints(self, places: NDArray[np.intp]) -> Floats:
        """Return some runs' (runs, joints, 2) of left and right, padded far away."""
        joints = [(*self.runs[place].joints, *self.fixed_joints) for place in places]
        counts = np.array([len(each) for each in joints], int)
        array = np.full((len(joints), max(counts.max(initial=0), 1), 2), FAR)
        flat = chain.from_iterable(chain.from_iterable(joints))
        there = np.arange(array.shape[1]) < counts[:, None]
        array[there] = np.fromiter(flat, float).reshape(-1, 2)
        return array


@dataclass(frozen=True)
class Pair:
    """Two neighbouring courses' runs and their merit."""

    lower: Run
    upper: Run
    score: Score


@dataclass(frozen=True)
class Weights:
    """How many courses are laid as the lower and the upper run, and how many touch."""

    lower: int
    upper: int
    meetings: int


def best_pairs(
    lower: Bench,
    upper: Bench,
    rules: RunRules,
    weights: Weights,
    *,
    lap_counts: bool,
    cap: int,
    keep: int = 1,
    used: frozenset[int] = frozenset(),
) -> list[Pair]:
    """Return the best pairs, best first.

    Args:
        lower: candidates of one course.
        upper: candidates of the course laid on it.
        rules: the brick and the least lap.
        weights: how often each is laid.
        lap_counts: False in stack bond.
        cap: a smallest piece beyond this is no better.
        keep: how many to return at most; beyond the first they tie with it on small
            pieces, laps and trims.
        used: cut lengths made elsewhere anyway, which are not a different cut.
    """
    a, b = _least_small(lower), _least_small(upper)
    if not len(a) or not len(b):
        return []
    rows, columns, laps, worst = _laps(lower, upper, a, b, rules, lap_counts=lap_counts)
    trims = weights.lower * lower.trims[rows] + weights.upper * upper.trims[columns]
    smallest = np.minimum(
        np.minimum(lower.smallest[rows], upper.smallest[columns]), cap
    )
    chosen = np.arange(len(rows))
    for values in (laps, worst, trims):
        chosen = _least(values, chosen)
    if keep == 1:
        chosen = _least(-smallest, chosen)
    else:
        order = np.argsort(-smallest[chosen], kind="stable")
        floor = smallest[chosen][order[min(len(order), 4 * keep) - 1]]
        chosen = chosen[smallest[chosen] >= floor - NOTHING]
    pairs = []
    for index in _fewest_cuts(
        lower, upper, rows, columns, weights, smallest, chosen, keep
    ):
        run_a, run_b = lower.runs[rows[index]], upper.runs[columns[index]]
        tally_a, tally_b = lower.tallies[rows[index]], upper.tallies[columns[index]]
        score = _score(
            (run_a, tally_a), (run_b, tally_b), weights,
            laps=float(laps[index]), worst=float(worst[index]), cap=cap, used=used,
        )  # fmt: skip
        pairs.append(Pair(run_a, run_b, score))
    pairs.sort(key=lambda pair: pair.score.key())
    return pairs[:keep]


def best_threes(
    benches: Sequence[Bench], rules: RunRules, keep: int
) -> list[tuple[int, int, int]]:
    """Return the best threes of courses that each lie on the last, as places.

    Fewest small pieces, then fewest short laps, then the largest smallest piece and
    the fewest cuts, near enough to be looked into more closely.
    """
    first, second, third = benches
    if not all(len(bench.runs) for bench in benches):
        return []
    laps = [
        _laps(
            a, b, np.arange(len(a.runs)), np.arange(len(b.runs)), rules, lap_counts=True
        )[2].reshape(len(a.runs), len(b.runs))
        for a, b in ((first, second), (second, third), (third, first))
    ]
    merits = [
        1e6 * bench.small
        + np.array([len(each.cut_lengths) for each in bench.tallies], float)
        for bench in benches
    ]
    sizes = [bench.smallest / rules.unit for bench in benches]
    found = []
    for i in range(len(first.runs)):
        smallest = np.minimum(
            np.minimum(sizes[1][:, None], sizes[2][None, :]), sizes[0][i]
        )
        short = laps[0][i][:, None] + laps[1] + laps[2][:, i][None, :]
        merit = merits[0][i] + merits[1][:, None] + merits[2][None, :]
        merit = merit + 1e3 * short - 100 * smallest
        j, k = divmod(int(merit.argmin()), merit.shape[1])
        found.append((float(merit[j, k]), (i, j, k)))
    found.sort()
    return [three for _, three in found[:keep]]


def _least(values: Floats, chosen: NDArray[np.intp]) -> NDArray[np.intp]:
    """Keep the places of `chosen` where the value is least."""
    there = values[chosen]
    kept: NDArray[np.intp] = chosen[there <= there.min() + NOTHING]
    return kept


def _least_small(bench: Bench) -> NDArray[np.intp]:
    """Keep the runs with fewest small pieces, then the least small of those."""
    chosen = np.arange(len(bench.runs))
    for values in (bench.small, bench.how_small):
        if len(chosen):
            chosen = _least(values, chosen)
    return chosen


def _laps(
    lower: Bench,
    upper: Bench,
    a: NDArray[np.intp],
    b: NDArray[np.intp],
    rules: RunRules,
    *,
    lap_counts: bool,
) -> tuple[NDArray[np.intp], NDArray[np.intp], Floats, Floats]:
    """Return every pair's rows and columns, its short laps, and the worst of them."""
    rows, columns = (x.ravel() for x in np.meshgrid(a, b, indexing="ij"))
    if not lap_counts:
        none = np.zeros(len(rows))
        return rows, columns, none, none
    below, at_below = _places_of(lower.joints(a))
    above, at_above = _places_of(upper.joints(b))
    near = np.maximum(
        above[None, :, 0] - below[:, 1][:, None],
        below[:, 0][:, None] - above[None, :, 1],
    )
    # Padding is not a joint, though padding above and below is in the same place.
    near = np.where(below[:, 0][:, None] + above[None, :, 0] >= FAR, FAR, near)
    short = rules.least_lap - np.maximum(near, 0)
    short[short < NOTHING] = 0
    # Many runs share few places of joints: first each run below against every place
    # above, then each run above picks its own.
    count = _gathered((short > 0).astype(float), at_below, np.add)
    worst = _gathered(short, at_below, np.maximum)
    count = _gathered(count.T, at_above, np.add).T
    worst = _gathered(worst.T, at_above, np.maximum).T
    return rows, columns, count.ravel(), worst.ravel()


def _places_of(joints: Floats) -> tuple[Floats, NDArray[np.intp]]:
    """Return the joints that are different, and which of them each run has."""
    places, at = np.unique(joints.reshape(-1, 2), axis=0, return_inverse=True)
    return places, at.reshape(joints.shape[:2])


def _gathered(table: Floats, at: NDArray[np.intp], merge: np.ufunc) -> Floats:
    """Merge, for each run, the rows of its joints into one."""
    merged = table[at[:, 0]]
    for column in range(1, at.shape[1]):
        merge(merged, table[at[:, column]], out=merged)
    return merged


def _fewest_cuts(
    lower: Bench,
    upper: Bench,
    rows: NDArray[np.intp],
    columns: NDArray[np.intp],
    weights: Weights,
    smallest: Floats,
    chosen: NDArray[np.intp],
    keep: int,
) -> NDArray[np.intp]:
    """Keep, for each smallest piece, the pairs with the fewest cuts by place."""
    if not len(chosen):
        return chosen
    place_a = np.array([x.places for x in lower.tallies], float)
    place_b = np.array([x.places for x in upper.tallies], float)
    cuts = (
        weights.lower * place_a[rows[chosen]] + weights.upper * place_b[columns[chosen]]
    )
    order = np.lexsort((*cuts.T[::-1], -smallest[chosen]))
    kept = []
    last: tuple[float, ...] | None = None
    rank = 0
    # Those chosen are equal in all that counts before: where one pair is wanted, only
    # where its cuts fall ranks it, and the first grade is enough.
    grades = 1 if keep == 1 else max(SETTLED, keep)
    for at in order:
        key = (float(smallest[chosen[at]]), *(float(x) for x in cuts[at]))
        if key != last:
            rank, last = rank + 1, key
        if rank > grades:
            break
        kept.append(chosen[at])
    return np.array(kept[: max(MOST_TIES, 2 * keep)], dtype=np.intp)


SETTLED = 12
"""How many grades of (smallest piece, cuts by place) are scored in full."""
MOST_TIES = 400


def _score(
    lower: tuple[Run, Tally],
    upper: tuple[Run, Tally],
    weights: Weights,
    *,
    laps: float,
    worst: float,
    cap: int,
    used: frozenset[int],
) -> Score:
    (run_a, a), (run_b, b) = lower, upper
    at = (weights.lower, weights.upper)
    cuts = set(a.cut_lengths) | set(b.cut_lengths)
    by_place = [at[0] * x + at[1] * y for x, y in zip(a.places, b.places, strict=True)]
    return Score(
        small=at[0] * a.small + at[1] * b.small,
        how_small=max(a.how_small, b.how_small),
        short_laps=laps * weights.meetings,
        how_short=worst,
        trims=at[0] * run_a.trims + at[1] * run_b.trims,
        asymmetry=0,
        smallest=min(a.smallest, b.smallest, cap),
        cuts_by_place=(by_place[0], by_place[1], by_place[2], by_place[3]),
        different_cuts=len(cuts - used),
        cuts=at[0] * len(a.cut_lengths) + at[1] * len(b.cut_lengths),
        departures=at[0] * a.departures + at[1] * b.departures,
        joints=tuple(left for left, _ in (*run_a.joints, *run_b.joints)),
    )
