"""Ask for less than was found, level by level of the order of merit.

In:  what was found, who is asked.   Out: the best that is had by asking.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from shopdraw.masonry.bonding.courses import BestCourses
from shopdraw.masonry.rows.merit import LEVELS, Ints, as_tuple, joined, with_at_most

Ask: TypeAlias = Callable[[Ints], tuple[BestCourses | None, bool]]
"""Told a limit; returns something within it, or whether it is sure that there is
nothing."""


def narrowed(best: BestCourses | None, limit: Ints, ask: Ask) -> BestCourses | None:
    """Return the best that is had by asking, up to a level that is left undecided.

    Less of what is given up is asked for, level by level. Little is within such a
    limit, and most of it is ruled out before anything is laid: so that an answer is
    found, or that there is none, is found soon.

    Args:
        best: what was found; where nothing was, the limit is asked to be bettered.
        limit: what may be come to.
        ask: who is asked.
    """
    words = limit if best is None else best.words
    for level in LEVELS:
        found, is_decided = _with_least(level.number, words, ask)
        if found is not None:
            best, words = found, found.words
        if not is_decided:
            break
    return best


def _with_least(number: int, words: Ints, ask: Ask) -> tuple[BestCourses | None, bool]:
    """Return what is had with less at one level, and whether less is ruled out."""
    best, least = None, 0
    while least < (have := as_tuple(joined(words))[number - 1]):
        found = None
        for most in dict.fromkeys((least, (least + have) // 2, have - 1)):
            if not least <= most < have:
                continue  # Ruled out by what was asked before.
            found, is_none = ask(with_at_most(words, number, most))
            if found is not None:
                best, words = found, found.words
                break
            least = most + 1 if is_none else least
        if found is None and least < have:
            return best, False
    return best, True
