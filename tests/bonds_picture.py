"""Draw the eight bonds round an opening, for README: python -m tests.bonds_picture.

In:  nothing.   Out: `out/bonds.png`, which says in itself which layouts it shows.
Frame: each front by itself, its left end at 0.
"""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path
from typing import Any

from shopdraw.masonry.wall.layout import Layout
from tests.masonry.conftest import stack_job_of
from tests.masonry.legs import CORNER, lay

PICTURE = Path(__file__).resolve().parents[1] / "out" / "bonds.png"
WALL: dict[str, Any] = {"opening__height": "26 5/8 in", "face__height": "47 1/4 in"}
CORNERS = {"face__left_return": "11 5/8 in", "face__right_return": "11 5/8 in",
           "brick__corner": CORNER}  # fmt: skip
LONG = {"brick__length": "11 5/8 in"}


def _front(width: str, opening: str) -> dict[str, str]:
    return {"face__width": f"{width} in", "opening__width": f"{opening} in"}


COMMON = {"bond__pattern": "common", **_front("71 5/8", "32 3/8"), **CORNERS}
BONDS: dict[str, dict[str, Any]] = {
    "half": {"bond__pattern": "half", **_front("63 5/8", "32 3/8"), **CORNERS},
    "third": {"bond__pattern": "third", **_front("71 5/8", "32 3/8"), **LONG},
    "quarter": {"bond__pattern": "quarter", **_front("71 5/8", "30 3/8"), **LONG},
    "stack": {"bond__pattern": "stack", **_front("63 5/8", "32 3/8"), **CORNERS},
    "Flemish": {"bond__pattern": "Flemish", **_front("67 5/8", "28 3/8"), **CORNERS},
    "English": {"bond__pattern": "English", **_front("67 5/8", "28 3/8")},
    "common, headers every 6th": COMMON,
    "common, headers every 5th": {**COMMON, "bond__header_every": 5},
}
"""Each at widths that suit it; third and quarter in a brick of 11 5/8 in."""
COLOURS = {
    "stretcher": "#b98a72", "corner unit": "#9c5f48", "header": "#d3b59f",
    "closer": "#5d4a42", "cut": "#c9a58f",
}  # fmt: skip


@cache
def layouts() -> dict[str, Layout]:
    """Return the eight walls as they are laid today."""
    return {name: lay(stack_job_of("in", **WALL, **asked))[2]
            for name, asked in BONDS.items()}  # fmt: skip


def digest() -> str:
    """Return a digest of every outline on the eight fronts."""
    lines = [
        f"{name} {piece.kind} {piece.is_cut} {outline.points}"
        for name, layout in layouts().items()
        for piece in layout.pieces
        for outline in piece.outlines
        if outline.face == "front"
    ]
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def draw(path: Path) -> None:
    """Draw the eight fronts."""
    import matplotlib as mpl

    mpl.use("Agg")
    import matplotlib.pyplot as plt
    from matplotlib.patches import Patch, Rectangle

    figure, axes = plt.subplots(4, 2, figsize=(12, 18.4))
    for axis, (name, layout) in zip(axes.flat, layouts().items(), strict=True):
        for piece in layout.pieces:
            for outline in (x for x in piece.outlines if x.face == "front"):
                plain_cut = piece.kind == "stretcher" and piece.is_cut
                size = outline.right - outline.left, outline.top - outline.bottom
                axis.add_patch(
                    Rectangle(
                        (float(outline.left), float(outline.bottom)),
                        *map(float, size),
                        facecolor=COLOURS["cut" if plain_cut else piece.kind],
                        hatch="///" if plain_cut else None,
                        edgecolor="#7a5140",
                        linewidth=0.4,
                    )
                )
        axis.set_title(name, fontsize=15)
        ends = [x.right for y in layout.pieces for x in y.outlines if x.face == "front"]
        starts = [
            x.left for y in layout.pieces for x in y.outlines if x.face == "front"
        ]
        middle = float(max(ends) + min(starts)) / 2
        axis.set_xlim(middle - 37, middle + 37)
        axis.set_ylim(-1, 48)
        axis.set_aspect("equal")
        axis.axis("off")
    named = {"stretcher": "stretcher", "corner unit": "leg of a corner unit",
             "header": "header", "closer": "closer",
             "cut": "sawn stretcher"}  # fmt: skip
    figure.legend(
        handles=[
            Patch(facecolor=COLOURS[kind], label=label, edgecolor="#7a5140",
                  hatch="///" if kind == "cut" else None)
            for kind, label in named.items()
        ],
        loc="lower center", ncols=5, fontsize=13, frameon=False,
    )  # fmt: skip
    figure.tight_layout(rect=(0, 0.03, 1, 1))
    figure.savefig(path, dpi=80, metadata={"Layouts": digest(), "Software": None})


if __name__ == "__main__":
    draw(PICTURE)
