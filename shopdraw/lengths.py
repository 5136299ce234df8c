"""Turn text into exact lengths, and exact lengths into text for people.

In:  text with a unit of length.   Out: a `Fraction` in the job's lengths, and back.
Frame: the job's lengths are inches or millimetres; 1 in = 25.4 mm, exactly
(international inch, 1959).
"""

from __future__ import annotations

import re
import unicodedata
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor
from typing import Literal

from shopdraw.errors import BadLength

Lengths = Literal["in", "mm"]

MM_PER_INCH = Fraction(254, 10)
INCHES_PER_FOOT = 12

_MM: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": MM_PER_INCH,
    "inch": MM_PER_INCH,
    "inches": MM_PER_INCH,
    '"': MM_PER_INCH,
    "ft": MM_PER_INCH * INCHES_PER_FOOT,
    "foot": MM_PER_INCH * INCHES_PER_FOOT,
    "feet": MM_PER_INCH * INCHES_PER_FOOT,
    "'": MM_PER_INCH * INCHES_PER_FOOT,
}
_NUMBER = r"\d{1,9}[ -]\d{1,6}/\d{1,6}|\d{1,9}/\d{1,6}|\d{0,9}\.\d{1,9}|\d{1,9}\.?"
_FEET = rf"(?P<feet>{_NUMBER})\s*(?P<feet_word>feet|foot|ft|')(?:(?<=ft)\.(?!\d))?"
_REST = rf"(?P<rest>{_NUMBER})\s*(?P<rest_word>inches|inch|in|mm|cm|m|\")"
_LENGTH = re.compile(
    rf"(?P<sign>-)?\s*(?:{_FEET}\s*-?\s*(?:(?P<inches>{_NUMBER})\s*"
    rf"(?P<inch_word>inches|inch|in|\"))?|{_REST})\.?",
    re.IGNORECASE | re.ASCII,
)
_TYPOGRAPHIC = str.maketrans(
    {"\u2032": "'", "\u2019": "'", "\u2033": '"', "\u201d": '"', "\u2044": "/",
     "\u2212": "-", "\u2013": "-", "\u00a0": " "}
)  # fmt: skip


def parse_length(text: str, lengths: Lengths) -> Fraction:
    """Read a length exactly.

    Args:
        text: `26 1/4 in`, `2'-2 1/4"`, `2 ft. 2 1/4 in.`, `2-1/4 in`, `66.7 cm`.
        lengths: what the answer is measured in.

    Returns:
        The exact length, negative where the text says so.

    Raises:
        BadLength: the text has no unit, or is not a length at all.
    """
    plain = _plain(text)
    match = _LENGTH.fullmatch(plain)
    if match is None:
        raise BadLength(_what_would_do(plain, lengths))
    mm = _term(match["feet"], match["feet_word"]) + _term(
        match["inches"], match["inch_word"]
    )
    mm += _term(match["rest"], match["rest_word"])
    if match["sign"]:
        mm = -mm
    return mm if lengths == "mm" else mm / MM_PER_INCH


def plain_length(text: str) -> str:
    """Spell a length without quotation marks: `2 ft 2 1/4 in` for `2'-2 1/4"`."""
    words = _plain(text).replace("'", " ft ").replace('"', " in")
    return " ".join(words.replace("ft -", "ft ").split())


def _plain(text: str) -> str:
    """Replace typographic marks and single-character fractions by plain ones."""
    spelled = []
    # Two foot marks are how an inch mark is typed where there is none.
    for sign in text.translate(_TYPOGRAPHIC).replace("''", '"'):
        if (
            unicodedata.category(sign) == "No"
            and "fraction" in unicodedata.name(sign, "").lower()
        ):
            value = Fraction(unicodedata.numeric(sign)).limit_denominator(16)
            spelled.append(f" {value.numerator}/{value.denominator}")
        else:
            spelled.append(sign)
    return " ".join("".join(spelled).split())


def _term(number: str | None, word: str | None) -> Fraction:
    """Return one number with its unit, in millimetres."""
    if number is None or word is None:
        return Fraction(0)
    whole, _, part = number.replace("-", " ").rpartition(" ")
    try:
        value = Fraction(part.rstrip(".")) + (Fraction(whole) if whole else 0)
    except ZeroDivisionError:
        message = f'has "{number}" in it, which divides by zero'
        raise BadLength(message) from None
    return value * _MM[word.lower()]


def _what_would_do(plain: str, lengths: Lengths) -> str:
    example = "26 1/4 in" if lengths == "in" else "667 mm"
    if re.fullmatch(rf"-?\s*(?:{_NUMBER})", plain, re.ASCII):
        return f'has no unit; write "{plain} {lengths}"'
    return f'is not a length; write one like "{example}"'


def nearest_multiple(value: Fraction, step: Fraction) -> Fraction:
    """Return the multiple of `step` nearest to `value`; halves go up."""
    # In whole numbers, because every figure of every drawing comes through here.
    whole, part = step.numerator * value.denominator, step.denominator
    count = (2 * value.numerator * part + whole) // (2 * whole)
    return Fraction(count * step.numerator, part)


def foot_in(lengths: Lengths) -> Fraction:
    """Return a foot in the lengths."""
    return Fraction(INCHES_PER_FOOT) * (1 if lengths == "in" else MM_PER_INCH)


def shown_step(lengths: Lengths) -> Fraction:
    """Return the step that lengths are rounded to on the sheets."""
    return Fraction(1, 16) if lengths == "in" else Fraction(1)


FINEST = 100_000
"""A person gives no length finer than one part in so many of its unit."""


def settled(value: Fraction | float) -> Fraction:
    """Undo what floating point, or a clipping, did to a length.

    Then halves round alike wherever the length is shown.
    """
    return Fraction(value).limit_denominator(FINEST)


def rounded(value: Fraction, lengths: Lengths) -> Fraction:
    """Round a position for display: once, and never a pitch."""
    return nearest_multiple(value, shown_step(lengths))


def half_marked(value: Fraction, lengths: Lengths) -> Fraction:
    """Round a length to half of `shown_step`: between two marks of a tape."""
    return nearest_multiple(value, shown_step(lengths) / 2)


def format_length(value: Fraction, lengths: Lengths) -> str:
    """Write a length as the sheets show it, rounded to `shown_step`.

    Inches under a foot stand alone (`3 5/8"`); a foot and more is `2'-3 1/4"`.
    Millimetres are bare numbers, as construction drawings have them.
    """
    return _spelled(value, lengths, shown_step(lengths))


def format_made(value: Fraction, lengths: Lengths) -> str:
    """Write a size that somebody saws to, rounded to half of `shown_step`.

    That is 1/32 in or half a millimetre: as fine as the saw's usual tolerance. A piece
    has these figures wherever it is named.
    """
    return _spelled(value, lengths, shown_step(lengths) / 2)


@lru_cache(maxsize=8192)
def _spelled(value: Fraction, lengths: Lengths, step: Fraction) -> str:
    value = nearest_multiple(value, step)
    sign = "-" if value < 0 else ""
    value = abs(value)
    if lengths == "mm":
        return f"{sign}{value if value.denominator == 1 else float(value)}"
    feet, inches = divmod(value, INCHES_PER_FOOT)
    text = f'{mixed_number(inches)}"'
    if not feet:
        return f"{sign}{text}"
    zero = "0 " if 0 < inches < 1 else ""
    return f"{sign}{feet}'-{zero}{text}"


def mixed_number(value: Fraction) -> str:
    """Write a number, zero or more, as a whole and a fraction: `3 5/8`, `1/16`, `0`."""
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    return f"{whole} {part}" if whole else str(part)


Toward = Literal["nearest", "up", "down"]
"""Which way a length is rounded: up where less would not do, down where more would."""


def taped_length(value: Fraction, lengths: Lengths, toward: Toward = "nearest") -> str:
    """Write a length for a sentence, no finer than a tape is read: `26 1/4 in`.

    That is to half of `shown_step`, between two marks of the tape. What is in whole
    64ths or tenths of a millimetre is somebody's own figure, and is left as it is.
    """
    finest = Fraction(1, 64) if lengths == "in" else Fraction(1, 10)
    if value % finest == 0:
        return typed_length(value, lengths)
    finest = shown_step(lengths) / 2
    if toward == "nearest":
        value = half_marked(value, lengths)
    else:
        count = ceil(value / finest) if toward == "up" else floor(value / finest)
        value = count * finest
    return typed_length(value, lengths)


def typed_length(value: Fraction, lengths: Lengths) -> str:
    """Write a length exactly as a job file takes it: `26 1/4 in`, `25.4 mm`.

    Millimetres are decimals, as a metric tape is read, where these can be exact.
    """
    sign, value = "-" if value < 0 else "", abs(value)
    if lengths == "mm" and FINEST % value.denominator == 0:
        return f"{sign}{Decimal(value.numerator) / value.denominator} mm"
    return f"{sign}{mixed_number(value)} {lengths}"
