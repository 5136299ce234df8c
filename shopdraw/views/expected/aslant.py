"""Trace what is seen aslant: foreshortened from the front, and round a corner in plan.

In:  `Solution`, how much of a corner is shown.   Out: `Trace`s.
Frame: the drawing's own. Angles and places in plan are reckoned here by themselves, in
floating point, from the widths of the faces and by how far each is turned.
"""

from __future__ import annotations

from cmath import rect
from collections.abc import Iterator, Sequence
from math import cos, pi, radians

import shapely
from shapely.geometry.base import BaseGeometry

from shopdraw.drawing import layers
from shopdraw.drawing.expected import Trace
from shopdraw.drawing.ink import Point
from shopdraw.job.turning import SQUARE
from shopdraw.masonry.wall.folding import place_face
from shopdraw.masonry.wall.form import Face
from shopdraw.masonry.wall.layout import Piece
from shopdraw.solution import Solution
from shopdraw.views.wall import plans, turned

NOTHING = 1e-9
FAR = 1e6
"""Further than any wall goes."""
Traces = Iterator[Trace]


def trace_aslant(solution: Solution) -> Traces:
    """Yield what is seen of faces aslant from the front, foreshortened."""
    surround = solution.surround
    wide = float(surround.front.width)
    names = [str(face.name) for face in surround.faces]
    at = names.index("front")
    chains = [
        (0.0, -1, surround.faces[at - 1 :: -1] if at else ()),
        (wide, 1, surround.faces[at + 1 :]),
    ]
    for way, face in zip((1, -1), surround.reveals, strict=False):
        corner = float((face.left if way > 0 else face.right) - surround.front.left)
        chains.append((corner, way, (face,)))
    for start, way, faces in chains:
        for face in faces:
            narrower = cos(radians(face.turn))
            if face.turn < 90 and not face.name.endswith("alcove"):
                yield from _foreshortened(solution, face, start, (way, narrower))
            start += way * float(face.width) * narrower


def _foreshortened(
    solution: Solution, face: Face, start: float, way: tuple[int, float]
) -> Traces:
    """Yield a face that is seen so much narrower, from its corner to right or left."""
    fold = face.left if way[0] > 0 else face.right
    for piece in solution.layout.pieces:
        for outline in piece.outlines:
            if outline.face == face.name:
                ring = tuple(
                    (start + float(x - fold) * way[1], float(y))
                    for x, y in outline.points
                )
                yield Trace(layer_of(piece), "closed", ring)


def layer_of(piece: Piece) -> str:
    """Return the layer that a piece is drawn on."""
    return layers.CORNERS if len(piece.outlines) == 2 else layers.UNITS


def trace_turned(solution: Solution, shown: turned.Turned, count: int) -> Traces:
    """Yield courses round a corner that is not square, broken off on its faces.

    Plan is laid over the corner: the first face along the axis, from the left on.
    """
    first = shown.faces[0]
    begin = place_face(solution.surround, first.name).point(shown.fold)
    heading = rect(1.0, shown.side * radians(first.turn))
    beyond = rect(1.0, radians(shown.turn))
    limits = shapely.intersection(
        _before(complex(-1.0), shown.reach[0]), _before(beyond, shown.reach[1])
    )
    lines = [
        shapely.LineString(_across(way, reach))
        for way, reach, is_broken in zip(
            (complex(-1.0), beyond), shown.reach, shown.goes_on, strict=True
        )
        if is_broken
    ]
    for place, course in enumerate(solution.coursing.courses[:count]):
        for cut in plans.cuts_of(solution, course):
            if not shown.shows(cut.piece):
                continue
            ring = [
                complex(x - float(begin[0]), y - float(begin[1])) / heading
                for x, y in ((float(x), float(y)) for x, y in cut.ring)
            ]
            part = shapely.Polygon([(shown.side * z.real, z.imag) for z in ring])
            for trace in _broken_off(part.intersection(limits), lines):
                yield _set_out(trace, shown, place)
        if shown.turn == SQUARE:
            continue
        # The inside corner lies on the line that halves the angle between the legs.
        far = float(solution.job.brick.thickness) / cos(radians(shown.turn) / 2)
        inside = rect(far, pi / 2 + radians(shown.turn) / 2)
        mitre = Trace(layers.SECTION, "open", ((0.0, 0.0), (inside.real, inside.imag)))
        yield _set_out(mitre, shown, place)


def _set_out(trace: Trace, shown: turned.Turned, place: int) -> Trace:
    """Return a line of a corner in its place in the row, on the side where it is."""
    moved = tuple((shown.side * x + place * shown.apart, y) for x, y in trace.points)
    return Trace(trace.layer, trace.kind, moved)


def _across(way: complex, reach: float) -> list[Point]:
    """Return a long line square to a direction, so far along it."""
    ends = (way * complex(reach, FAR), way * complex(reach, -FAR))
    return [(z.real, z.imag) for z in ends]


def _before(way: complex, reach: float) -> BaseGeometry:
    """Return all that goes no further in a direction."""
    corners = (
        complex(reach, FAR), complex(reach, -FAR), complex(-FAR, -FAR),
        complex(-FAR, FAR),
    )  # fmt: skip
    turned_to = (way * z for z in corners)
    return shapely.Polygon([(z.real, z.imag) for z in turned_to])


def _broken_off(part: BaseGeometry, lines: Sequence[BaseGeometry]) -> Traces:
    """Yield cut material, without its outline on the first line that breaks it off."""
    if part.area < NOTHING:
        return
    corners = shapely.get_coordinates(shapely.simplify(part, 1e-6))[:-1]
    points = tuple((float(x), float(y)) for x, y in corners)
    yield Trace(layers.SECTION, "fill", points)
    on = [[shapely.Point(p).distance(line) < 1e-4 for p in points] for line in lines]
    for place in range(len(points)):
        after = (place + 1) % len(points)
        if any(each[place] and each[after] for each in on):
            chain = (*points[place + 1 :], *points[: place + 1])
            yield Trace(layers.SECTION, "open", chain)
            return
    yield Trace(layers.SECTION, "closed", points)
