"""Write HTML: each element by one function, everything that is said escaped.

In:  words, attributes.   Out: `Html`, which is text that is markup already.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import NewType

Html = NewType("Html", str)
"""Markup: what is put into it has been escaped."""
EMPTY = ("input", "meta", "link", "br")
"""Elements that have no end."""


def say(words: str) -> Html:
    """Return words as they are read, whatever signs they hold."""
    return Html(escape(words))


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
    return f" {name}" if value is True else f' {name}="{escape(value)}"'


def join(parts: Iterable[Html]) -> Html:
    """Return parts one after another."""
    return Html("".join(parts))
