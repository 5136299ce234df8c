"""A fault's line: found for every key of the demos, and for those that are missing."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from shopdraw.errors import BadJob, Fault
from shopdraw.job.faults import dotted
from shopdraw.job.lines import MOST_LINES, line_of
from shopdraw.job.reading import parse_job
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
