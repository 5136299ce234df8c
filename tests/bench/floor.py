"""`check` and `draw` against the least their libraries take, all as whole processes.

The floor (see `plain`) imports what the command was found to have imported, and writes
the same ink to the same files by plain calls; nothing is solved, composed, proved or
read back. Its pictures are all greys, one in colours too. Programs take turns, so that
whatever else the machine does falls on each alike.
"""

from __future__ import annotations

import json
import pickle
import statistics
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import ezdxf
from ezdxf.math import Vec2, Vec3

from shopdraw.drawing.ink import FILL_OPACITY
from shopdraw.drawing.lettering import em_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.reading import read_job
from shopdraw.output.plot import DASHES, MM, POINTS, Plot, per_inch
from shopdraw.output.write import sheet_stem
from shopdraw.pipeline import build, solve
from tests.bench.timing import JOBS, ROOT, RUNS, Row, compiled_once, on_cores, seconds

PLAIN = str(ROOT / "tests" / "bench" / "plain.py")
UNPROVED = """
import sys
from shopdraw.cli import main
from shopdraw.output import write
unread = []
write.prove_files = lambda *what: unread.append(what)
try:
    main(sys.argv[1:])
finally:
    assert unread, "a set is proved elsewhere: it was read back"
"""
"""The command, but that it takes the DXF files for proved unread."""
PLACE = ("name", "owner", "paperspace", "attribs_follow")
"""Attributes that an entity is given by the call that adds it."""
LISTING = """
import json, sys, sysconfig
from shopdraw.cli import main
try:
    main(sys.argv[2:])
except SystemExit:
    pass
libraries = tuple(sysconfig.get_paths()[each] for each in ("purelib", "platlib"))
found = {name: getattr(it, "__spec__", None) for name, it in sys.modules.items()}
named = [
    name
    for name, spec in found.items()
    if (getattr(spec, "origin", None) or "").startswith(libraries)
    and not name.startswith(("shopdraw", "_"))
]
with open(sys.argv[1], "w") as file:
    json.dump(named, file)
"""
"""The command, and then which modules of others it had loaded, in order."""


@dataclass(frozen=True)
class Program:
    """A command line of Python, and how many cores it gets."""

    words: tuple[str, ...]
    cores: int = 1
    exit_codes: tuple[int, ...] = (0,)


def measure(jobs: tuple[Path, ...] = JOBS, runs: int = RUNS) -> list[Row]:
    """Time how soon the command answers, then `check` and `draw` of each job."""
    with tempfile.TemporaryDirectory() as made, compiled_once(Path(made) / "compiled"):
        rows = measure_start(Path(made), runs)
        for job in jobs:
            rows += measure_job(job, Path(made), runs)
    return rows


def medians(programs: dict[str, Program], runs: int) -> dict[str, float]:
    """Return the median time of each, taking turns, after a run that must succeed."""
    times: dict[str, list[float]] = {name: [] for name in programs}
    for program in programs.values():
        prove_runs(program)
    for _ in range(runs):
        for name, program in programs.items():
            with on_cores(program.cores):
                times[name].append(seconds(*program.words))
    return {name: statistics.median(taken) for name, taken in times.items()}


def prove_runs(program: Program) -> None:
    """Refuse to time what fails: it would be quick.

    Raises:
        RuntimeError: it ended otherwise than it should.
    """
    with on_cores(program.cores):
        ran = subprocess.run(
            [sys.executable, *program.words], capture_output=True, text=True, cwd=ROOT
        )
    if ran.returncode not in program.exit_codes or "Traceback" in ran.stderr:
        raise RuntimeError(f"{program.words}: {ran.returncode}\n{ran.stderr}")


def measure_start(folder: Path, runs: int) -> list[Row]:
    """Time how soon help and faults are there, against Python that does nothing."""
    bad = folder / "bad.toml"
    bad.write_text("[face]\nwidth = 48\n")
    programs = {
        "python, nothing": Program(("-c", "pass")),
        "shopdraw --help": Program(("-m", "shopdraw", "--help")),
        "a bad job file": Program(
            ("-m", "shopdraw", "check", str(bad)), exit_codes=(2,)
        ),
    }
    took = medians(programs, 2 * runs)
    bare = took.pop("python, nothing")
    asked = ("+ 0.10 s", "+ 0.35 s")
    return [
        Row(what, f"{ours:.3f} s", f"{bare:.3f} s", f"+ {ours - bare:.2f} s", limit)
        for (what, ours), limit in zip(took.items(), asked, strict=True)
    ]


def measure_job(job: Path, folder: Path, runs: int) -> list[Row]:
    """Time `check` and `draw` of a job, and what each is held against."""
    out, check = folder / "drawn", ("check", str(job))
    draw = ("draw", str(job), "--out", str(out))
    libraries = loaded_by(check, folder)
    files = {"imports": loaded_by(draw, folder), **files_of(job, out / job.stem)}
    pages = files.pop("pages")
    strict = {**files, "pages": pages}
    papers = {name: each for name, each in pages.items() if name != "set.pdf"}
    set_alone = {"set.pdf": pages["set.pdf"]}
    plotted = {**files, "plotted pages": set_alone, "pages": papers}
    done = (0, 1)
    took = medians(
        {
            "check": Program(("-m", "shopdraw", *check), exit_codes=done),
            "imports": floor("imports", {"imports": libraries}, folder),
            "unproved": Program(("-c", UNPROVED, *draw), exit_codes=done),
            "strict": floor("strict", strict, folder),
            "plotted": floor("plotted", plotted, folder),
            "one core": Program(("-m", "shopdraw", *draw), exit_codes=done),
            "two cores": Program(("-m", "shopdraw", *draw), 2, done),
        },
        runs,
    )
    imports, sheets = took["imports"], len(files["pictures"])
    took["allowed"] = 1.3 * imports + 0.2
    name = f"{job.stem}, {sheets} sheets,"
    return [
        held(
            f"{job.stem}, check; 1.3 x imports + 0.2 s",
            took,
            "check",
            "allowed",
            "1.00",
        ),
        held(f"{name} unread; PDF by matplotlib", took, "unproved", "plotted", "1.30"),
        held(f"{name} unread; PDF by reportlab", took, "unproved", "strict", "1.30"),
        held(f"{name} read back, one core", took, "one core", "strict"),
        held(f"{name} read back, two cores", took, "two cores", "strict"),
    ]


def held(
    what: str, took: dict[str, float], ours: str, against: str, asked: str = ""
) -> Row:
    """Return two times and their ratio as a row."""
    ratio = f"{took[ours] / took[against]:.2f}"
    return Row(what, f"{took[ours]:.2f} s", f"{took[against]:.2f} s", ratio, asked)


def floor(name: str, record: dict[str, Any], folder: Path) -> Program:
    """Put a record down, and return the program that makes what it holds."""
    kept, out = folder / f"{name}.pickle", folder / name
    (out / "sheets").mkdir(parents=True, exist_ok=True)
    kept.write_bytes(pickle.dumps(record))
    return Program((PLAIN, str(kept), str(out)))


def loaded_by(command: tuple[str, ...], folder: Path) -> list[str]:
    """Run a command, and return the modules of others that it loaded, in order."""
    listed = folder / "modules.json"
    prove_runs(Program(("-c", LISTING, str(listed), *command)))
    names: list[str] = json.loads(listed.read_text())
    return names


def files_of(job: Path, drawn: Path) -> dict[str, Any]:
    """Return what stands in each file of a set, of which the DXF files are there."""
    drawing_set = build(solve(read_job(job)))
    sheets = drawing_set.sheets
    if drawing_set.picture is not None:
        sheets = (*sheets, drawing_set.picture)
    pages = {sheet.number: page_of(sheet) for sheet in sheets}
    return {
        "documents": {
            str(path.relative_to(drawn)): document_of(path)
            for path in sorted(drawn.rglob("*.dxf"))
        },
        "pictures": {
            f"{sheet_stem(sheet)}.png": pages[sheet.number] for sheet in sheets
        },
        "pages": {
            "set.pdf": list(pages.values()),
            **{
                f"{name}.pdf": [page_of(sheet) for sheet in papers]
                for name, papers in drawing_set.papers
            },
        },
    }


def page_of(sheet: Sheet) -> dict[str, Any]:
    """Return a sheet's ink sorted by pen, in inches of paper."""
    plot, inch = Plot(sheet), per_inch(sheet)

    def moved(lines: Any) -> list[list[tuple[float, float]]]:
        return [[(x / inch, y / inch) for x, y in line] for line in lines]

    areas: list[tuple[Any, float | None, Any]] = [
        (colour, FILL_OPACITY, moved(rings)) for colour, rings in plot.fills.items()
    ]
    if plot.paints:
        colours, rings = zip(*plot.paints, strict=True)
        areas.insert(0, (list(colours), None, moved(rings)))
    return {
        "size": (sheet.width / inch, sheet.height / inch),
        "areas": areas,
        "lines": [
            (colour, pen / MM * POINTS, dashes_of(kind), moved(lines))
            for (colour, pen, kind), lines in plot.lines.items()
        ],
        "letters": [
            (
                line.text,
                (line.foot[0] / inch, line.foot[1] / inch),
                em_of(line.height) / inch,
                line.angle_deg,
                line.colour,
            )
            for line in plot.letters
        ],
    }


def dashes_of(kind: str) -> list[float]:
    """Return a line type's dashes and gaps in points; none for a whole line."""
    return [dash * POINTS for dash in DASHES.get(kind, ())]


def document_of(path: Path) -> dict[str, Any]:
    """Return what stands in a DXF file, as plain records."""
    document, new = ezdxf.readfile(path), ezdxf.new()
    own = {
        table: [row for row in getattr(document, table) if row.dxf.name not in has]
        for table in ("linetypes", "layers", "styles", "dimstyles")
        for has in [getattr(new, table)]
    }
    layouts = [each for each in document.layouts if each.name.startswith("SHEET")]
    return {
        "release": document.dxfversion,
        "units": document.units,
        "linetypes": [(row.dxf.name, pattern_of(row)) for row in own["linetypes"]],
        "layers": [(row.dxf.name, attributes_of(row)) for row in own["layers"]],
        "styles": [(row.dxf.name, row.dxf.font) for row in own["styles"]],
        "dimension_styles": [
            (row.dxf.name, attributes_of(row)) for row in own["dimstyles"]
        ],
        "blocks": [
            (block.name, [entity_of(entity) for entity in block])
            for block in document.blocks
            if not block.name.startswith("*")
        ],
        "model": [entity_of(entity) for entity in document.modelspace()],
        "layouts": [layout_of(layout) for layout in layouts],
    }


def pattern_of(line_type: Any) -> list[float]:
    """Return a line type's length, and its dashes and gaps."""
    return [tag.value for tag in line_type.pattern_tags.tags if tag.code in (40, 49)]


def layout_of(layout: Any) -> tuple[Any, ...]:
    """Return a layout's name, its size in its units, those, and its entities."""
    inches = layout.dxf_layout.dxf.plot_paper_units == 0
    per_length = MM if inches else 1.0
    size = (
        layout.dxf_layout.dxf.paper_width / per_length,
        layout.dxf_layout.dxf.paper_height / per_length,
    )
    # The first viewport is the layout's own, which it makes for itself.
    own = layout.viewports()[0]
    entities = [entity_of(entity) for entity in layout if entity is not own]
    return layout.name, size, "inch" if inches else "mm", entities


def entity_of(entity: Any) -> tuple[Any, ...]:
    """Return an entity's kind, attributes, and what else its call takes."""
    kind, dxf, attributes = entity.dxftype(), entity.dxf, attributes_of(entity)
    if kind == "LWPOLYLINE":
        return kind, attributes, list(entity.vertices()), entity.closed
    if kind == "HATCH":
        ring = [(x, y) for x, y, _ in entity.paths[0].vertices]
        families = () if entity.pattern is None else entity.pattern.lines
        pattern = [
            [x.angle, tuple(x.base_point), tuple(x.offset), x.dash_length_items]
            for x in families
        ]
        return kind, attributes, ring, entity.transparency, pattern
    if kind == "TEXT":
        return kind, attributes, attributes.pop("text")
    if kind == "ATTDEF":
        return kind, attributes, attributes.pop("tag")
    if kind == "INSERT":
        tags = [
            (its.pop("tag"), its.pop("text"), its)
            for its in map(attributes_of, entity.attribs)
        ]
        return kind, attributes, dxf.name, attributes["insert"], tags
    if kind == "VIEWPORT":
        size = (dxf.width, dxf.height)
        place = (tuple(dxf.center), size, tuple(dxf.view_center_point), dxf.view_height)
        return kind, {"layer": dxf.layer}, *place
    (words,) = entity.get_geometry_block().query("TEXT")
    points = map(tuple, (dxf.defpoint, dxf.defpoint2, dxf.defpoint3))
    scale = entity.override().get("dimscale")
    layer = {"layer": dxf.layer}
    return kind, layer, *points, dxf.angle, words.dxf.text, dxf.dimstyle, scale


def attributes_of(entity: Any) -> dict[str, Any]:
    """Return an entity's attributes that are its own, not its place in the file."""
    return {
        name: tuple(value) if isinstance(value, Vec2 | Vec3) else value
        for name, value in entity.dxfattribs().items()
        if name not in PLACE and not name.endswith("handle")
    }
