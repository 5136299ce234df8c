"""Lay out the work step by step: its pieces in order, a card of each, how each is made.

In:  `Page` and what it holds.   Out: `Html`.
Frame: see `svg` for the drawings.
"""

from __future__ import annotations

from itertools import pairwise

from shopdraw.drawing.page import Card, Due, Fact, Make, Page, PageStep, PieceRun, Place
from shopdraw.lengths import Lengths
from shopdraw.output.markup import Html, join, say, tag
from shopdraw.output.page_drawings import draw_small
from shopdraw.output.page_lists import draw_facts, facts_of, tick

STRIP_SAYS = "Unrolled, from left to right: {}. Where an edge is thick, it goes on."


def draw_steps(page: Page) -> Html:
    """Return every step, in order, with what is left of each kind before them."""
    steps = page.steps
    before = [None, *steps[:-1]]
    after = [*(one for _, one in pairwise(steps)), None]
    every = zip(steps, before, after, strict=True)
    return tag(
        "section",
        tag("h2", say(page.steps_title), id="steps"),
        _jumps(page),
        tag("p", say(page.steps_say)),
        _left(page),
        *(_step(page, *trio) for trio in every),
        aria_labelledby="steps",
    )


def _jumps(page: Page) -> Html:
    """Return a link to each step, to be hit with a thumb."""
    links = (
        tag("a", say(step.name.replace("-", " ")), href=f"#step-{step.name}")
        for step in page.steps
    )
    return tag(
        "nav", *links, aria_label=f"{page.steps_title}, one by one", class_="jumps"
    )


def _left(page: Page) -> Html:
    """Return how many of each kind there are; the script counts what is left."""
    rows = (
        tag(
            "tr",
            tag("th", tag("a", say(each.mark), href=f"#mark-{each.mark}"), scope="row"),
            tag("td", say(each.title)),
            tag("td", say(str(each.count))),
            tag("td", say("-"), data_left=each.mark),
        )
        for each in page.makes
    )
    heads = ("mark", "what it is", "in all", "left")
    return tag(
        "div",
        tag(
            "table",
            tag("caption", say("What is left to lay, by mark")),
            tag("thead", tag("tr", *(tag("th", say(x), scope="col") for x in heads))),
            tag("tbody", *rows),
        ),
        class_="wide",
        tabindex="0",
        role="region",
        aria_label="What is left to lay, by mark",
    )


def _step(
    page: Page, step: PageStep, before: PageStep | None, after: PageStep | None
) -> Html:
    name = f"step-{step.name}"
    count = len(step.cards)
    shared = _shared(step.cards)
    return tag(
        "section",
        tag("h3", say(step.title), id=name, tabindex="-1"),
        draw_facts(step.facts),
        _dues(step, is_before=True),
        _strip(step, page.lengths),
        *(_run(run, step) for run in step.runs),
        _dues(step, is_before=False),
        tag(
            "details",
            tag("summary", say(f"Cards of its {count} pieces")),
            tag("dl", facts_of(shared), class_="shared") if shared else say(""),
            *(_card(card, shared) for card in step.cards),
        ),
        tag(
            "nav",
            tick(f"all/{step.name}", say("all laid")),
            _way(before, "Before: "),
            _way(after, "Next: "),
            aria_label=f"{step.title}: before and next",
            class_="ways",
        ),
        class_="step",
        data_step=step.name,
        aria_labelledby=name,
    )


def _way(step: PageStep | None, says: str) -> Html:
    if step is None:
        return tag("span")
    return tag("a", say(f"{says}{step.title}"), href=f"#step-{step.name}")


def _dues(step: PageStep, *, is_before: bool) -> Html:
    rows = [_due(due) for due in step.due if due.is_before == is_before]
    return tag("ul", *rows, class_="due") if rows else say("")


def _due(due: Due) -> Html:
    return tag(
        "li",
        say(due.words),
        tag("code", say(due.command)) if due.command else say(""),
        tag("span", say(f" Source: {due.source}."), class_="source")
        if due.source
        else say(""),
    )


def _strip(step: PageStep, lengths: Lengths) -> Html:
    if step.strip is None:
        return say("")
    title = f"{step.title}, drawn"
    names = ", ".join(run.title.partition(",")[0] for run in step.runs)
    return tag(
        "figure",
        tag(
            "div",
            draw_small(step.strip, lengths, title, class_="strip"),
            class_="wide",
            tabindex="0",
            role="region",
            aria_label=title,
        ),
        tag("figcaption", say(STRIP_SAYS.format(names))),
        class_="unrolled",
    )


def _run(run: PieceRun, step: PageStep) -> Html:
    own = {card.id for card in step.cards}
    rows = []
    for place in run.places:
        box = say("")
        if place.card in own and not place.name.startswith("("):
            box = tick(place.card, says=f"{place.card}, {place.name}, laid")
        row = (
            tag(
                "a",
                tag("b", say(place.name)),
                say(" "),
                tag("span", say(place.card)),
                href=f"#{place.card}",
            ),
            tag("span", say(_reach(place)), class_="reach"),
            tag("span", say(place.then), class_="then") if place.then else say(""),
        )
        rows.append(tag("li", box, *row))
    first = tag("li", tag("span", say(run.starts), class_="then"))
    before = first if run.starts else say("")
    return join((tag("h4", say(run.title)), tag("ol", before, *rows, class_="run")))


def _reach(place: Place) -> str:
    return f"{place.reach}; {place.says}" if place.says else place.reach


def _shared(cards: tuple[Card, ...]) -> tuple[Fact, ...]:
    """Return the facts that each of several cards has: they are said once for all."""
    first, others = cards[0].facts, cards[1:]
    return tuple(x for x in first if others and all(x in y.facts for y in others))


def _card(card: Card, shared: tuple[Fact, ...]) -> Html:
    """Return a card, without what is said once for all cards of its step."""
    own = tuple(fact for fact in card.facts if fact not in shared)
    beside = (
        tag("a", say(f"{way}: {other}"), href=f"#{other}") for way, other in card.beside
    )
    return tag(
        "article",
        tag(
            "h4",
            tag("a", say(card.mark), href=f"#mark-{card.mark}"),
            say(" "),
            tag("span", say(card.id)),
        ),
        tag("p", say(f"{card.kind}, {card.size}")),
        tag("dl", facts_of(own)),
        tag("p", *beside, class_="beside"),
        id=card.id,
        class_="card",
        data_mark=card.mark,
    )


def draw_makes(page: Page) -> Html:
    """Return every kind of piece, with its sketches."""
    return tag(
        "section",
        tag("h2", say(page.makes_title), id="makes"),
        *(_make(each, page.lengths) for each in page.makes),
        aria_labelledby="makes",
    )


def _make(make: Make, lengths: Lengths) -> Html:
    sketches = (
        draw_small(sketch, lengths, f"{make.mark}, {make.title}: sketch")
        for sketch in make.sketches
    )
    return tag(
        "article",
        tag("h3", tag("b", say(make.mark)), say(f" {make.title}")),
        tag("p", say(f"{make.size}; {make.count} in all")),
        *sketches,
        tag("ul", *(tag("li", say(words)) for words in make.says)),
        id=f"mark-{make.mark}",
        class_="make",
    )
