"""The wheel: built, installed elsewhere, and used from an empty folder."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    words = [
        "-m",
        "build",
        "--wheel",
        "--no-isolation",
        "--outdir",
        str(folder),
        str(ROOT),
    ]
    done = subprocess.run([sys.executable, *words], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    (path,) = folder.glob("*.whl")
    return path


def test_the_wheel_holds_the_package_its_data_and_nothing_else(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert "shopdraw/catalog/rules.toml" in names
    assert "shopdraw/job/starter.toml" in names
    assert {"shopdraw/output/page.css", "shopdraw/output/page.js"} <= {*names}
    tops = {name.split("/")[0] for name in names}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"shopdraw"}


def test_the_wheel_works_installed_from_an_empty_folder(
    wheel: Path, tmp_path: Path
) -> None:
    site, empty = tmp_path / "site", tmp_path / "empty"
    empty.mkdir()
    pip = [
        "-m",
        "pip",
        "install",
        "--quiet",
        "--no-deps",
        "--target",
        str(site),
        str(wheel),
    ]
    subprocess.run([sys.executable, *pip], check=True, capture_output=True)
    environment = {**os.environ, "PYTHONPATH": str(site), "PYTHONSAFEPATH": "1"}

    def shopdraw(*words: str) -> str:
        code = (
            "import shopdraw, sys; from shopdraw.cli import main; "
            f"assert shopdraw.__file__.startswith({str(site)!r}); main({list(words)!r})"
        )
        done = subprocess.run(
            [sys.executable, "-c", code],
            cwd=empty,
            env=environment,
            capture_output=True,
            text=True,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    assert "modular" in shopdraw("sizes")
    shopdraw("new", "den.toml")
    assert "lands" in shopdraw("check", "den.toml")


def lowest(folder: Path) -> subprocess.CompletedProcess[str]:
    """Ask for the lowest versions that a folder's `pyproject.toml` admits."""
    words = [sys.executable, str(ROOT / ".ci" / "lowest.py")]
    return subprocess.run(words, cwd=folder, capture_output=True, text=True)


def test_the_demos_are_drawn_by_the_lowest_version_of_each_library() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    lines = lowest(ROOT).stdout.splitlines()
    pinned = dict(line.split("==") for line in lines)
    assert len(pinned) == len(lines) == len(project["dependencies"])
    for wanted in project["dependencies"]:
        name, _, versions = wanted.partition(">=")
        assert pinned[name] == versions.partition(",")[0]
    # By the script that installs them so, every demo there is.
    run = (ROOT / ".ci" / "run").read_text("utf-8")
    assert "lowest.py" in run
    assert "--constraint" in run
    assert "configs/*.toml" in run


@pytest.mark.parametrize("wanted", ["ezdxf", "ezdxf<1.5", "ezdxf==1.4"])
def test_a_library_without_a_lowest_version_is_refused(
    tmp_path: Path, wanted: str
) -> None:
    text = f'[project]\ndependencies = ["numpy>=1.26", "{wanted}"]\n'
    (tmp_path / "pyproject.toml").write_text(text, "utf-8")
    refused = lowest(tmp_path)
    assert refused.returncode != 0
    assert refused.stderr.startswith(f"{wanted}: a dependency needs a lowest version")
