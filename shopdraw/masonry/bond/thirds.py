"""List the runs of third bond, each course a third of a brick on from the last.

In:  `Span`, `RunRules`.   Out: `Run`s, and threes of them.
Frame: integers on the runs' grid.
"""

from __future__ import annotations

from collections.abc import Sequence

from shopdraw.masonry.bond.runs import Run, RunRules, Span

SPREAD_TO = 90
"""From how many runs of each course threes are made."""


def list_phases(span: Span, rules: RunRules) -> list[Run]:
    """Return runs of whole units with cuts at the ends only, shifted step by step."""
    runs = []
    for joint in dict.fromkeys((rules.preferred, rules.least_joint, rules.most_joint)):
        module = rules.unit + joint
        firsts = {
            base - third * module // 3
            for base in (*range(rules.least_piece, rules.unit, rules.step), rules.unit)
            for third in range(3)
        }
        for first in sorted(x for x in firsts if 0 < x <= rules.unit):
            run = _phased(span, rules, joint, first)
            if run is not None:
                runs.append(run)
    return list(dict.fromkeys(runs))


def _phased(span: Span, rules: RunRules, joint: int, first: int) -> Run | None:
    """Lay whole units after a first piece; None where a joint would end the run."""
    pieces = []
    at, length = span.left, first
    while at + length < span.right:
        pieces.append((at, at + length))
        at += length + joint
        length = rules.unit
        if at >= span.right:
            return None
    pieces.append((at, span.right))
    return Run(
        pieces=tuple(pieces),
        joint=joint if len(pieces) > 1 else 0,
        has_left_leg=False,
        has_right_leg=False,
        trims=0,
        left_end=span.left_end,
        right_end=span.right_end,
    )


def list_racked(runs: Sequence[Run], rules: RunRules) -> list[tuple[Run, ...]]:
    """Return threes of runs, each shifted by a third of a unit and a joint."""
    starts = {_start(run): run for run in runs}
    triples: list[tuple[Run, ...]] = []
    for run in runs:
        third = (rules.unit + run.joint) // 3
        module = 3 * third
        places = [(_start(run)[0] - shift) % module for shift in (third, 2 * third)]
        others = [
            starts.get((place, run.joint)) or starts.get((place + module, run.joint))
            for place in places
        ]
        if others[0] is not None and others[1] is not None:
            triples.append((run, others[0], others[1]))
    return triples


def _start(run: Run) -> tuple[int, int]:
    """Return the length of the first piece, and the joint."""
    return (run.pieces[0][1] - run.pieces[0][0], run.joint)


def spread_out(runs: list[Run], rules: RunRules) -> list[Run]:
    """Thin a list, best first, but keep runs of every kind: by joint and cuts."""
    places: dict[tuple[int, ...], int] = {}
    kept = []
    for run in runs:
        step = max(rules.least_lap // 4, 1)
        cuts = [n for n, (a, b) in enumerate(run.pieces) if b - a != rules.unit]
        first = run.joints[0][0] // step if run.joints else 0
        place = (first, cuts[0] if cuts else -1, cuts[-1] if cuts else -1)
        places[place] = places.get(place, 0) + 1
        if places[place] <= 2:
            kept.append(run)
    return kept[:SPREAD_TO]
