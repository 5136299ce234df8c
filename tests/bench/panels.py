"""Random panels in the face: laid and proved, or refused in words; finer grids.

The suite draws two whole. A grid half as wide is tried on each panel that is laid: how
much wider its narrowest piece would be. Then half as many in old houses: jambs and
edges that lean or are turned, arches, bands, corbels.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from time import process_time

from shopdraw.errors import BadJob, NotLaid, NotProved
from shopdraw.job.model import Job
from shopdraw.masonry.panels.choosing import asked_of, panel_brick
from shopdraw.masonry.panels.fill import fill_rectangle
from shopdraw.masonry.panels.judging import worst_piece
from shopdraw.masonry.wall.face_panel import FacePanel
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from tests.bench.timing import Row
from tests.face_panels import house_job, panel_job

COUNT = 200


def gained(job: Job, panel: FacePanel) -> float:
    """Return how much wider the narrowest piece is on half the grid, in the lengths."""
    left, bottom, right, top = panel.field
    size = right - left, top - bottom
    brick = panel_brick(job, panel.joint, panel.edge_joint)
    asked = asked_of(job)
    finer = replace(asked, grid=asked.grid / 2)
    return fill_rectangle(panel.pattern, size, brick, finer).narrowest - panel.narrowest


def slivers_passed(solution: Solution) -> int:
    """Return how many panels passed with a piece that falls short, or the reverse."""
    pieces = tuple(x for x in solution.layout.pieces if x.place == "panel")
    _, short = worst_piece(solution.job, pieces)
    named = [
        name
        for number, _ in enumerate(solution.layout.panels, start=1)
        if (found := solution.finding("panel-pieces", number)) is not None
        for name in found.pieces
        if found.status == "failed"
    ]
    return len(set(short) ^ set(named))


def _houses(count: int) -> list[Row]:
    """Lay so many in old houses; count what was refused, and slivers that passed."""
    counts: Counter[str] = Counter()
    for seed in range(count):
        try:
            solution = solve(house_job(seed))
        except NotLaid:
            counts["refused"] += 1
        except NotProved as error:
            counts["not proved"] += 1
            print(f"house {seed}: {error}", flush=True)
        else:
            counts["laid"] += 1
            counts["slivers passed"] += slivers_passed(solution)
    return [
        Row(f"{count} old houses with panels: laid", str(counts["laid"])),
        Row("  refused in words", str(counts["refused"])),
        Row("  pieces that fall short and are not named, or the reverse",
            str(counts["slivers passed"]), asked="0"),
        Row("  refused by the proof", str(counts["not proved"]), asked="0"),
    ]  # fmt: skip


def measure(count: int = COUNT) -> list[Row]:
    """Lay so many; count what was refused, and what passed though it is small."""
    counts: Counter[str] = Counter()
    times, wider = [], []
    for seed in range(count):
        started = process_time()
        try:
            solution = solve(panel_job(seed))
        except (BadJob, NotLaid):
            counts["refused"] += 1
            continue
        except NotProved as error:
            counts["not proved"] += 1
            print(f"panel {seed}: {error}", flush=True)
            continue
        times.append(process_time() - started)
        counts["laid"] += 1
        counts["slivers passed"] += slivers_passed(solution)
        found = solution.finding("panel-pieces", 1)
        counts["failed and named"] += found is not None and found.status == "failed"
        scale = 1 if solution.lengths == "in" else 25.4
        wider += [
            gained(solution.job, panel) / scale for panel in solution.layout.panels
        ]
    times.sort()
    wider.sort()
    return [
        Row(f"{count} random walls with panels: laid", str(counts["laid"])),
        Row("  refused in words", str(counts["refused"])),
        Row("  with pieces that fall short, named", str(counts["failed and named"])),
        Row("  pieces that fall short and are not named, or the reverse",
            str(counts["slivers passed"]), asked="0"),
        Row("  refused by the proof", str(counts["not proved"]), asked="0"),
        Row("  processor time, median and worst",
            f"{times[len(times) // 2]:.2f}, {times[-1]:.2f} s" if times else "none"),
        Row(f"  {len(wider)} panels on a grid of 1/4 in: narrowest piece wider by, "
            "median and most",
            f"{wider[len(wider) // 2]:.3f}, {wider[-1]:.3f} in" if wider else "none"),
        Row("  of these by more than 1/16 in", str(sum(x > 1 / 16 for x in wider))),
        *_houses(count // 2),
    ]  # fmt: skip
