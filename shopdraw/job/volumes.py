"""Read a volume with its unit, such as how much mortar one bag makes.

In:  text such as `0.5 cu ft`, `12 litres`.   Out: an exact volume.
Frame: cubes of the job's lengths.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

import pint

from shopdraw.errors import BadLength
from shopdraw.lengths import Lengths

_VOLUME = re.compile(
    r"(?P<number>\d{1,9}(?:\.\d{1,9})?) ?(?P<unit>[a-z][a-z ]{0,15}(?:\*\*3)?)",
    re.IGNORECASE | re.ASCII,
)
_TRADE = {"cu ft": "foot**3", "cu in": "inch**3", "cu yd": "yard**3", "litres": "liter",
          "fl oz": "fluid_ounce"}  # fmt: skip


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    return pint.UnitRegistry(non_int_type=Fraction)


def parse_volume(text: str, lengths: Lengths) -> Fraction:
    """Read a volume exactly.

    Raises:
        BadLength: it is not a volume; the message says what would do.
    """
    match = _VOLUME.fullmatch(" ".join(text.split()))
    cube = "inch**3" if lengths == "in" else "millimeter**3"
    try:
        if match is None:
            raise ValueError(text)
        unit = _TRADE.get(match["unit"], match["unit"])
        volume = _registry().Quantity(Fraction(match["number"]), unit).to(cube)
        return Fraction(volume.magnitude).limit_denominator(10**9)
    except (pint.PintError, ValueError, TypeError, AttributeError):
        example = "0.5 cu ft" if lengths == "in" else "12 litres"
        message = f'is not a volume; write one like "{example}"'
        raise BadLength(message) from None
