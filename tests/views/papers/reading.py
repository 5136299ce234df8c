"""Read a later paper: its lines from the top, its cells, its lines to write on."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from shopdraw.drawing.ink import Stroke, Words
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from tests.demos import CONFIGS

DINING = (CONFIGS / "semicircular-dining-room.toml").read_text(encoding="utf-8")


@cache
def dining(*changes: tuple[str, str], more: str = "") -> Solution:
    """Return the demo that has every later paper, solved with some of it changed."""
    text = DINING
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return solve(parse_job(text + more, Path("dining.toml")))


def words_on(pages: tuple[Sheet, ...]) -> list[Words]:
    """Return all that is lettered, page by page, from the top, from the left."""
    return [
        words
        for page in pages
        for words in sorted(
            (x for each in page.drawings for x in each.drawing.ink
             if isinstance(x, Words)),
            key=lambda x: (-round(x.at[1], 3), x.at[0]),
        )
    ]  # fmt: skip


def lines_on(pages: tuple[Sheet, ...]) -> list[str]:
    """Return what stands at one height as one line, cells with a bar between them."""
    rows: dict[tuple[int, float], list[str]] = {}
    for number, page in enumerate(pages):
        for words in words_on((page,)):
            rows.setdefault((number, round(words.at[1], 3)), []).append(words.text)
    return [" | ".join(cells) for cells in rows.values()]


def text_of(pages: tuple[Sheet, ...]) -> str:
    """Return all that is lettered as one text, lines broken to fit put together."""
    return " ".join(words.text for words in words_on(pages))


def lines_to_write_on(page: Sheet) -> int:
    """Count the lines that are there for a pen: those that span no whole row."""
    strokes = [
        x
        for each in page.drawings
        for x in each.drawing.ink
        if isinstance(x, Stroke) and len(x.points) == 2
    ]
    widest = max(x.points[1][0] - x.points[0][0] for x in strokes)
    return sum(x.points[1][0] - x.points[0][0] < widest - 1e-6 for x in strokes)
