"""What a review says on screen, on the sheets and in the exit code."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from shopdraw.cli import main
from shopdraw.drawing.extents import lettering_of
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import build, solve
from tests.demos import CONFIGS

SAMPLE = (CONFIGS / "library-hearth.toml").read_text("utf-8")
GAS = (CONFIGS / "chimney-breast-gas.toml").read_text("utf-8")


def replaced(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1
    return text.replace(old, new)


def without_manual(text: str) -> str:
    head, _, rest = text.partition("[appliance.manual]")
    return head + rest[rest.index("[[trim]]") :]


@pytest.mark.parametrize(
    ("text", "code", "says"),
    [
        # A frieze board that stands out 2 in where 63/64 in is allowed.
        (
            replaced(SAMPLE, 'projection = "3/4 in"', 'projection = "2 in"'),
            1,
            (
                "FAILED       combustible trim, projection: frieze board",
                "let the frieze board stand out no more than 47/64 in from the brick",
            ),
        ),
        # 21 in of hearth as found, 19 7/8 in before the new face: 20 in are asked.
        (
            replaced(SAMPLE, 'front = "22 in" ', 'front = "21 in" '),
            1,
            (
                "FAILED       hearth extension, front: 19 7/8 in, limit 20 in",
                "extend the noncombustible hearth by 3/8 in to the front",
            ),
        ),
        # A gas unit whose manual nobody has opened.
        (
            without_manual(GAS),
            0,
            (
                "NOT CHECKED  hearth extension, front",
                "the listing and the maker's instructions govern",
            ),
        ),
    ],
    ids=["failing mantel", "hearth eaten", "gas without manual"],
)
def test_a_review_says_the_same_everywhere(
    tmp_path: Path, text: str, code: int, says: tuple[str, ...]
) -> None:
    path = tmp_path / "job.toml"
    path.write_text(text, "utf-8")
    ran = CliRunner().invoke(main, ["check", str(path)])
    assert ran.exit_code == code
    for words in says:
        assert words in ran.output
    solution = solve(parse_job(text, "job.toml"))
    drawn = build(solution)
    lettered = " ".join(
        words.text
        for sheet in drawn.sheets
        for placed in sheet.drawings
        for words, _ in lettering_of(placed.drawing)
    ).lower()
    status = "failed" if code else "not checked"
    assert status in lettered
    rule = says[0].split("  ")[-1].strip().split(":")[0].lower()
    assert rule in lettered
