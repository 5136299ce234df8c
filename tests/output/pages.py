"""Each demo's page, written once a run."""

from __future__ import annotations

from functools import cache

from shopdraw.output.page import write_page
from tests.demos import kept, set_of


@cache
def page_of(name: str) -> bytes:
    """Return the page of a demo with its picture, and links to two files."""

    def make() -> bytes:
        drawn = set_of(name)
        assert drawn.page is not None
        assert drawn.picture is not None
        sheets = (*drawn.sheets, drawn.picture)
        return write_page(drawn.page, sheets, ("set.pdf", "surround.dxf"))

    data: bytes = kept(f"{name}-page", make)
    return data
