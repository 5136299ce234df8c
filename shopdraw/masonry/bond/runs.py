"""Fill one run of a course with brick: list the ways that are worth trying.

In:  `Span` (a run between two stops) and `RunRules`.   Out: `Run`s.
Frame: integers on one exact grid along the developed plane, left to right.

A run is whole units and at most two cuts with one head joint throughout, and a leg
of a corner unit at a fold. What a joint or a split can be is a finite list: the
multiples of the joint step, and the values at which something is exactly met (no cut
at all, halves only, the least piece, a lap).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import Literal

EndKind = Literal["fold", "edge", "wall", "jamb", "soldier", "carried"]
Slots = Literal["anywhere", "centre"]

FOLDS = 2
"""A leg between an outside corner and a turned jamb has a corner unit at both ends."""
MANY_PIECES = 6
"""Up to this many pieces a cut may stand in any place; beyond, near ends and middle."""


@dataclass(frozen=True)
class RunRules:
    """What the brick and the job allow, on the grid.

    Attributes:
        unit: the length of a whole unit.
        half: half a unit: two of them and a preferred joint make a whole.
        joints: head joints on the step within their range, the preferred first.
        least_joint, most_joint, preferred: the head joint's range.
        least_piece, least_lap: as the job says.
        least_leg: a leg trimmed below this is a piece under the least.
        shortest_leg: below this a corner unit has no leg left.
        step: the joint step; trims and splits are tried in it.
        at_jamb, at_end: how much one that leans takes off the piece that meets it.
    """

    unit: int
    half: int
    joints: tuple[int, ...]
    least_joint: int
    most_joint: int
    preferred: int
    least_piece: int
    least_lap: int
    least_leg: int
    shortest_leg: int
    step: int
    at_jamb: int = 0
    at_end: int = 0

    def taken(self, end: EndKind) -> int:
        """Return how much the true edge may take off the piece that meets an end."""
        if end == "jamb":
            return self.at_jamb
        return self.at_end if end in ("edge", "wall") else 0


@dataclass(frozen=True)
class Span:
    """Where a run goes: from `left` to `right`, with what at each end.

    Attributes:
        left_leg, right_leg: the leg of the corner unit at a fold; None elsewhere.
        centre: the line that a closing piece is kept near, for slots "centre".
    """

    left: int
    right: int
    left_end: EndKind
    right_end: EndKind
    left_leg: int | None = None
    right_leg: int | None = None
    centre: int = 0

    @property
    def width(self) -> int:
        """How much there is to fill."""
        return self.right - self.left

    def legs(self) -> tuple[int, ...]:
        """Return the legs that stand in the run."""
        return tuple(x for x in (self.left_leg, self.right_leg) if x is not None)


@dataclass(frozen=True)
class Run:
    """One filling: pieces from left to right as (left, right) on the grid.

    Attributes:
        pieces: every piece, legs included, at least one.
        joint: the head joint (0 where there is none).
        has_left_leg, has_right_leg: whether the end piece is a corner unit's leg.
        trims: how many of the legs are shorter than they are bought.
        left_end, right_end: what the run stops against.
    """

    pieces: tuple[tuple[int, int], ...]
    joint: int
    has_left_leg: bool
    has_right_leg: bool
    trims: int
    left_end: EndKind
    right_end: EndKind

    @cached_property
    def joints(self) -> tuple[tuple[int, int], ...]:
        """The head joints as (left, right)."""
        return tuple((a[1], b[0]) for a, b in pairwise(self.pieces))

    def units(self) -> tuple[tuple[int, int], ...]:
        """The pieces that are not legs."""
        first = 1 if self.has_left_leg else 0
        last = len(self.pieces) - (1 if self.has_right_leg else 0)
        return self.pieces[first:last]


@lru_cache(maxsize=256)
def fill(
    span: Span,
    rules: RunRules,
    slots: Slots = "anywhere",
    beside: tuple[tuple[int, int], ...] | None = None,
) -> tuple[Run, ...]:
    """List the fillings of a span with its legs as given.

    Args:
        span: what to fill.
        rules: what may fill it.
        slots: where cuts may stand.
        beside: when given, the joints of the neighbouring course: two cuts are split
            so that a joint just keeps the least lap from one of those; otherwise in
            halves, into the least piece and the rest, or evenly.

    Returns:
        Every candidate once, in a fixed order. Empty where the legs leave no room.
        The same span is met again under many legs, so the last ones are remembered.
    """
    return tuple(dict.fromkeys(fillings(span, rules, slots, beside)))


def fill_by_step(span: Span, rules: RunRules, least: int) -> list[Run]:
    """List the fillings with two cuts split at every joint step, none under `least`.

    Only the least, the preferred and the widest joint are tried, and cuts at the ends
    or next to them: this is for finding a larger smallest piece than fewer would give.
    """
    runs = []
    steps = rules.step * -(-least // rules.step)
    joints = dict.fromkeys((rules.preferred, rules.least_joint, rules.most_joint))
    legs = span.legs()
    room = span.width - sum(legs)
    most = (room + rules.least_joint) // (rules.unit + rules.least_joint) + 2
    for count in range(2, min(most, MANY_PIECES) + 1):
        last = count - 1
        for joint in joints:
            joint_room = (len(legs) + count - 1) * joint
            both = room - joint_room - (count - 2) * rules.unit
            tries = range(steps, both - least + 1, rules.step)
            cuts = {x for cut in tries for x in (cut, both - cut)}
            for first, second in sorted({(0, last), (0, 1), (last - 1, last)}):
                for cut in sorted(cuts):
                    if least <= cut < rules.unit and least <= both - cut < rules.unit:
                        lengths = [rules.unit] * count
                        lengths[first], lengths[second] = cut, both - cut
                        runs.append(make_run(span, _with_legs(span, lengths), joint))
    return list(dict.fromkeys(runs))


def fillings(
    span: Span,
    rules: RunRules,
    slots: Slots,
    beside: tuple[tuple[int, int], ...] | None,
    *,
    few: bool = False,
    trims: int = 0,
) -> Iterator[Run]:
    """Yield the fillings of a span with its legs as given, some of them twice."""
    legs = span.legs()
    room = span.width - sum(legs)
    if not room and len(legs) == 1:
        yield make_run(span, legs, 0, trims)
        return
    if len(legs) == FOLDS and rules.least_joint <= room <= rules.most_joint:
        yield make_run(span, legs, room, trims)
    if room <= 0:
        return
    fewest = max(
        1, (room - rules.most_joint * len(legs)) // (rules.unit + rules.most_joint)
    )
    most = (room + rules.least_joint) // (rules.unit + rules.least_joint) + 2
    for count in range(fewest, most + 1):
        joint_count = len(legs) + count - 1
        joints = rules.joints
        if few or slots == "centre":
            joints = (rules.preferred, rules.least_joint, rules.most_joint)
        exact = _exact_joints(room, count, joint_count, rules)
        for joint in dict.fromkeys((*joints, *exact)):
            missing = count * rules.unit - (room - joint_count * joint)
            for lengths in _pieces(span, rules, count, missing, joint, slots, beside):
                yield make_run(span, _with_legs(span, lengths), joint, trims)


def _exact_joints(
    room: int, count: int, joint_count: int, rules: RunRules
) -> Iterator[int]:
    """Return the joints at which whole units, or with one or two halves, just fit."""
    if not joint_count:
        return
    short_of_whole = rules.unit - rules.half
    for halves in range(min(count, 2) + 1):
        left_over = room - count * rules.unit + halves * short_of_whole
        joint, rest = divmod(left_over, joint_count)
        if not rest and rules.least_joint <= joint <= rules.most_joint:
            yield joint


def _pieces(
    span: Span,
    rules: RunRules,
    count: int,
    missing: int,
    joint: int,
    slots: Slots,
    beside: tuple[tuple[int, int], ...] | None,
) -> Iterator[tuple[int, ...]]:
    """Place no, one or two cuts among `count` pieces that are `missing` too long."""
    whole = (rules.unit,) * count
    if missing == 0:
        yield whole
    if missing <= 0:
        return
    places = _places(span, count, slots)
    if missing < rules.unit:
        for place in places:
            yield (*whole[:place], rules.unit - missing, *whole[place + 1 :])
    if count < 2 or missing >= 2 * rules.unit:
        return
    both = 2 * rules.unit - missing
    low, high = max(both - rules.unit, 0), min(rules.unit, both)
    for first, second in _place_pairs(count, places, slots):
        if beside is None:
            cuts = _even_splits(both, rules, slots)
        else:
            start = span.left + first * (rules.unit + joint)
            start += 0 if span.left_leg is None else span.left_leg + joint
            pitch = rules.unit + joint
            edges = _lapped_edges(
                joint, rules, beside, start, start + (second - first) * pitch
            )
            cuts = {
                edge - start - further * pitch
                for edge in edges
                for further in range(second - first)
            }
        for cut in sorted(cuts):
            if low < cut < high:
                lengths = list(whole)
                lengths[first], lengths[second] = cut, both - cut
                yield tuple(lengths)


def _places(span: Span, count: int, slots: Slots) -> list[int]:
    if slots == "centre":
        middle = _middle_place(span, count)
        return [x for x in range(middle - 2, middle + 3) if 0 <= x < count]
    if count <= MANY_PIECES:
        return list(range(count))
    return sorted({0, 1, count // 2, count - 2, count - 1})


def _middle_place(span: Span, count: int) -> int:
    """Return the place of the piece that the centre line falls in or near."""
    place = (span.centre - span.left) * count // max(span.width, 1)
    return min(max(place, 0), count - 1)


def _place_pairs(
    count: int, places: list[int], slots: Slots
) -> Iterator[tuple[int, int]]:
    pairs = {(a, b) for a in places for b in places if a < b}
    if slots == "centre" and count > 1:
        # Mirrored about the middle, next to it and at the two ends.
        pairs |= {(0, count - 1), ((count - 2) // 2, count - 1 - (count - 2) // 2)}
    yield from sorted((a, b) for a, b in pairs if a < b)


def _even_splits(both: int, rules: RunRules, slots: Slots) -> set[int]:
    """Return the lengths worth giving the first of two cuts that make `both`."""
    cuts = {both // 2} if both % 2 == 0 else set()
    if slots == "anywhere":
        for piece in (rules.half, rules.least_piece):
            cuts |= {piece, both - piece}
    return cuts


def _lapped_edges(
    joint: int,
    rules: RunRules,
    beside: tuple[tuple[int, int], ...],
    low: int,
    high: int,
) -> list[int]:
    """Return the left edges of a joint that just keeps the least lap from another."""
    edges = [
        edge
        for left, right in beside
        for edge in (left - rules.least_lap - joint, right + rules.least_lap)
    ]
    return [edge for edge in edges if low < edge < high]


def _with_legs(span: Span, lengths: Iterable[int]) -> tuple[int, ...]:
    left = () if span.left_leg is None else (span.left_leg,)
    right = () if span.right_leg is None else (span.right_leg,)
    return (*left, *lengths, *right)


def make_run(span: Span, lengths: tuple[int, ...], joint: int, trims: int = 0) -> Run:
    """Lay lengths side by side from the left end of a span, legs among them."""
    at = span.left
    pieces = []
    for length in lengths:
        pieces.append((at, at + length))
        at += length + joint
    return Run(
        pieces=tuple(pieces),
        joint=joint if len(lengths) > 1 else 0,
        has_left_leg=span.left_leg is not None,
        has_right_leg=span.right_leg is not None,
        trims=trims,
        left_end=span.left_end,
        right_end=span.right_end,
    )


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
