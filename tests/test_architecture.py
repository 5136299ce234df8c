"""The house keeps its directions: who may import whom, and what each module says.

Every room and every suite (a room inside a room) has a row. What a row does not list,
of ours or of a third party, fails; so does a row that is missing.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "shopdraw"


@dataclass(frozen=True)
class Row:
    """What a room or a suite may do.

    Attributes:
        ours: the rooms and suites it may import from, itself apart.
        theirs: third-party packages it may use; of `output` by module.
        doors: of a suite, the modules that others may open; of a room, all are open.
        is_pure: it touches no file, clock, chance or environment.
        reads: modules that may read the package's own data, or the job file.
    """

    ours: frozenset[str]
    theirs: frozenset[str] = frozenset()
    doors: frozenset[str] | None = None
    is_pure: bool = True
    reads: frozenset[str] = frozenset()


def row(
    ours: str = "",
    theirs: str = "",
    doors: str | None = None,
    *,
    is_pure: bool = True,
    reads: str = "",
) -> Row:
    return Row(
        frozenset(ours.split()),
        frozenset(theirs.split()),
        None if doors is None else frozenset(doors.split()),
        is_pure,
        frozenset(reads.split()),
    )


MASONRY = "job lengths errors catalog"
VIEWS = "solution review quantities drawing job lengths errors"
WALLS = "masonry.wall masonry.coursing masonry.laying masonry.marks masonry.hearth"
ROWS = {
    "": row(),
    "__main__": row("cli errors", is_pure=False),
    "errors": row(),
    "lengths": row("errors"),
    "catalog": row("lengths errors", reads="rows rules weights"),
    "job": row("lengths errors catalog", "pydantic pydantic_core pint",
               reads="file keys reading"),
    "masonry": row(),
    "masonry.wall": row(
        MASONRY,
        doors="arch bond_rules boxes face_panel form folding layout asbuilt printing "
        "surround turning",
    ),
    "masonry.coursing": row(
        f"{MASONRY} masonry.wall", doors="doubting form problem solve ways"
    ),
    "masonry.bond": row(
        f"{MASONRY} masonry.wall masonry.coursing masonry.rows masonry.bonding",
        "numpy",
        doors="corners plan saying solve widths",
    ),
    "masonry.rows": row(
        "",
        "numpy",
        doors="bonds closing sizes forms tables layer judge laps meetings merit "
        "search",
    ),
    "masonry.bonding": row(
        "masonry.rows", "numpy", doors="answer legs"
    ),
    "masonry.heads": row(
        f"{MASONRY} masonry.wall masonry.coursing masonry.sawing",
        "shapely",
        doors="soldiers arches arch_words bands parts placing shares",
    ),
    "masonry.sawing": row(
        f"{MASONRY} masonry.wall masonry.coursing", "shapely",
        doors="clipping fillets keep_out mending mirroring shapes squaring tips "
        "wedges",
    ),
    "masonry.laying": row(
        f"{MASONRY} masonry.wall masonry.coursing masonry.bond masonry.bonding "
        "masonry.rows masonry.heads masonry.sawing masonry.inset",
        "numpy shapely",
        doors="form lay cuts cut_lines outlines measure pieces proof",
    ),
    "masonry.panels": row(
        "job masonry.wall masonry.sawing",
        doors="choosing cutting fill form judging laying pieces",
    ),
    "masonry.inset": row(
        f"{MASONRY} masonry.wall masonry.coursing masonry.heads masonry.panels "
        "masonry.sawing",
        "shapely",
        doors="lay proof refusing stopping",
    ),
    "masonry.hearth": row(
        f"{MASONRY} masonry.wall masonry.coursing masonry.heads masonry.laying "
        "masonry.panels",
        "shapely",
        doors="cuts form ground lay proof",
    ),
    "masonry.marks": row(
        f"{MASONRY} masonry.wall masonry.coursing",
        doors="form rule_marks setting_out templates variation",
    ),
    "review": row(
        f"{MASONRY} masonry.wall masonry.coursing masonry.marks masonry.hearth "
        "masonry.panels masonry.sawing"
    ),
    "quantities": row(
        f"{MASONRY} masonry.wall masonry.coursing masonry.heads masonry.laying "
        "masonry.hearth masonry.marks",
        "pint",
    ),
    "solution": row(
        "masonry.wall masonry.coursing masonry.hearth masonry.marks review quantities "
        "job lengths"
    ),
    "drawing": row("lengths errors"),
    "drawing.dividing": row("drawing drawing.jutting drawing.match_lines", "shapely"),
    "drawing.in_the_way": row("drawing", "shapely"),
    "drawing.jutting": row("drawing drawing.match_lines", "shapely"),
    "drawing.match_lines": row("drawing", "shapely"),
    "drawing.striking": row("drawing", "shapely numpy"),
    "drawing.extension_lines": row("drawing", "numpy"),
    "views": row(),
    "views.parts": row(
        f"{VIEWS} {WALLS} ", "shapely",
        doors="aslant clouds courses figures floor found ground heights phrases stamps "
        "strings",
    ),
    "views.brick": row(
        f"{VIEWS} {WALLS} views.parts", "numpy shapely",
        doors="around leaders marks old_brick plumb units",
    ),
    "views.wall": row(
        f"{VIEWS} {WALLS} views.parts views.brick drawing.match_lines", "shapely",
        doors="bare corner edges elevation inside plans returns sections "
        "standing turned",
    ),
    "views.section": row(
        f"{VIEWS} {WALLS} views.parts views.brick drawing.match_lines", doors="upright"
    ),
    "views.picture": row(
        f"{VIEWS} {WALLS} views.parts", doors="appearance in_photo"
    ),
    "views.hearth": row(
        f"{VIEWS} {WALLS} views.parts views.brick views.wall",
        doors="asked edge extension plan riser",
    ),
    "views.words": row(
        f"{VIEWS} {WALLS} views.parts views.brick", "pydantic typing_extensions",
        doors="compared notes record record_form report schedules tables",
    ),
    "views.making": row(
        f"{VIEWS} {WALLS} views.parts views.brick views.words",
        doors="cut_pieces labels mitred_units poles sizes templates ticket",
    ),
    "views.page": row(
        f"{VIEWS} {WALLS} views.parts views.brick views.making views.words",
        doors="lists make troubles",
    ),
    "views.review": row(
        f"{VIEWS} {WALLS} views.parts views.words views.every",
        doors="page where",
    ),
    "views.papers": row(
        f"{VIEWS} {WALLS} views.parts views.picture", doors="asked options"
    ),
    "views.general": row(f"{VIEWS} {WALLS} views.parts views.brick"),
    "views.every": row(
        f"{VIEWS} {WALLS} views.parts views.wall views.section views.hearth"
    ),
    "views.seen_from": row(f"{VIEWS} {WALLS} views.parts"),
    "views.sights": row(
        f"{VIEWS} views.seen_from drawing.in_the_way", "numpy shapely"
    ),
    "views.levels": row(f"{VIEWS} views.parts"),
    "views.projection": row(
        f"{VIEWS} drawing.dividing drawing.extension_lines drawing.striking "
        "views.every views.sights views.levels"
    ),
    "views.front": row(
        f"{VIEWS} drawing.extension_lines views.wall views.projection"
    ),
    "views.purposes": row(
        f"{VIEWS} views.words views.parts views.making views.projection "
        "views.review views.general"
    ),
    "views.set": row(
        f"{VIEWS} views.parts views.making views.papers views.review "
        "views.projection views.general views.purposes"
    ),
    "views.expected": row(
        f"{VIEWS} {WALLS} views.parts views.brick views.wall views.hearth "
        "views.making views.general drawing.dividing", "shapely",
        doors="sheets",
    ),
    "views.form_ink": row("drawing"),
    "views.survey_form": row("catalog review drawing lengths errors views.form_ink"),
    "views.survey_overleaf": row("catalog drawing lengths views.form_ink"),
    "output": row("drawing lengths errors", is_pure=False, reads="policy"),
    "output.calendar": row("drawing", "icalendar", is_pure=False),
    "output.dxf": row("drawing lengths output", "ezdxf", is_pure=False),
    "output.dxf_dimensions": row("drawing lengths output", "ezdxf", is_pure=False),
    "output.dxf_words": row("drawing", "ezdxf", is_pure=False),
    "output.hatches": row("drawing", "ezdxf", is_pure=False),
    "output.image": row("drawing output", "matplotlib numpy PIL", is_pure=False),
    "output.inked": row("drawing lengths", "numpy", is_pure=False),
    "output.packing": row("", "numpy", is_pure=False),
    "output.picture_reading": row("drawing output", "numpy PIL", is_pure=False),
    "output.pdf": row("drawing output", "reportlab", is_pure=False),
    "output.photo": row("drawing errors output", "PIL numpy", is_pure=False),
    "output.plot": row("drawing", "matplotlib", is_pure=False),
    "output.publish": row("drawing errors output", "filelock", is_pure=False),
    "pipeline": row(
        f"{MASONRY} {WALLS} masonry.bond masonry.heads review quantities solution "
        "drawing views.front views.set views.expected views.parts views.page "
        "views.papers "
        "views.picture views.wall views.words"
    ),
    "serving": row("errors", is_pure=False),
    "serving.saves": row("", "watchdog", is_pure=False),
    "cli": row(
        "job pipeline solution output output.pdf output.photo output.publish catalog "
        "errors "
        "quantities views.words views.page serving serving.saves drawing "
        "views.survey_form views.survey_overleaf",
        "click", is_pure=False,
    ),
}  # fmt: skip
"""`cli` reads the terminal and the environment, `output` writes, `serving` answers a
browser and is told of saves: none is pure."""

IMPURE = {
    "os", "io", "time", "random", "secrets", "uuid", "tempfile", "shutil", "pathlib",
    "subprocess", "socket", "multiprocessing", "threading", "sys", "glob", "locale",
}  # fmt: skip
"""Of the standard library: what a pure room imports none of."""
READERS = {"pathlib", "importlib"}
"""What those may import all the same that read the package's data, or the job file."""
IMPURE_NAMES = {"open", "input", "print", "environ", "getenv", "now", "today", "utcnow"}

BRICK_WORDS = ("brick", "mortar", "masonry", "course", "bond", "stretcher", "soldier")


def modules(root: Path = PACKAGE) -> list[Path]:
    return sorted(root.rglob("*.py"))


def name_of(path: Path, root: Path = PACKAGE) -> str:
    return ".".join(path.relative_to(root).with_suffix("").parts)


NAMES = {name_of(path).removesuffix("__init__").strip(".") for path in modules()}


SPLIT = {place.partition(".")[0] for place in ROWS if place.startswith(("m", "v"))}
"""The rooms that are suites and nothing else."""


def place_of(name: str) -> str:
    """Return the row that a module belongs to: its own, its suite's, or its room's."""
    name = "" if name == "__init__" else name.removesuffix(".__init__")
    place = name
    while place and place not in ROWS:
        place = place.rpartition(".")[0]
    if name and (not place or (place in SPLIT and place != name)):
        return "none"
    return place


@cache
def nodes_of(source: str) -> tuple[ast.AST, ...]:
    """Return all that a module is made of, read once for all that look at it."""
    return tuple(ast.walk(ast.parse(source)))


@cache
def imports(source: str) -> tuple[str, ...]:
    """Return what a module imports, wherever in it: a module where it names one."""
    return tuple(_imports(source))


def _imports(source: str) -> Iterator[str]:
    for node in nodes_of(source):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                whole = f"{node.module}.{alias.name}"
                is_ours = whole.removeprefix("shopdraw.") in NAMES
                yield whole if is_ours else node.module


def wrong_imports(name: str, source: str) -> list[str]:
    """Return the imports of a module that its row does not list."""
    own = place_of(name)
    if own == "none":
        return [f"{name}: has no row"]
    wrong = []
    for imported in imports(source):
        top, _, rest = imported.partition(".")
        if top != "shopdraw":
            is_standard = top in sys.stdlib_module_names
            if not is_standard and top not in ROWS[own].theirs:
                wrong.append(f"{name} imports {imported}")
            continue
        other = place_of(rest or "__init__")
        room = other.partition(".")[0]
        is_at_home = other == own or (own.startswith("output") and room == "output")
        if is_at_home or not other:
            continue
        doors = ROWS[other].doors if other in ROWS else None
        is_closed = doors is not None and rest.rpartition(".")[2] not in doors
        if other not in ROWS[own].ours or is_closed:
            wrong.append(f"{name} imports {imported}")
    return sorted(set(wrong))


def amiss(
    paths: Iterable[Path], wrong: Callable[[str, str], list[str]]
) -> dict[str, list[str]]:
    """Return what is wrong, by the name of the module; nothing of those in order.

    Args:
        paths: the modules' files.
        wrong: what tells it, of a module's name and its source.
    """
    said = {name_of(path): wrong(name_of(path), path.read_text()) for path in paths}
    return {name: some for name, some in said.items() if some}


def test_a_module_imports_only_what_its_row_lists() -> None:
    assert amiss(modules(), wrong_imports) == {}


def test_each_module_is_looked_at_and_a_wrong_one_is_named() -> None:
    assert [*amiss(modules(), lambda name, _: [name])] == [*map(name_of, modules())]
    assert len(modules()) > 200
    found = amiss(modules(), lambda _, source: ["mine"] * ("class Piece:" in source))
    assert found == {"masonry.wall.layout": ["mine"]}


@pytest.mark.parametrize(
    ("name", "source"),
    [
        ("masonry.laying.lay", "from shopdraw.output import dxf"),
        ("masonry.laying.lay", "import ezdxf"),
        ("masonry.coursing.solve", "from shopdraw.masonry.bond.runs import Run"),
        ("masonry.wall.surround", "from shopdraw.masonry.coursing.form import Course"),
        ("masonry.laying.lay", "from shopdraw.masonry.coursing.joints import Room"),
        ("masonry.bond.plan", "from shopdraw.solution import Solution"),
        ("views.wall.plans", "from shopdraw.views.set import compose_sheets"),
        ("views.brick.units", "from shopdraw.views.wall import plans"),
        ("views.words.report", "import a_package_of_somebody"),
        ("review.hearth", "import requests"),
        ("drawing.ink", "import numpy"),
        ("output.dxf", "from shopdraw.masonry.wall.layout import Piece"),
        ("output.image", "def f():\n    import ezdxf"),
        ("drawing.ink", "from shopdraw.masonry.laying import lay"),
        ("attic.box", "import os"),
        ("views.attic.box", "import os"),
        ("cli.door", "from shopdraw.masonry.wall.form import Face"),
    ],
)
def test_a_wrong_import_is_noticed(name: str, source: str) -> None:
    assert wrong_imports(name, source)


def test_every_row_has_its_room() -> None:
    rooms = {place for place in ROWS if place and not (PACKAGE / place).exists()}
    there = {name for name in rooms if name in NAMES}
    assert rooms == there


def circles(edges: dict[str, set[str]]) -> list[tuple[str, ...]]:
    """Return the sets of modules that import one another, round about or not."""

    def reached(start: str) -> set[str]:
        seen, waiting = set[str](), [start]
        while waiting:
            for other in edges.get(waiting.pop(), set()) - seen:
                seen.add(other)
                waiting.append(other)
        return seen

    reach = {name: reached(name) for name in edges}
    found = {
        tuple(sorted(x for x in reach[name] if name in reach.get(x, ())))
        for name in edges
        if name in reach[name]
    }
    return sorted(found)


def edges_between(place: bool) -> dict[str, set[str]]:
    """Return who imports whom, by module or by the rows they belong to."""
    edges: dict[str, set[str]] = {}
    for path in modules():
        name = name_of(path).removesuffix(".__init__")
        mine = place_of(name) if place else name
        for imported in imports(path.read_text()):
            other = imported.removeprefix("shopdraw.")
            if other == imported or other not in NAMES:
                continue
            theirs = place_of(other) if place else other
            if theirs != mine:
                edges.setdefault(mine, set()).add(theirs)
    return edges


@pytest.mark.parametrize("by_place", [False, True], ids=["modules", "suites"])
def test_nobody_imports_in_a_circle(by_place: bool) -> None:
    edges = edges_between(by_place)
    if by_place:
        # The writers have rows of their own for their packages, in one room.
        edges = {
            a: {x for x in b if not (a.startswith("output") and x.startswith("output"))}
            for a, b in edges.items()
        }
    assert circles(edges) == []


def test_a_circle_is_noticed() -> None:
    assert circles({"a": {"b"}, "b": {"c"}, "c": {"a"}, "d": {"a"}}) == [
        ("a", "b", "c")
    ]


def impurities(name: str, source: str) -> list[str]:
    """Return what a module of a pure room takes from outside its arguments."""
    own = ROWS[place_of(name)]
    if not own.is_pure:
        return []
    may_read = name.rpartition(".")[2] in own.reads
    wrong = []
    for imported in imports(source):
        top = imported.partition(".")[0]
        if top in IMPURE - (READERS if may_read else set()):
            wrong.append(imported)
        if imported == "importlib" and not may_read:
            wrong.append(imported)
    for node in nodes_of(source):
        called = ""
        if isinstance(node, ast.Name):
            called = node.id
        elif isinstance(node, ast.Attribute):
            called = node.attr
        if called in IMPURE_NAMES and not (called == "open" and may_read):
            wrong.append(called)
    return wrong


def test_a_pure_room_takes_nothing_from_outside() -> None:
    assert amiss(modules(), impurities) == {}


@pytest.mark.parametrize(
    ("name", "source"),
    [
        ("masonry.wall.surround", "open('x')"),
        ("review.hearth", "from datetime import date\ndate.today()"),
        ("review.hearth", "from datetime import datetime\ndatetime.now()"),
        ("quantities.takeoff", "import random"),
        ("views.set", "from os import environ"),
        ("drawing.sheets", "import time"),
        ("solution", "from pathlib import Path"),
        ("job.model", "from importlib import resources"),
        ("catalog.statuses", "from pathlib import Path"),
    ],
)
def test_what_is_not_pure_is_noticed(name: str, source: str) -> None:
    assert impurities(name, source)


def missing_words(source: str) -> list[str]:
    module = nodes_of(source)[0]
    assert isinstance(module, ast.Module)
    doc = ast.get_docstring(module) or ""
    return [word for word in ("In:", "Out:", "Frame:") if word not in doc]


def test_a_module_says_what_goes_in_and_out_and_in_which_frame() -> None:
    paths = [x for x in modules() if x.stem not in ("__init__", "__main__")]
    assert amiss(paths, lambda _, source: missing_words(source)) == {}


def test_a_module_that_says_nothing_is_noticed() -> None:
    assert missing_words('"""In:  a.   Out: b."""') == ["Frame:"]


def brick_words(source: str) -> list[str]:
    return [word for word in BRICK_WORDS if word in source.lower()]


def test_paper_has_never_heard_of_brick() -> None:
    paths = modules(PACKAGE / "drawing") + modules(PACKAGE / "output")
    assert amiss(paths, lambda _, source: brick_words(source)) == {}


def test_a_brick_word_on_paper_is_noticed() -> None:
    assert brick_words("# the Course below") == ["course"]


def test_a_module_stays_short_enough_to_read() -> None:
    long = amiss(modules(), lambda _, source: source.splitlines()[400:])
    assert [*long] == []
    called = {"utils", "helpers", "common", "manager", "base", "data"}
    assert [path for path in modules() if path.stem in called] == []


def suite_sizes() -> dict[str, int]:
    return {
        place: sum(path.stem != "__init__" for path in folder.glob("*.py"))
        for place in ROWS
        if "." in place and (folder := PACKAGE / place.replace(".", "/")).is_dir()
    }


def test_a_suite_has_a_dozen_modules_at_most() -> None:
    assert all(0 < count <= 12 for count in suite_sizes().values()), suite_sizes()
