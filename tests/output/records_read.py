"""A reader of records, and how what it finds differs from what was drawn.

In:  `DrawingSet`, its DXF files by name.   Out: a `Difference` each, or words.
Frame: model space, full size; what is on the layout in paper lengths.

It is a small program (`records/read.cpp`) about libdime, a library that reads every
record of a DXF file, under the BSD licence with three clauses. It wants a compiler for
C++ and the library's headers (`apt-get install g++ libdime-dev`); where there are none,
it is not asked. It has lengths to seven figures only.
"""

from __future__ import annotations

import json
import math
import os
import re
import shutil
import subprocess
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from shopdraw.drawing.ink import Fill, Hatch, Words
from shopdraw.drawing.paragraphs import lettering_in, said_by
from shopdraw.drawing.set import DrawingSet
from shopdraw.drawing.sheets import Sheet
from tests.output.dxf_items import PAPER, drawn_anew

SOURCE = Path(__file__).resolve().parent / "records" / "read.cpp"
NEAR = 1e-3
"""In the file's lengths: seven figures of what is some thousands long."""
Group = tuple[int, Any]
Found = dict[str, Any]
Point = tuple[float, float]


@cache
def build_reader(folder: Path) -> str:
    """Have the reader in a folder, for every process of a run; else say why not."""
    if (folder / "read").exists():
        return ""
    compiler = shutil.which("g++")
    if compiler is None:
        return "there is no compiler here"
    folder.mkdir(parents=True, exist_ok=True)
    own = folder / f"read-{os.getpid()}"
    words = [compiler, "-std=c++17", "-O1", "-o", str(own), str(SOURCE), "-ldime"]
    done = subprocess.run(words, capture_output=True, timeout=300, check=False)
    if done.returncode:
        return "the library is not here, or the reader can't be built"
    with suppress(OSError):
        own.rename(folder / "read")
    return ""


def read_records(folder: Path, datas: Sequence[bytes]) -> list[Found]:
    """Return the records of each file, by the reader in a folder."""
    with TemporaryDirectory() as kept:
        paths = [Path(kept) / f"{place}.dxf" for place in range(len(datas))]
        for path, data in zip(paths, datas, strict=True):
            path.write_bytes(data)
        words = [str(folder / "read"), *map(str, paths)]
        done = subprocess.run(words, capture_output=True, check=True)
    return [json.loads(line) for line in done.stdout.decode("ascii").splitlines()]


def records_wrong(found: Found, drawn: DrawingSet, place: int) -> list[str]:
    """Return how the records of a sheet differ from what was drawn on it."""
    sheet = drawn.sheets[place]
    return [
        *_measures_wrong(found, [x.words for x in drawn.expected[place].measures]),
        *_viewports_wrong(found, sheet),
        *_notes_wrong(found, sheet),
        *_hatches_wrong(found, drawn, place),
        *_plot_wrong(found, sheet),
    ]


def _first(groups: Iterable[Group], code: int, default: Any = None) -> Any:
    return next((value for got, value in groups if got == code), default)


def _of_kind(found: Found, kind: str) -> list[dict[str, Any]]:
    return [each for each in found["entities"] if each["kind"] == kind]


# Dimensions: their figure and their ends, drawn anew by their style.


def _measures_wrong(found: Found, wanted: Sequence[str]) -> Iterator[str]:
    styles = {_first(x, 2): x for name, x in found["tables"] if name == "DIMSTYLE"}
    named = {_first(x, 5): _first(x, 2) for _, x in found["tables"]}
    measures = _of_kind(found, "DIMENSION")
    if len(measures) != len(wanted):
        yield f"{len(measures)} dimensions, not {len(wanted)}"
        return
    for measure, words in zip(measures, wanted, strict=True):
        groups, style = measure["groups"], styles.get(_first(measure["groups"], 3))
        block = found["blocks"].get(_first(groups, 2), [])
        typed = _first(groups, 1, "")
        if style is None:
            yield f"{words} has no style"
            continue
        anew = drawn_anew(
            _first(groups, 42),
            *(int(_first(style, code)) for code in (277, 271)),
            _first(style, 45),
            int(_first(style, 78)),
        )
        if [each["text"] for each in block if each["kind"] == "TEXT"] != [words]:
            yield f"{words} is lettered otherwise"
        if anew != "either" and typed == anew:
            yield f"{words} is typed over what its style gives"
        if (typed or anew) != words:
            yield f"{words} drawn anew is {typed or anew}"
        arrow = found["blocks"].get(named.get(_first(style, 342), ""), [])
        yield from _ends_wrong(words, measure, style, block, arrow)


def _ends_wrong(
    words: str,
    measure: Mapping[str, Any],
    style: Sequence[Group],
    block: Sequence[Mapping[str, Any]],
    arrow: Sequence[Mapping[str, Any]],
) -> Iterator[str]:
    """Yield it if the ends of a line, drawn anew by its style, are not those drawn.

    Args:
        words: its figure.
        measure: the dimension.
        style: its style's groups.
        block: what is drawn of it.
        arrow: the lines of the arrow that the style names.
    """
    groups = measure["groups"]
    # What is said of one dimension alone: the scale that its paper lengths are times.
    scale = float(_first(groups, 1040, 1.0))
    stroke, long = _first(style, 142) * scale, _first(style, 41) * scale
    line = next(each["ends"] for each in block if each["kind"] == "LINE")
    shape = (
        [((-stroke, -stroke), (stroke, stroke))]
        if stroke
        else [
            tuple((x * long, y * long) for x, y in each["ends"])
            for each in arrow
            if each["ends"][1][1]
        ]
    )
    wanted = {
        _lines_key([(end[0] + dx, end[1] + dy) for dx, dy in turned])
        for end, other in (line, line[::-1])
        for each in shape
        for turned in [[_turned(p, end, other) if not stroke else p for p in each]]
    }
    there = {
        _lines_key(each["ends"])
        for each in block
        if each["kind"] == "LINE" and _first(each["groups"], 370)
    }
    if not _same_lines(there, wanted):
        yield f"{words} drawn anew ends otherwise than it is drawn"


def _turned(point: Point, end: Point, other: Point) -> Point:
    """Return a point of an arrow that points from the other end to this one."""
    way = math.hypot(end[0] - other[0], end[1] - other[1])
    c, s = (end[0] - other[0]) / way, (end[1] - other[1]) / way
    return point[0] * c - point[1] * s, point[0] * s + point[1] * c


Line = tuple[tuple[float, ...], ...]


def _lines_key(ends: Iterable[Sequence[float]]) -> Line:
    return tuple(sorted(tuple(end) for end in ends))


def _same_lines(a: set[Line], b: set[Line]) -> bool:
    return len(a) == len(b) and all(
        any(_apart(one, other) < NEAR for other in b) for one in a
    )


def _apart(one: Line, other: Line) -> float:
    """Return how far the ends of two lines are apart, either way round."""
    return min(
        max(math.dist(p, q) for p, q in zip(one, way, strict=True))
        for way in (other, other[::-1])
    )


# The layout: viewports, paper.


def _viewports_wrong(found: Found, sheet: Sheet) -> Iterator[str]:
    ports = [x for x in _of_kind(found, "VIEWPORT") if _first(x["groups"], 69) != 1]
    if len(ports) != len(sheet.drawings):
        yield f"{len(ports)} viewports, not {len(sheet.drawings)}"
    for port in ports:
        if not int(_first(port["groups"], 90)) & 0x4000:
            yield "a viewport is open"


def _plot_wrong(found: Found, sheet: Sheet) -> Iterator[str]:
    layouts = [groups for kind, groups in found["objects"] if kind == "LAYOUT"]
    own = [x for x in layouts if _names(x)[-1] != "Model"]
    if [_names(x)[-1] for x in own] != [f"SHEET-{sheet.number:02d}"]:
        yield f"layouts {[_names(x)[-1] for x in own]}"
        return
    for groups in layouts:
        page, printer, drawn_by = (_first(groups, code) for code in (1, 2, 7))
        if page or printer or drawn_by:
            yield f"{_names(groups)[-1]} is for a program: {page}{printer}{drawn_by}"
    (groups,) = own
    medium, mm = _first(groups, 4), 1.0 if sheet.lengths == "mm" else 25.4
    sides = [_first(groups, code) for code in (44, 45)]
    if any(
        abs(a - b * mm) > 0.2
        for a, b in zip(sides, (sheet.width, sheet.height), strict=True)
    ):
        yield f"paper of {sides}"
    match = re.fullmatch(PAPER, medium)
    if match is None:
        yield f"no standard paper: {medium}"
    elif any(
        abs(float(match[n + 1]) * (1.0 if match[3] == "MM" else 25.4) - sides[n]) > 0.2
        for n in (0, 1)
    ):
        yield f"{medium} is {sides}"


def _names(layout: Sequence[Group]) -> list[str]:
    return [value for code, value in layout if code == 1]


# Notes and areas.


def _notes_wrong(found: Found, sheet: Sheet) -> Iterator[str]:
    """Compare paragraphs, and lines that stand alone, each with its kind."""
    paragraphs, alone = lettered_on(sheet)
    notes = Counter(
        re.sub(
            r"\\([{}])",
            r"\1",
            "".join(x for code, x in each["groups"] if code in (1, 3)),
        )
        for each in _of_kind(found, "MTEXT")
    )
    lone = Counter(each["text"] for each in _of_kind(found, "TEXT"))
    for what, there, should in (
        ("MTEXT", notes, paragraphs),
        ("TEXT", lone, alone),
    ):
        for text in (there - should) + (should - there):
            yield f"{what} differs: {text[:40]}"


def lettered_on(sheet: Sheet) -> tuple[Counter[str], Counter[str]]:
    """Return a sheet's paragraphs, and what stands in lines by itself."""
    found: dict[bool, Counter[str]] = {True: Counter(), False: Counter()}
    for ink in (*(placed.drawing.ink for placed in sheet.drawings), sheet.paper_ink):
        for lines in lettering_in([x for x in ink if isinstance(x, Words)]):
            if text := said_by(lines).strip():
                found[bool(lines[0].column)][text] += 1
    return found[True], found[False]


def _hatches_wrong(found: Found, drawn: DrawingSet, place: int) -> Iterator[str]:
    """Compare areas by layer, pattern, and the corners of their one boundary."""
    sheet, called = drawn.sheets[place], dict(drawn.form.layers)
    wanted = []
    spaces: list[tuple[Any, Any]] = [
        *((x.drawing.ink, x.placement.to_model) for x in sheet.drawings),
        (sheet.paper_ink, tuple),
    ]
    for ink, move in spaces:
        for each in ink:
            if isinstance(each, Hatch) or (
                isinstance(each, Fill) and drawn.form.release != "R2000"
            ):
                pattern = each.pattern if isinstance(each, Hatch) else "SOLID"
                layer = called.get(each.layer, each.layer)
                wanted.append((layer, pattern, [move(p) for p in each.points]))
    areas = [
        (each["layer"], _first(each["groups"], 2), _corners(each["groups"]))
        for each in _of_kind(found, "HATCH")
    ]
    if len(areas) != len(wanted):
        yield f"{len(areas)} areas, not {len(wanted)}"
        return
    for (layer, pattern, there), (own, name, corners) in zip(
        areas, wanted, strict=True
    ):
        if (layer, pattern) != (own, name):
            yield f"an area is {pattern} on {layer}, not {name} on {own}"
        if len(there) != len(corners) or any(
            math.dist(p, q) > NEAR for p, q in zip(there, corners, strict=True)
        ):
            yield f"an area of {pattern} on {layer} is elsewhere"


def _corners(groups: Sequence[Group]) -> list[Point]:
    start = next(i for i, (code, _) in enumerate(groups) if code == 93)
    count, path = int(groups[start][1]), groups[start:]
    xs = [float(x) for code, x in path if code == 10][:count]
    ys = [float(y) for code, y in path if code == 20][:count]
    return list(zip(xs, ys, strict=True))
