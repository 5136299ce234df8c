"""Walls of a thousand units and more: ours against bare ezdxf, time and memory.

Ours solves the coursing, lays and proves the bond, marks and lists the pieces, draws
them and writes the DXF; bare ezdxf is handed the inserts ready made and writes the
same, with the same attributes. Each run is a process of its own; imports are not
counted.
"""

from __future__ import annotations

import gc
import io
import math
import pickle
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from shopdraw.solution import Solution
from tests.bench.timing import ROOT, Row, on_cores

SIZES = (1_000, 10_000, 100_000)
RUNS = {1_000: 5, 10_000: 3, 100_000: 1}
WALL = """
[job]
name = "Long wall"
lengths = "in"
[face]
measured_to = "finish"
width = "96 in"
height = "45 3/8 in"
[opening]
width = "30 in"
height = "27 in"
[brick]
size = "modular"
thickness = "5/8 in"
"""
UNIT, COURSE = Fraction(8), Fraction(43, 16)
"""A unit with its joint, and a course with its, in inches."""


def ours(like: Solution, units: int, keep: Path | None) -> bytes:
    """Solve and write a wall of about so many units; keep what is inserted.

    Args:
        like: the small wall, solved: what the drawing does not look at is taken of it.
        units: about how many.
        keep: where to.
    """
    from shopdraw.catalog.rows import layer_names
    from shopdraw.drawing.set import FileForm
    from shopdraw.job.reading import parse_job
    from shopdraw.masonry.coursing.solve import solve_coursing
    from shopdraw.masonry.coursing.ways import find_ways_out
    from shopdraw.masonry.laying.lay import lay_bond
    from shopdraw.masonry.laying.pieces import list_cuts
    from shopdraw.masonry.laying.proof import prove_layout
    from shopdraw.masonry.wall.surround import trace_surround
    from shopdraw.output.dxf import write_bare_dxf
    from shopdraw.views.wall.bare import draw_surround

    side = math.isqrt(units + 50)
    # Beyond what a job file may ask for: only the parts beneath it are timed.
    job = parse_job(WALL, "wall")
    job = job.edited("face.width", UNIT * side - Fraction(3, 8))
    job = job.edited("face.height", COURSE * side)
    surround = trace_surround(job)
    coursing = solve_coursing(job, surround)
    find_ways_out(job, surround, coursing)
    layout = lay_bond(job, surround, coursing)
    prove_layout(job, surround, coursing, layout)
    list_cuts(job, layout.pieces)
    parts = {"job": job, "surround": surround, "coursing": coursing, "layout": layout}
    drawing = draw_surround(replace(like, **parts))
    names = layer_names(job.layer_naming, job.layers.own)
    data = write_bare_dxf(drawing, job.lengths, FileForm(job.sheet.dxf, names))
    if keep is not None:
        keep.write_bytes(pickle.dumps(drawing))
    return data


def bare(drawing_file: Path) -> bytes:
    """Write the inserts of a kept drawing with nothing but ezdxf."""
    import ezdxf
    from ezdxf.enums import TextEntityAlignment

    from shopdraw.drawing.ink import Insert

    drawing = pickle.loads(drawing_file.read_bytes())
    inserts = [ink for ink in drawing.ink if isinstance(ink, Insert)]
    start = time.process_time()
    document = ezdxf.new("R2010")
    document.styles.add("LETTERING", font="arial.ttf")
    for symbol in drawing.symbols:
        block = document.blocks.new(symbol.name)
        for stroke in symbol.strokes:
            block.add_lwpolyline(stroke.points, close=stroke.closed)
        for name in symbol.tag_names:
            block.add_attdef(name, (0, 0), dxfattribs={"height": 0.05})
    space = document.modelspace()
    for insert in inserts:
        layer = {"layer": insert.layer}
        reference = space.add_blockref(insert.symbol, insert.at, dxfattribs=layer)
        for tag in insert.tags:
            attributes = {"style": "LETTERING", "height": 0.05, **layer}
            if tag.words is None:
                attributes["flags"] = 1
                reference.add_attrib(tag.name, tag.text, insert.at, attributes)
                continue
            attributes["layer"] = tag.words.layer
            attributes["height"] = tag.words.height_on_paper * drawing.scale
            reference.add_attrib(
                tag.name, tag.text, dxfattribs=attributes
            ).set_placement(tag.words.at, align=TextEntityAlignment.MIDDLE_CENTER)
    text = io.StringIO()
    document.write(text)
    data = text.getvalue().encode()
    print(time.process_time() - start)
    return data


def timed(*words: str) -> tuple[float, float]:
    """Return the seconds of work of one run, and its greatest memory in MB."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.walls", *words],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
    )
    seconds, megabytes = done.stdout.split()
    return float(seconds), float(megabytes)


def exponent(times: list[float]) -> float:
    """Return the slope of a line through the sizes and times, both as logarithms."""
    points = [(math.log(x), math.log(t)) for x, t in zip(SIZES, times, strict=True)]
    x_mean, y_mean = (statistics.mean(column) for column in zip(*points, strict=True))
    rise = sum((x - x_mean) * (y - y_mean) for x, y in points)
    return rise / sum((x - x_mean) ** 2 for x, _ in points)


def measure() -> list[Row]:
    """Time walls of each size, both ways, turn by turn."""
    rows, curves = [], ([], [])  # type: ignore[var-annotated]
    with tempfile.TemporaryDirectory() as folder, on_cores(1):
        for units in SIZES:
            kept = Path(folder) / f"{units}.pickle"
            timed("ours", str(units), str(kept))
            runs = [
                (timed("ours", str(units)), timed("bare", str(kept)))
                for _ in range(RUNS[units])
            ]
            medians = [
                [
                    statistics.median(run[way][figure] for run in runs)
                    for figure in (0, 1)
                ]
                for way in (0, 1)
            ]
            (mine, memory), (theirs, their_memory) = medians
            curves[0].append(mine)
            curves[1].append(theirs)
            name = f"{units:,} units"
            rows.append(
                Row(
                    name,
                    f"{mine:.2f} s",
                    f"{theirs:.2f} s",
                    f"{mine / theirs:.2f}",
                    "1.3",
                )
            )
            rows.append(
                Row(
                    f"{name}, memory",
                    f"{memory:.0f} MB",
                    f"{their_memory:.0f} MB",
                    f"{memory / their_memory:.2f}",
                    "1.3",
                )
            )
    a, b = exponent(curves[0]), exponent(curves[1])
    more = f"{a - b:+.3f}"
    rows.append(Row("exponent of the time", f"{a:.3f}", f"{b:.3f}", more, "+0.03"))
    return rows


def main() -> None:
    """Do one run: `ours UNITS [KEEP]`, or `bare KEPT`."""
    gc.set_threshold(100_000, 50, 100)
    if sys.argv[1] == "ours":
        import ezdxf  # noqa: F401
        import shapely  # noqa: F401

        from shopdraw.job.reading import parse_job
        from shopdraw.pipeline import solve

        small = solve(parse_job(WALL, "wall"))
        start = time.process_time()
        ours(small, int(sys.argv[2]), Path(sys.argv[3]) if sys.argv[3:] else None)
        print(time.process_time() - start)
    else:
        bare(Path(sys.argv[2]))
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)


if __name__ == "__main__":
    main()
