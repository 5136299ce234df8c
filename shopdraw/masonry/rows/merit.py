"""The order of merit: what a bond is compared by, first things first.

In:  counts.   Out: `LEVELS`, merits in machine words, and as tuples.
Frame: none; less is better at every level.

Merits of rows and meetings add, level by level. A table of merits is kept in a few
words a row, so that adding the words adds the levels, and comparing word by word
compares the merits. What would not fit is an error: nothing is cut short. The room is
for the widest face of the longest brick on the finest joint step that a job may have.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Ints: TypeAlias = NDArray[np.int64]
Flags: TypeAlias = NDArray[np.bool_]
Merit: TypeAlias = tuple[int, ...]

MOST_TERMS = 32
"""So many rows and meetings may be added before a level could run over. Laps, merits 3
and 4, are counted outside `pack`: a face has room for all of them together."""
WORD = 62


@dataclass(frozen=True)
class Level:
    """One line of the order of merit.

    Attributes:
        number: its place, 1 first.
        name: what it is called.
        counts: what it counts, in words.
        bits: how much room it has in a word.
    """

    number: int
    name: str
    counts: str
    bits: int


LEVELS = tuple(
    Level(number, name, counts, bits)
    for number, (bits, name, counts) in enumerate(
        (
            (9, "pieces under the least", "pieces shorter than the least piece"),
            (20, "how far under the least piece", "joint steps they are short"),
            (14, "laps under the least", "pairs of joints nearer than the least lap"),
            (19, "how far under the least lap", "joint steps they are short"),
            (7, "unbonded", "meetings of two courses without a joint"),
            (7, "corners that can't be read", "legs trimmed until the corner is lost"),
            (7, "not mirrored", "1 where a mirror face is not its own mirror image"),
            (7, "not carried", "rows whose perpends jump at the head, each side"),
            (7, "legs trimmed", "corner units' legs that are trimmed"),
            (8, "short laps at a hidden wall", "laps there from half the least"),
            (12, "uneven head joints", "joint steps, beyond one, between two courses"),
            (7, "small cuts at the jamb", "cuts and trimmed legs that look like slips"),
            (10, "small cuts elsewhere", "cuts and trimmed legs that look like slips"),
            (18, "pattern broken", "pieces that read wrong, double in a leg"),
            (17, "how much is trimmed", "twice the joint step, off trimmed legs"),
            (17, "off the bond's lap", "joints too near the next course's, or too far"),
            (7, "short cuts at the jamb", "cuts shorter than the bond's own bat"),
            (10, "short cuts elsewhere", "cuts shorter than the bond's own bat"),
            (7, "cuts at the jamb", "cuts"),
            (10, "cuts in open view", "cuts neither at a jamb, a wall nor a corner"),
            (20, "how short the short cuts are", "joint steps that they are short"),
            (10, "different cuts", "lengths that a row is sawn to"),
            (10, "cuts", "cuts"),
            (14, "joints off the preferred", "half joint steps"),
        ),
        start=1,
    )
)
NOT_MIRRORED, TRIMMED = 7, 9
FAILS, FAULTS = 6, 13
"""Merits 1 to 6 are what fails; 1 to 13 are faults worth a wider search."""
SAWN = 25
"""Below all merits, between equals: how many pieces are sawn in all courses laid."""
_TOLD_APART = Level(SAWN, "sawn pieces", "sawn pieces in all the courses laid", 20)


def _places() -> tuple[tuple[int, int], ...]:
    """Return for each level its word, and how far it is shifted in it."""
    words: list[list[Level]] = [[]]
    for level in (*LEVELS, _TOLD_APART):
        if sum(x.bits for x in words[-1]) + level.bits > WORD:
            words.append([])
        words[-1].append(level)
    return tuple(
        (at, sum(x.bits for x in word[place + 1 :]))
        for at, word in enumerate(words)
        for place in range(len(word))
    )


PLACES = _places()
WORDS = PLACES[-1][0] + 1
ENDLESS = np.array([1 << 60, *[0] * (WORDS - 1)])
"""Words that are worse than any merit."""


def pack(levels: Mapping[int, Ints], rows: int) -> Ints:
    """Put counts into words.

    Args:
        levels: by number, the counts of every row, of shape (rows,).
        rows: how many rows there are.

    Returns:
        Words of shape (rows, WORDS).

    Raises:
        OverflowError: a count has no room.
    """
    words = np.zeros((rows, WORDS), dtype=np.int64)
    if not rows:
        return words
    for number, counts in levels.items():
        bits = (*LEVELS, _TOLD_APART)[number - 1].bits
        room = (1 << bits) // MOST_TERMS
        if counts.max() >= room:
            message = f"{counts.max()} is too many for merit {number}"
            raise OverflowError(message)
        word, shift = PLACES[number - 1]
        words[:, word] += counts.astype(np.int64) << shift
    return words


def joined(words: Ints) -> int:
    """Return one row of words as one whole number; these add and compare alike."""
    number = 0
    for word in words.tolist():
        number = (number << WORD) + word
    return number


def split(number: int) -> list[int]:
    """Return one whole number as words."""
    mask = (1 << WORD) - 1
    return [number >> WORD * (WORDS - 1 - at) & mask for at in range(WORDS)]


def as_tuple(number: int) -> Merit:
    """Return one whole number as the 24 counts."""
    words = split(number)
    return tuple(
        words[word] >> shift & ((1 << level.bits) - 1)
        for level, (word, shift) in zip(LEVELS, PLACES, strict=False)
    )


def not_over(words: Ints, limit: Ints) -> Flags:
    """Return which rows of words are no worse than the limit.

    Args:
        words: of shape (rows, WORDS).
        limit: of shape (WORDS,) or (rows, WORDS).
    """
    is_one = limit.ndim == 1
    under: Flags = words[:, 0] < limit[..., 0]
    equal = np.flatnonzero(words[:, 0] == limit[..., 0])
    for at in range(1, words.shape[1]):
        if not len(equal):
            return under
        mine, most = words[equal, at], limit[at] if is_one else limit[equal, at]
        under[equal[mine < most]] = True
        equal = equal[mine == most]
    under[equal] = True
    return under


def under_faults(words: Ints, last: int = FAULTS) -> Ints:
    """Return the limit of what has fewer faults, merits 1 to the last, than words."""
    word, shift = PLACES[last - 1]
    limit = words.copy()
    limit[word] = (limit[word] >> shift << shift) - 1
    limit[word + 1 :] = ENDLESS[0]
    return limit


def with_at_most(words: Ints, number: int, count: int) -> Ints:
    """Return the limit of what is as words to a level, and has so many there at most.

    Args:
        words: what all levels before are of.
        number: which level.
        count: how many of it; of the levels after it, any.
    """
    word, shift = PLACES[number - 1]
    above = shift + LEVELS[number - 1].bits
    limit = words.copy()
    limit[word] = (limit[word] >> above << above) + ((count + 1) << shift) - 1
    limit[word + 1 :] = ENDLESS[0]
    return limit


def order(words: Ints) -> Ints:
    """Return the order of rows, best first; equal rows as they came."""
    return np.lexsort(words.T[::-1])


def least_of(words: Ints, group: Ints, count: int) -> Ints:
    """Return the best words of each group, of shape (groups, WORDS).

    Args:
        words: of shape (rows, WORDS).
        group: the group of each row.
        count: how many groups there are; one that has no row is `ENDLESS`.
    """
    best = np.tile(ENDLESS, (count, 1))
    at, its, longest = np.arange(len(words)), group, np.iinfo(np.int64).max
    for word in range(words.shape[1] if len(words) else 0):
        here, most = words[at, word], np.full(count, longest)
        np.minimum.at(most, its, here)
        is_least = here == most[its]
        at, its = at[is_least], its[is_least]
        if len(at) <= np.count_nonzero(most < longest):
            break  # One row of each group is left: the other words are its own.
    best[its] = words[at]
    return np.where(best[:, :1] < ENDLESS[0], best, ENDLESS)


def least(words: Ints) -> Ints:
    """Return the best of some words; `ENDLESS` where there are none."""
    if not len(words):
        return ENDLESS.copy()
    left = words
    for word in range(words.shape[1]):
        if len(left) == 1:
            break
        here = left[:, word]
        left = left[here == here.min()]
    return left[0].copy() if left[0, 0] < ENDLESS[0] else ENDLESS.copy()


def first_of(words: Ints, count: int) -> Ints:
    """Return the numbers of so many of the best rows, and of those equal to the last.

    Args:
        words: of shape (rows, WORDS).
        count: how many at the least.
    """
    found, at = list[Ints](), np.arange(len(words))
    for word in range(words.shape[1]):
        if len(at) <= count:
            break
        here = words[at, word]
        most = np.partition(here, count - 1)[count - 1]
        found.append(at[here < most])
        count -= len(found[-1])
        at = at[here == most]
    return np.sort(np.concatenate([*found, at]))
