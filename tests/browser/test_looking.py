"""The face is looked at closely in a browser: fingers, mouse, wheel, keys; on paper."""

from __future__ import annotations

import io
import re
import unicodedata
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from typing import Any

import pypdf
import pypdfium2
import pytest

from tests.browser.conftest import Open, Opened
from tests.browser.test_pages import plain
from tests.demos import set_of

Box = tuple[float, float, float, float]
IN_SIGHT = """
() => {
  const look = document.querySelector('.look').getBoundingClientRect();
  for (const spot of document.querySelector('.look').querySelectorAll('.spots a')) {
    const r = spot.getBoundingClientRect();
    const [x, y] = [r.x + r.width / 2, r.y + r.height / 2];
    const across = x > look.left + 10 && x < look.right - 60;
    // Nothing else lies over it, such as what stays in sight at the top.
    if (across && spot.contains(document.elementFromPoint(x, y))) {
      return [spot.getAttribute('href').slice(1), x, y];
    }
  }
}
"""
"""Finds a piece with room at its right to be dragged to, and its middle."""
A4 = {"width": "210mm", "height": "297mm"}


def box_of(it: Opened) -> Box:
    """Return what of the first drawing is seen, in its own units."""
    words = it.page.locator(".look svg").first.get_attribute("viewBox")
    x, y, wide, high = (float(each) for each in words.split())
    return x, y, wide, high


def middle_of(it: Opened) -> tuple[float, float]:
    """Bring the first drawing into sight, and return its middle on the screen."""
    svg = it.page.locator(".look svg").first
    svg.scroll_into_view_if_needed()
    rect = svg.bounding_box()
    return rect["x"] + rect["width"] / 2, rect["y"] + rect["height"] / 2


def seen_at(it: Opened, x: float, y: float) -> tuple[float, float]:
    """Return which point of the drawing is under a point of the screen."""
    found: list[float] = it.page.evaluate(
        "([x, y]) => { const s = document.querySelector('.look svg');"
        " const p = new DOMPoint(x, y).matrixTransform(s.getScreenCTM().inverse());"
        " return [p.x, p.y]; }",
        [x, y],
    )
    return found[0], found[1]


def waited(it: Opened, is_so: Callable[[], object], times: int = 100) -> None:
    """Wait until something is so; the page's policy lets no test wait within it."""
    for _ in range(times):
        if is_so():
            return
        it.page.wait_for_timeout(50)
    raise AssertionError("it never came")


class Fingers:
    """Touches of a screen, as its driver reports them: no mouse, and no click made."""

    def __init__(self, it: Opened) -> None:
        self._line: Any = it.page.context.new_cdp_session(it.page)

    def put(self, kind: str, *spots: tuple[float, float]) -> None:
        points = [{"x": x, "y": y, "id": n} for n, (x, y) in enumerate(spots)]
        sent = {"type": f"touch{kind}", "touchPoints": points}
        self._line.send("Input.dispatchTouchEvent", sent)

    def move(self, *ways: tuple[tuple[float, float], tuple[float, float]]) -> None:
        """Put fingers down, move each from one spot to another, and lift them."""
        self.put("Start", *(one for one, _ in ways))
        for part in (0.25, 0.5, 0.75, 1.0):
            self.put(
                "Move",
                *((a + part * (c - a), b + part * (d - b)) for (a, b), (c, d) in ways),
            )
        self.put("End")


def test_two_fingers_bring_a_drawing_closer_and_one_drags_it(opened: Open) -> None:
    it = opened("library-hearth")
    x, y = middle_of(it)
    fingers, whole = Fingers(it), box_of(it)
    # One finger scrolls the page while the whole is seen.
    fingers.move(((x, y), (x - 60, y)))
    assert box_of(it) == whole
    under = seen_at(it, x, y)
    fingers.move(((x - 30, y), (x - 90, y)), ((x + 30, y), (x + 90, y)))
    near = box_of(it)
    assert near[2] == pytest.approx(whole[2] / 3, rel=0.02)
    # What was between the fingers stays there.
    assert seen_at(it, x, y) == pytest.approx(under, abs=whole[2] / 100)
    under = seen_at(it, x, y)
    fingers.move(((x, y), (x + 50, y + 20)))
    assert seen_at(it, x + 50, y + 20) == pytest.approx(under, abs=near[2] / 50)
    assert it.page.locator("dialog[open]").count() == 0
    fingers.move(((x - 90, y), (x - 30, y)), ((x + 90, y), (x + 30, y)))
    assert box_of(it)[2] == pytest.approx(whole[2], rel=0.05)
    assert it.wrong == []


def test_a_finger_that_drags_from_a_piece_opens_no_card_and_one_that_taps_does(
    opened: Open,
) -> None:
    it = opened("semicircular-dining-room")
    middle_of(it)
    it.page.get_by_role("button", name="Closer").first.click()
    name, x, y = it.page.evaluate(IN_SIGHT)
    Fingers(it).move(((x, y), (x + 40, y)))
    assert it.page.locator("dialog[open]").count() == 0
    card = it.page.locator("dialog[open]")
    # A browser takes a touch that follows at once for the end of the drag; how soon it
    # may follow depends on how busy the machine is.
    for pause in (400, 800, 2000, 5000):
        it.page.wait_for_timeout(pause)
        it.page.touchscreen.tap(x + 40, y)
        with suppress(AssertionError):
            waited(it, card.count, times=10)
            break
    assert name in card.inner_text()


def test_a_mouse_drags_a_drawing_and_its_wheel_brings_it_closer(opened: Open) -> None:
    it = opened(
        "library-hearth", has_touch=False, viewport={"width": 900, "height": 800}
    )
    x, y = middle_of(it)
    whole = box_of(it)
    mouse = it.page.mouse
    # The wheel scrolls the page until the drawing is chosen.
    before = it.page.evaluate("scrollY")
    mouse.move(x, y)
    mouse.wheel(0, -40)
    waited(it, lambda: it.page.evaluate("scrollY") < before)
    assert box_of(it) == whole
    it.page.locator(".look").first.focus()
    x, y = middle_of(it)
    mouse.move(x, y)
    before, under = it.page.evaluate("scrollY"), seen_at(it, x, y)
    mouse.wheel(0, -400)
    waited(it, lambda: box_of(it)[2] < whole[2] / 2)
    assert it.page.evaluate("scrollY") == before
    assert seen_at(it, x, y) == pytest.approx(under, abs=whole[2] / 100)
    under = seen_at(it, x, y)
    mouse.down()
    mouse.move(x + 60, y + 30, steps=4)
    mouse.up()
    assert seen_at(it, x + 60, y + 30) == pytest.approx(under, abs=whole[2] / 100)
    assert it.page.locator("dialog[open]").count() == 0
    assert it.wrong == []


def test_keys_bring_a_drawing_closer_follow_a_piece_and_show_the_whole(
    opened: Open,
) -> None:
    it = opened("library-hearth")
    whole = box_of(it)
    it.page.locator(".look").first.focus()
    it.page.keyboard.press("+")
    it.page.keyboard.press("+")
    near = box_of(it)
    assert near[2] == pytest.approx(whole[2] / 1.6**2, rel=0.01)
    it.page.keyboard.press("ArrowRight")
    for _ in range(4):
        it.page.keyboard.press("ArrowUp")
    # What is chosen is in sight.
    inside = it.page.evaluate(
        "() => { const [a, b] = [document.activeElement, "
        "document.querySelector('.look')].map((e) => e.getBoundingClientRect());"
        " return a.left < b.right && a.right > b.left && a.top < b.bottom"
        " && a.bottom > b.top && document.activeElement.matches('.spots a'); }"
    )
    assert inside
    it.page.keyboard.press("-")
    assert box_of(it)[2] > near[2]
    it.page.keyboard.press("0")
    assert box_of(it)[2] > whole[2]


# ------------------------------------------------------------------------- on paper


def printed(it: Opened) -> str:
    """Return the words of the page as it is printed."""
    data = it.page.pdf(**A4)
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    assert len(pages) > 3
    words = plain("\n".join(page.extract_text() for page in pages))
    # A printed "fi" is one sign.
    return unicodedata.normalize("NFKC", words)


CUT_OFF = """
() => { const wide = document.documentElement.clientWidth + 1;
  return [...document.querySelectorAll("main *")]
  .filter((e) => e.getClientRects().length && !e.closest('svg, .wide'))
  .filter((e) => e.getBoundingClientRect().right > wide)
  .map((e) => `${e.tagName} ${e.textContent.slice(0, 40)}`)
  .concat([...document.querySelectorAll('main .wide, main .look')]
    .filter((e) => e.getClientRects().length && e.scrollWidth > e.clientWidth + 1)
    .map((e) => `${e.className} ${e.getAttribute('aria-label')}`)); }
"""
"""Names what paper would cut off at its right edge, or within a frame of its own."""
SHOWN = """
(where) => [...document.querySelectorAll(where)].filter((e) =>
  e.getClientRects().length && getComputedStyle(e).visibility !== "hidden").length
"""
"""Counts what of a kind is seen."""


@pytest.mark.parametrize(
    ("demo", "script"), [("library-hearth", True), ("metric-slips", False)]
)
def test_paper_has_all_that_is_read_and_nothing_to_press(
    opened: Open, demo: str, script: bool
) -> None:
    it = opened(demo, java_script_enabled=script)
    page = set_of(demo).page
    assert page is not None
    words = re.sub(r"\s", "", printed(it))
    for topic, says in page.cautions:
        assert re.sub(r"\s", "", topic + ":" + says).lower() in words.lower()
    for step in page.steps:
        assert re.sub(r"\s", "", step.title) in words
        for due in step.due:
            assert re.sub(r"\s", "", due.words) in words
    # The cards are folded on the screen, and open on paper.
    for card in page.cards:
        assert card.id in words
    for control in ("Closer", "Clearallticks", "Before:", "Skiptothepage"):
        assert control not in words


def printed_ink(it: Opened) -> tuple[list[str], int]:
    """Return a digest of each of the first pages, and the darkest grey of the first."""
    data = pypdfium2.PdfDocument(it.page.pdf(**A4))
    pages = [data[n].render(grayscale=True).to_pil() for n in range(4)]
    return [sha256(x.tobytes()).hexdigest() for x in pages], pages[0].getextrema()[0]


def test_at_night_and_enlarged_all_is_printed_as_by_day(opened: Open) -> None:
    by_day, darkest = printed_ink(opened("metric-slips"))
    assert darkest < 40
    at_night = opened("metric-slips", color_scheme="dark")
    at_night.page.get_by_role("button", name="Closer").first.click()
    near = box_of(at_night)
    assert printed_ink(at_night) == (by_day, darkest)
    # On the screen it is where it was.
    assert box_of(at_night) == near
    seen = "getComputedStyle(document.body).backgroundColor"
    assert at_night.page.evaluate(seen) == "rgb(19, 19, 19)"


def test_nothing_is_cut_off_on_paper(opened: Open) -> None:
    # As wide as A4 within its margins, in the pixels that a browser prints by.
    it = opened("chimney-breast-gas", viewport={"width": 718, "height": 1000})
    it.page.get_by_role("button", name="Closer").first.click()
    it.page.emulate_media(media="print")
    assert it.page.evaluate(CUT_OFF) == []
    for hidden in (".closer", ".ways", ".tapping", ".skip", "button"):
        assert not it.page.evaluate(SHOWN, hidden), hidden
    assert it.page.evaluate(SHOWN, "h1")
    it.page.evaluate("document.querySelector('.look').style.width = '2000px'")
    assert it.page.evaluate(CUT_OFF)
