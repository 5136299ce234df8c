"""Measure and break lettering without a font engine: widths, boxes, lines.

In:  `Words`.   Out: widths on paper, boxes round the lettering.
Frame: as `ink`: full-size lengths, heights on paper times the drawing's scale.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from math import cos, radians, sin

from shopdraw.drawing.ink import Point, Words

Box = tuple[float, float, float, float]
"""(left, bottom, right, top)."""

EM = 2048
CAP_HEIGHT = 1493
"""Lettering is sized by the height of its capitals, as drawing practice has it."""
DESCENT = 483
# fmt: off
ADVANCES = (
    651, 821, 942, 1716, 1303, 1946, 1597, 563, 799, 799, 1024, 1716, 651, 739, 651,
    690, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 690, 690, 1716,
    1716, 1716, 1087, 2048, 1401, 1405, 1430, 1577, 1294, 1178, 1587, 1540, 604,
    604, 1343, 1141, 1767, 1532, 1612, 1235, 1612, 1423, 1300, 1251, 1499, 1401,
    2025, 1403, 1251, 1403, 799, 690, 799, 1716, 1024, 1024, 1255, 1300, 1126, 1300,
    1260, 721, 1300, 1298, 569, 569, 1186, 569, 1995, 1298, 1253, 1300, 1300, 842,
    1067, 803, 1298, 1212, 1675, 1212, 1212, 1075, 1303, 690, 1303, 1716,
)
# fmt: on
"""Advance widths of DejaVu Sans for the printable ASCII characters, in 1/2048 em.
The pictures are lettered in that font; other fonts of the kind are no wider."""


@lru_cache(maxsize=16_384)
def plain(text: str) -> str:
    """Return a text in the characters that every program shows alike.

    Accents go, typographic marks become plain ones, and what has no plain form is a
    question mark; so are marks that begin a code in a DXF file (percent twice, caret,
    backslash).
    """
    marks = {"\u2018": "'", "\u2019": "'", "\u201c": '"', "\u201d": '"',
             "\u2013": "-", "\u2014": "-", "\u00d7": "x", "\u2032": "'",
             "\u2033": '"', "\u00a0": " "}  # fmt: skip
    spelled = unicodedata.normalize("NFKD", "".join(marks.get(x, x) for x in text))
    kept = (x for x in spelled if not unicodedata.combining(x))
    shown = "".join(x if " " <= x <= "~" and x not in "\\^" else "?" for x in kept)
    return shown.replace("%%", "%?")


def em_of(height: float) -> float:
    """Return the font size whose capitals have that height."""
    return height * EM / CAP_HEIGHT


def width_of(text: str, height: float) -> float:
    """Return the width of a line of text, in the lengths of its height."""
    return _advance(text) * height / CAP_HEIGHT


LINES = 1.5
"""From line to line of a string's name, in heights of lettering."""
TIE = "\x01"
"""A blank that no line is broken at, until it is broken into lines."""
LENGTH = re.compile(
    r"(?<=\d) (?=\d+/\d)|(?<=\+/-) (?=\d)|(?<=\+-) (?=\d)"
    r"|(?<=\d) (?=(?:in|mm|ft|m|m2|sq|cu|lb|IN|MM)\b|%)"
    r"|(?<=\bsq|\bcu) (?=(?:in|ft|m)\b)"
    r"""|(?<=") (?== 1'-0")|(?<=" =) (?=1'-0")"""
)
"""The blanks within a length, an area, a volume, a weight, a share and a scale."""
_BY_SIGN = tuple(
    ADVANCES[sign - 32] if " " <= chr(sign) <= "~" else EM for sign in range(128)
)
_BY_SIGN = (*_BY_SIGN[: ord(TIE)], ADVANCES[0], *_BY_SIGN[ord(TIE) + 1 :])


@lru_cache(maxsize=16_384)
def _advance(text: str) -> int:
    """Return the width of a line of text in 1/2048 em; kept, because figures recur."""
    return sum(map(_BY_SIGN.__getitem__, text.encode("ascii", "replace")))


def ring_of_words(words: Words, scale: float = 1.0) -> tuple[Point, ...]:
    """Return the four corners of the box that lies along a line of lettering."""
    left, low, right, high = _about_foot(words, scale)
    corners = (left, low), (right, low), (right, high), (left, high)
    x, y = words.at
    if not words.angle_deg:
        return tuple((x + a, y + b) for a, b in corners)
    cosine, sine = cos(radians(words.angle_deg)), sin(radians(words.angle_deg))
    return tuple(
        (x + a * cosine - b * sine, y + a * sine + b * cosine) for a, b in corners
    )


def _about_foot(words: Words, scale: float) -> Box:
    """Return the box along a line of lettering, before it is turned, from its point."""
    height = words.height_on_paper * scale
    width = width_of(words.text, height)
    left = {"left": 0.0, "centre": -width / 2, "right": -width}[words.align]
    drop = height * DESCENT / CAP_HEIGHT
    foot = {"foot": 0.0, "middle": -height / 2, "top": -height}[words.seat]
    return left, foot - drop * 0.9, left + width, foot + height


def box_of(words: Words, scale: float = 1.0) -> Box:
    """Return the upright box round a line of lettering, whether it is turned or not."""
    if not words.angle_deg:
        x, y = words.at
        left, low, right, high = _about_foot(words, scale)
        return x + left, y + low, x + right, y + high
    xs, ys = zip(*ring_of_words(words, scale), strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def overlap(a: Box, b: Box, slack: float = 0.0) -> bool:
    """Whether two boxes overlap by more than `slack` in both directions."""
    # One comparison at a time: this is asked more often than anything else.
    return (
        a[2] - b[0] > slack
        and b[2] - a[0] > slack
        and a[3] - b[1] > slack
        and b[3] - a[1] > slack
        and min(a[2] - a[0], b[2] - b[0], a[3] - a[1], b[3] - b[1]) > slack
    )


def whole_lengths(text: str) -> str:
    """Tie each length to its fraction, its sign and its unit.

    A length in two lines is read as two lengths.
    """
    return LENGTH.sub(TIE, text)


def wrap(text: str, height: float, width: float) -> tuple[str, ...]:
    """Break a text into lines no wider than `width`, and a word that is wider too.

    No word is left alone in the last line where as many narrower lines hold the text:
    two are made about even, of more the last takes a word or two.
    """
    words = text.split()
    lines = _broken(words, height, width)
    if len(lines) > 1 and " " not in lines[-1]:
        longest = max(width_of(word, height) for word in words)
        least = 0.5 if len(lines) == 2 else 0.0
        while True:
            widths = [width_of(line, height) for line in lines]
            if " " in lines[-1] and widths[-1] > least * max(widths):
                break
            # Their widest line has to give a word to the next.
            less = max(widths) * (1 - WORD_LESS)
            narrower = _broken(words, height, less) if less >= longest else []
            if len(narrower) != len(lines):
                break
            lines = narrower
    return tuple(line.replace(TIE, " ") for line in lines)


WORD_LESS = 1e-6
"""By what share lines are narrowed, so that the widest of them can't stay as it is."""


def _broken(words: list[str], height: float, width: float) -> list[str]:
    """Fill line after line with words, and break a word that no line holds."""
    lines: list[str] = []
    line, taken = "", 0
    for word in words:
        rest = word
        while width_of(rest, height) > width and len(rest) > 1:
            ends = range(1, len(rest))
            fits = max(1, sum(width_of(rest[:end], height) <= width for end in ends))
            lines += [line, rest[:fits]] if line else [rest[:fits]]
            line, rest = "", rest[fits:]
        # Words and the room between them add up: no line is measured anew.
        longer = taken + ADVANCES[0] + _advance(rest)
        if line and longer * height / CAP_HEIGHT <= width:
            line, taken = f"{line} {rest}", longer
        else:
            lines += [line] if line else []
            line, taken = rest, _advance(rest)
    return [*lines, *([line] if line else [])]
