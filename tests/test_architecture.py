"""The house keeps its directions: who may import whom, and what each module says."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

TESTS = Path(__file__).resolve().parent
PACKAGE = TESTS.parent / "shopdraw"

PURE = {"job", "masonry", "review", "quantities", "drawing", "views"}
OURS: dict[str, set[str]] = {
    "__init__": set(),
    "__main__": {"cli"},
    "errors": set(),
    "lengths": {"errors"},
    "catalog": {"lengths", "errors"},
    "job": {"lengths", "errors", "catalog"},
    "masonry": {"job", "lengths", "errors", "catalog"},
    "review": {"masonry", "job", "lengths", "catalog", "errors"},
    "quantities": {"masonry", "job", "lengths", "catalog", "errors"},
    "drawing": {"lengths"},
    "views": {"masonry", "review", "quantities", "drawing", "job", "lengths", "errors"},
    "output": {"drawing", "lengths", "errors"},
    "pipeline": PURE | {"lengths", "errors", "catalog"},
    "cli": {"job", "pipeline", "output", "catalog", "errors"},
}
"""What each room may import of ours, itself apart. A room without a row fails."""

THEIRS: dict[str, set[str]] = {
    "pydantic": {"job"},
    "tomllib": {"job", "catalog"},
    "pint": {"job", "review", "quantities"},
    "shapely": {"masonry"},
    "numpy": {"masonry", "output.image"},
    "ezdxf": {"output.dxf"},
    "matplotlib": {"output.image", "output.plot"},
    "click": {"cli"},
    "icalendar": {"output.calendar"},
    "reportlab": {"output.pdf"},
}
"""Third-party packages, and the only rooms or modules that may use them."""

BRICK_WORDS = ("brick", "mortar", "masonry", "course", "bond", "stretcher", "soldier")


def modules(root: Path = PACKAGE) -> list[Path]:
    return sorted(root.rglob("*.py"))


def name_of(path: Path, root: Path = PACKAGE) -> str:
    return ".".join(path.relative_to(root).with_suffix("").parts)


def imports(source: str) -> Iterator[str]:
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def wrong_imports(name: str, source: str) -> list[str]:
    """Return the imports of a module that its room may not make."""
    room = name.split(".")[0]
    if room not in OURS:
        return [f"{name}: the room {room} has no row"]
    wrong = []
    for imported in imports(source):
        top, *rest = imported.split(".")
        if top == "shopdraw":
            other = rest[0] if rest else ""
            if other and other not in OURS[room] | {room} and other in OURS:
                wrong.append(f"{name} imports {imported}")
        elif top in THEIRS and not any(
            name == place or name.startswith(f"{place}.") for place in THEIRS[top]
        ):
            wrong.append(f"{name} imports {imported}")
    return sorted(set(wrong))


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_a_module_imports_only_what_its_room_may(path: Path) -> None:
    assert wrong_imports(name_of(path), path.read_text()) == []


@pytest.mark.parametrize(
    ("name", "source"),
    [
        ("masonry.bond", "from shopdraw.output import dxf"),
        ("masonry.bond", "import ezdxf"),
        ("output.dxf", "from shopdraw.masonry.layout import Piece"),
        ("output.image", "def f():\n    import ezdxf"),
        ("drawing.ink", "from shopdraw.masonry import bond"),
        ("attic.box", "import os"),
    ],
)
def test_a_wrong_import_is_noticed(name: str, source: str) -> None:
    assert wrong_imports(name, source)


def missing_words(source: str) -> list[str]:
    doc = ast.get_docstring(ast.parse(source)) or ""
    return [word for word in ("In:", "Out:", "Frame:") if word not in doc]


@pytest.mark.parametrize(
    "path",
    [path for path in modules() if path.stem not in ("__init__", "__main__")],
    ids=name_of,
)
def test_a_module_says_what_goes_in_and_out_and_in_which_frame(path: Path) -> None:
    assert missing_words(path.read_text()) == []


def test_a_module_that_says_nothing_is_noticed() -> None:
    assert missing_words('"""In:  a.   Out: b."""') == ["Frame:"]


def brick_words(source: str) -> list[str]:
    return [word for word in BRICK_WORDS if word in source.lower()]


@pytest.mark.parametrize(
    "path", modules(PACKAGE / "drawing") + modules(PACKAGE / "output"), ids=name_of
)
def test_paper_has_never_heard_of_brick(path: Path) -> None:
    assert brick_words(path.read_text()) == []


def test_a_brick_word_on_paper_is_noticed() -> None:
    assert brick_words("# the Course below") == ["course"]


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_a_module_stays_short_enough_to_read(path: Path) -> None:
    assert len(path.read_text().splitlines()) <= 400
    assert path.stem not in {"utils", "helpers", "common", "manager", "base", "data"}


def too_long(source: str) -> bool:
    return len(source.splitlines()) > 500


@pytest.mark.parametrize("path", modules(TESTS), ids=lambda path: name_of(path, TESTS))
def test_a_file_of_tests_stays_short_enough_to_read(path: Path) -> None:
    assert not too_long(path.read_text("utf-8"))


def test_a_file_of_tests_that_grew_too_long_is_noticed() -> None:
    assert too_long("pass\n" * 501)
    assert not too_long("pass\n" * 500)
