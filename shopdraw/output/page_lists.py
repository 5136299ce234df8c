"""Lay out what is read on the page: facts, cautions, lists, tables, notes.

In:  `Page` and what it holds.   Out: `Html`.
Frame: none.
"""

from __future__ import annotations

from shopdraw.drawing.page import Fact, Page, PageItem, TickList
from shopdraw.drawing.tables import Table
from shopdraw.output.markup import Html, join, say, tag

WARNS = {"failed"}
"""The lists that are set off."""


def draw_facts(facts: tuple[Fact, ...]) -> Html:
    """Return facts beside one another, each with its name before it."""
    if not facts:
        return say("")
    return tag("dl", *(tag("div", _pair(fact)) for fact in facts), class_="row")


def facts_of(facts: tuple[Fact, ...]) -> Html:
    """Return facts one after another, each with its name before it."""
    return join(_pair(fact) for fact in facts)


def _pair(fact: Fact) -> Html:
    name, words = fact
    return join((tag("dt", say(name)), tag("dd", say(words))))


def tick(key: str, *inside: Html, says: str | None = None) -> Html:
    """Return a box to tick, with its label; `key` names it where ticks are kept."""
    box = tag("input", type="checkbox", data_tick=key, aria_label=says)
    return tag("label", box, *inside, class_="tick")


def draw_cautions(page: Page) -> Html:
    """Return the cautions, never folded."""
    rows = (
        tag("li", tag("b", say(topic)), say(f": {words}"))
        for topic, words in page.cautions
    )
    return tag(
        "section",
        tag("h2", say("Cautions"), id="cautions"),
        tag("ul", *rows, class_="cautions"),
        aria_labelledby="cautions",
    )


def draw_lists(page: Page) -> Html:
    """Return every list, after links to each of them."""
    links = (
        tag("li", tag("a", say(each.title), href=f"#list-{each.name}"))
        for each in page.lists
    )
    return tag(
        "section",
        tag("h2", say("Lists"), id="lists"),
        tag("ul", *links, class_="links"),
        *(_listed(each) for each in page.lists),
        aria_labelledby="lists",
    )


def _listed(each: TickList) -> Html:
    name = f"list-{each.name}"
    items = (
        _item(item, f"{each.name}/{place}" if each.is_ticked else "")
        for place, item in enumerate(each.items)
    )
    return tag(
        "section",
        tag("h3", say(each.title), id=name),
        tag("p", say(each.says)) if each.says else say(""),
        tag("ul", *items, class_="items"),
        class_="warn" if each.name in WARNS else None,
        aria_labelledby=name,
    )


def _item(item: PageItem, key: str) -> Html:
    title = tag("b", say(item.title))
    return tag(
        "li",
        tick(key, tag("span", title)) if key else tag("p", title),
        draw_facts(item.facts),
        tag("p", say(item.says)) if item.says else say(""),
        tag("p", say(f"Source: {item.source}"), class_="source")
        if item.source
        else say(""),
    )


def draw_notes(page: Page) -> Html:
    """Return the notes, and the tables that are read in columns."""
    return tag(
        "section",
        tag("h2", say("Notes"), id="notes"),
        tag("ol", *(tag("li", say(words)) for words in page.notes)),
        join(_table(table) for table in page.tables),
        aria_labelledby="notes",
    )


def _table(table: Table) -> Html:
    heads = (tag("th", say(x.head.lower()), scope="col") for x in table.columns)
    rows = (tag("tr", *(tag("td", say(cell)) for cell in row)) for row in table.rows)
    title = table.title.lower()
    return tag(
        "div",
        tag(
            "table",
            tag("caption", say(title)),
            tag("thead", tag("tr", *heads)),
            tag("tbody", *rows),
        ),
        class_="wide",
        tabindex="0",
        role="region",
        aria_label=title,
    )
