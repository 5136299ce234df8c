"""Hostile names of layers and keys, and hostile words of the command line."""

from __future__ import annotations

import io
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner, Result

from shopdraw.cli import main
from shopdraw.drawing.set import FileForm
from shopdraw.errors import BadJob, NotProved, NotPublished
from shopdraw.job.reading import parse_job
from shopdraw.output.dxf import write_bare_dxf
from tests.hostile import (
    job_text,
    tables_of,
)
from tests.hostile_sets import mixed, refusals


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


LAYERS = (
    *("", "A B", "A/B", "a\u0301", "X\n", "\x1b[31m", "*X", "A|B", "W" * 32, "%%c"),
    *("0", "Defpoints", "VIEWPORTS"),
)


@pytest.mark.parametrize("name", LAYERS, ids=ascii)
def test_a_layer_cant_be_called_what_a_dxf_file_cant_call_it(name: str) -> None:
    tables = tables_of()
    tables["layers"]["own"] = {"A-ELEV-OTLN": name}
    (line,) = refusals(tables)
    assert line.startswith('den.toml: layers.own.A-ELEV-OTLN: "')


@pytest.mark.parametrize(
    "name", ["", "A[x", "A[1]", "a.b", "\x1b[0m", "\u202e"], ids=ascii
)
def test_a_layer_that_there_is_not_is_refused(name: str) -> None:
    tables = tables_of()
    tables["layers"]["own"] = {name: "X"}
    (line,) = refusals(tables)
    assert line.startswith("den.toml: layers.own.")


def test_layers_may_change_their_names_over() -> None:
    own = {
        "A-ANNO-NOTE": "A-ANNO-DIMS",
        "A-ANNO-DIMS": "A-ANNO-NOTE",
        "A-ELEV-OTLN": "CON",
    }
    form = FileForm(layers=tuple(own.items()))
    usual, named = (
        ezdxf.read(io.StringIO(write_bare_dxf(mixed().bare, "in", each).decode()))
        for each in (FileForm(), form)
    )
    assert [str(error) for error in named.audit().errors] == []
    for before, after in zip(usual.modelspace(), named.modelspace(), strict=True):
        assert after.dxf.layer == own.get(before.dxf.layer, before.dxf.layer)


@pytest.mark.parametrize(
    "key",
    ["\x1b[31mred", "a\nb", "\x1b]0;t\x07", "\u202e", "\x9b1m", "k" * 9_000, ""],
    ids=lambda key: ascii(key[:9]),
)
def test_a_key_that_is_said_again_is_printable(key: str) -> None:
    for table in (None, "job", "layers", "trim"):
        tables = tables_of()
        place = tables[table] if table else tables
        place = place[0] if isinstance(place, list) else place
        place[key] = 1
        assert len(refusals(tables)) == 1


@pytest.mark.parametrize(
    "text", ["[" * 3_000 + "]" * 3_000, "{a=" * 99 + "1" + "}" * 99]
)
def test_what_is_nested_without_end_is_refused(text: str) -> None:
    for line in (f"a = {text}\n", "a." * 3_000 + "a = 1\n", f"[job.{'a.' * 3_000}a]\n"):
        with pytest.raises(BadJob) as caught:
            parse_job(f"{line}", "den.toml")
        assert caught.value.lines() == (
            "den.toml: has tables nested too deep; follow what `shopdraw new` writes",
        )


@pytest.mark.parametrize(
    "error", [NotPublished("\x1b[31m\udcff: no"), NotProved(("\x1b[31m\udcff: no",))]
)
def test_what_is_said_of_a_fault_is_printable(error: NotPublished | NotProved) -> None:
    assert error.lines() == ("?[31m?: no",)


@pytest.mark.parametrize(
    "words",
    [
        ("check", "\x1b[31m.toml"),
        ("compare", "den.toml", "--size", "\x1b[31m"),
        ("compare", "den.toml", "--bond", "\u202e"),
        ("remeasure", "den.toml", "--course", "1", "--top", '\x1b[31m"]'),
        ("explain", "\x1b[31m"),
    ],
    ids=ascii,
)
def test_words_of_the_command_line_are_said_again_printably(
    words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "den.toml").write_text(job_text(tables_of()), "utf-8")
    result = run(*words)
    assert result.exit_code == 2
    assert all(line.isprintable() for line in result.output.splitlines())
    assert [path.name for path in tmp_path.iterdir()] == ["den.toml"]


def test_a_file_with_a_hostile_name_is_drawn_in_a_folder_of_that_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    name = "=x 'q\" $HOME ~ *; \u00e9\u706b \\y.toml.toml"
    Path(name).write_text(job_text(tables_of()), "utf-8")
    assert run("draw", "--sheets", "labels", "--out", "out", name).exit_code == 1
    (folder,) = Path("out").iterdir()
    assert folder.name == name.removesuffix(".toml")
    assert {path.name for path in tmp_path.iterdir()} == {name, "out"}
