"""The page: whole, alike each time, within its policy, legible, and read back."""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Callable
from dataclasses import replace
from hashlib import sha256
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest

from shopdraw.drawing.page import Page
from shopdraw.drawing.set import DrawingSet
from shopdraw.errors import NotProved
from shopdraw.output import write
from shopdraw.output.markup import say, tag
from shopdraw.output.page import packaged, write_page
from shopdraw.output.page_reading import compare_page, read_page
from shopdraw.output.write import PAGE, make_files, write_set
from tests.demos import set_of
from tests.longer import mostly_long_demos
from tests.output.pages import digest_of, drawn_under, other_seed, page_of

MOST = 1_000_000
"""So many bytes, and no more, has the page of a demo."""
HIGH, LOW = 7.0, 3.0
"""The contrast of what is read on site, and of what is only a line or an edge."""
READ = [
    *((ink, paper) for ink in ("ink", "quiet") for paper in ("paper", "card", "due")),
    *(("ink", "warn-paper"), ("quiet", "warn-paper"), ("warn", "warn-paper")),
    *(("link", "paper"), ("link", "card")),
    *((f"pen-{pen}", "paper") for pen in ("cut", "corner", "grey", "other")),
]
EDGES = [("rule", "paper"), ("rule", "card"), ("laid", "paper"), ("pen-pale", "paper")]


def luminance(colour: str) -> float:
    """Return the relative luminance of `#rrggbb`, as WCAG 2 defines it."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    low, high = sorted(luminance(x) for x in (one, other))
    return (high + 0.05) / (low + 0.05)


def palettes(style: str) -> list[dict[str, str]]:
    """Return the colours by day and by night, by their names."""
    by_day, by_night = re.findall(r":root \{(.*?)\}", style, re.DOTALL)
    found = [
        dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", x)) for x in (by_day, by_night)
    ]
    assert found[0].keys() == found[1].keys()
    return found


def too_pale(style: str, pairs: list[tuple[str, str]], least: float) -> list[str]:
    return [
        f"{one} on {other}: {contrast(colours[one], colours[other]):.1f}"
        for colours in palettes(style)
        for one, other in pairs
        if contrast(colours[one], colours[other]) < least
    ]


def test_what_is_read_stands_out_by_day_and_by_night() -> None:
    style = packaged("page.css")
    assert too_pale(style, READ, HIGH) == []
    assert too_pale(style, EDGES, LOW) == []
    assert too_pale(style.replace("--quiet: #4a4a4a", "--quiet: #7a7a7a"), READ, HIGH)
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    named = {name for pair in (*READ, *EDGES) for name in pair}
    assert named == palettes(style)[0].keys()


def test_every_colour_has_a_name() -> None:
    """A colour that is written out where it is used would be the same at night."""
    rules = re.sub(r":root \{.*?\}", "", packaged("page.css"), flags=re.DOTALL)
    assert re.findall(r"#[0-9a-f]{3,8}\b(?=[; ])", rules) == []


# ------------------------------------------------------------------- what it is made of


# The page of most pieces, one in millimetres, one of voussoirs.
most_demos = mostly_long_demos(
    "chimney-breast-gas", "metric-slips", "semicircular-dining-room"
)


@most_demos
def test_a_page_is_small_and_read_back_whole(demo: str) -> None:
    drawn, data = set_of(demo), page_of(demo)
    assert len(data) < MOST
    digest = drawn.drawn_from.job_file
    assert list(compare_page(data, digest, drawn.on_page)) == []
    assert len(drawn.on_page) > 50


def test_the_same_job_gives_the_same_page(library_set: DrawingSet) -> None:
    assert write_page(library_set.page, library_set.sheets, ("set.pdf",)) == (
        write_page(library_set.page, library_set.sheets, ("set.pdf",))
    )


UNLIKE = ("crooked-study", "jack-arch-parlour")
"""Out of true, another bond, an arch, a hearth of brick; all demos: `bench seeds`."""
BY_HASH = (
    "was = make.lists_of\n"
    "make.lists_of = lambda x: sorted(was(x), key=lambda y: hash(y.name))"
)
"""Puts the lists in the order of their names' hashes."""


def test_unlike_pages_are_the_same_bytes_under_another_seed_of_the_hash() -> None:
    assert drawn_under(other_seed(), UNLIKE) == {x: digest_of(x) for x in UNLIKE}


def test_what_hangs_on_the_hash_is_noticed() -> None:
    demo = ("metric-slips",)
    assert drawn_under("1", demo, BY_HASH) != drawn_under("2", demo, BY_HASH)


class Parts(HTMLParser):
    """Gathers the elements of a page, and what its own style and script are."""

    def __init__(self) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.inside: dict[str, str] = {}
        self._in = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        self._in = tag

    def handle_data(self, data: str) -> None:
        if self._in in ("style", "script"):
            self.inside[self._in] = self.inside.get(self._in, "") + data

    def handle_endtag(self, tag: str) -> None:  # noqa: ARG002
        self._in = ""


def parts_of(data: bytes) -> Parts:
    parts = Parts()
    parts.feed(data.decode())
    return parts


def not_allowed(data: bytes) -> list[str]:
    """Name what a page has that its policy would not let be."""
    parts = parts_of(data)
    wrong = []
    for name, given in parts.elements:
        wrong += [f"{name}: {key}" for key in given if key.startswith("on")]
        wrong += [
            f"{name}: {key}" for key in ("style", "src", "action") if key in given
        ]
        for key in ("href", "xlink:href"):
            where = given.get(key) or "#"
            if re.match(r"[a-z+.-]+:|//", where) and where != "data:,":
                wrong.append(f"{name}: {where}")
    (policy,) = (x["content"] or "" for _, x in parts.elements if "http-equiv" in x)
    for name in ("style", "script"):
        digest = b64encode(sha256(parts.inside[name].encode()).digest()).decode()
        if f"{name}-src 'sha256-{digest}'" not in policy:
            wrong.append(f"{name}: its digest is not in the policy")
    if "default-src 'none'" not in policy or "unsafe" in policy:
        wrong.append(policy)
    return wrong


@most_demos
def test_a_page_loads_nothing_and_runs_its_own_script_alone(demo: str) -> None:
    assert not_allowed(page_of(demo)) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"<main", b'<main onclick="x()"'),
        (b"<main", b'<main style="color:red"'),
        (b"<main", b'<img src="x.png"><main'),
        (b"<main", b'<a href="https://example.org/">x</a><main'),
        (b'"use strict";', b'"use strict"; alert(1);'),
        (b":root {", b":root { --x: 1;"),
    ],
)
def test_what_is_not_allowed_is_noticed(old: bytes, new: bytes) -> None:
    data = page_of("library-hearth")
    assert old in data
    assert not_allowed(data.replace(old, new, 1))


def test_cautions_are_never_folded(demo: str) -> None:
    text = page_of(demo).decode()
    found = re.search(r'<ul class="cautions">.*?</ul>', text)
    assert found is not None
    before = text[: found.start()]
    assert before.count("<details") == before.count("</details")
    assert "Dust" in text or "silica" in found.group()


# ------------------------------------------------------------------------- read back

Damage = Callable[[str], str]
DAMAGES: dict[str, Damage] = {
    "no card": lambda x: re.sub(r'<article id="F-07-02".*?</article>', "", x),
    "another mark": lambda x: re.sub(
        r'(<article id="F-07-02"[^>]*data-mark=)"B2"', r'\1"B1"', x
    ),
    "silent": lambda x: x.replace("<span>F-07-02</span></h4>", "</h4>"),
    "a mark unsaid": lambda x: re.sub(
        r'(<article id="F-07-02"[^>]*><h4><a [^>]*>)B2', r"\1", x
    ),
    "no link": lambda x: x.replace('href="#F-07-02"', ""),
    "twice": lambda x: x.replace("<main", '<i id="F-07-02"></i><main'),
    "a stranger": lambda x: x.replace(
        "<main", '<article id="F-99-01" data-mark="B"></article><main'
    ),
    "nowhere": lambda x: x.replace("<main", '<a href="#F-99-01"></a><main'),
    "digest": lambda x: re.sub(r'data-digest="\w', 'data-digest="', x),
}


@pytest.mark.parametrize("damage", DAMAGES.values(), ids=DAMAGES.keys())
def test_a_damaged_page_is_noticed(library_set: DrawingSet, damage: Damage) -> None:
    before = page_of("library-hearth").decode()
    after = damage(before)
    assert after != before
    digest = library_set.drawn_from.job_file
    assert list(compare_page(after.encode(), digest, library_set.on_page))


def test_a_set_with_a_damaged_page_is_not_published(
    tmp_path: Path, library_set: DrawingSet, monkeypatch: pytest.MonkeyPatch
) -> None:
    part = replace(
        library_set.picked(("labels",)),
        page=library_set.page,
        on_page=library_set.on_page,
    )
    monkeypatch.setattr(write, "_html", lambda *_: b"<body data-digest=''>")
    with pytest.raises(NotProved, match="F-07-02: its card has None, not B2"):
        write_set(part, tmp_path / "den")
    assert not (tmp_path / "den").exists()


def test_a_page_is_of_the_set_and_left_out_of_a_part(library_set: DrawingSet) -> None:
    assert PAGE not in make_files(library_set.picked(("labels",)))
    assert PAGE in make_files(library_set.picked(("page",)))
    assert "page" in library_set.names


# ------------------------------------------------------------------------ what is said


def test_the_picture_is_the_first_of_the_sheets_and_is_open(demo: str) -> None:
    # Ink on paper turns over at night; a picture must not.
    sheets = page_of(demo).decode().split('id="sheets"')[1]
    classes = re.findall(r'<svg[^>]* class="(sheet|picture)"', sheets)
    assert classes[:1] == ["picture"]
    assert set(classes[1:]) == {"sheet"}
    folds = re.findall(r"<details[^>]*>", sheets)
    assert [" open" in fold for fold in folds[:2]] == [True, False]


def test_what_is_said_is_escaped() -> None:
    words = """<b onclick="x()">&amp;'</b>"""
    told = tag("p", say(words), title=words)
    parts = parts_of(told.encode())
    assert parts.elements == [("p", {"title": words})]
    assert "<b" not in told


def test_a_figure_is_never_broken_in_two() -> None:
    assert say("2'-3 1/4\" and 5 pieces") == "2'-3\u00a01/4\" and 5 pieces"


def unsaid(page: Page, data: bytes) -> list[str]:
    """Name what neither a card says nor what stands over all cards of its step."""
    found = read_page(data)
    text = data.decode().replace("\u00a0", " ")
    shared = dict(
        re.findall(r'data-step="([^"]*)".*?<dl class="shared">(.*?)</dl>', text)
    )
    missing = []
    for step in page.steps:
        over = unescape(re.sub("<[^>]*>", " ", shared.get(step.name, "")))
        for card in step.cards:
            said = f"{found.words[card.id]} {over}".replace("\u00a0", " ")
            facts = (words for fact in card.facts for words in fact)
            missing += [
                f"{card.id}: {words}"
                for words in (card.kind, card.size, *facts)
                if words not in said
            ]
    return missing


@mostly_long_demos("crooked-study", "raised-hearth", "semicircular-dining-room")
def test_each_card_says_all_with_what_stands_over_all_of_its_step(demo: str) -> None:
    page = set_of(demo).page
    assert page is not None
    data = page_of(demo)
    assert unsaid(page, data) == []
    assert unsaid(page, re.sub(rb'<dl class="shared">.*?</dl>', b"", data))


def test_what_all_pieces_of_a_step_share_is_said_once(library_set: DrawingSet) -> None:
    text = page_of("library-hearth").decode()
    found = dict(re.findall(r'<article id="([^"]*)" class="card"(.*?)</article>', text))
    assert library_set.page is not None
    for step in library_set.page.steps:
        for name, _ in set.intersection(*(set(card.facts) for card in step.cards)):
            assert not any(f"<dt>{name}</dt>" in found[x.id] for x in step.cards)
    # A soldier's top is another than its course's.
    assert "<dt>top from the datum</dt>" in found["F-11-03"]
    assert "<dt>top from the datum</dt>" not in found["F-07-02"]
