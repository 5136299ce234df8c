"""`watch` in a browser: ten quick saves are followed, with faults, and the end."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from shopdraw.output.follow import ENDED
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


def test_it_is_whole_without_script_and_on_a_phone(opened: Open, job: Path) -> None:
    with watching(job) as it:
        it.until("Save 0")
        seen = opened(b"", it.address, java_script_enabled=False)
        assert seen.page.locator("h1").inner_text() == "Save 0"
        assert seen.wrong == []
        job.write_text("[face\n")
        it.until("Line 1")
        phone = opened(b"", it.address)
        assert phone.page.evaluate(BEYOND) == []
        phone.page.get_by_role("link").first.click()
        phone.page.locator("article.card").first.wait_for(state="attached")


def test_no_other_site_can_show_or_read_it(opened: Open, job: Path) -> None:
    """A page from elsewhere gets neither its words nor a frame of it."""
    with watching(job) as it:
        it.until("Save 0")
        frame = f'<!DOCTYPE html><iframe src="{it.address}"></iframe>'
        seen = opened(frame.encode())
        seen.page.wait_for_timeout(300)
        assert all("Save 0" not in x.content() for x in seen.page.frames)
        read = f"fetch('{it.address}', {{mode: 'no-cors'}}).then(() => 1, () => 0)"
        assert seen.page.evaluate(read) == 0
        own = opened(b"", it.address)
        assert own.page.evaluate(read) == 1
