"""A browser that is on this machine, and each demo's page opened in it.

Where there is none these tests are skipped, and say so.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from tests.output.pages import page_of

NAMES = ("chromium", "chromium-browser")
VARIABLE = "SHOPDRAW_BROWSER"
"""Names a browser that is not on PATH."""
NONE = (
    f"no browser: the page was not tried in one; put {NAMES[0]} on PATH, or name it in "
    f"{VARIABLE}"
)
PHONE = {"width": 360, "height": 740}


def browser_file() -> str | None:
    """Return where a browser is; None where there is none."""
    named = os.environ.get(VARIABLE)
    found = (shutil.which(name) for name in (named, *NAMES) if name)
    return next((path for path in found if path), None)


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Start the browser, once for all these tests."""
    path = browser_file()
    if path is None:
        pytest.skip(NONE)
    playwright = pytest.importorskip("playwright.sync_api", reason=NONE)
    with playwright.sync_playwright() as driver:
        # As root it has no box to shut itself into.
        started = driver.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield started
        started.close()


@dataclass
class Opened:
    """A page in the browser, and what went on there that should not.

    Attributes:
        page: the driver's.
        where: its address.
        wrong: errors, and requests for anything but the page itself.
    """

    page: Any
    where: str
    wrong: list[str] = field(default_factory=list)

    def at(self, anchor: str) -> None:
        """Go to a place on the page."""
        self.page.goto(f"{self.where}#{anchor}")


Open = Callable[..., Opened]


@pytest.fixture
def opened(browser: Any, tmp_path: Path) -> Iterator[Open]:
    """Return what opens a page: a demo's by its name, or one of bytes."""
    contexts = []

    def open_page(page: str | bytes, where: str = "", **options: Any) -> Opened:
        if not where:
            path = tmp_path / "page.html"
            path.write_bytes(page_of(page) if isinstance(page, str) else page)
            where = path.as_uri()
        settings = {"viewport": PHONE, "has_touch": True, **options}
        context = browser.new_context(**settings)
        contexts.append(context)
        context.set_default_timeout(20_000)
        tab = context.new_page()
        found = Opened(tab, where)
        tab.on("console", lambda said: found.wrong.append(f"said: {said.text}"))
        tab.on("pageerror", lambda error: found.wrong.append(f"error: {error}"))
        tab.on("request", lambda asked: note(found, asked.url))
        tab.goto(where)
        return found

    def note(found: Opened, url: str) -> None:
        if url.partition("#")[0] != found.where and url != "data:,":
            found.wrong.append(f"asked for: {url}")

    yield open_page
    for context in contexts:
        context.close()
