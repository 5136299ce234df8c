"""Lay out the index of many sets: each with its picture, and how it stands.

In:  `Listing`s.   Out: bytes, UTF-8.
Frame: none.

It needs no script, and its policy lets it load nothing but the pictures beside it. It
carries a digest of itself, so that the next run knows whether somebody has changed it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from urllib.parse import quote

from shopdraw.drawing.page import Glance, PageItem
from shopdraw.output.markup import Html, join, say, tag
from shopdraw.output.page_lists import draw_facts
from shopdraw.output.policy import packaged, style_only

NAME = "index.html"
OPEN = '<meta name="digest" content="'
BLANK = "0" * 64
_SEAL = re.compile(rf"{OPEN}([0-9a-f]{{64}})".encode())
STALE = (
    "This is what one run drew. A set that was drawn again since has other first signs "
    "on its page."
)


@dataclass(frozen=True)
class Listing:
    """One job of many, and what became of it.

    Attributes:
        name: the job file, as it was typed.
        folder: of its set, beside the index.
        glance: what is told of it; None where it was not drawn.
        page, picture: their paths in the folder; empty where there is none.
        says: why it was not drawn, a line for each fault.
    """

    name: str
    folder: str
    glance: Glance | None = None
    page: str = ""
    picture: str = ""
    says: tuple[str, ...] = ()


def write_index(listings: tuple[Listing, ...]) -> bytes:
    """Lay the index out, jobs in the order in which they were named."""
    style = Html(packaged("page.css") + packaged("index.css"))
    allowed = f"{style_only(style)}; img-src 'self' file:"
    head = (
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=allowed),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="color-scheme", content="light dark"),
        tag("meta", name="digest", content=BLANK),
        tag("title", say(f"{len(listings)} jobs")),
        tag("style", style),
    )
    main = (
        tag("h1", say(f"{len(listings)} jobs")),
        tag("p", say(STALE)),
        *(_set(each) for each in listings),
    )
    body = tag("body", tag("main", *main))
    whole = f"<!DOCTYPE html>\n{tag('html', tag('head', *head), body, lang='en')}\n"
    return whole.replace(BLANK, sha256(whole.encode()).hexdigest(), 1).encode()


def is_unchanged(data: bytes) -> bool:
    """Whether these bytes are an index as it was written."""
    found = _SEAL.search(data)
    if found is None:
        return False
    bare = data[: found.start(1)] + BLANK.encode() + data[found.end(1) :]
    return sha256(bare).hexdigest().encode() == found[1]


def _set(each: Listing) -> Html:
    parts = tuple(_parts(each))
    return tag("article", *parts, class_="set")


def _parts(each: Listing) -> Iterator[Html]:
    glance = each.glance
    if glance is None:
        yield tag("h2", say(f"{each.name}: not drawn"))
        yield from (tag("p", say(line), class_="warn") for line in each.says)
        return
    yield tag("h2", say(glance.title))
    where = f"./{quote(each.folder)}/"
    if each.picture:
        said = f"{glance.title}, the picture"
        yield tag("img", src=where + quote(each.picture), alt=said, loading="lazy")
    told = f"{each.name}, {glance.mark}, revision {glance.revision or 'none'}"
    yield tag("p", say(told), class_="digest")
    if each.page:
        yield tag("p", tag("a", say("Open its page"), href=where + quote(each.page)))
    yield from (
        tag("p", tag("strong", say(words)), class_="warn") for words in glance.stamps
    )
    yield tag("h3", say("Where it lands"))
    rows = (
        tag("li", tag("b", say(x.title)), draw_facts(x.facts)) for x in glance.landed
    )
    yield tag("ul", *rows, class_="landed")
    for found in glance.lists:
        listed = tag("ul", *(_row(item) for item in found.items), class_="items")
        yield tag("h3", say(found.title))
        yield join((tag("p", say(found.says)) if found.says else say(""), listed))


def _row(item: PageItem) -> Html:
    return tag("li", tag("b", say(item.title)), draw_facts(item.facts))
