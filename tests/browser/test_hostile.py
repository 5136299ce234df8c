"""Hostile text in every field of a job does nothing on its page but be read."""

from __future__ import annotations

from functools import cache
from itertools import cycle

import pytest

from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from tests.browser.conftest import Open
from tests.hostile import job_text
from tests.hostile_sets import FIELDS, filled
from tests.output.pages import page_alone

ATTACKS = (
    "<script>hit=1</script>",
    "\"><img src=x onerror='hit=1'>",
    "'><svg onload=hit=1>",
    "</style><script>hit=1</script>",
    "--><iframe src=x></iframe>",
    "&lt;script&gt;hit=1",
    '"onfocus="hit=1"autofocus="',
)
GROWN = """
() => [
  typeof hit,
  document.querySelectorAll('script').length,
  document.querySelectorAll('img, iframe, object, embed, form').length,
  document.querySelectorAll('[onload], [onerror], [onfocus], [autofocus]').length,
  [...document.querySelectorAll('style')].length,
]
"""
ASLEEP = ["undefined", 1, 0, 0, 1]


@cache
def hostile_page(turn: int) -> bytes:
    """Return a page of a job that has an attack in each field, another by turns."""
    texts = cycle((*ATTACKS[turn:], *ATTACKS[:turn]))
    job = parse_job(job_text(filled(texts)), "den.toml")
    return page_alone(solve(job))


@pytest.mark.parametrize("turn", [0, 3])
def test_what_was_typed_to_do_harm_is_read_and_does_none(
    opened: Open, turn: int
) -> None:
    it = opened(hostile_page(turn))
    name = it.page.locator("h1").inner_text()
    assert any(name.startswith(each[:8]) for each in ATTACKS)
    it.page.evaluate("document.querySelectorAll('details').forEach(x => x.open = true)")
    it.page.locator(".spots a").first.dispatch_event("click")
    it.page.wait_for_timeout(100)
    assert it.page.evaluate(GROWN) == ASLEEP
    assert it.wrong == []
    assert len(FIELDS) > 20


def test_what_is_not_escaped_is_noticed(opened: Open) -> None:
    data = hostile_page(0).replace(b"<main", b"<img src=x onerror=hit=1><main", 1)
    it = opened(data)
    assert it.page.evaluate(GROWN) != ASLEEP
    # The policy lets neither the picture be asked for nor the handler run.
    assert it.page.evaluate("typeof hit") == "undefined"
    assert any(said.startswith("said:") for said in it.wrong)
