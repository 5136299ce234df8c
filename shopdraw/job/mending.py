"""Say how to write a line of a job file that is not TOML.

In:  the file's text, and where its parser stopped.   Out: words.
Frame: none; lengths in their own units.

Most such lines have a text or a length whose quotes are curly, missing or doubled, or
an inch mark that ends the text early. There is one way to write what is meant then.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator

from shopdraw.errors import BadLength
from shopdraw.job.lines import stopped_at
from shopdraw.lengths import parse_length, plain_length

LONGEST = 200
"""A longer line is not mended."""
_LINE = re.compile(r"\s*(?P<key>[A-Za-z0-9_.-]+)\s*=\s*(?P<value>.+)")
_QUOTES = "\"'\u201c\u201d\u201e\u2018\u2019\u00ab\u00bb"


def not_toml(text: str, said: str) -> str:
    """Say what is wrong with a job file that is not TOML, and what would do.

    Args:
        text: the job file.
        said: what the parser says, which ends with the place.
    """
    line = stopped_at(text, said)
    mend = mended(text.splitlines()[line - 1]) if line else ""
    if mend:
        return f"is not valid TOML {said[said.rindex('(') :]}; write {mend}"
    wanted = "put each text and each length in quotes, on one line"
    return " ".join(f"is not valid TOML: {said}; {wanted}".split())


def mended(line: str) -> str:
    """Return a line as it may be written; nothing where it is not clear what is meant.

    Args:
        line: a key and its value, as typed.
    """
    found = _LINE.fullmatch(line.strip()) if len(line) <= LONGEST else None
    if found is None or _is_valid(line):
        return ""
    whole = found["value"]
    # What looks like a remark may be part of a text with a sign in it.
    said = whole.partition("#")[0].strip()
    for text in (*_lengths(said), *_lengths(whole), *_texts(said)):
        mend = f'{found["key"]} = "{text}"'
        if _is_valid(mend):
            return mend
    return ""


def _lengths(value: str) -> Iterator[str]:
    """Yield the lengths that may be meant by a value with wrong quotes."""
    inner = value[1:] if value[:1] in _QUOTES else value
    for text in (inner, inner[:-1], value.replace('"', "")):
        try:
            parse_length(text, "in")
        except BadLength:
            continue
        yield plain_length(text)


def _texts(value: str) -> Iterator[str]:
    """Yield the text that may be meant."""
    text = value.strip(_QUOTES)
    if text and not re.search(r'[]"\\[{}]', text):
        yield text


def _is_valid(line: str) -> bool:
    try:
        tomllib.loads(line)
    except ValueError:
        return False
    return True
