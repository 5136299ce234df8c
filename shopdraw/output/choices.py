"""Write what there is to choose from: pages, a page for a screen, photographs.

In:  `Choices`, the folder they go to.   Out: files; `Written`.
Frame: see each writer.

The page for a screen has no script, and everything it shows is in it.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator, Mapping
from html.parser import HTMLParser
from pathlib import Path

from shopdraw.drawing.choices import Choice, Choices
from shopdraw.errors import NotProved
from shopdraw.output.manifest import NAME, list_files
from shopdraw.output.markup import Html, join, say, tag
from shopdraw.output.page_drawings import draw_small
from shopdraw.output.page_lists import draw_facts, facts_of
from shopdraw.output.policy import packaged, style_only
from shopdraw.output.publish import publish
from shopdraw.output.write import Written

PAGE, PAPER = "options.html", "options.pdf"


def write_choices(choices: Choices, folder: Path) -> Written:
    """Write all that is to be chosen from, or leave what was there and say why.

    Args:
        choices: all of it.
        folder: where it goes; it replaces what an earlier run wrote there.

    Raises:
        NotProved: the page does not say what it must, or a photograph says more.
        NotPublished: the folder can't be written.
    """
    files = make_files(choices)

    def prove(written: Mapping[str, bytes]) -> None:
        if amiss := tuple(differences(choices, written)):
            raise NotProved(amiss)

    manifest = list_files(files, choices.drawn_from)
    settled = publish(files, folder, manifest, prove=prove)
    return Written(tuple(sorted((*files, NAME))), settled)


def make_files(choices: Choices) -> dict[str, bytes]:
    """Make every file in memory, by name."""
    from shopdraw.output.pdf import write_pdf

    says = choices.drawn_from.words_in_photo
    shown: dict[int, bytes] = {}
    for place, choice in enumerate(choices.choices):
        if choice.montage is not None:
            from shopdraw.output.photo import write_montage

            shown[place] = write_montage(choice.montage, says)
    files = {photo_name(place): data for place, data in shown.items()}
    files[PAPER] = write_pdf(
        tuple(page.sheet for page in choices.pages),
        choices.title,
        choices.dated,
        says,
        {
            page.sheet.number: tuple((box, shown[at]) for box, at in page.montages)
            for page in choices.pages
        },
    )
    files[PAGE] = write_page(choices, shown)
    return dict(sorted(files.items()))


def photo_name(place: int) -> str:
    """Return the name of a photograph with what is laid into it, from its place."""
    return f"room-{place + 1}.jpg"


def write_page(choices: Choices, shown: Mapping[int, bytes]) -> bytes:
    """Lay the page for a screen out.

    Args:
        choices: what it says.
        shown: the photographs, by the places of what is laid into them.
    """
    style = Html(packaged("page.css") + packaged("options.css"))
    head = (
        tag("meta", charset="utf-8"),
        tag(
            "meta",
            http_equiv="Content-Security-Policy",
            content=f"{style_only(style)}; img-src data:",
        ),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="color-scheme", content="light dark"),
        tag("meta", name="generator", content=choices.drawn_from.words_in_photo),
        tag("title", say(f"{choices.title}, options")),
        tag("link", rel="icon", href="data:,"),
        tag("style", style),
    )
    articles = (
        _choice(choices, place, choice, shown.get(place))
        for place, choice in enumerate(choices.choices)
    )
    main = tag(
        "main",
        tag("h1", say(f"{choices.title}: options")),
        draw_facts(choices.about),
        join(tag("p", say(words)) for words in choices.says),
        tag("div", *articles, class_="choices"),
        tag("p", say(choices.drawn_from.words_in_photo), class_="digest"),
    )
    digest = choices.drawn_from.job_file
    body = tag("body", main, data_digest=digest)
    whole = tag("html", tag("head", *head), body, lang="en")
    return f"<!DOCTYPE html>\n{whole}\n".encode()


def _choice(choices: Choices, place: int, choice: Choice, shown: bytes | None) -> Html:
    title = f"{choice.name}, the picture"
    parts = [
        tag("h2", say(choice.name), id=f"option-{place + 1}"),
        draw_small(choice.picture, choices.lengths, title, "picture"),
    ]
    if shown is not None:
        where = f"data:image/jpeg;base64,{b64encode(shown).decode()}"
        parts.append(tag("img", src=where, alt=f"{choice.name}, in the photograph"))
    rows = (tag("div", facts_of((fact,))) for fact in choice.facts)
    parts.append(tag("dl", *rows))
    parts += (tag("p", tag("strong", say(x)), class_="warn") for x in choice.warns)
    return tag(
        "article", *parts, class_="choice", aria_labelledby=f"option-{place + 1}"
    )


class _Reader(HTMLParser):
    """Gathers what each article says, and the digest."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[str] = []
        self.digest: str | None = None
        self._is_in = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Begin an article; take the digest up."""
        if tag == "body":
            self.digest = dict(attrs).get("data-digest")
        if tag == "article":
            self.said.append("")
            self._is_in = True

    def handle_endtag(self, tag: str) -> None:
        """End an article."""
        self._is_in = self._is_in and tag != "article"

    def handle_data(self, data: str) -> None:
        """Take up what an article says."""
        if self._is_in:
            self.said[-1] += f" {data}"


def differences(choices: Choices, files: Mapping[str, bytes]) -> Iterator[str]:
    """Yield how files that were written differ from what they must hold."""
    from shopdraw.output.photo import metadata_in

    reader = _Reader()
    reader.feed(files[PAGE].decode("utf-8"))
    reader.close()
    digest = choices.drawn_from.job_file
    if reader.digest != digest:
        yield f"{PAGE}: the digest is {reader.digest!r}, not {digest!r}"
    if len(reader.said) != len(choices.choices):
        yield f"{PAGE}: {len(reader.said)} options, not {len(choices.choices)}"
    for choice, said in zip(choices.choices, reader.said, strict=False):
        read = _plain(said)
        facts = (f"{name} {words}" for name, words in choice.facts)
        for words in (choice.name, *facts, *choice.warns):
            if _plain(words) not in read:
                yield f"{PAGE}: {choice.name}: does not say {words!r}"
    for name, data in files.items():
        if name.endswith(".jpg"):
            yield from (f"{name}: still says {x}" for x in metadata_in(data))


def _plain(words: str) -> str:
    return " ".join(words.split())
