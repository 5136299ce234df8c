"""Damage job files: bytes, lines and values, from a seed."""

from __future__ import annotations

import random
import re

VALUES = (
    '""', '"0 in"', '"-1 in"', '"1e9 in"', '"999999 ft"', '"1/0 in"', '"1/32 in"',
    '"3 in in"', "0", "-1", "1e400", "nan", "inf", "true", "[]", "{}", '["1 in"]',
    '"x"', '"\\u0000"', '"\\u202e"', '"%%c"', '"{\\\\fX;}"', '"^J"', '"../.."',
    '"=1+1"', "2026-02-30", "2026-03-02", "1979-05-27T07:32:00Z", '"1 mm"', '"2000 mm"',
    '"26 1/4"', '"soldier"', '"top"', '"gap"', '"third"', '"jack arch"', '"ARCH Z"',
    '"' + "w" * 5000 + '"', "9" * 400, '"9"',
)  # fmt: skip
"""What a value is replaced with: nonsense, extremes, and what is right elsewhere."""


def damaged(text: str, chance: random.Random) -> bytes:
    """Return a job file's text with one to three things done to it."""
    data = text.encode()
    for _ in range(chance.randint(1, 3)):
        data = chance.choice((_bytes, _lines, _values, _values, _numbers))(data, chance)
    return data


def _bytes(data: bytes, chance: random.Random) -> bytes:
    """Change, drop or put in a few bytes anywhere."""
    at = chance.randrange(len(data) + 1)
    new = bytes(chance.randrange(256) for _ in range(chance.randint(0, 3)))
    return data[:at] + new + data[at + chance.randint(0, 3) :]


def _lines(data: bytes, chance: random.Random) -> bytes:
    """Drop a line, double it, or move it elsewhere."""
    lines = data.split(b"\n")
    line = lines[chance.randrange(len(lines))]
    done = chance.choice(("drop", "double", "move"))
    if done != "double":
        lines.remove(line)
    if done != "drop":
        lines.insert(chance.randrange(len(lines) + 1), line)
    return b"\n".join(lines)


def _values(data: bytes, chance: random.Random) -> bytes:
    """Put another value in a key's place."""
    places = list(re.finditer(rb"= *([^\n#]+)", data))
    if not places:
        return data
    start, end = chance.choice(places).span(1)
    return data[:start] + chance.choice(VALUES).encode() + data[end:]


def _numbers(data: bytes, chance: random.Random) -> bytes:
    """Put another number in a number's place."""
    places = list(re.finditer(rb"\d+", data))
    if not places:
        return data
    start, end = chance.choice(places).span()
    new = str(chance.choice((0, 1, 2, 3, 7, 11, 64, 1000, 10**6, 10**12)))
    return data[:start] + new.encode() + data[end:]
