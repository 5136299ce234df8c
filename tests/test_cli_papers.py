"""Later papers at the door: only when asked for, in the manifest, taken away again."""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader

from shopdraw.cli import main
from shopdraw.job.model_labour import PAPERS

pytestmark = pytest.mark.usefixtures("coarse")
SMALL = """
[job]
name = "Snug"
[face]
width = "28 in"
height = "36 in"
[opening]
width = "14 in"
height = "24 in"
[brick]
size = "modular"
[sheet]
size = "ARCH C"
"""


def run(*words: str) -> Result:
    return CliRunner().invoke(main, words)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "snug.toml"
    path.write_text(SMALL, encoding="utf-8")
    return path


def papers_in(folder: Path) -> set[str]:
    return {f"{name}.pdf" for name in PAPERS if (folder / f"{name}.pdf").exists()}


def test_every_paper_asked_for_is_in_the_manifest_and_carries_the_digest(
    job: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    names = ",".join(PAPERS)
    run("draw", str(job), "--out", str(out), "--papers", names)
    assert papers_in(out / "snug") == {f"{name}.pdf" for name in PAPERS}
    listed = json.loads((out / "snug" / "set.json").read_text(encoding="utf-8"))
    digest = sha256(SMALL.encode()).hexdigest()[:12]
    for name in PAPERS:
        assert f"{name}.pdf" in json.dumps(listed)
        reader = PdfReader(out / "snug" / f"{name}.pdf")
        text = "".join(page.extract_text() for page in reader.pages)
        assert digest in text
    # The page may be the owner's to read: the mason's costs are not linked from it.
    page = (out / "snug" / "page.html").read_text(encoding="utf-8")
    assert "quote.pdf" in page
    assert "costs.pdf" not in page
    # The next set, which nobody asked for papers, takes them away: it stays small.
    assert run("draw", str(job), "--out", str(out)).exit_code in (0, 1)
    assert papers_in(out / "snug") == set()


def test_a_job_file_may_ask_for_papers_itself(job: Path, tmp_path: Path) -> None:
    text = SMALL.replace('size = "ARCH C"', 'size = "ARCH C"\npapers = ["costs"]')
    job.write_text(text, encoding="utf-8")
    run("draw", str(job), "--out", str(tmp_path / "out"))
    assert papers_in(tmp_path / "out" / "snug") == {"costs.pdf"}


def test_a_paper_that_there_is_not_is_one_line_and_exit_2(
    job: Path, tmp_path: Path
) -> None:
    result = run(
        "draw", str(job), "--out", str(tmp_path / "out"), "--papers", "invoice"
    )
    assert result.exit_code == 2
    assert result.output.startswith("--papers: can't be invoice; write one of quote")
    assert result.output.count("\n") == 1
    assert not (tmp_path / "out").exists()
