"""Write areas into a DXF file: tints, and patterns.

In:  `Fill`, `Hatch`, and how they are placed.   Out: entities in a space of the file.
Frame: the file's model space.
"""

from __future__ import annotations

from collections.abc import Callable

from ezdxf.layouts import BlockLayout, Modelspace, Paperspace

from shopdraw.drawing.hatching import PATTERNS
from shopdraw.drawing.ink import FILL_OPACITY, Fill, Hatch, Point

Space = Modelspace | Paperspace | BlockLayout
Move = Callable[[Point], Point]
BY_LAYER = 256
"""The colour index of what has its layer's colour."""


def write_fill(space: Space, fill: Fill, move: Move) -> None:
    """Write a tint."""
    hatch = space.add_hatch(color=BY_LAYER, dxfattribs={"layer": fill.layer})
    hatch.transparency = 1 - FILL_OPACITY
    hatch.paths.add_polyline_path([move(x) for x in fill.points], is_closed=True)


def write_hatch(space: Space, ink: Hatch, move: Move, inch: float) -> None:
    """Write a pattern's name and its lines.

    Args:
        space: to write it to.
        ink: the area.
        move: places it in the space.
        inch: how many of the file's lengths make an inch.
    """
    x, y = move(ink.origin)
    definition = [
        [
            family.angle_deg,
            (x + family.base[0] * ink.inch, y + family.base[1] * ink.inch),
            (family.step[0] * ink.inch, family.step[1] * ink.inch),
            [dash * ink.inch for dash in family.dashes],
        ]
        for family in PATTERNS[ink.pattern]
    ]
    hatch = space.add_hatch(color=BY_LAYER, dxfattribs={"layer": ink.layer})
    hatch.set_pattern_fill(ink.pattern, color=BY_LAYER, definition=definition)
    hatch.dxf.pattern_scale = ink.inch / inch
    hatch.paths.add_polyline_path([move(x) for x in ink.points], is_closed=True)
