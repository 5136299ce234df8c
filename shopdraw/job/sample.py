"""Read off a sample of brick what the job is solved with: the mean of its sizes.

In:  a job's tables with the usual values.   Out: the same, the brick's size the mean.
Frame: the job's lengths, exact.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from shopdraw.job.values import length_or_none
from shopdraw.lengths import Lengths

LEAST_COUNT = 10
"""A sample of fewer brick says too little (common practice, no published source)."""
SIZES = (
    ("length", "lengths", "row_of_ten"),
    ("height", "heights", "stack_of_ten"),
)
"""A size of the brick, and the two ways in which a sample gives it."""


def fill_sample(tables: dict[str, Any], lengths: Lengths) -> dict[str, Any]:
    """Give the brick the sample's mean sizes, whatever else says what they are.

    What can't be read is left as it is: the reader says what is wrong with it.
    """
    brick = tables.get("brick")
    sample = brick.get("sample") if isinstance(brick, dict) else None
    if not isinstance(brick, dict) or not isinstance(sample, dict):
        return tables
    means: dict[str, Fraction] = {}
    for size, each, ten in SIZES:
        mean = _mean(sample.get(each), lengths)
        if mean is None and isinstance(sample.get(ten), str):
            whole = length_or_none(sample[ten], lengths)
            mean = None if whole is None else whole / LEAST_COUNT
        if mean is not None and mean > 0:
            means[size] = mean
    return {**tables, "brick": {**brick, **means}}


def _mean(typed: object, lengths: Lengths) -> Fraction | None:
    if not isinstance(typed, list) or not typed:
        return None
    read = [length_or_none(each, lengths) for each in typed]
    known = [each for each in read if each is not None]
    return sum(known, Fraction(0)) / len(known) if len(known) == len(read) else None
