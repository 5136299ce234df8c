"""Each key's line is found; a line that is not TOML is answered with what to write."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from shopdraw.errors import BadJob, Fault
from shopdraw.job.faults import dotted
from shopdraw.job.lines import MOST_LINES, line_of
from shopdraw.job.mending import mended
from shopdraw.job.reading import parse_job, read_job
from tests.demos import CONFIGS

TEXT = """\
# A job.
[face]
width = "55 in"

[hearth]
points = [
  ["0 in", "0 in"],
  ["9 in", "1/4 in"],
]

[[trim]]
name = "shelf"
[[trim]]
name = "leg"
size.wide = "2 in"
"""


def line(text: str, key: str, wanted: str = "is wrong") -> int | None:
    return line_of(text, Fault("den.toml", key, "", wanted))


@pytest.mark.parametrize(
    ("key", "found"),
    [
        ("face", 2),
        ("face.width", 3),
        ("face.height", 2),
        ("hearth.points", 6),
        ("hearth.points[2][1]", 6),
        ("trim[1].name", 12),
        ("trim[2]", 13),
        ("trim[2].name", 14),
        ("trim[2].size.wide", 15),
        ("trim[2].projection", 13),
        ("trim[3].name", 11),
        ("[face]", 2),
        ("[brick]", None),
        ("brick.size", None),
    ],
)
def test_a_key_is_found_on_the_line_where_it_begins(key: str, found: int) -> None:
    assert line(TEXT, key) == found
    assert line("\ufeff" + TEXT, key) == found
    if found is not None:
        assert line(f"# One line more.\n{TEXT}", key) == found + 1


def keys_of(value: Any, before: tuple[str | int, ...] = ()) -> list[str]:
    if not isinstance(value, dict):
        return [dotted(before)]
    return [x for key, inner in value.items() for x in keys_of(inner, (*before, key))]


@pytest.mark.parametrize("name", ["library-hearth", "crooked-study"])
def test_each_key_of_a_demo_stands_on_its_line(name: str) -> None:
    """Held against the line itself, which begins with the key's last part."""
    text = (CONFIGS / f"{name}.toml").read_text()
    lines, keys = text.splitlines(), keys_of(tomllib.loads(text))
    assert len(keys) > 15
    for key in keys:
        found = line(text, key)
        assert found is not None, key
        last = key.rpartition(".")[2]
        assert last in lines[found - 1], key


def test_what_is_no_toml_is_found_where_the_parser_stops() -> None:
    for text, wanted in (('[job]\nname = "x\n', 2), ("[job]\n\nname\n", 3)):
        with pytest.raises(BadJob) as caught:
            parse_job(text, "den.toml")
        (fault,) = caught.value.faults
        assert line_of(text, fault) == wanted
    with pytest.raises(BadJob) as caught:
        parse_job("[job]\nname = [", "den.toml")
    assert line_of("[job]\nname = [", caught.value.faults[0]) == 2


def test_a_fault_of_the_whole_file_has_no_line() -> None:
    assert line(TEXT, "", "is larger than 1 MB") is None
    assert line("a = 1\n" * (MOST_LINES + 1), "a") is None
    assert line("not toml\n", "face.width") is None


def test_a_job_that_is_read_says_the_line_of_each_fault(tmp_path: Path) -> None:
    job = tmp_path / "den.toml"
    text = (CONFIGS / "library-hearth.toml").read_text()
    lines = text.splitlines()
    width = next(n for n, line in enumerate(lines, 1) if line.startswith("width"))
    job.write_text(text.replace(lines[width - 1], "width = 55.25", 1))
    with pytest.raises(BadJob) as caught:
        read_job(job)
    (said,) = caught.value.lines()
    assert said.startswith(f"{job}, line {width}: face.width: 55.25 needs quotes")
    # A line more above it is told, so the figure is found and not typed.
    job.write_text("\n" + text.replace(lines[width - 1], "width = 55.25", 1))
    with pytest.raises(BadJob) as caught:
        read_job(job)
    assert f"{job}, line {width + 1}: face.width:" in caught.value.lines()[0]


@pytest.mark.parametrize(
    ("typed", "mend"),
    [
        ("width = \u201c55 1/4 in\u201d", 'width = "55 1/4 in"'),
        ('width = "4\' 7 1/4""', 'width = "4 ft 7 1/4 in"'),
        ("width = 4' 7 1/4\"", 'width = "4 ft 7 1/4 in"'),
        ('width = "55 1/4" in"', 'width = "55 1/4 in"'),
        ("width = 55 1/4 in  # the wall", 'width = "55 1/4 in"'),
        ("  name = \u2018Den\u2019 # ours", 'name = "Den"'),
        ('name = "Den', 'name = "Den"'),
        ("width = [3", ""),
        ("width 5", ""),
        ("width = 5 # sound", ""),
        ('name = "a\\"', ""),
        ("width = " + "1" * 300, ""),
    ],
)
def test_a_line_that_is_not_toml_is_answered_with_what_to_write(
    typed: str, mend: str
) -> None:
    assert mended(typed) == mend
    if mend:
        key = mend.partition(" ")[0]
        with pytest.raises(tomllib.TOMLDecodeError):
            tomllib.loads(typed)
        assert key in tomllib.loads(mend)
        with pytest.raises(BadJob) as caught:
            parse_job(f"[job]\n{typed}\n", "den.toml")
        assert f"; write {mend}" in caught.value.lines()[0]


def test_a_job_without_a_fault_is_not_searched_for_lines(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Places cost a reading of the file for each halving: only a fault needs them."""

    def searched(*_: object) -> int:
        raise AssertionError

    monkeypatch.setattr("shopdraw.job.lines.line_of", searched)
    read_job(CONFIGS / "library-hearth.toml")
    wrong = tmp_path / "den.toml"
    wrong.write_text("[job]\n", encoding="utf-8")
    with pytest.raises(AssertionError):
        read_job(wrong)
