"""Each demo's page in a browser: cards, ticks, widths, keyboard, without its script."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from typing import Any

import pytest

from shopdraw.drawing.page import Card
from shopdraw.views.words.record import solution_record
from tests.browser.conftest import PHONE, Open, Opened
from tests.demos import set_of, solution_of
from tests.longer import mostly_long_demos
from tests.output.pages import page_of

READ_CARDS = """
() => [...document.querySelectorAll('.spots a')].map((spot) => {
  spot.dispatchEvent(new MouseEvent('click', {bubbles: true, cancelable: true}));
  const open = document.querySelector('dialog[open]');
  const said = open ? open.textContent : '';
  // It stays open: to open it anew for each piece takes ten times as long.
  return [spot.getAttribute('href').slice(1), said];
}).concat(document.querySelector('dialog[open]')?.close() ?? [])
"""
"""Clicks each piece on every drawing, and returns what its card says."""
BEYOND = """
() => {
  const wide = document.documentElement.clientWidth;
  const held = (e) => e.closest('.wide, .look, svg, .skip, dialog:not([open])');
  return [...document.querySelectorAll('body *')]
    .filter((e) => !held(e) && e.getClientRects().length)
    .filter((e) => e.getBoundingClientRect().right > wide + 1)
    .map((e) => `${e.tagName} ${e.className} ${e.textContent.slice(0, 40)}`);
}
"""
"""Names what reaches past the screen's right edge, and does not scroll by itself."""
OVERLAPS = """
() => {
  const boxes = [...document.querySelectorAll(
    'main :is(a, button, summary, label, dt, dd, p), h1, h2, h3, h4'
  )].filter((e) => !e.closest('svg, .ways, details:not([open]) > :not(summary)')
    && e.getClientRects().length && e.textContent.trim())
    .map((e) => [e, e.getBoundingClientRect()]);
  const found = [];
  for (let i = 0; i < boxes.length; i += 1) {
    for (let j = i + 1; j < Math.min(boxes.length, i + 40); j += 1) {
      const [[a, p], [b, q]] = [boxes[i], boxes[j]];
      if (a.contains(b) || b.contains(a)) continue;
      // Words that run on over a line's end have boxes as wide as both lines.
      if (a.getClientRects().length > 1 || b.getClientRects().length > 1) continue;
      const x = Math.min(p.right, q.right) - Math.max(p.left, q.left);
      const y = Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top);
      if (x > 1 && y > 1) {
        found.push(`${a.textContent} / ${b.textContent}`.slice(0, 90));
      }
    }
  }
  return found;
}
"""
"""Names what lies over something else, among what follows it closely."""
SMALL = """
() => [...document.querySelectorAll('a, button, summary, label.tick, dialog input')]
  .filter((e) => !e.closest('svg, .skip, .now') && e.getClientRects().length)
  .filter((e) => !(e.matches('input') && e.closest('label')))
  .map((e) => [e, e.getBoundingClientRect()])
  .filter(([, box]) => box.width < 43.9 || box.height < 43.9)
  .map(([e, box]) => `${e.textContent} ${box.width} x ${box.height}`)
"""
"""Names what is to be hit and is less than 44 wide or high."""
TEN = 10


def plain(words: str) -> str:
    return re.sub(r"\s+", " ", words.replace("\u00a0", " "))


def cards_of(demo: str) -> dict[str, Card]:
    page = set_of(demo).page
    assert page is not None
    return {card.id: card for card in page.cards}


def unsaid(demo: str, told: Iterable[tuple[str, str]]) -> list[str]:
    """Name the pieces whose card does not say what the solution's record does."""
    record: Any = json.loads(json.dumps(solution_record(solution_of(demo))))
    hearth = record["hearth"] or {"pieces": []}
    pieces = {x["id"]: x for x in (*record["layout"]["pieces"], *hearth["pieces"])}
    cards = cards_of(demo)
    seen, wrong = set(), []
    for name, said in told:
        seen.add(name)
        piece, words = pieces[name], plain(said)
        facts = (x for fact in cards[name].facts for x in fact)
        for each in (name, piece["mark"], piece["kind"], *facts):
            if each not in words:
                wrong.append(f"{name}: {each}")
    return [*wrong, *(f"{name}: never" for name in pieces.keys() - seen)]


WORK = """
() => {
  const spots = document.querySelector('.look').querySelectorAll('.spots a');
  const boxes = [...spots].map((e) => e.getBoundingClientRect());
  const left = Math.min(...boxes.map((b) => b.left));
  return [left, Math.max(...boxes.map((b) => b.right))];
}
"""
"""From where to where the brick of the first drawing is seen on the screen."""


# Faces aslant beside the front, a hearth in brick, voussoirs: where a piece would lose
# its card, or the face its width, before any other demo's.
@mostly_long_demos("chamfered-breast", "raised-hearth", "semicircular-dining-room")
def test_the_face_is_as_wide_as_the_phone_and_every_piece_answers_with_its_card(
    opened: Open, demo: str
) -> None:
    it = opened(demo)
    left, right = it.page.evaluate(WORK)
    assert -1 <= left < 8
    assert PHONE["width"] - 8 < right <= PHONE["width"] + 1
    told = it.page.evaluate(READ_CARDS)
    assert unsaid(demo, told) == []
    assert unsaid(demo, told[1:] if len({x for x, _ in told}) == len(told) else [])
    assert it.page.evaluate(BEYOND) == []
    assert it.wrong == []


def test_a_card_that_says_nothing_is_noticed(opened: Open) -> None:
    it = opened("library-hearth")
    it.page.evaluate("document.getElementById('F-07-02').querySelector('dl').remove()")
    wrong = unsaid("library-hearth", it.page.evaluate(READ_CARDS))
    assert {line.partition(":")[0] for line in wrong} == {"F-07-02"}


def test_ten_pieces_answer_a_real_tap(opened: Open) -> None:
    it = opened("library-hearth")
    cards = cards_of("library-hearth")
    spots = it.page.locator(".spots a")
    for place in range(0, 60, 60 // TEN):
        spot = spots.nth(place)
        name = spot.get_attribute("href")[1:]
        spot.tap()
        said = plain(it.page.locator("dialog[open]").inner_text())
        assert name in said
        assert plain(cards[name].size) in said
        it.page.get_by_role("button", name="Close", exact=True).tap()
        assert it.page.locator("dialog[open]").count() == 0
    assert it.wrong == []


# ------------------------------------------------------------------------------- ticks


def ticked(it: Opened) -> list[str]:
    found: list[str] = it.page.evaluate(
        "[...document.querySelectorAll('.run input:checked')].map(x => x.dataset.tick)"
    )
    return sorted({*found})


def left(it: Opened, mark: str) -> str:
    words: str = it.page.locator(f'[data-left="{mark}"]').inner_text()
    return words


def test_ticks_stay_when_the_page_is_opened_again(opened: Open) -> None:
    it = opened("library-hearth")
    assert "Ticks are kept" in it.page.locator("#kept").inner_text()
    assert left(it, "B2") == "14"
    it.page.locator('input[data-tick="F-07-02"]').first.check()
    it.page.locator('input[data-tick="all/1"]').check()
    before = ticked(it)
    assert "F-07-02" in before
    assert "F-01-01" in before
    it.page.reload()
    assert ticked(it) == before
    assert left(it, "B2") == "11"
    assert "Course 2" in it.page.locator(".now").inner_text()
    it.page.locator('input[data-tick="all/1"]').uncheck()
    assert ticked(it) == ["F-07-02"]
    clear = it.page.get_by_role("button", name="Clear all ticks")
    clear.click()
    assert ticked(it) == ["F-07-02"]
    it.page.get_by_role("button", name="Press again").click()
    it.page.reload()
    assert ticked(it) == []
    assert it.wrong == []


def test_ticks_of_one_job_file_are_not_those_of_another(opened: Open) -> None:
    it = opened("library-hearth")
    it.page.locator('input[data-tick="F-07-02"]').first.check()
    other = page_of("library-hearth").replace(b'data-digest="a', b'data-digest="b')
    assert other != page_of("library-hearth")
    path = it.where.removeprefix("file://")
    with open(path, "wb") as file:  # noqa: PTH123
        file.write(other)
    it.page.reload()
    assert ticked(it) == []
    with open(path, "wb") as file:  # noqa: PTH123
        file.write(page_of("library-hearth"))
    it.page.reload()
    assert ticked(it) == ["F-07-02"]


def test_a_page_that_may_keep_nothing_says_so_and_works(opened: Open) -> None:
    """In a frame that is shut off a browser refuses to keep anything."""
    text = page_of("library-hearth").decode()
    it = opened(b"<!doctype html><iframe sandbox='allow-scripts'></iframe>")
    it.page.evaluate(
        "text => document.querySelector('iframe').setAttribute('srcdoc', text)", text
    )
    frame = it.page.frame_locator("iframe")
    said = frame.locator("#kept").inner_text()
    assert said.startswith("Ticks will not be kept")
    frame.locator('input[data-tick="F-07-02"]').first.check()
    assert frame.locator('[data-left="B2"]').inner_text() == "13"
    assert [x for x in it.wrong if x.startswith("error")] == []


def test_without_its_script_the_page_is_whole(opened: Open) -> None:
    it = opened("library-hearth", java_script_enabled=False)
    assert it.page.locator("#kept").inner_text().startswith("Ticks will not be kept")
    assert it.page.locator(".tapping").is_visible() is False
    assert it.page.locator("article.card").count() == len(cards_of("library-hearth"))
    it.page.locator('.spots a[href="#F-07-02"]').first.click()
    # A browser unfolds what a link leads to.
    assert it.page.locator("#F-07-02").is_visible()
    it.at("step-8")
    assert it.page.get_by_role("heading", name="Course 8", exact=True).is_visible()
    assert it.wrong == []


# ----------------------------------------------------------------- widths and lettering


@pytest.mark.parametrize("width", [360, 1400])
@pytest.mark.parametrize("demo", ["library-hearth", "chimney-breast-gas"])
def test_nothing_is_beyond_the_edge_or_over_something_else(
    opened: Open, demo: str, width: int
) -> None:
    it = opened(demo, viewport={"width": width, "height": 740})
    for percent in (100, 200):
        # As a browser's own setting does it: everything is in rem.
        it.page.evaluate(f"document.documentElement.style.fontSize = '{percent}%'")
        assert it.page.evaluate(BEYOND) == []
        assert it.page.evaluate(OVERLAPS) == []
        assert it.page.evaluate(SMALL) == []
    it.page.evaluate(
        "document.querySelector('main').append(Object.assign("
        "document.createElement('p'), {textContent: 'x', style: 'width: 2000px'}))"
    )
    assert it.page.evaluate(BEYOND)


BROKEN = """
(where) => [...document.querySelectorAll(where)].flatMap((e) => {
  const walk = document.createTreeWalker(e, NodeFilter.SHOW_TEXT);
  const found = [];
  while (walk.nextNode()) {
    for (const word of walk.currentNode.data.matchAll(/\\S+/g)) {
      const range = document.createRange();
      range.setStart(walk.currentNode, word.index);
      range.setEnd(walk.currentNode, word.index + word[0].length);
      const lines = new Set([...range.getClientRects()].map((r) => Math.round(r.y)));
      if (lines.size > 1) found.push(word[0]);
    }
  }
  return found;
})
"""
"""Names the words that are broken from one line to the next."""


def test_the_bar_at_a_course_can_be_read_and_leaves_room(opened: Open) -> None:
    it = opened("library-hearth")
    bars = it.page.locator(".ways")
    bar = it.page.locator('[data-step="7"] .ways')
    for percent in (100, 200):
        it.page.evaluate(f"document.documentElement.style.fontSize = '{percent}%'")
        it.page.evaluate("document.activeElement.blur()")
        for where in (".ways", ".jumps", ".top nav", "button"):
            assert it.page.evaluate(BROKEN, where) == []
        bar.scroll_into_view_if_needed()
        assert max(x.bounding_box()["height"] for x in bars.all()) < PHONE["height"] / 3
        bar.get_by_text("Next: Course 8").click()
        assert it.page.locator("#step-8").evaluate("e => e === document.activeElement")
    bar.evaluate("e => e.style.width = '3rem'")
    bar.evaluate("e => e.style.overflowWrap = 'anywhere'")
    bar.evaluate("e => [...e.children].map(x => x.style.overflowWrap = 'anywhere')")
    assert it.page.evaluate(BROKEN, ".ways")


def test_any_course_is_two_taps_away(opened: Open) -> None:
    it = opened("raised-hearth")
    page = set_of("raised-hearth").page
    assert page is not None
    for step in (page.steps[0], page.steps[8], page.steps[-1]):
        it.page.get_by_role("link", name="Courses", exact=True).tap()
        it.page.locator(f'.jumps a[href="#step-{step.name}"]').tap()
        title = it.page.get_by_role("heading", name=step.title, exact=True)
        box = title.bounding_box()
        top = it.page.locator(".top").bounding_box()
        assert top["y"] + top["height"] <= box["y"] < PHONE["height"] / 2
    assert it.page.locator(".jumps a").count() == len(page.steps)
    laid = it.page.locator(".jumps a.laid")
    assert laid.count() == 0
    it.page.locator('input[data-tick="all/3"]').check()
    assert laid.all_inner_texts() == ["3"]
    assert it.wrong == []


def test_the_stamp_stays_in_sight(opened: Open) -> None:
    """On a low screen, too, which a phone's is where its text is enlarged."""
    it = opened("library-hearth")
    for course, height in (("8", 740), ("9", 500)):
        it.page.set_viewport_size({"width": 360, "height": height})
        it.at(f"step-{course}")
        stamp = it.page.locator(".stamp").bounding_box()
        named = it.page.get_by_role("heading", name=f"Course {course}", exact=True)
        title = named.bounding_box()
        assert 0 <= stamp["y"] < stamp["y"] + stamp["height"] <= title["y"] < height
    it.page.locator(".stamp").evaluate("e => e.style.position = 'static'")
    it.page.locator(".top").evaluate("e => e.style.position = 'static'")
    assert it.page.locator(".stamp").bounding_box()["y"] < 0


def test_three_questions_are_answered_within_two_taps(opened: Open) -> None:
    """What it will look like, what to lay now, what is not checked."""
    it = opened("library-hearth")

    def is_seen(what: Any) -> bool:
        top, box = it.page.locator(".top").bounding_box(), what.bounding_box()
        return top["y"] + top["height"] <= box["y"] < PHONE["height"] - 100

    def tap(name: str) -> None:
        it.page.get_by_role("link", name=name, exact=True).first.tap()

    tap("Picture")
    assert is_seen(it.page.locator("svg.picture"))
    tap("Courses")
    tap("Course 1")
    assert is_seen(it.page.get_by_role("heading", name="Course 1", exact=True))
    assert is_seen(it.page.locator('input[data-tick="L-01-01"]'))
    tap("Find out")
    assert is_seen(it.page.get_by_role("heading", name="Still to find out"))
    assert is_seen(it.page.locator("#list-find-out ~ .items li").first)
    assert it.wrong == []


def test_what_is_small_or_lies_over_something_is_noticed(opened: Open) -> None:
    it = opened("library-hearth")
    it.page.evaluate(
        "Object.assign(document.querySelector('.top nav a').style, "
        "{minHeight: 0, padding: 0, flex: 'none', alignSelf: 'start'})"
    )
    assert it.page.evaluate(SMALL)
    it.page.evaluate("document.querySelector('h2').style.marginTop = '-60px'")
    assert it.page.evaluate(OVERLAPS)


# ---------------------------------------------------------------------------- keyboard


def focused(it: Opened) -> str:
    words: str = it.page.evaluate(
        "(e => e.getAttribute('href') || e.textContent)(document.activeElement)"
    )
    return words


def test_a_piece_is_found_and_ticked_by_keyboard_alone(opened: Open) -> None:
    it = opened("library-hearth")
    it.page.keyboard.press("Tab")
    assert focused(it) == "#main"
    look = it.page.locator(".look").first
    for _ in range(40):
        if look.evaluate("e => e === document.activeElement"):
            break
        it.page.keyboard.press("Tab")
    it.page.keyboard.press("ArrowRight")
    first = focused(it)
    it.page.keyboard.press("ArrowUp")
    it.page.keyboard.press("ArrowRight")
    name = focused(it)
    assert name != first
    it.page.keyboard.press("+")
    it.page.keyboard.press("Enter")
    assert name[1:] in it.page.locator("dialog[open]").inner_text()
    assert focused(it) == "Close"
    it.page.keyboard.press("Shift+Tab")
    it.page.keyboard.press("Space")
    it.page.keyboard.press("Escape")
    assert it.page.locator("dialog[open]").count() == 0
    assert ticked(it) == [name[1:]]
    assert it.wrong == []


def test_a_drawing_is_looked_at_more_closely_and_whole_again(opened: Open) -> None:
    it = opened("library-hearth")
    svg = it.page.locator(".look svg").first

    def width() -> float:
        return float((svg.get_attribute("viewBox") or "").split()[2])

    before = width()
    it.page.get_by_role("button", name="Closer").first.click()
    near = width()
    assert near < before
    it.page.get_by_role("button", name="All", exact=True).first.click()
    assert width() > before
    it.page.get_by_role("button", name="Fit").first.click()
    assert width() == pytest.approx(before)


def test_a_checker_of_accessibility_finds_nothing_serious(opened: Open) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")

    def serious(it: Opened, **options: Any) -> list[tuple[str, list[str]]]:
        found = axe.Axe().run(it.page, options=options).response["violations"]
        return [
            (each["id"], [node["html"][:120] for node in each["nodes"][:3]])
            for each in found
            if each["impact"] in ("serious", "critical")
        ]

    it = opened("library-hearth")
    assert serious(it) == []
    it.page.evaluate("document.documentElement.removeAttribute('lang')")
    named = "html-has-lang"
    assert [rule for rule, _ in serious(it, runOnly=[named])] == [named]
    # At night a page has other colours, and nothing else; a small one has them all.
    at_night, contrast = opened("metric-slips", color_scheme="dark"), "color-contrast"
    assert serious(at_night, runOnly=[contrast]) == []
    at_night.page.locator("h2").first.evaluate("e => e.style.color = '#333333'")
    (found,) = serious(at_night, runOnly=[contrast])
    assert found[0] == contrast
