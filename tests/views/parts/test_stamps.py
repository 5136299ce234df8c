"""Every sheet and paper says from which program and which job file it is."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace

import pytest

from shopdraw import __version__
from shopdraw.drawing.ink import Words
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.reading import read_job
from shopdraw.pipeline import build
from tests.demos import CONFIGS, set_of, solution_of

DEMO = CONFIGS / "library-hearth.toml"


def lettered(sheet: Sheet) -> str:
    drawn = [ink for placed in sheet.drawings for ink in placed.drawing.ink]
    every = (*drawn, *sheet.paper_ink)
    return "\n".join(ink.text for ink in every if isinstance(ink, Words))


def unmarked(sheets: tuple[Sheet, ...], mark: str) -> list[str]:
    """Name the sheets that do not say both."""
    wanted = (f"shopdraw {__version__}".casefold(), mark)
    return [
        sheet.name
        for sheet in sheets
        if not all(words in lettered(sheet).casefold() for words in wanted)
    ]


def test_every_sheet_names_the_program_and_the_job_file() -> None:
    """The mark is the beginning of what any program for SHA-256 says of the file."""
    drawn = set_of(DEMO.stem)
    digest = hashlib.sha256(DEMO.read_bytes()).hexdigest()
    assert drawn.picture is not None
    papers = dict(drawn.papers)
    pages = (papers["story-pole"][0], papers["review"][0], papers["ticket"][0])
    assert unmarked((*drawn.sheets, drawn.picture, *pages), digest[:12]) == []
    assert json.loads(drawn.record_json)["drawn_from"] == {
        "program": f"shopdraw {__version__}",
        "job_file": digest,
    }


@pytest.mark.parametrize("added", ["", "# later\n"])
def test_another_text_is_another_mark(added: str) -> None:
    """Damage: a set drawn from a file that was changed since is found out."""
    text = DEMO.read_text("utf-8") + added
    job = read_job(DEMO).read_from(text)
    drawn = build(replace(solution_of(DEMO.stem), job=job))
    mark = hashlib.sha256(DEMO.read_bytes()).hexdigest()[:12]
    assert bool(unmarked(drawn.sheets, mark)) is bool(added)
