"""Each demo's page, drawn under other seeds of the hash: the same bytes."""

from __future__ import annotations

from tests.bench.timing import JOBS, Row
from tests.output.pages import digest_of, drawn_under

SEEDS = ("1", "2")


def measure() -> list[Row]:
    """Draw every page three times, a process a seed."""
    names = [job.stem for job in JOBS]
    drawn = [drawn_under(seed, names) for seed in SEEDS]
    alike = [n for n in names if {x[n] for x in drawn} == {digest_of(n)}]
    unlike = ", ".join(n for n in names if n not in alike)
    return [
        Row(
            f"{len(names)} pages, drawn under {len(SEEDS)} other seeds of the hash",
            f"{len(alike)} the same bytes{unlike and f'; not {unlike}'}",
            asked=str(len(names)),
        )
    ]
