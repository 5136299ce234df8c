"""Lay out the page that follows a job file as it is typed: its drawing, its faults.

In:  `Glance`, `Sheet`, `Item`s.   Out: bytes, UTF-8.
Frame: see `svg`.

It is whole without its script, which only asks for the next one and puts it in place.
Its policy lets it run that one script and ask the place that it came from.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from shopdraw.drawing.page import Glance, PageItem
from shopdraw.drawing.sheets import Sheet
from shopdraw.output import svg
from shopdraw.output.markup import Html, join, say, tag
from shopdraw.output.page_lists import draw_facts
from shopdraw.output.policy import packaged, policy

PAGE = "/page.html"
ENDED = "shopdraw has ended, or does not answer: this is the last drawing."
DRAWN = "Drawn from the file as it was saved last."
OLD = "This drawing is of an earlier save, the last that could be drawn."
NONE = "Nothing is drawn yet."


@dataclass(frozen=True)
class Followed:
    """What is known of a job file at one save.

    Attributes:
        name: of the file.
        drawn: what is told of the job and its elevation, of this save or the last one
            that could be drawn; None before the first.
        trouble: why this save is not drawn, in a sentence; empty where it is.
        items: each fault.
    """

    name: str
    drawn: tuple[Glance, Sheet] | None = None
    trouble: str = ""
    items: tuple[PageItem, ...] = field(default=())


def write_follow(followed: Followed, number: str) -> bytes:
    """Lay out what is followed.

    Args:
        followed: what is known.
        number: of what is shown; another one stands for something else.
    """
    style = Html(packaged("page.css") + packaged("follow.css"))
    script = Html(packaged("follow.js"))
    allowed = f"{policy(style, script)}; connect-src 'self'"
    head = (
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=allowed),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="color-scheme", content="light dark"),
        tag("title", say(f"{followed.name}, followed")),
        tag("link", rel="icon", href="data:,"),
        tag("style", style),
    )
    state = f"{followed.name}: {followed.trouble or DRAWN}"
    body = (
        tag("header", tag("p", say(state), id="state", role="status"), class_="top"),
        tag("main", _live(followed)),
        tag("script", script),
    )
    whole = tag(
        "html",
        tag("head", *head),
        tag("body", *body, data_number=number, data_ended=ENDED),
        lang="en",
    )
    return f"<!DOCTYPE html>\n{whole}\n".encode()


def _live(followed: Followed) -> Html:
    """Return what is put in place at each save."""
    faults = (_item(item, "h3") for item in followed.items)
    parts = [tag("section", *faults, class_="warn")] if followed.items else []
    if followed.drawn is None:
        parts.append(tag("p", say(NONE), class_="told"))
    else:
        glance, front = followed.drawn
        parts.append(tag("h1", say(glance.title)))
        parts.append(_view(front, is_old=bool(followed.trouble)))
        parts += _glance(glance)
        link = tag("a", say("All that the page for a phone says of it"), href=PAGE)
        parts.append(tag("p", link))
    return tag("div", *parts, id="live")


def _view(front: Sheet, *, is_old: bool) -> Html:
    """Return the elevation; an old one is grey and says so."""
    frame = svg.frame_of(front)
    box = svg.widened((0.0, 0.0, front.width, front.height), front.lengths)
    picture = tag(
        "svg",
        Html(svg.draw(front, frame)),
        viewBox=svg.view_box(frame, box),
        role="img",
        aria_label=front.title,
        class_="whole",
    )
    said = f"{front.title}. {OLD if is_old else ''}".strip()
    caption = tag("figcaption", say(said))
    return tag("figure", caption, picture, class_="view old" if is_old else "view")


def _glance(glance: Glance) -> list[Html]:
    stamps = (tag("p", tag("strong", say(x)), class_="warn") for x in glance.stamps)
    landed = (_item(item, "h3") for item in glance.landed)
    parts = [*stamps, tag("h2", say("Where it lands")), *landed]
    for each in glance.lists:
        rows = (tag("li", _item(item, "h3")) for item in each.items)
        listed = tag("ul", *rows, class_="items")
        parts += [tag("h2", say(each.title)), tag("p", say(each.says)), listed]
    return parts


def _item(item: PageItem, heading: str) -> Html:
    says = [tag("p", say(item.says))] if item.says else []
    source = [tag("p", say(f"Source: {item.source}"))] if item.source else []
    return join((tag(heading, say(item.title)), draw_facts(item.facts), *says, *source))
