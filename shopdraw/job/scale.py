"""Read a drawing scale as it is lettered on a sheet.

In:  `1 1/2 in = 1 ft`, `1:10`, `fit`.   Out: full-size lengths per paper length.
Frame: none; a scale has no unit.
"""

from __future__ import annotations

import re
from fractions import Fraction

from shopdraw.errors import BadLength
from shopdraw.lengths import parse_length

NOT_A_SCALE = 'is not a scale; write "fit", "1:10" or "1 1/2 in = 1 ft"'


def parse_scale(text: str) -> Fraction | None:
    """Return the scale, or None for "fit".

    Raises:
        BadLength: it can't be read, or would enlarge.
    """
    plain = " ".join(text.split())
    if plain.lower() == "fit":
        return None
    ratio = re.fullmatch(r"1 ?: ?(\d{1,4})", plain)
    scale = Fraction(int(ratio[1])) if ratio else _of_lengths(plain)
    if scale < 1:
        message = 'is not a scale that makes the wall smaller; write one like "1:10"'
        raise BadLength(message)
    return scale


def _of_lengths(plain: str) -> Fraction:
    """Return the scale of a length on paper and the length it stands for."""
    paper, _, wall = plain.partition("=")
    try:
        drawn, real = (parse_length(each.strip(), "mm") for each in (paper, wall))
    except BadLength:
        raise BadLength(NOT_A_SCALE) from None
    return real / drawn if drawn > 0 else Fraction(0)
