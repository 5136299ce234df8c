"""`watch` in a browser: ten quick saves are followed, with faults, and the end."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from shopdraw.drawing.page import Glance
from shopdraw.output.follow import ENDED
from shopdraw.output.index import Listing, write_index
from tests.browser.conftest import Open
from tests.browser.test_pages import BEYOND
from tests.watching import job_text, watching

SAVES = 10
PARTS = "() => document.querySelectorAll('#live .view path').length"
GREY = "() => getComputedStyle(document.querySelector('#live .whole')).filter"


def named(name: str) -> str:
    """Return the text of a job of that name."""
    return re.sub(r"(?m)^name = .*$", f'name = "{name}"', job_text(), count=1)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "den.toml"
    path.write_text(named("Save 0"))
    return path


def test_ten_quick_saves_are_followed(opened: Open, job: Path) -> None:
    """Each is waited for; every third is a fault, beside the grey drawing before."""
    with watching(job) as it:
        it.until("Save 0")
        seen = opened(b"", it.address, viewport={"width": 1000, "height": 800})
        page = seen.page
        parts = page.evaluate(PARTS)
        assert parts > 5
        page.evaluate("window.kept = document.body")
        for number in range(1, SAVES + 1):
            fails = number % 3 == 0
            text = named(f"Save {number}")
            job.write_text(f"{text}\n[fault{number}]\n" if fails else text)
            if fails:
                page.get_by_text(re.compile(rf"^Line \d+: fault{number}$")).wait_for()
                assert page.locator("h1").inner_text() == f"Save {number - 1}"
                assert "grayscale(1)" in page.evaluate(GREY)
            else:
                page.get_by_role(
                    "heading", name=f"Save {number}", exact=True
                ).wait_for()
                assert page.evaluate(GREY) == "none"
            assert page.evaluate(PARTS) == parts
        # Nothing was loaded anew, and nothing asked for but what comes next.
        assert page.evaluate("window.kept === document.body")
        others = [x for x in seen.wrong if f"asked for: {it.address}next?" not in x]
        assert others == []

        # Saves that follow at once: the last one is what is shown in the end.
        for number in range(SAVES):
            job.write_text(named(f"Quick {number}"))
        page.get_by_role("heading", name=f"Quick {SAVES - 1}", exact=True).wait_for()

        assert it.end()[0] == 130
        page.get_by_text(ENDED).wait_for()
        assert "grayscale(1)" in page.evaluate(GREY)
        assert page.locator("h1").inner_text() == f"Quick {SAVES - 1}"


def serious(page: Any, **options: Any) -> list[str]:
    """Name what an accessibility checker finds on a page that is serious."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    found = axe.Axe().run(page, options=options).response["violations"]
    return [x["id"] for x in found if x["impact"] in ("serious", "critical")]


def test_it_is_whole_without_script_and_on_a_phone(opened: Open, job: Path) -> None:
    """And no page of another site gets its words, or a frame of it."""
    with watching(job) as it:
        it.until("Save 0")
        seen = opened(b"", it.address, java_script_enabled=False)
        assert seen.page.locator("h1").inner_text() == "Save 0"
        assert seen.wrong == []

        frame = f'<!DOCTYPE html><iframe src="{it.address}"></iframe>'
        other = opened(frame.encode()).page
        other.wait_for_timeout(300)
        assert all("Save 0" not in x.content() for x in other.frames)
        read = f"fetch('{it.address}', {{mode: 'no-cors'}}).then(() => 1, () => 0)"
        assert other.evaluate(read) == 0

        job.write_text("[face\n")
        it.until("Line 1")
        phone = opened(b"", it.address).page
        assert phone.evaluate(read) == 1
        assert phone.evaluate(BEYOND) == []
        assert serious(phone) == []
        phone.evaluate("document.documentElement.removeAttribute('lang')")
        named = ["html-has-lang"]
        assert serious(phone, runOnly=named) == named
        phone.get_by_role("link").first.click()
        phone.locator("article.card").first.wait_for(state="attached")


def test_an_index_shows_its_pictures_and_asks_for_nothing_else(
    opened: Open, tmp_path: Path
) -> None:
    folder = tmp_path / "a b#c"
    folder.mkdir()
    Image.new("L", (30, 20), 200).save(folder / "picture.png")
    glance = Glance("Den", "0123", "", ("1 ITEM FAILED",), (), ())
    page = folder.parent / "index.html"
    listings = (
        Listing("a.toml", folder.name, glance, "page.html", "picture.png"),
        Listing("b.toml", "b", says=("b.toml: is wrong",)),
    )
    page.write_bytes(write_index(listings))
    seen = opened(b"", page.as_uri())
    picture = (folder / "picture.png").as_uri()
    seen.page.wait_for_function("document.images[0].naturalWidth === 30")
    assert seen.wrong == [f"asked for: {picture}"]
    assert seen.page.evaluate(BEYOND) == []
    assert serious(seen.page) == []
