"""Give the brick the mean size of a measured sample.

In:  a job's tables with the default values.   Out: the same, the brick's size the mean.
Frame: the job's lengths, exact.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from shopdraw.job.values import length_or_none
from shopdraw.lengths import Lengths

LEAST_COUNT = 10
"""Fewer brick are too few to judge a lot by (common practice, no published source)."""
SIZES = (
    ("length", "lengths", "row_of_ten"),
    ("height", "heights", "stack_of_ten"),
)
"""A size of the brick, and the two keys by which a sample may give it."""


def fill_sample(tables: dict[str, Any], lengths: Lengths) -> dict[str, Any]:
    """Replace the brick's length and height by the means of its sample.

    What can't be read is left as it is, for the model to complain of.
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
