"""Write HTML: each element by one function, everything that is said escaped.

In:  words, attributes.   Out: `Html`, which is text that is markup already.
Frame: none.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from html import escape
from typing import NewType

Html = NewType("Html", str)
"""Markup: what is put into it has been escaped."""
EMPTY = ("input", "meta", "link", "br", "img")
"""Elements that have no end."""
IN_FIGURE = re.compile(r"(?<=\d) (?=\d+/\d)")
TIED = "\u00a0"
"""Stands in a figure where a line must not be broken: `2 1/4` would be misread."""


def say(words: str) -> Html:
    """Return words as they are read, whatever signs they hold; figures stay whole."""
    return Html(IN_FIGURE.sub(TIED, escape(words, quote=False)))


def tag(name: str, /, *inside: Html, **attributes: str | bool | None) -> Html:
    """Return an element.

    Args:
        name: of the element.
        inside: what it holds.
        attributes: by name, a low line for a hyphen, one at the end left off; True
            stands for one without a value, False and None leave it out.
    """
    given = "".join(
        _given(key.rstrip("_").replace("_", "-"), value)
        for key, value in attributes.items()
    )
    if name in EMPTY:
        return Html(f"<{name}{given}>")
    return Html(f"<{name}{given}>{''.join(inside)}</{name}>")


def _given(name: str, value: str | bool | None) -> str:
    if value is None or value is False:
        return ""
    if value is True:
        return f" {name}"
    # Between double marks single ones are signs like any other.
    said = escape(value, quote=False).replace('"', "&quot;")
    return f' {name}="{said}"'


def join(parts: Iterable[Html]) -> Html:
    """Return parts one after another."""
    return Html("".join(parts))
