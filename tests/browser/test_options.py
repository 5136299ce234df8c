"""The page of the options in a browser: nothing runs off, nobody is kept out."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from shopdraw.output.choices import make_files
from shopdraw.output.photo import read_photo
from shopdraw.pipeline import offer
from tests.browser.conftest import PHONE
from tests.browser.test_pages import BEYOND
from tests.output.test_photo import save, view
from tests.views.papers.test_options import LONG, OWN, PRICED, STACK, TIGHT, solved


@pytest.fixture(scope="module")
def page_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("options")
    photo = read_photo(save(folder / "a.png", view(200, 160), 6), "snug.toml")
    offered = solved("".join((OWN, LONG, STACK, TIGHT)), PRICED)
    path = folder / "options.html"
    path.write_bytes(make_files(offer(offered, photo))["options.html"])
    return path


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_on_a_phone_nothing_runs_off_and_pictures_are_shown(
    browser: Any, page_file: Path, scheme: str
) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    context = browser.new_context(viewport=PHONE, color_scheme=scheme)
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda each: said.append(each.text))
    page.goto(page_file.as_uri())
    assert page.evaluate(BEYOND) == []
    shown = "() => [...document.images].map((x) => [x.naturalWidth, x.naturalHeight])"
    assert page.evaluate(shown) == [[200, 160]] * 4
    assert page.locator("svg").count() == 4
    assert said == []
    # By night the same page has other colours, and nothing else.
    rules = {"runOnly": ["color-contrast"]} if scheme == "dark" else {}
    amiss = axe.Axe().run(page, options=rules)
    assert amiss.violations_count == 0, amiss.generate_report()
    context.close()


def test_on_a_wide_screen_three_stand_side_by_side(
    browser: Any, page_file: Path
) -> None:
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.goto(page_file.as_uri())
    tops = "() => [...document.querySelectorAll('article')].map((x) => x.offsetTop)"
    first, second, third, fourth = page.evaluate(tops)
    assert first == second == third < fourth
    context.close()
