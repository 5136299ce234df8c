"""Lay the page for a phone out: one file of plain HTML that needs nothing else.

In:  `Page`, the set's sheets and file names.   Out: bytes, UTF-8.
Frame: see `svg` for the drawings.

It is complete without its script, which adds tapping and ticks that are kept.
Everything that is said is escaped (`markup`), and the page's own policy lets it run the
one script and the one style sheet whose digests it names, and load nothing.
"""

from __future__ import annotations

from shopdraw.drawing.page import Page
from shopdraw.drawing.sheets import Sheet
from shopdraw.output.markup import Html, join, say, tag
from shopdraw.output.page_drawings import draw_sheets, draw_views
from shopdraw.output.page_lists import draw_cautions, draw_facts, draw_lists, draw_notes
from shopdraw.output.page_steps import draw_makes, draw_steps
from shopdraw.output.policy import packaged, policy

FIRST = 4
"""So many signs of the digest are compared with those on the paper beside the work."""
COMPARE = (
    "Compare with the first four signs on the pole: if they differ, this page or the "
    "pole is of another job file. A page can't know that it is out of date."
)
KEPT = "Ticks will not be kept: they are gone when this page is closed."
"""What is true without the script; where it can keep them, the script says so."""
FOLDER = (
    "These lie beside this page in the set's folder; the links work only where the "
    "whole folder is."
)


def write_page(page: Page, sheets: tuple[Sheet, ...], files: tuple[str, ...]) -> bytes:
    """Lay a page out.

    Args:
        page: what it says.
        sheets: the set's, to be shown when they are asked for; the picture among them.
        files: the names of the set's other files, to link to.
    """
    style, script = Html(packaged("page.css")), Html(packaged("page.js"))
    head = (
        tag("meta", charset="utf-8"),
        tag(
            "meta", http_equiv="Content-Security-Policy", content=policy(style, script)
        ),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="color-scheme", content="light dark"),
        tag("meta", name="generator", content=page.drawn_from),
        tag("title", say(f"{page.title}, {page.mark}")),
        tag("link", rel="icon", href="data:,"),
        tag("style", style),
    )
    body = (
        *_top(page, bool(sheets)),
        _main(page, sheets, files),
        tag("script", script),
    )
    whole = tag(
        "html",
        tag("head", *head),
        tag("body", *body, data_digest=page.digest),
        lang="en",
    )
    return f"<!DOCTYPE html>\n{whole}\n".encode()


def _top(page: Page, has_sheets: bool) -> tuple[Html, ...]:
    """Return what stays in sight: the job, which file it is of, where to go."""
    links = [
        ("#views", "Face"),
        ("#steps", page.steps_title),
        *(
            (f"#list-{each.name}", "Find out")
            for each in page.lists
            if each.name == "find-out"
        ),
        ("#lists", "Lists"),
        *([("#sheets", "Picture")] if has_sheets else []),
    ]
    return (
        tag("a", say("Skip to the page"), class_="skip", href="#main"),
        tag(
            "header",
            tag(
                "p", tag("b", say(page.title)), say(" "), *_stamp(page), class_="stamp"
            ),
            tag(
                "nav",
                *(tag("a", say(words), href=where) for where, words in links),
                aria_label="Parts of this page",
            ),
            class_="top",
        ),
    )


def _stamp(page: Page) -> tuple[Html, ...]:
    """Return the digest with its first signs set off, and the revision."""
    mark = page.mark
    return (
        tag("b", say(mark[:FIRST]), class_="signs"),
        tag("span", say(mark[FIRST:]), class_="digest"),
        tag("span", say(f", revision {page.revision or 'none'}")),
    )


def _main(page: Page, sheets: tuple[Sheet, ...], files: tuple[str, ...]) -> Html:
    return tag(
        "main",
        _start(page),
        draw_cautions(page),
        draw_views(page),
        draw_steps(page),
        draw_makes(page),
        draw_lists(page),
        draw_notes(page),
        draw_sheets(page, sheets) if sheets else say(""),
        _files(files) if files else say(""),
        id="main",
    )


def _start(page: Page) -> Html:
    """Return what the job is, which file it is of, and how it stands."""
    return tag(
        "section",
        tag("h1", say(page.title), id="start"),
        draw_facts(page.about),
        tag(
            "p",
            say("Job file "),
            *_stamp(page),
            say(f". {COMPARE}"),
            class_="compare",
        ),
        join(tag("p", tag("strong", say(x)), class_="warn") for x in page.stamps),
        tag("h2", say("Where it lands")),
        tag(
            "ul",
            *(
                tag("li", tag("b", say(each.title)), draw_facts(each.facts))
                for each in page.landed
            ),
            class_="landed",
        ),
        tag("p", say(KEPT), id="kept", role="status"),
        aria_labelledby="start",
    )


def _files(files: tuple[str, ...]) -> Html:
    """Return links to the files beside it."""
    links = (tag("li", tag("a", say(name), href=name)) for name in files)
    return tag(
        "section",
        tag("h2", say("Files of this set"), id="files"),
        tag("p", say(FOLDER)),
        tag("ul", *links, class_="links"),
        aria_labelledby="files",
    )
