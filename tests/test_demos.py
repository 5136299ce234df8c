"""The demos: what each shows, and that what is kept of the first is current."""

from __future__ import annotations

import io
from collections.abc import Mapping
from itertools import islice, zip_longest
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from shopdraw.job.reading import parse_job, read_job
from shopdraw.output.manifest import digest_of
from shopdraw.pipeline import build, solve
from shopdraw.review.findings import Rule
from tests import demos
from tests.demos import CONFIGS, kept, set_of, share, solution_of
from tests.whole_sets import held, listed

ROOT = CONFIGS.parent
KEPT = ROOT / "out" / "library-hearth"
TEXT = (".csv", ".json", ".dxf", ".ics")
Files = Mapping[str, bytes]


@pytest.mark.parametrize(
    "name", ["library-hearth", "chimney-breast-gas", "metric-slips"]
)
def test_a_demo_that_lands_has_nothing_failed(name: str) -> None:
    solution = solution_of(name)
    assert solution.is_clear
    assert all(target.lands for target in solution.coursing.targets)
    assert not solution.layout.broken


def test_one_demo_misses_and_shows_the_ways_out() -> None:
    solution = solution_of("cannot-land")
    assert not solution.coursing.lands
    assert len(solution.ways_out) >= 3
    assert not any(finding.status == "failed" for finding in solution.findings)


def test_the_gas_demo_holds_figures_only_against_its_manual() -> None:
    findings = solution_of("chimney-breast-gas").findings
    passed = [
        x for x in findings if x.status == "passed" and x.rule.key.startswith("hearth")
    ]
    assert passed
    for finding in passed:
        assert finding.source_status == "typed by the user"
        assert "meets the figures typed from" in f"{finding.says} {finding.source}"


def test_a_gas_unit_without_its_manual_is_not_checked() -> None:
    text = (CONFIGS / "chimney-breast-gas.toml").read_text("utf-8")
    head, _, rest = text.partition("[appliance.manual]")
    text = head + rest[rest.index("[[trim]]") :]
    findings = solve(parse_job(text, "gas.toml")).findings
    clearances = [
        x for x in findings if x.rule.key.startswith(("hearth", "trim", "beside"))
    ]
    assert clearances
    assert {x.status for x in clearances} == {"not checked"}


def test_what_one_process_made_another_finds_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(demos, "_folders", [])
    drawn = set_of("library-hearth")
    assert kept("one", lambda: "made here") == "made here"
    share(tmp_path)
    # Two drawings are never equal: all that is in them is.
    assert repr(kept("one", lambda: drawn)) == repr(drawn)
    # It is there now: nobody makes it anew, and nothing else is taken for it.
    assert repr(kept("one", lambda: "made anew")) == repr(drawn)
    assert kept("other", lambda: "made anew") == "made anew"
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "demo-one",
        "demo-other",
    ]


def test_a_failing_mantel_fails_the_job() -> None:
    text = (CONFIGS / "library-hearth.toml").read_text("utf-8")
    text = text.replace('projection = "3/4 in"', 'projection = "6 in"')
    solution = solve(parse_job(text, "mantel.toml"))
    assert not solution.is_clear
    failed = [x.rule for x in solution.findings if x.status == "failed"]
    words = "combustible trim, projection: frieze board"
    assert failed == [Rule("trim-projection", words, 1)]
    stamped = build(solution).sheets[0].paper_ink
    assert any("1 ITEM FAILED" in getattr(ink, "text", "") for ink in stamped)


def test_a_hearth_eaten_by_the_build_out_fails() -> None:
    # 21 in as found is enough for 20; less 1/2 bed and 5/8 brick it is 19 7/8.
    text = (CONFIGS / "library-hearth.toml").read_text("utf-8")
    text = text.replace('front = "22 in"', 'front = "21 in"')
    finding = solve(parse_job(text, "x.toml")).finding("hearth-front")
    assert finding is not None
    assert finding.status == "failed"


def test_what_is_kept_of_the_first_demo_is_current(library: dict[str, bytes]) -> None:
    """Text is held byte for byte; pictures by their ink, for other library versions."""
    kept = held(KEPT)
    assert listed(KEPT) == {name: digest_of(data) for name, data in kept.items()}
    again = "if that is meant: shopdraw draw configs/library-hearth.toml"
    assert out_of_date(kept, library) == [], again


def out_of_date(kept: Files, drawn: Files) -> list[str]:
    """Name each file that is not as drawn now, and its first line that is not."""
    wrong = [f"{name}: kept, not drawn" for name in sorted({*kept} - {*drawn})]
    for name, data in drawn.items():
        if name not in kept:
            wrong.append(f"{name}: drawn, not kept")
        elif name.endswith(TEXT):
            lines = (x.decode().splitlines(keepends=True) for x in (kept[name], data))
            pairs = enumerate(zip_longest(*lines, fillvalue=None), start=1)
            differ = ((at, a, b) for at, (a, b) in pairs if a != b)
            for at, old, new in islice(differ, 1):
                wrong.append(f"{name}, line {at}: {old!r} kept, {new!r} drawn")
        elif name.endswith(".png") and ink_differs(kept[name], data) >= 0.002:
            wrong.append(f"{name}: its ink differs")
    return wrong


def test_a_file_that_is_not_current_is_named_with_its_first_line_that_differs(
    library: dict[str, bytes],
) -> None:
    files = library
    assert {name.rpartition(".")[2] for name in files} == {
        *("csv", "json", "dxf", "ics", "png", "pdf", "html")
    }
    for name in (x for x in files if x.endswith(TEXT)):
        lines = files[name].decode().splitlines(keepends=True)
        damaged = "".join((*lines[:2], f"X{lines[2]}", *lines[3:])).encode()
        drawn = {name: files[name]}
        assert out_of_date({name: damaged}, drawn) == [
            f"{name}, line 3: {f'X{lines[2]}'!r} kept, {lines[2]!r} drawn"
        ]
        shorter = "".join(lines[:-1]).encode()
        assert out_of_date(drawn, {name: shorter}) == [
            f"{name}, line {len(lines)}: {lines[-1]!r} kept, None drawn"
        ]
    tables = {name: data for name, data in files.items() if name.endswith(".csv")}
    less = {name: data for name, data in tables.items() if name != "takeoff.csv"}
    assert out_of_date(less, tables) == ["takeoff.csv: drawn, not kept"]
    assert out_of_date(tables, less) == ["takeoff.csv: kept, not drawn"]


def ink_differs(a: bytes, b: bytes) -> float:
    first, second = (
        np.asarray(Image.open(io.BytesIO(data)).convert("L")) < 128 for data in (a, b)
    )
    assert first.shape == second.shape
    return float((first ^ second).mean())


def test_a_picture_that_differs_is_noticed(library: dict[str, bytes]) -> None:
    files = library
    names = [name for name in files if name.endswith(".png")]
    assert ink_differs(files[names[0]], files[names[0]]) == 0
    assert ink_differs(files[names[0]], files[names[1]]) > 0.002
    blank = io.BytesIO()
    Image.new("L", Image.open(io.BytesIO(files[names[0]])).size, 255).save(blank, "PNG")
    wrong = out_of_date({names[0]: blank.getvalue()}, {names[0]: files[names[0]]})
    assert wrong == [f"{names[0]}: its ink differs"]


def test_every_demo_is_read_from_the_folder_of_configs() -> None:
    paths = sorted(CONFIGS.glob("*.toml"))
    assert len(paths) >= 14
    assert all(read_job(Path(path)).job.name for path in paths)
