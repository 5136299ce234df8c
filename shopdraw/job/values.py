"""Read each kind of typed value: lengths, volumes, scales, dates, text.

In:  a value as TOML has it, the job's lengths in the context.   Out: annotated types.
Frame: lengths in the job's lengths, volumes in their cubes; exact.
"""

from __future__ import annotations

import re
import unicodedata
from datetime import date
from fractions import Fraction
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field, ValidationInfo

from shopdraw.errors import BadLength
from shopdraw.job.scale import NOT_A_SCALE, parse_scale
from shopdraw.lengths import Lengths, parse_length


def _read_length(value: object, info: ValidationInfo) -> object:
    """Parse a typed length; where it is refused, the message says what would do."""
    if isinstance(value, Fraction):
        return value
    context: dict[str, Any] = info.context or {}
    lengths: Lengths = context["lengths"]
    if isinstance(value, int | float) and not isinstance(value, bool):
        message = f'needs quotes and a unit; write "{value} {lengths}"'
        raise ValueError(message)
    try:
        return parse_length(value if isinstance(value, str) else "", lengths)
    except BadLength as error:
        raise ValueError(str(error)) from None


def length_or_none(typed: object, lengths: Lengths) -> Fraction | None:
    """Read a length before the model does; None where the model will refuse it."""
    if isinstance(typed, Fraction):
        return typed
    if not isinstance(typed, str):
        return None
    try:
        return parse_length(typed, lengths)
    except BadLength:
        return None


NOT_A_DATE = 'is not a date; write one like "2026-03-02"'
YEARS = range(1900, 2200)
"""A day of another year is a slip; so a wait or a term can be added to any day."""


def _read_date(value: object) -> object:
    """Take a date, as TOML has one or in quotes; a number is none."""
    if isinstance(value, str):
        value = date.fromisoformat(value)
    if not isinstance(value, date):
        raise ValueError(NOT_A_DATE)
    if value.year not in YEARS:
        message = (
            f"is a day of the year {value.year}; write one from {YEARS[0]} to "
            f"{YEARS[-1]}"
        )
        raise ValueError(message)
    return value


def _read_bearing(value: object, info: ValidationInfo) -> object:
    """Take how far the head goes past each jamb: a word, or a length."""
    if value in ("best", "no"):
        return value
    try:
        return _read_length(value, info)
    except ValueError:
        message = (
            'does not say how far the head goes past each jamb; write "best", "no", '
            "or a length"
        )
        raise ValueError(message) from None


_MARKS = "\u2018\u2019\u201c\u201d\u2013\u2014\u2026\u00d7\u2032\u2033\u00a0"
"""Marks that a word processor types in place of plain ones; lettered as the plain."""


def _is_lettered(sign: str) -> bool:
    """Whether a drawing can letter a sign, if need be without its accents.

    A backslash and a caret begin a code in a DXF file.
    """
    if " " <= sign <= "~":
        return sign not in "\\^"
    letter, *accents = tuple(unicodedata.normalize("NFD", sign))
    is_letter = letter.isascii() and letter.isalpha()
    return sign in _MARKS or (is_letter and all(map(unicodedata.combining, accents)))


def _read_text(text: str) -> str:
    """Refuse text that a drawing can't letter as it is typed."""
    if text and not text.strip():
        message = "must not be empty"
        raise ValueError(message)
    signs = unicodedata.normalize("NFC", text)
    wrong = next((sign for sign in signs if not _is_lettered(sign)), "")
    # Two percent signs begin a code in a DXF file too.
    wrong = wrong or ("%%" if "%%" in signs else "")
    if wrong:
        is_seen = unicodedata.category(wrong[0])[0] in "LNPS"
        shown = wrong if is_seen else f"U+{ord(wrong):04X}"
        message = f"has {shown} in it, which can't be lettered; write plain text"
        raise ValueError(message)
    return text


def _read_revision(text: str) -> str:
    """Take a revision that can be part of a folder's name."""
    if re.fullmatch(r"([A-Za-z0-9][A-Za-z0-9 ._-]*)?", text):
        return text
    message = (
        "can't be a revision; write letters, digits, hyphens or dots, because a folder "
        "is named after it"
    )
    raise ValueError(message)


Length = Annotated[Fraction, BeforeValidator(_read_length)]
"""A length with its unit; it may be zero or negative."""
Size = Annotated[Length, Field(gt=0)]
"""A length that is more than zero."""
Width = Annotated[Length, Field(ge=0)]
"""A length that may be zero but not negative."""
Spot = tuple[Length, Length]
"""A measured point: how far along the face, and how far up."""
HeadBearing = Annotated[str | Fraction, BeforeValidator(_read_bearing)]
"""How far the head goes past each jamb: "best", "no", or a length."""
Day = Annotated[date, BeforeValidator(_read_date)]
Text = Annotated[str, AfterValidator(_read_text)]
"""Free text that a drawing can letter."""
Line = Annotated[Text, Field(max_length=200)]
"""A line of free text."""
TitleLine = Annotated[Text, Field(max_length=60)]
"""A text for one cell of the title block."""
Name = Annotated[Text, Field(min_length=1, max_length=60)]
"""The name of a thing, lettered where the thing is drawn."""
Revision = Annotated[Text, Field(max_length=12), AfterValidator(_read_revision)]
"""The mark of a revision; a folder is named after it."""


def _read_layer(value: object) -> object:
    """Take a layer name that every reader of DXF accepts."""
    if isinstance(value, str) and re.fullmatch(r"[A-Za-z0-9_$-]{1,31}", value):
        if value.upper() in ("0", "DEFPOINTS"):
            message = "is a layer that every DXF file has; write another name"
            raise ValueError(message)
        return value
    message = "is not a layer name; write up to 31 letters, digits, hyphens, _ or $"
    raise ValueError(message)


LayerName = Annotated[str, BeforeValidator(_read_layer)]
"""A layer's name in a DXF file."""


def _read_colour(value: object) -> object:
    """Take a colour as six hexadecimal digits: red, green and blue."""
    if isinstance(value, str) and re.fullmatch(r"#[0-9a-fA-F]{6}", value):
        return value.lower()
    message = 'is not a colour; write # and six hexadecimal digits, like "#9c5344"'
    raise ValueError(message)


Colour = Annotated[str, BeforeValidator(_read_colour)]
"""A colour of the picture: red, green and blue, two hexadecimal digits each."""


def _read_photo(value: object) -> object:
    """Take the name of a photograph that lies beside the job file, or that of none."""
    if value == "":
        return value
    is_name = isinstance(value, str) and re.fullmatch(PHOTO_NAME, value)
    if is_name and str(value).isprintable():
        return value
    message = "must be the name of a JPEG or PNG file that lies beside the job file"
    raise ValueError(message)


PHOTO_NAME = r"[^/\\]+\.([jJ][pP][eE]?[gG]|[pP][nN][gG])"
PhotoName = Annotated[str, BeforeValidator(_read_photo)]
"""The name of a photograph's file, without a folder."""


def _read_scale(value: object) -> object:
    """Read a scale such as `1:10`; None for "fit"."""
    if not isinstance(value, str):
        raise ValueError(NOT_A_SCALE)
    try:
        return parse_scale(value)
    except BadLength as error:
        raise ValueError(str(error)) from None


Scale = Annotated[Fraction | None, BeforeValidator(_read_scale)]
"""Full-size lengths to one on paper; None for the largest that fits."""


def _read_volume(value: object, info: ValidationInfo) -> object:
    """Read a volume such as `0.5 cu ft` or `12 litres`."""
    if isinstance(value, Fraction):
        return value
    context: dict[str, Any] = info.context or {}
    # Only a job that gives a volume pays for the library that reads one.
    from shopdraw.job.volumes import parse_volume

    try:
        return parse_volume(str(value), context["lengths"])
    except BadLength as error:
        raise ValueError(str(error)) from None


Volume = Annotated[Fraction, BeforeValidator(_read_volume), Field(gt=0)]
"""A volume, in cubes of the job's lengths."""
