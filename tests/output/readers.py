"""Whoever reads the DXF files of a set, and says how they differ from what was drawn.

In:  `Solution`, `DrawingSet`, its DXF files by name.   Out: a `Difference` each.
Frame: each says its own.

Five that share no code with one another: ours by group codes, ezdxf with its audit,
GDAL through pyogrio, the npm package `dxf`, its version pinned beside its script, and
libdime, by `records_read`. The last two want to be installed; where that can't be, they
are not asked. ezdxf also writes the files, so it doesn't count where it says that a
point is right. Of the others, these see:

- units, their tags and outlines; lettering; figures as drawn: ours, GDAL, npm
- a dimension drawn anew by its style, its ends, words typed over: ours, libdime
- viewports: ours, npm; that they are locked: ours, npm, libdime
- notes as MTEXT, each a paragraph: GDAL, libdime; what they say: ours, npm, too
- hatches, their pattern and corners: ours, libdime
- plot settings: ours, libdime; the layout's name and size: ours, npm, libdime
- the front alone about its base point: GDAL, npm
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pyogrio
from shapely import from_wkb

from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.set import DrawingSet, FileForm
from shopdraw.drawing.sheets import Sheet
from shopdraw.output.comparing import compare
from shopdraw.output.readback import Found
from shopdraw.output.write import sheet_stem
from shopdraw.solution import Solution
from tests.output.dxf_items import ITEMS, read_back
from tests.output.records_read import lettered_on, read_records, records_wrong

SCRIPT = Path(__file__).resolve().parent / "reader"
READERS = ("own", "ezdxf", "GDAL", "npm", "libdime")
NEAR = 1e-6
Files = Mapping[str, bytes]


@dataclass(frozen=True)
class Difference:
    """What one reader finds in one file and was not drawn, or the other way round."""

    reader: str
    file: str
    what: str

    def __str__(self) -> str:
        return f"{self.file}: {self.reader}: {self.what}"


def sheet_names(drawn: DrawingSet) -> list[str]:
    """Return the name of each sheet's DXF file, in order."""
    return [f"{sheet_stem(sheet)}.dxf" for sheet in drawn.sheets]


def differences(
    solution: Solution, drawn: DrawingSet, files: Files
) -> list[Difference]:
    """Return what our reader, ezdxf and GDAL find otherwise than it was drawn."""
    found = []
    sheets = zip(sheet_names(drawn), drawn.sheets, drawn.expected, strict=True)
    for name, sheet, expected in sheets:
        wrong = compare(read_back(files[name]), expected, drawn.lengths, drawn.form)
        data = in_own_names(files[name], drawn.form)
        seen = read_back(data)
        said = {
            "own": wrong,
            "ezdxf": items_wrong(data),
            "GDAL": [*gdal_differences(data, seen), *gdal_notes(data, sheet)],
        }
        found += [
            Difference(reader, name, what)
            for reader, lines in said.items()
            for what in lines
        ]
    data = files["surround.dxf"]
    said = {
        "own": compare(read_back(data), drawn.bare_expected, drawn.lengths, drawn.form),
        "GDAL": [
            *gdal_units(data, solution),
            *gdal_outlines(in_own_names(data, drawn.form), solution),
        ],
    }
    return found + [
        Difference(reader, "surround.dxf", what)
        for reader, lines in said.items()
        for what in lines
    ]


def in_own_names(data: bytes, form: FileForm) -> bytes:
    """Return a file with the set's own names of layers, for readers that go by them."""
    for name, called in form.layers:
        data = data.replace(b"\n%s\n" % called.encode(), b"\n%s\n" % name.encode())
    return data


def items_wrong(data: bytes) -> list[str]:
    """Return each item of a sheet that does not open right, as ezdxf has it."""
    return [f"{item}: {x}" for item, complain in ITEMS.items() for x in complain(data)]


# GDAL.


def _gdal(data: bytes, *, inline: bool = False) -> tuple[dict[str, Any], Any]:
    """Return columns by name, and shapes; blocks drawn in place if wanted."""
    pyogrio.set_gdal_config_options({"DXF_INLINE_BLOCKS": inline})
    meta, _, shapes, columns = pyogrio.raw.read(data, layer="entities")
    return dict(zip(meta["fields"], columns, strict=True)), shapes


def gdal_differences(data: bytes, found: Found) -> list[str]:
    """Return how GDAL's units, their IDs, lettering and figures differ from ours."""
    table, _ = _gdal(data)
    rows = [
        dict(zip(table, row, strict=True)) for row in zip(*table.values(), strict=True)
    ]
    model = [row for row in rows if row["PaperSpace"] != 1]
    ids = [
        pair.removeprefix("ID ")
        for row in model
        if row["BlockName"] and row["BlockAttributes"] is not None
        for pair in row["BlockAttributes"]
        if pair.startswith("ID ")
    ]
    wrong = []
    if ids != [dict(insert.tags)["ID"] for insert in found.inserts]:
        wrong.append(f"{len(ids)} units, of {len(found.inserts)}, or other IDs")
    # GDAL gives a hatch the name of its pattern for a text.
    lettered = (row for row in model if "Hatch" not in row["SubClasses"])
    texts = Counter(row["Text"] for row in lettered if row["Text"])
    wanted = Counter((*found.words, *(measure.words for measure in found.measures)))
    wrong += [f"{text!r} is lettered for it alone" for text in texts - wanted]
    wrong += [f"{text!r} is lettered for us alone" for text in wanted - texts]
    return wrong


def gdal_notes(data: bytes, sheet: Sheet) -> list[str]:
    """Return how the texts that are paragraphs for GDAL differ from those drawn."""
    table, _ = _gdal(data)
    rows = zip(table["SubClasses"], table["Text"], strict=True)
    there = Counter(text for kind, text in rows if "AcDbMText" in kind)
    wanted, _ = lettered_on(sheet)
    return [f"{text[:40]!r} is a paragraph for GDAL" for text in there - wanted] + [
        f"{text[:40]!r} is no paragraph for GDAL" for text in wanted - there
    ]


def gdal_units(data: bytes, solution: Solution) -> list[str]:
    """Return how the units of the bare drawing differ from the pieces laid."""
    table, _ = _gdal(data)
    tags = [
        dict(pair.split(" ", 1) for pair in row)
        for row in table["BlockAttributes"]
        if row is not None and len(row)
    ]
    wrong = []
    ids = Counter(tag["ID"] for tag in tags)
    wrong += [f"{name} is there {ids[name]} times" for name in ids if ids[name] > 1]
    laid = {piece.id for piece in solution.layout.pieces}
    wrong += [f"{name} is not laid, or not there" for name in sorted(laid ^ set(ids))]
    marks = Counter(tag["MARK"] for tag in tags)
    listed = Counter({row.mark: row.count for row in solution.cut_list})
    if solution.hearth is not None:
        # The bare drawing is of the face; the hearth's pieces are on the sheets alone.
        listed -= Counter(piece.mark for piece in solution.hearth.layout.pieces)
    if marks != listed:
        wrong.append("marks are counted otherwise than in the cut list")
    return wrong


def gdal_outlines(data: bytes, solution: Solution) -> list[str]:
    """Return which pieces have no outline where they should be.

    On the front that is where they are laid, from the centre of the opening. What turns
    back lies apart: each face as a whole, at its own side, a foot or 300 mm from the
    front at least.
    """
    table, shapes = _gdal(data, inline=True)
    found: dict[bool, set[Outline]] = {True: set(), False: set()}
    for layer, shape in zip(table["Layer"], shapes, strict=True):
        if layer in UNIT_LAYERS and shape is not None:
            bounds = from_wkb(shape).bounds
            if bounds[2] > bounds[0] and bounds[3] > bounds[1]:
                found["RETN" in layer].add(_rounded(bounds))
    centre = float(solution.surround.opening.centre)
    by_face: dict[str, list[tuple[str, Outline]]] = {}
    for piece in solution.layout.pieces:
        for o in piece.outlines:
            sides = (o.left - centre, o.bottom, o.right - centre, o.top)
            outline = _rounded(float(x) for x in sides)
            by_face.setdefault(o.face, []).append((piece.id, outline))
    wrong = _elsewhere(by_face.pop("front"), found[False], 0.0)
    front = solution.surround.front
    ends = (float(front.left) - centre, float(front.right) - centre)
    for face, outlines in by_face.items():
        wrong += _apart_wrong(face, outlines, found[True], ends)
    return wrong


Outline = tuple[float, ...]
UNIT_LAYERS = (
    "A-ELEV-MSNR",
    "A-ELEV-MSNR-CORN",
    "A-ELEV-RETN-MSNR",
    "A-ELEV-RETN-CORN",
)
LEAST_APART = 12.0
"""A foot; of a job in millimetres, which stands 300 off, that is little enough."""


def _rounded(sides: Iterable[float]) -> Outline:
    return tuple(round(x, 6) for x in sides)


def _elsewhere(
    outlines: list[tuple[str, Outline]], found: set[Outline], aside: float
) -> list[str]:
    """Return the pieces that have no outline so far aside."""
    wrong = []
    for name, (left, low, right, high) in outlines:
        box = _rounded((left + aside, low, right + aside, high))
        if box not in found and not any(_near(box, other) for other in found):
            wrong.append(f"{name} is elsewhere")
    return wrong


def _apart_wrong(
    face: str,
    outlines: list[tuple[str, Outline]],
    found: set[Outline],
    front: tuple[float, float],
) -> list[str]:
    """Return what is wrong with a face that is to lie apart from the front."""
    first = outlines[0][1]
    alike = [x for x in found if abs(x[1] - first[1]) < NEAR > abs(x[3] - first[3])]
    moves = [x[0] - first[0] for x in alike]
    best = min(
        (_elsewhere(outlines, found, move) for move in moves),
        key=len,
        default=[f"{face} is missing"],
    )
    if best:
        return best
    # Two faces may be alike: one of the places must be its own.
    is_left = face.startswith("left")
    offs = [
        front[0] - max(x[2] + at for _, x in outlines)
        if is_left
        else min(x[0] + at for _, x in outlines) - front[1]
        for at in moves
        if not _elsewhere(outlines, found, at)
    ]
    if max(offs) >= LEAST_APART - NEAR:
        return []
    return [f"{face} is {max(offs)} from the front"]


def _near(a: Sequence[float], b: Sequence[float]) -> bool:
    return all(abs(x - y) < 2 * NEAR for x, y in zip(a, b, strict=True))


# npm.


def npm_folder(shared: Path | None, own: Path) -> Path:
    """Return where the reader is installed once for every process of a run."""
    return (shared or own) / "reader"


@cache
def install_npm(folder: Path) -> str:
    """Have the reader in a folder, for every process of a run; else say why not."""
    if folder.exists():
        return ""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node is None or npm is None:
        return "there is no node here"
    own = folder.with_name(f"{folder.name}-{os.getpid()}")
    shutil.copytree(SCRIPT, own)
    words = [npm, "install", "--ignore-scripts", "--no-audit", "--no-fund"]
    try:
        done = subprocess.run(
            words, cwd=own, capture_output=True, timeout=120, check=False
        )
    except subprocess.TimeoutExpired:
        return "the reader was not installed within two minutes"
    if done.returncode:
        return "the reader can't be installed here"
    with suppress(OSError):  # Another process was quicker.
        own.rename(folder)
    return ""


def read_with_npm(folder: Path, datas: Sequence[bytes]) -> list[dict[str, Any]]:
    """Return what the reader in a folder finds in each file, in one run of node."""
    node = shutil.which("node")
    assert node is not None
    with TemporaryDirectory() as kept:
        paths = [Path(kept) / f"{place}.dxf" for place in range(len(datas))]
        for path, data in zip(paths, datas, strict=True):
            path.write_bytes(data)
        words = [node, "read.cjs", *map(str, paths)]
        done = subprocess.run(words, cwd=folder, capture_output=True, check=True)
    found: list[dict[str, Any]] = json.loads(done.stdout)
    return found


def npm_differences(
    folder: Path, sets: Sequence[tuple[DrawingSet, Files]]
) -> list[list[Difference]]:
    """Return what the reader in a folder finds otherwise, set by set."""
    datas = [files[name] for drawn, files in sets for name in sheet_names(drawn)]
    found = iter(read_with_npm(folder, datas))
    return [
        [
            Difference("npm", name, what)
            for place, name in enumerate(sheet_names(drawn))
            for what in npm_wrong(next(found), drawn, place)
        ]
        for drawn, _ in sets
    ]


def records_differences(
    folder: Path, sets: Sequence[tuple[DrawingSet, Files]]
) -> list[list[Difference]]:
    """Return what libdime in a folder finds otherwise, set by set."""
    datas = [files[name] for drawn, files in sets for name in sheet_names(drawn)]
    found = iter(read_records(folder, datas))
    return [
        [
            Difference("libdime", name, what)
            for place, name in enumerate(sheet_names(drawn))
            for what in records_wrong(next(found), drawn, place)
        ]
        for drawn, _ in sets
    ]


def npm_wrong(found: dict[str, Any], drawn: DrawingSet, place: int) -> list[str]:
    """Return how what npm's reader found in a sheet differs from what was drawn."""
    expected = drawn.expected[place]
    wrong = []
    units = (1, 0) if drawn.lengths == "in" else (4, 1)
    if (found["units"], found["measurement"]) != units:
        wrong.append(f"units {found['units']}, {found['measurement']}")
    tags = [tuple(sorted(each["tags"].items())) for each in found["inserts"]]
    if Counter(tags) != Counter(
        tuple(sorted(insert.tags)) for insert in expected.inserts
    ):
        wrong.append("units differ in their tags")
    outlines = {each["tags"].get("ID"): each["outline"] for each in found["inserts"]}
    for insert in expected.inserts:
        name = dict(insert.tags)["ID"]
        if not _same_spots(outlines.get(name, []), insert.outline):
            wrong.append(f"{name} is elsewhere")
    figures = [words for (words,) in found["dimensions"]]
    if figures != [measure.words for measure in expected.measures]:
        wrong.append("dimensions read otherwise")
    # An empty cell of a table is not written.
    if Counter(found["words"]) != Counter(filter(str.strip, expected.words)):
        wrong.append("other words")
    called = dict(drawn.form.layers)
    names = {called.get(layer.name, layer.name) for layer in LAYERS}
    if not names <= set(found["layers"]):
        wrong.append("layers are missing")
    if not set(found["used"]) <= names:
        wrong.append("layers of no name of ours")
    return [*wrong, *_npm_paper_wrong(found, drawn, place)]


def _npm_paper_wrong(
    found: dict[str, Any], drawn: DrawingSet, place: int
) -> Iterator[str]:
    sheet = drawn.sheets[place]
    names = [name for name, *_ in found["layouts"]]
    papers = [paper for _, *paper in found["layouts"]]
    if names != [f"SHEET-{sheet.number:02d}"] or not _same_spots(
        papers, [(sheet.width, sheet.height)]
    ):
        yield f"layout {', '.join(names)} of {papers}"
    windows = [p.placement.window for p in sheet.drawings]
    # A viewport is a pen's width larger all round: 0.02 in, 0.5 mm.
    more = 0.04 if sheet.lengths == "in" else 1.0
    sizes = [(r - left + more, top - low + more) for left, low, r, top in windows]
    if not _same_spots(found["views"], sizes):
        yield "viewports of another size"
    if not all(found["locked"]):
        yield "a viewport is open"


def _same_spots(a: Sequence[Sequence[float]], b: Sequence[Sequence[float]]) -> bool:
    return len(a) == len(b) and all(
        abs(x - y) <= NEAR
        for one, other in zip(a, b, strict=True)
        for x, y in zip(one, other, strict=True)
    )
