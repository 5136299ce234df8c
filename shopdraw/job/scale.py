"""Read a drawing scale as it is lettered on a sheet.

In:  `1 1/2 in = 1 ft`, `1:10`, `fit`.   Out: full-size lengths per paper length.
Frame: none; a scale has no unit.
"""

from __future__ import annotations

import re
from fractions import Fraction

from shopdraw.errors import BadLength
from shopdraw.lengths import parse_length


def parse_scale(text: str) -> Fraction | None:
    """Return the scale, or None for "fit".

    Raises:
        BadLength: it can't be read, or would enlarge.
    """
    plain = " ".join(text.split())
    if plain.lower() == "fit":
        return None
    ratio = re.fullmatch(r"1 ?: ?(\d{1,4})", plain)
    if ratio:
        scale = Fraction(int(ratio[1]))
    else:
        paper, equals, wall = plain.partition("=")
        if not equals:
            message = 'is not a scale; write "fit", "1:10" or "1 1/2 in = 1 ft"'
            raise BadLength(message)
        drawn = parse_length(paper.strip(), "mm")
        scale = parse_length(wall.strip(), "mm") / drawn if drawn > 0 else Fraction(0)
    if scale < 1:
        message = "is no scale for a sheet; write one that makes the wall smaller"
        raise BadLength(message)
    return scale
