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
UNITS = (
    "meter = [length] = m = metre",
    "centimeter = meter / 100 = cm = centimetre",
    "millimeter = meter / 1000 = mm = millimetre",
    "inch = 127 * millimeter / 5 = in = inches",
    "foot = 12 * inch = ft = feet",
    "yard = 3 * foot = yd",
    "liter = meter**3 / 1000 = l = L = litre",
    "milliliter = liter / 1000 = ml = mL = millilitre",
    "gallon = 231 * inch**3 = gal",
    "quart = gallon / 4 = qt",
    "pint = quart / 2 = pt",
    "fluid_ounce = pint / 16 = floz",
)
"""What a bag's volume may be given in, exact by definition; gallons are US ones.

The library's own list of all units takes a quarter of a second to load.
"""


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    return pint.UnitRegistry(UNITS, non_int_type=Fraction)


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
