"""Fill a run whose corner units are trimmed, from the free ends of their legs.

In:  `Span` with a leg at a fold, or at two, and `RunRules`.   Out: `Run`s.
Frame: integers on the runs' grid.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from shopdraw.masonry.bond.runs import FOLDS, Run, RunRules, Span, fillings, make_run

Joints = tuple[tuple[int, int], ...]
Side = Literal["left", "right"]


def fill_trimmed(span: Span, rules: RunRules, beside: Joints = ()) -> list[Run]:
    """List the fillings with one leg trimmed, or two that leave no room for a unit.

    A leg is trimmed so that the run closes without a cut, with a half or with the
    least piece, or so that its joint just keeps the least lap from one in `beside`.
    """
    runs: list[Run] = []
    legs = span.legs()
    if len(legs) == 1 and span.width < legs[0]:
        # Narrower than the leg: the leg is all there is, or nearly.
        runs.append(make_run(span, (span.width,), 0, trims=1))
    sides: tuple[tuple[Side, int | None], ...]
    sides = ("left", span.left_leg), ("right", span.right_leg)
    for side, leg in sides:
        if leg is None:
            continue
        for shorter in _trimmed_legs(span, rules, side, leg, beside):
            trimmed = _with_leg(span, side, shorter)
            runs += fillings(trimmed, rules, "anywhere", None, few=True, trims=1)
    if len(legs) == FOLDS:
        runs += _both_trimmed(span, rules, beside)
    return list(dict.fromkeys(runs))


def _with_leg(span: Span, side: Side, leg: int) -> Span:
    if side == "left":
        return replace(span, left_leg=leg)
    return replace(span, right_leg=leg)


def _trimmed_legs(
    span: Span, rules: RunRules, side: Side, leg: int, beside: Joints
) -> list[int]:
    """Return the lengths worth trimming a leg to, longest first."""
    tries = {rules.least_leg}
    other = sum(span.legs()) - leg
    for joint in rules.joints:
        room = span.width - (other + joint if other else 0)
        while room > 0:
            tries |= {
                room - cut for cut in (0, rules.half + joint, rules.least_piece + joint)
            }
            room -= rules.unit + joint
        tries |= set(_lapped(span, rules, side, joint, beside))
    return sorted((x for x in tries if rules.least_leg <= x < leg), reverse=True)


def _lapped(
    span: Span, rules: RunRules, side: Side, joint: int, beside: Joints
) -> Iterator[int]:
    """Yield a leg whose joint just keeps the least lap from one beside it."""
    for left, right in beside:
        for edge in (left - rules.least_lap - joint, right + rules.least_lap):
            yield edge - span.left if side == "left" else span.right - edge - joint


def _both_trimmed(span: Span, rules: RunRules, beside: Joints) -> Iterator[Run]:
    """Yield the legs of two corner units that meet in one joint, both trimmed."""
    for joint in rules.joints:
        both = span.width - joint
        tries = {rules.least_leg, rules.shortest_leg, both // 2}
        tries |= set(_lapped(span, rules, "left", joint, beside))
        for left in sorted(tries | {both - x for x in tries}):
            legs = left, both - left
            bought = span.legs()
            if all(
                rules.shortest_leg <= x < leg
                for x, leg in zip(legs, bought, strict=True)
            ):
                yield make_run(span, legs, joint, trims=2)
