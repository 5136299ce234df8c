"""Read a page that was written, and hold it against what it must say.

In:  bytes of a page; the digest, and every piece's ID and mark.   Out: differences.
Frame: none.

It is read as a browser reads it, by the standard library's parser, and knows nothing of
how the page is laid out but this: a card is an `article` whose `id` is the piece's and
whose `data-mark` is its mark, and its heading says both; the body has the digest.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

HEAD = "h4"
"""The element that a card's heading is."""


@dataclass(eq=False)
class ReadPage:
    """What was found on a page.

    Attributes:
        digest: of the job file; None where the page does not say.
        cards: the mark of each card, by its ID; None where it is said twice.
        heads: what the heading of each card says.
        words: what each card says.
        ids: every `id`, and how often.
        leads: the IDs that links lead to.
    """

    digest: str | None = None
    cards: dict[str, str] = field(default_factory=dict)
    heads: dict[str, str] = field(default_factory=dict)
    words: dict[str, str] = field(default_factory=dict)
    ids: Counter[str] = field(default_factory=Counter)
    leads: set[str] = field(default_factory=set)


class _Reader(HTMLParser):
    """Gathers the cards, the links and the digest."""

    def __init__(self) -> None:
        super().__init__()
        self.found = ReadPage()
        self._card, self._is_head = "", False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take up an element's IDs; a card begins with its article."""
        given = dict(attrs)
        name = given.get("id")
        if name is not None:
            self.found.ids[name] += 1
        if tag == "body":
            self.found.digest = given.get("data-digest")
        if tag == "a" and (href := given.get("href") or "").startswith("#"):
            self.found.leads.add(href[1:])
        self._is_head = self._is_head or tag == HEAD
        if tag == "article" and name is not None and "data-mark" in given:
            self._card = name
            self.found.cards[name] = given["data-mark"] or ""

    def handle_endtag(self, tag: str) -> None:
        """End a card with its article."""
        self._is_head = self._is_head and tag != HEAD
        if tag == "article":
            self._card = ""

    def handle_data(self, data: str) -> None:
        """Take up what a card says."""
        if self._card:
            said = self.found.words.get(self._card, "")
            self.found.words[self._card] = f"{said} {data}"
        if self._card and self._is_head:
            said = self.found.heads.get(self._card, "")
            self.found.heads[self._card] = f"{said} {data}"


def read_page(data: bytes) -> ReadPage:
    """Read a page."""
    reader = _Reader()
    reader.feed(data.decode("utf-8"))
    reader.close()
    return reader.found


def compare_page(
    data: bytes, digest: str, pieces: tuple[tuple[str, str], ...]
) -> Iterator[str]:
    """Yield how a page differs from what it must say.

    Args:
        data: the page's bytes.
        digest: of the job file.
        pieces: each one's ID and mark.
    """
    found = read_page(data)
    if found.digest != digest:
        yield f"page.html: the digest is {found.digest!r}, not {digest!r}"
    for name, mark in pieces:
        yield from (f"page.html: {name}: {x}" for x in _amiss(found, name, mark))
    for name in sorted(found.cards.keys() - {name for name, _ in pieces}):
        yield f"page.html: {name}: has a card, and is no piece"
    for name, count in found.ids.items():
        if count > 1:
            yield f"page.html: {name}: {count} elements have this name"
    for name in sorted(found.leads - found.ids.keys()):
        yield f"page.html: a link leads to {name}, which is not there"


def _amiss(found: ReadPage, name: str, mark: str) -> Iterator[str]:
    """Yield what is wrong with one piece's card."""
    if found.cards.get(name) != mark:
        yield f"its card has {found.cards.get(name)}, not {mark}"
    head = found.heads.get(name, "").split()
    if head != [mark, name]:
        yield f"its card is headed {' '.join(head)!r}"
    if name not in found.leads:
        yield "nothing leads to its card"
