"""`shopdraw form`: a page for site, and never over what is there."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from shopdraw.cli import main


@pytest.mark.parametrize(("lengths", "size"), [("in", (612, 792)), ("mm", (595, 842))])
def test_a_page_and_its_back_of_the_usual_size(
    tmp_path: Path, lengths: str, size: tuple[int, int]
) -> None:
    path = tmp_path / "survey.pdf"
    ran = CliRunner().invoke(main, ["form", str(path), "--lengths", lengths])
    assert ran.exit_code == 0
    page, back = PdfReader(io.BytesIO(path.read_bytes())).pages
    for each in (page, back):
        assert (round(each.mediabox.width), round(each.mediabox.height)) == size
    assert "opening.width" in page.extract_text()
    assert "face.left_alcove" in back.extract_text()


def test_a_file_that_is_there_stays(tmp_path: Path) -> None:
    path = tmp_path / "survey.pdf"
    path.write_text("mine")
    ran = CliRunner().invoke(main, ["form", str(path)])
    assert ran.exit_code == 2
    assert "exists already; name another file" in ran.output
    assert path.read_text() == "mine"
