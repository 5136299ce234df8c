"""Hold the panels of a face, on every run, against what is always true of them.

In:  `Job`, `Layout`.   Out: a sentence for each thing that is not true.
Frame: as `Surround`.

That no two pieces stand too close and that no gap is too wide is held with all the
other pieces of the face. Here: what is a panel's own.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from shopdraw.job.model import Job
from shopdraw.masonry.panels.choosing import asked_of
from shopdraw.masonry.sawing.clipping import polygon_of
from shopdraw.masonry.sawing.shapes import width_of
from shopdraw.masonry.wall.face_panel import FacePanel
from shopdraw.masonry.wall.layout import Layout, Piece, area_within

NOTHING = 1e-4
"""Points of a turned pattern lie on a grid; a difference below this is none there."""


def prove_panels(job: Job, layout: Layout) -> Iterator[str]:
    """Yield what is not true of the panels of a face."""
    if not layout.panels:
        if len(layout.in_courses) != len(layout.pieces):
            yield "there are pieces of a panel, and no panel"
        return
    shapes = [polygon_of(panel.ring) for panel in layout.panels]
    yield from _within(layout, shapes)
    yield from _kept_clear(job, layout)
    yield from _between_courses(layout)
    yield from _left_out_is_little(job, layout)
    for piece in layout.pieces:
        if piece.place == "panel":
            yield from _out_of_one_brick(job, piece)


def widest_hole(panel: FacePanel, widest: float) -> float:
    """Return the side of the largest square that mortar has room for in a panel.

    It is the widest joint, unless joints at 45 degrees meet at a corner of the field.
    From there a square reaches over the joint along the edge, and as far as a joint
    that ends there and half of one that crosses it are wide, measured along an edge:
    what is left of the corner beyond the crossing one may be too little for brick.
    """
    if "45" not in panel.pattern:
        return widest
    return max(widest, float(panel.edge_joint) + 1.5 * float(panel.joint) / 2**0.5)


def _within(layout: Layout, shapes: list[shapely.Polygon]) -> Iterator[str]:
    """Check that each piece of a panel lies within one, and all are used."""
    grown = [shape.buffer(NOTHING, join_style="mitre") for shape in shapes]
    used = set()
    for piece in layout.pieces:
        if piece.place != "panel":
            continue
        inside = [
            place
            for place, shape in enumerate(grown)
            if shape.covers(polygon_of(piece.outlines[0].points))
        ]
        used.update(inside)
        if len(inside) != 1:
            yield f"{piece.id} leaves its panel"
    for place, panel in enumerate(layout.panels):
        if place not in used:
            yield f"{panel.name} has no brick"


def _kept_clear(job: Job, layout: Layout) -> Iterator[str]:
    """Check that the courses keep a joint away from every panel, at its sides."""
    joint = job.joints.head.least
    for panel in layout.panels:
        left, bottom, right, top = panel.box
        for piece in layout.in_courses:
            for outline in piece.outlines:
                if outline.face != "front":
                    continue
                beside = bottom < outline.top and outline.bottom < top
                across = max(outline.left - right, left - outline.right)
                if beside and across < joint and piece.kind != "voussoir":
                    yield f"{piece.id} stands in the way of {panel.name}"


def _between_courses(layout: Layout) -> Iterator[str]:
    """Check that a panel begins where a course does, and ends where one does."""
    rows = [x for x in layout.in_courses if x.place == "front"]
    feet = {x.outlines[0].bottom for x in rows}
    heads = {x.outlines[0].top for x in rows}
    for panel in layout.panels:
        if panel.box[1] not in feet or panel.box[3] not in heads:
            yield f"{panel.name} does not begin and end level with courses"


def _left_out_is_little(job: Job, layout: Layout) -> Iterator[str]:
    """Check that mortar takes only what is too narrow for a piece."""
    limit = asked_of(job).left_out
    for panel in layout.panels:
        for ring in panel.left_out:
            width = width_of(tuple((float(x), float(y)) for x, y in ring))
            if width >= limit or area_within(ring) > limit * job.brick.length:
                yield f"mortar takes too much of {panel.name}, where a piece has room"


def _out_of_one_brick(job: Job, piece: Piece) -> Iterator[str]:
    """Check that a piece is as large on its brick as on the wall, and fits on it."""
    outline = polygon_of(piece.outlines[0].points)
    lain = piece.as_sawn or piece.outlines[0]
    on_brick = polygon_of(lain.points)
    far = abs(outline.length - on_brick.length)
    # An area is off by as much as its outline is long.
    off = abs(outline.area - on_brick.area) / outline.length
    if far > 10 * NOTHING or off > NOTHING:
        yield f"{piece.id} on its brick is not as large as in its panel"
    sides = sorted((float(lain.right - lain.left), float(lain.top - lain.bottom)))
    short, long = float(job.brick.height), float(job.brick.length)
    if sides[0] > short + NOTHING or sides[1] > long + NOTHING:
        yield f"{piece.id} does not come out of one brick"
