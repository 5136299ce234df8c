"""Random hearths in brick: laid and proved, or refused in words; none passed unnamed.

The suite draws the first four whole.
"""

from __future__ import annotations

from collections import Counter
from time import process_time

from shopdraw.errors import BadJob, NotLaid, NotProved
from shopdraw.masonry.hearth.proof import pieces_on_top
from shopdraw.masonry.panels.judging import worst_piece
from shopdraw.pipeline import solve
from tests.bench.timing import Row
from tests.hearths import hearth_job

COUNT = 200


def measure(count: int = COUNT) -> list[Row]:
    """Lay so many; count what was refused, and what passed though it is small."""
    counts: Counter[str] = Counter()
    times = []
    for seed in range(count):
        started = process_time()
        try:
            solution = solve(hearth_job(seed))
        except (BadJob, NotLaid):
            counts["refused"] += 1
            continue
        except NotProved as error:
            counts["not proved"] += 1
            print(f"hearth {seed}: {error}", flush=True)
            continue
        times.append(process_time() - started)
        hearth, found = solution.hearth, solution.finding("hearth-pieces")
        if hearth is None or found is None:
            counts["slivers passed"] += 1
            continue
        _, short = worst_piece(solution.job, pieces_on_top(hearth))
        counts["laid"] += 1
        counts["failed and named"] += found.status == "failed"
        counts["slivers passed"] += (found.status == "failed") != bool(short)
    times.sort()
    return [
        Row(f"{count} random hearths: laid", str(counts["laid"])),
        Row("  refused in words", str(counts["refused"])),
        Row("  with pieces that fall short, named", str(counts["failed and named"])),
        Row("  slivers passed", str(counts["slivers passed"]), asked="0"),
        Row("  refused by the proof", str(counts["not proved"]), asked="0"),
        Row("  processor time, median and worst",
            f"{times[len(times) // 2]:.2f}, {times[-1]:.2f} s" if times else "none"),
    ]  # fmt: skip
