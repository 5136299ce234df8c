"""Draw a wall with a herringbone panel for README: python -m tests.panel_picture.

In:  nothing.   Out: `out/panel.png`, which says in itself which layout it shows.
Frame: the front's own, its left end at 0.
"""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path

from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from tests.masonry.inset.panel_jobs import TEXT

PICTURE = Path(__file__).resolve().parents[1] / "out" / "panel.png"
BORDERED = TEXT.replace('border = "none"', 'border = "rowlock"')
COLOURS = {
    "course": "#b98a72", "corner unit": "#9c5f48", "panel": "#8f4f3c",
    "border": "#d3b59f",
}  # fmt: skip


@cache
def solved() -> Solution:
    """Return the wall as it is laid today."""
    return solve(parse_job(BORDERED, "panel.toml"))


def digest() -> str:
    """Return a digest of every outline on the front."""
    lines = [
        f"{piece.place} {piece.kind} {piece.is_cut} {outline.points}"
        for piece in solved().layout.pieces
        for outline in piece.outlines
        if outline.face == "front"
    ]
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def draw(path: Path) -> None:
    """Draw the front."""
    import matplotlib as mpl

    mpl.use("Agg")
    import matplotlib.pyplot as plt
    from matplotlib.patches import Polygon

    figure, axis = plt.subplots(figsize=(9, 8))
    front = solved().surround.front
    for piece in solved().layout.pieces:
        kind = "corner unit" if piece.kind == "corner unit" else "course"
        if piece.place == "panel":
            kind = "border" if piece.kind == "rowlock" else "panel"
        for outline in (x for x in piece.outlines if x.face == "front"):
            ring = [(float(x - front.left), float(y)) for x, y in outline.points]
            axis.add_patch(
                Polygon(
                    ring, facecolor=COLOURS[kind], edgecolor="#7a5140", linewidth=0.5
                )
            )
    axis.set_xlim(-1, float(front.width) + 1)
    axis.set_ylim(-1, float(solved().coursing.top) + 1)
    axis.set_aspect("equal")
    axis.axis("off")
    figure.tight_layout()
    figure.savefig(path, dpi=80, metadata={"Layouts": digest(), "Software": None})


if __name__ == "__main__":
    draw(PICTURE)
